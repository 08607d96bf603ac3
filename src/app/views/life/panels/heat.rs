//! Two opinions on the core's rise, and the ripple that would explain a measured rise of the case.

use egui::Ui;

use super::context::{PanelContext, assumed, assumed_sentence, remark};
use crate::app::widgets::wording::with_unit;
use crate::domain::{Bounds, RippleLine, Unit};
use crate::sizing::{heat_opinion::Explained, heat_opinion::MEASURING_CAUTIONS, reasons::figure, ripple_origin};

pub(super) fn show(ui: &mut Ui, desk: &mut PanelContext) {
    let Some(answers) = desk.answers(ui).cloned() else { return };
    match &answers.heat {
        Some(heat) => {
            ui.label(heat.sentence());
            remark(ui, format!("In the phase with the largest ripple usage; {}.", assumed(heat.assumed)));
        }
        None => {
            ui.weak("Nothing to check yet: the ripple, the load profile or the part's rated ripple is not known.");
        }
    }
    ui.add_space(4.0);
    ui.horizontal(|ui| {
        ui.label("Case rise of the old part")
            .on_hover_text("At the side of the case, over the air beside it.");
        desk.figure(ui, "case rise", |forms| &mut forms.here.case_rise_k, (Unit::Kelvin, Bounds::NotNegative), 48.0);
        ui.label("K, mostly at")
            .on_hover_text("The frequency most of the ripple has; without it the heaviest line entered, else that of the measured ESR.");
        desk.figure(ui, "case rise frequency", |of| &mut of.here.case_hz, (Unit::Hertz, Bounds::Positive), 56.0);
        ui.label("Hz");
    });
    desk.refusals(ui);
    match (&answers.explained, desk.forms.here.case_rise_k) {
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
            take_over(ui, desk, found);
        }
        (None, Some(_)) => {
            ui.weak("It takes the frequency of the ripple: enter it here, or the ripple, or the ESR measured with its frequency.");
        }
        _ => {}
    }
    for caution in MEASURING_CAUTIONS {
        remark(ui, caution);
    }
}

/// Offers the ripple that explains the rise: the lines entered, scaled; or one line where none was entered.
fn take_over(ui: &mut Ui, desk: &mut PanelContext, found: &Explained) {
    let entered = desk.scene.position().and_then(|(_, position)| position.stress.ripple.clone());
    let entered = entered.filter(|lines| !lines.is_empty());
    let scaled = entered.zip(found.scale_of_entered).map(|(mut lines, scale)| {
        lines.iter_mut().for_each(|line| line.a = line.a.map(|a| a * scale));
        lines
    });
    let single = || {
        let line = RippleLine { hz: Some(found.esr_hz), a: Some(found.by_balance_a?), ..RippleLine::default() };
        Some(vec![line])
    };
    let (Some(lines), Some(rise_k)) = (scaled.or_else(single), desk.forms.here.case_rise_k) else { return };
    let hover = "Makes the ripple that explains the rise by the heat balance that of this position, as one change that can be undone. An upper figure: heat from outside reads as ripple.";
    if ui.button("Use this ripple").on_hover_text(hover).clicked() {
        let assumed: Vec<&str> = found.assumed.names().collect();
        let origin = ripple_origin::of_case_rise(rise_k, found.esr_hz, found.esr_mohm, &lines, &assumed);
        desk.use_ripple("ripple from a case rise", lines, origin);
    }
}
