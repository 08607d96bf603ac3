//! Quantities and rates of the order: units, spares, boards in a unit, what a line costs, currencies.

use std::collections::BTreeSet;

use egui::{CollapsingHeader, Grid, RichText, Ui};

use super::answer::Answer;
use crate::app::actions::{Action, LiveScene};
use crate::app::state::Edit;
use crate::app::widgets::entry::{Basis, Entry, Widths, show_sized};
use crate::app::widgets::{asked::change_job as change, explain, field, field::Look, field::Owners, wording::count};
use crate::domain::schema::{BOARD, JOB, UNIT_TYPE};
use crate::domain::{Board, Bounds, Job, Unit, UnitType};
use crate::files::entry;
use crate::sizing::reasons::figure;

/// Room of a field here.
const WIDTHS: Widths = Widths { label: 140.0, entry: 76.0, fills: false, over: false };
/// Room of a field with its name and the distance to the next one, points.
const PAIR: f32 = 258.0;
/// Fields of the job that the order depends on.
const FIELDS: [&str; 4] = ["job.units", "job.spare_pct", "job.line_cost", "job.currency"];

pub(super) fn show(ui: &mut Ui, scene: &LiveScene, answer: Option<&Answer>) {
    let heading = CollapsingHeader::new(RichText::new(heading(scene.job)).strong()).id_salt("quantities");
    let shown = heading.show(ui, |ui| fields(ui, scene, answer));
    explain::on(shown.header_response, "quantities");
}

pub(super) fn fields(ui: &mut Ui, scene: &LiveScene, answer: Option<&Answer>) {
    let job = scene.job;
    let columns = (ui.available_width() / PAIR).floor().max(1.0);
    Grid::new("quantities").spacing([16.0, 4.0]).show(ui, |ui| {
        let mut shown = 0.0;
        let mut cell = |ui: &mut Ui, field: &dyn Fn(&mut Ui)| {
            ui.horizontal(|ui| {
                ui.set_width(PAIR - 16.0);
                field(ui);
            });
            shown += 1.0;
            if shown % columns == 0.0 {
                ui.end_row();
            }
        };
        for at in 0..job.unit_types.len() {
            cell(ui, &|ui| units_of_type(ui, job, at, scene));
        }
        // Types of units count instead of the units of the job.
        for path in FIELDS.into_iter().filter(|path| job.unit_types.is_empty() || *path != "job.units") {
            cell(ui, &|ui| field_of_job(ui, job, path, scene));
        }
        for at in 0..job.boards.len() {
            cell(ui, &|ui| per_unit(ui, job, at, scene));
        }
    });
    ui.horizontal_wrapped(|ui| rates(ui, job, answer, scene));
}

/// The quantities in one line, so that they are seen while the fields are folded away.
pub(super) fn heading(job: &Job) -> String {
    let units = job.units.map_or_else(
        || "1 unit (assumed)".to_owned(),
        |units| format!("{} {}", figure(units), if units == 1.0 { "unit" } else { "units" }),
    );
    let units = match job.unit_types.len() {
        0 => units,
        types => format!("{} units of {}", figure(job.units_in_all()), count(types, "type", "types")),
    };
    let spares =
        job.spare_pct.map_or_else(|| "no spares (assumed)".to_owned(), |pct| format!("{} % spares", figure(pct)));
    let line = job.line_cost.map_or_else(
        || "lines cost nothing (assumed)".to_owned(),
        |cost| format!("{} {} for each line", figure(cost), job.currency.as_deref().unwrap_or_default()),
    );
    format!("Quantities: {units}, {spares}, {line}")
}

/// A field of the job in the room it has here.
pub(super) fn field_of_job(ui: &mut Ui, job: &Job, path: &str, scene: &LiveScene) {
    let Some(field) = JOB.iter().find(|field| field.path == path) else { return };
    let change = |name: &str, set: &dyn Fn(&mut Job)| change(scene, name, set);
    let derived = |_: &_| match (path, job.line_cost) {
        ("job.prefer_worth", Some(cost)) => Basis::Assumed(format!("{}, an order line", figure(cost))),
        _ => Basis::Unknown,
    };
    let owners = Owners { of: &[job], derived: &derived, remark: &field::no_remark, change: &change };
    let (key, label) = (format!("purchase {path}"), explain::in_currency(job, path));
    let look = Look { key: &key, label: label.as_deref(), widths: WIDTHS };
    field::show(ui, field, &look, &owners, scene);
}

fn units_of_type(ui: &mut Ui, job: &Job, at: usize, scene: &LiveScene) {
    let field = UNIT_TYPE.iter().find(|field| field.path == "unit_types.units");
    let (Some(of), Some(field)) = (job.unit_types.get(at), field) else { return };
    let change = |name: &str, set: &dyn Fn(&mut UnitType)| {
        change(scene, name, |job| job.unit_types.get_mut(at).into_iter().for_each(set));
    };
    let owners = Owners { of: &[of], ..Owners::plain(&change) };
    let (key, label) = (format!("purchase units of type {at}"), format!("{}, units", of.name));
    field::show(ui, field, &Look { key: &key, label: Some(&label), widths: WIDTHS }, &owners, scene);
}

fn per_unit(ui: &mut Ui, job: &Job, at: usize, scene: &LiveScene) {
    let field = BOARD.iter().find(|field| field.path == "board.per_unit");
    let (Some(board), Some(field)) = (job.boards.get(at), field) else { return };
    let change = |name: &str, set: &dyn Fn(&mut Board)| {
        scene.extend(Action::once(Edit::board(at, board, name, set)));
    };
    let owners = Owners { of: &[board], ..Owners::plain(&change) };
    let (key, label) = (format!("purchase per unit {at}"), format!("{} per unit", board.name));
    field::show(ui, field, &Look { key: &key, label: Some(&label), widths: WIDTHS }, &owners, scene);
}

/// A rate for every other currency that prices stand in.
fn rates(ui: &mut Ui, job: &Job, answer: Option<&Answer>, scene: &LiveScene) {
    let Some(answer) = answer else { return };
    let Some(own) = answer.purchase.currency.code.clone() else {
        ui.label("No currency is named, so that prices in several currencies cannot be added up.");
        return;
    };
    let offered =
        answer.purchase.lines.iter().flat_map(|line| &line.offers).map(|offer| offer.supplier.currency.trim());
    let mut codes: BTreeSet<String> = offered.filter(|code| !code.is_empty()).map(str::to_uppercase).collect();
    codes.extend(job.currency_rates.keys().map(|code| code.trim().to_uppercase()));
    codes.remove(&own.to_uppercase());
    if codes.is_empty() {
        ui.weak(format!("Every price is in {own}; no rate is needed."));
    }
    for code in codes {
        let entered = job.currency_rates.iter().find(|(known, _)| known.trim().eq_ignore_ascii_case(&code));
        let text = entered.map_or_else(String::new, |(_, rate)| rate.to_string());
        let basis = if entered.is_some() { Basis::Free } else { Basis::Unknown };
        let (key, label) = (format!("purchase rate {code}"), format!("{own} for 1 {code}"));
        let shown = Entry { name: "rate", key: &key, label: Some(&label), text, basis, symbol: "" };
        show_sized(ui, &shown, WIDTHS, scene, |typed| {
            let rate = entry::read(Unit::Number, Bounds::Positive, typed)?;
            change(scene, &format!("rate of {code}"), |job| {
                job.currency_rates.retain(|known, _| !known.trim().eq_ignore_ascii_case(&code));
                if let Some(rate) = rate {
                    job.currency_rates.insert(code.clone(), rate);
                }
            });
            Ok(())
        });
    }
}
