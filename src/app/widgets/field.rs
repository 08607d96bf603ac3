//! A field of the schema to be seen and changed: its entry, list of words or mark, as the schema describes it.

use egui::{ComboBox, Ui};

use crate::app::actions::{Action, LiveScene};
use crate::app::widgets::entry::{self, Basis, Entry, Widths};
use crate::app::widgets::{choice, explain, named, theme};
use crate::domain::Outcome;
use crate::domain::schema::{About, Absent, Access, Bounds, Field, Kind, Text, spoken};
use crate::files::{entry::enter, entry::show as shown};

/// What is changed by a field, and how.
pub(crate) struct Owners<'a, T> {
    /// What the field belongs to; several are changed together.
    pub of: &'a [&'a T],
    /// What counts where nothing is entered and that is worked out.
    pub derived: &'a dyn Fn(&About) -> Basis,
    /// What contradicts the entry.
    pub remark: &'a dyn Fn(&About) -> Option<String>,
    /// Makes the change in all of them; the label names it for undo.
    pub change: Change<'a, T>,
}

impl<'a, T> Owners<'a, T> {
    /// Nobody yet; nothing is worked out for an empty field, and nothing contradicts.
    pub(crate) fn plain(change: Change<'a, T>) -> Self {
        Self { of: &[], derived: &|_| Basis::Unknown, remark: &no_remark, change }
    }
}

/// Makes a change; the label names it for undo.
pub(crate) type Change<'a, T> = &'a dyn Fn(&str, &dyn Fn(&mut T));

/// How a field is shown.
pub(crate) struct Look<'a> {
    /// Tells it from other fields on screen.
    pub key: &'a str,
    /// Its name on screen; that of the schema where `None`.
    pub label: Option<&'a str>,
    pub widths: Widths,
}

impl Look<'static> {
    pub(crate) fn of(about: &About) -> Self {
        Self { key: about.path, label: None, widths: Widths::EDITOR }
    }
}

pub(crate) fn no_remark(_: &About) -> Option<String> {
    None
}

/// The value that all owners share, shown; `Err` where they differ.
fn shared<T>(field: &Field<T>, owners: &Owners<T>) -> Result<Option<String>, ()> {
    let mut values = owners.of.iter().map(|owner| shown(field, owner));
    let first = values.next().flatten();
    if values.all(|value| value == first) { Ok(first) } else { Err(()) }
}

fn absent<T>(field: &Field<T>, owners: &Owners<T>) -> Basis {
    match field.absent {
        Absent::Unknown | Absent::UnknownBut(_) => (owners.derived)(field),
        Absent::Nothing(_) | Absent::Default => Basis::Free,
        Absent::Assumed(words) => Basis::Assumed(match field.kind {
            Kind::Number(unit, _) if words.parse::<f64>().is_ok() => {
                format!("{words} {}", unit.symbol()).trim_end().to_owned()
            }
            _ => words.to_owned(),
        }),
        Absent::Derived(how) => match (owners.derived)(field) {
            // What follows from something said is no guess.
            Basis::Assumed(what) if !how.contains("assumed") => Basis::Inherited(what),
            basis => basis,
        },
    }
}

/// Draws the field.
pub(crate) fn show<T: Default>(ui: &mut Ui, field: &Field<T>, look: &Look, owners: &Owners<T>, scene: &LiveScene) {
    match (field.access, field.kind) {
        (Access::Word(..), Kind::Word(words)) => word(ui, field, words, look.widths, owners, scene),
        (Access::Flag(get, set), _) => {
            ui.horizontal_wrapped(|ui| {
                let mut on = owners.of.iter().all(|owner| get(owner));
                if explain::on(ui.checkbox(&mut on, field.label), field.path).changed() {
                    (owners.change)(&field.label.to_lowercase(), &|owner| set(owner, on));
                    scene.push(Action::EndEntry);
                }
                back(ui, field, owners, scene);
            });
        }
        (Access::Special, _) => {}
        _ => typed(ui, field, look, owners, scene),
    }
    if let Some(remark) = (owners.remark)(field) {
        ui.colored_label(theme::tokens(ui).outcome(Outcome::Marginal).ink, format!("Contradiction: {remark}."));
    }
}

fn typed<T: Default>(ui: &mut Ui, field: &Field<T>, look: &Look, owners: &Owners<T>, scene: &LiveScene) {
    let (text, basis) = match shared(field, owners) {
        Err(()) => (String::new(), Basis::Several),
        Ok(Some(text)) => (text, Basis::Free),
        Ok(None) => (String::new(), absent(field, owners)),
    };
    let is_text = matches!(field.kind, Kind::Text(Text::Line | Text::Note));
    let basis = if is_text && basis == Basis::Unknown { Basis::Free } else { basis };
    let symbol = match field.kind {
        Kind::Number(unit, _) => unit.symbol(),
        Kind::Text(Text::Pairs(Bounds::Positive, Bounds::NotNegative)) => "1:0.52;10:0.40",
        Kind::Text(Text::Pairs(..)) => "85:1.7;65:2.1",
        _ => "",
    };
    let entry = Entry { name: field.path, key: look.key, label: look.label, text, basis, symbol };
    let draw = |ui: &mut Ui| {
        let widths = Widths { fills: look.widths.fills && field.absent != Absent::Default, ..look.widths };
        entry::show_sized(ui, &entry, widths, scene, |typed| {
            enter(field, &mut T::default(), typed)?;
            // What was refused would have been refused above.
            (owners.change)(&field.label.to_lowercase(), &|owner| _ = enter(field, owner, typed));
            Ok(())
        });
    };
    if field.absent == Absent::Default {
        ui.horizontal_wrapped(|ui| {
            draw(ui);
            back(ui, field, owners, scene);
        });
    } else {
        draw(ui);
    }
}

/// Says that a field with a default is at it, or offers the way back.
fn back<T: Default>(ui: &mut Ui, field: &Field<T>, owners: &Owners<T>, scene: &LiveScene) {
    if field.absent != Absent::Default {
        return;
    }
    let usual = shown(field, &T::default());
    if owners.of.iter().all(|owner| shown(field, owner) == usual) {
        ui.weak("default");
        return;
    }
    let reset = format!("Reset to {}", usual.as_deref().unwrap_or("no"));
    if ui.button(reset).on_hover_text(format!("{}: back to the default.", field.label)).clicked() {
        (owners.change)(&field.label.to_lowercase(), &|owner| {
            _ = enter(field, owner, usual.as_deref().unwrap_or_default());
        });
        scene.push(Action::EndEntry);
    }
}

/// One of a few words, or not known.
fn word<T>(
    ui: &mut Ui,
    field: &Field<T>,
    words: &[&'static str],
    widths: Widths,
    owners: &Owners<T>,
    scene: &LiveScene,
) {
    let Access::Word(_, set) = field.access else { return };
    let present = shared(field, owners);
    let text = match &present {
        Err(()) => "several values".to_owned(),
        Ok(Some(word)) => spoken(word),
        Ok(None) => match absent(field, owners) {
            Basis::Assumed(what) => format!("{}, assumed", spoken(&what)),
            _ => "unknown".to_owned(),
        },
    };
    ui.horizontal(|ui| {
        let label = (widths.label > 0.0).then(|| entry::label_of(ui, field.label, field.path, widths.label));
        let width = if widths.fills { (ui.available_width() - 4.0).clamp(60.0, 240.0) } else { 110.0 };
        let list = ComboBox::from_id_salt(field.path).selected_text(text).width(width).truncate();
        let all = std::iter::once(None).chain(words.iter().copied().map(Some));
        let entries = all.map(|word| {
            let here = present.as_ref().is_ok_and(|present| present.as_deref() == word);
            (word, here, word.map_or_else(|| "unknown".to_owned(), spoken))
        });
        let (response, chosen) = choice(ui, list, entries);
        if let Some(word) = chosen {
            (owners.change)(&field.label.to_lowercase(), &|owner| set(owner, word));
            scene.push(Action::EndEntry);
        }
        match label {
            Some(label) => _ = response.labelled_by(label.id),
            None => _ = named(response, field.label),
        }
    });
}
