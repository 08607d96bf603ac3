//! Whether a part is to be had for a position, and what the pieces it needs would cost.

use super::asked::{self, JobCurrency};
use super::quantities::least_order;
use crate::domain::{Catalog, Job, PairTable, PartId, SupplierOffer, Trade};

/// What one offer for a part asks and has.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Terms<'c> {
    /// Stock, lead time, minimum, pack.
    pub trade: Trade,
    /// Price of one piece when few are bought, in `currency`.
    pub small_price: Option<f64>,
    /// Currency of the price; empty when unknown.
    pub currency: &'c str,
}

impl<'c> Terms<'c> {
    /// Those of an offer as [`PositionContext::offer_of_need`](super::PositionContext::offer_of_need) names it: by its place in the offers of the
    /// part; `None` is the row of the catalogue.
    pub fn of(catalog: &'c Catalog, id: PartId, offer: Option<usize>) -> Self {
        let row =
            Self { trade: catalog.trade(id), small_price: catalog.small_price(id), currency: catalog.currency(id) };
        offer.and_then(|at| listed(catalog, id).get(at)).map_or(row, |offer| Self {
            trade: offer.trade,
            small_price: offer.trade.small_price(offer.price_breaks.as_ref()),
            currency: offer.currency.trim(),
        })
    }
}

/// What the supply of a job depends on beside the parts themselves.
#[derive(Debug, Clone)]
pub(super) struct Market<'a> {
    job: &'a Job,
    currency: JobCurrency,
    /// Units of that currency for one of each currency of the catalogue; infinite where no rate is known.
    rates: Vec<f64>,
    /// Pieces on the shop's shelf, parts rising.
    shelf: Vec<(PartId, f64)>,
}

impl<'a> Market<'a> {
    pub(super) fn of(job: &'a Job, catalog: &Catalog) -> Self {
        let mut shelf: Vec<(PartId, f64)> = Vec::new();
        for lot in &job.shelf {
            let (Some(id), Some(qty)) = (catalog.find(lot.part_number.trim()), lot.qty) else { continue };
            match shelf.binary_search_by_key(&id, |of| of.0) {
                Ok(at) => shelf[at].1 += qty.floor(),
                Err(at) => shelf.insert(at, (id, qty.floor())),
            }
        }
        let currency = JobCurrency::of(job, catalog);
        let rate = |code: &str| rate(&currency, job, code).unwrap_or(f64::INFINITY);
        let rates = catalog.currencies().texts().map(rate).collect();
        Self { job, currency, rates, shelf }
    }

    /// The currency costs are in; empty while the job names none.
    pub(super) fn currency(&self) -> &str {
        self.currency.code.as_deref().unwrap_or_default()
    }

    /// What `need_qty` pieces of a part cost at the very least whose lowest price of a piece is `least_price`; 0 where that is not known.
    pub(super) fn cost_floor(&self, catalog: &Catalog, id: PartId, least_price: f32, need_qty: f64) -> f64 {
        let missing = need_qty - self.on_shelf(id).min(need_qty);
        let rate = self.rates.get(catalog.currencies().at(id)).copied().unwrap_or_default();
        let floor = missing * f64::from(least_price) * rate;
        // Nothing is missing, or it costs nothing in a currency without a rate.
        if floor.is_nan() { 0.0 } else { floor }
    }

    /// The parts the shelf is known to have, or to have had.
    pub(super) fn shelf_parts(&self) -> impl Iterator<Item = PartId> {
        self.shelf.iter().map(|of| of.0)
    }

    pub(super) fn is_on_shelf(&self, id: PartId) -> bool {
        self.shelf.binary_search_by_key(&id, |of| of.0).is_ok()
    }

    fn on_shelf(&self, id: PartId) -> f64 {
        self.shelf.binary_search_by_key(&id, |of| of.0).map_or(0.0, |at| self.shelf[at].1)
    }

    /// Pieces to be had: those on the shelf and the largest stock of all offers. `None` where an offer does not say its stock.
    pub(super) fn stock(&self, catalog: &Catalog, id: PartId) -> Option<f64> {
        let listed = listed(catalog, id);
        let own = Some(catalog.trade(id).stock).filter(|_| listed.is_empty() || counts_beside(catalog, id, listed));
        let stocks = own.into_iter().chain(listed.iter().map(|offer| offer.trade.stock));
        let largest = stocks.reduce(|a, b| Some(a?.max(b?))).flatten();
        Some(self.on_shelf(id) + largest?)
    }

    /// What `need_qty` pieces cost in the currency of the job with minimum, packs and breaks, by the offer the purchase list would take: that of
    /// the supplier chosen for the part, else the cheapest of those with enough in stock; pieces on the shelf are free. `None` where no such
    /// offer has a usable price in a currency with a rate. With the place of that offer in those of the part; `None` where it is the row of the
    /// catalogue or nothing is bought.
    pub(super) fn cost(&self, catalog: &Catalog, id: PartId, need_qty: f64) -> Option<(f64, Option<usize>)> {
        let missing = need_qty - self.on_shelf(id).min(need_qty);
        if missing <= 0.0 {
            return Some((0.0, None));
        }
        let listed = listed(catalog, id);
        let counts = listed.is_empty() || counts_beside(catalog, id, listed);
        let own = counts.then(|| catalog.supplier(id).trim());
        let chosen = self.job.suppliers.get(catalog.part_number(id)).map(|name| name.trim());
        let offered = |name: &&str| own == Some(*name) || listed.iter().any(|offer| offer.supplier.trim() == *name);
        let chosen = chosen.filter(offered);
        let total = |at: Option<usize>, supplier: &str, trade: &Trade, breaks: Option<&PairTable>, currency: &str| {
            if chosen.is_some_and(|chosen| chosen != supplier.trim()) {
                return None;
            }
            let rate = rate(&self.currency, self.job, currency)?;
            let breaks = breaks.map_or(&[][..], PairTable::pairs);
            let (qty, total) = least_order(missing, trade.unit_price, breaks, trade.moq, trade.pack)?;
            Some((trade.stock.is_some_and(|stock| stock.floor() < qty), rate * total, at))
        };
        let of_row = own.and_then(|supplier| {
            total(None, supplier, &catalog.trade(id), catalog.price_breaks(id), catalog.currency(id))
        });
        let of_list = listed.iter().enumerate().filter_map(|(at, offer)| {
            total(Some(at), &offer.supplier, &offer.trade, offer.price_breaks.as_ref(), &offer.currency)
        });
        let best = of_list.chain(of_row).min_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
        best.map(|(_, total, at)| (total, at))
    }
}

/// An offer that names no currency is taken to be in the job's.
fn rate(own: &JobCurrency, job: &Job, currency: &str) -> Option<f64> {
    if currency.trim().is_empty() { Some(1.0) } else { own.rate(job, currency) }
}

fn listed(catalog: &Catalog, id: PartId) -> &[SupplierOffer] {
    if catalog.offers().is_empty() { &[] } else { catalog.offers().of(catalog.part_number(id)) }
}

fn counts_beside(catalog: &Catalog, id: PartId, listed: &[SupplierOffer]) -> bool {
    let trade = catalog.trade(id);
    let priced = trade.unit_price.is_some() || catalog.price_breaks(id).is_some();
    asked::row_counts_beside(catalog.supplier(id), priced || trade.stock.is_some(), listed)
}

#[cfg(test)]
#[path = "../../tests/within/market.rs"]
mod tests;
