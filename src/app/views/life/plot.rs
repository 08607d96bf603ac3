//! A plot of years against one condition: curves, band, target, the duty's phases, the line one reads at.

use egui::{Align2, Color32, Id, Response, RichText, Ui, WidgetInfo, pos2};
use egui_plot::{
    AxisHints, FilledArea, GridInput, GridMark, HLine, Line, LineStyle, MarkerShape, Plot, PlotPoint, PlotPoints,
    PlotUi, Points, Text, VLine,
};

use crate::app::views::life::curves::{nearest, title};
use crate::app::views::life::look::Look;
use crate::app::widgets::explain;
use crate::app::widgets::theme::{self, Tokens};
use crate::app::widgets::wording::percent;
use crate::sizing::curves::{Axis, Curve, CurveSet};
use crate::sizing::reasons::figure;

/// Lowest years a logarithmic axis goes down to.
const LOG_FLOOR_YEARS: f64 = 0.05;

/// Height of a line of text at a mark, points: near marks stand on lines of their own.
const MARK_LINE_POINTS: f32 = 14.0;

/// Everything a plot needs beside the curves.
pub(super) struct Frame<'a> {
    /// What the plot is about: board and position.
    pub of: &'a str,
    /// Height, points.
    pub height: f32,
    /// Whether years stand on a logarithmic axis.
    pub log: bool,
    /// Value of the axis one reads at, when the pointer is elsewhere.
    pub read_at: Option<f64>,
    /// The looks of the curves.
    pub looks: &'a [Look],
}

/// The name the explanation of a plot goes by.
fn explained(axis: Axis) -> &'static str {
    match axis {
        Axis::Ambient => "years against ambient",
        Axis::Ripple => "years against ripple",
        Axis::Voltage => "years against voltage",
        Axis::Hours => "years against hours",
    }
}

/// Draws the plot; the value of the axis under the pointer.
pub(super) fn show(ui: &mut Ui, set: &CurveSet, frame: &Frame) -> Option<f64> {
    let tokens = theme::tokens(ui);
    let log = frame.log;
    let scaled = move |years: f64| if log { years.max(LOG_FLOOR_YEARS).log10() } else { years };
    let (low, high) = ends(set);
    let top = set.curves.iter().flat_map(|curve| &curve.points).filter_map(|point| point.high_years.or(point.years));
    let top = top.chain(set.target_years).fold(1.0, f64::max) * if log { 1.4 } else { 1.08 };
    let least = set.curves.iter().flat_map(|curve| &curve.points).filter_map(|point| point.low_years.or(point.years));
    let least = least.chain(set.target_years).fold(10.0, f64::min);
    let bottom = if log { (0.7 * least).max(LOG_FLOOR_YEARS) } else { 0.0 };
    let name = format!("years against {}", set.axis.word());
    let heading = format!("{}: years against {}", frame.of, title(set.axis).1);
    let shown = ui.label(RichText::new(&heading).size(12.0).color(tokens.weak));
    explain::titled(shown, &heading, explained(set.axis));
    // A new set of conditions starts with its own bounds.
    let salt = (set.axis, log, [low, high, bottom, top].map(f64::to_bits));
    let plot = Plot::new(Id::unique(("life plot", salt)))
        .height(frame.height)
        .default_x_bounds(low, high)
        .default_y_bounds(scaled(bottom), scaled(top))
        .allow_scroll(false)
        .set_margin_fraction(egui::Vec2::ZERO)
        .grid_color(tokens.line)
        .custom_x_axes(vec![AxisHints::new_x().label_spacing(26.0..=40.0)])
        .custom_y_axes(vec![AxisHints::new_y().min_thickness(34.0)])
        .label_formatter(|_| None)
        .cursor_color(tokens.weak);
    let plot = if log {
        plot.y_grid_spacer(decades).y_axis_formatter(|mark, _| decade_label(mark.value))
    } else {
        plot.y_grid_spacer(years_grid)
    };
    let shown = plot.show(ui, |plot| {
        draw(plot, set, frame, tokens, &scaled, top);
        plot.response().hovered().then(|| plot.pointer_coordinate()).flatten().map(|at| at.x.clamp(low, high))
    });
    describe(&shown.response, &name, set);
    shown.inner
}

/// What the plot is and tells, for those who do not see it.
fn describe(response: &Response, name: &str, set: &CurveSet) {
    let parts: Vec<&str> = set.curves.iter().map(|curve| curve.name.as_str()).collect();
    let text = format!("{name}: {}", parts.join(", "));
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, &text));
}

fn ends(set: &CurveSet) -> (f64, f64) {
    let points = set.curves.first().map(|curve| curve.points.as_slice()).unwrap_or_default();
    match (points.first(), points.last()) {
        (Some(first), Some(last)) if first.x < last.x => (first.x, last.x),
        _ => (0.0, 1.0),
    }
}

fn draw<'a>(
    plot: &mut PlotUi<'a>,
    set: &'a CurveSet,
    frame: &Frame,
    tokens: &Tokens,
    scaled: &impl Fn(f64) -> f64,
    top: f64,
) {
    let marks = marks(plot, set, tokens);
    for (curve, look) in set.curves.iter().zip(frame.looks).rev() {
        // The first curve is the one in question; only its band is drawn, or the plot would be all bands.
        if look.number == 1 || set.curves.len() == 1 {
            band(plot, curve, look.colour, scaled);
        }
        let points = curve.points.iter().filter_map(|point| Some([point.x, scaled(point.years?)]));
        let points: PlotPoints = points.collect();
        let width = if look.number == 1 { 2.5 } else { 1.8 };
        plot.line(Line::new(curve.name.as_str(), points).color(look.colour).width(width).style(look.style));
        if let Some((x, years)) = tag_at(curve, top) {
            let tag = RichText::new(look.tag()).strong().size(12.0);
            // Curves of parts that last alike lie on each other; their numbers stand side by side.
            let aside = 0.018 * plot.plot_bounds().width() * look.number.saturating_sub(1) as f64;
            let at = PlotPoint::new(x + aside, scaled(years));
            plot.text(Text::new("", at, tag).color(look.colour).anchor(Align2::LEFT_BOTTOM));
        }
    }
    if let Some(target) = set.target_years {
        let line = HLine::new("target", scaled(target)).color(tokens.target).width(1.5);
        plot.line_label(line, &format!("target {} years", figure(target)), target, scaled, tokens);
    }
    if let Some(x) = frame.read_at {
        plot.vline(VLine::new("reading", x).color(tokens.focus).width(1.2));
        for (curve, look) in set.curves.iter().zip(frame.looks) {
            if let Some(years) = nearest(curve, x).and_then(|point| point.years) {
                let point = Points::new("", vec![[x, scaled(years)]]).radius(3.5).color(look.colour);
                plot.points(point.shape(MarkerShape::Circle));
            }
        }
    }
    // Last, so that no curve runs through the words.
    marks.into_iter().for_each(|label| plot.text(label));
}

/// Words within a plot: on a patch of its background.
fn word(text: impl Into<String>, size: f32, tokens: &Tokens) -> RichText {
    RichText::new(text).size(size).background_color(tokens.base.gamma_multiply(0.8))
}

trait LineLabel {
    fn line_label(&mut self, line: HLine, text: &str, at: f64, scaled: &impl Fn(f64) -> f64, tokens: &Tokens);
}

impl LineLabel for PlotUi<'_> {
    fn line_label(&mut self, line: HLine, text: &str, at: f64, scaled: &impl Fn(f64) -> f64, tokens: &Tokens) {
        let bounds = self.plot_bounds();
        self.hline(line.style(LineStyle::Dashed { length: 6.0 }));
        let place = PlotPoint::new(bounds.min()[0] + 0.01 * bounds.width(), scaled(at));
        let label = word(text, 11.5, tokens);
        self.text(Text::new("", place, label).color(tokens.target).anchor(Align2::LEFT_BOTTOM));
    }
}

fn band(plot: &mut PlotUi, curve: &Curve, colour: Color32, scaled: &impl Fn(f64) -> f64) {
    let known = || curve.points.iter().filter_map(|point| Some((point.x, point.low_years?, point.high_years?)));
    let xs: Vec<f64> = known().map(|point| point.0).collect();
    let low: Vec<f64> = known().map(|point| scaled(point.1)).collect();
    let high: Vec<f64> = known().map(|point| scaled(point.2)).collect();
    if xs.len() > 1 {
        let area =
            FilledArea::new("band of the published laws", &xs, &low, &high).fill_color(colour.gamma_multiply(0.22));
        plot.add(area.allow_hover(false));
    }
}

/// The phases of the duty, the longer the thicker; the value as entered on other axes. Hands back their names and shares.
fn marks<'a>(plot: &mut PlotUi<'a>, set: &'a CurveSet, tokens: &Tokens) -> Vec<Text> {
    let bounds = plot.plot_bounds();
    let mut marks: Vec<_> = set.marks.iter().collect();
    marks.sort_by(|a, b| a.x.total_cmp(&b.x));
    let mut labels = Vec::new();
    for (at, mark) in marks.iter().enumerate() {
        let share = mark.share.unwrap_or(0.0);
        #[expect(clippy::cast_possible_truncation, reason = "a few pixels")]
        let width = 1.0 + 6.0 * share as f32;
        let line = VLine::new(mark.name.as_str(), mark.x).color(tokens.weak.gamma_multiply(0.45)).width(width);
        plot.vline(line);
        let text = match mark.share {
            Some(share) => format!("{} {}", mark.name, percent(share)),
            None => mark.name.clone(),
        };
        // One line of text for each, so that near phases do not cover each other.
        let row = if set.axis == Axis::Ambient { at as f64 } else { 0.0 };
        let line_share = f64::from(MARK_LINE_POINTS / plot.transform().frame().height().max(MARK_LINE_POINTS));
        let y = bounds.min()[1] + bounds.height() * (0.02 + line_share * row);
        // Years fall from left to right: below the curves there is room on the left of a phase, unless it stands at the edge itself.
        let beside_edge = mark.x < bounds.min()[0] + 0.25 * bounds.width();
        let right =
            if set.axis == Axis::Ambient { !beside_edge } else { mark.x > bounds.min()[0] + 0.66 * bounds.width() };
        let anchor = if right { Align2::RIGHT_BOTTOM } else { Align2::LEFT_BOTTOM };
        let gap = if right { -0.008 } else { 0.008 } * bounds.width();
        let label = word(text, 11.0, tokens);
        labels.push(Text::new("", PlotPoint::new(mark.x + gap, y), label).color(tokens.weak).anchor(anchor));
    }
    labels
}

/// Where the number of a curve stands: where it has come down to half the height of the plot, so that curves along the cap do not share it.
fn tag_at(curve: &Curve, top: f64) -> Option<(f64, f64)> {
    let known = || curve.points.iter().filter_map(|point| Some((point.x, point.years?)));
    let ends = known().fold((f64::INFINITY, 0.0_f64), |(low, high), (_, years)| (low.min(years), high.max(years)));
    if ends.1 - ends.0 < 0.05 * top {
        // Homography, along the cap or along nothing: near its right end.
        let count = known().count();
        return known().nth(count * 9 / 10);
    }
    let away = |&(_, years): &(f64, f64)| (years - 0.5 * top).abs();
    known().min_by(|a, b| away(a).total_cmp(&away(b)))
}

/// A line at every year, a stronger one with its number at every fifth.
#[expect(clippy::needless_pass_by_value, reason = "the form the plot asks for")]
fn years_grid(input: GridInput) -> Vec<GridMark> {
    #[expect(clippy::cast_possible_truncation, reason = "a handful of years")]
    let (low, high) = (input.bounds.0.max(0.0).ceil() as i32, input.bounds.1.min(1000.0).floor() as i32);
    // Many years get lines at every fifth and twenty-fifth.
    let unit = if high - low > 60 { 5 } else { 1 };
    let marks = (low..=high).filter(|year| year % unit == 0);
    let step = |year: i32| if year % (5 * unit) == 0 { 5 * unit } else { unit };
    marks.map(|year| GridMark { value: f64::from(year), step_size: f64::from(step(year)) }).collect()
}

/// Lines at 1, 2, … 9 times each power of ten.
#[expect(clippy::needless_pass_by_value, reason = "the form the plot asks for")]
fn decades(input: GridInput) -> Vec<GridMark> {
    #[expect(clippy::cast_possible_truncation, reason = "a handful of decades")]
    let (low, high) = (input.bounds.0.floor().max(-6.0) as i32, input.bounds.1.ceil().min(6.0) as i32);
    let marks = (low..high).flat_map(|decade| {
        (1..=9).map(move |step| GridMark {
            value: f64::from(decade) + f64::from(step).log10(),
            step_size: if step == 1 { 1.0 } else { 0.3 },
        })
    });
    // A mark outside would put its number over what stands beside the plot.
    marks.filter(|mark| (input.bounds.0..=input.bounds.1).contains(&mark.value)).collect()
}

fn decade_label(value: f64) -> String {
    let years = 10f64.powf(value);
    let mantissa = years / 10f64.powf((value + 1e-9).floor());
    let labelled = [1.0, 2.0, 5.0].into_iter().any(|round| (mantissa - round).abs() < 1e-6);
    if labelled { figure(years) } else { String::new() }
}

/// Corners of what is drawn, for a picture of it.
pub(super) fn area(from: egui::Rect, to: egui::Rect) -> egui::Rect {
    egui::Rect::from_min_max(pos2(from.left(), from.top()), pos2(to.right(), to.bottom()))
}
