//! The room a can takes.

use crate::domain::{Can, Mounting};

/// The largest body a can may have, and the space its vent needs. Each `None` where a figure is missing.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Body {
    /// Largest diameter, mm.
    pub diameter_max_mm: Option<f64>,
    /// Largest height above the board, mm; the diameter for an axial part, which lies down.
    pub height_max_mm: Option<f64>,
    /// Free space to leave above the body, mm.
    pub vent_mm: Option<f64>,
    /// Whether the largest diameter was derived from the nominal one.
    pub diameter_assumed: bool,
    /// Whether the largest height was derived from the nominal one.
    pub height_assumed: bool,
}

/// Largest body of `can`: its own figures (never less than nominal), else nominal plus tolerance. Mounting absent counts as radial (assumed).
///
/// Tolerances: radial D+0.5, H+1.0 up to 16 mm, H+2.0 above (published, Panasonic SU data sheet); snap-in and screw D+1.0,
/// H+2.0 (published, Vishay 056/057 data sheet); axial D+0.5; SMD D+0.3, H+0.3 (from memory).
///
/// ```
/// use refarad::{domain::{Can, Mounting}, physics::body};
/// // Vishay 056/057, document 28340, page 3: D 25 at most 26 mm, L at most 2 mm over nominal.
/// let can = Can { mounting: Some(Mounting::SnapIn), diameter_mm: Some(25.0), height_mm: Some(30.0), ..Can::default() };
/// let body = body::of(&can);
/// assert_eq!((body.diameter_max_mm, body.height_max_mm), (Some(26.0), Some(32.0)));
/// ```
pub fn of(can: &Can) -> Body {
    let mounting = can.mounting.unwrap_or(Mounting::Radial);
    let diameter_tolerance_mm = match mounting {
        Mounting::Radial | Mounting::Axial => 0.5,
        Mounting::SnapIn | Mounting::Screw => 1.0,
        Mounting::Smd => 0.3,
    };
    let height_tolerance_mm = |height_mm: f64| match mounting {
        Mounting::Radial | Mounting::Axial if height_mm <= 16.0 => 1.0,
        Mounting::Smd => 0.3,
        _ => 2.0,
    };
    let derived_diameter_mm = can.diameter_mm.map(|d| d + diameter_tolerance_mm);
    let derived_height_mm = can.height_mm.map(|h| h + height_tolerance_mm(h));
    // A largest body below the nominal one is a slip of the sheet: the larger figure counts.
    let own = |largest: Option<f64>, nominal: Option<f64>| largest.map(|own| nominal.map_or(own, |n| own.max(n)));
    let diameter_max_mm = own(can.diameter_max_mm, can.diameter_mm).or(derived_diameter_mm);
    let diameter_assumed = can.diameter_max_mm.is_none() && derived_diameter_mm.is_some();
    if mounting == Mounting::Axial {
        return Body {
            diameter_max_mm,
            height_max_mm: diameter_max_mm,
            vent_mm: Some(0.0),
            diameter_assumed,
            height_assumed: false,
        };
    }
    Body {
        diameter_max_mm,
        height_max_mm: own(can.height_max_mm, can.height_mm).or(derived_height_mm),
        vent_mm: can.diameter_mm.map(vent_clearance_mm),
        diameter_assumed,
        height_assumed: can.height_max_mm.is_none() && derived_height_mm.is_some(),
    }
}

/// Longest body of a can that lies down, mm: its own largest length (never less than nominal), else the nominal one.
///
/// ```
/// use refarad::domain::Can;
/// // By the rule above: 30 mm nominal, 31.5 mm at most.
/// let can = Can { height_mm: Some(30.0), height_max_mm: Some(31.5), ..Can::default() };
/// assert_eq!(refarad::physics::body::lying_length_mm(&can), Some(31.5));
/// ```
pub fn lying_length_mm(can: &Can) -> Option<f64> {
    [can.height_mm, can.height_max_mm].into_iter().flatten().reduce(f64::max)
}

/// Free space above a vent by nominal can diameter, mm: 2 up to 16 mm, 3 up to 40 mm, 5 above (published, KEMET ESC data
/// sheet A4006); none below 6 mm.
///
/// ```
/// // KEMET ESC, A4006, page 10: 2 mm up to 16 mm, 3 mm up to 40 mm, 5 mm above.
/// assert_eq!([16.0, 40.0, 51.0].map(refarad::physics::body::vent_clearance_mm), [2.0, 3.0, 5.0]);
/// ```
pub fn vent_clearance_mm(diameter_mm: f64) -> f64 {
    match diameter_mm {
        d if d < 6.0 => 0.0,
        d if d <= 16.0 => 2.0,
        d if d <= 40.0 => 3.0,
        _ => 5.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_axial_part_is_as_high_as_it_is_thick_and_needs_no_vent_space() {
        let can =
            Can { mounting: Some(Mounting::Axial), diameter_mm: Some(10.0), height_mm: Some(30.0), ..Can::default() };
        let body = of(&can);
        assert_eq!((body.height_max_mm, body.vent_mm), (Some(10.5), Some(0.0)));
    }

    #[test]
    fn own_figures_win_and_missing_ones_stay_missing() {
        let can = Can { height_max_mm: Some(12.0), ..Can::default() };
        let body = of(&can);
        assert_eq!((body.diameter_max_mm, body.height_max_mm, body.vent_mm), (None, Some(12.0), None));
        assert!(!body.height_assumed && !body.diameter_assumed);
    }
}
