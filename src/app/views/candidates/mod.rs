//! The parts that come into question for the selected position: a table one filters and sorts, the reasons of the
//! selected one, the pinned ones side by side.

mod clipboard;
mod columns;
mod compare;
mod detail;
mod empty;
mod entry;
mod filter;
mod listing;
mod matching;
mod quantity;
mod row;
mod state;
mod table;
mod toolbar;
mod why;

use egui::{self, Panel, ScrollArea, Ui};

use crate::app::actions::LiveScene;
use crate::app::state::Candidate;
use crate::app::widgets::{self, Beside, Edge, can_picture, explain, theme, theme::space};
use state::Below;
pub(crate) use state::{CandidatesState, step};

#[cfg(test)]
pub(crate) use filter::EXAMPLES;

/// Every name a column has in the filter, for the test that the guide tells them all.
#[cfg(test)]
pub(crate) fn names_in_the_filter() -> impl Iterator<Item = &'static str> {
    columns::COLUMNS.iter().flat_map(|column| column.words.iter().copied())
}

/// From this growth on a window is very wide.
const VERY_WIDE: f32 = 1.3;

/// Width of the table with its usual columns, points.
const TABLE: f32 = 1062.0;

/// Where beside all of the table there is room for this much the reasons stand beside it instead of below, points.
const BESIDE: f32 = 352.0;

/// From this height on there is a picture under the reasons, to this; what stands around it, points.
const PICTURE: f32 = 200.0;
const LARGEST_PICTURE: f32 = 460.0;
const BELOW_PICTURE: f32 = 110.0;

/// Draws the place.
pub(super) fn show(ui: &mut Ui, scene: &LiveScene, tight: bool, state: &mut CandidatesState) {
    if scene.position().is_none() {
        ui.label("Select a position on the left; its candidates are then listed here.");
        return;
    }
    let growth = theme::grow(ui);
    if state.below == Below::Comparison {
        // Side by side the candidates take all the room there is.
        tabs(ui, scene, state);
        return compare::show(ui, scene, state.differences, growth);
    }
    // Beside the table in a wide window, below it in a small one.
    let margin = space::PANEL;
    let (edge, id, panel, usual) = if ui.available_width() >= TABLE * growth + BESIDE {
        let frame = egui::Frame::new().inner_margin(egui::Margin { left: margin, ..egui::Margin::ZERO });
        // An identity of its own in a very wide window: what is remembered there is too wide for another.
        let id = if growth > VERY_WIDE { "candidate detail far beside" } else { "candidate detail beside" };
        let spare = (ui.available_width() - TABLE * growth).clamp(340.0, 900.0);
        (Edge::Right, id, Panel::right(id).frame(frame).resizable(true).size_range(340.0..=1200.0), spare)
    } else {
        let frame = egui::Frame::new().inner_margin(egui::Margin { top: margin, ..egui::Margin::ZERO });
        let id = "candidate detail";
        let share = (ui.available_height() * 0.2).clamp(96.0, 260.0);
        let most = (ui.available_height() - 150.0).max(80.0);
        (Edge::Bottom, id, Panel::bottom(id).frame(frame).resizable(true).size_range(60.0..=most), share)
    };
    widgets::main_then_panel(ui, Beside { edge, id, panel, usual }, |ui, main| {
        if !main {
            return below(ui, scene, state);
        }
        toolbar::show(ui, scene, tight, state);
        why::show(ui, scene, state);
        table::show(ui, scene, state, growth);
    });
}

/// The reasons of the selected candidate, or the examples of the filter.
fn below(ui: &mut Ui, scene: &LiveScene, state: &mut CandidatesState) {
    tabs(ui, scene, state);
    let scroll = ScrollArea::vertical().auto_shrink([false, false]).id_salt(state.below as u8);
    match state.below {
        Below::Examples => scroll.show(ui, |ui| toolbar::examples(ui, state)).inner,
        Below::Reasons | Below::Comparison => {
            let reasons = |ui: &mut Ui| {
                detail::show(ui, scene);
                // In a window with room for it the part stands beside the original, to scale.
                let height = ui.clip_rect().bottom() - ui.cursor().top() - BELOW_PICTURE;
                if let Some(candidate) = scene.candidate().filter(|_| height > PICTURE) {
                    ui.add_space(ui.spacing().interact_size.y);
                    can_picture::show(ui, scene, candidate, height.min(LARGEST_PICTURE));
                }
            };
            scroll.show(ui, reasons);
        }
    }
}

/// What can be shown of the candidates besides the table.
fn tabs(ui: &mut Ui, scene: &LiveScene, state: &mut CandidatesState) {
    let pinned = scene.selection.pinned.iter().filter(|c| **c != Candidate::Original).count();
    ui.horizontal_wrapped(|ui| {
        let compares = state.below == Below::Comparison;
        let tabs = [
            (
                Below::Reasons,
                if compares { "Table and reasons" } else { "Reasons" }.to_owned(),
                "Every check of the selected candidate, with its figures.",
            ),
            (
                Below::Comparison,
                format!("Compare pinned ({pinned})"),
                "The pinned candidates side by side on one footprint, against the original.",
            ),
            (Below::Examples, "Filter examples".to_owned(), "What can be typed into the filter."),
        ];
        // In a short window one line has all that is wanted of the comparison.
        let all = !compares || ui.ctx().content_rect().height() >= space::SHORT;
        widgets::tabs(ui, &mut state.below, tabs.into_iter().take(if all { 3 } else { 2 }));
        if compares && pinned > 0 {
            if all {
                explain::heading(ui, "against the original", "comparison");
            }
            ui.checkbox(&mut state.differences, "Only differences")
                .on_hover_text("Hides the lines in which all of them are the same.");
        }
    });
    if state.below == Below::Reasons {
        detail::title(ui, scene);
        detail::origin(ui, scene);
    }
}
