//! The leading rows, over each column its meaning: proposed with its reason, open to be corrected.

use std::collections::HashMap;

use egui::{Button, Grid, Label, Response, RichText, ScrollArea, Ui, Widget, vec2};

use super::{files::choose, reading::LEADING, state::ImportState, state::Sheet};
use crate::app::widgets::{self, theme, theme::Tokens};
use crate::domain::Outcome;
use crate::files::import::{ColumnMeaning, Confidence, Field};
use crate::files::{Rejected, Unused, cell::unit::Unit};

/// Columns drawn; a table of a thousand columns is a mistake, and the rest of it stays unused.
const COLUMNS_MOST: usize = 80;
/// Width of a column, points: the least, and the most where there is room.
const WIDTH: std::ops::RangeInclusive<f32> = 150.0..=240.0;
/// Leading rows where the table stands among everything else, below one another.
pub(super) const LEADING_BELOW: usize = 8;
/// Between two columns, points.
const GAP: f32 = 10.0;
/// Room for the line numbers, points.
const LINE_NUMBERS: f32 = 50.0;

/// How wide a column is drawn.
fn width(ui: &Ui) -> f32 {
    ui.spacing().combo_width
}

/// Frequencies data sheets rate at.
const HZ: [(f64, &str); 9] = [
    (50.0, "50 Hz"),
    (60.0, "60 Hz"),
    (100.0, "100 Hz"),
    (120.0, "120 Hz"),
    (300.0, "300 Hz"),
    (400.0, "400 Hz"),
    (1e3, "1 kHz"),
    (1e4, "10 kHz"),
    (1e5, "100 kHz"),
];

/// A change of a column's meaning.
type Change = (String, ColumnMeaning);

/// Draws the table with at most so many of its leading rows; all of [`LEADING`] are scrolled, fewer are as high as they are.
pub(super) fn show(ui: &mut Ui, state: &mut ImportState, leading: usize) {
    let Some(sheet) = state.sheet().cloned() else { return };
    let header = &sheet.source.table.header;
    let meaning = |header: &str| sheet.mapping.column(header).copied().unwrap_or_default();
    let any = |wanted: &dyn Fn(Field) -> bool| header.iter().any(|name| meaning(name).field.is_some_and(wanted));
    let mut changed: Option<Change> = None;
    let table = ScrollArea::new([true, leading == LEADING]).id_salt(("import columns", state.shown));
    table.auto_shrink([false, leading < LEADING]).show(ui, |ui| {
        let columns = (header.len().min(COLUMNS_MOST) + 1) as f32;
        let fair = (ui.available_width() - LINE_NUMBERS) / columns - GAP;
        ui.spacing_mut().combo_width = fair.clamp(*WIDTH.start(), *WIDTH.end());
        Grid::new(("import table", state.shown)).striped(true).spacing([GAP, 4.0]).show(ui, |ui| {
            let line = |ui: &mut Ui, text: &str, hover: &str, draw: &mut dyn FnMut(&mut Ui, &str, ColumnMeaning)| {
                ui.label("");
                ui.colored_label(theme::tokens(ui).weak, text).on_hover_text(hover);
                header.iter().take(COLUMNS_MOST).for_each(|name| draw(ui, name, meaning(name)));
                ui.end_row();
            };
            line(ui, "Header", "The headers as they stand in the file.", &mut |ui, name, _| {
                cell(ui, RichText::new(name).strong(), name);
            });
            let hover = "Which figure of a part or a position a column holds; choose another where it is wrong.";
            line(ui, "Meaning", hover, &mut |ui, name, meaning| meaning_of(ui, &sheet, name, meaning, &mut changed));
            let hover = "Why this was proposed: a known header, what the cells look like, a mapping remembered, or set by you.";
            line(ui, "Reason", hover, &mut |ui, name, meaning| because(ui, &sheet, name, meaning));
            if any(&|field| !units(field).is_empty()) {
                let hover = "The unit of cells that have none of their own.";
                line(ui, "Default unit", hover, &mut |ui, name, meaning| unit_of(ui, name, meaning, &mut changed));
            }
            if any(&has_frequency) {
                let hover = "Frequency at which the column's ripple current or ESR is rated; without it the figure stays unknown.";
                line(ui, "Frequency", hover, &mut |ui, name, meaning| frequency_of(ui, name, meaning, &mut changed));
            }
            rows(ui, &sheet, state, leading);
        });
        if header.len() > COLUMNS_MOST {
            ui.label(format!("{} more columns are not shown and not used.", header.len() - COLUMNS_MOST));
        }
        let rows = sheet.source.table.rows.len();
        if rows > leading {
            ui.colored_label(
                theme::tokens(ui).weak,
                format!("The first {leading} of {rows} rows; all of them are read."),
            );
        }
        widgets::follow_focus(ui);
    });
    if let Some((name, meaning)) = changed {
        state.change_mapping(|mapping| {
            // A field that can stand only once moves from the column that had it.
            if let Some(field) = meaning.field.filter(|field| !field.repeats()) {
                let others = mapping.columns.values_mut().filter(|other| other.field == Some(field));
                others.for_each(|other| other.field = None);
            }
            *mapping.column_mut(&name) = meaning;
        });
    }
}

/// Draws something as wide as its column.
fn sized(ui: &mut Ui, widget: impl Widget) -> Response {
    let draw = |ui: &mut Ui| {
        ui.set_width(width(ui));
        ui.add(widget)
    };
    ui.allocate_ui(vec2(width(ui), 18.0), draw).inner
}

fn cell(ui: &mut Ui, text: RichText, whole: &str) {
    let label = sized(ui, Label::new(text).truncate());
    if whole.chars().count() > 20 {
        label.on_hover_text(whole);
    }
}

/// What a placement is not about needs no choice; a list of parts has no designators.
fn meaning_of(ui: &mut Ui, sheet: &Sheet, name: &str, meaning: ColumnMeaning, changed: &mut Option<Change>) {
    let target = sheet.mapping.target;
    let fields = Field::ALL.iter().filter(|field| field.serves(target));
    let mut options = vec![(None, "not used".to_owned())];
    options.extend(fields.map(|&field| (Some(field), field.label().to_owned())));
    if let Some(field) = choose(ui, (&format!("Meaning of {name}"), width(ui)), meaning.field, &options) {
        // Unit and condition were those of the old meaning.
        *changed = Some((name.to_owned(), ColumnMeaning { field, ..ColumnMeaning::default() }));
    }
}

fn because(ui: &mut Ui, sheet: &Sheet, name: &str, meaning: ColumnMeaning) {
    let tokens = theme::tokens(ui);
    let proposed = sheet.source.proposal.columns.iter().find(|column| column.header == name);
    let Some(proposed) = proposed.filter(|proposed| proposed.field == meaning.field) else {
        cell(ui, RichText::new("set by you").color(tokens.weak), "");
        return;
    };
    let text = match proposed.field {
        None => proposed.why.clone(),
        Some(_) => format!("{}: {}", proposed.confidence.word(), proposed.why),
    };
    let ink = match (proposed.field, proposed.confidence) {
        (Some(_), Confidence::Guess) => tokens.outcome(Outcome::Marginal).ink,
        _ => tokens.weak,
    };
    let samples = proposed.samples.join(" | ");
    let whole = if samples.is_empty() { text.clone() } else { format!("{text}. For instance: {samples}") };
    sized(ui, Label::new(RichText::new(&text).color(ink)).truncate()).on_hover_text(whole);
}

fn units(field: Field) -> &'static [Unit] {
    if field.units().len() < 2 { &[] } else { field.units() }
}

fn unit_of(ui: &mut Ui, name: &str, meaning: ColumnMeaning, changed: &mut Option<Change>) {
    let Some(units) = meaning.field.map(units).filter(|units| !units.is_empty()) else {
        ui.label("");
        return;
    };
    let word = |unit: Unit| if unit == Unit::Ratio { "share of one".to_owned() } else { unit.symbol().to_owned() };
    let options = or_said(units.iter().map(|&unit| (unit, word(unit))));
    if let Some(unit) = choose(ui, (&format!("Unit of {name}"), width(ui)), meaning.unit, &options) {
        *changed = Some((name.to_owned(), ColumnMeaning { unit, ..meaning }));
    }
}

/// What may be chosen where the header or the cells may say it.
fn or_said<T>(all: impl IntoIterator<Item = (T, String)>) -> Vec<(Option<T>, String)> {
    let all = all.into_iter().map(|(value, word)| (Some(value), word));
    std::iter::once((None, "header or cell says".to_owned())).chain(all).collect()
}

fn has_frequency(field: Field) -> bool {
    matches!(field, Field::Ripple | Field::Esr)
}

fn frequency_of(ui: &mut Ui, name: &str, meaning: ColumnMeaning, changed: &mut Option<Change>) {
    if !meaning.field.is_some_and(has_frequency) {
        ui.label("");
        return;
    }
    let other = meaning.hz.filter(|hz| HZ.iter().all(|(known, _)| known != hz)).map(|hz| (hz, format!("{hz} Hz")));
    let options = or_said(HZ.map(|(hz, word)| (hz, word.to_owned())).into_iter().chain(other));
    if let Some(hz) = choose(ui, (&format!("Frequency of {name}"), width(ui)), meaning.hz, &options) {
        *changed = Some((name.to_owned(), ColumnMeaning { hz, ..meaning }));
    }
}

fn rows(ui: &mut Ui, sheet: &Sheet, state: &mut ImportState, leading: usize) {
    let tokens = theme::tokens(ui);
    let gave = state.gave().cloned();
    let gave = gave.as_ref();
    let mut kept: HashMap<u64, Vec<&str>> = HashMap::new();
    let mut left: HashMap<u64, &Rejected> = HashMap::new();
    for (line, name) in gave.iter().flat_map(|gave| &gave.names) {
        kept.entry(*line).or_default().push(name);
    }
    let mut others: HashMap<u64, Vec<&str>> = HashMap::new();
    for (line, name) in gave.iter().flat_map(|gave| &gave.other_names) {
        others.entry(*line).or_default().push(name);
    }
    let outcome = state.outcome.clone();
    let board = outcome.as_ref().and_then(|outcome| outcome.gathered.board.as_ref());
    let from = |names: &Vec<&str>| {
        let positions = board.iter().flat_map(|board| &board.positions);
        let found = positions.filter(|position| names.contains(&position.reference.as_str())).take(1);
        let of_position = found.into_iter().find_map(|position| position.original.read_from.clone());
        of_position.or_else(|| {
            let parts = outcome.iter().flat_map(|outcome| &outcome.gathered.parts);
            let found = parts.filter(|(_, part)| names.contains(&part.part_number.as_str())).take(1);
            found.map(|(_, part)| part.read_from.clone()).find(|from| !from.is_empty())
        })
    };
    let last = sheet.source.table.rows.iter().take(LEADING).next_back().map_or(0, |row| row.line as u64);
    for listed in gave.iter().flat_map(|gave| &gave.report.rejected).filter(|listed| listed.line <= last) {
        left.entry(listed.line).or_insert(listed);
    }
    for row in sheet.source.table.rows.iter().take(leading) {
        let line = row.line as u64;
        number(ui, sheet, state, row.line);
        let hover = kept.get(&line).and_then(from);
        becomes(
            ui,
            tokens,
            (kept.get(&line), hover),
            left.get(&line).copied(),
            gave.map(|_| others.get(&line).map_or(&[][..], Vec::as_slice)),
        );
        let marked = state.page.line == Some(row.line);
        for text in row.cells.iter().take(COLUMNS_MOST) {
            // Line breaks within a cell would make the row as high as the cell.
            let shown = RichText::new(text.replace(['\n', '\r'], " "));
            if sheet.source.places.is_none() || text.is_empty() {
                cell(ui, shown, text);
                continue;
            }
            let is_it = marked && state.page.text.as_deref() == Some(text.trim());
            if sized(ui, Button::selectable(is_it, shown).truncate()).on_hover_text(text).clicked() {
                state.page.mark(row.line, Some(text.trim().to_owned()));
            }
        }
        ui.end_row();
    }
}

/// The line's number; of a data sheet it shows the row on its page.
fn number(ui: &mut Ui, sheet: &Sheet, state: &mut ImportState, line: usize) {
    let weak = theme::tokens(ui).weak;
    if sheet.source.places.is_none() {
        ui.colored_label(weak, line.to_string());
        return;
    }
    let name = format!("Show line {line} on its page");
    let button = ui.selectable_label(state.page.line == Some(line), line.to_string());
    if widgets::named(button, name.as_str()).on_hover_text(name).clicked() {
        state.page.mark(line, None);
    }
}

/// What becomes of a row: the names it is kept under with where its figures stand, the other parts it is taken
/// in as, or why it is left.
fn becomes(
    ui: &mut Ui,
    tokens: &Tokens,
    (kept, from): (Option<&Vec<&str>>, Option<String>),
    left: Option<&Rejected>,
    read: Option<&[&str]>,
) {
    let (text, ink) = match (kept, left) {
        (Some(names), None) => (names.join(", "), tokens.text),
        (Some(names), Some(_)) => (format!("{} with remarks", names.join(", ")), tokens.outcome(Outcome::Marginal).ink),
        (None, Some(left)) if left.unused == Unused::Skipped => (left.reason.clone(), tokens.weak),
        (None, Some(left)) => (left.reason.clone(), tokens.outcome(Outcome::Fail).ink),
        (None, None) => match read {
            Some([]) => ("not used".to_owned(), tokens.weak),
            Some([other]) => (format!("{other} as other part"), tokens.text),
            Some(others) => (format!("{} as other parts", others.join(", ")), tokens.text),
            None => ("…".to_owned(), tokens.weak),
        },
    };
    let label = sized(ui, Label::new(RichText::new(&text).color(ink)).truncate());
    let told: Vec<&str> = left.map(|left| left.reason.as_str()).into_iter().chain(from.as_deref()).collect();
    label.on_hover_text(if told.is_empty() { text.clone() } else { told.join("\n") });
}
