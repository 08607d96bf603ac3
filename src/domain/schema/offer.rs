//! What only a part of a catalogue has, and what a supplier asks for one.

use super::{Absent, fields};
use crate::domain::{Part, Status, SupplierOffer};
use Absent::{Assumed, Derived, Nothing, Unknown, UnknownBut};

const PRICE: &str = "Price each from a quantity on, such as 1:0.52;10:0.40.";

fields! {
    /// What a catalogue says of a part beside its figures, but for the terms of sale.
    pub PART: Part;
    "part." [] {
        name part_number (Line) Offer, Nothing("row rejected"), "Part number",
            "The manufacturer's part number; of two rows the later is used, and that is listed.";
        name maker (Line) Offer, Unknown, "Manufacturer", "Who makes it.";
        name series (Line) Offer, Unknown, "Series", "Family of the part.";
        word status (Status) Offer, UnknownBut("advice only"), "Status",
            "Where the part stands in its life on the market; nrnd is not for new designs.";
        name datasheet (Line) Offer, Unknown, "Data sheet", "Where the data sheet is.";
        name read_from (Note) Offer, Unknown, "Read from",
            "File, line and cells its figures were read from, where a list gave them.";
    }
}

fields! {
    /// The terms of sale.
    pub OFFER: SupplierOffer;
    "offer." [] {
        name supplier (Line) Offer, Unknown, "Supplier", "Who sells it.";
        name supplier_part_number (Line) Offer, Unknown, "Supplier's number", "The supplier's own number.";
    }
    "offer." [.trade] {
        number stock (Piece Pieces) Offer, Unknown, "Supplier stock", "What the supplier has.";
        number lead_time_d (Day NotNegative) Offer, Unknown, "Lead time", "Days until it is delivered.";
        number unit_price (Money NotNegative) Offer, Derived("the first break"), "Unit price", "Price of one piece.";
    }
    "offer." [] {
        pairs price_breaks (Positive NotNegative) Offer, Derived("the unit price"), "Price breaks", PRICE;
        name currency (Line) Offer, Derived("assumed to be the job's"), "Currency", "Currency of the prices.";
    }
    "offer." [.trade] {
        number moq (Piece Lot) Offer, Assumed("1"), "Minimum order", "Smallest order.";
        number pack (Piece Lot) Offer, Assumed("1"), "Order multiple", "Orders are whole packs of this size.";
    }
}
