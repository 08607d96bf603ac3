//! Stored energy and discharge, with the caution.

use egui::{RichText, Ui};

use super::{context::PanelContext, context::remark};
use crate::app::widgets::{theme, wording::capital, wording::with_unit};
use crate::domain::safety::{NO_CAUTION, SAFE_V, WITHIN_S, before_touching};
use crate::domain::{Bounds, Outcome, Unit};
use crate::sizing::reasons::figure;

pub(super) fn show(ui: &mut Ui, desk: &mut PanelContext) {
    let Some(answers) = desk.answers(ui).cloned() else { return };
    let Some(energy) = &answers.energy else { return };
    let ink = theme::tokens(ui).outcome(Outcome::Fail).ink;
    match energy.caution {
        Some(true) => {
            ui.label(RichText::new("Caution: this position can hurt.").strong().color(ink));
        }
        Some(false) => drop(ui.weak(format!("Below 60 V and 10 J by itself. {NO_CAUTION}"))),
        None => drop(ui.weak(format!("The stored energy is not known. {NO_CAUTION}"))),
    }
    ui.label(before_touching());
    let together = energy.together_j.filter(|&all| Some(all) != energy.energy_j);
    let together = together.map_or_else(String::new, |all| format!(", {} J with its parallel group", figure(all)));
    let (volt_v, of) = energy.highest_v.map_or((None, String::new()), |(volt, of)| (Some(volt), format!(" ({of})")));
    ui.label(format!("{} at {}{of}{together}.", with_unit(energy.energy_j, "J"), with_unit(volt_v, "V")));
    if let (Some(ohm), Some(watt)) = (energy.bleeder_ohm, energy.bleeder_w) {
        ui.label(format!(
            "{} Ω or less bring it to {} V within {} s; it takes {} W at first, or continuously if it stays connected.",
            figure(ohm),
            figure(SAFE_V),
            figure(WITHIN_S),
            figure(watt)
        ));
    }
    ui.horizontal(|ui| {
        ui.label("Through a resistor of");
        desk.figure(ui, "discharge resistor", |forms| &mut forms.here.bleeder_ohm, (Unit::Ohm, Bounds::Positive), 64.0);
        let time_s = desk.forms.here.bleeder_ohm.map(|ohm| energy.time_to_safe_s(ohm));
        match time_s {
            Some(time_s) => ui.label(format!("Ω: {} V after {}", figure(SAFE_V), with_unit(time_s, "s"))),
            None => ui.label("Ω"),
        };
    });
    desk.refusals(ui);
    for threshold in &energy.thresholds {
        let quoted = if threshold.quoted { ", quoted" } else { "" };
        remark(ui, format!("{} ({}{quoted}).", capital(threshold.says), threshold.source));
    }
}
