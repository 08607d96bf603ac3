//! The unit: serial number, day, who, how far each board is, and adding its rebuild to the record.

use egui::{ComboBox, Ui};

use super::shared::{above_foot, follow_enter, main_button, name, unsaved};
use super::state::{BenchState, Prepared, SERIAL, change};
use crate::app::actions::{Action, BenchAction, LiveScene};
use crate::app::state::Scene;
use crate::app::widgets::field::{self, Look, Owners, no_remark};
use crate::app::widgets::{self, entry::Basis, entry::Widths, theme};
use crate::domain::{Date, Outcome, PositionId, PositionRecord, UnitAtBench, schema, schema::UNIT};
use crate::files::unit_record::is_recorded;

const FIELDS: [&str; 5] = [SERIAL, "bench.date", "bench.technician", "bench.esr_hz", "bench.note"];

pub(super) fn show(ui: &mut Ui, scene: &LiveScene, state: &mut BenchState, prepared: &Prepared) {
    let Some(unit) = &prepared.unit else {
        ui.label("No unit is at the bench. Put one there by New unit, or measure its first can: it can get its number later.");
        return;
    };
    state.turn_to(None);
    let focused = ui.memory(egui::Memory::focused);
    above_foot(ui, "bench unit", |ui, foot| {
        if foot {
            return record(ui, scene, state, unit);
        }
        fields(ui, scene, state, unit);
        unit_type(ui, scene, state.unit, unit);
        for (of, done, all) in &prepared.progress {
            ui.label(format!("{}: {done} of {all} done", of.name));
        }
        others(ui, scene, state, prepared, unit);
        let away =
            ui.button("Take off the bench").on_hover_text("Forgets what was entered of it; undo brings it back.");
        if away.clicked() {
            scene.push(Action::Bench(BenchAction::RemoveUnit));
        }
    });
    follow_enter(ui, focused, state, &FIELDS);
}

fn fields(ui: &mut Ui, scene: &LiveScene, state: &mut BenchState, unit: &UnitAtBench) {
    let width = ui.available_width() - 4.0;
    let at = state.unit;
    // A change of the number or of the frequency changes what positions keep of this unit.
    let touched: Vec<PositionId> = scene
        .job
        .positions()
        .filter(|(_, position)| unit.positions.iter().any(|known| known.reference == position.reference))
        .map(|(id, _)| id)
        .collect();
    for field in FIELDS.iter().filter_map(|path| UNIT.iter().find(|field| field.path == *path)) {
        let look = Look { key: field.path, label: None, widths: Widths::over(width) };
        let owners = Owners {
            of: &[unit],
            derived: &|about| match (about.path, Date::today()) {
                ("bench.date", Some(today)) => Basis::Assumed(today.to_string()),
                _ => Basis::Unknown,
            },
            remark: &no_remark,
            change: &|what, set| {
                let label = format!("{what} of {}", name(Some(unit)));
                scene.push(change(scene, at, &touched, label, set));
            },
        };
        scene.typing(&mut state.drafts, || field::show(ui, field, &look, &owners, scene));
    }
    if unit.date.is_none() {
        let today =
            Date::today().map_or_else(|| "unknown: enter it".to_owned(), |today| format!("today, {today} (assumed)"));
        ui.weak(format!("Day: {today}."));
    }
}

/// Other parts and test points, a line each.
fn others(ui: &mut Ui, scene: &LiveScene, state: &mut BenchState, prepared: &Prepared, unit: &UnitAtBench) {
    if prepared.others.is_empty() {
        return;
    }
    let at = state.unit;
    ui.strong("Other parts and test points");
    let width = (ui.available_width() - 2.0 * ui.spacing().item_spacing.x) / 3.0 - 2.0;
    for planned in &prepared.others {
        let place = format!("{} {}", planned.board, planned.reference);
        let known = unit.at(&planned.board, &planned.reference).cloned();
        let record = known.unwrap_or_else(|| PositionRecord::of(&planned.board, &planned.reference));
        let edit = |what: &str, set: &dyn Fn(&mut PositionRecord)| {
            let label = format!("{what} of {place}, {}", name(Some(unit)));
            scene.push(change(scene, at, &[], label, |unit| unit.change(&planned.board, &planned.reference, set)));
        };
        let mut done = record.is_done();
        let words = format!("{place} {} {}", schema::spoken(&planned.kind), planned.part_number);
        if ui.checkbox(&mut done, words.trim()).on_hover_text("Whether it was done.").changed() {
            edit("done", &|at| {
                at.done = done.then_some(true);
                if done && at.part_number.is_empty() {
                    planned.part_number.clone_into(&mut at.part_number);
                }
            });
            scene.push(Action::EndEntry);
        }
        ui.horizontal_top(|ui| {
            for (path, short) in [
                ("bench.positions.measured_before", "before"),
                ("bench.positions.measured_after", "after"),
                ("bench.positions.lot", "lot"),
            ] {
                let Some(field) = schema::POSITION_RECORD.iter().find(|field| field.path == path) else { continue };
                let (key, label) = (format!("{path} {place}"), format!("{} {short}", planned.reference));
                let look = Look { key: &key, label: Some(&label), widths: Widths::over(width) };
                let owners = Owners { of: &[&record], derived: &|_| Basis::Unknown, remark: &no_remark, change: &edit };
                scene.typing(&mut state.drafts, || field::show(ui, field, &look, &owners, scene));
            }
        });
    }
}

/// The type of the unit, where there are several.
fn unit_type(ui: &mut Ui, scene: &LiveScene, at: usize, unit: &UnitAtBench) {
    let types = &scene.job.unit_types;
    if types.len() < 2 {
        return;
    }
    let now = unit.type_in(scene.job).name;
    ui.weak("Type of unit");
    let list = ComboBox::from_id_salt("type of unit").selected_text(now.as_str());
    let entries = types.iter().map(|of| (of.name.clone(), of.name == now, of.name.clone()));
    let (response, chosen) = widgets::choice(ui, list, entries);
    widgets::named(response, "Type of unit");
    if let Some(chosen) = chosen {
        scene.push(change(scene, at, &[], format!("type of {}", name(Some(unit))), |unit| unit.unit_type = chosen));
        scene.push(Action::EndEntry);
    }
}

/// Why the rebuild cannot be added yet.
fn refused(scene: &Scene, unit: &UnitAtBench, at: usize) -> Option<String> {
    let serial = unit.serial.trim();
    let other = scene.job.bench.iter().enumerate().any(|(n, other)| n != at && other.serial.trim() == serial);
    let today = Date::today();
    if serial.is_empty() {
        return Some("Enter the serial number.".into());
    }
    if other {
        return Some(format!("{serial} is at the bench twice: take one of them off."));
    }
    if let Some((date, today)) = unit.date.zip(today).filter(|(date, today)| date > today) {
        return Some(format!("{date} is after today, {today}; a rebuild is recorded once it is done."));
    }
    unit.positions.is_empty().then(|| "Nothing was measured or fitted yet.".into())
}

fn record(ui: &mut Ui, scene: &LiveScene, state: &mut BenchState, unit: &UnitAtBench) {
    let tokens = theme::tokens(ui);
    if unsaved(ui, scene) {
        return;
    }
    let refused = refused(scene, unit, state.unit);
    let day = unit.date.or_else(Date::today);
    let twice = day.is_some_and(|day| is_recorded(&scene.records.records, &unit.serial, day));
    if let Some(reason) = &refused {
        ui.colored_label(tokens.outcome(Outcome::Marginal).ink, reason);
    } else if twice {
        let ink = tokens.outcome(Outcome::Marginal).ink;
        ui.colored_label(ink, "A rebuild of this unit on this day is recorded already.");
        ui.checkbox(&mut state.again, "Record a second rebuild on this day");
    } else {
        ui.weak("Adds it for good: the record only grows.");
    }
    let open = refused.is_none() && (!twice || state.again);
    if main_button(ui, state, "Add to the record", open).clicked() {
        scene.push(Action::Bench(BenchAction::AddRecord));
    }
}
