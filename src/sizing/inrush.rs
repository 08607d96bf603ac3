//! What a reservoir or link does to the supply at switch-on, and how long it carries its load alone.

use super::stored_energy::highest_v;
use crate::domain::{Can, Job, PositionId, Role};
use crate::physics::energy::{charging_resistor_ohm, hold_up_s, stored_j};

/// From this multiple of the original's energy on the rectifier, the fuse and the inrush limiter are to be looked at (common
/// practice, no source).
pub const LOOK_AT_SUPPLY_FROM: f64 = 1.5;

/// A part as the supply sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inrush {
    /// Highest voltage of the position, V.
    pub peak_v: f64,
    /// Capacitance of the part, F.
    pub capacitance_f: f64,
    /// Energy of the part at that voltage, J.
    pub energy_j: f64,
    /// The same over that of the original; `None` where its capacitance is not known.
    pub over_original: Option<f64>,
}

impl Inrush {
    /// Whether the supply is to be looked at.
    pub fn look_at_supply(&self) -> bool {
        self.over_original.is_some_and(|times| times > LOOK_AT_SUPPLY_FROM)
    }

    /// Resistor that keeps the charging current at `current_max_a`, Ω; it takes [`energy_j`](Self::energy_j) once.
    pub fn resistor_ohm(&self, current_max_a: f64) -> Option<f64> {
        charging_resistor_ohm(self.peak_v, current_max_a)
    }

    /// Time the part feeds `power_w` from `from_v` down to `to_v`, s.
    pub fn hold_up_s(&self, from_v: f64, to_v: f64, power_w: f64) -> Option<f64> {
        hold_up_s(self.capacitance_f, from_v, to_v, power_w)
    }
}

/// The part at a reservoir or DC link; `None` at other positions and where voltage or capacitance are not known.
pub fn inrush(job: &Job, id: PositionId, can: &Can) -> Option<Inrush> {
    let position = job.position(id)?;
    let concerned = matches!(position.role, Some(Role::Reservoir | Role::DcLink));
    let (peak_v, _) = highest_v(position).filter(|_| concerned)?;
    let capacitance_f = can.capacitance_uf? * 1e-6;
    let original_uf = position.original.can.capacitance_uf;
    Some(Inrush {
        peak_v,
        capacitance_f,
        energy_j: stored_j(capacitance_f, peak_v)?,
        over_original: original_uf.map(|original_uf| capacitance_f * 1e6 / original_uf),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sizing::testing::{HERE, can, job, position};

    #[test]
    fn a_reservoir_of_twice_the_capacitance_is_to_be_looked_at() {
        let mut here = position();
        here.role = Some(Role::Reservoir);
        (here.stress.dc_v, here.stress.ripple_peak_v, here.stress.transient_v) = (Some(390.0), Some(0.0), None);
        here.original.can.capacitance_uf = Some(123.5);
        let part = Can { capacitance_uf: Some(247.0), ..can() };
        let found = inrush(&job(here.clone()), HERE, &part).unwrap();
        assert_eq!((found.over_original, found.look_at_supply()), (Some(2.0), true));
        // TI UCC28180 data sheet p. 30: 247 uF hold 360 W from 390 to 300 V for 21.28 ms.
        assert!((found.hold_up_s(390.0, 300.0, 360.0).unwrap() - 21.28e-3).abs() < 5e-5);
        assert_eq!(found.resistor_ohm(39.0), Some(10.0));
        here.role = Some(Role::Decoupling);
        assert_eq!(inrush(&job(here), HERE, &part), None);
    }
}
