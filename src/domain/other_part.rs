//! What is replaced beside the electrolytics while the machine is open, and where to measure.

use super::position::Side;
use super::schema::Absent::{Assumed, Derived, Nothing, Unknown, UnknownBut};
use super::schema::{PRACTICE, fields};
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

/// What the years of a relay are, and where that stands.
const RELAY: (&str, &str) = (
    "years = rated switching life / operations a year",
    "IEC 61810-1, electrical endurance at a stated load (from memory)",
);

fields! {
    /// Every field of another part.
    pub OTHER_PART: OtherPart;
    "other_parts." [] {
        name reference as "other_parts.ref" (Line) Identity, Nothing("empty"), "Reference",
            "Reference designator, such as K1.";
        word kind (OtherKind) Identity, Unknown, "Kind", "What kind of part it is.";
        number quantity (Piece Count) Identity, Assumed("1"), "Pieces",
            "Pieces on one board, or in one unit for what is on no board.";
        word why (WhyReplaced) Identity, Unknown, "Why replaced",
            "Why it is replaced: wear by use, age, or because the machine is open.";
        said potted () Identity, Nothing("false"), "Potted", "Whether it sits in potting that has to be dug out.";
    }
    /// What was built in.
    struct OtherOriginal "other_parts.original." [.original] {
        text label (Line) OriginalPart, Unknown, "Label", "What is printed on the old part.";
        number coil_v (Volt RatedVolts) OriginalPart, Unknown, "Coil voltage",
            "Rated coil voltage of a relay.";
        number coil_ohm (Ohm Positive) OriginalPart, Unknown, "Coil resistance",
            "Coil resistance of a relay: what drives it was made for that current.";
        text contacts (Line) OriginalPart, Unknown, "Contacts", "Contacts of a relay, such as 2 CO.";
        number contact_a (Ampere Positive) OriginalPart, Unknown, "Contact current",
            "Rated current of the contacts.";
        number contact_v (Volt RatedVolts) OriginalPart, Unknown, "Contact voltage",
            "Voltage at which the contacts are rated.";
    }
    "other_parts." [] {
        text replacement.part_number (Line) Offer, Unknown, "Part number",
            "The manufacturer's part number of what goes in; without one nothing is ordered.";
        text alternatives (Line) Offer, Nothing("none"), "Alternatives",
            "Part numbers that may go in instead, separated by semicolons; their prices come from the offers, or from another part of the job that has the number. The search for the fewest-cost order may take one.";
        text taken (Line) Offer, Derived("the replacement"), "Alternative taken",
            "Which alternative goes in; empty, it is the part number above.";
        text replacement.maker (Line) Offer, Unknown, "Manufacturer", "Who makes it.";
        text replacement.supplier (Line) Offer, Unknown, "Supplier", "Who sells it.";
        text replacement.supplier_part_number (Line) Offer, Unknown, "Supplier's number",
            "The supplier's own number.";
        number replacement.unit_price (Money NotNegative) Offer, Derived("the first break"), "Unit price",
            "Price of one piece.";
        pairs replacement.price_breaks (Positive NotNegative) Offer, Derived("the unit price"), "Price breaks",
            "Price each from a quantity on, such as 1:0.52;10:0.40.";
        text replacement.currency (Line) Offer, Derived("assumed to be the job's"), "Currency",
            "Currency of the prices.";
        number replacement.moq (Piece Lot) Offer, Assumed("1"), "Minimum order", "Smallest order.";
        number replacement.pack (Piece Lot) Offer, Assumed("1"), "Order multiple",
            "Orders are whole packs of this size.";
        number replacement.stock (Piece Pieces) Offer, Unknown, "Supplier stock", "What the supplier has.";
        number replacement.lead_time_d (Day NotNegative) Offer, Unknown, "Lead time", "Days until it is delivered.";
        number replacement.coil_v (Volt RatedVolts) Needs, Unknown, "New coil voltage",
            "Rated coil voltage of the new relay.";
        number replacement.coil_ohm (Ohm Positive) Needs, Unknown, "New coil resistance",
            "Coil resistance of the new relay; more than 10 % from the old one's is warned of.",
            "|R_new - R_old| <= 10 % R_old", PRACTICE;
        text replacement.contacts (Line) Needs, Unknown, "New contacts", "Contacts of the new relay, such as 2 CO.";
        number replacement.contact_a (Ampere Positive) Needs, Unknown, "New contact current",
            "Rated current of the new contacts; more than 10 % from the old ones' is warned of.";
        number replacement.contact_v (Volt RatedVolts) Needs, Unknown, "New contact voltage",
            "Voltage at which the new contacts are rated; more than 10 % from the old ones' is warned of.";
        number replacement.switching_life_operations (Number Positive) Needs, Unknown, "Rated switching life",
            "Operations the manufacturer rates the relay for, at the load below; it says nothing of other loads.",
            RELAY.0, RELAY.1;
        number replacement.life_load_a (Ampere Positive) Needs, Unknown, "Load of the life, current",
            "Current at which the switching life is rated.";
        number replacement.life_load_v (Volt RatedVolts) Needs, Unknown, "Load of the life, voltage",
            "Voltage at which the switching life is rated.";
        number operations_per_year (Number Positive) Stress, Unknown, "Operations a year",
            "Switching operations in a year.", RELAY.0, RELAY.1;
        number load_a (Ampere Positive) Stress, Unknown, "Switched current", "Current the contacts switch here.";
        number load_v (Volt RatedVolts) Stress, Unknown, "Switched voltage", "Voltage the contacts switch here.";
        number interval_years (Year Positive) Stress, Nothing("none"), "Own interval",
            "Years after which it is replaced; it then limits its board.";
        number interval_operations (Number Positive) Stress, Nothing("none"), "Own interval, operations",
            "Operations after which it is replaced; with the operations a year it limits its board.";
        number x_mm (Millimetre Signed) Location, Unknown, "x",
            "Distance of its centre from the left edge of the board.";
        number y_mm (Millimetre Signed) Location, Unknown, "y",
            "Distance of its centre from the lower edge of the board.";
        word side (Side) Location, Assumed("top"), "Side", "Side of the board it is on.";
        text measured_before (Line) Measured, Unknown, "Measured before",
            "What was measured on the old part, with its unit.";
        text measured_after (Line) Measured, Unknown, "Measured after",
            "What was measured on the new part, with its unit.";
        text note (Note) Measured, Nothing("none"), "Note", "Remark.";
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

fields! {
    /// Every field of a test point.
    pub TEST_POINT: TestPoint;
    /// A place on a board where something is measured before the unit goes back.
    struct TestPoint "test_points." [] {
        #[serde(rename = "ref")]
        name reference as "test_points.ref" (Line) Identity, Nothing("empty"), "Test point",
            "What the board calls it, such as TP3.";
        text measure (Line) Identity, Unknown, "What to measure", "What is measured there, and against what.";
        number expected_low (Number Signed) Identity, UnknownBut("no lower limit"), "Expected, from",
            "Least value that is right, in the unit below.";
        number expected_high (Number Signed) Identity, UnknownBut("no upper limit"), "Expected, to",
            "Greatest value that is right, in the unit below.";
        text unit (Line) Identity, Unknown, "Unit", "Unit of the expected and the found value, such as V.";
        number found (Number Signed) Measured, Unknown, "Found", "What was found when the board was traced.";
        number x_mm (Millimetre Signed) Location, Unknown, "x of the point",
            "Distance from the left edge of the board.";
        number y_mm (Millimetre Signed) Location, Unknown, "y of the point",
            "Distance from the lower edge of the board.";
        word side (Side) Location, Assumed("top"), "Side of the point", "Side of the board it is on.";
        text note (Note) Measured, Nothing("none"), "Remark on the point", "Remark.";
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
