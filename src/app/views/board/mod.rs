//! The board from above, in millimetres: what sits where, what comes in its place, and what stands too close.

mod camera;
mod colours;
mod export;
mod homography;
mod map;
mod neighbour;
mod paint;
mod photo;
mod raster;
mod state;
mod strip;
mod suffered;
mod tools;

use egui::{self, Panel, Ui};

use crate::app::actions::action::Action;
use crate::app::state::scene::Scene;
use crate::app::widgets::theme::space;
use crate::app::widgets::{self, Beside, Edge};
use crate::sizing::BoardMap;
pub(crate) use state::BoardState;

/// The panel beside the map, and its usual width, points.
const STRIP: &str = "beside the board";
const STRIP_WIDTH: f32 = 250.0;

/// Draws the place.
pub(crate) fn show(ui: &mut Ui, scene: &Scene, state: &mut BoardState, out: &mut Vec<Action>) {
    state.follow(scene);
    state.suffered.provide(scene, state.colours);
    let at = scene.selection.board;
    let Some(map) = BoardMap::new(scene.job, scene.catalog, scene.sizing, at, state.side) else { return };
    let frame = egui::Frame::new().inner_margin(egui::Margin { left: space::PANEL, ..egui::Margin::ZERO });
    let panel = Panel::right(STRIP).frame(frame).resizable(true).size_range(200.0..=420.0);
    let main = |ui: &mut Ui, out: &mut Vec<Action>| {
        tools::show(ui, scene, state, &map, out);
        map::show(ui, scene, state, &map, out);
    };
    let aside = |ui: &mut Ui, out: &mut Vec<Action>| strip::show(ui, scene, out);
    let beside = Beside { edge: Edge::Right, id: STRIP, panel, usual: STRIP_WIDTH };
    widgets::main_then_panel(ui, beside, out, main, aside);
}
