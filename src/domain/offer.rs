//! What suppliers ask for a part, beside what its row in the catalogue says.

use std::collections::HashMap;

use super::part::{Part, Trade};
use super::table::PairTable;

/// One supplier's terms for one part. Texts are empty where they are not known.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SupplierOffer {
    /// Who sells it.
    pub supplier: String,
    /// The supplier's own number.
    pub supplier_part_number: String,
    /// Currency of the prices.
    pub currency: String,
    /// Stock, lead time, price of one piece, minimum, pack.
    pub trade: Trade,
    /// Pieces and price each from that quantity on.
    pub price_breaks: Option<PairTable>,
}

impl<Text: Into<String>> From<Part<Text>> for SupplierOffer {
    fn from(part: Part<Text>) -> Self {
        Self {
            supplier: part.supplier.into(),
            supplier_part_number: part.supplier_part_number.into(),
            currency: part.currency.into(),
            trade: part.trade,
            price_breaks: part.price_breaks,
        }
    }
}

/// The offers of every part, by part number.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct OfferBook(HashMap<String, Vec<SupplierOffer>>);

impl OfferBook {
    /// Adds an offer; one of the same supplier for the same part is replaced and returned.
    pub fn add(&mut self, part_number: &str, offer: SupplierOffer) -> Option<SupplierOffer> {
        let offers = self.0.entry(part_number.to_owned()).or_default();
        if let Some(known) = offers.iter_mut().find(|known| known.supplier == offer.supplier) {
            return Some(std::mem::replace(known, offer));
        }
        offers.push(offer);
        None
    }

    /// The offers for a part, in the order they were read.
    pub fn of(&self, part_number: &str) -> &[SupplierOffer] {
        self.0.get(part_number).map_or(&[], Vec::as_slice)
    }

    /// The numbers of the parts that have offers, in no particular order.
    pub fn part_numbers(&self) -> impl Iterator<Item = &str> {
        self.0.keys().map(String::as_str)
    }

    /// How many parts have offers.
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// Whether there is no offer at all.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}
