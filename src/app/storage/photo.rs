//! The photo under a board: read for the map when its board is looked at, brought beside the job when it is chosen.

use std::path::Path;
use std::sync::Arc;

use crate::app::state::edit::Edit;
use crate::app::state::session::{BoardPhoto, PhotoName, Session};
use crate::app::work::worker::{Waker, Worker};
use crate::domain::{Board, Side};
use crate::files::photo;

/// Reading of photos on another thread.
pub(crate) struct Work {
    pub worker: Worker<BoardPhoto>,
    /// The photo asked for last.
    asked: Option<PhotoName>,
    waker: Waker,
}

impl Work {
    /// Nothing is read yet.
    pub(crate) fn new(waker: &Waker) -> Self {
        Self { worker: Worker::new(waker), asked: None, waker: waker.clone() }
    }

    /// Takes a photo that was read, and asks for that of the selected board where another one is shown.
    pub(crate) fn poll(&mut self, session: &mut Session) {
        if let Some(photo) = session.arrived(self.worker.take()) {
            if let Err(message) = &photo.picture {
                session.say(format!("The photo is not shown: {message}"));
            }
            session.photo = Some(photo);
        }
        let board = session.scene().board();
        let named = board.and_then(|board| board.photo.clone()).zip(session.path.clone());
        let wanted = named.map(|(photo, job)| PhotoName { job, photo });
        if wanted == self.asked {
            return;
        }
        self.asked.clone_from(&wanted);
        session.photo = None;
        let Some(name) = wanted else { return };
        let side_max_px = self.waker.get().map_or(2048, |ctx| ctx.input(|input| input.max_texture_side)).min(4096);
        self.worker.request(format!("Reading {}", name.photo), move |_| {
            let read = || {
                let path = photo::locate(&name.job, &name.photo)?;
                photo::read(&path, u32::try_from(side_max_px).unwrap_or(2048))
            };
            let picture = read().map(Arc::new).map_err(|error| error.to_string());
            BoardPhoto { picture }
        });
    }
}

/// Lays a photo under the selected board, on the `side` that is seen; one from elsewhere is copied beside the job.
pub(crate) fn lay_under(session: &mut Session, side: Side, from: &Path) {
    let (at, Some(job_path)) = (session.selection.board, session.path.clone()) else { return };
    let Some(board) = session.scene().board().cloned() else { return };
    match photo::bring(&job_path, from) {
        Ok(name) => {
            let side = Some(side).filter(|&side| side != Side::Top);
            let board = Board { photo: Some(name), photo_corners_mm: None, photo_side: side, ..board };
            session.edit(Edit::Board { at, board: Box::new(board), field: "photo".into() });
            session.history.close_entry();
        }
        Err(error) => session.say(error.to_string()),
    }
}
