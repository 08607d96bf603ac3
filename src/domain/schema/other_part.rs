//! The fields of other parts, test points and types of units.

use super::{Absent, Access, Bounds, Field, Kind, PRACTICE, Section, Text, Unit, name, number, text, word, words};
use crate::domain::{OtherKind, OtherPart, Side, TestPoint, UnitType, WhyReplaced};
use Absent::{Assumed, Derived, Nothing, UnknownBut};

const LINE: Kind = Kind::Text(Text::Line);
const NOTE: Kind = Kind::Text(Text::Note);
const PLACE: Kind = Kind::Number(Unit::Millimetre, Bounds::Signed);
const VOLT: Kind = Kind::Number(Unit::Volt, Bounds::RatedVolts);
const AMPERE: Kind = Kind::Number(Unit::Ampere, Bounds::Positive);
const OHM: Kind = Kind::Number(Unit::Ohm, Bounds::Positive);
const OPERATIONS: Kind = Kind::Number(Unit::Number, Bounds::Positive);
const BREAKS: Kind = Kind::Text(Text::Pairs(Bounds::Positive, Bounds::NotNegative));

/// What the years of a relay are, and where that stands.
const RELAY: (&str, &str) = (
    "years = rated switching life / operations a year",
    "IEC 61810-1, electrical endurance at a stated load (from memory)",
);

/// Fields a line each: section, path, kind, access, label, meaning, what its absence means.
macro_rules! fields {
    ($owner:ty; $($in:ident $path:literal $kind:expr, $access:expr, $label:literal, $meaning:literal
        $(, [$absent:expr])? $(; $formula:expr)?),* $(,)?) => {
        &[$(Field::<$owner>::new(Section::$in, $path, $kind, $access, $label, $meaning)
            $(.absent($absent))?$(.formula($formula.0, $formula.1))?),*]
    };
}

/// Every field of another part.
pub static OTHER_PART: &[Field<OtherPart>] = fields![OtherPart;
    Identity "other_parts.ref" LINE, name!(reference), "Reference", "Reference designator, such as K1.", [Nothing("empty")],
    Identity "other_parts.kind" words::<OtherKind>(), word!(kind), "Kind", "What kind of part it is.",
    Identity "other_parts.quantity" Kind::Number(Unit::Piece, Bounds::Count), number!(quantity), "Pieces",
        "Pieces on one board, or in one unit for what is on no board.", [Assumed("1")],
    Identity "other_parts.why" words::<WhyReplaced>(), word!(why), "Why replaced",
        "Why it is replaced: wear by use, age, or because the machine is open.",
    Identity "other_parts.potted" Kind::Flag,
        Access::Flag(|of| of.potted == Some(true), |of, on| of.potted = on.then_some(true)), "Potted",
        "Whether it sits in potting that has to be dug out.", [Nothing("false")],
    OriginalPart "other_parts.original.label" LINE, text!(original.label), "Label", "What is printed on the old part.",
    OriginalPart "other_parts.original.coil_v" VOLT, number!(original.coil_v), "Coil voltage", "Rated coil voltage of a relay.",
    OriginalPart "other_parts.original.coil_ohm" OHM, number!(original.coil_ohm), "Coil resistance",
        "Coil resistance of a relay: what drives it was made for that current.",
    OriginalPart "other_parts.original.contacts" LINE, text!(original.contacts), "Contacts", "Contacts of a relay, such as 2 CO.",
    OriginalPart "other_parts.original.contact_a" AMPERE, number!(original.contact_a), "Contact current", "Rated current of the contacts.",
    OriginalPart "other_parts.original.contact_v" VOLT, number!(original.contact_v), "Contact voltage",
        "Voltage at which the contacts are rated.",
    Offer "other_parts.replacement.part_number" LINE, text!(replacement.part_number), "Part number",
        "The manufacturer's part number of what goes in; without one nothing is ordered.",
    Offer "other_parts.replacement.maker" LINE, text!(replacement.maker), "Manufacturer", "Who makes it.",
    Offer "other_parts.replacement.supplier" LINE, text!(replacement.supplier), "Supplier", "Who sells it.",
    Offer "other_parts.replacement.supplier_part_number" LINE, text!(replacement.supplier_part_number), "Supplier's number",
        "The supplier's own number.",
    Offer "other_parts.replacement.unit_price" Kind::Number(Unit::Money, Bounds::NotNegative), number!(replacement.unit_price),
        "Unit price", "Price of one piece.", [Derived("the first break")],
    Offer "other_parts.replacement.price_breaks" BREAKS, Access::Text(
            |of| of.replacement.price_breaks.as_ref().map(ToString::to_string),
            |of, text| of.replacement.price_breaks = text.and_then(|text| text.parse().ok()),
        ), "Price breaks", "Price each from a quantity on, such as 1:0.52;10:0.40.", [Derived("the unit price")],
    Offer "other_parts.replacement.currency" LINE, text!(replacement.currency), "Currency", "Currency of the prices.",
        [Derived("assumed to be the job's")],
    Offer "other_parts.replacement.moq" Kind::Number(Unit::Piece, Bounds::Positive), number!(replacement.moq), "Minimum order",
        "Smallest order.", [Assumed("1")],
    Offer "other_parts.replacement.pack" Kind::Number(Unit::Piece, Bounds::Positive), number!(replacement.pack), "Order multiple",
        "Orders are whole packs of this size.", [Assumed("1")],
    Offer "other_parts.replacement.stock" Kind::Number(Unit::Piece, Bounds::NotNegative), number!(replacement.stock),
        "Supplier stock", "What the supplier has.",
    Offer "other_parts.replacement.lead_time_d" Kind::Number(Unit::Day, Bounds::NotNegative), number!(replacement.lead_time_d),
        "Lead time", "Days until it is delivered.",
    Needs "other_parts.replacement.coil_v" VOLT, number!(replacement.coil_v), "New coil voltage", "Rated coil voltage of the new relay.",
    Needs "other_parts.replacement.coil_ohm" OHM, number!(replacement.coil_ohm), "New coil resistance",
        "Coil resistance of the new relay; more than 10 % from the old one's is warned of.";
        ("|R_new - R_old| <= 10 % R_old", PRACTICE),
    Needs "other_parts.replacement.contacts" LINE, text!(replacement.contacts), "New contacts", "Contacts of the new relay, such as 2 CO.",
    Needs "other_parts.replacement.contact_a" AMPERE, number!(replacement.contact_a), "New contact current",
        "Rated current of the new contacts; more than 10 % from the old ones' is warned of.",
    Needs "other_parts.replacement.contact_v" VOLT, number!(replacement.contact_v), "New contact voltage",
        "Voltage at which the new contacts are rated; more than 10 % from the old ones' is warned of.",
    Needs "other_parts.replacement.switching_life_operations" OPERATIONS, number!(replacement.switching_life_operations),
        "Rated switching life", "Operations the manufacturer rates the relay for, at the load below; it says nothing of other loads.";
        RELAY,
    Needs "other_parts.replacement.life_load_a" AMPERE, number!(replacement.life_load_a), "Load of the life, current",
        "Current at which the switching life is rated.",
    Needs "other_parts.replacement.life_load_v" VOLT, number!(replacement.life_load_v), "Load of the life, voltage",
        "Voltage at which the switching life is rated.",
    Stress "other_parts.operations_per_year" OPERATIONS, number!(operations_per_year), "Operations a year",
        "Switching operations in a year."; RELAY,
    Stress "other_parts.load_a" AMPERE, number!(load_a), "Switched current", "Current the contacts switch here.",
    Stress "other_parts.load_v" VOLT, number!(load_v), "Switched voltage", "Voltage the contacts switch here.",
    Stress "other_parts.interval_years" Kind::Number(Unit::Year, Bounds::Positive), number!(interval_years), "Own interval",
        "Years after which it is replaced; it then limits its board.", [Nothing("none")],
    Stress "other_parts.interval_operations" OPERATIONS, number!(interval_operations), "Own interval, operations",
        "Operations after which it is replaced; with the operations a year it limits its board.", [Nothing("none")],
    Location "other_parts.x_mm" PLACE, number!(x_mm), "x", "Distance of its centre from the left edge of the board.",
    Location "other_parts.y_mm" PLACE, number!(y_mm), "y", "Distance of its centre from the lower edge of the board.",
    Location "other_parts.side" words::<Side>(), word!(side), "Side", "Side of the board it is on.", [Assumed("top")],
    Measured "other_parts.measured_before" LINE, text!(measured_before), "Measured before", "What was measured on the old part, with its unit.",
    Measured "other_parts.measured_after" LINE, text!(measured_after), "Measured after", "What was measured on the new part, with its unit.",
    Measured "other_parts.note" NOTE, text!(note), "Note", "Remark.", [Nothing("none")],
];

/// Every field of a test point.
pub static TEST_POINT: &[Field<TestPoint>] = fields![TestPoint;
    Identity "test_points.ref" LINE, name!(reference), "Test point", "What the board calls it, such as TP3.", [Nothing("empty")],
    Identity "test_points.measure" LINE, text!(measure), "What to measure", "What is measured there, and against what.",
    Identity "test_points.expected_low" Kind::Number(Unit::Number, Bounds::Signed), number!(expected_low), "Expected, from",
        "Least value that is right, in the unit below.", [UnknownBut("no lower limit")],
    Identity "test_points.expected_high" Kind::Number(Unit::Number, Bounds::Signed), number!(expected_high), "Expected, to",
        "Greatest value that is right, in the unit below.", [UnknownBut("no upper limit")],
    Identity "test_points.unit" LINE, text!(unit), "Unit", "Unit of the expected and the found value, such as V.",
    Measured "test_points.found" Kind::Number(Unit::Number, Bounds::Signed), number!(found), "Found", "What was found when the board was traced.",
    Location "test_points.x_mm" PLACE, number!(x_mm), "x of the point", "Distance from the left edge of the board.",
    Location "test_points.y_mm" PLACE, number!(y_mm), "y of the point", "Distance from the lower edge of the board.",
    Location "test_points.side" words::<Side>(), word!(side), "Side of the point", "Side of the board it is on.", [Assumed("top")],
    Measured "test_points.note" NOTE, text!(note), "Remark on the point", "Remark.", [Nothing("none")],
];

/// Every field of a type of unit.
pub static UNIT_TYPE: &[Field<UnitType>] = fields![UnitType;
    Job "unit_types.name" LINE, name!(name), "Name of the type", "What the shop calls units of this type.", [Nothing("empty")],
    Job "unit_types.units" Kind::Number(Unit::Piece, Bounds::Count), number!(units), "Units of the type",
        "Units of this type; they count instead of the units of the job.", [Assumed("1")],
    Job "unit_types.boards" Kind::Texts, Access::Special, "Boards of the type",
        "Names of the boards in such a unit; one that stands in it twice is named twice.", [Nothing("none")],
];
