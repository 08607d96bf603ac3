//! The caution at positions that store much energy or stand at a dangerous voltage.

use egui::{Button, Popup, RichText, Role, Stroke, Ui, WidgetInfo};

use crate::app::state::Scene;
use crate::app::widgets::wording::{UNKNOWN, width, with_unit};
use crate::app::widgets::{explain, theme};
use crate::domain::safety::{DISCHARGE_OHM, SAFE_V, WITHIN_S, before_touching};
use crate::domain::{Outcome, PositionId};
use crate::sizing::{stored_energy::StoredEnergy, stored_energy::stored_as_chosen};

/// What is stored at a position that calls for the caution.
pub(crate) fn stored(scene: &Scene, id: PositionId) -> Option<StoredEnergy> {
    let stored = stored_as_chosen(scene.job, scene.catalog, scene.sizing, id);
    stored.filter(|stored| stored.caution == Some(true))
}

/// The caution in words: in full where there is `room`, else as short as it can be.
pub(crate) fn words(ui: &Ui, stored: &StoredEnergy, room: f32) -> String {
    let volt = stored.highest_v.map(|(volt_v, _)| volt_v);
    let short = format!("Caution: {}, {}", with_unit(stored.energy_j, "J"), with_unit(volt, "V"));
    let all = [in_full(stored), short];
    all.into_iter().find(|words| width(ui, words) + 24.0 < room).unwrap_or_else(|| "Caution".to_owned())
}

fn in_full(stored: &StoredEnergy) -> String {
    format!("Caution: stored energy {}. Isolate, discharge, verify.", energy(stored))
}

/// Draws the caution into a line; a click tells all of it.
pub(crate) fn show(ui: &mut Ui, stored: &StoredEnergy, words: String) {
    let tokens = theme::tokens(ui);
    let ink = tokens.outcome(Outcome::Marginal).ink;
    let full = in_full(stored);
    let button = Button::new(RichText::new(words).color(ink)).stroke(Stroke::new(1.0, ink));
    let response = ui.add(button);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &full));
    let response = explain::on(response, "stored energy");
    Popup::menu(&response).show(|ui| {
        ui.set_max_width(420.0);
        ui.colored_label(ink, &full);
        if let Some(discharge) = discharge(stored) {
            ui.label(discharge);
        }
        ui.label(before_touching());
    });
}

/// The caution with how to get it down to a safe voltage, in a frame of its own.
pub(crate) fn framed(ui: &mut Ui, stored: &StoredEnergy) {
    let ink = theme::tokens(ui).outcome(Outcome::Marginal).ink;
    egui::Frame::new().stroke(Stroke::new(1.0, ink)).corner_radius(6).inner_margin(8).show(ui, |ui| {
        ui.set_min_width(ui.available_width());
        ui.colored_label(ink, [in_full(stored), discharge(stored).unwrap_or_default()].join(" ").trim());
    });
}

fn energy(stored: &StoredEnergy) -> String {
    let (volt_v, of) = stored.highest_v.map_or((None, UNKNOWN), |(volt_v, of)| (Some(volt_v), of));
    let group = match stored.together_j.filter(|_| stored.in_group()) {
        Some(joule) => format!(", {} with its parallel group,", with_unit(Some(joule), "J")),
        None => String::new(),
    };
    let string = match stored.string_v.filter(|&string_v| volt_v.is_some_and(|volt_v| string_v > volt_v)) {
        Some(string_v) => format!(", {} across its string", with_unit(Some(string_v), "V")),
        None => String::new(),
    };
    format!("{}{group} at {} ({of}){string}", with_unit(stored.energy_j, "J"), with_unit(volt_v, "V"))
}

/// How it gets down to 60 V; `None` where it is there already.
fn discharge(stored: &StoredEnergy) -> Option<String> {
    match (stored.time_to_safe_s(DISCHARGE_OHM), stored.bleeder_ohm) {
        (Some(seconds), Some(ohm)) if seconds > 0.0 => {
            let seconds = with_unit(Some(seconds), "s");
            let [usual, most] = [DISCHARGE_OHM, ohm].map(|ohm| with_unit(Some(ohm / 1e3), "kΩ"));
            Some(format!("To {SAFE_V} V: {seconds} through {usual}; within {WITHIN_S} s through at most {most}."))
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
