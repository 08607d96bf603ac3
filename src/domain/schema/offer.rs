//! What only a part of a catalogue has, and what a supplier asks for one.

use super::{Absent, Access, Bounds, Field, Kind, Section, Text, Unit, name, words};
use crate::domain::{Part, Status, SupplierOffer};
use Absent::{Assumed, Derived, Nothing, UnknownBut};

const LINE: Kind = Kind::Text(Text::Line);
/// From how many pieces on, and the price of one.
const BREAKS: Kind = Kind::Text(Text::Pairs(Bounds::Positive, Bounds::NotNegative));
const PRICE: &str = "Price each from a quantity on, such as 1:0.52;10:0.40.";

/// A figure of the terms of sale.
const fn of(unit: Unit, bounds: Bounds) -> Kind {
    Kind::Number(unit, bounds)
}

/// What a catalogue says of a part beside its figures, but for the terms of sale.
pub static PART: &[Field<Part>] = &[
    Field::<Part>::new(
        Section::Offer,
        "part.part_number",
        LINE,
        name!(part_number),
        "Part number",
        "The manufacturer's part number; of two rows the later is used, and that is listed.",
    )
    .absent(Nothing("row rejected")),
    Field::<Part>::new(Section::Offer, "part.maker", LINE, name!(maker), "Manufacturer", "Who makes it."),
    Field::<Part>::new(Section::Offer, "part.series", LINE, name!(series), "Series", "Family of the part."),
    Field::<Part>::new(
        Section::Offer,
        "part.status",
        words::<Status>(),
        Access::Word(|part| part.status.map(Into::into), |part, word| part.status = word.and_then(|w| w.parse().ok())),
        "Status",
        "Where the part stands in its life on the market; nrnd is not for new designs.",
    )
    .absent(UnknownBut("advice only")),
    Field::<Part>::new(
        Section::Offer,
        "part.datasheet",
        LINE,
        name!(datasheet),
        "Data sheet",
        "Where the data sheet is.",
    ),
    Field::<Part>::new(
        Section::Offer,
        "part.read_from",
        LINE,
        name!(read_from),
        "Read from",
        "File, line and cells its figures were read from, where a list gave them.",
    ),
];

/// The terms of sale.
pub static OFFER: &[Field<SupplierOffer>] = &[
    Field::<SupplierOffer>::new(Section::Offer, "offer.supplier", LINE, name!(supplier), "Supplier", "Who sells it."),
    Field::<SupplierOffer>::new(
        Section::Offer,
        "offer.supplier_part_number",
        LINE,
        name!(supplier_part_number),
        "Supplier's number",
        "The supplier's own number.",
    ),
    Field::<SupplierOffer>::new(
        Section::Offer,
        "offer.stock",
        of(Unit::Piece, Bounds::NotNegative),
        Access::Number(|of| of.trade.stock, |of, value| of.trade.stock = value),
        "Supplier stock",
        "What the supplier has.",
    ),
    Field::<SupplierOffer>::new(
        Section::Offer,
        "offer.lead_time_d",
        of(Unit::Day, Bounds::NotNegative),
        Access::Number(|of| of.trade.lead_time_d, |of, value| of.trade.lead_time_d = value),
        "Lead time",
        "Days until it is delivered.",
    ),
    Field::<SupplierOffer>::new(
        Section::Offer,
        "offer.unit_price",
        of(Unit::Money, Bounds::NotNegative),
        Access::Number(|of| of.trade.unit_price, |of, value| of.trade.unit_price = value),
        "Unit price",
        "Price of one piece.",
    )
    .absent(Derived("the first break")),
    Field::<SupplierOffer>::new(
        Section::Offer,
        "offer.price_breaks",
        BREAKS,
        Access::Text(
            |of| of.price_breaks.as_ref().map(ToString::to_string),
            |of, text| of.price_breaks = text.and_then(|text| text.parse().ok()),
        ),
        "Price breaks",
        PRICE,
    )
    .absent(Derived("the unit price")),
    Field::<SupplierOffer>::new(
        Section::Offer,
        "offer.currency",
        LINE,
        name!(currency),
        "Currency",
        "Currency of the prices.",
    )
    .absent(Derived("assumed to be the job's")),
    Field::<SupplierOffer>::new(
        Section::Offer,
        "offer.moq",
        of(Unit::Piece, Bounds::Positive),
        Access::Number(|of| of.trade.moq, |of, value| of.trade.moq = value),
        "Minimum order",
        "Smallest order.",
    )
    .absent(Assumed("1")),
    Field::<SupplierOffer>::new(
        Section::Offer,
        "offer.pack",
        of(Unit::Piece, Bounds::Positive),
        Access::Number(|of| of.trade.pack, |of, value| of.trade.pack = value),
        "Order multiple",
        "Orders are whole packs of this size.",
    )
    .absent(Assumed("1")),
];
