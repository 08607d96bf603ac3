//! The list under the plots: a row for each curve with its look, its full part number and its years; and candidates to add.

use egui::{Button, Grid, Label, RichText, ScrollArea, Sense, Ui};

use crate::app::actions::action::Action;
use crate::app::state::scene::Scene;
use crate::app::state::selection::Candidate;
use crate::app::views::life::curves::{nearest, title};
use crate::app::views::life::look::Look;
use crate::app::views::life::state::{Arrangement, LifeState};
use crate::app::widgets;
use crate::app::widgets::explain;
use crate::app::widgets::theme;
use crate::app::widgets::wording::UNKNOWN;
use crate::sizing::curves::{CurvePoint, CurveSet};
use crate::sizing::reasons::figure;

/// Further candidates offered for comparison.
const OFFERED: usize = 6;

/// Years with the range of the published laws: `8.3 (5.1 to 12)`.
pub(super) fn years(point: Option<&CurvePoint>) -> String {
    let Some((point, years)) = point.and_then(|point| Some((point, point.years?))) else { return UNKNOWN.to_owned() };
    match (point.low_years, point.high_years) {
        (Some(low), Some(high)) if figure(low) != figure(high) => {
            format!("{} ({} to {})", figure(years), figure(low), figure(high))
        }
        _ => figure(years),
    }
}

/// Draws the list. `read` is the condition read at: its set and value.
pub(super) fn show(
    ui: &mut Ui,
    scene: &Scene,
    arrangement: Arrangement,
    state: &LifeState,
    looks: &[Look],
    read: Option<(&CurveSet, f64)>,
    out: &mut Vec<Action>,
) {
    let Some([ambient, _]) = &state.curves.sets else { return };
    let tokens = theme::tokens(ui);
    let mut list = |ui: &mut Ui| {
        // The figures beside a long part number need more than a small window has.
        ScrollArea::horizontal().id_salt("curves in sight, sideways").auto_shrink([false, true]).show(ui, |ui| {
            Grid::new("legend").num_columns(6).spacing([10.0, 3.0]).striped(true).show(ui, |ui| {
                explain::column(ui, "Curve", "curve");
                ui.label("");
                explain::column(ui, "Part", "candidate");
                ui.label("");
                let at = read.map(|(set, x)| format!("Years at {} {}", figure(x), title(set.axis).0));
                explain::column(ui, at.as_deref().unwrap_or("Years at the pointer"), "years read");
                explain::column(ui, "With load profile", "years with the load profile");
                ui.end_row();
                for (index, (&candidate, look)) in state.curves.shown.iter().zip(looks).enumerate() {
                    ui.horizontal(|ui| {
                        let (rect, _) = ui.allocate_exact_size(Look::SAMPLE, Sense::hover());
                        look.paint_sample(ui.painter(), rect);
                        ui.label(RichText::new(look.tag()).color(look.colour).strong());
                    });
                    pin(ui, scene, candidate, out);
                    name(ui, scene, candidate, out);
                    ui.label(RichText::new(roles(scene, candidate).join(", ")).color(tokens.weak));
                    let point = read.and_then(|(set, x)| nearest(set.curves.get(index)?, x));
                    ui.label(if read.is_some() { years(point) } else { String::new() });
                    ui.label(years(ambient.curves.get(index).map(|curve| &curve.at_duty)));
                    ui.end_row();
                }
            });
            widgets::follow_focus(ui);
        });
        others(ui, scene, state, out);
    };
    match arrangement {
        Arrangement::Beside => {
            ScrollArea::vertical().id_salt("curves in sight").auto_shrink([false, false]).show(ui, list);
        }
        Arrangement::Below => list(ui),
    }
}

fn name(ui: &mut Ui, scene: &Scene, candidate: Candidate, out: &mut Vec<Action>) {
    let name = scene.name(candidate);
    if scene.candidate() == Some(candidate) {
        ui.strong(name);
        return;
    }
    let link =
        ui.link(name).on_hover_text("Makes it the selected candidate: the panels on the right are then about it.");
    if link.clicked() {
        out.push(Action::SelectCandidate(candidate));
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

fn pin(ui: &mut Ui, scene: &Scene, candidate: Candidate, out: &mut Vec<Action>) {
    if candidate == Candidate::Original {
        ui.label("");
        return;
    }
    let pinned = scene.selection.pinned.contains(&candidate);
    let text = if pinned { "Unpin" } else { "Pin" };
    let button =
        ui.add(Button::new(text).small()).on_hover_text("A pinned part keeps its curve while others are looked at.");
    let label = format!("{text} {}", scene.name(candidate));
    ui.ctx().accesskit_node_builder(button.id, |node| node.set_label(label));
    if button.clicked() {
        out.push(Action::Pin(candidate));
    }
}

/// The next candidates: pointing at one shows its curve in passing.
fn others(ui: &mut Ui, scene: &Scene, state: &LifeState, out: &mut Vec<Action>) {
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
    ui.add_space(4.0);
    ui.horizontal_wrapped(|ui| {
        ui.add(Label::new(RichText::new("Compare with").color(tokens.weak)));
        for candidate in offered {
            let link = ui.link(scene.name(candidate));
            let link = link.on_hover_text("Its curve is shown while the pointer is here; a click pins it.");
            if link.hovered() {
                out.push(Action::Hover(candidate));
            }
            if link.clicked() {
                out.push(Action::Pin(candidate));
            }
        }
    });
}
