//! Two opinions on the core's rise, and the ripple that would explain a measured rise of the case.

use eframe::egui::Ui;

use super::super::entry::Typed;
use super::{Desk, assumed, assumed_sentence, remark, weak};
use crate::app::wording::with_unit;
use crate::sizing::heat_opinion::MEASURING_CAUTIONS;
use crate::sizing::reasons::figure;

pub(super) fn show(ui: &mut Ui, desk: &mut Desk) {
    let Some(answers) = desk.answers(ui).cloned() else { return };
    match &answers.heat {
        Some(heat) => {
            ui.label(heat.sentence());
            remark(ui, format!("In the phase with the largest ripple usage; {}.", assumed(heat.assumed)));
        }
        None => {
            weak(ui, "There is no first opinion yet: the ripple, the duty or the part's rated ripple is not known.");
        }
    }
    ui.add_space(4.0);
    ui.horizontal(|ui| {
        ui.label("Measured rise of the old part's case")
            .on_hover_text("At the side of the case, over the air beside it.");
        if let Some(Typed(value)) = desk.entry(ui, "case rise", desk.forms.case_rise_k, "K", 48.0) {
            desk.forms.case_rise_k = value.filter(|&rise_k| rise_k >= 0.0);
        }
        ui.label("K");
    });
    desk.forms.entries.show_refused(ui, "case rise");
    match (&answers.explained, desk.forms.case_rise_k) {
        (Some(found), Some(_)) => {
            ui.label(format!(
                "By the rated-ripple law {} at the rating's frequency would explain it; by the heat balance {} ({} of heat) at {} Hz.",
                with_unit(found.by_law_a, "A"),
                with_unit(found.by_balance_a, "A"),
                with_unit(found.power_w, "W"),
                figure(found.esr_hz)
            ));
            if let Some(scale) = found.scale_of_entered {
                ui.label(format!("That is {} times the ripple entered.", figure(scale)));
            }
            remark(ui, assumed_sentence(found.assumed));
        }
        (None, Some(_)) => {
            weak(ui, "It takes the frequency of the ripple: enter the ripple, or the ESR measured with its frequency.");
        }
        _ => {}
    }
    for caution in MEASURING_CAUTIONS {
        remark(ui, caution);
    }
}
