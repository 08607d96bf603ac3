//! Cans in parallel and in series with the one selected, and exchanges of one can by two or the other way round.

use std::sync::Arc;

use egui::{Grid, Ui};

use super::context::{PanelContext, assumed_sentence, remark};
use crate::app::actions::Action;
use crate::app::state::Edit;
use crate::app::widgets::{self, explain, wording::percent, wording::with_unit};
use crate::domain::{Bounds, Job, Outcome, Unit};
use crate::sizing::{
    parallel::ParallelGroup, parallel::SPLIT_CAUTION, reasons::figure, series::SeriesString, substitution::Exchange,
    substitution::Proposal,
};

pub(super) fn show(ui: &mut Ui, desk: &mut PanelContext) {
    let Some(answers) = desk.answers(ui).cloned() else { return };
    match &answers.group {
        Some(group) => parallel(ui, desk, group),
        None => {
            ui.weak("This position is in no parallel group: give the cans that work in parallel the same group name.");
        }
    }
    match &answers.string {
        Some(string) => series(ui, desk, string),
        None => drop(ui.weak("It is in no series string.")),
    }
    exchanges(ui, desk, &answers.exchanges, &answers.obstacles);
}

fn parallel(ui: &mut Ui, desk: &PanelContext, group: &ParallelGroup) {
    ui.label(format!("Group {}: {} together.", group.name, with_unit(group.capacitance_uf, "µF")));
    Grid::new("parallel").num_columns(5).spacing([8.0, 2.0]).show(ui, |ui| {
        ui.label("");
        explain::column(ui, "Part", "order part");
        explain::column(ui, "Carries", "carried");
        explain::column(ui, "Of", "carried");
        explain::column(ui, "Ripple", "ripple");
        ui.end_row();
        let total: Option<f64> = group.members.iter().map(|member| member.entered_a).sum();
        for member in &group.members {
            ui.label(desk.scene.reference(member.id));
            ui.label(member.fitted.name.as_str());
            ui.label(with_unit(member.carried_a, "A"));
            ui.label(member.carried_a.zip(total).map_or_else(String::new, |(own, total)| percent(own / total)));
            widgets::outcome(ui, member.evaluation.outcome(crate::domain::Check::Ripple));
            ui.end_row();
        }
    });
    if let Some(missing) = &group.unknown {
        ui.weak(format!("How they share is not known: {missing}."));
    }
    remark(ui, format!("{SPLIT_CAUTION} {}", assumed_sentence(group.assumed)));
}

fn series(ui: &mut Ui, desk: &mut PanelContext, string: &SeriesString) {
    let names: Vec<&str> = string.members.iter().map(|&id| desk.scene.reference(id)).collect();
    ui.label(format!(
        "String {} ({}): {} over it, {} each if equal, lowest rating {}.",
        string.name,
        names.join(", "),
        with_unit(string.string_v, "V"),
        with_unit(string.even_v, "V"),
        with_unit(string.rated_v, "V")
    ));
    ui.label(format!(
        "Balancing resistor at most {} ({} each); worst can at switch-on {}.",
        with_unit(string.balancing_ohm, "Ω"),
        with_unit(string.balancing_w, "W"),
        with_unit(string.switch_on_worst_v, "V")
    ));
    ui.horizontal(|ui| {
        ui.label("With").on_hover_text("A resistor across each can of the string.");
        desk.figure(ui, "balancing resistor", |of| &mut of.here.balancing_ohm, (Unit::Ohm, Bounds::Positive), 64.0);
        match desk.forms.here.balancing_ohm {
            Some(ohm) => {
                let worst_v = string.worst_v(ohm);
                ui.label(format!("Ω across each: worst can {}", with_unit(worst_v, "V")));
                let over = worst_v.zip(string.rated_v).map(|(worst, rated)| worst > rated);
                let outcome = match over {
                    Some(true) => Outcome::Fail,
                    Some(false) => Outcome::Pass,
                    None => Outcome::Unknown,
                };
                widgets::outcome(ui, outcome);
            }
            None => drop(ui.label("Ω across each: enter one to see the worst share")),
        }
    });
    desk.refusals(ui);
    for text in &string.remarks {
        remark(ui, text.as_str());
    }
    remark(ui, assumed_sentence(string.assumed));
}

fn exchanges(ui: &mut Ui, desk: &mut PanelContext, proposals: &[(Proposal, Option<Arc<Job>>)], obstacles: &[String]) {
    ui.add_space(2.0);
    for (at, (proposal, carried_out)) in proposals.iter().enumerate() {
        let part = desk.scene.catalog.part_number(proposal.part.id);
        let (what, count) = match proposal.exchange {
            Exchange::OneForAll => ("one for all", 1),
            Exchange::TwoForOne => ("two for one", 2),
        };
        ui.horizontal_wrapped(|ui| {
            ui.label(format!(
                "{what}: {count} × {part}, {} and {} together, {} A each",
                with_unit(proposal.total_uf, "µF"),
                with_unit(proposal.total_esr_mohm, "mΩ"),
                figure(proposal.each_a)
            ));
            widgets::outcome(ui, proposal.part.evaluation.verdict);
        });
        remark(ui, format!("{} {}", proposal.note, assumed_sentence(proposal.assumed)));
        if let Some(job) = carried_out {
            let button = ui.button("Carry out").on_hover_text("Changes the positions, their needs and their ripple as one change that can be undone; the originals stay noted.");
            if widgets::named(button, format!("Carry out {what} with {part}, proposal {}", at + 1)).clicked() {
                let what = format!("{what} with {part}");
                desk.scene.push(Action::Edit(Edit::Whole { job: Box::new(Job::clone(job)), what }));
            }
        }
    }
    for obstacle in obstacles {
        ui.weak(format!("No exchange: {obstacle}"));
    }
    if proposals.is_empty() && obstacles.is_empty() {
        ui.weak("No exchange of one can for two, or two for one, holds here.");
    }
}
