//! The job and its policy: every margin with its default and the way back to it.

use egui::Ui;

use crate::app::actions::action::Action;
use crate::app::state::edit::Edit;
use crate::app::state::scene::Scene;
use crate::app::views::editor::entry::{self, Basis, Drafts, Entry};
use crate::app::widgets::explain;
use crate::app::widgets::theme;
use crate::domain::{Job, Policy};
use crate::files::fields::{JOB, POLICY};

/// Makes a change to the field of that name.
type Change<'a> = &'a dyn Fn(&str, &mut Vec<Action>, &dyn Fn(&mut Job));

/// What an empty field of the job counts as.
fn absent(name: &str) -> Basis {
    match name {
        "job.units" => Basis::Assumed("1".into()),
        "job.spare_pct" => Basis::Assumed("0 %".into()),
        "job.line_cost" => Basis::Assumed("0".into()),
        _ => Basis::Unknown,
    }
}

/// Draws the fields.
pub(super) fn show(ui: &mut Ui, scene: &Scene, drafts: &mut Drafts, out: &mut Vec<Action>) {
    let job = scene.job;
    let change = |name: &str, out: &mut Vec<Action>, set: &dyn Fn(&mut Job)| {
        let mut job = Job { boards: Vec::new(), ..job.clone() };
        set(&mut job);
        let field = explain::of(name).map_or(name, |e| e.label).to_lowercase();
        out.push(Action::Edit(Edit::Settings { job: Box::new(job), field }));
    };
    explain::heading(ui, "Job", "job");
    let entry = Entry {
        name: "job.name",
        key: "job.name",
        label: Some("Name of the job"),
        text: job.name.clone(),
        basis: Basis::Text,
        symbol: "",
    };
    entry::show(ui, drafts, &entry, out, |typed, out| {
        change("job.name", out, &|job| typed.trim().clone_into(&mut job.name));
        Ok(())
    });
    for field in JOB {
        let (text, basis) = match *(field.slot)(&mut job.clone()) {
            Some(value) => (field.measure.print(value), Basis::Given),
            None => (String::new(), absent(field.name)),
        };
        let symbol = field.measure.symbol;
        let label = explain::in_currency(job, field.name);
        let entry = Entry { name: field.name, key: field.name, label: label.as_deref(), text, basis, symbol };
        entry::show(ui, drafts, &entry, out, |typed, out| {
            let value = field.measure.read(typed, field.bounds)?;
            change(field.name, out, &|job| *(field.slot)(job) = value);
            Ok(())
        });
    }
    let text = job.currency.clone().unwrap_or_default();
    let entry = Entry { name: "job.currency", key: "job.currency", label: None, text, basis: Basis::Text, symbol: "" };
    entry::show(ui, drafts, &entry, out, |typed, out| {
        let currency = Some(typed.trim().to_owned()).filter(|text| !text.is_empty());
        change("job.currency", out, &|job| job.currency.clone_from(&currency));
        Ok(())
    });
    ui.add_space(8.0);
    explain::heading(ui, "Policy", "policy");
    ui.label("Margins that decide between pass and marginal. An emptied field goes back to its default.");
    policy(ui, &job.policy, drafts, out, &change);
}

fn policy(ui: &mut Ui, policy: &Policy, drafts: &mut Drafts, out: &mut Vec<Action>, change: Change) {
    for field in POLICY {
        let value = *(field.slot)(&mut policy.clone());
        let usual = *(field.slot)(&mut Policy::default());
        let symbol = field.measure.symbol;
        let text = field.measure.print(value);
        let entry = Entry { name: field.name, key: field.name, label: None, text, basis: Basis::Free, symbol };
        ui.horizontal_wrapped(|ui| {
            entry::show(ui, drafts, &entry, out, |typed, out| {
                let value = field.measure.read(typed, field.bounds)?.unwrap_or(usual);
                change(field.name, out, &|job| *(field.slot)(&mut job.policy) = value);
                Ok(())
            });
            let reset = format!("Reset to {}", field.measure.print(usual));
            back(ui, value == usual, &reset, field.name, out, &|out| {
                change(field.name, out, &|job| *(field.slot)(&mut job.policy) = usual);
            });
        });
    }
    let name = "policy.count_voltage_derating";
    ui.horizontal_wrapped(|ui| {
        let mut on = policy.count_voltage_derating;
        let label = explain::of(name).map_or(name, |e| e.label);
        if explain::on(ui.checkbox(&mut on, label), name).changed() {
            change(name, out, &|job| job.policy.count_voltage_derating = on);
            out.push(Action::EndEntry);
        }
        back(ui, !policy.count_voltage_derating, "Reset to no", name, out, &|out| {
            change(name, out, &|job| job.policy.count_voltage_derating = false);
        });
    });
}

/// Says that a margin is at its default, or offers the way back.
fn back(ui: &mut Ui, usual: bool, reset: &str, name: &str, out: &mut Vec<Action>, set: &dyn Fn(&mut Vec<Action>)) {
    if usual {
        ui.colored_label(theme::tokens(ui).weak, "default");
    } else {
        let what = explain::of(name).map_or(name, |e| e.label);
        if ui.button(reset).on_hover_text(format!("{what}: back to the default.")).clicked() {
            set(out);
            out.push(Action::EndEntry);
        }
    }
}
