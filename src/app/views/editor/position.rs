//! The fields of one position, or of several at once: what is typed then goes into all of them, and nothing else changes.

use egui::{CollapsingHeader, Ui};

use crate::app::actions::action::Action;
use crate::app::state::edit::Edit;
use crate::app::state::scene::Scene;
use crate::app::views::editor::lists;
use crate::app::widgets::entry::{self, Basis, Drafts, Entry};
use crate::app::widgets::field::{self, Look, Owners};
use crate::app::widgets::{explain, theme};
use crate::domain::schema::{self, About, Field, Kind, Section, contradictions, spoken};
use crate::domain::{Mounting, Position, PositionId};
use crate::files;
use crate::sizing::{DefaultValue, default_value};

/// Sections below the first, their names, and whether they are open at first.
const SECTIONS: [(Section, &str, bool); 7] = [
    (Section::OriginalPart, "Original part", true),
    (Section::Stress, "Stress", true),
    (Section::Needs, "Needs of the circuit", false),
    (Section::Space, "Room", false),
    (Section::Measured, "Measured on the old part", false),
    (Section::Location, "Where it sits", false),
    (Section::DataSheet, "Data sheet of the original", false),
];

/// The selected positions, ready to be changed together.
pub(super) struct Selected<'a> {
    scene: &'a Scene<'a>,
    positions: Vec<(PositionId, &'a Position)>,
}

impl Selected<'_> {
    /// The value they share; `None` where they differ.
    pub(super) fn shared<T: PartialEq>(&self, mut of: impl FnMut(&Position) -> T) -> Option<T> {
        let mut values = self.positions.iter().map(|(_, position)| of(position));
        let first = values.next()?;
        values.all(|value| value == first).then_some(first)
    }

    /// Changes a field in all of them; undo names it.
    pub(super) fn change(&self, field: &str, out: &mut Vec<Action>, set: impl Fn(&mut Position)) {
        let changed = self.positions.iter().map(|(id, position)| {
            let mut position = Position::clone(position);
            set(&mut position);
            (*id, position)
        });
        out.push(Action::Edit(Edit::Positions { changed: changed.collect(), field: field.to_owned() }));
    }

    /// What counts where nothing is entered.
    fn derived(&self, about: &About) -> Basis {
        let defaults =
            self.positions.iter().map(|(id, _)| default_value(self.scene.job, self.scene.catalog, *id, about.path));
        let mut defaults: Vec<_> = defaults.collect();
        defaults.dedup();
        match defaults.as_slice() {
            [Some(DefaultValue::Figure(value))] => {
                let value = (value * 1e4).round() / 1e4;
                Basis::Assumed(match about.kind {
                    Kind::Number(unit, _) => files::entry::print(unit, value),
                    _ => value.to_string(),
                })
            }
            [Some(DefaultValue::Words(words))] => Basis::Assumed((*words).to_owned()),
            [None] => Basis::Unknown,
            _ => Basis::Assumed("by position".to_owned()),
        }
    }

    /// What contradicts an entry of one of them.
    fn remark(&self, about: &About) -> Option<String> {
        let of = |position: &Position| contradictions(position).into_iter().find(|(path, _)| *path == about.path);
        self.positions.iter().find_map(|(_, position)| of(position)).map(|(_, words)| words)
    }
}

/// Draws the fields.
pub(super) fn show(ui: &mut Ui, scene: &Scene, ids: &[PositionId], drafts: &mut Drafts, out: &mut Vec<Action>) {
    let positions = ids.iter().filter_map(|&id| Some((id, scene.job.position(id)?)));
    let selected = Selected { scene, positions: positions.collect() };
    match selected.positions.as_slice() {
        [] => {
            ui.label("No position is selected. Add one, or paste rows from a spreadsheet.");
            return;
        }
        [_] => {}
        several => {
            let names: Vec<&str> = several.iter().map(|(_, position)| position.reference.as_str()).collect();
            ui.strong(format!("{} positions at once", names.len()));
            ui.label(names.join(", "));
            ui.label("What is entered goes into all of them; other fields stay as they are.");
        }
    }
    section(ui, &selected, Section::Identity, drafts, out);
    for (of, name, open) in SECTIONS {
        let shown = CollapsingHeader::new(name).default_open(open).show(ui, |ui| {
            section(ui, &selected, of, drafts, out);
        });
        explain::on(shown.header_response, &name.to_lowercase());
    }
}

fn section(ui: &mut Ui, selected: &Selected, of: Section, drafts: &mut Drafts, out: &mut Vec<Action>) {
    for field in schema::of_position().filter(|field| field.section == of) {
        show_field(ui, selected, field, drafts, out);
    }
}

fn show_field(ui: &mut Ui, selected: &Selected, field: &Field<Position>, drafts: &mut Drafts, out: &mut Vec<Action>) {
    match field.path {
        "ref" if selected.positions.len() > 1 => return,
        "ref" => return reference(ui, selected, field, drafts, out),
        "stress.ripple" => return lists::ripple(ui, selected, drafts, out),
        "stress.phases" => return lists::phases(ui, selected, drafts, out),
        "space.accepts" => return accepts(ui, selected, field, out),
        _ => {}
    }
    let of: Vec<&Position> = selected.positions.iter().map(|(_, position)| *position).collect();
    let owners = Owners {
        of: &of,
        derived: &|about| selected.derived(about),
        remark: &|about| selected.remark(about),
        change: &|name, out, set| selected.change(name, out, set),
    };
    field::show(ui, field, &Look::of(field), &owners, drafts, out);
    if field.path == "role" && of.iter().any(|position| position.role_assumed) {
        let hint = ui.colored_label(theme::tokens(ui).weak, "assumed by the import; choose it to confirm it");
        explain::on(hint, "role");
    }
}

fn reference(ui: &mut Ui, selected: &Selected, field: &Field<Position>, drafts: &mut Drafts, out: &mut Vec<Action>) {
    let text = selected.shared(|p| p.reference.clone()).unwrap_or_default();
    let entry = Entry { name: "ref", key: "ref", label: None, text, basis: Basis::Text, symbol: "" };
    let ids: Vec<PositionId> = selected.positions.iter().map(|(id, _)| *id).collect();
    entry::show(ui, drafts, &entry, out, |typed, out| {
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
        selected.change("reference", out, |p| wanted.clone_into(&mut p.reference));
        Ok(())
    });
}

fn accepts(ui: &mut Ui, selected: &Selected, field: &About, out: &mut Vec<Action>) {
    explain::on(ui.label(field.label), field.path);
    ui.horizontal_wrapped(|ui| {
        for &mounting in <Mounting as strum::VariantArray>::VARIANTS {
            let has = |p: &Position| p.space.accepts.as_ref().is_some_and(|all| all.contains(&mounting));
            let mut on = selected.shared(has).unwrap_or(false);
            if ui.checkbox(&mut on, spoken(mounting.into())).changed() {
                selected.change("other mountings accepted", out, |p| {
                    let mut all = p.space.accepts.take().unwrap_or_default();
                    all.retain(|known| *known != mounting);
                    if on {
                        all.push(mounting);
                    }
                    p.space.accepts = (!all.is_empty()).then_some(all);
                });
                out.push(Action::EndEntry);
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
            let shown = field.section == Section::Identity || SECTIONS.iter().any(|(of, ..)| *of == field.section);
            assert!(shown || elsewhere.contains(&field.path), "{}", field.path);
        }
        assert!(SECTIONS.iter().all(|(_, name, _)| explain::of(&name.to_lowercase()).is_some()));
    }
}
