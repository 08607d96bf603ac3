//! The fields of other parts, test points and types of units.

use super::{Absent, Kind, PRACTICE, fields};
use crate::domain::{OtherKind, OtherPart, Side, TestPoint, UnitType, WhyReplaced};
use Absent::{Assumed, Derived, Nothing, Unknown, UnknownBut};

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
        text original.label (Line) OriginalPart, Unknown, "Label", "What is printed on the old part.";
        number original.coil_v (Volt RatedVolts) OriginalPart, Unknown, "Coil voltage",
            "Rated coil voltage of a relay.";
        number original.coil_ohm (Ohm Positive) OriginalPart, Unknown, "Coil resistance",
            "Coil resistance of a relay: what drives it was made for that current.";
        text original.contacts (Line) OriginalPart, Unknown, "Contacts", "Contacts of a relay, such as 2 CO.";
        number original.contact_a (Ampere Positive) OriginalPart, Unknown, "Contact current",
            "Rated current of the contacts.";
        number original.contact_v (Volt RatedVolts) OriginalPart, Unknown, "Contact voltage",
            "Voltage at which the contacts are rated.";
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

fields! {
    /// Every field of a test point.
    pub TEST_POINT: TestPoint;
    "test_points." [] {
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

fields! {
    /// Every field of a type of unit.
    pub UNIT_TYPE: UnitType;
    "unit_types." [] {
        name name (Line) Job, Nothing("empty"), "Name of the type", "What the shop calls units of this type.";
        number units (Piece Count) Job, Assumed("1"), "Units of the type",
            "Units of this type; they count instead of the units of the job.";
        special boards (Kind::Texts) Job, Nothing("none"), "Boards of the type",
            "Names of the boards in such a unit; one that stands in it twice is named twice.";
    }
}
