//! A figure that can be typed over, with its unit. What is typed counts when the entry is left or Enter is pressed.

use std::collections::HashMap;

use egui::{self, Align2, RichText, TextEdit, Ui, vec2};

use crate::app::views::life::quantity;
use crate::app::widgets::theme;
use crate::app::widgets::wording::UNKNOWN;
use crate::domain::schema::{About, Kind};
use crate::domain::{Outcome, Unit};
use crate::sizing::reasons::figure;

/// Width of an entry that has room for the word that stands in for a missing figure, points.
const WORD_WIDTH: f32 = 62.0;

/// What is being typed, by the name of the entry; what was refused stays until it is mended.
#[derive(Debug, Default)]
pub(crate) struct Entries {
    typed: HashMap<String, String>,
    refused: HashMap<String, String>,
}

/// What was entered; `None` where the entry was emptied.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Typed(pub Option<f64>);

/// A figure to be typed over.
pub(super) struct Entry<'a> {
    /// Its name for screen readers and messages; unique within the place: `ambient of phase 2`.
    pub name: &'a str,
    /// Its value now.
    pub value: Option<f64>,
    /// Its unit; empty for a plain number.
    pub unit: &'a str,
    /// The field of the schema it is of, which then has its unit and bounds.
    pub field: Option<&'static About>,
    /// Width, points.
    pub width: f32,
}

impl Entry<'_> {
    fn read(&self, text: &str) -> Result<Option<f64>, String> {
        match self.field.map(|field| field.kind) {
            Some(Kind::Number(unit, bounds)) => crate::files::entry::read(unit, bounds, text),
            _ => quantity::read(text, self.unit),
        }
    }

    fn written(&self, value: f64) -> String {
        match self.field.map(|field| field.kind) {
            // The heading of the column has the unit.
            Some(Kind::Number(unit, _)) if !unit.symbol().is_empty() && unit != Unit::Share => written(value),
            Some(Kind::Number(unit, _)) => crate::files::entry::print(unit, value),
            _ => written(value),
        }
    }
}

impl Entries {
    /// Forgets everything typed: another position is looked at.
    pub(super) fn clear(&mut self) {
        self.typed.clear();
        self.refused.clear();
    }

    /// Draws the entry; the new value once it was entered.
    pub(super) fn show(&mut self, ui: &mut Ui, entry: &Entry) -> Option<Typed> {
        let kept = self.typed.get(entry.name);
        let mut text =
            kept.cloned().unwrap_or_else(|| entry.value.map_or_else(String::new, |value| entry.written(value)));
        let refused = self.refused.get(entry.name).cloned();
        // A narrow entry has no room for the word.
        let hint = RichText::new(if entry.width >= WORD_WIDTH { UNKNOWN } else { "?" }).size(11.0);
        let edit = TextEdit::singleline(&mut text)
            .desired_width(entry.width)
            .min_size(vec2(entry.width, 0.0))
            .hint_text(hint)
            .align(Align2::LEFT_CENTER);
        let edit = if refused.is_some() { edit.text_color(theme::tokens(ui).outcome(Outcome::Fail).ink) } else { edit };
        let response = ui.add(edit);
        let name = entry.name.to_owned();
        ui.ctx().accesskit_node_builder(response.id, |node| node.set_label(name));
        let hint = match &refused {
            Some(reason) => reason.clone(),
            None if entry.unit.is_empty() => format!("{}; a number or percent", entry.name),
            None => format!("{} in {}; other units may be typed with it", entry.name, entry.unit),
        };
        let response = response.on_hover_text(hint);
        if response.has_focus() {
            self.typed.insert(entry.name.to_owned(), text.clone());
        }
        if !response.lost_focus() {
            return None;
        }
        if ui.input(|input| input.key_pressed(egui::Key::Escape)) {
            self.forget(entry.name);
            return None;
        }
        match entry.read(&text) {
            Ok(value) => {
                self.forget(entry.name);
                let shown = |value: Option<f64>| value.map(|value| entry.written(value));
                let same = shown(value) == shown(entry.value);
                (!same).then_some(Typed(value))
            }
            Err(reason) => {
                self.typed.insert(entry.name.to_owned(), text);
                self.refused.insert(entry.name.to_owned(), reason);
                None
            }
        }
    }

    /// What was refused in the entries whose names begin so, drawn in words.
    pub(super) fn show_refused(&self, ui: &mut Ui, begins: &str) {
        let ink = theme::tokens(ui).outcome(Outcome::Fail).ink;
        let mut refused: Vec<_> = self.refused.iter().filter(|(name, _)| name.starts_with(begins)).collect();
        refused.sort();
        for (name, reason) in refused {
            ui.label(RichText::new(format!("{name}: {reason}")).color(ink));
        }
    }

    fn forget(&mut self, name: &str) {
        self.typed.remove(name);
        self.refused.remove(name);
    }
}

/// As many digits as were entered, but no rounding dust.
fn written(value: f64) -> String {
    let short = format!("{value:.6}");
    let short = short.trim_end_matches('0').trim_end_matches('.');
    if value != 0.0 && (value.abs() < 1e-3 || value.abs() >= 1e9) { figure(value) } else { short.to_owned() }
}
