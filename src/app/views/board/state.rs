//! What the map remembers, and what the person does with it.

use std::path::PathBuf;
use std::sync::Arc;

use crate::app::state::scene::Scene;
use crate::app::state::selection::{Candidate, Step, View};
use crate::app::state::session::Session;
use crate::app::state::snapshot::{Same, Snapshot};
use crate::app::views::board::export::Export;
use crate::app::views::board::suffered;
use crate::app::views::board::trace::{Grip, Trace};
use crate::app::widgets::map::camera::Camera;
use crate::app::widgets::map::{Drawn, photo};
use crate::app::work::worker::{AnyWorker, Worker};
use crate::domain::{Job, PositionId, Side};
use crate::files::board_colours::Colours;
use crate::files::output;
use crate::sizing::{BoardMap, size};

/// From this width on the cards stand beside the map unless they are put away, points.
pub(super) const CARDS_FROM: f32 = 900.0;

/// What a click on the map does.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) enum Tool {
    #[default]
    Select,
    /// Puts the selected position where the click is; drags any can.
    Place,
    /// Marks two points of the photo whose distance is known.
    Calibrate,
    MovePhoto,
    /// Marks the four corners of the board in the photo.
    Straighten,
    /// Draws circles around cans in the photo.
    Trace,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Drag {
    Map,
    /// A rectangle around cans, from here (mm).
    Band([f64; 2]),
    /// A can, held this far from its centre (mm).
    Can(PositionId, [f64; 2]),
    /// The photo, from here (mm).
    Photo([f64; 2]),
    /// The circle around a can.
    Circle(Grip),
}

/// The map as it was prepared, with what it was prepared for.
pub(super) struct Prepared {
    of: (Same<Job>, Same<Snapshot>),
    board: usize,
    side: Side,
    map: Arc<BoardMap>,
}

/// What the map remembers.
#[derive(Default)]
pub(crate) struct BoardState {
    prepared: Option<Prepared>,
    /// Prepares the map of a large board.
    mapping: Worker<Option<Prepared>>,
    /// Whether the cards stand beside the map; `None`: where there is room.
    pub(super) cards: Option<bool>,
    /// Scroll to the selected card.
    pub(super) reveal: bool,
    pub(super) side: Side,
    /// The board and the position the side and the camera were chosen for.
    pub(super) seen: Option<(usize, Option<PositionId>)>,
    /// `None`: the whole board.
    pub(super) camera: Option<Camera>,
    pub(super) tool: Tool,
    /// A field had the keyboard, or a menu stood open, when it was drawn last.
    pub(super) typing: bool,
    pub(super) colours: Colours,
    pub(super) drag: Option<Drag>,
    /// Points clicked for the photo, mm.
    pub(super) clicks: Vec<[f64; 2]>,
    /// What the person says the two points are apart.
    pub(super) distance_mm: f64,
    /// The second point was clicked just now: what is typed next is the distance.
    pub(super) distance_is_asked: bool,
    /// The board on which the keyboard was once on the way to trace its first cans.
    pub(super) offered: Option<usize>,
    pub(super) texture: photo::Texture,
    pub(super) suffered: suffered::Suffered,
    pub(super) trace: Trace,
    pub(super) drawn: Drawn,
}

impl BoardState {
    /// The work on other threads.
    pub(crate) fn work(&self) -> [&dyn AnyWorker; 2] {
        [&self.mapping, &self.trace.finding]
    }

    /// The map of a board, as far as it is prepared.
    pub(super) fn map(&self, board: usize) -> Option<Arc<BoardMap>> {
        self.prepared.as_ref().filter(|known| known.board == board).map(|known| known.map.clone())
    }

    /// Moves among the cards; the part it leads to.
    pub(crate) fn step(&mut self, scene: &Scene, step: Step) -> Option<Candidate> {
        self.reveal = true;
        let best = &scene.sized()?.best;
        let at = best.iter().position(|ranked| scene.candidate() == Some(Candidate::Part(ranked.id)));
        Some(Candidate::Part(best[step.from(at, best.len())?].id))
    }

    pub(crate) fn side(&self) -> Side {
        self.side
    }

    /// Draws the map as it is seen into a file.
    pub(crate) fn write(&self, session: &Session, worker: &Worker<Result<String, String>>, path: PathBuf) {
        let scene = session.scene();
        let request = Export {
            board: scene.selection.board,
            side: self.side,
            colours: self.colours,
            photo: scene.photo.and_then(|photo| photo.as_ref().ok()).cloned(),
            underestimated: self.suffered.ids().to_vec(),
        };
        let (job, catalog_index) = (session.job().clone(), session.catalog_index.clone());
        worker.request(format!("Drawing {}", path.display()), move |_| {
            let sizing = size(&job, &catalog_index);
            let drawn = request.draw(&job, catalog_index.catalog(), &sizing, &path)?;
            output::asked(&path, drawn)?;
            Ok(format!("The map is written to {}.", path.display()))
        });
    }

    /// Follows the selection to its board and its side, and prepares the map of it once per change: of a large board on
    /// another thread, with the map before shown meanwhile.
    pub(crate) fn prepare(&mut self, session: &Session) {
        /// Up to this many positions a map is prepared at once; it takes less than a frame.
        const AT_ONCE: usize = 2000;
        let (scene, board) = (session.scene(), session.selection.board);
        self.follow(&scene);
        if session.selection.view != View::Board && self.tool == Tool::Trace {
            self.take(Tool::Select);
        }
        self.trace.poll();
        if let Some(Ok(Some(prepared))) = self.mapping.take() {
            self.prepared = Some(prepared);
        }
        let (of, side) = ((Same(session.job().clone()), Same(session.snapshot.clone())), self.side);
        let is_there = |known: &Prepared| known.of == of && (known.board, known.side) == (board, side);
        if self.prepared.as_ref().is_some_and(is_there) {
            return;
        }
        let index = session.catalog_index.clone();
        let small = scene.board().is_none_or(|board| board.positions.len() <= AT_ONCE);
        let make = move || {
            let map = BoardMap::new(&of.0, index.catalog(), &of.1.sizing, board, side)?;
            Some(Prepared { of, board, side, map: Arc::new(map) })
        };
        if small {
            self.mapping.cancel();
            self.prepared = make();
        } else if self.mapping.busy().is_none() {
            if self.prepared.as_ref().is_some_and(|known| (known.board, known.side) != (board, side)) {
                self.prepared = None;
            }
            self.mapping.request("Preparing the map", move |_| make());
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
            self.trace.forget(true);
        }
        if let Some((id, position)) = scene.position()
            && id.board == now.0
        {
            self.show_side(position.side.unwrap_or_default());
        }
        self.reveal = true;
        self.seen = Some(now);
    }

    pub(super) fn show_side(&mut self, side: Side) {
        if self.side != side {
            self.side = side;
            self.camera = None;
            self.clicks.clear();
        }
    }

    pub(super) fn take(&mut self, tool: Tool) {
        self.tool = tool;
        self.clicks.clear();
        self.distance_mm = 0.0;
        self.drag = None;
        self.trace.forget(tool != Tool::Trace);
    }
}
