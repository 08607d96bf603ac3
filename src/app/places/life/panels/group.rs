//! Cans in parallel and in series with the one selected, and exchanges of one can by two or the other way round.

use eframe::egui::{Grid, RichText, Ui};

use super::{Desk, assumed_sentence, remark, weak};
use crate::app::theme;
use crate::app::widgets;
use crate::app::wording::{percent, with_unit};
use crate::sizing::parallel::{ParallelGroup, SPLIT_CAUTION};
use crate::sizing::reasons::figure;
use crate::sizing::series::SeriesString;
use crate::sizing::substitution::{Exchange, Proposals};

pub(super) fn show(ui: &mut Ui, desk: &mut Desk) {
    let Some(answers) = desk.answers(ui).cloned() else { return };
    match &answers.group {
        Some(group) => parallel(ui, desk, group),
        None => {
            weak(ui, "This position is in no parallel group: give the cans that work in parallel the same group name.");
        }
    }
    match &answers.string {
        Some(string) => series(ui, desk, string),
        None => weak(ui, "It is in no series string."),
    }
    exchanges(ui, desk, &answers.proposals);
}

fn parallel(ui: &mut Ui, desk: &Desk, group: &ParallelGroup) {
    let tokens = theme::tokens(ui);
    ui.label(format!("Group {}: {} together.", group.name, with_unit(group.capacitance_uf, "µF")));
    Grid::new("parallel").num_columns(5).spacing([8.0, 2.0]).show(ui, |ui| {
        for text in ["", "Part", "Carries", "Of", "Ripple"] {
            ui.label(RichText::new(text).color(tokens.weak).size(12.0));
        }
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
        weak(ui, format!("How they share is not known: {missing}."));
    }
    remark(ui, format!("{SPLIT_CAUTION} {}", assumed_sentence(group.assumed)));
}

fn series(ui: &mut Ui, desk: &Desk, string: &SeriesString) {
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
    for text in &string.remarks {
        remark(ui, text.as_str());
    }
    remark(ui, assumed_sentence(string.assumed));
}

fn exchanges(ui: &mut Ui, desk: &Desk, proposals: &Proposals) {
    ui.add_space(2.0);
    for proposal in &proposals.found {
        let part = desk.scene.catalog.part_number(proposal.part.id);
        let (what, count) = match proposal.exchange {
            Exchange::OneForAll => ("one for all", 1),
            Exchange::TwoForOne => ("two for one", 2),
        };
        ui.horizontal_wrapped(|ui| {
            ui.label(format!(
                "{what}: {count} × {part}, {}, {} A each",
                with_unit(proposal.total_uf, "µF"),
                figure(proposal.each_a)
            ));
            widgets::outcome(ui, proposal.part.evaluation.verdict);
        });
        remark(ui, format!("{} {}", proposal.note, assumed_sentence(proposal.assumed)));
    }
    for obstacle in &proposals.obstacles {
        weak(ui, format!("No exchange: {obstacle}"));
    }
    if proposals.found.is_empty() && proposals.obstacles.is_empty() {
        weak(ui, "No exchange of one can for two, or two for one, holds here.");
    }
}
