//! A spectrum as a drawing and as a list of lines.

use egui::{Align2, FontId, Grid, Stroke, Ui, pos2, vec2};

use crate::app::widgets::{picture, px, theme};
use crate::domain::{style::counted, style::hertz};
use crate::physics::spectrum::Line;
use crate::sizing::reasons::figure;

/// Lines listed; the rest is small.
const LISTED: usize = 6;
const HEIGHT: f32 = 58.0;

/// Draws bars over a logarithmic axis of frequency, and lists the heaviest lines.
pub(super) fn show(ui: &mut Ui, salt: &str, lines: &[Line]) {
    drawing(ui, lines);
    let mut heaviest: Vec<&Line> = lines.iter().collect();
    heaviest.sort_by(|a, b| b.a.total_cmp(&a.a));
    heaviest.truncate(LISTED);
    heaviest.sort_by(|a, b| a.hz.total_cmp(&b.hz));
    Grid::new(salt.to_owned()).num_columns(2).spacing([14.0, 1.0]).show(ui, |ui| {
        for line in heaviest {
            ui.label(hertz(line.hz));
            ui.label(format!("{} A", figure(line.a)));
            ui.end_row();
        }
    });
    let more = lines.len().saturating_sub(LISTED);
    if more > 0 {
        ui.weak(format!("and {more} smaller lines"));
    }
}

fn drawing(ui: &mut Ui, lines: &[Line]) {
    let hz = || lines.iter().map(|line| line.hz);
    let (Some(low), Some(high)) = (hz().reduce(f64::min), hz().reduce(f64::max)) else { return };
    let most = lines.iter().map(|line| line.a).fold(0.0, f64::max);
    if most <= 0.0 || low <= 0.0 {
        return;
    }
    let tokens = theme::tokens(ui);
    let name = format!(
        "spectrum: {} from {} to {} Hz, the largest {} A",
        counted(lines.len(), "line", "lines"),
        figure(low),
        figure(high),
        figure(most)
    );
    let (rect, response) = picture(ui, vec2(ui.available_width(), HEIGHT), &name);
    response.on_hover_text("Current of each line, A rms, over frequency on a logarithmic axis.");
    let painter = ui.painter();
    let floor = rect.bottom() - 14.0;
    // Half a decade of room, so that a single line stands in the middle.
    let (from, to) = (low.log10() - 0.25, high.log10() + 0.25);
    let x = |hz: f64| rect.left() + rect.width() * px((hz.log10() - from) / (to - from));
    for line in lines {
        let top = floor - (floor - rect.top()) * px(line.a / most);
        painter.vline(x(line.hz), top..=floor, Stroke::new(3.0, tokens.series[0]));
    }
    painter.hline(rect.x_range(), floor, Stroke::new(1.0, tokens.line));
    let font = FontId::proportional(11.0);
    let ends = if high > low { vec![low, high] } else { vec![low] };
    for hz in ends {
        let at = pos2(x(hz), rect.bottom());
        painter.text(at, Align2::CENTER_BOTTOM, hertz(hz), font.clone(), tokens.weak);
    }
}
