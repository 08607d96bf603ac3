//! Between filter and table: what to do when nothing is listed or nothing may be used.

use egui::{ScrollArea, Ui};

use super::{empty, empty::Cause, state::CandidatesState};
use crate::app::actions::LiveScene;
use crate::app::widgets::{self, asked, asked::Place, entry::Widths, wording, wording::count};
use crate::domain::Outcome;

/// Causes that are shown; the others hardly matter.
const SHOWN: usize = 4;

/// Draws it, if there is anything to say.
pub(crate) fn show(ui: &mut Ui, scene: &LiveScene, state: &mut CandidatesState) {
    let (Some(listing), Some(place)) = (state.listed(scene), scene.place()) else { return };
    let (candidates, shown) = (listing.candidates.clone(), listing.ids.len());
    if scene.catalog.is_empty() {
        ui.label(wording::NO_PARTS);
        return;
    }
    if !candidates.any_usable() && needed(ui, scene, state) {
        return;
    }
    if !candidates.any_usable() {
        let none = candidates.len() == 0;
        let causes = if none { Vec::new() } else { empty::by_checks(&candidates, place) };
        let open = empty::by_unknown(&candidates);
        // What more of them lack than what most of them fail by.
        let most = |causes: &[Cause]| causes.iter().map(|cause| cause.parts).max().unwrap_or(0);
        let lacks = most(&open) > most(&causes);
        let heading = if lacks {
            "No part is known to pass: the catalogue does not say enough of those that might.".to_owned()
        } else if none {
            format!("No suitable part: all {} are excluded by value, voltage, mounting or size.", candidates.ruled_out)
        } else {
            format!("No part may be used here: none of {} passes.", count(candidates.len(), "candidate", "candidates"))
        };
        ui.horizontal(|ui| {
            let (mark, told) =
                if lacks { (Outcome::Unknown, "not enough is known") } else { (Outcome::Fail, "nothing may be used") };
            widgets::mark(ui, mark, told);
            ui.strong(heading);
        });
        // The table below keeps twice as much room.
        let third = (ui.available_height() / 3.0).max(40.0);
        ScrollArea::vertical().id_salt("why nothing holds").max_height(third).auto_shrink([false, true]).show(
            ui,
            |ui| {
                if lacks {
                    // Neither these nor what is excluded stands in the way of those that might do.
                    return causes_table(ui, "unknown", &open);
                }
                causes_table(ui, "fail", &causes);
                causes_table(ui, "excluded by", &empty::at_a_glance(&candidates, place));
            },
        );
    }
    let hidden = candidates.len();
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

/// Not enough is known to say that no part may be used: what is missing, to be entered here. `false`: nothing is missing.
fn needed(ui: &mut Ui, scene: &LiveScene, state: &mut CandidatesState) -> bool {
    let (Some((id, position)), Some(sized)) = (scene.position(), scene.sized()) else { return false };
    let Some(words) = scene.needs(id) else { return false };
    ui.horizontal_wrapped(|ui| {
        widgets::mark(ui, Outcome::Unknown, "not enough is known");
        ui.strong(format!("{}: not enough is known to say which part may be used.", position.reference));
        // The editor has these fields, too.
        if scene.selection.editor.is_some() {
            ui.label(words);
            return;
        }
        ui.label("It needs:");
        let (key, widths) = (format!("advice {id:?}"), Widths { label: 0.0, entry: 96.0, fills: false, over: false });
        for need in &sized.needs {
            // A ripple has two fields. Rows of entries do not wrap by themselves.
            if ui.available_width() < wording::width(ui, need.word()) + 2.0 * (widths.entry + 24.0) {
                ui.end_row();
            }
            ui.label(need.word());
            let place = Place { key: &key, widths };
            scene.typing(&mut state.needed, || asked::at(ui, scene, id, need.path(), place));
        }
    });
    true
}

fn causes_table(ui: &mut Ui, how: &str, causes: &[Cause]) {
    if causes.is_empty() {
        return;
    }
    for cause in causes.iter().take(SHOWN) {
        ui.horizontal_wrapped(|ui| {
            ui.label(format!("{} {how}: {} ({} only by this).", cause.parts, cause.what, cause.alone));
            ui.weak(format!("Try: {}", cause.advice));
        });
    }
}
