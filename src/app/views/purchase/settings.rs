//! Quantities and rates of the order: units, spares, boards in a unit, what a line costs, currencies.

use std::collections::BTreeSet;

use egui::{CollapsingHeader, RichText, Ui};

use crate::app::actions::action::Action;
use crate::app::state::edit::Edit;
use crate::app::state::scene::Scene;
use crate::app::views::editor::entry::{Basis, Drafts, Entry, Widths, show_sized};
use crate::app::views::purchase::Answer;
use crate::app::widgets::explain;
use crate::domain::{Bounds, Job};
use crate::files::fields::{FACTOR, JOB};
use crate::sizing::reasons::figure;

/// Room of a field here.
const WIDTHS: Widths = Widths { label: 118.0, entry: 76.0 };
/// Figures of the job that the order depends on, and what their absence counts as.
const FIGURES: [(&str, &str); 3] = [("job.units", "1"), ("job.spare_pct", "0 %"), ("job.line_cost", "0")];

/// Pushes a change of the job's own figures.
pub(super) fn change(job: &Job, field: &str, out: &mut Vec<Action>, set: impl FnOnce(&mut Job)) {
    let mut changed = Job { boards: Vec::new(), ..job.clone() };
    set(&mut changed);
    out.push(Action::Edit(Edit::Settings { job: Box::new(changed), field: field.into() }));
    out.push(Action::EndEntry);
}

pub(super) fn show(ui: &mut Ui, scene: &Scene, answer: Option<&Answer>, drafts: &mut Drafts, out: &mut Vec<Action>) {
    let job = scene.job;
    let heading = CollapsingHeader::new(RichText::new(heading(job)).strong()).id_salt("quantities");
    let shown = heading.show(ui, |ui| {
        ui.horizontal_wrapped(|ui| {
            for (name, absent) in FIGURES {
                figure_of_job(ui, job, name, absent, drafts, out);
            }
            currency(ui, job, drafts, out);
        });
        ui.horizontal_wrapped(|ui| {
            for at in 0..job.boards.len() {
                per_unit(ui, job, at, drafts, out);
            }
        });
        ui.horizontal_wrapped(|ui| rates(ui, job, answer, drafts, out));
    });
    explain::on(shown.header_response, "quantities");
}

/// The quantities in one line, so that they are seen while the fields are folded away.
fn heading(job: &Job) -> String {
    let units = job.units.map_or_else(
        || "1 unit (assumed)".to_owned(),
        |units| format!("{} {}", figure(units), if units == 1.0 { "unit" } else { "units" }),
    );
    let spares =
        job.spare_pct.map_or_else(|| "no spares (assumed)".to_owned(), |pct| format!("{} % spares", figure(pct)));
    let line = job.line_cost.map_or_else(
        || "lines cost nothing (assumed)".to_owned(),
        |cost| format!("{} {} for each line", figure(cost), job.currency.as_deref().unwrap_or_default()),
    );
    format!("Quantities: {units}, {spares}, {line}")
}

fn figure_of_job(ui: &mut Ui, job: &Job, name: &str, absent: &str, drafts: &mut Drafts, out: &mut Vec<Action>) {
    let Some(field) = JOB.iter().find(|field| field.name == name) else { return };
    let (text, basis) = match *(field.slot)(&mut job.clone()) {
        Some(value) => (field.measure.print(value), Basis::Free),
        None => (String::new(), Basis::Assumed(absent.into())),
    };
    let key = format!("purchase {name}");
    let label = explain::in_currency(job, name);
    let entry = Entry { name, key: &key, label: label.as_deref(), text, basis, symbol: field.measure.symbol };
    show_sized(ui, drafts, &entry, WIDTHS, out, |typed, out| {
        let value = field.measure.read(typed, field.bounds)?;
        let label = explain::of(name).map_or(name, |explained| explained.label).to_lowercase();
        change(job, &label, out, |job| *(field.slot)(job) = value);
        Ok(())
    });
}

fn currency(ui: &mut Ui, job: &Job, drafts: &mut Drafts, out: &mut Vec<Action>) {
    let text = job.currency.clone().unwrap_or_default();
    let basis = if text.is_empty() { Basis::Unknown } else { Basis::Free };
    let entry = Entry { name: "job.currency", key: "purchase job.currency", label: None, text, basis, symbol: "" };
    show_sized(ui, drafts, &entry, WIDTHS, out, |typed, out| {
        let code = Some(typed.trim().to_owned()).filter(|code| !code.is_empty());
        change(job, "currency", out, |job| job.currency = code);
        Ok(())
    });
}

fn per_unit(ui: &mut Ui, job: &Job, at: usize, drafts: &mut Drafts, out: &mut Vec<Action>) {
    let Some(board) = job.boards.get(at) else { return };
    let (text, basis) = match board.per_unit {
        Some(count) => (FACTOR.print(count), Basis::Free),
        None => (String::new(), Basis::Assumed("1".into())),
    };
    let (key, label) = (format!("purchase per unit {at}"), format!("{} per unit", board.name));
    let entry = Entry { name: "board.per_unit", key: &key, label: Some(&label), text, basis, symbol: "" };
    show_sized(ui, drafts, &entry, WIDTHS, out, |typed, out| {
        let mut changed = board.clone();
        changed.per_unit = FACTOR.read(typed, Bounds::Positive)?;
        out.push(Action::Edit(Edit::Board { at, board: Box::new(changed), field: "boards per unit".into() }));
        out.push(Action::EndEntry);
        Ok(())
    });
}

/// A rate for every other currency that prices stand in.
fn rates(ui: &mut Ui, job: &Job, answer: Option<&Answer>, drafts: &mut Drafts, out: &mut Vec<Action>) {
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
        crate::app::views::purchase::weak(ui, format!("Every price is in {own}; no rate is needed."));
    }
    for code in codes {
        let entered = job.currency_rates.iter().find(|(known, _)| known.trim().eq_ignore_ascii_case(&code));
        let text = entered.map_or_else(String::new, |(_, rate)| FACTOR.print(*rate));
        let basis = if entered.is_some() { Basis::Free } else { Basis::Unknown };
        let (key, label) = (format!("purchase rate {code}"), format!("{own} for 1 {code}"));
        let entry = Entry { name: "rate", key: &key, label: Some(&label), text, basis, symbol: "" };
        show_sized(ui, drafts, &entry, WIDTHS, out, |typed, out| {
            let rate = FACTOR.read(typed, Bounds::Positive)?;
            change(job, &format!("rate of {code}"), out, |job| {
                job.currency_rates.retain(|known, _| !known.trim().eq_ignore_ascii_case(&code));
                if let Some(rate) = rate {
                    job.currency_rates.insert(code.clone(), rate);
                }
            });
            Ok(())
        });
    }
}
