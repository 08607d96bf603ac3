//! The buyer's list: what to order for a sized job, from whom, how many, for how much, and what is still open.
//!
//! Quantities and prices follow [`quantities`](super::quantities). A price that is not known stays visible as unknown and is
//! never added up; amounts in another currency count by the rate the buyer entered, and only then.

use std::collections::BTreeMap;

use super::asked::{self, Asked, JobCurrency};
use super::catalog_index::CatalogIndex;
use super::other_parts::{self, stated, stating};
use super::quantities::{Order, OrderLine, QuantityError, best_offer, order_line, pieces_needed};
use super::shelf::{self, Before, ShelfUse};
use super::size::{PositionSizing, Sizing};
use crate::domain::{
    Catalog, Date, INVENTED, Job, Names, OtherPart, Outcome, PartId, Place, Status, SupplierOffer, Trade,
};

/// The next price step above an order.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NextBreak {
    /// Pieces from which it holds.
    pub from_qty: u64,
    /// Price of one piece, currency of the offer.
    pub unit_price: f64,
    /// Pieces to order for it: that many, up to whole packs.
    pub qty: u64,
    /// What those cost, currency of the offer.
    pub line_total: f64,
}

/// What one supplier asks for the need of a part.
#[derive(Debug, Clone, PartialEq)]
pub struct OfferChoice {
    /// The offer.
    pub supplier: SupplierOffer,
    /// Pieces to order from this supplier with their price, currency of the offer; `None` without a usable price.
    pub order: Option<Order>,
    /// What they cost in the currency of the job; `None` without price or rate.
    pub total_job: Option<f64>,
    /// Whether the known stock is below the order.
    pub stock_short: bool,
}

/// One part of the order.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PurchaseLine {
    /// The part; `None` when the catalogue lacks it.
    pub part: Option<PartId>,
    /// The maker's number.
    pub part_number: String,
    /// The same as it is told to people: an invented part says so.
    pub told: String,
    /// Who makes it; empty when unknown.
    pub maker: String,
    /// Where it stands on the market.
    pub status: Option<Status>,
    /// The positions and other parts it serves.
    pub places: Vec<Place>,
    /// What these are called.
    pub names: String,
    /// Pieces built in, over all places and units; `None` when they cannot be counted.
    pub pieces: Option<u64>,
    /// Pieces needed with spares; `None` when they cannot be counted.
    pub need_qty: Option<u64>,
    /// What the shelf gives, oldest first.
    pub from_shelf: Vec<ShelfUse>,
    /// The offer taken; `None` when nobody offers the part.
    pub offer: Option<SupplierOffer>,
    /// Every offer for the part, that of the catalogue first.
    pub offers: Vec<OfferChoice>,
    /// Whether the buyer chose the supplier; otherwise the cheapest that has enough is taken.
    pub chosen_by_buyer: bool,
    /// Pieces to order.
    pub order_qty: Option<u64>,
    /// Pieces from which the unit price holds.
    pub price_from_qty: Option<u64>,
    /// Price of one piece in the currency of the offer.
    pub unit_price: Option<f64>,
    /// Price of the line in the currency of the offer.
    pub line_total: Option<f64>,
    /// Price of the line in the currency of the job; `None` without price or rate.
    pub total_job: Option<f64>,
    /// The next price step above the order.
    pub next_break: Option<NextBreak>,
    /// What the buyer should know, a clause each.
    pub notes: Vec<String>,
}

impl PurchaseLine {
    /// Whether something has to be bought: a quantity above zero, or one that is not known.
    pub fn to_order(&self) -> bool {
        self.order_qty != Some(0)
    }

    /// Whether it serves any position; otherwise only other parts, which are no capacitors.
    pub fn has_positions(&self) -> bool {
        self.places.iter().any(|place| matches!(place, Place::Position(_)))
    }

    /// The terms of the offer taken; all unknown where there is none.
    pub fn trade(&self) -> Trade {
        self.offer.as_ref().map(|offer| offer.trade).unwrap_or_default()
    }

    /// Whether the supplier's known stock is below the order.
    pub fn stock_short(&self) -> bool {
        self.trade().stock.zip(self.order_qty).is_some_and(|(stock, qty)| stock < qty as f64)
    }

    /// Currency of the offer; empty when unknown.
    pub fn currency(&self) -> &str {
        self.offer.as_ref().map_or("", |offer| offer.currency.trim())
    }

    /// The number the supplier gives the part; empty when unknown.
    pub fn supplier_part_number(&self) -> &str {
        self.offer.as_ref().map_or("", |offer| &offer.supplier_part_number)
    }

    /// Supplier of the offer; empty when unknown.
    pub fn supplier(&self) -> &str {
        self.offer.as_ref().map_or("", |offer| &offer.supplier)
    }
}

/// What the whole list comes to.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Totals {
    /// Sum of the known line totals in each known currency.
    pub per_currency: BTreeMap<String, f64>,
    /// Sum of the totals known in the currency of the job.
    pub known_job: f64,
    /// Lines to order whose total in the currency of the job is not known; they are in no sum of it.
    pub unknown_lines: usize,
    /// Lines to order.
    pub lines: usize,
    /// Handling of the order lines, currency of the job.
    pub lines_cost: f64,
}

impl Totals {
    /// Parts and handling in the currency of the job, when every line is known.
    pub fn certain_job(&self) -> Option<f64> {
        (self.unknown_lines == 0).then_some(self.known_job + self.lines_cost)
    }
}

impl Purchase {
    /// What the lines come to that serve positions: the search for few lines compares other parts apart from them.
    pub fn totals_of_positions(&self, job: &Job) -> Totals {
        let mut totals = Totals::default();
        self.lines.iter().filter(|line| line.has_positions()).for_each(|line| totals.add(line));
        totals.lines_cost = job.line_cost.unwrap_or(0.0) * totals.lines as f64;
        totals
    }

    /// Part numbers to order that are invented: nobody can buy them.
    pub fn invented<'a>(&'a self, catalog: &Catalog) -> Vec<&'a str> {
        let lines = self.lines.iter().filter(|line| line.part.is_some_and(|id| catalog.is_invented(id)));
        lines.map(|line| line.part_number.as_str()).collect()
    }
}

/// Everything the buyer needs.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Purchase {
    /// One line for each part, part numbers rising.
    pub lines: Vec<PurchaseLine>,
    /// Positions and other parts still without a part.
    pub without_part: Vec<Place>,
    /// Sums.
    pub totals: Totals,
    /// Currency of the sums.
    pub currency: JobCurrency,
    /// Rates used: units of the job's currency for one of the named.
    pub rates: BTreeMap<String, f64>,
    /// What holds for the whole list, a sentence each.
    pub notes: Vec<String>,
}

/// What one part serves.
#[derive(Default)]
struct Served<'a> {
    positions: Vec<&'a PositionSizing>,
    others: Vec<(Place, &'a OtherPart)>,
}

/// The purchase list of a sized job. `today` decides the age of shelf stock.
pub fn purchase(job: &Job, catalog_index: &CatalogIndex, sizing: &Sizing, today: Option<Date>) -> Purchase {
    let currency = JobCurrency::of(job, catalog_index.catalog());
    let mut purchase = Purchase { notes: assumptions(job, &currency), ..Purchase::default() };
    let mut served: BTreeMap<String, Served> = BTreeMap::new();
    for sized in &sizing.positions {
        match part_number(job, catalog_index, sized) {
            Some(number) => served.entry(number).or_default().positions.push(sized),
            None => purchase.without_part.push(sized.id.into()),
        }
    }
    for (id, part) in job.all_other_parts() {
        match part.part_number() {
            Some(number) => served.entry(number.to_owned()).or_default().others.push((Place::Other(id), part)),
            None => purchase.without_part.push(Place::Other(id)),
        }
    }
    let names = Names::of(job);
    for (number, served) in served {
        let line = line(&names, catalog_index, &currency, today, number, &served);
        purchase.totals.add(&line);
        if let Some(rate) = currency.rate(job, line.currency()) {
            purchase.rates.insert(line.currency().to_owned(), rate);
        }
        purchase.lines.push(line);
    }
    purchase.totals.lines_cost = job.line_cost.unwrap_or(0.0) * purchase.totals.lines as f64;
    purchase.currency = currency;
    purchase
}

impl Totals {
    fn add(&mut self, line: &PurchaseLine) {
        if !line.to_order() {
            return;
        }
        self.lines += 1;
        match line.total_job {
            Some(total) => self.known_job += total,
            None => self.unknown_lines += 1,
        }
        if let (Some(total), false) = (line.line_total, line.currency().is_empty()) {
            *self.per_currency.entry(line.currency().to_owned()).or_default() += total;
        }
    }
}

/// The number of the part at a position, also of a pick the catalogue lacks.
fn part_number(job: &Job, catalog_index: &CatalogIndex, sized: &PositionSizing) -> Option<String> {
    match sized.choice.part {
        Some(part) => Some(catalog_index.catalog().part_number(part.id).to_owned()),
        None => job.position(sized.id)?.pick.clone(),
    }
}

/// Figures of the job that are absent and count by default.
fn assumptions(job: &Job, currency: &JobCurrency) -> Vec<String> {
    let mut notes = Vec::new();
    for (of, name) in job.unit_types.iter().flat_map(|of| of.boards.iter().map(move |name| (of, name))) {
        if job.boards.iter().all(|board| board.name.trim() != name.trim()) {
            notes.push(format!("Units of the type {} have a board {name}, which the job does not have.", of.name));
        }
    }
    for (at, board) in job.boards.iter().enumerate().filter(|_| !job.unit_types.is_empty()) {
        if job.copies(Some(at)) == 0.0 {
            notes.push(format!("The board {} is in no type of unit: nothing is ordered for it.", board.name));
        }
    }
    if job.units.is_none() && job.unit_types.is_empty() {
        notes.push("The job does not say how many units are rebuilt: counted as 1 (assumed).".to_owned());
    }
    if job.spare_pct.is_none() {
        notes.push("The job does not say how many spares to buy: none counted (assumed).".to_owned());
    }
    match &currency.code {
        None => notes.push("The job names no currency: totals cannot be added up.".to_owned()),
        Some(code) if currency.assumed => {
            notes
                .push(format!("The job names no currency: {code}, the only one in the catalogue, is taken (assumed)."));
        }
        Some(_) => {}
    }
    notes
}

/// Pieces at a place without spares, over all boards and units, a started piece counting whole.
pub(super) fn pieces(job: &Job, place: impl Into<Place>) -> Option<u64> {
    asked::whole((job.pieces(place.into()) - 1e-9).ceil().max(0.0))
}

fn line(
    names: &Names,
    catalog_index: &CatalogIndex,
    currency: &JobCurrency,
    today: Option<Date>,
    part_number: String,
    served: &Served,
) -> PurchaseLine {
    let (job, catalog) = (names.job, catalog_index.catalog());
    let part = catalog.find(&part_number);
    let stating = if served.others.is_empty() { Vec::new() } else { stating(job, &served.others, &part_number) };
    let positions = served.positions.iter().map(|sized| Place::Position(sized.id));
    let places: Vec<Place> = positions.chain(served.others.iter().map(|(place, _)| *place)).collect();
    let pieces = places.iter().try_fold(0u64, |sum, &place| sum.checked_add(pieces(job, place)?));
    let need = pieces.ok_or(QuantityError::TooMany).and_then(|n| pieces_needed(n, job.spare_pct.unwrap_or(0.0)));
    let mut line = PurchaseLine {
        part,
        maker: match part {
            Some(id) => catalog.maker(id).to_owned(),
            None => stating.iter().find_map(|other| other.replacement.maker.clone()).unwrap_or_default(),
        },
        status: part.and_then(|id| catalog.status(id)),
        names: names.list(&places, " "),
        places,
        pieces,
        need_qty: need.clone().ok(),
        told: part.map_or_else(|| part_number.clone(), |id| catalog.told(job, id)),
        part_number,
        ..PurchaseLine::default()
    };
    if part.is_none() && !served.positions.is_empty() {
        line.notes.push("not in the catalogue, so not checked".into());
    }
    // All of an invented job is, and it says so itself.
    if job.invented != Some(true) && part.is_some_and(|id| catalog.is_invented(id)) {
        line.notes.push(format!("{INVENTED}: cannot be bought"));
    }
    line.notes.extend(verdict_notes(names, &served.positions));
    for (_, other) in &served.others {
        let told = other_parts::warnings(other).into_iter().map(|note| format!("{}: {note}", other.reference));
        line.notes.extend(told);
    }
    let own = stating.iter().map(|other| stated(currency, other)).collect();
    let offers = asked::offers(job, currency, catalog, part, &line.part_number, own);
    match need {
        Ok(need_qty) => {
            line.from_shelf =
                shelf::take(job, &line.part_number, part.map(|id| catalog.can(id)).as_ref(), need_qty, today);
            if served.positions.is_empty() {
                // Only electrolytics are re-formed.
                line.from_shelf.iter_mut().for_each(|used| used.before = Before::Nothing);
            }
            line.offers = choices(&line, need_qty, &offers);
            let counting = asked::counting(job, &line.part_number, &offers);
            if let Some(chosen) = job.suppliers.get(&line.part_number) {
                let offered = counting.first().is_some_and(|asked| asked.supplier.supplier.trim() == chosen.trim());
                line.chosen_by_buyer = offered;
                if !offered {
                    line.notes.push(format!("{chosen}, chosen for it, does not offer it"));
                }
            }
            buy(&mut line, need_qty, counting);
        }
        Err(error) => line.notes.push(error.to_string()),
    }
    line.notes.extend(line.from_shelf.iter().map(ShelfUse::note));
    match line.status {
        Some(Status::Nrnd) => line.notes.push("not recommended for new designs".into()),
        Some(Status::Obsolete) => line.notes.push("obsolete".into()),
        _ => {}
    }
    line
}

/// Positions where the part is not known to hold.
fn verdict_notes(names: &Names, positions: &[&PositionSizing]) -> Vec<String> {
    let refs_with = |outcome: Outcome| {
        let at = positions.iter().filter(|sized| sized.choice.part.is_some() && sized.choice.verdict == outcome);
        names.list(&at.map(|sized| sized.id).collect::<Vec<_>>(), ", ")
    };
    let note = |(outcome, says): (Outcome, &str)| {
        let refs = refs_with(outcome);
        (!refs.is_empty()).then(|| format!("{says} at {refs}"))
    };
    let verdicts = [(Outcome::Fail, "fails"), (Outcome::Unknown, "not proven"), (Outcome::Marginal, "marginal")];
    verdicts.into_iter().filter_map(note).collect()
}

/// What every supplier asks for what the shelf leaves to be bought.
fn choices(line: &PurchaseLine, need_qty: u64, offers: &[Asked]) -> Vec<OfferChoice> {
    let shelf_qty = line.from_shelf.iter().map(|used| used.qty).sum();
    let choice = |asked: &Asked| {
        let priced = asked.priced.as_ref().ok();
        let order = priced.and_then(|offer| Some(order_line(need_qty, shelf_qty, &offer.terms).ok()?.proposed));
        OfferChoice {
            supplier: asked.supplier.clone(),
            order,
            total_job: order.zip(priced.and_then(|offer| offer.rate_to_job)).map(|(order, rate)| order.total * rate),
            stock_short: order
                .zip(priced.and_then(|offer| offer.stock_qty))
                .is_some_and(|(order, stock)| stock < order.qty),
        }
    };
    offers.iter().map(choice).collect()
}

/// Chooses an offer and fills quantity and price.
fn buy(line: &mut PurchaseLine, need_qty: u64, offers: &[Asked]) {
    let shelf_qty = line.from_shelf.iter().map(|used| used.qty).sum();
    let priced: Vec<_> = offers.iter().filter_map(|asked| Some((asked, asked.priced.clone().ok()?))).collect();
    let comparable: Vec<_> = priced.iter().map(|(_, offer)| offer.clone()).collect();
    if let Some(best) = best_offer(need_qty, shelf_qty, &comparable) {
        let (asked, offer) = &priced[best.offer];
        line.total_job = Some(best.total_job);
        fill(line, asked, &best.line, offer.terms.breaks());
    } else if let Some((asked, offer)) = priced.first() {
        match order_line(need_qty, shelf_qty, &offer.terms) {
            Ok(order) => fill(line, asked, &order, offer.terms.breaks()),
            Err(error) => line.notes.push(error.to_string()),
        }
        let currency = line.currency().to_owned();
        line.notes.push(match currency.as_str() {
            "" => "currency of the price unknown: not in the total".into(),
            code => format!("no rate for {code}: not in the total"),
        });
    } else {
        unpriced(line, need_qty - shelf_qty, offers);
    }
    if line.stock_short() {
        let stock = line.offer.as_ref().and_then(|offer| offer.trade.stock).unwrap_or_default();
        line.notes.push(format!("stock below the order: {} pieces", stock.floor()));
    }
    if line.order_qty == Some(0) {
        // Nothing is bought, so nothing is owed, whatever the price.
        line.total_job = Some(0.0);
        line.next_break = None;
    }
}

fn fill(line: &mut PurchaseLine, asked: &Asked, order: &OrderLine, breaks: &[super::quantities::PriceBreak]) {
    line.offer = Some(asked.supplier.clone());
    line.order_qty = Some(order.proposed.qty);
    let used = breaks.iter().rev().find(|step| step.from_qty <= order.proposed.qty);
    line.price_from_qty = used.map(|step| step.from_qty);
    line.unit_price = Some(order.proposed.unit_price);
    line.line_total = Some(order.proposed.total);
    line.notes.extend(order.explain(line.currency()));
    let pack = asked::order_units(&asked.supplier).ok().and_then(|(_, pack)| pack).unwrap_or(1);
    line.next_break = breaks.iter().find(|step| step.from_qty > order.proposed.qty).and_then(|step| {
        let qty = step.from_qty.checked_next_multiple_of(pack)?;
        Some(NextBreak {
            from_qty: step.from_qty,
            unit_price: step.unit_price,
            qty,
            line_total: qty as f64 * step.unit_price,
        })
    });
}

/// A part nobody prices: its quantity by minimum and pack, its price unknown.
fn unpriced(line: &mut PurchaseLine, missing: u64, offers: &[Asked]) {
    line.offer = offers.first().map(|asked| asked.supplier.clone());
    let units = line.offer.as_ref().map_or(Ok((None, None)), asked::order_units);
    let raised = units.and_then(|(moq, pack)| match missing {
        0 => Ok(0),
        _ => missing.max(moq.unwrap_or(1)).checked_next_multiple_of(pack.unwrap_or(1)).ok_or(QuantityError::TooMany),
    });
    match raised {
        Ok(qty) => line.order_qty = Some(qty),
        Err(error) => line.notes.push(error.to_string()),
    }
    let reason = match offers.first().map(|asked| &asked.priced) {
        None => "nobody offers it: price unknown".to_owned(),
        Some(Err(QuantityError::NoPrice) | Ok(_)) => "price unknown: ask the supplier".to_owned(),
        Some(Err(error)) => format!("price unknown: {error}"),
    };
    line.notes.push(reason);
}
