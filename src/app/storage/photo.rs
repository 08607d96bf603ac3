//! The photo under a board: read for the map when its board is looked at, brought beside the job when it is chosen.

use std::path::Path;
use std::sync::Arc;

use crate::app::Window;
use crate::app::state::edit::Edit;
use crate::app::state::session::{BoardPhoto, PhotoName};
use crate::domain::{Board, Side};
use crate::files::photo;

impl Window {
    /// Asks for the photo of the selected board where another one is at hand.
    pub(crate) fn request_photo(&mut self) {
        let board = self.session.scene().board();
        let named = board.and_then(|board| board.photo.clone()).zip(self.session.path.clone());
        let wanted = named.map(|(photo, job)| PhotoName { job, photo });
        if wanted == self.photo_asked_for {
            return;
        }
        self.photo_asked_for.clone_from(&wanted);
        self.session.photo = None;
        let Some(name) = wanted else { return };
        let side_max_px = self.waker.get().map_or(2048, |ctx| ctx.input(|input| input.max_texture_side)).min(4096);
        self.workers.photo.request(format!("Reading {}", name.photo), move |_| {
            let read = || {
                let path = photo::locate(&name.job, &name.photo)?;
                photo::read(&path, u32::try_from(side_max_px).unwrap_or(2048))
            };
            let picture = read().map(Arc::new).map_err(|error| error.to_string());
            BoardPhoto { picture }
        });
    }
    /// Takes in a photo that was read.
    pub(crate) fn take_photo(&mut self, photo: BoardPhoto) {
        if let Err(message) = &photo.picture {
            self.session.say(format!("The photo is not shown: {message}"));
        }
        self.session.photo = Some(photo);
    }

    /// Lays a photo under the board at hand, on the side that is seen; one from elsewhere is copied beside the job.
    pub(crate) fn use_photo(&mut self, from: &Path) {
        let (at, Some(job_path)) = (self.session.selection.board, self.session.path.clone()) else { return };
        let Some(board) = self.session.scene().board().cloned() else { return };
        match photo::bring(&job_path, from) {
            Ok(name) => {
                let side = Some(self.places.board.side()).filter(|&side| side != Side::Top);
                let board = Board { photo: Some(name), photo_corners_mm: None, photo_side: side, ..board };
                self.edit(Edit::Board { at, board: Box::new(board), field: "photo".into() });
                self.session.history.close_entry();
            }
            Err(error) => self.session.say(error.to_string()),
        }
    }
}
