//! The job and its policy: every margin with its default and the way back to it.

use egui::Ui;

use crate::app::actions::LiveScene;
use crate::app::views::editor::{lists, others};
use crate::app::widgets::asked::change_job;
use crate::app::widgets::explain;
use crate::app::widgets::field::{self, Look, Owners};
use crate::domain::schema::{JOB, Section};
use crate::domain::{Job, Phase};

/// Draws the fields.
pub(super) fn show(ui: &mut Ui, scene: &LiveScene) {
    let job = scene.job;
    let change = |field: &str, set: &dyn Fn(&mut Job)| change_job(scene, field, set);
    let owners = Owners { of: &[job], ..Owners::plain(&change) };
    let fields = |ui: &mut Ui, section: Section| {
        for field in JOB.iter().filter(|field| field.section == section) {
            let label = explain::in_currency(job, field.path);
            let look = Look { label: label.as_deref(), ..Look::of(field) };
            field::show(ui, field, &look, &owners, scene);
        }
    };
    explain::heading(ui, "Job", "job");
    fields(ui, Section::Job);
    let phases = job.conditions.phases.as_deref().unwrap_or_default();
    let set = |phases: Option<Vec<Phase>>| {
        change("load profile", &|job| job.conditions.phases.clone_from(&phases));
    };
    let none = "unknown: life, ripple and temperature need it";
    lists::profile(ui, ("job.conditions.phases", none), phases, set, scene);
    others::unit_types(ui, job, scene);
    ui.add_space(8.0);
    explain::heading(ui, "Policy", "policy");
    ui.label("Margins that decide between pass and marginal. An emptied field goes back to its default.");
    fields(ui, Section::Policy);
}
