//! Other parts and test points of the board and the unit, one at a time; the types of units.

use egui::{Button, CollapsingHeader, ComboBox, Ui};

use crate::app::actions::{Action, LiveScene};
use crate::app::state::edit::Edit;
use crate::app::state::scene::Scene;
use crate::app::widgets::asked::change_job;
use crate::app::widgets::entry::Widths;
use crate::app::widgets::field::{self, Look, Owners};
use crate::app::widgets::{choice, explain, named, theme};
use crate::domain::schema::{Field, OTHER_PART, Section, TEST_POINT, UNIT_TYPE};
use crate::domain::{Board, Extra, Job, OtherId, OtherKind, OtherOriginal, OtherPart, Outcome, TestPoint, UnitType};
use crate::files::entry::show as entered;
use crate::sizing::other_parts::{lasts, warnings};

/// One of the two lists.
struct Kind<T: 'static> {
    /// What one is called.
    one: &'static str,
    fields: &'static [Field<T>],
    of_board: fn(&mut Board) -> &mut Vec<T>,
    of_job: fn(&mut Job) -> &mut Vec<T>,
    reference: fn(&mut T) -> &mut String,
    select: fn(OtherId) -> Action,
    /// Whether a field belongs to what kind of part one is.
    shows: fn(&Field<T>, &T) -> bool,
}

const PARTS: Kind<OtherPart> = Kind {
    one: "other part",
    fields: OTHER_PART,
    of_board: |board| &mut board.other_parts,
    of_job: |job| &mut job.other_parts,
    reference: |part| &mut part.reference,
    select: Action::SelectOther,
    shows: |field, part| {
        let other = part.kind.is_some_and(|kind| kind != OtherKind::Relay);
        !(other && of_relays(field)) || entered(field, part).is_some()
    },
};

const POINTS: Kind<TestPoint> = Kind {
    one: "test point",
    fields: TEST_POINT,
    of_board: |board| &mut board.test_points,
    of_job: |job| &mut job.test_points,
    reference: |point| &mut point.reference,
    select: Action::SelectTestPoint,
    shows: |_, _| true,
};

/// Only relays have it; on another part it is shown where it is filled in.
fn of_relays(field: &Field<OtherPart>) -> bool {
    let contacts = ["coil_", "contact", ".load_"];
    field.section == Section::Needs || contacts.iter().any(|name| field.path.contains(name))
}

/// Sections of a part below the first, their names, and whether they are open at first.
const SECTIONS: [(Section, &str, bool); 6] = [
    (Section::OriginalPart, "Original part", true),
    (Section::Offer, "Replacement", true),
    (Section::Needs, "Relay that goes in", false),
    (Section::Stress, "Use and own interval", true),
    (Section::Location, "Where it sits", false),
    (Section::Measured, "Measured, note", false),
];

/// Draws both lists, first the one of which something was chosen.
pub(super) fn show(ui: &mut Ui, scene: &LiveScene) {
    let mut lists = [other_parts, test_points];
    if scene.selection.test_point.is_some() {
        lists.reverse();
    }
    for list in lists {
        list(ui, scene);
        ui.add_space(8.0);
    }
}

/// Whether it is on the board at hand, or on none.
fn is_here(scene: &Scene, id: OtherId) -> bool {
    id.board.is_none_or(|at| at == scene.selection.board)
}

fn other_parts(ui: &mut Ui, scene: &LiveScene) {
    let job = scene.job;
    explain::heading(ui, "Other parts", "board.other_parts");
    let parts: Vec<(OtherId, &OtherPart)> = job.all_other_parts().filter(|&(id, _)| is_here(scene, id)).collect();
    let described = |part: &OtherPart| format!("{}, {}", part.reference, part.kind_word());
    if let Some((id, part)) = list(ui, scene, &PARTS, (&parts, scene.selection.other), described) {
        fields(ui, scene, &PARTS, (id, part, Section::Identity));
        for told in warnings(part) {
            ui.colored_label(theme::tokens(ui).outcome(Outcome::Marginal).ink, format!("Caution: {told}."));
        }
        if let Some(told) = lasts(part) {
            ui.label(format!("It {told}."));
        }
        same_for_all(ui, job, (id, part), scene);
        let shown = |section| OTHER_PART.iter().any(|field| field.section == section && (PARTS.shows)(field, part));
        for (section, name, open) in SECTIONS.into_iter().filter(|(section, ..)| shown(*section)) {
            CollapsingHeader::new(name).id_salt(("other part", name)).default_open(open).show(ui, |ui| {
                fields(ui, scene, &PARTS, (id, part, section));
                if section == Section::Needs {
                    same_ratings(ui, scene.job, (id, part), scene);
                }
            });
        }
    }
}

fn test_points(ui: &mut Ui, scene: &LiveScene) {
    explain::heading(ui, "Test points", "board.test_points");
    let points = scene.job.all_test_points().filter(|&(id, _)| is_here(scene, id));
    let points: Vec<(OtherId, &TestPoint)> = points.collect();
    let described = |point: &TestPoint| point.reference.clone();
    if let Some((id, point)) = list(ui, scene, &POINTS, (&points, scene.selection.test_point), described) {
        for section in [Section::Identity, Section::Measured, Section::Location] {
            fields(ui, scene, &POINTS, (id, point, section));
        }
        if point.is_right() == Some(false) {
            ui.colored_label(theme::tokens(ui).outcome(Outcome::Fail).ink, "Found outside the expected range.");
        }
    }
}

/// What was entered of one of several alike is entered once: all that have its part number on the board take it over.
fn same_for_all(ui: &mut Ui, job: &Job, (id, part): (OtherId, &OtherPart), scene: &LiveScene) {
    let number = part.own_number();
    let like = |(at, known): &(OtherId, &OtherPart)| {
        *at != id && at.board == id.board && number.is_some() && known.own_number() == number
    };
    let alike: Vec<(OtherId, &OtherPart)> = job.all_other_parts().filter(like).collect();
    if alike.is_empty() {
        return;
    }
    let names: Vec<&str> = alike.iter().map(|(_, known)| known.reference.as_str()).collect();
    let hover = "Original, replacement, use and interval of those with the same part number become these.";
    if ui.button(format!("Same for {}", names.join(", "))).on_hover_text(hover).clicked() {
        let what = format!("what is like {}", part.reference);
        scene.push(change(job, &PARTS, id.board, &what, |list| {
            for (at, known) in alike {
                list[at.index] = OtherPart {
                    kind: part.kind,
                    why: part.why,
                    interval_years: part.interval_years,
                    interval_operations: part.interval_operations,
                    operations_per_year: part.operations_per_year,
                    load_a: part.load_a,
                    load_v: part.load_v,
                    original: part.original.clone(),
                    replacement: part.replacement.clone(),
                    ..known.clone()
                };
            }
        }));
        scene.push(Action::EndEntry);
    }
}

/// Where the new relay has the ratings of the old one they are typed once.
fn same_ratings(ui: &mut Ui, job: &Job, (id, part): (OtherId, &OtherPart), scene: &LiveScene) {
    let old = part.original.clone();
    let rated = OtherOriginal { label: None, extra: Extra::new(), ..old.clone() } != OtherOriginal::default();
    let button = ui.add_enabled(rated, Button::new("Same ratings as the original"));
    if button.on_hover_text("Coil and contacts as entered above, once its data sheet says so.").clicked() {
        scene.push(change(job, &PARTS, id.board, &format!("ratings of {}", part.reference), |list| {
            if let Some(part) = list.get_mut(id.index) {
                let new = &mut part.replacement;
                (new.coil_v, new.coil_ohm, new.contacts) = (old.coil_v, old.coil_ohm, old.contacts);
                (new.contact_a, new.contact_v) = (old.contact_a, old.contact_v);
            }
        }));
        scene.push(Action::EndEntry);
    }
}

/// Changes the list that has `board`.
fn change<T>(job: &Job, kind: &Kind<T>, board: Option<usize>, what: &str, set: impl FnOnce(&mut Vec<T>)) -> Action {
    Action::Edit(match board.and_then(|at| Some((at, job.boards.get(at)?))) {
        Some((at, board)) => Edit::board(at, board, what, |board| set((kind.of_board)(board))),
        None => Edit::settings(job, what, |job| set((kind.of_job)(job))),
    })
}

/// Which one is shown, with the buttons that add and remove; returns it.
fn list<'a, T: Clone + Default>(
    ui: &mut Ui,
    scene: &LiveScene,
    kind: &Kind<T>,
    (all, selected): (&[(OtherId, &'a T)], Option<OtherId>),
    described: impl Fn(&T) -> String,
) -> Option<(OtherId, &'a T)> {
    let (job, one) = (scene.job, kind.one);
    let shown = all.iter().find(|(id, _)| Some(*id) == selected).or_else(|| all.first()).copied();
    if all.is_empty() {
        ui.label("None yet on this board or in the unit.");
    }
    ui.horizontal_wrapped(|ui| {
        if let Some((at, item)) = shown {
            let text = described(item);
            let combo = ComboBox::from_id_salt(one).width(170.0).selected_text(text);
            let name = |id: OtherId, item: &T| match id.board {
                Some(_) => described(item),
                None => format!("{} (unit)", described(item)),
            };
            let (response, chosen) = choice(ui, combo, all.iter().map(|(id, item)| (*id, *id == at, name(*id, item))));
            named(response, format!("Which {one}"));
            scene.extend(chosen.map(kind.select));
        }
        let board = (!job.boards.is_empty()).then_some(scene.selection.board);
        for (to, place) in [(board, "to the board"), (None, "to the unit")] {
            if to.is_none() && place == "to the board" {
                continue;
            }
            if ui.button(format!("Add {one} {place}")).clicked() {
                let index = all.iter().filter(|(id, _)| id.board == to).count();
                let mut new = T::default();
                *(kind.reference)(&mut new) = format!("new {}", index + 1);
                scene.push(change(job, kind, to, &format!("add {one}"), |list| list.push(new)));
                scene.push(Action::EndEntry);
                scene.push((kind.select)(OtherId { board: to, index }));
            }
        }
        if let Some((id, _)) = shown
            && ui.button(format!("Remove {one}")).clicked()
        {
            scene.push(change(job, kind, id.board, &format!("remove {one}"), |list| drop(list.remove(id.index))));
            scene.push(Action::EndEntry);
        }
    });
    shown
}

fn fields<T: Clone + Default>(
    ui: &mut Ui,
    scene: &LiveScene,
    kind: &Kind<T>,
    (id, item, section): (OtherId, &T, Section),
) {
    let set = |name: &str, set: &dyn Fn(&mut T)| {
        let what = format!("{name} of {} {}", kind.one, id.index + 1);
        scene.push(change(scene.job, kind, id.board, &what, |list| list.get_mut(id.index).into_iter().for_each(set)));
    };
    let owners = Owners { of: &[item], ..Owners::plain(&set) };
    for field in kind.fields.iter().filter(|field| field.section == section && (kind.shows)(field, item)) {
        field::show(ui, field, &Look::of(field), &owners, scene);
    }
}

pub(super) fn unit_types(ui: &mut Ui, job: &Job, scene: &LiveScene) {
    ui.add_space(8.0);
    explain::heading(ui, "Types of units", "job.unit_types");
    if job.unit_types.is_empty() {
        ui.label("All units have every board.");
    }
    let mut remove = None;
    for (at, of) in job.unit_types.iter().enumerate() {
        let set = |name: &str, set: &dyn Fn(&mut UnitType)| {
            let what = format!("{name} of type {}", at + 1);
            change_job(scene, &what, |job| job.unit_types.get_mut(at).into_iter().for_each(set));
        };
        let owners = Owners { of: &[of], ..Owners::plain(&set) };
        for field in UNIT_TYPE {
            let (label, key) = (format!("{}, {}", field.label, at + 1), format!("{} {at}", field.path));
            let look = Look { key: &key, label: Some(&label), widths: Widths::EDITOR };
            field::show(ui, field, &look, &owners, scene);
        }
        ui.horizontal_wrapped(|ui| {
            for board in &job.boards {
                let mut on = of.copies_in_one(board) > 0.0;
                let mark = ui.checkbox(&mut on, board.name.as_str());
                if named(mark, format!("{} in units of type {}", board.name, at + 1)).changed() {
                    set("boards", &|of| {
                        of.boards.retain(|name| name.trim() != board.name.trim());
                        if on {
                            of.boards.push(board.name.clone());
                        }
                    });
                }
            }
            if ui.button(format!("Remove type {}", at + 1)).clicked() {
                remove = Some(at);
            }
        });
    }
    let add =
        ui.button("Add a type of unit").on_hover_text("Units that have other boards, such as a second generation.");
    if add.clicked() {
        let new = UnitType { name: format!("Type {}", job.unit_types.len() + 1), ..job.unit_types_or_one().remove(0) };
        change_job(scene, "add a type of unit", |job| job.unit_types.push(new));
    }
    if let Some(at) = remove {
        change_job(scene, "remove a type of unit", |job| drop(job.unit_types.remove(at)));
        scene.drafts.borrow_mut().clear();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_field_of_another_part_is_shown() {
        for field in OTHER_PART {
            let shown = field.section == Section::Identity || SECTIONS.iter().any(|(of, ..)| *of == field.section);
            assert!(shown, "{}", field.path);
        }
    }
}
