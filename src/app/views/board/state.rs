//! What the map remembers, and what the person does with it.

use std::path::PathBuf;

use crate::app::state::scene::Scene;
use crate::app::state::session::Session;
use crate::app::views::board::camera::Camera;
use crate::app::views::board::colours::Colours;
use crate::app::views::board::export::Export;
use crate::app::views::board::{photo, suffered};
use crate::app::work::worker::Worker;
use crate::domain::{PositionId, Side};
use crate::files::output;
use crate::sizing::size;

/// What a click on the map does.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) enum Tool {
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
pub(super) enum Drag {
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
    pub(super) side: Side,
    /// The board and the position the side and the camera were chosen for.
    pub(super) seen: Option<(usize, Option<PositionId>)>,
    /// `None`: the whole board.
    pub(super) camera: Option<Camera>,
    pub(super) tool: Tool,
    pub(super) colours: Colours,
    pub(super) drag: Option<Drag>,
    /// Points clicked for the photo, mm.
    pub(super) clicks: Vec<[f64; 2]>,
    /// What the person says the two points are apart.
    pub(super) distance_mm: f64,
    /// The second point was clicked just now: what is typed next is the distance.
    pub(super) distance_is_asked: bool,
    pub(super) texture: photo::Texture,
    pub(super) suffered: suffered::Suffered,
}

impl BoardState {
    /// The side that is shown.
    pub(crate) fn side(&self) -> Side {
        self.side
    }

    /// Draws the map as it is seen into a file.
    pub(crate) fn write(&self, session: &Session, worker: &Worker<Result<String, String>>, path: PathBuf) {
        let request = self.export(&session.scene());
        let (job, catalog_index) = (session.job().clone(), session.catalog_index.clone());
        worker.request(format!("Drawing {}", path.display()), move |_| {
            let sizing = size(&job, &catalog_index);
            let drawn = request.draw(&job, catalog_index.catalog(), &sizing, &path)?;
            output::asked(&path, drawn)?;
            Ok(format!("The map is written to {}.", path.display()))
        });
    }

    /// What is shown, ready to be drawn elsewhere.
    fn export(&self, scene: &Scene) -> Export {
        let photo = scene.photo.and_then(|photo| photo.picture.as_ref().ok()).cloned();
        let underestimated = self.suffered.ids().to_vec();
        Export { board: scene.selection.board, side: self.side, colours: self.colours, photo, underestimated }
    }

    /// Follows the selection to its board and its side.
    pub(super) fn follow(&mut self, scene: &Scene) {
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
        self.drag = None;
    }
}
