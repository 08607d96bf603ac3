//! A part one can order: a can with a number, a maker and the terms of its sale.

use super::can::Can;
use super::column::{NumberColumn, NumberField};
use super::schema::{Bounds, Unit};
use super::table::PairTable;
use super::written::words;
use crate::progress::Progress;

/// A part's place in its [`Catalog`](super::Catalog).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PartId(pub u32);

impl PartId {
    pub(super) fn row(self) -> usize {
        self.0 as usize
    }
}

words! {
    /// Where the part stands in its life on the market.
    pub enum Status {
        /// In production.
        Active,
        /// Not recommended for new designs.
        Nrnd,
        /// No longer made.
        Obsolete,
    }
}

/// Numeric terms of sale.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Trade {
    /// Pieces the supplier has.
    pub stock: Option<f64>,
    /// Lead time, days.
    pub lead_time_d: Option<f64>,
    /// Price of one piece.
    pub unit_price: Option<f64>,
    /// Smallest order, pieces.
    pub moq: Option<f64>,
    /// Pieces in a pack; orders are whole packs.
    pub pack: Option<f64>,
}

/// The numeric fields of [`Trade`] in a fixed order.
pub const TRADE_NUMBERS: &[NumberField] = &[
    NumberField { name: "stock", unit: Unit::Piece, bounds: Bounds::Pieces },
    NumberField { name: "lead_time_d", unit: Unit::Day, bounds: Bounds::NotNegative },
    NumberField { name: "unit_price", unit: Unit::Money, bounds: Bounds::NotNegative },
    NumberField { name: "moq", unit: Unit::Piece, bounds: Bounds::Lot },
    NumberField { name: "pack", unit: Unit::Piece, bounds: Bounds::Lot },
];

impl Trade {
    /// Price of one piece when few are bought: the unit price, else the break with the lowest quantity.
    pub fn small_price(&self, breaks: Option<&PairTable>) -> Option<f64> {
        self.unit_price.or_else(|| Some(breaks?.pairs().first()?.1))
    }

    /// The fields in the order of [`TRADE_NUMBERS`].
    pub fn numbers(&self) -> [Option<f64>; TRADE_NUMBERS.len()] {
        [self.stock, self.lead_time_d, self.unit_price, self.moq, self.pack]
    }

    /// The fields in the order of [`TRADE_NUMBERS`], for writing.
    pub fn numbers_mut(&mut self) -> [&mut Option<f64>; TRADE_NUMBERS.len()] {
        [&mut self.stock, &mut self.lead_time_d, &mut self.unit_price, &mut self.moq, &mut self.pack]
    }
}

/// The numeric terms of sale of many parts, a column each.
#[derive(Debug, Clone, Default)]
pub(super) struct TradeColumns([NumberColumn; TRADE_NUMBERS.len()]);

impl TradeColumns {
    pub(super) fn reserve(&mut self, rows: usize) {
        self.0.iter_mut().for_each(|column| column.reserve(rows));
    }

    pub(super) fn append(&mut self, rows: usize, other: Self) {
        self.0.iter_mut().zip(other.0).for_each(|(column, other)| column.append(rows, other));
    }

    pub(super) fn set(&mut self, row: usize, trade: &Trade) {
        for (column, value) in self.0.iter_mut().zip(trade.numbers()) {
            column.set(row, value);
        }
    }

    pub(super) fn reordered(self, order: &[usize], progress: &Progress) -> Self {
        Self(self.0.map(|column| column.reordered(order, progress)))
    }

    pub(super) fn get(&self, row: usize) -> Trade {
        let mut trade = Trade::default();
        for (column, value) in self.0.iter().zip(trade.numbers_mut()) {
            *value = column.get(row);
        }
        trade
    }
}

/// The texts of a [`Part`] in a fixed order.
pub const PART_TEXTS: [&str; 8] =
    ["part_number", "maker", "series", "supplier", "supplier_part_number", "datasheet", "currency", "read_from"];

/// A part one can order. Texts are empty where they are not known.
///
/// `Text` is `String`, or `&str` for a part whose texts stand elsewhere, as while a file is read.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Part<Text = String> {
    /// The maker's part number; unique in a catalogue.
    pub part_number: Text,
    /// Who makes it.
    pub maker: Text,
    /// Family name.
    pub series: Text,
    /// Who sells it.
    pub supplier: Text,
    /// The supplier's own number.
    pub supplier_part_number: Text,
    /// Where its data sheet is.
    pub datasheet: Text,
    /// File, line and cells its figures were read from, where a list gave them.
    pub read_from: Text,
    /// Currency of the prices.
    pub currency: Text,
    /// Electrical and mechanical figures.
    pub can: Can,
    /// Where it stands on the market.
    pub status: Option<Status>,
    /// Stock, price, minimum, pack.
    pub trade: Trade,
    /// Pieces and price each from that quantity on.
    pub price_breaks: Option<PairTable>,
}

impl<Text> Part<Text> {
    /// Its texts in the order of [`PART_TEXTS`].
    pub fn texts(&self) -> [&Text; PART_TEXTS.len()] {
        let Self { part_number, maker, series, supplier, supplier_part_number, datasheet, currency, read_from, .. } =
            self;
        [part_number, maker, series, supplier, supplier_part_number, datasheet, currency, read_from]
    }

    /// The same, for writing.
    pub fn texts_mut(&mut self) -> [&mut Text; PART_TEXTS.len()] {
        let Self { part_number, maker, series, supplier, supplier_part_number, datasheet, currency, read_from, .. } =
            self;
        [part_number, maker, series, supplier, supplier_part_number, datasheet, currency, read_from]
    }
}
