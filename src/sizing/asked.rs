//! What is asked for a part: the offers of all suppliers with prices that can be compared in one currency.

use super::quantities::{Offer, PriceBreak, QuantityError, Terms};
use crate::domain::{Catalog, Job, PairTable, PartId, SupplierOffer};

/// The currency amounts are added up in.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct JobCurrency {
    /// Its code; `None` when the job names none and the prices do not agree on one.
    pub code: Option<String>,
    /// The job names none; the only currency of the catalogue is taken.
    pub assumed: bool,
}

impl JobCurrency {
    /// The currency of the job, else the only one in the catalogue.
    pub fn of(job: &Job, catalog: &Catalog) -> Self {
        if let Some(code) = job.currency.as_deref().map(str::trim).filter(|code| !code.is_empty()) {
            return Self { code: Some(code.to_owned()), assumed: false };
        }
        let mut codes = catalog.currencies().texts().map(str::trim).filter(|code| !code.is_empty());
        let first = codes.next();
        let only = first.filter(|first| codes.all(|code| code.eq_ignore_ascii_case(first)));
        Self { code: only.map(str::to_owned), assumed: only.is_some() }
    }

    /// Units of this currency for one unit of `currency`; `None` when either is not known or no rate was entered.
    pub fn rate(&self, job: &Job, currency: &str) -> Option<f64> {
        let (own, currency) = (self.code.as_deref()?, currency.trim());
        if currency.is_empty() {
            return None;
        }
        if own.eq_ignore_ascii_case(currency) {
            return Some(1.0);
        }
        let entered = job.currency_rates.iter().find(|(code, _)| code.trim().eq_ignore_ascii_case(currency));
        entered.map(|(_, &rate)| rate).filter(|rate| rate.is_finite() && *rate > 0.0)
    }
}

/// One supplier's terms, ready for comparing.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Asked {
    pub supplier: SupplierOffer,
    /// Price list, minimum and pack; the error says why there is no usable price.
    pub priced: Result<Offer, QuantityError>,
}

/// Every offer for a part: its catalogue row and what the job states itself, unless the offer list has their supplier, then
/// those of the list.
pub(super) fn offers(
    job: &Job,
    currency: &JobCurrency,
    catalog: &Catalog,
    part: Option<PartId>,
    part_number: &str,
    stated: Vec<SupplierOffer>,
) -> Vec<Asked> {
    let listed = catalog.offers().of(part_number);
    let own = part.map(|id| SupplierOffer::from(catalog.part(id)));
    let own = own.filter(|own| listed.is_empty() || row_counts_beside(&own.supplier, says_something(own), listed));
    let priced = |supplier: SupplierOffer| {
        let priced = terms(&supplier).map(|terms| Offer {
            terms,
            rate_to_job: currency.rate(job, &supplier.currency),
            stock_qty: supplier.trade.stock.and_then(|stock| whole(stock.floor())),
            lead_time_d: supplier.trade.lead_time_d.and_then(|days| u32::try_from(whole(days.ceil())?).ok()),
        });
        Asked { supplier, priced }
    };
    let mut all: Vec<SupplierOffer> = own.into_iter().collect();
    for offer in stated {
        let says = says_something(&offer);
        if row_counts_beside(&offer.supplier, says, listed) && all.iter().all(|known| known.supplier != offer.supplier)
        {
            all.push(offer);
        }
    }
    all.into_iter().chain(listed.iter().cloned()).map(priced).collect()
}

fn says_something(offer: &SupplierOffer) -> bool {
    offer.trade.stock.is_some() || offer.trade.unit_price.is_some() || offer.price_breaks.is_some()
}

/// Whether the row of the catalogue is an offer beside those of a list: it says something, and the list has no offer of its
/// supplier.
pub(super) fn row_counts_beside(supplier: &str, says_something: bool, listed: &[SupplierOffer]) -> bool {
    let listed_again = listed.iter().any(|offer| offer.supplier == supplier);
    (says_something || !supplier.is_empty()) && !listed_again
}

/// The offers that count: that of the supplier the buyer chose for the part, else all of them.
pub(super) fn counting<'a>(job: &Job, part_number: &str, offers: &'a [Asked]) -> &'a [Asked] {
    let chosen = job.suppliers.get(part_number);
    let at = chosen.and_then(|name| offers.iter().position(|asked| asked.supplier.supplier.trim() == name.trim()));
    at.map_or(offers, |at| &offers[at..=at])
}

/// The price list: the breaks, and the price of one piece where no break starts there.
fn terms(offer: &SupplierOffer) -> Result<Terms, QuantityError> {
    let listed = offer.price_breaks.iter().flat_map(PairTable::pairs);
    let mut breaks = Vec::new();
    for &(from, unit_price) in listed {
        breaks.push(PriceBreak { from_qty: whole(from.ceil()).ok_or(QuantityError::TooMany)?, unit_price });
    }
    if let Some(unit_price) = offer.trade.unit_price
        && breaks.iter().all(|step| step.from_qty > 1)
    {
        breaks.push(PriceBreak { from_qty: 1, unit_price });
    }
    let (moq, pack) = order_units(offer)?;
    Terms::new(breaks, moq, pack)
}

/// Minimum order and pack in whole pieces, rounded up.
pub(super) fn order_units(offer: &SupplierOffer) -> Result<(Option<u64>, Option<u64>), QuantityError> {
    let pieces = |value: Option<f64>| match value {
        None => Ok(None),
        Some(value) => whole(value.ceil()).map(Some).ok_or(QuantityError::TooMany),
    };
    Ok((pieces(offer.trade.moq)?, pieces(offer.trade.pack)?))
}

/// A count as a whole number; `None` when it is negative, fractional or cannot be counted exactly.
pub(super) fn whole(count: f64) -> Option<u64> {
    const LARGEST: f64 = 9_007_199_254_740_992.0;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "in range and whole by the condition")]
    ((0.0..=LARGEST).contains(&count) && count.fract() == 0.0).then_some(count as u64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rate_is_never_made_up() {
        let mut job = Job { currency: Some("EUR".into()), ..Job::default() };
        job.currency_rates.insert("usd".into(), 0.92);
        let currency = JobCurrency::of(&job, &Catalog::default());
        assert_eq!(currency.rate(&job, "eur "), Some(1.0));
        assert_eq!(currency.rate(&job, "USD"), Some(0.92));
        assert_eq!(currency.rate(&job, "GBP"), None);
        assert_eq!(currency.rate(&job, ""), None);
        assert_eq!(JobCurrency::of(&Job::default(), &Catalog::default()), JobCurrency::default());
    }

    #[test]
    fn the_price_of_one_piece_completes_a_list_that_starts_higher() {
        let offer = SupplierOffer {
            trade: crate::domain::Trade { unit_price: Some(0.5), moq: Some(2.5), ..Default::default() },
            price_breaks: "10:0.4".parse().ok(),
            ..SupplierOffer::default()
        };
        let terms = terms(&offer).unwrap();
        assert_eq!(terms.breaks().iter().map(|b| b.from_qty).collect::<Vec<_>>(), [1, 10]);
        assert_eq!(order_units(&offer), Ok((Some(3), None)));
    }
}
