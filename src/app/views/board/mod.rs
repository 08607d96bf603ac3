//! The board from above, in millimetres: what sits where, what comes in its place, and what stands too close.

mod cards;
mod export;
mod fit;
mod map;
mod neighbour;
mod others;
mod place;
mod state;
mod suffered;
mod tools;
mod trace;

use egui::{self, Panel, Ui};

use crate::app::actions::LiveScene;
use crate::app::widgets::theme::space;
use crate::app::widgets::{self, Beside, Edge};
pub(crate) use state::BoardState;
use state::CARDS_FROM;

/// The panel beside the map.
const CARDS: &str = "cards beside the board";

/// Draws the view.
pub(crate) fn show(ui: &mut Ui, scene: &LiveScene, state: &mut BoardState) {
    state.suffered.provide(scene, state.colours);
    let Some(map) = state.map(scene.selection.board) else {
        ui.label("The map is being prepared.");
        return;
    };
    let width = ui.available_width();
    let usual = (width * 0.173).clamp(203.0, 420.0);
    // Beside the editor the map keeps its share of the window.
    let least = space::VIEW_SHARE * ui.ctx().content_rect().width();
    let room = scene.selection.editor.is_none() || width - usual >= least;
    if !(room && state.cards.unwrap_or(width >= CARDS_FROM)) {
        return map::show(ui, scene, state, &map);
    }
    let frame = egui::Frame::new().inner_margin(egui::Margin { left: 6, ..egui::Margin::ZERO });
    let panel = Panel::right(CARDS).frame(frame).resizable(true).size_range(usual.min(203.0).max(0.85 * usual)..=620.0);
    widgets::main_then_panel(ui, Beside { edge: Edge::Right, id: CARDS, panel, usual }, |ui, main| {
        if main { map::show(ui, scene, state, &map) } else { cards::show(ui, scene, state) }
    });
}
