//! The caution at positions that store much energy or stand at a dangerous voltage.

use egui::{Align, Frame, Id, Label, Layout, Margin, RichText, Stroke, Ui};

use crate::app::state::scene::Scene;
use crate::app::widgets::explain;
use crate::app::widgets::theme;
use crate::app::widgets::wording::{UNKNOWN, with_unit};
use crate::domain::{Outcome, PositionId};
use crate::sizing::stored_energy::{StoredEnergy, stored_as_chosen};

/// What to do before touching: in the header, in the help, on every sheet for the bench.
pub(crate) const BEFORE_TOUCHING: &str = "Isolate, discharge, verify with a meter. Mind the polarity and keep the vent \
    away from faces and wiring. Local codes and licensed practice decide.";

/// A usual discharge resistor, ohm (common practice, no source).
const DISCHARGE_OHM: f64 = 10_000.0;

/// Draws the caution where the position calls for it.
pub(crate) fn show(ui: &mut Ui, scene: &Scene, id: PositionId) {
    let stored = stored_as_chosen(scene.job, scene.catalog, scene.sizing, id);
    let Some(stored) = stored.filter(|stored| stored.caution == Some(true)) else { return };
    let tokens = theme::tokens(ui);
    let ink = tokens.outcome(Outcome::Marginal).ink;
    let open_id = Id::unique("caution in full");
    let open = ui.data(|data| data.get_temp(open_id).unwrap_or(false));
    let frame = Frame::new().stroke(Stroke::new(1.0, ink)).inner_margin(Margin::symmetric(8, 2));
    frame.show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.horizontal(|ui| {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                let (word, hover) = if open {
                    ("Less", "One line again.")
                } else {
                    ("More", "Discharge time, polarity, vent, who decides.")
                };
                if ui.link(word).on_hover_text(hover).clicked() {
                    ui.data_mut(|data| data.insert_temp(open_id, !open));
                }
                ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                    let first = format!("Caution: stored energy {}. Isolate, discharge, verify.", energy(&stored));
                    let line = ui.add(Label::new(RichText::new(first).color(ink)).truncate());
                    explain::on(line, "stored energy");
                });
            });
        });
        if open {
            if let Some(discharge) = discharge(&stored) {
                ui.label(discharge);
            }
            ui.label(BEFORE_TOUCHING);
        }
    });
}

fn energy(stored: &StoredEnergy) -> String {
    let (volt_v, of) = stored.highest_v.map_or((None, UNKNOWN), |(volt_v, of)| (Some(volt_v), of));
    let group = match stored.together_j.filter(|_| stored.in_group()) {
        Some(joule) => format!(", {} with its parallel group,", with_unit(Some(joule), "J")),
        None => String::new(),
    };
    format!("{}{group} at {} ({of})", with_unit(stored.energy_j, "J"), with_unit(volt_v, "V"))
}

/// How it gets down to 60 V; `None` where it is there already.
fn discharge(stored: &StoredEnergy) -> Option<String> {
    match (stored.time_to_safe_s(DISCHARGE_OHM), stored.bleeder_ohm) {
        (Some(seconds), Some(ohm)) if seconds > 0.0 => {
            let seconds = with_unit(Some(seconds), "s");
            let kilo = with_unit(Some(ohm / 1e3), "kΩ");
            Some(format!("To 60 V: through 10 kΩ in {seconds}; within 5 s through at most {kilo}."))
        }
        (Some(_), _) => None,
        _ => Some("Discharge time unknown.".to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{Board, Catalog, Job, Position};
    use crate::sizing::Sizing;

    #[test]
    fn an_unknown_energy_is_called_unknown() {
        let mut job =
            Job { boards: vec![Board { positions: vec![Position::default()], ..Board::default() }], ..Job::default() };
        job.boards[0].positions[0].stress.dc_v = Some(400.0);
        let id = PositionId::default();
        let stored = stored_as_chosen(&job, &Catalog::default(), &Sizing::default(), id).unwrap();
        assert_eq!(stored.caution, Some(true));
        assert_eq!(energy(&stored), "unknown at 400 V (dc)");
        assert_eq!(discharge(&stored).as_deref(), Some("Discharge time unknown."));
    }
}
