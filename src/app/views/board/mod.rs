//! The board from above, in millimetres: what sits where, what comes in its place, and what stands too close.

mod camera;
mod cards;
mod export;
mod fit;
mod homography;
mod map;
mod neighbour;
mod photo;
mod raster;
mod suffered;
mod tools;

use std::sync::Arc;

use egui::{self, Id, Panel, Ui};

use crate::app::actions::action::Action;
use crate::app::state::scene::Scene;
use crate::app::state::selection::Candidate;
use crate::app::state::session::Session;
use crate::app::state::snapshot::Snapshot;
use crate::app::views::Step;
use crate::app::widgets::{self, Beside, Edge};
use crate::app::work::worker::{AnyWorker, Worker};
use crate::domain::{Job, PositionId, Side};
use crate::files::board_drawing::Colours;
use crate::sizing::BoardMap;
use camera::Camera;
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

/// The map as it was prepared, with what it was prepared for.
struct Prepared {
    job: Arc<Job>,
    snapshot: Arc<Snapshot>,
    board: usize,
    side: Side,
    map: Arc<BoardMap>,
}

/// What the map remembers.
#[derive(Default)]
pub(crate) struct BoardState {
    side: Side,
    /// The board and the position the side and the camera were chosen for.
    seen: Option<(usize, Option<PositionId>)>,
    prepared: Option<Prepared>,
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
    /// Whether the cards stand beside the map; `None`: where there is room.
    cards: Option<bool>,
    /// Scroll to the selected card.
    reveal: bool,
}

/// A map that was prepared on another thread.
pub(crate) type MapDone = Option<(Arc<Job>, Arc<Snapshot>, usize, Side, Arc<BoardMap>)>;

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

    /// Follows the selection to its board and its side, and prepares the map of it once per change: of a large board on
    /// another thread, with the map before shown meanwhile.
    pub(crate) fn prepare(&mut self, session: &Session, worker: &Worker<MapDone>) {
        /// Up to this many positions a map is prepared at once; it takes less than a frame.
        const AT_ONCE: usize = 2000;
        let (scene, board) = (session.scene(), session.selection.board);
        self.follow(&scene);
        if let Some(Ok(Some((job, snapshot, board, side, map)))) = worker.take() {
            self.prepared = Some(Prepared { job, snapshot, board, side, map });
        }
        let (job, snapshot, side) = (session.job(), &session.snapshot, self.side);
        if self.prepared.as_ref().is_some_and(|known| {
            Arc::ptr_eq(&known.job, job)
                && Arc::ptr_eq(&known.snapshot, snapshot)
                && (known.board, known.side) == (board, side)
        }) {
            return;
        }
        let (job, snapshot, index) = (job.clone(), snapshot.clone(), session.catalog_index.clone());
        let small = scene.board().is_none_or(|board| board.positions.len() <= AT_ONCE);
        let make = move || {
            let map = BoardMap::new(&job, index.catalog(), &snapshot.sizing, board, side)?;
            Some((job.clone(), snapshot.clone(), board, side, Arc::new(map)))
        };
        if small {
            worker.cancel();
            self.prepared =
                make().map(|(job, snapshot, board, side, map)| Prepared { job, snapshot, board, side, map });
        } else if worker.busy().is_none() {
            if self.prepared.as_ref().is_some_and(|known| (known.board, known.side) != (board, side)) {
                self.prepared = None;
            }
            worker.request("Preparing the map", move |_| make());
        }
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
        self.reveal = true;
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

/// The card a move leads to.
pub(crate) fn step(state: &mut BoardState, scene: &Scene, step: Step) -> Option<Candidate> {
    state.reveal = true;
    let best = &scene.sized()?.best;
    let at = best.iter().position(|ranked| scene.candidate() == Some(Candidate::Part(ranked.id)));
    Some(Candidate::Part(best[step.from(at, best.len())?].id))
}

/// The panel beside the map.
const CARDS: &str = "cards beside the board";
/// From this width on the cards stand beside the map unless they are put away, points.
const CARDS_FROM: f32 = 900.0;

/// Draws the view.
pub(crate) fn show(ui: &mut Ui, scene: &Scene, state: &mut BoardState, out: &mut Vec<Action>) {
    state.suffered.provide(scene, state.colours);
    let Some(map) = state.prepared.as_ref().filter(|known| known.board == scene.selection.board).map(|p| p.map.clone())
    else {
        ui.label("The map is being prepared.");
        return;
    };
    let width = ui.available_width();
    if !state.cards.unwrap_or(width >= CARDS_FROM) {
        return map::show(ui, scene, state, &map, out);
    }
    let frame = egui::Frame::new().inner_margin(egui::Margin { left: 6, ..egui::Margin::ZERO });
    let usual = (width * 0.196).clamp(230.0, 420.0);
    let panel = Panel::right(CARDS).frame(frame).resizable(true).size_range(200.0..=620.0);
    let main =
        |ui: &mut Ui, (state, out): &mut (&mut BoardState, &mut Vec<Action>)| map::show(ui, scene, state, &map, out);
    let aside =
        |ui: &mut Ui, (state, out): &mut (&mut BoardState, &mut Vec<Action>)| cards::show(ui, scene, state, out);
    widgets::main_then_panel(ui, Beside { edge: Edge::Right, id: CARDS, panel, usual }, &mut (state, out), main, aside);
}
