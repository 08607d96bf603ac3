//! What a larger reservoir asks of the supply at switch-on, and how long it holds up.

use egui::{RichText, Ui};

use crate::app::views::life::entry::Typed;
use crate::app::views::life::panels::context::{PanelContext, remark};
use crate::app::widgets::theme;
use crate::app::widgets::wording::with_unit;
use crate::domain::Outcome;
use crate::sizing::inrush::LOOK_AT_SUPPLY_FROM;
use crate::sizing::reasons::figure;

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
        if let Some(Typed(value)) = desk.entry(ui, "largest charging current", desk.forms.inrush_a, "A", 56.0) {
            desk.forms.inrush_a = value.filter(|&a| a > 0.0);
        }
        let ohm = desk.forms.inrush_a.and_then(|a| found.resistor_ohm(a));
        ui.label(ohm.map_or_else(
            || "A".to_owned(),
            |ohm| format!("A: {} Ω or more, for {} J once", figure(ohm), figure(found.energy_j)),
        ));
    });
    desk.forms.entries.show_refused(ui, "largest charging current");
    ui.horizontal_wrapped(|ui| {
        ui.label("Feeds");
        if let Some(Typed(value)) = desk.entry(ui, "power held up", desk.forms.hold_w, "W", 56.0) {
            desk.forms.hold_w = value.filter(|&w| w > 0.0);
        }
        ui.label("W down to");
        if let Some(Typed(value)) = desk.entry(ui, "voltage held up to", desk.forms.hold_to_v, "V", 56.0) {
            desk.forms.hold_to_v = value.filter(|&v| v >= 0.0);
        }
        let dc_v = desk.scene.position().and_then(|(_, position)| position.stress.dc_v);
        let held = || found.hold_up_s(dc_v?, desk.forms.hold_to_v?, desk.forms.hold_w?);
        ui.label(held().map_or_else(|| "V".to_owned(), |s| format!("V for {}", with_unit(Some(s * 1e3), "ms"))));
    });
    desk.forms.entries.show_refused(ui, "power held up");
    desk.forms.entries.show_refused(ui, "voltage held up to");
    remark(
        ui,
        "R = U / I, it takes C U²/2 once; t = C (U1² - U2²) / (2 P), from the operating voltage (Ametherm application note; TI UCC28180).",
    );
}
