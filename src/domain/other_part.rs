//! What is replaced beside the electrolytics while the machine is open, and where to measure.

use super::position::Side;
use super::style::figure;
use super::table::PairTable;
use super::written::{records, words};

words! {
    /// What kind of part.
    pub enum OtherKind {
        /// Relay or contactor.
        Relay,
        /// Fuse.
        Fuse,
        /// Varistor or other arrester.
        Varistor,
        /// Fan.
        Fan,
        /// Battery or cell.
        Battery,
        /// Optocoupler.
        Optocoupler,
        /// Film or paper capacitor.
        FilmCapacitor,
        /// Connector, socket or switch.
        Connector,
        /// Heat-sink pad or paste.
        ThermalMaterial,
        /// What is used up: potting, lacquer, ties.
        Consumable,
        /// Anything else.
        Other,
    }

    /// Why it is replaced.
    pub enum WhyReplaced {
        /// It wears by use.
        Wear,
        /// It ages, used or not.
        Age,
        /// It is in reach, and the next chance is a rebuild away.
        WhileOpen,
    }
}

records! {
    /// What was built in.
    pub struct OtherOriginal {
        /// What is printed on it.
        pub label: Option<String>,
        /// Rated coil voltage of a relay, V.
        pub coil_v: Option<f64>,
        /// Coil resistance of a relay, Ω.
        pub coil_ohm: Option<f64>,
        /// Contacts of a relay, such as `2 CO`.
        pub contacts: Option<String>,
        /// Rated current of the contacts, A.
        pub contact_a: Option<f64>,
        /// Voltage at which they are rated, V.
        pub contact_v: Option<f64>,
    }

    /// What goes in, and the terms of its sale.
    pub struct Replacement {
        /// The maker's part number.
        pub part_number: Option<String>,
        /// Who makes it.
        pub maker: Option<String>,
        /// Who sells it.
        pub supplier: Option<String>,
        /// The supplier's own number.
        pub supplier_part_number: Option<String>,
        /// Price of one piece.
        pub unit_price: Option<f64>,
        /// Pieces and price each from that quantity on.
        pub price_breaks: Option<PairTable>,
        /// Currency of the prices.
        pub currency: Option<String>,
        /// Smallest order, pieces; absent = 1.
        pub moq: Option<f64>,
        /// Pieces in a pack; absent = 1.
        pub pack: Option<f64>,
        /// Pieces the supplier has.
        pub stock: Option<f64>,
        /// Lead time, days.
        pub lead_time_d: Option<f64>,
        /// Rated coil voltage of a relay, V.
        pub coil_v: Option<f64>,
        /// Coil resistance of a relay, Ω.
        pub coil_ohm: Option<f64>,
        /// Contacts of a relay, such as `2 CO`.
        pub contacts: Option<String>,
        /// Rated current of the contacts, A.
        pub contact_a: Option<f64>,
        /// Voltage at which they are rated, V.
        pub contact_v: Option<f64>,
        /// Switching operations the maker rates a relay for, at the load below.
        pub switching_life_operations: Option<f64>,
        /// Current at which they are rated, A.
        pub life_load_a: Option<f64>,
        /// Voltage at which they are rated, V.
        pub life_load_v: Option<f64>,
    }

    /// A part beside the electrolytics that is replaced; it is not sized.
    pub struct OtherPart {
        /// Reference designator.
        #[serde(rename = "ref")]
        pub reference: String,
        /// What it is; absent = unknown.
        pub kind: Option<OtherKind>,
        /// Pieces on one board; absent = 1.
        pub quantity: Option<f64>,
        /// Centre on the board, mm from the left.
        pub x_mm: Option<f64>,
        /// Centre on the board, mm from the bottom.
        pub y_mm: Option<f64>,
        /// Side of the board; absent = top.
        pub side: Option<Side>,
        /// Why it is replaced.
        pub why: Option<WhyReplaced>,
        /// Whether it sits in potting that has to be dug out.
        pub potted: Option<bool>,
        /// Years after which it is replaced.
        pub interval_years: Option<f64>,
        /// Operations after which it is replaced.
        pub interval_operations: Option<f64>,
        /// Switching operations in a year.
        pub operations_per_year: Option<f64>,
        /// Current its contacts switch here, A.
        pub load_a: Option<f64>,
        /// Voltage they switch here, V.
        pub load_v: Option<f64>,
        /// What was built in.
        pub original: OtherOriginal,
        /// What goes in.
        pub replacement: Replacement,
        /// Part numbers that may go in instead, separated by semicolons.
        pub alternatives: Option<String>,
        /// Which of them goes in; absent = the replacement.
        pub taken: Option<String>,
        /// What was measured on the old part, with its unit.
        pub measured_before: Option<String>,
        /// What was measured on the new part, with its unit.
        pub measured_after: Option<String>,
        /// Remark.
        pub note: Option<String>,
    }
}

fn said(text: Option<&String>) -> Option<&str> {
    text.map(|text| text.trim()).filter(|text| !text.is_empty())
}

impl OtherPart {
    /// Pieces on one board.
    pub fn quantity_or_one(&self) -> f64 {
        self.quantity.unwrap_or(1.0)
    }

    /// The part number that goes in; `None` while nobody said.
    pub fn part_number(&self) -> Option<&str> {
        said(self.taken.as_ref()).or(self.own_number())
    }

    /// The part number of the replacement, whose figures and terms of sale are stated with it.
    pub fn own_number(&self) -> Option<&str> {
        said(self.replacement.part_number.as_ref())
    }

    /// Whether an alternative goes in, of which nothing but its number is stated here.
    pub fn takes_alternative(&self) -> bool {
        self.part_number() != self.own_number()
    }

    /// Every part number that may go in: that of the replacement, then the alternatives.
    pub fn numbers(&self) -> impl Iterator<Item = &str> {
        let others = self.alternatives.iter().flat_map(|list| list.split(';')).map(str::trim);
        self.own_number().into_iter().chain(others.filter(|number| !number.is_empty()))
    }

    /// Its kind in words; `part` while it is not known.
    pub fn kind_word(&self) -> String {
        self.kind.map_or_else(|| "part".to_owned(), |kind| super::schema::spoken(kind.into()))
    }
}

records! {
    /// A place on a board where something is measured before the unit goes back.
    pub struct TestPoint {
        /// What the board calls it.
        #[serde(rename = "ref")]
        pub reference: String,
        /// What to measure.
        pub measure: Option<String>,
        /// Least value that is right, in `unit`.
        pub expected_low: Option<f64>,
        /// Greatest value that is right, in `unit`.
        pub expected_high: Option<f64>,
        /// Unit of the expected and the found value.
        pub unit: Option<String>,
        /// What was found, in `unit`.
        pub found: Option<f64>,
        /// Centre on the board, mm from the left.
        pub x_mm: Option<f64>,
        /// Centre on the board, mm from the bottom.
        pub y_mm: Option<f64>,
        /// Side of the board; absent = top.
        pub side: Option<Side>,
        /// Remark.
        pub note: Option<String>,
    }
}

impl TestPoint {
    /// The expected range in words: `4.9 to 5.1 V`.
    pub fn expected(&self) -> String {
        let unit = self.unit.as_deref().unwrap_or_default();
        let range = match (self.expected_low, self.expected_high) {
            (Some(low), Some(high)) => format!("{} to {}", figure(low), figure(high)),
            (Some(low), None) => format!("at least {}", figure(low)),
            (None, Some(high)) => format!("at most {}", figure(high)),
            (None, None) => return "not known".to_owned(),
        };
        format!("{range} {unit}").trim_end().to_owned()
    }

    /// Whether what was found is inside the expected range; `None` while something of it is not known.
    pub fn is_right(&self) -> Option<bool> {
        let found = self.found?;
        (self.expected_low.is_some() || self.expected_high.is_some()).then(|| {
            self.expected_low.is_none_or(|low| found >= low) && self.expected_high.is_none_or(|high| found <= high)
        })
    }
}
