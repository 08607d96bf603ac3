//! The fields of the board at hand.

use egui::Ui;

use crate::app::actions::action::Action;
use crate::app::state::edit::Edit;
use crate::app::state::scene::Scene;
use crate::app::views::editor::entry::{self, Basis, Drafts, Entry};
use crate::app::views::editor::shapes;
use crate::app::widgets::explain;
use crate::app::widgets::wording;
use crate::domain::{Board, Bounds};
use crate::files::fields::{BOARD, OUTLINE};

/// Draws the fields.
pub(super) fn show(ui: &mut Ui, scene: &Scene, drafts: &mut Drafts, out: &mut Vec<Action>) {
    let at = scene.selection.board;
    let Some(board) = scene.board() else {
        ui.label("The job has no board yet. Add one.");
        return;
    };
    let change = |name: &str, out: &mut Vec<Action>, set: &dyn Fn(&mut Board)| {
        let mut board = board.clone();
        set(&mut board);
        let field = explain::of(name).map_or(name, |e| e.label).to_lowercase();
        out.push(Action::Edit(Edit::Board { at, board: Box::new(board), field }));
    };
    let entry = Entry {
        name: "board.name",
        key: "board.name",
        label: Some("Name of the board"),
        text: board.name.clone(),
        basis: Basis::Text,
        symbol: "",
    };
    entry::show(ui, drafts, &entry, out, |typed, out| {
        change("board.name", out, &|b| typed.trim().clone_into(&mut b.name));
        Ok(())
    });
    for field in BOARD {
        let (text, basis) = match *(field.slot)(&mut board.clone()) {
            Some(value) => (field.measure.print(value), Basis::Given),
            None if field.name == "board.per_unit" => (String::new(), Basis::Assumed("1".into())),
            None => (String::new(), Basis::Unknown),
        };
        let symbol = field.measure.symbol;
        let entry = Entry { name: field.name, key: field.name, label: None, text, basis, symbol };
        entry::show(ui, drafts, &entry, out, |typed, out| {
            let value = field.measure.read(typed, field.bounds)?;
            change(field.name, out, &|b| *(field.slot)(b) = value);
            Ok(())
        });
    }
    outline(ui, board, drafts, out, &change);
    photo(ui, board, drafts, out, &change);
    ui.add_space(6.0);
    shapes::show(ui, board, &change, out);
    ui.add_space(6.0);
    ui.label(format!("{} on this board.", wording::count(board.positions.len(), "position", "positions")));
}

fn outline(ui: &mut Ui, board: &Board, drafts: &mut Drafts, out: &mut Vec<Action>, change: shapes::Change) {
    for (axis, name, label) in
        [(0, "board.width_mm", "Width of the board"), (1, "board.height_mm", "Height of the board")]
    {
        let (text, basis) = match board.outline_mm {
            Some(outline) => (OUTLINE.print(outline[axis]), Basis::Given),
            None => (String::new(), Basis::Unknown),
        };
        let entry = Entry { name, key: name, label: Some(label), text, basis, symbol: "mm" };
        entry::show(ui, drafts, &entry, out, |typed, out| {
            let value = OUTLINE.read(typed, Bounds::Positive)?;
            change(name, out, &|b| {
                b.outline_mm = value.map(|value| {
                    let mut outline = b.outline_mm.unwrap_or([value, value]);
                    outline[axis] = value;
                    outline
                });
            });
            Ok(())
        });
    }
}

fn photo(ui: &mut Ui, board: &Board, drafts: &mut Drafts, out: &mut Vec<Action>, change: shapes::Change) {
    let text = board.photo.clone().unwrap_or_default();
    let entry = Entry { name: "board.photo", key: "board.photo", label: None, text, basis: Basis::Text, symbol: "" };
    entry::show(ui, drafts, &entry, out, |typed, out| {
        let photo = Some(typed.trim().to_owned()).filter(|name| !name.is_empty());
        if photo.as_deref().is_some_and(|name| name.contains("..") || std::path::Path::new(name).is_absolute()) {
            return Err("expected a file in the folder of the job".into());
        }
        change("board.photo", out, &|b| b.photo.clone_from(&photo));
        Ok(())
    });
}
