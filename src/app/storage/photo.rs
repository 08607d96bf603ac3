//! The photo under a board: read for the map when its board is looked at, brought beside the job when it is chosen.

use std::path::Path;
use std::sync::Arc;

use crate::app::actions::{Command, rearrange::rearrange};
use crate::app::state::{BoardPhoto, Edit, PhotoName, Session, View};
use crate::app::work::Worker;
use crate::domain::{Board, Side};
use crate::files::{bounded, photo};

/// Reading of photos on another thread.
#[derive(Default)]
pub(crate) struct Work {
    pub worker: Worker<BoardPhoto>,
    /// The photo asked for last.
    asked: Option<PhotoName>,
}

impl Work {
    /// Takes a photo that was read, and asks for that of the selected board where another one is shown.
    pub(crate) fn poll(&mut self, session: &mut Session) {
        if let Some(photo) = session.arrived(self.worker.take()) {
            if let Err(message) = &photo {
                session.say(format!("The photo is not shown: {message}"));
            }
            session.photo = Some(photo);
        }
        let board = session.scene().board();
        let wanted = board.and_then(|board| board.photo.clone()).and_then(|photo| {
            let held = session.path.is_none() && session.stock.held.contains_key(&photo);
            (session.path.is_some() || held).then(|| PhotoName { job: session.path.clone(), photo })
        });
        if wanted == self.asked {
            return;
        }
        self.asked.clone_from(&wanted);
        session.photo = None;
        let Some(name) = wanted else { return };
        let side_max_px = self.worker.ctx().map_or(2048, |ctx| ctx.input(|input| input.max_texture_side)).min(4096);
        let held = session.stock.held.get(&name.photo).filter(|_| name.job.is_none()).cloned();
        self.worker.request(format!("Reading {}", name.photo), move |_| {
            let side_max_px = u32::try_from(side_max_px).unwrap_or(2048);
            let read = || match (&name.job, &held) {
                (None, Some(bytes)) => photo::read_bytes(bytes, Path::new(&name.photo), side_max_px),
                (job, _) => {
                    let path = photo::locate(job.as_deref().unwrap_or(Path::new("")), &name.photo)?;
                    photo::read(&path, side_max_px)
                }
            };
            read().map(Arc::new).map_err(|error| error.to_string())
        });
    }
}

/// Lays a photo under the selected board (a first one where there is none), on the `side` that is seen, and shows it; one
/// from elsewhere is copied beside the job, at saving where the job is in no file yet.
pub(crate) fn lay_under(session: &mut Session, side: Side, from: &Path) {
    if session.job().boards.is_empty() {
        rearrange(session, Command::AddBoard);
    }
    let at = session.selection.board;
    let Some(board) = session.scene().board().cloned() else { return };
    session.selection.view = View::Board;
    let brought = match session.path.clone() {
        Some(job_path) => photo::bring(&job_path, from).map_err(|error| error.to_string()),
        None => hold(session, from),
    };
    match brought {
        Ok(name) => {
            let side = Some(side).filter(|&side| side != Side::Top);
            let board =
                Board { photo: Some(name), photo_corners_mm: None, photo_distance_mm: None, photo_side: side, ..board };
            session.edit(Edit::Board { at, board: Box::new(board), field: "photo".into() });
            session.history.close_entry();
        }
        Err(error) => session.say(error),
    }
}

/// Keeps a photo in memory until the job is saved, which writes it beside the job; the name the job knows it by.
fn hold(session: &mut Session, from: &Path) -> Result<String, String> {
    let bytes = bounded::read(from, photo::BYTES_MAX).map_err(|error| format!("{}: {error}", from.display()))?;
    let name = from.file_name().unwrap_or_default().to_string_lossy().into_owned();
    session.stock.held.insert(name.clone(), Arc::new(bytes));
    session.say(format!("{name} is copied beside the job when the job is saved."));
    Ok(name)
}
