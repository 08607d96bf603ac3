//! Why the selected candidate fares as it does: every check with its reason.

use egui::{Align, Label, Layout, RichText, Sense, TextStyle, Ui, vec2};

use super::entry::Entry;
use crate::app::actions::{Action, LiveScene};
use crate::app::state::{Candidate, Scene};
use crate::app::widgets::{self, explain, theme, wording};
use crate::domain::{Check, Outcome};
use crate::files::datasheet::place_of;
use crate::sizing::reasons::check_name;

/// From this width on the checks stand in two columns, points.
const TWO_COLUMNS: f32 = 820.0;

/// Width of a check's mark and name, points.
const NAME: f32 = 124.0;

/// Draws every check with its outcome and its reason in words.
pub(crate) fn show(ui: &mut Ui, scene: &Scene) {
    let Some(entry) = scene.candidate().and_then(|candidate| Entry::new(scene, candidate)) else { return };
    ui.spacing_mut().item_spacing.y = 2.0;
    ui.add_space(1.0);
    // The worst first: what limits or fails is seen without scrolling.
    let mut checks = Check::ALL;
    checks.sort_by_key(|&check| std::cmp::Reverse(entry.evaluation.outcome(check)));
    if ui.available_width() < TWO_COLUMNS {
        checks.into_iter().for_each(|check| line(ui, &entry, check));
        return;
    }
    let (left, right) = checks.split_at(checks.len().div_ceil(2));
    ui.columns(2, |columns| {
        for (ui, checks) in columns.iter_mut().zip([left, right]) {
            checks.iter().for_each(|&check| line(ui, &entry, check));
        }
    });
}

/// The heading above the reasons: `Why TALUS-25-47U passes`.
pub(crate) fn title(ui: &mut Ui, scene: &Scene) {
    let Some(candidate) = scene.candidate() else { return };
    let Some(evaluation) = scene.evaluation(candidate) else { return };
    explain::heading(ui, format!("Why {} {}", scene.name(candidate), wording::verdict(evaluation.verdict)), "why");
}

/// Where the figures of the candidate come from: a click opens the page of its data sheet, a hover names the cells of its list.
pub(crate) fn origin(ui: &mut Ui, scene: &LiveScene) {
    let Some(Candidate::Part(id)) = scene.candidate() else { return };
    let part = scene.catalog.part(id);
    let place = place_of(&part.datasheet);
    if place.is_none() && part.read_from.is_empty() {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        if let Some((file, page, _)) = place {
            let link = ui.small_button(format!("{file}, page {page}"));
            if link.on_hover_text("Opens the page and marks the row this part was read from.").clicked() {
                scene.push(Action::ShowDatasheet(part.datasheet.clone()));
            }
        }
        if !part.read_from.is_empty() {
            // The cells themselves are many: on hover.
            let row = part.read_from.split_once(": ").map_or(part.read_from.as_str(), |(row, _)| row);
            let read_from = RichText::new(format!("Read from {row}")).text_style(TextStyle::Small);
            ui.add(Label::new(read_from).wrap()).on_hover_text(&part.read_from);
        }
    });
}

fn line(ui: &mut Ui, entry: &Entry, check: Check) {
    let tokens = theme::tokens(ui);
    let outcome = entry.evaluation.outcome(check);
    ui.horizontal_top(|ui| {
        ui.add_space(3.0);
        let height = ui.text_style_height(&TextStyle::Small);
        // A column of a fixed width: what follows may wrap, which a grid does not allow.
        ui.allocate_ui_with_layout(vec2(NAME, height), Layout::left_to_right(Align::Center), |ui| {
            ui.set_min_width(NAME);
            widgets::mark(ui, outcome, &format!("{} {}", check_name(check), outcome.word()));
            let name = RichText::new(check_name(check)).text_style(TextStyle::Small);
            explain::on(ui.add(Label::new(name).sense(Sense::hover())), check.word());
        });
        // The mark alone says pass; what needs a look says so in words, too.
        let word = if outcome == Outcome::Pass { String::new() } else { format!("{}: ", outcome.word()) };
        let ink = if outcome == Outcome::Pass { tokens.text } else { tokens.outcome(outcome).ink };
        let reason = RichText::new(format!("{word}{}", entry.reason(check))).text_style(TextStyle::Small).color(ink);
        ui.add(Label::new(reason).wrap());
    });
}

/// All nine checks of a part in words, for what the arrow in its row opens.
pub(crate) fn all_checks(ui: &mut Ui, entry: &Entry) {
    ui.set_width(440.0);
    ui.strong(format!("{} {}", entry.name, wording::verdict(entry.evaluation.verdict)));
    Check::ALL.into_iter().for_each(|check| line(ui, entry, check));
}

/// The reasons of what does not pass, for a hover.
pub(crate) fn hover(ui: &mut Ui, entry: &Entry, only: Option<Check>) {
    ui.set_max_width(420.0);
    ui.strong(format!("{}: {}", entry.name, entry.evaluation.verdict.word()));
    let interesting = |check: &Check| only.map_or(entry.evaluation.outcome(*check) != Outcome::Pass, |o| o == *check);
    let checks: Vec<Check> = Check::ALL.into_iter().filter(interesting).collect();
    if checks.is_empty() {
        ui.weak("every check passes");
    }
    for check in checks {
        ui.horizontal_top(|ui| {
            widgets::mark(ui, entry.evaluation.outcome(check), check_name(check));
            ui.add(Label::new(format!("{}: {}", check_name(check), entry.reason(check))).wrap());
        });
    }
}
