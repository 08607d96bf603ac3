//! The fields of one position, or of several at once: what is typed then goes into all of them, and nothing else changes.

use egui::{CollapsingHeader, Label, RichText, Ui};

use crate::app::actions::command::Command;
use crate::app::actions::{Action, LiveScene};
use crate::app::views::editor::lists;
use crate::app::widgets::asked::{self, Place, Selected};
use crate::app::widgets::entry::{self, Basis, Entry, ROW, Widths};
use crate::app::widgets::{self, explain};
use crate::domain::schema::{self, About, Field, Kind, Section, spoken};
use crate::domain::{Mounting, Position, PositionId};
use crate::files;

/// What is folded under the questions, by name.
const FOLDED: [(Section, &str); 8] = [
    (Section::OriginalPart, "Original part"),
    (Section::DataSheet, "Data sheet of the original"),
    (Section::Stress, "Stress"),
    (Section::Needs, "Needs of the circuit"),
    (Section::Space, "Room"),
    (Section::Measured, "Measured on the old part"),
    (Section::Location, "Where it sits"),
    (Section::Identity, "Name, groups and note"),
];

/// Draws the fields.
pub(super) fn show(ui: &mut Ui, scene: &LiveScene, ids: &[PositionId]) {
    let selected = Selected::of(scene, ids);
    if selected.positions.is_empty() {
        ui.label("No position is selected. Add one, or paste rows from a spreadsheet.");
        return;
    }
    ui.spacing_mut().item_spacing.y = 2.0;
    // One line for one or many, so that the fields stay where they are.
    ui.horizontal(|ui| {
        ui.set_height(ROW);
        let names: Vec<&str> = selected.all().map(|position| position.reference.as_str()).collect();
        ui.strong(match names.as_slice() {
            [one] => (*one).to_owned(),
            several => format!("{} positions at once", several.len()),
        });
        let words = if let [id] = ids { scene.needs(*id).unwrap_or_default() } else { names.join(", ") };
        let line = ui.add(Label::new(RichText::new(words).weak()).truncate());
        line.on_hover_text("What is entered goes into all selected positions; other fields stay as they are.");
    });
    for (question, words) in Section::QUESTIONS {
        ui.add_space(3.0);
        ui.label(RichText::new(words).weak().small());
        section(ui, &selected, question, scene);
    }
    ui.add_space(6.0);
    for (of, name) in FOLDED {
        let shown = CollapsingHeader::new(name).show(ui, |ui| {
            if of == Section::Measured && !scene.job.bench.is_empty() {
                return measured(ui, &selected, scene);
            }
            if of == Section::Stress {
                lists::ripple(ui, &selected, scene);
                lists::phases(ui, &selected, scene);
            }
            section(ui, &selected, of, scene);
        });
        explain::on(shown.header_response, &name.to_lowercase());
    }
}

/// While a unit is at the bench what is measured is entered there, and told here.
fn measured(ui: &mut Ui, selected: &Selected, scene: &LiveScene) {
    for field in schema::of_position().filter(|field| field.section == Section::Measured) {
        if let Some(Some(value)) = selected.shared(|position| files::entry::show(field, position)) {
            ui.label(format!("{}: {value}", field.label));
        }
    }
    widgets::button(ui, scene, Command::ShowBench);
}

fn section(ui: &mut Ui, selected: &Selected, of: Section, scene: &LiveScene) {
    let fields = || schema::of_position().filter(|field| field.section == of);
    // What is a list is the main thing; figures stand under it.
    let (lists, figures) =
        (|field: &&Field<Position>| field.kind == Kind::Rows, |field: &&Field<Position>| field.kind != Kind::Rows);
    for field in fields().filter(lists).chain(fields().filter(figures)) {
        show_field(ui, selected, field, scene);
    }
}

fn show_field(ui: &mut Ui, selected: &Selected, field: &Field<Position>, scene: &LiveScene) {
    match field.path {
        "ref" if selected.positions.len() > 1 => return,
        "ref" => return reference(ui, selected, field, scene),
        "space.accepts" => return accepts(ui, selected, field, scene),
        _ => {}
    }
    asked::show(ui, selected, field, Place { key: "", widths: Widths::EDITOR });
    if field.path == "role" && selected.all().any(|position| position.role_assumed) {
        let hint = ui.weak("assumed by the import; choose it to confirm it");
        explain::on(hint, "role");
    }
}

fn reference(ui: &mut Ui, selected: &Selected, field: &Field<Position>, scene: &LiveScene) {
    let text = selected.shared(|p| p.reference.clone()).unwrap_or_default();
    let entry = Entry { name: "ref", key: "ref", label: None, text, basis: Basis::Free, symbol: "" };
    let ids: Vec<PositionId> = selected.positions.iter().map(|(id, _)| *id).collect();
    entry::show(ui, &entry, scene, |typed| {
        let wanted = typed.trim();
        if wanted.is_empty() {
            return Err("a position needs a name, such as C12".into());
        }
        files::entry::enter(field, &mut Position::default(), wanted)?;
        let same = |(id, other): (PositionId, &Position)| {
            !ids.contains(&id) && ids.iter().all(|own| own.board == id.board) && other.reference == wanted
        };
        if selected.scene.job.positions().any(same) {
            return Err(format!("{wanted} is on this board already"));
        }
        selected.change("reference", |p| wanted.clone_into(&mut p.reference));
        Ok(())
    });
}

fn accepts(ui: &mut Ui, selected: &Selected, field: &About, scene: &LiveScene) {
    explain::on(ui.label(field.label), field.path);
    ui.horizontal_wrapped(|ui| {
        for mounting in Mounting::ALL {
            let has = |p: &Position| p.space.accepts.as_ref().is_some_and(|all| all.contains(&mounting));
            let mut on = selected.shared(has).unwrap_or(false);
            if ui.checkbox(&mut on, spoken(mounting.into())).changed() {
                selected.change("other mountings accepted", |p| {
                    let mut all = p.space.accepts.take().unwrap_or_default();
                    all.retain(|known| *known != mounting);
                    if on {
                        all.push(mounting);
                    }
                    p.space.accepts = (!all.is_empty()).then_some(all);
                });
                scene.push(Action::EndEntry);
            }
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_field_of_a_position_is_shown_but_those_that_other_views_show() {
        let elsewhere = ["role_assumed", "pick", "stress.ripple_from", "original.read_from", "traced_from"];
        for field in schema::of_position() {
            let mut sections = Section::QUESTIONS.iter().chain(&FOLDED).map(|(of, _)| *of);
            let shown = sections.any(|of| of == field.section);
            assert!(shown || elsewhere.contains(&field.path), "{}", field.path);
        }
        assert!(FOLDED.iter().all(|(_, name)| explain::of(&name.to_lowercase()).is_some()));
    }
}
