//! Stock that lies in the shop already.

use super::schema::Absent::{Nothing, UnknownBut};
use super::schema::fields;

fields! {
    /// A lot of the shelf.
    pub SHELF: ShelfStock;
    /// Pieces of a part already in the shop.
    struct ShelfStock "shelf." [] {
        name part_number (Line) Shelf, Nothing("empty"), "Part number", "The manufacturer's part number.";
        number qty (Piece Pieces) Shelf, UnknownBut("counted as none"), "Pieces", "Pieces in stock in the shop.";
        text date_code (Line) Shelf, UnknownBut("treated as over two years old"), "Date code",
            "Date code on the parts, 2319 (year and week) or 2023-05.";
    }
}
