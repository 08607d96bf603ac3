//! What arrives is looked at before it goes on a shelf: the limits of every part on the order.

use super::checks::USUAL_TOLERANCE_PCT;
use super::purchase::Purchase;
use crate::domain::{Assumed, Can, Catalog, Mounting};
use crate::physics::body;
use crate::physics::esr::{Ladder, usual_tan_delta};
use crate::physics::leakage::usual_ua;

/// All pieces are measured up to this many, else so many (common practice, no source).
pub const SAMPLE_MAX: u64 = 10;

/// Frequency at which capacitance and dissipation factor are measured, Hz.
pub const MEASURING_HZ: f64 = 120.0;

/// Weights by case of radial cans: nominal diameter and length, mm, and weight, g (published, Vishay Sprague 515D data sheet).
const RADIAL_WEIGHTS_G: [(f64, f64, f64); 12] = [
    (6.3, 11.0, 0.6),
    (8.0, 11.5, 0.95),
    (10.0, 12.5, 1.48),
    (10.0, 16.0, 1.75),
    (10.0, 20.0, 2.37),
    (12.5, 20.0, 3.73),
    (12.5, 25.0, 4.85),
    (16.0, 25.0, 7.08),
    (16.0, 31.5, 8.94),
    (16.0, 35.5, 10.5),
    (18.0, 35.5, 12.53),
    (18.0, 40.0, 15.71),
];

/// The limits one part on an order is held to; each `None` where its sheet does not say.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Limits {
    /// Least and largest capacitance, µF, at [`MEASURING_HZ`].
    pub capacitance_uf: Option<(f64, f64)>,
    /// Largest dissipation factor at [`MEASURING_HZ`].
    pub tan_delta_max: Option<f64>,
    /// Largest ESR, mΩ, and its frequency, Hz.
    pub esr_max: Option<(f64, f64)>,
    /// Largest leakage current at the rated voltage after the maker's time, µA.
    pub leakage_max_ua: Option<f64>,
    /// Rated voltage the leakage is measured at, V.
    pub rated_v: Option<f64>,
    /// Largest diameter, mm.
    pub diameter_max_mm: Option<f64>,
    /// Largest height, or length of a lying part, mm.
    pub height_max_mm: Option<f64>,
    /// Weight of such a case of another maker, g.
    pub weight_g: Option<f64>,
    /// What comes from usual figures and not from the part's own data.
    pub assumed: Assumed,
}

impl Limits {
    /// The limits of a part.
    pub fn of(can: &Can) -> Self {
        let mut assumed = Assumed::default();
        let tolerance = can.tolerance_pct.unwrap_or(USUAL_TOLERANCE_PCT) / 100.0;
        assumed.insert_if(can.tolerance_pct.is_none(), Assumed::TOLERANCE);
        let pair = can.rated_v.zip(can.capacitance_uf);
        let esr_max = can.esr_mohm.zip(can.esr_hz);
        let wet =
            !matches!(can.technology, Some(crate::domain::Technology::Polymer | crate::domain::Technology::Hybrid));
        let usual =
            || Some(pair.filter(|_| wet && esr_max.is_none())?).map(|(v, uf)| usual_tan_delta(Ladder::Part, v, uf));
        let tan_delta_max = can.tan_delta.or_else(usual);
        assumed.insert_if(can.tan_delta.is_none() && tan_delta_max.is_some(), Assumed::TAN_DELTA);
        let leakage = || pair.map(|(rated_v, uf)| usual_ua(can.technology_or_wet(), uf, rated_v));
        assumed.insert_if(can.leakage_ua.is_none() && pair.is_some(), Assumed::LEAKAGE);
        let body = body::of(can);
        assumed.insert_if(body.diameter_assumed, Assumed::DIAMETER_MAX);
        assumed.insert_if(body.height_assumed, Assumed::HEIGHT_MAX);
        let lies = can.mounting == Some(Mounting::Axial);
        Self {
            capacitance_uf: can.capacitance_uf.map(|uf| (uf * (1.0 - tolerance), uf * (1.0 + tolerance))),
            tan_delta_max,
            esr_max,
            leakage_max_ua: can.leakage_ua.or_else(leakage),
            rated_v: can.rated_v,
            diameter_max_mm: body.diameter_max_mm,
            height_max_mm: if lies { body::lying_length_mm(can) } else { body.height_max_mm },
            weight_g: weight_g(can),
            assumed,
        }
    }
}

fn weight_g(can: &Can) -> Option<f64> {
    let (diameter_mm, height_mm) =
        can.diameter_mm.zip(can.height_mm).filter(|_| can.mounting == Some(Mounting::Radial))?;
    RADIAL_WEIGHTS_G.iter().find(|case| case.0 == diameter_mm && case.1 == height_mm).map(|case| case.2)
}

/// One line of an order as it comes in.
#[derive(Debug, Clone, PartialEq)]
pub struct Inspection {
    /// The maker's number.
    pub part_number: String,
    /// Who makes it; empty when unknown.
    pub maker: String,
    /// Who sends it; empty when unknown.
    pub supplier: String,
    /// Pieces ordered; `None` when they cannot be counted.
    pub order_qty: Option<u64>,
    /// Pieces to be measured.
    pub sample: u64,
    /// What they are held to.
    pub limits: Limits,
}

/// Every part that is ordered, suppliers together, in the order of the list.
pub fn inspections(purchase: &Purchase, catalog: &Catalog) -> Vec<Inspection> {
    let ordered = purchase.lines.iter().filter(|line| line.to_order() && line.has_positions());
    let mut all: Vec<Inspection> = ordered
        .map(|line| Inspection {
            part_number: line.told.clone(),
            maker: line.maker.clone(),
            supplier: line.supplier().to_owned(),
            order_qty: line.order_qty,
            sample: line.order_qty.map_or(SAMPLE_MAX, |qty| qty.min(SAMPLE_MAX)),
            limits: line.part.map(|id| Limits::of(&catalog.can(id))).unwrap_or_default(),
        })
        .collect();
    all.sort_by(|a, b| a.supplier.cmp(&b.supplier));
    all
}

/// The names of usual figures in words, for a note.
pub fn usual_words(assumed: Assumed) -> String {
    assumed.words().collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_limits_are_those_of_the_sheet_and_the_weight_that_of_the_published_case() {
        let can = Can {
            mounting: Some(Mounting::Radial),
            capacitance_uf: Some(470.0),
            tolerance_pct: Some(20.0),
            rated_v: Some(25.0),
            tan_delta: Some(0.14),
            diameter_mm: Some(10.0),
            height_mm: Some(16.0),
            ..Can::default()
        };
        let limits = Limits::of(&can);
        assert_eq!(limits.capacitance_uf, Some((376.0, 564.0)));
        assert_eq!((limits.tan_delta_max, limits.leakage_max_ua), (Some(0.14), Some(117.5)));
        assert_eq!((limits.diameter_max_mm, limits.height_max_mm), (Some(10.5), Some(17.0)));
        // Vishay Sprague 515D, case CD: 1.75 g.
        assert_eq!(limits.weight_g, Some(1.75));
        assert_eq!(limits.assumed.list(), "leakage_ua;diameter_max_mm;height_max_mm");
    }

    #[test]
    fn a_part_of_which_nothing_is_known_has_no_limits() {
        assert_eq!(Limits::of(&Can::default()), Limits { assumed: Assumed::TOLERANCE, ..Limits::default() });
    }
}
