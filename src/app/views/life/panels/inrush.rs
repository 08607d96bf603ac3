//! What a larger reservoir asks of the supply at switch-on, and how long it holds up.

use egui::{RichText, Ui};

use super::{context::PanelContext, context::remark};
use crate::app::widgets::{theme, wording::with_unit};
use crate::domain::{Bounds, Outcome, Unit};
use crate::sizing::{inrush::LOOK_AT_SUPPLY_FROM, reasons::figure};

pub(super) fn show(ui: &mut Ui, desk: &mut PanelContext) {
    let Some(answers) = desk.answers(ui) else { return };
    let Some(found) = answers.inrush else {
        ui.weak("For reservoirs and DC links of which voltage and capacitance are known.");
        return;
    };
    let times = found.over_original.map_or_else(String::new, |times| format!(", {} times the original", figure(times)));
    ui.label(format!("{} J at {} V{times}.", figure(found.energy_j), figure(found.peak_v)));
    if found.look_at_supply() {
        let ink = theme::tokens(ui).outcome(Outcome::Marginal).ink;
        let words = format!(
            "More than {LOOK_AT_SUPPLY_FROM} times the original: look at the rectifier, the fuse and the inrush limiter."
        );
        ui.label(RichText::new(words).strong().color(ink));
    }
    ui.horizontal_wrapped(|ui| {
        ui.label("Largest charging current");
        desk.figure(ui, "largest charging current", |of| &mut of.here.inrush_a, (Unit::Ampere, Bounds::Positive), 56.0);
        let ohm = desk.forms.here.inrush_a.and_then(|a| found.resistor_ohm(a));
        ui.label(ohm.map_or_else(
            || "A".to_owned(),
            |ohm| format!("A: {} Ω or more, for {} J once", figure(ohm), figure(found.energy_j)),
        ));
    });
    ui.horizontal_wrapped(|ui| {
        ui.label("Feeds");
        desk.figure(ui, "power held up", |of| &mut of.here.hold_w, (Unit::Watt, Bounds::Positive), 56.0);
        ui.label("W down to");
        desk.figure(ui, "voltage held up to", |of| &mut of.here.hold_to_v, (Unit::Volt, Bounds::PeakVolts), 56.0);
        let dc_v = desk.scene.position().and_then(|(_, position)| position.stress.dc_v);
        let held = || found.hold_up_s(dc_v?, desk.forms.here.hold_to_v?, desk.forms.here.hold_w?);
        ui.label(held().map_or_else(|| "V".to_owned(), |s| format!("V for {}", with_unit(Some(s * 1e3), "ms"))));
    });
    desk.refusals(ui);
    remark(
        ui,
        "R = U / I, it takes C U²/2 once; t = C (U1² - U2²) / (2 P), from the operating voltage (Ametherm application note; TI UCC28180).",
    );
}
