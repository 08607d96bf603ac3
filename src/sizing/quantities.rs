//! How many pieces to buy and what they cost: need, spares, shelf stock, minimum order, packs,
//! price breaks and the choice between the offers of several suppliers.
//!
//! Source of the rules: common practice of the trade, no source. Quantities are whole pieces,
//! prices are per piece in the currency of the offer, `rate_to_job` turns them into the currency
//! of the job (1.0 for the job's own). Money is never rounded here; rounding is for display.

use std::cmp::Ordering;

use thiserror::Error;

/// What makes a quantity or a price unusable.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum QuantityError {
    /// Spares must be a finite percentage from 0 to 10 000.
    #[error("spares of {0} % are not a percentage from 0 to 10000")]
    Spare(f64),
    /// A quantity is larger than can be counted.
    #[error("the quantity is too large to count")]
    TooMany,
    /// No price break at all.
    #[error("no price is known")]
    NoPrice,
    /// A break at quantity 0 has no meaning.
    #[error("a price break starts at 0 pieces")]
    BreakAtZero,
    /// Two prices for the same quantity: which one holds is not known.
    #[error("two prices are given from {0} pieces on")]
    DuplicateBreak(u64),
    /// A price must be finite and not negative.
    #[error("{0} is not a price")]
    Price(f64),
    /// Minimum order and pack must be at least 1 when given.
    #[error("minimum order and pack must be at least 1 piece")]
    ZeroTerm,
}

/// Largest spare percentage accepted.
const SPARE_MAX_PCT: f64 = 10_000.0;
/// Spares count to this fraction of one percent, so that decimal percentages are exact.
const STEPS_PER_PCT: f64 = 10_000.0;
const STEPS_PER_WHOLE: u128 = 1_000_000;

/// Pieces needed with spares: `ceil(pieces * (1 + spare_pct/100))`.
///
/// `pieces` is the sum of `per_unit * units` over the positions that share a part. The percentage
/// counts to 0.0001 % and the rest is whole-number arithmetic, because in floating point
/// 100 pieces and 10 % come out above 110 and would be raised to 111.
///
/// # Errors
/// [`QuantityError::Spare`] for a percentage out of range, [`QuantityError::TooMany`] on overflow.
pub fn pieces_needed(pieces: u64, spare_pct: f64) -> Result<u64, QuantityError> {
    if !(0.0..=SPARE_MAX_PCT).contains(&spare_pct) {
        return Err(QuantityError::Spare(spare_pct));
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most 1e8 by the check above")]
    let spare_steps = (spare_pct * STEPS_PER_PCT).round() as u128;
    let scaled = u128::from(pieces) * (STEPS_PER_WHOLE + spare_steps);
    u64::try_from(scaled.div_ceil(STEPS_PER_WHOLE)).map_err(|_| QuantityError::TooMany)
}

/// One step of a price list: from this many pieces on, each costs `unit_price`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PriceBreak {
    /// Smallest order the price holds for, pieces, at least 1.
    pub from_qty: u64,
    /// Price of one piece in the currency of the offer, not negative.
    pub unit_price: f64,
}

/// A checked price list with its minimum order and pack.
#[derive(Debug, Clone, PartialEq)]
pub struct Terms {
    breaks: Vec<PriceBreak>,
    moq: Option<u64>,
    pack: Option<u64>,
}

impl Terms {
    /// Sorts and checks a price list. An absent minimum or pack counts as 1 piece; where the terms are
    /// shown it stays unknown.
    ///
    /// # Errors
    /// See [`QuantityError`]: no price, a break at 0, two prices for one quantity, a price that is
    /// negative or not finite, a minimum or pack of 0.
    pub fn new(mut breaks: Vec<PriceBreak>, moq: Option<u64>, pack: Option<u64>) -> Result<Self, QuantityError> {
        if breaks.is_empty() {
            return Err(QuantityError::NoPrice);
        }
        if moq == Some(0) || pack == Some(0) {
            return Err(QuantityError::ZeroTerm);
        }
        breaks.sort_by_key(|step| step.from_qty);
        for (index, step) in breaks.iter().enumerate() {
            if step.from_qty == 0 {
                return Err(QuantityError::BreakAtZero);
            }
            if !step.unit_price.is_finite() || step.unit_price < 0.0 {
                return Err(QuantityError::Price(step.unit_price));
            }
            if index > 0 && breaks[index - 1].from_qty == step.from_qty {
                return Err(QuantityError::DuplicateBreak(step.from_qty));
            }
        }
        Ok(Self { breaks, moq, pack })
    }

    /// The price steps, smallest quantity first.
    pub fn breaks(&self) -> &[PriceBreak] {
        &self.breaks
    }

    /// The order at `qty` pieces rounded up to a pack, and its price; `None` below the lowest break.
    fn order_at(&self, qty: u64) -> Result<Option<Order>, QuantityError> {
        let qty = qty.checked_next_multiple_of(self.pack.unwrap_or(1)).ok_or(QuantityError::TooMany)?;
        let step = self.breaks.iter().rev().find(|step| step.from_qty <= qty);
        Ok(step.map(|step| Order { qty, unit_price: step.unit_price, total: qty as f64 * step.unit_price }))
    }
}

/// A quantity with its price, in the currency of the offer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Order {
    /// Pieces to order.
    pub qty: u64,
    /// Price of one piece.
    pub unit_price: f64,
    /// `qty * unit_price`.
    pub total: f64,
}

/// Why the order is larger than what is missing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Raise {
    /// Raised to the minimum order.
    Minimum(u64),
    /// The price list starts at this quantity only.
    LowestBreak(u64),
    /// Rounded up to a multiple of the pack.
    Pack(u64),
    /// A higher price break costs less in total.
    HigherBreak {
        /// The break, pieces.
        from_qty: u64,
        /// What it saves in the currency of the offer.
        saves: f64,
    },
}

/// One line of an order, with the reasons for its quantity.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderLine {
    /// Pieces needed with spares.
    pub need_qty: u64,
    /// Pieces of the need taken from the shelf.
    pub from_shelf_qty: u64,
    /// What the rules ask for: missing pieces raised to the minimum, then to a pack.
    pub plain: Order,
    /// What is proposed: `plain`, or a higher price break where that costs less in total.
    pub proposed: Order,
    /// Why the quantity is larger than what is missing, in the order it was raised.
    pub raised: Vec<Raise>,
}

impl OrderLine {
    /// The reasons for the quantity in words, one sentence each; `currency` is the offer's.
    pub fn explain(&self, currency: &str) -> Vec<String> {
        let reasons = self.raised.iter().map(|raise| match raise {
            Raise::Minimum(moq) => format!("raised to the minimum order of {moq}"),
            Raise::LowestBreak(from) => format!("no price is known below {from} pieces"),
            Raise::Pack(pack) => format!("rounded up to packs of {pack}"),
            Raise::HigherBreak { from_qty, saves } => format!(
                "{} instead of {}: the price from {from_qty} on saves {saves:.2} {currency} in total",
                self.proposed.qty, self.plain.qty
            ),
        });
        reasons.collect()
    }
}

/// The order for `need_qty` pieces with `shelf_qty` pieces already in the shop.
///
/// The missing pieces are raised to the minimum order (and to the lowest break, where the price
/// list starts above it), then up to a multiple of the pack; the unit price is the highest break
/// not above the order. Every higher break is then tried: the one with the least total is proposed
/// if it costs less (ties: the smaller quantity). Where nothing is missing nothing is ordered.
///
/// # Errors
/// [`QuantityError::TooMany`] on overflow.
pub fn order_line(need_qty: u64, shelf_qty: u64, terms: &Terms) -> Result<OrderLine, QuantityError> {
    let from_shelf_qty = need_qty.min(shelf_qty);
    let missing = need_qty - from_shelf_qty;
    let lowest = terms.breaks.first().ok_or(QuantityError::NoPrice)?;
    let mut raised = Vec::new();
    let mut plain = Order { qty: 0, unit_price: lowest.unit_price, total: 0.0 };
    if missing > 0 {
        let mut wanted = missing;
        if let Some(moq) = terms.moq.filter(|moq| *moq > wanted) {
            raised.push(Raise::Minimum(moq));
            wanted = moq;
        }
        if lowest.from_qty > wanted {
            raised.push(Raise::LowestBreak(lowest.from_qty));
            wanted = lowest.from_qty;
        }
        plain = terms.order_at(wanted)?.ok_or(QuantityError::NoPrice)?;
        if plain.qty > wanted {
            raised.push(Raise::Pack(terms.pack.unwrap_or(1)));
        }
    }
    let mut proposed = plain;
    if missing > 0 {
        let mut by_break = None;
        for step in terms.breaks.iter().filter(|step| step.from_qty > plain.qty) {
            // A list of huge breaks must not make a small order fail.
            if let Ok(Some(order)) = terms.order_at(step.from_qty)
                && order.total < proposed.total
            {
                proposed = order;
                by_break = Some(step.from_qty);
            }
        }
        if let Some(from_qty) = by_break {
            raised.push(Raise::HigherBreak { from_qty, saves: plain.total - proposed.total });
        }
    }
    Ok(OrderLine { need_qty, from_shelf_qty, plain, proposed, raised })
}

/// Pieces and least total of an order for `missing` pieces, in the currency of the prices: what [`order_line`] proposes, without its
/// reasons and without allocating. `breaks` are pieces and price each, pieces rising; `unit_price` is the price of one piece
/// where no break starts there. Counts are rounded up to whole pieces. `None` without a usable price.
pub fn least_order(
    missing: f64,
    unit_price: Option<f64>,
    breaks: &[(f64, f64)],
    moq: Option<f64>,
    pack: Option<f64>,
) -> Option<(f64, f64)> {
    let single = unit_price.filter(|_| breaks.iter().all(|step| step.0.ceil() > 1.0)).map(|price| (1.0, price));
    let steps = || single.into_iter().chain(breaks.iter().map(|step| (step.0.ceil(), step.1)));
    let pack = pack.map_or(1.0, f64::ceil);
    let lowest = steps().next()?.0;
    let packs = |qty: f64| (qty / pack).ceil() * pack;
    let order = |qty: f64| steps().rfind(|step| step.0 <= qty).map(|step| (qty, qty * step.1));
    let plain = packs(missing.max(moq.map_or(0.0, f64::ceil)).max(lowest));
    let higher = steps().filter(|step| step.0 > plain).filter_map(|step| order(packs(step.0)));
    Some(higher.fold(order(plain)?, |best, other| if other.1 < best.1 { other } else { best }))
}

/// What one supplier asks for a part.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// Price list, minimum and pack.
    pub terms: Terms,
    /// Units of the job's currency for one unit of the offer's; `None` = not known, and the offer
    /// cannot be compared.
    pub rate_to_job: Option<f64>,
    /// Pieces the supplier has; `None` = not known.
    pub stock_qty: Option<u64>,
    /// Days until delivery; `None` = not known.
    pub lead_time_d: Option<u32>,
}

/// The offer taken for a need.
#[derive(Debug, Clone, PartialEq)]
pub struct BestOffer {
    /// Index into the offers given.
    pub offer: usize,
    /// The order with that supplier.
    pub line: OrderLine,
    /// Total in the currency of the job.
    pub total_job: f64,
    /// The supplier's known stock is below the order (no other offer has enough either).
    pub stock_short: bool,
}

/// The offer that serves `need_qty` pieces at the least total in the currency of the job.
///
/// Offers whose known stock is below their order come after all others; then the least total, then
/// the shorter known delivery, then the order given. An offer without a usable rate (positive and
/// finite) is passed over. `None` if no offer remains or quantities overflow.
pub fn best_offer(need_qty: u64, shelf_qty: u64, offers: &[Offer]) -> Option<BestOffer> {
    let usable = offers.iter().enumerate().filter_map(|(index, offer)| {
        let rate = offer.rate_to_job.filter(|r| r.is_finite() && *r > 0.0)?;
        let line = order_line(need_qty, shelf_qty, &offer.terms).ok()?;
        Some(BestOffer {
            offer: index,
            total_job: line.proposed.total * rate,
            stock_short: offer.stock_qty.is_some_and(|stock| stock < line.proposed.qty),
            line,
        })
    });
    let lead = |best: &BestOffer| offers[best.offer].lead_time_d.unwrap_or(u32::MAX);
    usable.min_by(|a, b| {
        a.stock_short
            .cmp(&b.stock_short)
            .then(a.total_job.partial_cmp(&b.total_job).unwrap_or(Ordering::Equal))
            .then(lead(a).cmp(&lead(b)))
    })
}
