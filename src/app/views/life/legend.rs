//! The list under the plots: a row for each curve with its look, its full part number and its years; and candidates to add.

use egui::{Button, Grid, RichText, ScrollArea, Sense, Ui, vec2};

use super::{curves::nearest, curves::unit, state::Arrangement, state::LifeState};
use crate::app::actions::{Action, LiveScene};
use crate::app::state::{Candidate, Scene};
use crate::app::widgets::{self, explain, shapes, theme, wording::UNKNOWN};
use crate::domain::{Can, Check, Outcome, style};
use crate::files::{drawing::Shape, life_plot, life_plot::PlotText};
use crate::sizing::{
    Evaluation, PositionContext, curves::CurvePoint, curves::CurveSet, reasons::check_name, reasons::figure,
};

/// Further candidates offered for comparison.
const OFFERED: usize = 6;

/// Years, and in brackets those before the cap where it cuts them: `15 (22.4)`.
fn years(point: &CurvePoint, hours_per_year: Option<f64>) -> String {
    let Some(years) = point.years else { return UNKNOWN.to_owned() };
    let uncapped = point.life_uncapped_h.zip(hours_per_year).map(|(life_h, hours)| life_h / hours);
    match uncapped.filter(|uncapped| *uncapped > 1.01 * years) {
        Some(uncapped) => format!("{} ({})", figure(years), figure(uncapped)),
        None => figure(years),
    }
}

/// Years by the published laws that give least and most: `5.1 to 12`.
pub(super) fn band(point: &CurvePoint) -> String {
    match (point.low_years, point.high_years) {
        (Some(low), Some(high)) if figure(low) != figure(high) => format!("{} to {}", figure(low), figure(high)),
        (Some(low), Some(_)) => figure(low),
        _ => UNKNOWN.to_owned(),
    }
}

/// What decides a verdict that is no pass, else the check that leaves least.
fn limits(place: &PositionContext, can: &Can, evaluation: &Evaluation) -> Option<Check> {
    if evaluation.verdict != Outcome::Pass {
        return Check::ALL.into_iter().find(|&check| evaluation.outcome(check) == evaluation.verdict);
    }
    place.margins(can, evaluation).min_by(|a, b| a.1.total_cmp(&b.1)).map(|(check, _)| check)
}

/// Draws the list in at most `height`. `read` is the condition read at: its set and value.
pub(super) fn show(
    ui: &mut Ui,
    scene: &LiveScene,
    (arrangement, height): (Arrangement, f32),
    state: &LifeState,
    text: &PlotText,
    read: Option<(&CurveSet, f64)>,
) {
    let (Some([ambient, _]), Some(place)) = (&state.curves.sets, scene.place()) else { return };
    let tokens = theme::tokens(ui);
    let varied = !text.conditions.is_empty();
    let list = |ui: &mut Ui| {
        // The figures beside a long part number need more than a small window has.
        ScrollArea::horizontal().id_salt("curves in sight, sideways").auto_shrink([false, true]).show(ui, |ui| {
            ui.spacing_mut().interact_size.y = 18.0;
            Grid::new("legend").num_columns(10).spacing([7.0, 2.0]).striped(true).show(ui, |ui| {
                explain::column(ui, "Curve", "curve");
                ui.label("");
                explain::column(ui, "Part", "candidate");
                explain::column(ui, "Check", "verdict");
                explain::column(ui, "Load profile,\nyears", "years with the load profile");
                explain::column(ui, "Band", "band");
                if varied {
                    explain::column(ui, &format!("With\n{}", text.conditions), "years with the load profile");
                }
                let at = read.map(|(set, x)| format!("Years at\n{} {}", figure(x), unit(set.axis)));
                explain::column(ui, at.as_deref().unwrap_or("Years at\nthe pointer"), "years read");
                explain::column(ui, "Limits", "headroom");
                explain::column(ui, &format!("Cost\nfor {}", figure(place.need_qty)), "need");
                ui.end_row();
                for (index, &candidate) in state.curves.shown.iter().enumerate() {
                    sample(ui, index, text);
                    pin(ui, scene, candidate);
                    ui.horizontal(|ui| {
                        name(ui, scene, candidate);
                        ui.label(RichText::new(roles(scene, candidate).join(", ")).color(tokens.weak));
                    });
                    let evaluation = text.evaluations.get(index).and_then(Option::as_ref);
                    match evaluation {
                        Some(evaluation) => widgets::outcome(ui, evaluation.verdict),
                        None => ui.label("not checked"),
                    };
                    let entered = state.curves.entered.get(index).copied().unwrap_or_default();
                    ui.label(years(&entered, scene.job.hours_per_year));
                    ui.label(band(&entered));
                    if varied {
                        let then = ambient.curves.get(index).and_then(|curve| curve.at_duty.years);
                        let text = RichText::new(then.map_or_else(|| UNKNOWN.to_owned(), figure));
                        let less = then < entered.years;
                        ui.label(if less { text.color(tokens.outcome(Outcome::Fail).ink) } else { text });
                    }
                    let point = read.and_then(|(set, x)| nearest(set.curves.get(index)?, x));
                    ui.label(point.map_or_else(String::new, |point| {
                        let (years, band) = (point.years.map_or_else(|| UNKNOWN.to_owned(), figure), band(point));
                        if years == band { years } else { format!("{years} ({band})") }
                    }));
                    let limits = evaluation.zip(scene.can(candidate)).and_then(|(e, can)| limits(place, &can, e));
                    ui.label(limits.map_or("", check_name));
                    let cost = match candidate {
                        Candidate::Part(id) => place.cost_of_need(scene.catalog, id),
                        Candidate::Original => None,
                    };
                    ui.label(cost.map_or_else(String::new, style::money));
                    ui.end_row();
                }
            });
            widgets::follow_focus(ui);
        });
        others(ui, scene, state);
    };
    match arrangement {
        Arrangement::Beside => {
            let scroll = ScrollArea::vertical().id_salt("curves in sight").max_height(height);
            scroll.auto_shrink([false, false]).show(ui, list);
        }
        Arrangement::Below => list(ui),
    }
}

/// A piece of the curve, as it is drawn; of a part that fails with its cross.
fn sample(ui: &mut Ui, index: usize, text: &PlotText) {
    let (rect, _) = ui.allocate_exact_size(vec2(34.0, 12.0), Sense::hover());
    let [left, right, y] = [rect.left(), rect.right(), rect.center().y].map(f64::from);
    let line = life_plot::look(index, text.original);
    let drawn = [Shape::Path { points: vec![[left, y], [right, y]], line }];
    ui.painter().extend(shapes::painted(ui.painter(), &drawn, theme::tokens(ui)));
}

fn name(ui: &mut Ui, scene: &LiveScene, candidate: Candidate) {
    let name = scene.name(candidate);
    if scene.candidate() == Some(candidate) {
        ui.strong(name);
        return;
    }
    let link =
        ui.link(name).on_hover_text("Makes it the candidate in question: the panels on the right are then about it.");
    if link.clicked() {
        scene.push(Action::SelectCandidate(candidate));
    }
}

fn roles(scene: &Scene, candidate: Candidate) -> Vec<&'static str> {
    let picked = scene.position().is_some_and(|(_, p)| p.pick.as_deref() == Some(scene.name(candidate)));
    let chosen = scene.chosen() == Some(candidate);
    let all = [
        (picked, "picked"),
        (chosen && !picked, "proposed"),
        (scene.selection.pinned.contains(&candidate), "pinned"),
        (scene.selection.hovered == Some(candidate), "hovered"),
    ];
    all.into_iter().filter(|&(holds, _)| holds).map(|(_, word)| word).collect()
}

fn pin(ui: &mut Ui, scene: &LiveScene, candidate: Candidate) {
    if candidate == Candidate::Original {
        ui.label("");
        return;
    }
    let pinned = scene.selection.pinned.contains(&candidate);
    let text = if pinned { "Unpin" } else { "Pin" };
    let button =
        ui.add(Button::new(text).small()).on_hover_text("A pinned part keeps its curve while others are looked at.");
    if widgets::named(button, format!("{text} {}", scene.name(candidate))).clicked() {
        scene.push(Action::Pin(candidate));
    }
}

/// The next candidates: pointing at one shows its curve in passing.
fn others(ui: &mut Ui, scene: &LiveScene, state: &LifeState) {
    let tokens = theme::tokens(ui);
    let Some(candidates) = scene.candidates else {
        ui.colored_label(tokens.weak, "The candidates are being checked.");
        return;
    };
    let rows = candidates.rows(scene.catalog, false);
    let lasting = (0..rows.len()).filter_map(|row| rows.id(row)).map(Candidate::Part);
    // A hovered part stays in its row, or the row would move away from under the pointer.
    let kept = |c: &Candidate| !state.curves.shown.contains(c) || scene.selection.hovered == Some(*c);
    let offered: Vec<Candidate> = lasting.filter(kept).take(OFFERED).collect();
    if offered.is_empty() {
        return;
    }
    let button = ui.button("Compare with…").on_hover_text("Draws the curve of another part, the next best first.");
    widgets::menu(&button, |ui| {
        for candidate in offered {
            let entry = ui.button(scene.name(candidate));
            let entry = entry.on_hover_text("Its curve is shown while the pointer is here; a click pins it.");
            if entry.hovered() || entry.has_focus() {
                scene.push(Action::Hover(candidate));
            }
            if entry.clicked() {
                ui.close();
                scene.push(Action::Pin(candidate));
            }
        }
    });
}
