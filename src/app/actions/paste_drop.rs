//! What comes from outside: rows pasted from a spreadsheet, files dropped on the window, recent files.

use std::path::PathBuf;

use egui::{self, Context, Event};

use crate::app::Window;
use crate::app::actions::action::Action;
use crate::app::actions::command::Command;
use crate::app::actions::refusal::refusal;
use crate::app::shell::sheet::Sheet;
use crate::app::state::edit::Edit;
use crate::app::state::selection::View;
use crate::app::views::life;
use crate::app::widgets::explain;
use crate::domain::{Board, Job};
use crate::files::paste;

/// Rows pasted and files dropped in this frame. Text pasted while a field has the keyboard is the field's.
pub(crate) fn arrived(ctx: &Context) -> Vec<Action> {
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
pub(crate) fn show_hovering(ctx: &Context) {
    if ctx.input(|input| input.raw.hovered_files.is_empty()) {
        return;
    }
    egui::Modal::new(egui::Id::unique("dropping")).show(ctx, |ui| {
        ui.heading("Drop it here");
        ui.label(
            "A job (*.json) is opened, a catalogue or a list of offers (*.csv) is added, any other list is opened in Import, a photo (*.png, *.jpg) is laid under the board. In the life place a table is read as an oscilloscope record or a temperature log.",
        );
    });
}

/// A field as the editor names it.
fn named(field: &str) -> String {
    explain::of(field).map_or(field, |explained| explained.label).to_lowercase()
}

impl Window {
    /// Puts pasted rows into the board at hand, as one step; what was refused is listed.
    pub(crate) fn paste(&mut self, text: &str) {
        let session = &mut self.session;
        let at = session.selection.board;
        let mut job = Job::clone(session.job());
        if job.boards.is_empty() {
            job.boards.push(Board { name: "Board 1".into(), ..Board::default() });
        }
        let Some(board) = job.boards.get_mut(at) else { return };
        if session.selection.view == View::Import {
            return self.places.import.open_text(text);
        }
        let pasted = match paste::paste(text, board) {
            Ok(pasted) => pasted,
            Err(error) => return session.say(format!("Nothing was pasted: {error}.")),
        };
        // A table with columns of another kind is somebody's list, not rows for the editor.
        let unclear = |refused: &paste::Refused| refused.reason.starts_with("it is not clear");
        let fits = pasted.added + pasted.changed > 0 && !pasted.refused.iter().any(unclear);
        if !fits && text.trim_end().lines().count() > 1 {
            session.selection.view = View::Import;
            session.say("The pasted table is not one of positions as the editor has them; it is open in Import.");
            return self.places.import.open_text(text);
        }
        let name = board.name.clone();
        *board = pasted.board;
        for refused in &pasted.refused {
            session.say(format!(
                "Not pasted: line {}, {}: \"{}\": {}.",
                refused.line, refused.column, refused.value, refused.reason
            ));
        }
        let columns: Vec<String> =
            pasted.columns.iter().map(|(header, field)| format!("{header} as {}", named(field))).collect();
        let (added, changed) = (pasted.added, pasted.changed);
        let refused = match pasted.refused.len() {
            0 => String::new(),
            1 => "; 1 cell or row refused".to_owned(),
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
    pub(crate) fn take_file(&mut self, ctx: &Context, path: PathBuf) {
        let kind = path.extension().map(|kind| kind.to_string_lossy().to_lowercase()).unwrap_or_default();
        match kind.as_str() {
            "json" if crate::app::actions::import::is_mapping(&path) => self.read_mapping(&path),
            "json" => {
                self.opening = Some(path);
                self.dispatch(ctx, Action::Run(Command::Open));
            }
            "csv" | "tsv" | "txt" if self.session.selection.view == View::Life => {
                self.read_into_life(path, life::Reading::either);
            }
            "csv" | "tsv" | "txt" if crate::app::actions::purchase::is_list_of_offers(&path) => self.add_offers(&path),
            "png" | "jpg" | "jpeg" => match refusal(&self.session, Command::UsePhoto) {
                Some(reason) => self.session.say(reason),
                None => self.use_photo(&path),
            },
            // Kinds of files that are no tables, and not worth a look.
            "pdf" | "dwg" | "dxf" | "zip" | "exe" | "svg" | "gif" | "bmp" | "html" | "step" | "stp" => {
                self.session.say(format!(
                    "{}: expected a job (*.json), a list (*.csv, *.txt, *.xlsx, *.ods ...) or a photo (*.png, *.jpg).",
                    path.display()
                ));
            }
            _ if crate::app::actions::import::is_catalogue(&path) => self.add_catalogue(path),
            _ => self.open_list(path),
        }
    }
}
