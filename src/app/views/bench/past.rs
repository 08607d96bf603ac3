//! What was done to a unit, the last rebuild first, and how its parts wore between rebuilds.

use egui::{Grid, ScrollArea, Ui};

use crate::app::widgets::{explain, theme, wording::UNKNOWN, wording::percent};
use crate::domain::{Outcome, style::hertz};
use crate::files::wear::{Pace, Wear, wear};
use crate::files::{unit_record::Reading, unit_record::UnitRecord};
use crate::sizing::reasons::figure;

pub(super) fn show(ui: &mut Ui, records: &[UnitRecord], serial: &str) {
    let mut rebuilds: Vec<&UnitRecord> = records.iter().filter(|record| record.serial.trim() == serial).collect();
    rebuilds.sort_by_key(|record| std::cmp::Reverse(record.date));
    ScrollArea::both().id_salt("past").auto_shrink([false, false]).show(ui, |ui| {
        ui.heading(format!("Unit {serial}"));
        for (at, record) in rebuilds.iter().enumerate() {
            if at > 0 {
                ui.separator();
            }
            let by = if record.technician.is_empty() { "somebody unknown" } else { &record.technician };
            let due = record.next_due.map_or_else(|| UNKNOWN.to_owned(), |due| due.to_string());
            ui.strong(format!("Rebuilt {} by {by}, next due {due}", record.date));
            if !record.note.is_empty() {
                ui.label(record.note.as_str());
            }
            if let Some(wear) = wear(records, record) {
                worn(ui, at, &wear);
            }
            positions(ui, at, record);
        }
    });
}

fn worn(ui: &mut Ui, at: usize, wear: &[Wear]) {
    let share = |share: Option<f64>| share.map_or_else(|| UNKNOWN.to_owned(), percent);
    explain::strong(ui, "Wear since the rebuild before", "wear");
    Grid::new(("wear", at)).num_columns(7).striped(true).spacing([16.0, 3.0]).show(ui, |ui| {
        for (heading, explained) in [
            ("Position", "order positions"),
            ("Part", "order part"),
            ("Years", "record years"),
            ("By capacitance", "wear"),
            ("By ESR", "wear"),
            ("Predicted", "predicted wear"),
            ("Pace", "pace"),
        ] {
            explain::column(ui, heading, explained);
        }
        ui.end_row();
        for one in wear {
            ui.label(format!("{} {}", one.board, one.reference));
            ui.label(one.part_number.as_str());
            ui.label(figure(one.years));
            ui.label(share(one.by_capacitance));
            ui.label(share(one.by_esr));
            let band = one
                .predicted_band
                .map_or_else(String::new, |(low, high)| format!(" ({} to {})", percent(low), percent(high)));
            ui.label(format!("{}{band}", share(one.predicted)));
            let tokens = theme::tokens(ui);
            let outcome = match one.pace {
                Pace::Slower | Pace::AsPredicted => Outcome::Pass,
                Pace::Faster => Outcome::Fail,
                Pace::Unknown => Outcome::Unknown,
            };
            ui.colored_label(tokens.outcome(outcome).ink, one.pace.word());
            ui.end_row();
        }
    });
}

fn positions(ui: &mut Ui, at: usize, record: &UnitRecord) {
    Grid::new(("done", at)).num_columns(5).striped(true).spacing([16.0, 3.0]).show(ui, |ui| {
        for (heading, explained) in [
            ("Position", "order positions"),
            ("Part", "order part"),
            ("Lot, date code", "lot and date code"),
            ("Before", "reading"),
            ("After", "reading"),
        ] {
            explain::column(ui, heading, explained);
        }
        ui.end_row();
        for position in &record.positions {
            ui.label(format!("{} {}", position.board, position.reference));
            ui.label(if position.part_number.is_empty() { UNKNOWN } else { &position.part_number });
            let known: Vec<&str> = [position.lot.as_str(), position.date_code.as_str()]
                .into_iter()
                .filter(|text| !text.is_empty())
                .collect();
            ui.label(if known.is_empty() { UNKNOWN.to_owned() } else { known.join(", ") });
            let told = |record: &str, taken: &Reading| match record {
                "" if position.kind.is_empty() => reading(taken),
                "" => "not measured".to_owned(),
                text => text.to_owned(),
            };
            let seen = if position.finding.is_empty() { String::new() } else { format!("; {}", position.finding) };
            ui.label(told(&position.measured_before, &position.before) + &seen);
            let done = if position.done == Some(true) { ", done" } else { "" };
            ui.label(told(&position.measured_after, &position.after) + done);
            ui.end_row();
        }
    });
}

/// What was measured, in words.
pub(super) fn reading(reading: &Reading) -> String {
    let esr = reading.esr_mohm.map(|mohm| match reading.esr_hz {
        Some(hz) => format!("{} mΩ at {}", figure(mohm), hertz(hz)),
        None => format!("{} mΩ, frequency unknown", figure(mohm)),
    });
    let capacitance = reading.capacitance_uf.map(|uf| format!("{} µF", figure(uf)));
    let leakage = reading.leakage_ua.map(|ua| format!("{} µA", figure(ua)));
    let known: Vec<String> = capacitance.into_iter().chain(esr).chain(leakage).collect();
    if known.is_empty() { "not measured".to_owned() } else { known.join(", ") }
}
