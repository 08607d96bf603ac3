//! What goes into the bag for each unit, and what of the order is left as spares.

use super::asked::whole;
use super::purchase::{Purchase, PurchaseLine};
use crate::domain::{Job, Place, UnitType};

/// Pieces of one part in the bag of a unit.
#[derive(Debug, Clone, PartialEq)]
pub struct KitRow<'a> {
    /// The line of the order.
    pub line: &'a PurchaseLine,
    /// Pieces in one bag.
    pub pieces: u64,
    /// Where they go.
    pub places: Vec<Place>,
}

/// The bags of units that are built alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Kit<'a> {
    /// The units.
    pub of: UnitType,
    /// How many such bags.
    pub bags: u64,
    /// What goes into each.
    pub rows: Vec<KitRow<'a>>,
}

/// The bags of every type of unit: together with [`spares`] they hold what is needed, no more and no less.
pub fn kits<'a>(job: &Job, purchase: &'a Purchase) -> Vec<Kit<'a>> {
    let kit = |of: UnitType| {
        let row = |line: &'a PurchaseLine| {
            let here = |place: &Place| job.pieces_in(&of, *place) > 0.0;
            let places: Vec<Place> = line.places.iter().copied().filter(here).collect();
            let pieces = whole(places.iter().map(|&place| job.pieces_in(&of, place)).sum::<f64>().ceil())?;
            (pieces > 0).then_some(KitRow { line, pieces, places })
        };
        let rows = purchase.lines.iter().filter_map(row).collect();
        Kit { bags: whole(of.units_or_one().ceil()).unwrap_or_default(), rows, of }
    };
    job.unit_types_or_one().into_iter().map(kit).collect()
}

/// Pieces of a line that go into no bag: what is needed beyond what is built in. `None` where the need is not known.
pub fn spares(line: &PurchaseLine) -> Option<u64> {
    line.need_qty?.checked_sub(line.pieces?)
}
