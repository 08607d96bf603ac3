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
mod strip;
mod suffered;
mod tools;

use egui::{self, Id, Panel, Ui};

use crate::app::actions::action::Action;
use crate::app::state::scene::Scene;
use crate::app::widgets::theme::space;
use crate::app::widgets::{self, Beside, Edge};
use crate::domain::{PositionId, Side};
use crate::sizing::BoardMap;
use camera::Camera;
use colours::Colours;
use export::Export;

/// What a click on the map does.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
enum Tool {
    /// Selects.
    #[default]
    Select,
    /// Puts the selected position where the click is; drags any can.
    Place,
    /// Marks two points of the photo whose distance is known.
    Calibrate,
    /// Drags the photo.
    MovePhoto,
    /// Marks the four corners of the board in the photo.
    Straighten,
}

/// What the person drags.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Drag {
    /// The map.
    Map,
    /// A rectangle around cans, from here (mm).
    Band([f64; 2]),
    /// A can, held this far from its centre (mm).
    Can(PositionId, [f64; 2]),
    /// The photo, from here (mm).
    Photo([f64; 2]),
}

/// What the map remembers.
#[derive(Debug, Default)]
pub(crate) struct BoardState {
    side: Side,
    /// The board and the position the side and the camera were chosen for.
    seen: Option<(usize, Option<PositionId>)>,
    /// `None`: the whole board.
    camera: Option<Camera>,
    tool: Tool,
    colours: Colours,
    drag: Option<Drag>,
    /// Points clicked for the photo, mm.
    clicks: Vec<[f64; 2]>,
    /// What the person says the two points are apart.
    distance_mm: f64,
    /// The second point was clicked just now: what is typed next is the distance.
    distance_is_asked: bool,
    texture: photo::Texture,
    suffered: suffered::Suffered,
}

impl BoardState {
    /// The side that is shown.
    pub(crate) fn side(&self) -> Side {
        self.side
    }

    /// What is shown, ready to be drawn elsewhere.
    pub(crate) fn export(&self, scene: &Scene) -> Export {
        let photo = scene.photo.and_then(|photo| photo.picture.as_ref().ok()).cloned();
        let underestimated = self.suffered.ids().to_vec();
        Export { board: scene.selection.board, side: self.side, colours: self.colours, photo, underestimated }
    }

    /// Follows the selection to its board and its side.
    fn follow(&mut self, scene: &Scene) {
        let now = (scene.selection.board, scene.selection.position);
        if self.seen == Some(now) {
            return;
        }
        if self.seen.is_none_or(|seen| seen.0 != now.0) {
            self.camera = None;
            self.clicks.clear();
            self.drag = None;
        }
        if let Some((id, position)) = scene.position()
            && id.board == now.0
        {
            self.show_side(position.side.unwrap_or_default());
        }
        self.seen = Some(now);
    }

    fn show_side(&mut self, side: Side) {
        if self.side != side {
            self.side = side;
            self.camera = None;
            self.clicks.clear();
        }
    }

    fn take(&mut self, tool: Tool) {
        self.tool = tool;
        self.clicks.clear();
        self.drag = None;
    }
}

/// What has the keyboard while the map is in use.
pub(crate) fn focus_id() -> Id {
    Id::unique("board map")
}

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
