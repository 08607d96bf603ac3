//! The job and its policy: every margin with its default and the way back to it.

use egui::Ui;

use crate::app::actions::action::Action;
use crate::app::state::scene::Scene;
use crate::app::views::editor::{lists, others};
use crate::app::widgets::asked::change_job;
use crate::app::widgets::entry::Drafts;
use crate::app::widgets::explain;
use crate::app::widgets::field::{self, Look, Owners};
use crate::domain::schema::{JOB, Section};
use crate::domain::{Job, Phase};

/// Draws the fields.
pub(super) fn show(ui: &mut Ui, scene: &Scene, drafts: &mut Drafts, out: &mut Vec<Action>) {
    let job = scene.job;
    let change = |field: &str, out: &mut Vec<Action>, set: &dyn Fn(&mut Job)| change_job(job, field, out, set);
    let owners = Owners { of: &[job], ..Owners::plain(&change) };
    let fields = |ui: &mut Ui, section: Section, drafts: &mut Drafts, out: &mut Vec<Action>| {
        for field in JOB.iter().filter(|field| field.section == section) {
            let label = explain::in_currency(job, field.path);
            let look = Look { label: label.as_deref(), ..Look::of(field) };
            field::show(ui, field, &look, &owners, drafts, out);
        }
    };
    explain::heading(ui, "Job", "job");
    fields(ui, Section::Job, drafts, out);
    let phases = job.conditions.phases.as_deref().unwrap_or_default();
    let set = |phases: Option<Vec<Phase>>, out: &mut Vec<Action>| {
        change("load profile", out, &|job| job.conditions.phases.clone_from(&phases));
    };
    lists::profile(
        ui,
        ("job.conditions.phases", "unknown: life, ripple and temperature need it"),
        phases,
        set,
        drafts,
        out,
    );
    others::unit_types(ui, job, drafts, out);
    ui.add_space(8.0);
    explain::heading(ui, "Policy", "policy");
    ui.label("Margins that decide between pass and marginal. An emptied field goes back to its default.");
    fields(ui, Section::Policy, drafts, out);
}
