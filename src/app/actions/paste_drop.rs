//! What comes from outside: rows pasted from a spreadsheet, files dropped on the window, recent files.

use std::path::Path;

use egui::{self, Context, Event};

use crate::app::actions::action::Action;
use crate::app::state::{Edit, Overlay, Session, View};
use crate::app::widgets::explain;
use crate::domain::{Board, Job};
use crate::files::{Rejected, Unused, bounded, offers, parts, paste};

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

/// Puts pasted rows into the board at hand, as one step; what was refused is listed.
/// `true`: it is somebody else's list and belongs into Import.
pub(crate) fn paste(session: &mut Session, text: &str) -> bool {
    let at = session.selection.board;
    let mut job = Job::clone(session.job());
    if job.boards.is_empty() {
        job.boards.push(Board { name: "Board 1".into(), ..Board::default() });
    }
    let Some(board) = job.boards.get_mut(at) else { return false };
    if session.selection.view == View::Import {
        return true;
    }
    let pasted = match paste::paste(text, board) {
        Ok(pasted) => pasted,
        Err(error) => {
            session.say(format!("Nothing was pasted: {error}."));
            return false;
        }
    };
    // A table with columns of another kind is somebody's list, not rows for the editor.
    let unclear = |refused: &Rejected| refused.unused == Unused::Unclear;
    let fits = pasted.added + pasted.changed > 0 && !pasted.refused.iter().any(unclear);
    if !fits && text.trim_end().lines().count() > 1 {
        session.selection.view = View::Import;
        session.say("The pasted table is not one of positions as the editor has them; it is open in Import.");
        return true;
    }
    let name = board.name.clone();
    *board = pasted.board;
    for refused in &pasted.refused {
        session.say(format!(
            "Not pasted: line {}, {}: \"{}\": {}.",
            refused.line, refused.field, refused.value, refused.reason
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
    session
        .say(format!("Pasted into {name}: {added} added, {changed} changed{refused}. Read: {}.", columns.join(", ")));
    if !pasted.refused.is_empty() {
        session.selection.overlay = Some(Overlay::Messages);
    }
    if added + changed > 0 {
        let what = format!("paste of {} rows", added + changed);
        session.edit(Edit::Whole { job: Box::new(job), what });
    }
    false
}

/// What a file from outside is, as far as its name and its beginning tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum FileKind {
    /// What the columns of a list mean.
    Mapping,
    Job,
    /// Measurements: in the life view a table is an oscilloscope record or a temperature log.
    Readings,
    /// Offers of a supplier.
    Offers,
    Photo,
    /// Nothing the program reads.
    Other,
    /// A component catalogue with canonical headers.
    Catalogue,
    /// Any other list.
    List,
}

/// What a file is, when it is brought while `view` is shown.
pub(crate) fn kind_of(path: &Path, view: View) -> FileKind {
    let kind = path.extension().map(|kind| kind.to_string_lossy().to_lowercase()).unwrap_or_default();
    match kind.as_str() {
        "json" if String::from_utf8_lossy(&bounded::beginning(path)).contains("\"refarad-mapping\"") => {
            FileKind::Mapping
        }
        "json" => FileKind::Job,
        "csv" | "tsv" | "txt" if view == View::Life => FileKind::Readings,
        "csv" | "tsv" | "txt" if is_offers(path) => FileKind::Offers,
        "png" | "jpg" | "jpeg" => FileKind::Photo,
        "dwg" | "dxf" | "zip" | "exe" | "svg" | "gif" | "bmp" | "html" | "step" | "stp" => FileKind::Other,
        _ if is_catalogue(path) => FileKind::Catalogue,
        _ => FileKind::List,
    }
}

/// Whether a file has the headers of a list of offers.
pub(crate) fn is_offers(path: &Path) -> bool {
    offers::is_list(&bounded::beginning(path))
}

/// Whether a file has the headers of a catalogue.
pub(crate) fn is_catalogue(path: &Path) -> bool {
    parts::is_canonical(&bounded::beginning(path))
}
