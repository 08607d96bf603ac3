//! The caution at positions that store much energy or stand at a dangerous voltage.

use eframe::egui::{Frame, Margin, Stroke, Ui};

use crate::app::scene::Scene;
use crate::app::selection::Candidate;
use crate::app::wording::with_unit;
use crate::app::{explain, theme};
use crate::domain::{Outcome, Position};
use crate::sizing::{Stored, stored};

/// What to do before touching: in the header, in the help, on every sheet for the bench.
pub(crate) const BEFORE_TOUCHING: &str = "Isolate, discharge, verify with a meter. Mind the polarity and keep the vent \
    away from faces and wiring. Local codes and licensed practice decide.";

/// Draws the caution where the position calls for it.
pub(super) fn show(ui: &mut Ui, scene: &Scene, position: &Position) {
    let chosen_uf = match scene.chosen() {
        Some(Candidate::Part(id)) => scene.catalog.can(id).capacitance_uf,
        _ => None,
    };
    let Some(stored) = stored(position, chosen_uf) else { return };
    let tokens = theme::tokens(ui);
    let ink = tokens.outcome(Outcome::Marginal).ink;
    let frame = Frame::new().stroke(Stroke::new(1.0, ink)).inner_margin(Margin::symmetric(8, 2));
    frame.show(ui, |ui| {
        ui.horizontal_wrapped(|ui| {
            let response = ui.colored_label(ink, format!("Caution: {}.", in_words(&stored)));
            explain::on(response, "stored energy");
            ui.label(BEFORE_TOUCHING);
        });
    });
}

fn in_words(stored: &Stored) -> String {
    let energy = with_unit(stored.energy_j, "J");
    let volts = with_unit(Some(stored.volt_v), "V");
    let discharge = match (stored.through_10k_s, stored.bleeder_ohm) {
        (Some(seconds), Some(ohm)) if seconds > 0.0 => {
            let seconds = with_unit(Some(seconds), "s");
            let kilo = with_unit(Some(ohm / 1e3), "kΩ");
            format!("; to 60 V through 10 kΩ {seconds}, within 5 s through at most {kilo}")
        }
        (Some(_), _) => String::new(),
        _ => "; discharge time unknown".to_owned(),
    };
    format!("stored energy {energy} at {volts}{discharge}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_unknown_energy_is_called_unknown() {
        let stored = Stored { volt_v: 400.0, energy_j: None, through_10k_s: None, bleeder_ohm: None };
        assert_eq!(in_words(&stored), "stored energy unknown at 400 V; discharge time unknown");
    }
}
