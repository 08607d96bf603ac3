//! What comes from outside: rows pasted from a spreadsheet, files dropped on the window, recent files.

use std::path::{Component, Path, PathBuf};

use eframe::egui::{self, Context, Event};

use super::Window;
use super::action::Action;
use super::command::Command;
use super::edit::Edit;
use super::places::life;
use super::selection::View;
use super::sheet::Sheet;
use crate::domain::{Board, Job};
use crate::files::{demo, parts, paste};
use crate::sizing::Market;

/// Rows pasted and files dropped in this frame. Text pasted while a field has the keyboard is the field's.
pub(super) fn arrived(ctx: &Context) -> Vec<Action> {
    let typing = ctx.text_edit_focused();
    ctx.input(|input| {
        let pasted = input.events.iter().filter_map(|event| match event {
            Event::Paste(text) if !typing => Some(Action::Paste(text.clone())),
            _ => None,
        });
        let dropped = input.raw.dropped_files.iter().map(|file| Action::TakeFile(file.path().to_owned()));
        pasted.chain(dropped).collect()
    })
}

/// Says over the window what happens to files that are held over it.
pub(super) fn show_hovering(ctx: &Context) {
    if ctx.input(|input| input.raw.hovered_files.is_empty()) {
        return;
    }
    egui::Modal::new(egui::Id::unique("dropping")).show(ctx, |ui| {
        ui.heading("Drop it here");
        ui.label(
            "A job (*.json) is opened, a catalogue or a list of offers (*.csv) is added, a photo (*.png, *.jpg) is laid under the board. In the life place a table is read as an oscilloscope record or a temperature log.",
        );
    });
}

/// The name of `path` as seen from the folder of `job`, with slashes; `None` when it is outside.
fn inside(job: &Path, path: &Path) -> Option<String> {
    let folder = job.parent()?.canonicalize().ok()?;
    let relative = path.canonicalize().ok()?.strip_prefix(folder).ok()?.to_owned();
    let parts = relative.components().map(|part| match part {
        Component::Normal(name) => name.to_str(),
        _ => None,
    });
    Some(parts.collect::<Option<Vec<_>>>()?.join("/"))
}

impl Window {
    /// Puts pasted rows into the board at hand, as one step; what was refused is listed.
    pub(super) fn paste(&mut self, text: &str) {
        let session = &mut self.session;
        let at = session.selection.board;
        let mut job = Job::clone(session.job());
        if job.boards.is_empty() {
            job.boards.push(Board { name: "Board 1".into(), ..Board::default() });
        }
        let Some(board) = job.boards.get_mut(at) else { return };
        let pasted = match paste::paste(text, board) {
            Ok(pasted) => pasted,
            Err(error) => return session.say(format!("Nothing was pasted: {error}.")),
        };
        let name = board.name.clone();
        *board = pasted.board;
        for refused in &pasted.refused {
            session.say(format!(
                "Not pasted: line {}, {}: \"{}\": {}.",
                refused.line, refused.column, refused.value, refused.reason
            ));
        }
        let columns: Vec<String> =
            pasted.columns.iter().map(|(header, field)| format!("{header} as {field}")).collect();
        let (added, changed) = (pasted.added, pasted.changed);
        let refused = match pasted.refused.len() {
            0 => String::new(),
            count => format!("; {count} cells or rows refused"),
        };
        session.say(format!(
            "Pasted into {name}: {added} added, {changed} changed{refused}. Read: {}.",
            columns.join(", ")
        ));
        if !pasted.refused.is_empty() {
            self.sheet = Some(Sheet::Messages);
        }
        if added + changed > 0 {
            let what = format!("paste of {} positions", added + changed);
            self.edit(Edit::Whole { job: Box::new(job), what });
        }
    }

    /// Takes a file by its kind.
    pub(super) fn take_file(&mut self, ctx: &Context, path: PathBuf) {
        let kind = path.extension().map(|kind| kind.to_string_lossy().to_lowercase()).unwrap_or_default();
        match kind.as_str() {
            "json" => {
                self.opening = Some(path);
                self.carry_out(ctx, Action::Run(Command::Open));
            }
            "csv" | "tsv" | "txt" if self.session.selection.view == View::Life => {
                self.read_into_life(path, life::Reading::either);
            }
            "csv" | "tsv" | "txt" if super::buying::is_list_of_offers(&path) => self.add_offers(&path),
            "csv" | "tsv" | "txt" => self.add_catalogue(&path),
            "png" | "jpg" | "jpeg" => self.add_photo(&path),
            _ => self.session.say(format!(
                "{}: expected a job (*.json), a catalogue (*.csv, *.tsv) or a photo (*.png, *.jpg).",
                path.display()
            )),
        }
    }

    fn add_photo(&mut self, path: &Path) {
        let session = &mut self.session;
        let Some(job_path) = &session.path else {
            return session.say("Save the job first: a photo is kept in the folder of the job.");
        };
        let Some(name) = inside(job_path, path) else {
            let folder = job_path.parent().unwrap_or(job_path).display().to_string();
            return session.say(format!(
                "{}: copy the photo into {folder} first, so that it stays with the job.",
                path.display()
            ));
        };
        let at = session.selection.board;
        let Some(mut board) = session.job().boards.get(at).cloned() else { return };
        board.photo = Some(name);
        self.edit(Edit::Board { at, board: Box::new(board), field: "photo".into() });
    }

    /// Adds a catalogue to the parts; one in the folder of the job is also written into the job.
    fn add_catalogue(&mut self, path: &Path) {
        let session = &mut self.session;
        let mut paths: Vec<PathBuf> = Vec::new();
        let name = session.path.as_ref().and_then(|job| inside(job, path));
        if let Some(folder) = session.path.as_ref().and_then(|job| job.parent()) {
            paths.extend(session.job().catalogs.iter().map(|name| folder.join(name)));
        }
        session.extra_catalogues.retain(|known| known != path);
        session.extra_catalogues.push(path.to_owned());
        paths.extend(session.extra_catalogues.iter().cloned());
        let added = path.display().to_string();
        let with_demo = session.path.is_none();
        self.lanes.parts.request(format!("Reading {}", path.display()), move |progress| {
            let mut files = Vec::new();
            if with_demo {
                let own = demo::FILES[1];
                files.push((PathBuf::from(own.0), own.1.as_bytes().to_vec()));
            }
            for path in paths {
                let bytes = crate::files::bounded::read(&path, crate::files::bounded::TABLE_BYTES_MAX).map_err(|error| format!("{}: {error}", path.display()))?;
                files.push((path, bytes));
            }
            let read = parts::from_bytes_watched(files, progress).map_err(|error| error.to_string())?;
            let mut notes = read.notes;
            if name.is_none() {
                notes.push(format!(
                    "{added} counts until the job is closed; copy it into the folder of the job and drop it from there to keep it."
                ));
            }
            let market = Market::new_watched(std::sync::Arc::new(read.catalog), progress).ok_or("Stopped.")?;
            Ok(super::PartsRead { market, rejected: read.rejected, notes, name })
        });
    }

    /// Takes in a catalogue that was added.
    pub(super) fn take_parts(&mut self, read: super::PartsDone) {
        match read {
            Ok(super::PartsRead { market, rejected, notes, name }) => {
                self.session.parts_in_memory |= name.is_none();
                let mut job = Job { boards: Vec::new(), ..Job::clone(self.session.job()) };
                if let Some(name) = name.filter(|name| !job.catalogs.contains(name)) {
                    job.catalogs.push(name);
                    self.edit(Edit::Settings { job: Box::new(job), field: "catalogues".into() });
                }
                self.session.market = std::sync::Arc::new(market);
                self.session.rejected = rejected;
                notes.into_iter().for_each(|note| self.session.say(note));
                let count = self.session.market.catalog().len();
                self.session.say(format!("{count} parts are at hand now."));
                // Part numbers keep, but their places in the catalogue do not.
                self.session.selection.pinned.clear();
                self.session.selection.candidate = None;
                self.session.candidates = None;
                self.session.snapshot = std::sync::Arc::default();
                self.asked_for = None;
                self.forget_parts();
            }
            Err(error) => self.session.say(error),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_files_below_the_folder_of_the_job_are_inside() {
        let folder = tempfile::tempdir().unwrap();
        let (job, photo) = (folder.path().join("a/job.json"), folder.path().join("a/b/photo.png"));
        std::fs::create_dir_all(photo.parent().unwrap()).unwrap();
        for path in [&job, &photo, &folder.path().join("secret.png")] {
            std::fs::write(path, "x").unwrap();
        }
        assert_eq!(inside(&job, &photo).as_deref(), Some("b/photo.png"));
        assert_eq!(inside(&job, &folder.path().join("a/../secret.png")), None);
    }
}
