//! A part one can order: a can with a number, a maker and the terms of its sale.

use super::can::{Can, EnduranceBasis, LifeBasis, Mounting, Technology};
use super::column::numbers;
use super::table::PairTable;
use super::written::words;

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

numbers! {
    Trade TRADE_NUMBERS pub(super) TradeColumns;
    stock: Piece Pieces;
    lead_time_d: Day NotNegative;
    unit_price: Money NotNegative;
    moq: Piece Lot;
    pack: Piece Lot;
}

impl Trade {
    /// Price of one piece when few are bought: the unit price, else the break with the lowest quantity.
    pub fn small_price(&self, breaks: Option<&PairTable>) -> Option<f64> {
        self.unit_price.or_else(|| Some(breaks?.pairs().first()?.1))
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

/// One thing that is known of a part.
#[derive(Debug, Clone, PartialEq)]
#[expect(missing_docs, reason = "they bear the names of the fields")]
pub enum Known<'a> {
    /// Which of [`PART_TEXTS`], and what it says.
    Text(usize, &'a str),
    /// Which of [`CAN_NUMBERS`](super::CAN_NUMBERS), and its value.
    Can(usize, f64),
    /// Which of [`TRADE_NUMBERS`], and its value.
    Trade(usize, f64),
    Technology(Technology),
    Mounting(Mounting),
    EnduranceBasis(EnduranceBasis),
    LifeBasis(LifeBasis),
    RippleFreqFactors(PairTable),
    RippleTempFactors(PairTable),
    Status(Status),
    PriceBreaks(PairTable),
}

impl Can {
    /// What is known of it but its numbers.
    pub fn known_words<'a>(&self) -> impl Iterator<Item = Known<'a>> + use<'a> {
        let words = [
            self.technology.map(Known::Technology),
            self.mounting.map(Known::Mounting),
            self.endurance_basis.map(Known::EnduranceBasis),
            self.life_basis.map(Known::LifeBasis),
            self.ripple_freq_factors.clone().map(Known::RippleFreqFactors),
            self.ripple_temp_factors.clone().map(Known::RippleTempFactors),
        ];
        words.into_iter().flatten()
    }
}

impl<Text: AsRef<str>> Part<Text> {
    /// Everything that is known of it but its number.
    pub(super) fn known(&self) -> impl Iterator<Item = Known<'_>> {
        let texts = self.texts().into_iter().enumerate().skip(1).map(|(at, text)| Known::Text(at, text.as_ref()));
        let can = self.can.numbers().into_iter().enumerate().filter_map(|(at, value)| Some(Known::Can(at, value?)));
        let trade =
            self.trade.numbers().into_iter().enumerate().filter_map(|(at, value)| Some(Known::Trade(at, value?)));
        let words = self.can.known_words().chain(self.status.map(Known::Status));
        texts.chain(can).chain(trade).chain(words).chain(self.price_breaks.clone().map(Known::PriceBreaks))
    }
}

impl<'a> Part<&'a str> {
    /// Puts down what is known of it.
    pub fn learn(&mut self, known: Known<'a>) {
        match known {
            Known::Text(at, text) => *self.texts_mut()[at] = text,
            Known::Can(at, value) => *self.can.numbers_mut()[at] = Some(value),
            Known::Trade(at, value) => *self.trade.numbers_mut()[at] = Some(value),
            Known::Technology(word) => self.can.technology = Some(word),
            Known::Mounting(word) => self.can.mounting = Some(word),
            Known::EnduranceBasis(word) => self.can.endurance_basis = Some(word),
            Known::LifeBasis(word) => self.can.life_basis = Some(word),
            Known::RippleFreqFactors(factors) => self.can.ripple_freq_factors = Some(factors),
            Known::RippleTempFactors(factors) => self.can.ripple_temp_factors = Some(factors),
            Known::Status(word) => self.status = Some(word),
            Known::PriceBreaks(breaks) => self.price_breaks = Some(breaks),
        }
    }
}
