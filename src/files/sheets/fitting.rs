//! What the technician has to know to take the old part out and fit the new one, in words.

use super::html::known;
use crate::domain::safety::{DISCHARGE_OHM, SAFE_V};
use crate::domain::{Can, Catalog, Check, Job, Mounting, Outcome, Position, Side, Technology};
use crate::physics::body;
use crate::sizing::reasons::{all_known, figure};
use crate::sizing::stored_energy::{StoredEnergy, all_stored_as_chosen};
use crate::sizing::{Evaluation, FitFault, Sizing};

/// Lead spacing taken as it is, mm (maker tolerance).
const PITCH_AS_IT_IS_MM: f64 = 0.5;
/// Standing cans from this diameter need more hold than their leads, mm (common practice, no source).
const SECURE_FROM_MM: f64 = 16.0;

/// Value, voltage and temperature of a can in one line.
pub(super) fn rating(can: &Can) -> String {
    all_known(&[(can.capacitance_uf, "µF"), (can.rated_v, "V"), (can.temp_max_c, "°C")]).join(" ")
}

/// Diameter and height, mm: nominal, else at most; what is not known is left out and said.
pub(super) fn size(can: &Can) -> String {
    let mm = |nominal: Option<f64>, largest: Option<f64>| match (nominal, largest) {
        (Some(nominal), _) => Some(figure(nominal)),
        (None, Some(largest)) => Some(format!("at most {}", figure(largest))),
        (None, None) => None,
    };
    match (mm(can.diameter_mm, can.diameter_max_mm), mm(can.height_mm, can.height_max_mm)) {
        (Some(diameter), Some(height)) => format!("Ø {diameter} × {height} mm"),
        (Some(diameter), None) => format!("Ø {diameter} mm, height not known"),
        (None, Some(height)) => format!("diameter not known, height {height} mm"),
        (None, None) => "size not known".to_owned(),
    }
}

/// Where the positive lead goes.
pub fn polarity(position: &Position, new: Option<&Can>) -> String {
    let shown = new.unwrap_or(&position.original.can);
    if shown.technology == Some(Technology::NonPolar) {
        return "none: either way round".to_owned();
    }
    let Some(turn) = position.rotation_deg else {
        return "not recorded: mark + on the board before the old part comes out".to_owned();
    };
    // The bottom is drawn as seen from below: left and right change places.
    let below = position.side == Some(Side::Bottom);
    let turn = if below { 180.0 - turn } else { turn }.rem_euclid(360.0);
    let towards = match turn {
        t if !(22.5..337.5).contains(&t) => "to the right".to_owned(),
        t if (67.5..112.5).contains(&t) => "to the top".to_owned(),
        t if (157.5..202.5).contains(&t) => "to the left".to_owned(),
        t if (247.5..292.5).contains(&t) => "to the bottom".to_owned(),
        t => format!("at {}° on the map", figure(t)),
    };
    let from_below = if below { ", seen from below" } else { "" };
    format!("+ {towards}{from_below}")
}

/// How the new part is fitted, a clause each.
pub fn how_to_fit(position: &Position, can: &Can, evaluation: &Evaluation) -> Vec<String> {
    let mut clauses = Vec::new();
    let mounting = can.mounting.unwrap_or(Mounting::Radial);
    let holes = position.space.pitch_mm.or(position.original.can.pitch_mm);
    match mounting {
        Mounting::Radial => match (can.pitch_mm, holes) {
            (Some(own), Some(holes)) if (own - holes).abs() > PITCH_AS_IT_IS_MM => {
                clauses.push(format!("form the leads from {} to {} mm, not at the seal", figure(own), figure(holes)));
            }
            (Some(_), Some(_)) => clauses.push("leads straight".into()),
            _ => clauses.push("lead spacing unknown: try it first".into()),
        },
        Mounting::Axial => {
            clauses.push(format!("form the leads to {}, not at the seal; body flat on the board", known(holes, "mm")));
        }
        Mounting::SnapIn => clauses.push("press in square until it sits flat".into()),
        Mounting::Screw => clauses.push("tighten as the data sheet says, vent not downwards".into()),
        Mounting::Smd => clauses.push("bevelled base corners at +; heat no longer than the data sheet says".into()),
    }
    if mounting == Mounting::Radial && can.diameter_mm.is_some_and(|d| d >= SECURE_FROM_MM) {
        clauses.push("secure the body with neutral silicone, none on the vent".into());
    }
    match body::of(can).vent_mm {
        Some(vent) if vent > 0.0 && mounting != Mounting::Smd => {
            clauses.push(format!("keep {} mm over the vent free", figure(vent)));
        }
        None => clauses.push("keep the space over the vent free".into()),
        Some(_) => {}
    }
    let tight = match (evaluation.fit_fault, evaluation.outcome(Check::Fit)) {
        (FitFault::Diameter, Outcome::Marginal) => "tight in width: try it before soldering",
        (FitFault::Height, Outcome::Marginal) => "vent space short: check under the lid",
        (FitFault::Lead, Outcome::Marginal) => "leads tight in the holes: do not force",
        (FitFault::Neighbour, Outcome::Marginal) => "close to its neighbour: check the gap",
        (FitFault::None, _) | (_, Outcome::Pass | Outcome::Marginal) => "",
        (_, Outcome::Unknown) => "fit not proven: try it before soldering",
        (_, Outcome::Fail) => "does not fit by its figures: ask the engineer",
    };
    if !tight.is_empty() {
        clauses.push(tight.to_owned());
    }
    clauses
}

/// Stored energy and discharge of a position.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Charge {
    pub volt: f64,
    /// What reaches that voltage.
    pub volt_of: &'static str,
    pub energy_j: f64,
    /// Whether that is the energy of all cans of a parallel group.
    pub of_group: bool,
    /// Seconds until [`SAFE_V`] through [`DISCHARGE_OHM`].
    pub safe_after_s: Option<f64>,
    /// Highest voltage across its series string, V, where that is more.
    pub string_v: Option<f64>,
    /// Above 60 V, alone or across its string, or 10 J.
    pub caution: bool,
}

/// The charge of every position of a sized job in its order.
pub(super) fn charges(job: &Job, catalog: &Catalog, sizing: &Sizing) -> Vec<Option<Charge>> {
    all_stored_as_chosen(job, catalog, sizing).iter().map(|stored| charge(stored.as_ref()?)).collect()
}

/// The charge of a position, its parallel group counted, at the highest voltage; `None` where a figure is missing.
fn charge(stored: &StoredEnergy) -> Option<Charge> {
    let (volt, volt_of) = stored.highest_v?;
    Some(Charge {
        volt,
        volt_of,
        energy_j: stored.together_j?,
        of_group: stored.in_group(),
        string_v: stored.string_v.filter(|&string_v| string_v > volt),
        safe_after_s: stored.time_to_safe_s(DISCHARGE_OHM),
        caution: stored.caution != Some(false),
    })
}

impl Charge {
    /// The energy in J, small ones in mJ.
    pub(super) fn energy(&self) -> String {
        let (value, unit) =
            if self.energy_j > 0.0 && self.energy_j < 0.1 { (self.energy_j * 1e3, "mJ") } else { (self.energy_j, "J") };
        let energy =
            if value > 0.0 && value < 0.1 { format!("below 0.1 {unit}") } else { format!("{} {unit}", figure(value)) };
        let group = if self.of_group { " with its group" } else { "" };
        let string = self.string_v.map_or_else(String::new, |volt| format!(", {} V across its string", figure(volt)));
        format!("{energy}{group}{string}")
    }

    /// The discharge in words.
    pub(super) fn discharge(&self) -> String {
        match self.safe_after_s {
            Some(seconds) if seconds > 0.0 => {
                format!("{} through {} kΩ to {SAFE_V} V", self.time_to_safe(), DISCHARGE_OHM / 1e3)
            }
            _ => self.time_to_safe(),
        }
    }

    /// How long the discharge through the usual resistor takes, or that there is no need.
    pub(super) fn time_to_safe(&self) -> String {
        match self.safe_after_s {
            Some(seconds) if seconds <= 0.0 => format!("below {SAFE_V} V"),
            Some(seconds) => format!("{} s", seconds_text(seconds)),
            None => "discharge time unknown".into(),
        }
    }
}

/// Seconds, rounded up so that nobody waits too short.
fn seconds_text(seconds: f64) -> String {
    if seconds < 0.1 { "0.1".to_owned() } else { format!("{:.1}", (seconds * 10.0).ceil() / 10.0) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Board;

    #[test]
    fn polarity_is_told_in_the_directions_of_the_map() {
        let told = |turn: f64| polarity(&Position { rotation_deg: Some(turn), ..Position::default() }, None);
        assert_eq!(told(0.0), "+ to the right");
        assert_eq!(told(-90.0), "+ to the bottom");
        assert_eq!(told(450.0), "+ to the top");
        assert_eq!(told(179.0), "+ to the left");
        assert_eq!(told(135.0), "+ at 135° on the map");
        assert!(polarity(&Position::default(), None).contains("mark +"));
        let nonpolar = Can { technology: Some(Technology::NonPolar), ..Can::default() };
        assert!(polarity(&Position::default(), Some(&nonpolar)).contains("either way"));
    }

    #[test]
    fn cans_of_a_group_are_told_and_discharged_together() {
        let mut position = Position { parallel_group: Some("bulk".into()), ..Position::default() };
        position.stress.dc_v = Some(40.0);
        position.original.can.capacitance_uf = Some(10_000.0);
        let of = |positions: Vec<Position>| {
            let job = Job { boards: vec![Board { positions, ..Board::default() }], ..Job::default() };
            let sizing = crate::sizing::size(&job, &crate::sizing::CatalogIndex::default());
            charges(&job, &Catalog::default(), &sizing).swap_remove(0)
        };
        // By hand: 0.01 x 40^2 / 2 = 8 J; two of them are above 10 J.
        let alone = of(vec![position.clone()]).unwrap();
        assert_eq!((alone.energy().as_str(), alone.caution), ("8 J", false));
        assert_eq!(alone.discharge(), "below 60 V");
        let both = of(vec![position.clone(); 2]).unwrap();
        assert_eq!((both.energy().as_str(), both.caution), ("16 J with its group", true));
        assert_eq!(both.discharge(), "below 60 V");
        position.stress.dc_v = None;
        assert_eq!(of(vec![position]), None);
    }
}
