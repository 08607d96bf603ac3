//! Fields of positions to be filled in: in the editor, and in place where one of them is missing.

use std::cell::OnceCell;

use egui::{Ui, vec2};

use crate::app::actions::{Action, LiveScene};
use crate::app::state::Edit;
use crate::app::widgets::entry::{Basis, ROW, Widths};
use crate::app::widgets::{field, field::Look, field::Owners};
use crate::domain::schema::{self, About, Field, JOB, Kind, PHASE, RIPPLE_LINE, contradictions};
use crate::domain::{Job, Phase, Position, PositionId, RippleLine};
use crate::files;
use crate::sizing::{Contexts, DefaultValue, PositionContext, default_value, reasons::figure};

/// Where a field stands.
#[derive(Clone, Copy)]
pub(crate) struct Place<'a> {
    /// Tells it from the same field elsewhere on screen; empty in the editor.
    pub key: &'a str,
    pub widths: Widths,
}

impl Place<'_> {
    /// Tells the field at `path` from the same one elsewhere.
    fn key(&self, path: &str) -> String {
        if self.key.is_empty() { path.to_owned() } else { format!("{} {path}", self.key) }
    }
}

/// The selected positions, ready to be changed together.
pub(crate) struct Selected<'s, 'a> {
    pub(crate) scene: &'s LiveScene<'a>,
    pub(crate) positions: Vec<(PositionId, &'a Position)>,
    /// Each made ready, once a field is empty.
    places: OnceCell<Vec<PositionContext<'a>>>,
}

impl<'s, 'a> Selected<'s, 'a> {
    /// Those of `ids` that the job has.
    pub(crate) fn of(scene: &'s LiveScene<'a>, ids: &[PositionId]) -> Self {
        let positions = ids.iter().filter_map(|&id| Some((id, scene.job.position(id)?)));
        Self { scene, positions: positions.collect(), places: OnceCell::new() }
    }

    /// The value they share; `None` where they differ.
    pub(crate) fn shared<T: PartialEq>(&self, mut of: impl FnMut(&Position) -> T) -> Option<T> {
        let mut values = self.positions.iter().map(|(_, position)| of(position));
        let first = values.next()?;
        values.all(|value| value == first).then_some(first)
    }

    /// Changes a field in all of them; undo names it.
    pub(crate) fn change(&self, field: &str, set: impl Fn(&mut Position)) {
        let changed = self.positions.iter().map(|(id, position)| {
            let mut position = Position::clone(position);
            set(&mut position);
            (*id, position)
        });
        self.scene.push(Action::Edit(Edit::Positions { changed: changed.collect(), field: field.to_owned() }));
    }

    /// Each of them.
    pub(crate) fn all(&self) -> impl Iterator<Item = &Position> {
        self.positions.iter().map(|(_, position)| *position)
    }

    /// The largest number of something one of them has.
    fn most(&self, of: impl Fn(&Position) -> usize) -> usize {
        self.all().map(of).max().unwrap_or_default()
    }

    /// What counts where nothing is entered.
    fn derived(&self, about: &About) -> Basis {
        /// Of more positions nobody reads what each of them assumes, and finding it out would hold up the window.
        const COMPARED_MAX: usize = 16;
        if self.positions.len() > COMPARED_MAX {
            return Basis::Several;
        }
        let places = self.places.get_or_init(|| match (self.positions.as_slice(), self.scene.place()) {
            ([(id, _)], Some(place)) if self.scene.selection.position == Some(*id) => vec![place.clone()],
            (positions, _) => {
                let all = Contexts::new(self.scene.job, self.scene.catalog);
                positions.iter().filter_map(|(id, _)| all.at(*id)).collect()
            }
        });
        let mut defaults: Vec<_> = places.iter().map(|place| default_value(place, about.path)).collect();
        defaults.dedup();
        match defaults.as_slice() {
            [Some(DefaultValue::Figure(value))] => {
                let value = (value * 1e4).round() / 1e4;
                let words = match about.kind {
                    Kind::Number(unit, _) => files::entry::print(unit, value),
                    _ => value.to_string(),
                };
                // The ambient is said, if only once for the whole board or job.
                if about.path == "stress.phases.ambient_c" { Basis::Inherited(words) } else { Basis::Assumed(words) }
            }
            [Some(DefaultValue::Words(words))] => Basis::Assumed((*words).to_owned()),
            [None] => Basis::Unknown,
            _ => Basis::Several,
        }
    }

    /// What contradicts an entry of one of them.
    fn remark(&self, about: &About) -> Option<String> {
        let of = |position: &Position| contradictions(position).into_iter().find(|(path, _)| *path == about.path);
        self.positions.iter().find_map(|(_, position)| of(position)).map(|(_, words)| words)
    }
}

/// Changes the job's own figures as one step; undo names the field.
pub(crate) fn change_job(scene: &LiveScene, field: &str, set: impl FnOnce(&mut Job)) {
    scene.push(Action::Edit(Edit::settings(scene.job, field, set)));
    scene.push(Action::EndEntry);
}

/// Draws a field of the positions.
pub(crate) fn show(ui: &mut Ui, selected: &Selected, field: &Field<Position>, place: Place) {
    match field.path {
        "stress.ripple" => return ripple(ui, selected, place),
        "stress.phases" => return ambient(ui, selected, place),
        _ => {}
    }
    let owners = Owners {
        of: &selected.all().collect::<Vec<_>>(),
        derived: &|about| selected.derived(about),
        remark: &|about| selected.remark(about),
        change: &|name, set| selected.change(name, set),
    };
    let look = Look { key: &place.key(field.path), label: None, widths: place.widths };
    field::show(ui, field, &look, &owners, selected.scene);
}

/// Draws the field at a path: of the position, or of the job.
pub(crate) fn at(ui: &mut Ui, scene: &LiveScene, id: PositionId, path: &str, place: Place) {
    if let Some(field) = schema::of_position().find(|field| field.path == path) {
        return show(ui, &Selected::of(scene, &[id]), field, place);
    }
    let Some(field) = JOB.iter().find(|field| field.path == path) else { return };
    let job = scene.job;
    let change = |name: &str, set: &dyn Fn(&mut Job)| change_job(scene, name, set);
    let owners = Owners { of: &[job], ..Owners::plain(&change) };
    let look = Look { key: &place.key(path), label: None, widths: place.widths };
    field::show(ui, field, &look, &owners, scene);
}

/// The ripple as it is asked at the bench: one line. A spectrum is told here and changed under Stress.
fn ripple(ui: &mut Ui, selected: &Selected, place: Place) {
    let lines = |p: &Position| p.stress.ripple.as_ref().map_or(0, Vec::len);
    if selected.most(lines) > 1 {
        let rms_a =
            |p: &Position| p.stress.ripple.iter().flatten().filter_map(|line| line.a).map(|a| a * a).sum::<f64>();
        let rms_a = selected.shared(rms_a).map_or("several values".to_owned(), |a| format!("{} A", figure(a.sqrt())));
        return told(ui, 2, &format!("Several lines, {rms_a} in all: see Stress."));
    }
    // An empty list says that there is none.
    let none = RippleLine { a: Some(0.0), ..RippleLine::default() };
    let line = |p: &Position| {
        p.stress.ripple.as_ref().map_or(RippleLine::default(), |lines| lines.first().unwrap_or(&none).clone())
    };
    let set = |p: &mut Position, line: RippleLine| {
        p.stress.ripple = match line.a {
            Some(0.0) => Some(Vec::new()),
            _ => (line != RippleLine::default()).then(|| vec![line]),
        }
    };
    first(ui, selected, RIPPLE_LINE, &["stress.ripple.a", "stress.ripple.hz"], (&line, &set), place);
}

/// The ambient as it is asked at the bench: one phase. A profile is told here and changed under Stress.
fn ambient(ui: &mut Ui, selected: &Selected, place: Place) {
    if selected.most(|p| p.stress.phases.as_ref().map_or(0, Vec::len)) > 1 {
        return told(ui, 1, "Several phases of its own: see Stress.");
    }
    let phase = |p: &Position| p.stress.phases.iter().flatten().next().cloned().unwrap_or_default();
    let set = |p: &mut Position, phase: Phase| {
        let phase = Phase { share: phase.share.or(Some(1.0)), ..phase };
        p.stress.phases = phase.ambient_c.is_some().then(|| vec![phase]);
    };
    first(ui, selected, PHASE, &["stress.phases.ambient_c"], (&phase, &set), place);
}

/// As many rows as the fields that would stand here otherwise take.
fn told(ui: &mut Ui, rows: u8, words: &str) {
    let height = f32::from(rows) * ROW + f32::from(rows - 1) * ui.spacing().item_spacing.y;
    ui.allocate_ui(vec2(ui.available_width(), height), |ui| {
        ui.set_min_height(height);
        ui.label(words);
    });
}

/// How the first of a list is read from a position and set in it.
type First<'a, T> = (&'a dyn Fn(&Position) -> T, &'a dyn Fn(&mut Position, T));

/// Draws fields of the first entry of a list.
fn first<T: Clone + Default>(
    ui: &mut Ui,
    selected: &Selected,
    fields: &'static [Field<T>],
    paths: &[&str],
    (get, set): First<T>,
    place: Place,
) {
    let first: Vec<T> = selected.all().map(get).collect();
    let change = |name: &str, change: &dyn Fn(&mut T)| {
        selected.change(name, |p| {
            let mut new = get(p);
            change(&mut new);
            set(p, new);
        });
    };
    let derived = |about: &About| selected.derived(about);
    let owners =
        Owners { of: &first.iter().collect::<Vec<_>>(), derived: &derived, remark: &field::no_remark, change: &change };
    for path in paths {
        let Some(field) = fields.iter().find(|field| field.path == *path) else { continue };
        let look = Look { key: &place.key(path), label: None, widths: place.widths };
        field::show(ui, field, &look, &owners, selected.scene);
    }
}
