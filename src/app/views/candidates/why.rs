//! Between filter and table: what to do when nothing is listed or nothing may be used.

use egui::{ScrollArea, Ui};

use crate::app::state::scene::Scene;
use crate::app::views::candidates::empty::{self, Cause};
use crate::app::views::candidates::state::CandidatesState;
use crate::app::widgets;
use crate::app::widgets::theme;
use crate::app::widgets::wording::count;
use crate::domain::Outcome;

/// Causes that are shown; the others hardly matter.
const SHOWN: usize = 4;

/// Draws it, if there is anything to say.
pub(crate) fn show(ui: &mut Ui, scene: &Scene, state: &mut CandidatesState) {
    let (Some(listing), Some(place)) = (state.listed(scene), scene.place()) else { return };
    let candidates = listing.candidates.clone();
    if scene.catalog.is_empty() {
        ui.strong("There are no parts yet");
        ui.label("Import a component catalogue (Ctrl+I), or drop a catalogue (*.csv) on the window.");
        return;
    }
    if !candidates.any_usable() {
        let none = candidates.len() == 0;
        let heading = if none {
            format!("No suitable part: all {} are excluded by value, voltage, mounting or size.", candidates.ruled_out)
        } else {
            format!("No part may be used here: none of {} passes.", count(candidates.len(), "candidate", "candidates"))
        };
        ui.horizontal(|ui| {
            widgets::mark(ui, Outcome::Fail, "nothing may be used");
            ui.strong(heading);
        });
        // The table below keeps at least as much room.
        let half = (ui.available_height() / 2.0).max(40.0);
        ScrollArea::vertical().id_salt("why nothing holds").max_height(half).auto_shrink([false, true]).show(
            ui,
            |ui| {
                let causes = if none { Vec::new() } else { empty::by_checks(&candidates, &place) };
                causes_table(ui, "fail", &causes);
                causes_table(ui, "excluded by", &empty::at_a_glance(&candidates, &place));
            },
        );
    }
    let (hidden, shown) = (candidates.len(), listing.ids.len());
    if shown == 0 && hidden > 0 && !state.ask.filter.trim().is_empty() {
        let words = format!("Nothing matches the filter; it hides {}.", count(hidden, "candidate", "candidates"));
        ui.horizontal(|ui| {
            ui.label(words);
            if ui.button("Show all candidates").clicked() {
                state.ask.filter.clear();
            }
        });
    }
}

fn causes_table(ui: &mut Ui, how: &str, causes: &[Cause]) {
    let tokens = theme::tokens(ui);
    if causes.is_empty() {
        return;
    }
    for cause in causes.iter().take(SHOWN) {
        ui.label(format!("{} {how}: {} ({} only by this).", cause.parts, cause.what, cause.alone));
        ui.colored_label(tokens.weak, format!("Try: {}", cause.advice));
    }
}
