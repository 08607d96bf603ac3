//! A new rebuild of a unit: serial number, day, who, and for each position what went in and what was measured.

use egui::{Button, Grid, ScrollArea, TextEdit, Ui, vec2};

use crate::app::actions::action::{Action, PurchaseAction};
use crate::app::state::scene::Scene;
use crate::app::views::purchase::shared::weak;
use crate::app::widgets::explain;
use crate::app::widgets::theme;
use crate::domain::schema::{self, Kind};
use crate::domain::{Date, Outcome, UnitType};
use crate::files::entry;
use crate::files::unit_record::{PositionRecord, Reading, UnitRecord, is_recorded};

/// Columns of a position: part, lot, date code, then what was measured before and after.
const COLUMNS: [(&str, f32); 9] = [
    ("part", 172.0),
    ("lot", 76.0),
    ("date code", 64.0),
    ("µF before", 60.0),
    ("mΩ before", 60.0),
    ("Hz before", 60.0),
    ("µF after", 60.0),
    ("mΩ after", 60.0),
    ("Hz after", 60.0),
];

/// What is being entered.
pub(super) struct Form {
    /// What is planned: parts, lives, due date.
    planned: UnitRecord,
    serial: String,
    date: String,
    technician: String,
    note: String,
    /// Texts of each position under [`COLUMNS`].
    rows: Vec<[String; COLUMNS.len()]>,
    /// Years until the unit is due.
    due_years: Option<f64>,
    refused: String,
    /// A second rebuild of the unit on this day is meant.
    again: bool,
}

impl Form {
    /// A form for a unit of a type with the parts of the job as chosen.
    pub(super) fn new(scene: &Scene, of: &UnitType) -> Option<Self> {
        let today = Date::today();
        // A clock that is off must not keep anybody from entering the day by hand.
        let planned = UnitRecord::planned_of(
            scene.job,
            scene.catalog,
            scene.sizing,
            of,
            "",
            today.or_else(|| Date::new(2000, 1, 1))?,
        );
        let row = |position: &PositionRecord| {
            let mut row: [String; COLUMNS.len()] = Default::default();
            row[0].clone_from(&position.part_number);
            row
        };
        Some(Self {
            rows: planned.positions.iter().map(row).collect(),
            due_years: crate::sizing::Due::of(scene.job, scene.sizing).years,
            planned,
            serial: String::new(),
            date: today.map(|today| today.to_string()).unwrap_or_default(),
            technician: String::new(),
            note: String::new(),
            refused: String::new(),
            again: false,
        })
    }

    /// The record as entered.
    fn record(&self) -> Result<UnitRecord, String> {
        let serial = self.serial.trim();
        if serial.is_empty() {
            return Err("Serial number: expected the number of the unit".into());
        }
        let date: Date =
            self.date.trim().parse().map_err(|_| format!("Day: {}; expected a day as 2026-10-02", self.date.trim()))?;
        if let Some(today) = Date::today().filter(|&today| date > today) {
            return Err(format!("Day: {date} is after today, {today}; a rebuild is recorded once it is done"));
        }
        let mut record = self.planned.clone();
        serial.clone_into(&mut record.serial);
        record.date = date;
        record.next_due = self.due_years.and_then(|years| date.plus_years(years));
        self.technician.trim().clone_into(&mut record.technician);
        self.note.trim().clone_into(&mut record.note);
        for (position, row) in record.positions.iter_mut().zip(&self.rows) {
            if position.kind.is_empty() { fill(position, row)? } else { fill_other(position, row) }
        }
        Ok(record)
    }
}

/// Puts the texts of a row into the record of a position.
fn fill(position: &mut PositionRecord, row: &[String; COLUMNS.len()]) -> Result<(), String> {
    let [part, lot, code, figures @ ..] = row;
    if position.part_number != part.trim() {
        // Another part than planned: its life was not calculated.
        (position.life_h, position.life_low_h, position.life_high_h) = (None, None, None);
    }
    for (text, slot) in [(part, &mut position.part_number), (lot, &mut position.lot), (code, &mut position.date_code)] {
        text.trim().clone_into(slot);
    }
    let name = format!("{} {}", position.board, position.reference);
    let mut figures = figures.iter().zip(&COLUMNS[3..]);
    let mut next = |path: &str| -> Result<Option<f64>, String> {
        let Some((text, (column, _))) = figures.next() else { return Ok(None) };
        let Some(Kind::Number(unit, bounds)) = schema::find(path).map(|field| field.kind) else { return Ok(None) };
        entry::read(unit, bounds, text).map_err(|reason| format!("{name}, {column}: {reason}"))
    };
    let mut reading = || -> Result<Reading, String> {
        Ok(Reading {
            capacitance_uf: next("measured.capacitance_uf")?,
            esr_mohm: next("measured.esr_mohm")?,
            esr_hz: next("measured.esr_hz")?,
        })
    };
    position.before = reading()?;
    position.after = reading()?;
    Ok(())
}

/// Columns of another part or a test point; the texts stand in the same row as those of a position.
const OTHER_COLUMNS: [(&str, f32); 5] =
    [("part", 172.0), ("lot", 76.0), ("date code", 64.0), ("measured before", 126.0), ("measured after", 126.0)];
/// Its mark for "done" in that row.
const DONE: usize = OTHER_COLUMNS.len();

/// Puts the texts of a row into the record of another part or a test point.
fn fill_other(record: &mut PositionRecord, row: &[String; COLUMNS.len()]) {
    let slots = [
        &mut record.part_number,
        &mut record.lot,
        &mut record.date_code,
        &mut record.measured_before,
        &mut record.measured_after,
    ];
    row.iter().zip(slots).for_each(|(text, slot)| text.trim().clone_into(slot));
    record.done = (!row[DONE].is_empty()).then_some(true);
}

/// Draws the other parts and test points of the form.
fn others(ui: &mut Ui, form: &mut Form) {
    if form.planned.positions.iter().all(|record| record.kind.is_empty()) {
        return;
    }
    ui.add_space(6.0);
    ui.strong("Other parts and test points");
    Grid::new("other parts done").num_columns(OTHER_COLUMNS.len() + 2).striped(true).spacing([6.0, 3.0]).show(
        ui,
        |ui| {
            for name in ["Place"].into_iter().chain(OTHER_COLUMNS.map(|(name, _)| name)).chain(["done"]) {
                weak(ui, name);
            }
            ui.end_row();
            let rows = form.planned.positions.iter().zip(&mut form.rows);
            for (record, row) in rows.filter(|(record, _)| !record.kind.is_empty()) {
                let place = format!("{} {}", record.board, record.reference);
                ui.label(place.as_str());
                for (text, (name, width)) in row.iter_mut().zip(OTHER_COLUMNS) {
                    let field = ui.add(TextEdit::singleline(text).desired_width(width).min_size(vec2(width, 0.0)));
                    ui.ctx().accesskit_node_builder(field.id, |node| node.set_label(format!("{place}, {name}")));
                }
                let mut done = !row[DONE].is_empty();
                let mark = ui.checkbox(&mut done, "");
                ui.ctx().accesskit_node_builder(mark.id, |node| node.set_label(format!("{place}, done")));
                if mark.changed() {
                    row[DONE] = if done { "yes".to_owned() } else { String::new() };
                }
                ui.end_row();
            }
        },
    );
}

/// Draws the form; `true` when it is to be put away.
pub(super) fn show(ui: &mut Ui, form: &mut Form, records: &[UnitRecord], out: &mut Vec<Action>) -> bool {
    let mut away = false;
    explain::strong(ui, "New rebuild", "new rebuild");
    ui.horizontal_wrapped(|ui| {
        for (name, text, width) in [
            ("Serial number", &mut form.serial, 110.0),
            ("Day", &mut form.date, 84.0),
            ("Technician", &mut form.technician, 130.0),
        ] {
            let label = ui.label(name);
            ui.add(TextEdit::singleline(text).desired_width(width)).labelled_by(label.id);
        }
    });
    ui.horizontal(|ui| {
        let label = ui.label("Remark");
        ui.add(TextEdit::singleline(&mut form.note).desired_width(420.0)).labelled_by(label.id);
    });
    let read = form.record();
    let twice = read.as_ref().is_ok_and(|record| is_recorded(records, &record.serial, record.date));
    if twice {
        let ink = theme::tokens(ui).outcome(Outcome::Marginal).ink;
        ui.colored_label(ink, "A rebuild of this unit on this day is recorded already.");
        ui.checkbox(&mut form.again, "Record a second rebuild on this day");
    }
    ui.horizontal_wrapped(|ui| {
        let open = !form.serial.trim().is_empty() && (!twice || form.again);
        let add = ui.add_enabled(open, Button::new("Add to the record"));
        if add.on_hover_text("Adds it for good: the record only grows.").clicked() {
            match &read {
                Ok(record) => {
                    form.refused.clear();
                    out.push(Action::Buying(PurchaseAction::AddRecord(Box::new(record.clone()), form.again)));
                }
                Err(reason) => form.refused = format!("Not added: {reason}."),
            }
        }
        away = ui.button("Discard").clicked();
        match &read {
            Ok(record) => {
                let due = record.next_due.map_or_else(|| "unknown".to_owned(), |due| due.to_string());
                weak(ui, format!("Next due {due}. What is added stays: the record only grows."));
            }
            Err(_) => weak(ui, "What is added stays: the record only grows."),
        }
    });
    if !form.refused.is_empty() {
        ui.colored_label(theme::tokens(ui).outcome(Outcome::Fail).ink, form.refused.as_str());
    }
    ScrollArea::both().id_salt("rebuild").auto_shrink([false, false]).show(ui, |ui| {
        Grid::new("rebuild").num_columns(COLUMNS.len() + 1).striped(true).spacing([6.0, 3.0]).show(ui, |ui| {
            weak(ui, "Position");
            for (name, _) in COLUMNS {
                weak(ui, name);
            }
            ui.end_row();
            let rows = form.planned.positions.iter().zip(&mut form.rows);
            for (position, row) in rows.filter(|(record, _)| record.kind.is_empty()) {
                let place = format!("{} {}", position.board, position.reference);
                ui.label(place.as_str());
                for (text, (name, width)) in row.iter_mut().zip(COLUMNS) {
                    let field = ui.add(TextEdit::singleline(text).desired_width(width).min_size(vec2(width, 0.0)));
                    ui.ctx().accesskit_node_builder(field.id, |node| node.set_label(format!("{place}, {name}")));
                }
                ui.end_row();
            }
        });
        others(ui, form);
    });
    away
}
