//! What is kept and what is not, each with its line and the reason.

use egui::{RichText, Ui};

use super::{files::heading, memory::Listed, state::ImportState};
use crate::app::actions::{Action, ImportAction, LiveScene};
use crate::app::widgets::theme;
use crate::domain::{Outcome, style::counted};
use crate::files::{Rejected, Unused, import::Report};

/// Rows listed at a time.
const LISTED_MOST: usize = 100;

fn is_aside(listed: &Rejected) -> bool {
    listed.unused == Unused::Skipped
}

/// Draws what came of the table shown.
pub(super) fn show(ui: &mut Ui, state: &mut ImportState, scene: &LiveScene) {
    let Some(gave) = state.gave().cloned() else { return };
    let report = &gave.report;
    let tokens = theme::tokens(ui);
    // Above all that grows and shrinks by what is ticked: a tick must not move the next one.
    other_kinds(ui, state, report);
    heading(
        ui,
        &format!("Of {}", counted(report.rows, "row", "rows")),
        "Kept: goes in. Skipped: no electrolytic capacitor, or no row of data. Rejected: a figure it needs is missing or contradicts another.",
    );
    let line = |ui: &mut Ui, outcome: Outcome, count: usize, what: &str| {
        if count > 0 {
            ui.horizontal(|ui| {
                crate::app::widgets::mark(ui, outcome, what);
                ui.label(format!("{count} {what}"));
            });
        }
    };
    line(ui, Outcome::Pass, report.kept, "kept");
    line(ui, Outcome::Fail, report.refused, "refused");
    line(
        ui,
        Outcome::Marginal,
        report.contradictions.len(),
        if report.contradictions.len() == 1 { "contradiction" } else { "contradictions" },
    );
    line(
        ui,
        Outcome::Marginal,
        report.cells_not_used,
        if report.cells_not_used == 1 { "cell of a kept row not used" } else { "cells of kept rows not used" },
    );
    let aside = report.set_aside_rows();
    if aside > 0 {
        ui.label(format!("{aside} skipped; click a kind to see its rows"));
        for set in &report.set_aside {
            let chosen = state.listed == Listed::Aside(set.reason.clone());
            if ui.selectable_label(chosen, format!("{} {}", set.rows, set.reason)).clicked() {
                state.listed = if chosen { Listed::default() } else { Listed::Aside(set.reason.clone()) };
            }
        }
    }
    for (names, text) in [
        (&gave.without_position, "placed here, but no position of the board"),
        (&gave.without_place, "positions of the board that this file does not place"),
    ] {
        if !names.is_empty() {
            ui.add_space(4.0);
            ui.label(RichText::new(format!("{} {text}", names.len())).color(tokens.outcome(Outcome::Marginal).ink));
            ui.label(names.join(", "));
        }
    }
    listed(ui, state, report, scene);
    if !report.notes.is_empty() {
        heading(ui, "Remarks", "What was read in one of several possible ways, and from where.");
        for note in report.notes.iter().take(LISTED_MOST) {
            ui.label(note.as_str());
        }
    }
    ui.add_space(8.0);
}

/// Which kinds of other parts are taken in.
fn other_kinds(ui: &mut Ui, state: &mut ImportState, report: &Report) {
    if report.others.is_empty() {
        return;
    }
    heading(
        ui,
        "Other parts to take in",
        "Relays, fuses and what else is replaced while the machine is open: ticked kinds go onto the board as other parts.",
    );
    ui.horizontal_wrapped(|ui| {
        let kinds = state.sheet().map_or(&[][..], |sheet| sheet.mapping.other_parts.as_slice());
        let mut all = report.others.keys().all(|kind| kinds.contains(kind));
        if report.others.len() > 1 && ui.checkbox(&mut all, "All kinds").changed() {
            let kinds = report.others.keys().filter(|_| all).copied().collect();
            state.change_mapping(|mapping| mapping.other_parts = kinds);
        }
        for (&kind, rows) in &report.others {
            let mut on = state.sheet().is_some_and(|sheet| sheet.mapping.other_parts.contains(&kind));
            let word = crate::domain::schema::spoken(kind.into());
            let rows = counted(*rows, "row", "rows");
            if ui.checkbox(&mut on, format!("{word} ({rows})")).changed() {
                state.change_mapping(|mapping| {
                    mapping.other_parts.retain(|known| *known != kind);
                    if on {
                        mapping.other_parts.push(kind);
                    }
                });
            }
        }
    });
}

fn listed(ui: &mut Ui, state: &mut ImportState, report: &Report, scene: &LiveScene) {
    if report.rejected.is_empty() {
        return;
    }
    ui.add_space(4.0);
    ui.horizontal_wrapped(|ui| {
        for (what, text) in [(Listed::Trouble, "To look at"), (Listed::All, "Everything not used")] {
            if ui.selectable_label(state.listed == what, text).clicked() {
                state.listed = what;
            }
        }
        if ui
            .small_button("Save as CSV…")
            .on_hover_text("Every row and cell that is not used, with file, line and reason.")
            .clicked()
        {
            scene.push(Action::Import(ImportAction::WriteRejected));
        }
    });
    let lines = match &state.listed {
        Listed::Aside(group) => report.set_aside.iter().find(|set| set.reason == *group).map(|set| &set.lines),
        _ => None,
    };
    let wanted = |listed: &&Rejected| match &state.listed {
        Listed::All => true,
        Listed::Trouble => !is_aside(listed),
        Listed::Aside(_) => is_aside(listed) && lines.is_some_and(|lines| lines.binary_search(&listed.line).is_ok()),
    };
    let count = report.rejected.iter().filter(wanted).count();
    if count == 0 && state.listed == Listed::Trouble {
        ui.label("Nothing else wants a look.");
    }
    let printed = state.sheet().is_some_and(|sheet| sheet.source.places.is_some());
    for one in report.rejected.iter().filter(wanted).take(LISTED_MOST) {
        row(ui, one);
        let line = usize::try_from(one.line).ok().filter(|line| printed && *line > 0);
        if let Some(line) = line.filter(|_| ui.small_button("Show on its page").clicked()) {
            state.page.mark(line, None);
        }
    }
    if count > LISTED_MOST {
        ui.label(format!("and {} more; save the list to see all of them", count - LISTED_MOST));
    }
}

/// A row or cell that is not used.
pub(super) fn row(ui: &mut Ui, listed: &Rejected) {
    row_of(ui, listed, "");
}

/// The same with the name of the file, where rows of several stand together.
pub(super) fn row_of(ui: &mut Ui, listed: &Rejected, file: &str) {
    let tokens = theme::tokens(ui);
    let place = if listed.line == 0 { String::new() } else { format!("line {}, ", listed.line) };
    let field = if listed.field == "(row)" { String::new() } else { format!("{}: ", listed.field) };
    let value: String = listed.value.replace(['\n', '\r'], " ").chars().take(90).collect();
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        ui.colored_label(tokens.weak, format!("{file}{place}{field}{value}"));
        ui.label(listed.reason.as_str());
    });
}
