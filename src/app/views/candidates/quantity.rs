//! The numbers a candidate has, from the catalogue or from its check, and their units.

use crate::app::state::{Kept, Rows};
use crate::domain::{Bounds, Can, CanColumns, Catalog, PartId, Trade, Unit};
use crate::files::entry;
use crate::sizing::{Figures, PositionContext, Terms};

/// What a number typed without a unit is taken in: shares stand as percent on screen.
pub(crate) fn plain(unit: Unit) -> f64 {
    if unit == Unit::Share { 0.01 } else { 1.0 }
}

/// The size of a typed unit in the unit the figures are kept in; `None` when it is another unit.
pub(crate) fn size_of(unit: Unit, typed: &str) -> Option<f64> {
    // `1 u7` would be read as 1.7 µF.
    let is_unit = !typed.contains(|c: char| c.is_ascii_digit());
    is_unit.then(|| entry::read(unit, Bounds::Signed, &format!("1 {typed}")).ok().flatten())?
}

/// A number of the catalogue.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Field {
    pub of_can: fn(&Can) -> Option<f64>,
    pub in_row: fn(&CanColumns, usize) -> Option<f64>,
}

/// A number a candidate has.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Quantity {
    /// What came out of the check.
    Kept(Kept),
    /// What the data sheet says.
    Field(Field),
    /// Terms of sale.
    Trade(fn(&Trade) -> Option<f64>),
    /// Price of one piece when few are bought.
    Price,
    /// Price of all pieces needed at the position.
    ForNeed,
}

impl Quantity {
    /// The number of a row; NaN where it is not known.
    pub(crate) fn in_row(self, rows: &Rows, catalog: &Catalog, row: usize) -> f64 {
        let of_part = |of: &dyn Fn(PartId) -> Option<f64>| rows.id(row).and_then(of).unwrap_or(f64::NAN);
        match self {
            Self::Kept(kept) => rows.figure(kept, row),
            Self::Field(field) => of_part(&|id| (field.in_row)(catalog.columns(), id.0 as usize)),
            Self::Trade(of) => rows.terms(catalog, row).and_then(|terms| of(&terms.trade)).unwrap_or(f64::NAN),
            Self::Price => rows.terms(catalog, row).and_then(|terms| terms.small_price).unwrap_or(f64::NAN),
            Self::ForNeed => rows.cost(row),
        }
    }

    /// The number of one candidate at `place`; `id` is `None` for the original.
    pub(crate) fn of(
        self,
        figures: &Figures,
        can: &Can,
        catalog: &Catalog,
        id: Option<PartId>,
        place: &PositionContext,
    ) -> Option<f64> {
        let terms = |id| Terms::of(catalog, id, place.offer_of_need(catalog, id));
        match self {
            Self::Kept(kept) => kept.of(figures),
            Self::Field(field) => (field.of_can)(can),
            Self::Trade(of) => of(&terms(id?).trade),
            Self::Price => terms(id?).small_price,
            Self::ForNeed => place.cost_of_need(catalog, id?),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_are_known_however_they_are_typed() {
        for typed in ["uF", "UF", "µF", "μF", "u"] {
            assert_eq!(size_of(Unit::Microfarad, typed), Some(1.0), "{typed}");
        }
        assert_eq!(size_of(Unit::Celsius, "°c"), Some(1.0));
        assert_eq!(size_of(Unit::Volt, "mm"), None);
        assert_eq!(size_of(Unit::Milliohm, "ohm"), Some(1000.0));
        assert_eq!((size_of(Unit::Share, "%"), size_of(Unit::Microfarad, "u7")), (Some(0.01), None));
        assert_eq!((size_of(Unit::Year, "years"), size_of(Unit::Year, "obsolete")), (Some(1.0), None));
    }
}
