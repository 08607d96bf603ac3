//! A plot of years against one condition on the screen: the drawing that also goes to paper, and the pointer over it.

use egui::{Response, RichText, Sense, Ui, WidgetInfo, vec2};

use crate::app::widgets::{explain, shapes, theme};
use crate::files::{life_plot, life_plot::PlotText};
use crate::sizing::{curves::Axis, curves::CurveSet};

/// Height of letters in a plot, points.
const LETTERS: f64 = 11.5;

/// The name the explanation of a plot goes by.
fn explained(axis: Axis) -> &'static str {
    match axis {
        Axis::Ambient => "years against ambient",
        Axis::Ripple => "years against ripple",
        Axis::Voltage => "years against voltage",
        Axis::Hours => "years against hours",
    }
}

/// Draws a heading and the plot below it; the value of the axis under the pointer, and whether it was clicked.
pub(super) fn show(ui: &mut Ui, set: &CurveSet, text: &PlotText, height: f32) -> Option<(f64, bool)> {
    let tokens = theme::tokens(ui);
    let conditions = if text.conditions.is_empty() { String::new() } else { format!(" · {}", text.conditions) };
    let heading = format!("{}: years against {}{conditions}", text.place, life_plot::title(set.axis));
    let shown = ui.label(RichText::new(&heading).size(12.0).color(tokens.weak));
    explain::titled(shown, &heading, explained(set.axis));
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::CLICK);
    let painter = ui.painter_at(rect);
    let frame = [rect.left(), rect.top() + 2.0, rect.right(), rect.bottom()].map(f64::from);
    let mut drawn = Vec::new();
    let wide = |text: &str, size: f64| shapes::width(&painter, text, size);
    let scale = life_plot::plot(&mut drawn, set, text, (frame, LETTERS, false), &wide);
    painter.extend(shapes::painted(&painter, &drawn, tokens));
    describe(&response, set);
    let at = response.hover_pos().map(|at| [at.x, at.y].map(f64::from))?;
    let [left, top, right, bottom] = scale.area;
    let inside = (left..=right).contains(&at[0]) && (top..=bottom).contains(&at[1]);
    inside.then(|| (scale.value_at(at[0]), response.clicked()))
}

/// What the plot is and tells, for those who do not see it.
fn describe(response: &Response, set: &CurveSet) {
    let parts: Vec<&str> = set.curves.iter().map(|curve| curve.name.as_str()).collect();
    let text = format!("years against {}: {}", set.axis.word(), parts.join(", "));
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, &text));
}
