//! The catalogue ordered so that most parts never have to be looked at for a position.

use std::sync::Arc;

use rayon::prelude::*;

use crate::domain::{Can, Catalog, Mounting, OfferBook, PairTable, PartId, words};
use crate::physics::body;
use crate::progress::Progress;

use super::compare::{at_least, at_most};
use super::position_context::PositionContext;

/// The figures that can rule a part out at a glance.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Envelope {
    id: PartId,
    mounting: Option<Mounting>,
    capacitance_uf: f64,
    rated_v: f64,
    /// A smaller limit than this rules the part out; 0 where the body is not known.
    diameter_mm: f64,
    /// A smaller limit than this rules the part out; 0 where the body is not known.
    height_mm: f64,
    /// Lead spacing; NaN where it is not known.
    pitch_mm: f64,
}

impl Envelope {
    /// `None` when a figure it always needs is missing.
    fn new(id: PartId, can: &Can) -> Option<Self> {
        let body = body::of(can);
        // Between the nominal and the largest diameter the fit is marginal, so only both together rule out.
        let both = can.diameter_mm.zip(body.diameter_max_mm);
        Some(Self {
            id,
            mounting: can.mounting,
            capacitance_uf: can.capacitance_uf?,
            rated_v: can.rated_v?,
            diameter_mm: both.map_or(0.0, |(nominal, largest)| nominal.min(largest)),
            height_mm: body.height_max_mm.unwrap_or(0.0),
            pitch_mm: can.pitch_mm.unwrap_or(f64::NAN),
        })
    }
}

words! {
    /// What can rule a part out at a glance.
    pub enum PrefilterReason {
        /// Nominal capacitance outside what can pass or be marginal.
        Capacitance,
        /// Working voltage above the rated voltage.
        Voltage,
        /// Another kind of mounting.
        Mounting,
        /// Thicker than there is room for.
        Diameter,
        /// Higher than there is room for.
        Height,
    }
}

/// How many parts are ruled out at a glance, and by what; in the order of [`PrefilterReason::ALL`].
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct RuledOut {
    /// Parts each cause rules out; a part can have several.
    pub by: [usize; PrefilterReason::ALL.len()],
    /// Parts each cause alone rules out.
    pub only_by: [usize; PrefilterReason::ALL.len()],
}

impl RuledOut {
    fn add(mut self, admits: [bool; PrefilterReason::ALL.len()]) -> Self {
        let causes = admits.iter().filter(|&&admitted| !admitted).count();
        for (at, admitted) in admits.into_iter().enumerate() {
            self.by[at] += usize::from(!admitted);
            self.only_by[at] += usize::from(!admitted && causes == 1);
        }
        self
    }

    fn join(mut self, other: Self) -> Self {
        for at in 0..PrefilterReason::ALL.len() {
            self.by[at] += other.by[at];
            self.only_by[at] += other.only_by[at];
        }
        self
    }
}

/// The bounds a position sets on an [`Envelope`]; a bound that is not known rules nothing out.
struct Sieve {
    capacitance_uf: (f64, f64),
    /// Least peak any part sees, V.
    peak_v: f64,
    mountings: Option<Vec<Mounting>>,
    diameter_mm: f64,
    height_mm: f64,
}

impl Sieve {
    fn new(context: &PositionContext) -> Self {
        let (diameter_mm, height_mm) = context.room_mm();
        Self {
            capacitance_uf: context.capacitance_range_uf(),
            peak_v: context.electrical.least_peak_of_any_v(context.policy).unwrap_or(f64::NEG_INFINITY),
            mountings: context.mountings(),
            diameter_mm: diameter_mm.unwrap_or(f64::INFINITY),
            height_mm: height_mm.unwrap_or(f64::INFINITY),
        }
    }

    /// Whether the part is not certain to fail by capacitance, operating voltage, mounting or body.
    fn admits(&self, part: &Envelope) -> bool {
        // The body rules out most.
        ADMITS.iter().rev().all(|admits| admits(self, part))
    }

    fn mounts(&self, part: &Envelope) -> bool {
        match (&self.mountings, part.mounting) {
            (Some(accepted), Some(own)) => accepted.contains(&own),
            _ => true,
        }
    }

    /// How far the part is beyond the bounds: the product of the ratios by which each is exceeded; another kind of mounting counts
    /// as much as a figure twice too large.
    fn excess(&self, part: &Envelope) -> f32 {
        // What is not known, on either side, exceeds nothing.
        let over = |value: f64, limit: f64| (value / limit).max(1.0);
        let (least_uf, most_uf) = self.capacitance_uf;
        let figures = over(least_uf, part.capacitance_uf)
            * over(part.capacitance_uf, most_uf)
            * over(self.peak_v, part.rated_v)
            * over(part.diameter_mm, self.diameter_mm)
            * over(part.height_mm, self.height_mm);
        #[expect(clippy::cast_possible_truncation, reason = "seven digits are enough to sort by")]
        let excess = (figures * if self.mounts(part) { 1.0 } else { 2.0 }) as f32;
        excess
    }
}

/// Whether each of [`PrefilterReason::ALL`] leaves a part in play.
const ADMITS: [fn(&Sieve, &Envelope) -> bool; PrefilterReason::ALL.len()] = [
    |sieve, part| {
        at_least(part.capacitance_uf, sieve.capacitance_uf.0) && at_most(part.capacitance_uf, sieve.capacitance_uf.1)
    },
    |sieve, part| at_most(sieve.peak_v / part.rated_v, 1.0),
    |sieve, part| sieve.mounts(part),
    |sieve, part| at_most(part.diameter_mm, sieve.diameter_mm),
    |sieve, part| at_most(part.height_mm, sieve.height_mm),
];

/// The parts one can buy, ready for sizing.
#[derive(Debug, Clone, Default)]
pub struct CatalogIndex {
    /// In the order of `by_capacitance`, incomplete parts last, so that parts looked at together lie together in memory.
    catalog: Arc<Catalog>,
    /// Sorted by capacitance, then rated voltage, then place in the catalogue.
    by_capacitance: Arc<Vec<Envelope>>,
    /// Parts without capacitance or rated voltage: never ruled out.
    incomplete: Arc<Vec<PartId>>,
    /// See [`least_prices`].
    least_price: Arc<Vec<f32>>,
}

impl CatalogIndex {
    /// Orders a catalogue for searching; the parts get new places in [`catalog`](Self::catalog).
    pub fn new(catalog: Arc<Catalog>) -> Self {
        // Work that nobody can cancel is always finished.
        Self::new_watched(catalog, &Progress::default()).unwrap_or_default()
    }

    /// Like [`new`](Self::new), for somebody who waits; `None` once it is cancelled.
    pub fn new_watched(catalog: Arc<Catalog>, progress: &Progress) -> Option<Self> {
        // Numbers above 0 sort as their bits do; incomplete parts come last.
        let key = |&id: &PartId| {
            let columns = catalog.columns();
            let row = id.0 as usize;
            let figures = columns.capacitance_uf.get(row).zip(columns.rated_v.get(row));
            let bits = |(uf, v): (f64, f64)| (u128::from(uf.to_bits()) << 64) | u128::from(v.to_bits());
            (figures.map_or(u128::MAX, bits), id)
        };
        let ids: Vec<PartId> = catalog.ids().collect();
        let mut order: Vec<(u128, PartId)> = ids.par_iter().map(key).collect();
        progress.sort(&mut order, Ord::cmp)?;
        let complete = order.partition_point(|&(figures, _)| figures != u128::MAX);
        let order: Vec<PartId> = order.into_iter().map(|(_, id)| id).collect();
        let catalog = Arc::new(Arc::unwrap_or_clone(catalog).reordered(&order, progress)?);
        let columns = catalog.columns();
        let envelope = |&id: &PartId| {
            let row = id.0 as usize;
            // Only what an envelope takes: a whole can is thirty columns.
            let can = Can {
                mounting: catalog.mounting(id),
                capacitance_uf: columns.capacitance_uf.get(row),
                rated_v: columns.rated_v.get(row),
                diameter_mm: columns.diameter_mm.get(row),
                height_mm: columns.height_mm.get(row),
                diameter_max_mm: columns.diameter_max_mm.get(row),
                height_max_mm: columns.height_max_mm.get(row),
                pitch_mm: columns.pitch_mm.get(row),
                ..Can::default()
            };
            Envelope::new(id, &can)
        };
        let by_capacitance = ids[..complete].par_iter().filter_map(envelope).collect();
        let incomplete = Arc::new(ids[complete..].to_vec());
        let least_price = Arc::new(least_prices(&catalog));
        (!progress.is_cancelled()).then(|| Self {
            catalog,
            by_capacitance: Arc::new(by_capacitance),
            incomplete,
            least_price,
        })
    }

    /// The same parts with these offers of further suppliers.
    #[must_use]
    pub fn with_offers(&self, offers: Arc<OfferBook>) -> Self {
        let catalog = Arc::new(self.catalog.with_offers(offers));
        Self { least_price: Arc::new(least_prices(&catalog)), catalog, ..self.clone() }
    }

    /// The parts themselves.
    pub fn catalog(&self) -> &Arc<Catalog> {
        &self.catalog
    }

    /// The least the pieces of a part can cost that this position needs, in the currency of the job.
    pub(super) fn cost_floor(&self, context: &PositionContext, id: PartId) -> f64 {
        let least_price = self.least_price[id.0 as usize];
        context.market.cost_floor(&self.catalog, id, least_price, context.need_qty)
    }

    /// The parts not ruled out at a glance at this position, in no particular order.
    pub fn admitted(&self, context: &PositionContext) -> Vec<PartId> {
        let sieve = Sieve::new(context);
        let mut admitted = self.within(sieve.capacitance_uf, |part| sieve.admits(part));
        admitted.extend(self.incomplete.iter());
        admitted
    }

    /// The parts ruled out at a glance at this position, in no particular order, and how far each is beyond the bounds: the product
    /// of the ratios by which its figures exceed them, above 1.
    pub fn excluded(&self, context: &PositionContext) -> Vec<(PartId, f32)> {
        let sieve = Sieve::new(context);
        let excluded = self.by_capacitance.par_iter().filter(|part| !sieve.admits(part));
        excluded.map(|part| (part.id, sieve.excess(part))).collect()
    }

    /// The parts that are not seen at a glance not to pass at this position; fewer than [`admitted`](Self::admitted).
    pub fn passable(&self, context: &PositionContext) -> Vec<PartId> {
        let Some((mounting, (from_mm, to_mm))) = context.mounting_pass() else { return Vec::new() };
        let (sieve, bounded) = (Sieve::new(context), from_mm.is_finite());
        let leads = |part: &Envelope| !bounded || at_least(part.pitch_mm, from_mm) && at_most(part.pitch_mm, to_mm);
        let can_pass = |part: &Envelope| part.mounting == Some(mounting) && leads(part) && sieve.admits(part);
        self.within(context.capacitance_pass_uf(), can_pass)
    }

    /// The parts with a capacitance of this range that `admits` takes, by capacitance.
    fn within(&self, (least_uf, most_uf): (f64, f64), admits: impl Fn(&Envelope) -> bool + Sync) -> Vec<PartId> {
        /// Fewer parts are looked through before another thread has begun.
        const PARTS_PER_THREAD: usize = 1 << 16;
        let from = self.by_capacitance.partition_point(|part| !at_least(part.capacitance_uf, least_uf));
        let to = self.by_capacitance.partition_point(|part| at_most(part.capacitance_uf, most_uf));
        let candidates = self.by_capacitance.get(from..to).unwrap_or_default();
        let of_some = |parts: &[Envelope]| -> Vec<PartId> {
            parts.iter().filter(|part| admits(part)).map(|part| part.id).collect()
        };
        match candidates.len() {
            ..=PARTS_PER_THREAD => of_some(candidates),
            _ => candidates.par_chunks(PARTS_PER_THREAD).map(of_some).collect::<Vec<_>>().concat(),
        }
    }

    /// How many parts are ruled out at a glance at this position, by what, and by what alone.
    pub fn ruled_out(&self, context: &PositionContext) -> RuledOut {
        let sieve = Sieve::new(context);
        let add = |sum: RuledOut, part: &Envelope| sum.add(ADMITS.map(|admits| admits(&sieve, part)));
        let counted = self.by_capacitance.par_iter().fold(RuledOut::default, add);
        counted.reduce(RuledOut::default, RuledOut::join)
    }

    /// [`admitted`](Self::admitted) without the order: looks at every part. For checking the order against.
    pub fn admitted_by_full_scan(&self, context: &PositionContext) -> Vec<PartId> {
        let sieve = Sieve::new(context);
        let admits = |&id: &PartId| Envelope::new(id, &self.catalog.can(id)).is_none_or(|part| sieve.admits(&part));
        self.catalog.ids().filter(admits).collect()
    }
}

/// By part: no piece costs less in the currency of its row; infinite without a price, 0 for parts that further suppliers offer too.
fn least_prices(catalog: &Catalog) -> Vec<f32> {
    let least = |id: PartId| {
        let breaks = catalog.price_breaks(id).map_or(&[][..], PairTable::pairs);
        let least = breaks.iter().map(|step| step.1).chain(catalog.trade(id).unit_price).reduce(f64::min);
        #[expect(clippy::cast_possible_truncation, reason = "rounded down, so that it stays a lower bound")]
        least.map_or(f32::INFINITY, |price| (price as f32).next_down().max(0.0))
    };
    let ids: Vec<PartId> = catalog.ids().collect();
    let mut least: Vec<f32> = ids.par_iter().map(|&id| least(id)).collect();
    for id in catalog.offers().part_numbers().filter_map(|number| catalog.find(number)) {
        least[id.0 as usize] = 0.0;
    }
    least
}
