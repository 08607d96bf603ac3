//! The numbers a candidate has, from the catalogue or from its check, and their units.

use crate::app::state::candidates::{Kept, Rows};
use crate::domain::{Can, CanColumns, Catalog, PartId, Trade};
use crate::sizing::Figures;

/// A unit, with the ways to type it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Unit {
    /// µF.
    Microfarad,
    /// V.
    Volt,
    /// A.
    Ampere,
    /// µA.
    Microampere,
    /// mΩ.
    Milliohm,
    /// mm.
    Millimetre,
    /// °C.
    Celsius,
    /// K.
    Kelvin,
    /// Years.
    Year,
    /// h.
    Hour,
    /// Days.
    Day,
    /// Figures kept as a share and shown as percent.
    Percent,
    /// A percentage as it stands in data sheets.
    PlainPercent,
    /// Pieces.
    Piece,
    /// The currency of the list.
    Money,
}

impl Unit {
    /// How it is written.
    pub(crate) fn symbol(self) -> &'static str {
        self.spellings().first().map_or("", |(symbol, _)| symbol)
    }

    /// The ways to type it, the usual one first, each with its size in the unit the figures are kept in.
    pub(crate) fn spellings(self) -> &'static [(&'static str, f64)] {
        match self {
            Self::Microfarad => {
                &[("µF", 1.0), ("uF", 1.0), ("µ", 1.0), ("u", 1.0), ("mF", 1e3), ("nF", 1e-3), ("n", 1e-3), ("F", 1e6)]
            }
            Self::Volt => &[("V", 1.0), ("mV", 1e-3), ("kV", 1e3)],
            Self::Ampere => &[("A", 1.0), ("mA", 1e-3)],
            Self::Microampere => &[("µA", 1.0), ("uA", 1.0), ("mA", 1e3)],
            Self::Milliohm => &[("mΩ", 1.0), ("mohm", 1.0), ("m", 1.0), ("Ω", 1e3), ("ohm", 1e3), ("R", 1e3)],
            Self::Millimetre => &[("mm", 1.0), ("cm", 10.0)],
            Self::Celsius => &[("°C", 1.0), ("C", 1.0)],
            Self::Kelvin => &[("K", 1.0)],
            Self::Year => &[("years", 1.0), ("year", 1.0), ("y", 1.0)],
            Self::Hour => &[("h", 1.0), ("hours", 1.0), ("kh", 1e3)],
            Self::Day => &[("days", 1.0), ("day", 1.0), ("d", 1.0)],
            Self::Percent => &[("%", 0.01)],
            Self::PlainPercent => &[("%", 1.0)],
            Self::Piece => &[("pieces", 1.0), ("pcs", 1.0)],
            Self::Money => &[],
        }
    }

    /// What a number without a unit is taken in.
    pub(crate) fn plain(self) -> f64 {
        if self == Self::Percent { 0.01 } else { 1.0 }
    }

    /// The size of a typed unit, upper and lower case alike; `None` when it is another unit.
    pub(crate) fn size_of(self, typed: &str) -> Option<f64> {
        let typed = plain_micro(typed).to_lowercase();
        let same = |(spelling, _): &&(&str, f64)| plain_micro(spelling).to_lowercase() == typed;
        self.spellings().iter().find(same).map(|(_, size)| *size)
    }
}

/// Two signs look like a micro; one of them is enough.
fn plain_micro(text: &str) -> String {
    text.replace('μ', "µ")
}

/// A number of the catalogue.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Field {
    /// From one part.
    pub of_can: fn(&Can) -> Option<f64>,
    /// From the columns of the catalogue.
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
            Self::Trade(of) => of_part(&|id| of(&catalog.trade(id))),
            Self::Price => of_part(&|id| catalog.small_price(id)),
            Self::ForNeed => rows.cost(row),
        }
    }

    /// The number of one candidate; `id` is `None` for the original, `cost_of_need` what the pieces needed at the position cost.
    pub(crate) fn of(
        self,
        figures: &Figures,
        can: &Can,
        catalog: &Catalog,
        id: Option<PartId>,
        cost_of_need: impl FnOnce(PartId) -> Option<f64>,
    ) -> Option<f64> {
        match self {
            Self::Kept(kept) => kept.of(figures),
            Self::Field(field) => (field.of_can)(can),
            Self::Trade(of) => of(&catalog.trade(id?)),
            Self::Price => catalog.small_price(id?),
            Self::ForNeed => cost_of_need(id?),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_are_known_however_they_are_typed() {
        for typed in ["uF", "UF", "µF", "μF", "u"] {
            assert_eq!(Unit::Microfarad.size_of(typed), Some(1.0), "{typed}");
        }
        assert_eq!(Unit::Celsius.size_of("°c"), Some(1.0));
        assert_eq!(Unit::Volt.size_of("mm"), None);
        assert_eq!(Unit::Milliohm.size_of("ohm"), Some(1000.0));
    }
}
