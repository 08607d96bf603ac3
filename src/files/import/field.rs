//! What a column can hold.

use serde::{Deserialize, Serialize};
use strum::{EnumString, IntoStaticStr, VariantArray};

use crate::files::cell::unit::{Kind, Unit};

/// What a table is read as.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[derive(Serialize, Deserialize, EnumString, IntoStaticStr, VariantArray)]
#[serde(rename_all = "snake_case")]
#[strum(serialize_all = "snake_case")]
pub enum Target {
    /// A list of parts one can buy.
    #[default]
    Parts,
    /// A parts list of a board: designators and values.
    Positions,
    /// Where the parts of a board sit.
    Placement,
    /// Prices and stock of a supplier, by part number.
    Offers,
}

impl Target {
    /// Whether it is about a board.
    pub fn is_of_board(self) -> bool {
        matches!(self, Self::Positions | Self::Placement)
    }

    /// Name on the command line and in files.
    pub fn word(self) -> &'static str {
        self.into()
    }
}

/// Writes the fields once: as variants, with the words people see, and with the quantity their cells hold.
macro_rules! fields {
    ($($field:ident: $label:literal, $kind:expr;)*) => {
        /// What the cells of a column are read as.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(rename_all = "snake_case")]
        pub enum Field { $(#[doc = $label] $field,)* }

        impl Field {
            /// Every field, in the order in which a person looks for them.
            pub const ALL: &'static [Self] = &[$(Self::$field),*];

            /// Name for people.
            pub fn label(self) -> &'static str {
                match self { $(Self::$field => $label,)* }
            }

            /// The quantity of numbers in such a column; `None` for texts and plain numbers.
            pub fn kind(self) -> Option<Kind> {
                match self { $(Self::$field => $kind,)* }
            }
        }
    };
}

fields! {
    PartNumber: "part number", None;
    Maker: "maker", None;
    Series: "series", None;
    Value: "value (capacitance, maybe more)", Some(Kind::Capacitance);
    Capacitance: "capacitance", Some(Kind::Capacitance);
    CapacitanceUnit: "unit of the capacitance", None;
    RatedV: "rated voltage", Some(Kind::Voltage);
    SurgeV: "surge voltage", Some(Kind::Voltage);
    Tolerance: "tolerance", Some(Kind::Share);
    Ripple: "rated ripple current", Some(Kind::Current);
    RippleHz: "frequency of the ripple current", Some(Kind::Frequency);
    F50: "ripple multiplier at 50 Hz", None;
    F120: "ripple multiplier at 120 Hz", None;
    F300: "ripple multiplier at 300 Hz", None;
    F1k: "ripple multiplier at 1 kHz", None;
    F10k: "ripple multiplier at 10 kHz", None;
    F100k: "ripple multiplier at 100 kHz", None;
    FreqFactors: "ripple multipliers by frequency", None;
    OwnName: "figure of the catalogue by its own name", None;
    Endurance: "endurance", Some(Kind::Time);
    EnduranceBasis: "endurance basis", None;
    Temperature: "operating temperatures", Some(Kind::Temperature);
    TempMin: "lower temperature", Some(Kind::Temperature);
    TempMax: "upper temperature", Some(Kind::Temperature);
    Esr: "ESR or impedance", Some(Kind::Resistance);
    EsrHz: "frequency of the ESR", Some(Kind::Frequency);
    TanDelta: "dissipation factor", Some(Kind::Share);
    Leakage: "leakage current", Some(Kind::Current);
    MeasuredUf: "capacitance as measured", Some(Kind::Capacitance);
    MeasuredEsr: "ESR as measured", Some(Kind::Resistance);
    Size: "size", Some(Kind::Length);
    Footprint: "footprint or case", Some(Kind::Length);
    Diameter: "diameter", Some(Kind::Length);
    Height: "height", Some(Kind::Length);
    DiameterMax: "largest diameter", Some(Kind::Length);
    HeightMax: "largest height", Some(Kind::Length);
    Pitch: "lead spacing", Some(Kind::Length);
    LeadDiameter: "lead diameter", Some(Kind::Length);
    Type: "type or symbol", None;
    Mounting: "mounting", None;
    Description: "description or remark", None;
    Status: "market status", None;
    Supplier: "supplier", None;
    SupplierPartNumber: "supplier's number", None;
    Stock: "stock", None;
    LeadTime: "lead time, days", None;
    Price: "unit price", None;
    PricePer: "pieces the price is for", None;
    PriceBreaks: "price breaks", None;
    Currency: "currency", None;
    Moq: "smallest order", None;
    Pack: "pack", None;
    Datasheet: "data sheet", None;
    Designator: "designator", None;
    Quantity: "quantity", None;
    Fitted: "fitted or left out", None;
    X: "x", Some(Kind::Length);
    Y: "y", Some(Kind::Length);
    Rotation: "rotation", None;
    Side: "side", None;
}

impl Field {
    /// What an offer says at least one of.
    pub(super) const OF_OFFERS: [Self; 3] = [Self::Price, Self::PriceBreaks, Self::Stock];

    /// The field of this name in a mapping file.
    pub fn of_key(key: &str) -> Option<Self> {
        serde_json::from_value(key.into()).ok()
    }

    /// Whether several columns may hold it: what one leaves open another may say.
    pub fn repeats(self) -> bool {
        use Field::{Description, Fitted, Footprint, OwnName, PriceBreaks, Ripple, Type, Value};
        [Value, Description, Type, Footprint, Ripple, PriceBreaks, OwnName, Fitted].contains(&self)
    }

    /// Whether it makes sense for a target.
    pub fn serves(self, target: Target) -> bool {
        use Field::{Description, Designator, Footprint, OwnName, PartNumber, PriceBreaks, Quantity, Rotation, Side};
        use Field::{Stock, Supplier, SupplierPartNumber, Value, X, Y};
        let place = [Designator, X, Y, Rotation, Side].contains(&self);
        match target {
            Target::Parts => !place && ![Self::Fitted, Self::MeasuredUf, Self::MeasuredEsr].contains(&self),
            // Prices of a board's list are those of its other parts.
            Target::Positions => ![PriceBreaks, Stock, OwnName].contains(&self),
            Target::Placement => place || [Value, Footprint, Description].contains(&self),
            Target::Offers => self.is_of_sale() || [PartNumber, Supplier, SupplierPartNumber, Quantity].contains(&self),
        }
    }

    /// Whether it is a term of sale.
    pub(super) fn is_of_sale(self) -> bool {
        use Field::{Currency, LeadTime, Moq, Pack, Price, PriceBreaks, PricePer, Stock};
        [Stock, LeadTime, Price, PricePer, PriceBreaks, Currency, Moq, Pack].contains(&self)
    }

    /// Units a bare number of this field may have, for the question which one.
    pub fn units(self) -> &'static [Unit] {
        match self {
            Self::TanDelta | Self::Tolerance => &[Unit::Percent, Unit::Ratio],
            Self::Leakage => &[Unit::Microampere, Unit::Milliampere],
            _ => match self.kind() {
                Some(Kind::Capacitance) => &[Unit::Microfarad, Unit::Nanofarad, Unit::Picofarad, Unit::Millifarad],
                Some(Kind::Current) => &[Unit::Milliampere, Unit::Ampere],
                Some(Kind::Resistance) => &[Unit::Milliohm, Unit::Ohm],
                Some(Kind::Length) => &[Unit::Millimetre, Unit::Mil, Unit::Inch],
                Some(Kind::Frequency) => &[Unit::Hertz, Unit::Kilohertz],
                Some(Kind::Voltage) => &[Unit::Volt],
                Some(Kind::Temperature) => &[Unit::Celsius],
                Some(Kind::Time) => &[Unit::Hour],
                _ => &[],
            },
        }
    }
}
