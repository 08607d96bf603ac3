//! Why the selected candidate may be used, on a few lines: stress, rise, life with its spread, what was assumed, what limits the board.

use egui::{Align, Label, Layout, RichText, Ui, vec2};

use super::{context::PanelContext, context::assumed};
use crate::app::widgets::{self, explain, theme, wording, wording::UNKNOWN, wording::percent};
use crate::domain::{Check, style};
use crate::sizing::{PositionContext, reasons::figure, spread::in_words, years_of};

/// Width of the names on the left, points.
const NAME_WIDTH: f32 = 58.0;

pub(super) fn show(ui: &mut Ui, desk: &mut PanelContext) {
    let scene = desk.scene;
    let Some(candidate) = scene.candidate() else { return };
    let Some(evaluation) = scene.evaluation(candidate) else { return };
    let figures = &evaluation.figures;
    ui.horizontal_wrapped(|ui| {
        ui.strong(scene.name(candidate));
        widgets::outcome(ui, evaluation.verdict);
    });
    ui.scope(|ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        let voltage =
            figures.voltage_usage.map_or_else(|| UNKNOWN.into(), |used| format!("{} of the rating", percent(used)));
        line(ui, ("Voltage", "voltage"), format!("{voltage}, {}", evaluation.outcome(Check::Voltage).word()));
        let ripple = match (figures.ripple_eq_a, figures.ripple_allowed_a, figures.ripple_usage) {
            (Some(eq), Some(allowed), Some(used)) => {
                format!("{} A of {} A allowed, {}", figure(eq), figure(allowed), percent(used))
            }
            _ => UNKNOWN.into(),
        };
        line(ui, ("Ripple", "ripple"), ripple);
        let rise = match (figures.core_rise_k, figures.ripple_ambient_c) {
            (Some(rise), Some(ambient)) => format!("{} K over {} °C", style::rise(rise), figure(ambient)),
            _ => UNKNOWN.into(),
        };
        line(ui, ("Core rise", "core rise"), rise);
        let years = |life_h: Option<f64>| years_of(scene.job.hours_per_year, &scene.job.policy, life_h?);
        let life = match (figures.calendar_years, years(figures.life_low_h), years(figures.life_high_h)) {
            (Some(nominal), Some(low), Some(high)) if figure(low) != figure(high) => {
                format!("{} years; published laws {} to {}", figure(nominal), figure(low), figure(high))
            }
            (Some(nominal), ..) => format!("{} years by every law", figure(nominal)),
            _ => UNKNOWN.into(),
        };
        let target = scene.place().and_then(PositionContext::target_years);
        let target =
            target.map_or_else(|| "no target is set".into(), |years| format!("the target is {} years", figure(years)));
        line(ui, ("Life", "band"), format!("{life}; {target}"));
        let spread = desk.answers.map(|answers| match &answers.spread {
            Some(spread) => {
                let reached = spread.reaches_target.map(|share| format!("; {} reach the target", percent(share)));
                format!("{} years{}", in_words(spread.years), reached.unwrap_or_default())
            }
            None => UNKNOWN.into(),
        });
        line(ui, ("Spread", "spread"), spread.unwrap_or_else(|| "…".into()));
        line(ui, ("Assumptions", "rests on"), assumed(evaluation.assumed));
        if let Some(interval) = scene.board_sized().map(|sized| &sized.as_chosen) {
            let mut text = wording::shortest(scene, interval).unwrap_or_else(|| UNKNOWN.into());
            if !interval.unknown.is_empty() {
                text.push_str(&format!("; not known: {}", scene.job.references(&interval.unknown, ", ")));
            }
            line(ui, ("Board", "interval"), text);
        }
    });
    ui.add_space(4.0);
}

/// A line with its name, which explains itself, on the left; what is long goes on below itself.
fn line(ui: &mut Ui, (name, explained): (&str, &str), text: String) {
    let weak = theme::tokens(ui).weak;
    ui.horizontal_top(|ui| {
        ui.allocate_ui_with_layout(vec2(NAME_WIDTH, 18.0), Layout::left_to_right(Align::Min), |ui| {
            ui.set_min_width(NAME_WIDTH);
            explain::titled(ui.label(RichText::new(name).color(weak)), name, explained);
        });
        ui.add(Label::new(text).wrap());
    });
}
