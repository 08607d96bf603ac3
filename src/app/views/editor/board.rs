//! The fields of the selected board.

use egui::Ui;

use crate::app::actions::{Action, LiveScene};
use crate::app::state::edit::Edit;
use crate::app::views::editor::{lists, shapes};
use crate::app::widgets::entry::{self, Basis, Entry};
use crate::app::widgets::field::{self, Change, Look, Owners};
use crate::app::widgets::wording;
use crate::domain::schema::{BOARD, Kind, Section};
use crate::domain::{Board, Phase, Unit};
use crate::files;

/// Draws the fields.
pub(super) fn show(ui: &mut Ui, scene: &LiveScene) {
    let at = scene.selection.board;
    let Some(board) = scene.board() else {
        ui.label("The job has no board yet. Add one.");
        return;
    };
    let change = |field: &str, set: &dyn Fn(&mut Board)| {
        scene.push(Action::Edit(Edit::board(at, board, field, set)));
    };
    let owners = Owners { of: &[board], ..Owners::plain(&change) };
    for field in BOARD.iter().filter(|field| field.section == Section::Board) {
        match field.kind {
            Kind::Points(figures, _) => outline(ui, figures, board, scene, &change),
            _ if field.path == "board.name" => {
                let text = board.name.clone();
                let entry =
                    Entry { name: field.path, key: field.path, label: None, text, basis: Basis::Free, symbol: "" };
                entry::show(ui, &entry, scene, |typed| {
                    files::entry::enter(field, &mut Board::default(), typed)?;
                    // What is measured and fitted goes by the names of boards.
                    let mut others = scene.job.boards.iter().enumerate().filter(|(other, _)| *other != at);
                    if others.any(|(_, other)| other.name.trim() == typed.trim()) {
                        return Err(format!("another board is called {} already", typed.trim()));
                    }
                    change("name", &|board| _ = files::entry::enter(field, board, typed));
                    Ok(())
                });
            }
            _ => field::show(ui, field, &Look::of(field), &owners, scene),
        }
    }
    let phases = board.conditions.phases.as_deref().unwrap_or_default();
    let set = |phases: Option<Vec<Phase>>| {
        change("load profile", &|board| board.conditions.phases.clone_from(&phases));
    };
    let none = "None of its own: that of the job counts.";
    lists::profile(ui, ("board.conditions.phases", none), phases, set, scene);
    ui.add_space(6.0);
    shapes::show(ui, board, &change, scene);
    ui.add_space(6.0);
    ui.label(format!("{} on this board.", wording::count(board.positions.len(), "position", "positions")));
}

/// Width and depth: what one of them is not known counts as the other.
fn outline(
    ui: &mut Ui,
    figures: &[(&'static str, crate::domain::Bounds)],
    board: &Board,
    scene: &LiveScene,
    change: Change<Board>,
) {
    for (axis, (label, bounds)) in figures.iter().enumerate() {
        let (text, basis) = match board.outline_mm {
            Some(outline) => (files::entry::print(Unit::Millimetre, outline[axis]), Basis::Free),
            None => (String::new(), Basis::Unknown),
        };
        let entry = Entry { name: "board.outline_mm", key: label, label: Some(label), text, basis, symbol: "mm" };
        entry::show(ui, &entry, scene, |typed| {
            let value = files::entry::read(Unit::Millimetre, *bounds, typed)?;
            change(&label.to_lowercase(), &|b| {
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
