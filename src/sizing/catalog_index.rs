//! The catalogue ordered so that most parts never have to be looked at for a position.

use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::collections::binary_heap::PeekMut;
use std::ops::Range;
use std::sync::Arc;

use hashbrown::{HashMap, HashSet};
use rayon::prelude::*;

use crate::domain::{Can, Catalog, Mounting, OfferBook, PairTable, PartId, words};
use crate::physics::body;
use crate::progress::Progress;

use super::compare::{at_least, at_most};
use super::position_context::PositionContext;

/// The figures that can rule a part out at a glance.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Envelope {
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
    fn new(can: &Can) -> Option<Self> {
        let body = body::of(can);
        // Between the nominal and the largest diameter the fit is marginal, so only both together rule out.
        let both = can.diameter_mm.zip(body.diameter_max_mm);
        Some(Self {
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
    /// Adds so many parts that are alike.
    fn add(mut self, admits: [bool; PrefilterReason::ALL.len()], parts: usize) -> Self {
        let causes = admits.iter().filter(|&&admitted| !admitted).count();
        for (at, _) in admits.iter().enumerate().filter(|(_, admitted)| !**admitted) {
            self.by[at] += parts;
            self.only_by[at] += if causes == 1 { parts } else { 0 };
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

/// Parts that are alike at a glance and have prices in one currency.
#[derive(Debug, Clone)]
struct Alike {
    envelope: Envelope,
    /// Where they stand in [`CatalogIndex::parts`].
    parts: Range<usize>,
}

/// A part, and what a piece of it costs at the very least, in the currency of its row; infinite without a price, 0 for parts that further
/// suppliers offer too.
#[derive(Debug, Clone, Copy)]
struct Priced {
    least_price: f32,
    id: PartId,
}

/// The parts one can buy, ready for sizing.
#[derive(Debug, Clone, Default)]
pub struct CatalogIndex {
    catalog: Arc<Catalog>,
    /// Sorted by capacitance, then rated voltage.
    by_capacitance: Arc<Vec<Alike>>,
    /// In the order of `by_capacitance`, those that are alike by price; parts without capacitance or rated voltage, which are never ruled
    /// out, come last.
    parts: Arc<Vec<Priced>>,
}

impl CatalogIndex {
    /// Orders a catalogue for searching.
    pub fn new(catalog: Arc<Catalog>) -> Self {
        // Work that nobody can cancel is always finished.
        Self::new_watched(catalog, &Progress::default()).unwrap_or_default()
    }

    /// Like [`new`](Self::new), for somebody who waits; `None` once it is cancelled.
    pub fn new_watched(catalog: Arc<Catalog>, progress: &Progress) -> Option<Self> {
        let (kinds, of_part) = kinds(&catalog);
        if progress.is_cancelled() {
            return None;
        }
        let mut parts_of = vec![0; kinds.len()];
        of_part.iter().flatten().for_each(|&kind| parts_of[kind as usize] += 1);
        let envelope = |(kind, &first): (usize, &PartId)| (Envelope::new(&catalog.can(first)), kind);
        let mut sorted: Vec<(Option<Envelope>, usize)> = kinds.iter().enumerate().map(envelope).collect();
        // Numbers above 0 sort as their bits do; incomplete parts come last.
        let key = |known: Envelope| (known.capacitance_uf.to_bits(), known.rated_v.to_bits());
        sorted.sort_by_key(|(envelope, _)| envelope.map_or((u64::MAX, 0), key));
        let (mut by_capacitance, mut next, mut free) = (Vec::new(), vec![0; kinds.len()], 0);
        for (envelope, kind) in sorted {
            next[kind] = free;
            free += parts_of[kind];
            by_capacitance.extend(envelope.map(|envelope| Alike { envelope, parts: next[kind]..free }));
        }
        let mut parts = vec![Priced { least_price: 0.0, id: PartId(0) }; catalog.len()];
        for (id, &kind) in catalog.ids().zip(of_part.iter().flatten()) {
            parts[next[kind as usize]].id = id;
            next[kind as usize] += 1;
        }
        set_prices(&catalog, &by_capacitance, &mut parts);
        let (by_capacitance, parts) = (Arc::new(by_capacitance), Arc::new(parts));
        (!progress.is_cancelled()).then(|| Self { catalog, by_capacitance, parts })
    }

    /// The same parts with these offers of further suppliers.
    #[must_use]
    pub fn with_offers(&self, offers: Arc<OfferBook>) -> Self {
        if offers.is_empty() && self.catalog.offers().is_empty() {
            return self.clone();
        }
        let catalog = Arc::new(self.catalog.with_offers(offers));
        let mut parts = (*self.parts).clone();
        set_prices(&catalog, &self.by_capacitance, &mut parts);
        Self { catalog, parts: Arc::new(parts), ..self.clone() }
    }

    /// Parts without capacitance or rated voltage.
    fn incomplete(&self) -> &[Priced] {
        &self.parts[self.by_capacitance.last().map_or(0, |last| last.parts.end)..]
    }

    /// The parts themselves.
    pub fn catalog(&self) -> &Arc<Catalog> {
        &self.catalog
    }

    /// The parts not ruled out at a glance at this position, in no particular order.
    pub fn admitted(&self, context: &PositionContext) -> Vec<PartId> {
        let sieve = Sieve::new(context);
        let admitted = self.within(sieve.capacitance_uf).filter(|alike| sieve.admits(&alike.envelope));
        let parts = admitted.flat_map(|alike| &self.parts[alike.parts.clone()]);
        parts.chain(self.incomplete()).map(|part| part.id).collect()
    }

    /// The parts ruled out at a glance at this position, in no particular order, and how far each is beyond the bounds: the product
    /// of the ratios by which its figures exceed them, above 1.
    pub fn excluded(&self, context: &PositionContext) -> Vec<(PartId, f32)> {
        let sieve = Sieve::new(context);
        let excluded = self.by_capacitance.iter().filter(|alike| !sieve.admits(&alike.envelope));
        let with_excess = |alike: &Alike| {
            let excess = sieve.excess(&alike.envelope);
            self.parts[alike.parts.clone()].iter().map(move |part| (part.id, excess))
        };
        excluded.flat_map(with_excess).collect()
    }

    /// The parts that are not seen at a glance not to pass at this position, fewer than [`admitted`](Self::admitted), each with the least that
    /// the pieces the position needs of it can cost in the currency of the job; the cheapest first.
    pub fn passable<'a>(&'a self, context: &'a PositionContext) -> impl Iterator<Item = (f64, PartId)> + 'a {
        let (sieve, market) = (Sieve::new(context), &*context.market);
        let passing = context.mounting_pass().map(|(mounting, (from_mm, to_mm))| {
            let leads = move |part: &Envelope| {
                !from_mm.is_finite() || at_least(part.pitch_mm, from_mm) && at_most(part.pitch_mm, to_mm)
            };
            let can_pass = move |part: &Envelope| part.mounting == Some(mounting) && leads(part) && sieve.admits(part);
            self.within(context.capacitance_pass_uf()).filter(move |alike| can_pass(&alike.envelope))
        });
        let next = |at: usize, end: usize| {
            let part = self.parts[at];
            let floor = market.cost_floor(&self.catalog, part.id, part.least_price, context.need_qty);
            // Numbers from 0 on sort as their bits do.
            Reverse((floor.to_bits(), at, end))
        };
        let first = |alike: &Alike| next(alike.parts.start, alike.parts.end);
        let mut cheapest: BinaryHeap<_> = passing.into_iter().flatten().map(first).collect();
        let by_price = std::iter::from_fn(move || {
            let mut cheapest = cheapest.peek_mut()?;
            let Reverse((floor, at, end)) = *cheapest;
            if at + 1 < end {
                *cheapest = next(at + 1, end);
            } else {
                PeekMut::pop(cheapest);
            }
            Some((f64::from_bits(floor), self.parts[at].id))
        });
        // What lies on the shelf costs less than others of its kind at the same price.
        let shelf = market.shelf_parts().map(|id| (0.0, id));
        shelf.chain(by_price.filter(|&(_, id)| !market.is_on_shelf(id)))
    }

    /// What has a capacitance of this range, by capacitance.
    fn within(&self, (least_uf, most_uf): (f64, f64)) -> impl Iterator<Item = &Alike> {
        let from = self.by_capacitance.partition_point(|alike| !at_least(alike.envelope.capacitance_uf, least_uf));
        let to = self.by_capacitance.partition_point(|alike| at_most(alike.envelope.capacitance_uf, most_uf));
        self.by_capacitance.get(from..to).unwrap_or_default().iter()
    }

    /// How many parts are ruled out at a glance at this position, by what, and by what alone.
    pub fn ruled_out(&self, context: &PositionContext) -> RuledOut {
        let sieve = Sieve::new(context);
        let add = |sum: RuledOut, alike: &Alike| {
            sum.add(ADMITS.map(|admits| admits(&sieve, &alike.envelope)), alike.parts.len())
        };
        self.by_capacitance.iter().fold(RuledOut::default(), add)
    }

    /// [`admitted`](Self::admitted) without the order: looks at every part. For checking the order against.
    pub fn admitted_by_full_scan(&self, context: &PositionContext) -> Vec<PartId> {
        let sieve = Sieve::new(context);
        let admits = |&id: &PartId| Envelope::new(&self.catalog.can(id)).is_none_or(|part| sieve.admits(&part));
        self.catalog.ids().filter(admits).collect()
    }
}

/// The first part of every kind, and which kind each part is of, stretch by stretch. Lists have far fewer kinds of parts than parts.
fn kinds(catalog: &Catalog) -> (Vec<PartId>, Vec<Vec<u32>>) {
    let columns = catalog.columns();
    let figures = [
        &columns.capacitance_uf,
        &columns.rated_v,
        &columns.diameter_mm,
        &columns.height_mm,
        &columns.diameter_max_mm,
        &columns.height_max_mm,
        &columns.pitch_mm,
    ];
    let kind = |id: PartId| {
        let of = figures.map(|figure| u64::from(figure.at(id.0 as usize)));
        let mounting = catalog.mounting(id).map_or(0, |mounting| mounting as u64 + 1);
        // Two in one are looked up sooner.
        let two = |one: u64, other: u64| one << 32 | other;
        (two(of[0], of[1]), two(of[2], of[3]), two(of[4], of[5]), two(of[6], mounting), catalog.currencies().at(id))
    };
    let of_stretch = |ids: &[PartId]| {
        let (mut known, mut firsts) = (HashMap::new(), Vec::new());
        let number = |&id: &PartId| {
            *known.entry(kind(id)).or_insert_with(|| {
                firsts.push(id);
                u32::try_from(firsts.len() - 1).unwrap_or(u32::MAX)
            })
        };
        let of_part: Vec<u32> = ids.iter().map(number).collect();
        (firsts, of_part)
    };
    let ids: Vec<PartId> = catalog.ids().collect();
    let at_once = ids.len().div_ceil(rayon::current_num_threads()).max(1);
    let mut stretches: Vec<(Vec<PartId>, Vec<u32>)> = ids.par_chunks(at_once).map(of_stretch).collect();
    let all: Vec<PartId> = stretches.iter().flat_map(|(firsts, _)| firsts.iter().copied()).collect();
    let (firsts, number) = of_stretch(&all);
    let mut numbers = &number[..];
    stretches.iter_mut().for_each(|(own, of_part)| {
        let number = numbers.split_off(..own.len()).unwrap_or_default();
        of_part.iter_mut().for_each(|kind| *kind = number[*kind as usize]);
    });
    (firsts, stretches.into_iter().map(|(_, of_part)| of_part).collect())
}

/// Sets the least prices, and sorts those that are alike by them.
fn set_prices(catalog: &Catalog, by_capacitance: &[Alike], parts: &mut [Priced]) {
    let least_price = |id: PartId| {
        let breaks = catalog.price_breaks(id).map_or(&[][..], PairTable::pairs);
        let least = breaks.iter().map(|step| step.1).chain(catalog.unit_price(id)).reduce(f64::min);
        #[expect(clippy::cast_possible_truncation, reason = "rounded down, so that it stays a lower bound")]
        least.map_or(f32::INFINITY, |price| (price as f32).next_down().max(0.0))
    };
    let offered: HashSet<PartId> = catalog.offers().part_numbers().filter_map(|number| catalog.find(number)).collect();
    let mut rest = parts;
    let alike = |alike: &Alike| rest.split_off_mut(..alike.parts.len()).unwrap_or_default();
    let alike: Vec<&mut [Priced]> = by_capacitance.iter().map(alike).collect();
    alike.into_par_iter().for_each(|parts| {
        for part in &mut *parts {
            let is_offered = !offered.is_empty() && offered.contains(&part.id);
            part.least_price = if is_offered { 0.0 } else { least_price(part.id) };
        }
        parts.sort_unstable_by(|a, b| a.least_price.total_cmp(&b.least_price).then(a.id.cmp(&b.id)));
    });
}
