//! The parts that come into question for one position: what is sorted and filtered by, in columns, so that a million of
//! them stay small. Everything else about a part is worked out again when it is shown.

use std::collections::HashSet;
use std::sync::OnceLock;

use rayon::prelude::*;

use crate::domain::{Catalog, Check, Job, Outcome, PartId, PositionId};
use crate::progress::Progress;
use crate::sizing::{self, CatalogIndex, Figures, PositionContext, RankKey, RuledOut, Terms};

/// The figures kept of every candidate, each with the figure of a check it is.
macro_rules! kept {
    ($($(#[$doc:meta])* $name:ident $figure:ident;)*) => {
        /// A figure kept of every candidate.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub(crate) enum Kept { $($(#[$doc])* $name),* }

        impl Kept {
            /// Every figure kept.
            pub(crate) const ALL: [Self; [$(stringify!($name)),*].len()] = [$(Self::$name),*];

            /// The figure among all that came out.
            pub(crate) fn of(self, figures: &Figures) -> Option<f64> {
                match self { $(Self::$name => figures.$figure),* }
            }
        }
    };
}

kept! {
    /// Least known margin, as a share of its limit.
    Headroom headroom;
    /// Peak voltage over rated voltage.
    VoltageUsage voltage_usage;
    /// Equivalent over allowed ripple current.
    RippleUsage ripple_usage;
    /// Allowed ripple current, A.
    RippleAllowed ripple_allowed_a;
    /// Core rise, K.
    CoreRise core_rise_k;
    /// Years until the life is used up.
    Years calendar_years;
    /// Life, h.
    Life life_h;
    /// ESR at the position's frequency, mΩ.
    Esr esr_mohm;
    /// Room left beside the largest body, mm.
    DiameterSlack diameter_slack_mm;
    /// Room left above the largest body, mm.
    HeightSlack height_slack_mm;
    /// Gap to the nearest neighbour, mm.
    Gap gap_mm;
    /// Leakage current, µA.
    Leakage leakage_ua;
}

/// The outcomes of all checks and the verdict in two bits each.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
struct Outcomes(u32);

impl Outcomes {
    fn pack(outcomes: &[Outcome; Check::ALL.len()], verdict: Outcome) -> Self {
        let all = outcomes.iter().chain([&verdict]);
        Self(all.rev().fold(0, |bits, &outcome| bits << 2 | outcome as u32))
    }

    fn at(self, index: usize) -> Outcome {
        Outcome::ALL[(self.0 >> (2 * index) & 3) as usize]
    }

    fn verdict(self) -> Outcome {
        self.at(Check::ALL.len())
    }
}

/// What the table goes by of one part.
struct Line {
    worth: RankKey,
    outcomes: Outcomes,
    figures: [f32; Kept::ALL.len()],
    cost: f32,
    offer: Option<u16>,
}

/// Every part worth looking at for one position, best first; the parts ruled out at a glance count as further rows.
#[derive(Debug, Default)]
pub(crate) struct Candidates {
    pub position: PositionId,
    /// How many were ruled out by capacitance, operating voltage, mounting or body.
    pub ruled_out: usize,
    /// Why, counted only where no part may be used.
    pub ruled_out_by: Option<RuledOut>,
    /// How many candidates fail each check, and how many fail no other, in the order of [`Check::ALL`]; counted only where no
    /// part may be used.
    pub failing: [(usize, usize); Check::ALL.len()],
    /// The same of those that do not fail for what is unknown of them.
    pub unknown: [(usize, usize); Check::ALL.len()],
    /// What the pieces needed here cost; NaN where not known and for parts that cannot be used.
    costs: Vec<f32>,
    /// The offer that gives the cost, by its place in those of the part; `None` for the row of the catalogue.
    offers: Vec<Option<u16>>,
    ids: Vec<PartId>,
    outcomes: Vec<Outcomes>,
    /// A column for each of [`Kept::ALL`]; NaN where not known. Single precision: enough for any figure of the trade.
    figures: [Vec<f32>; Kept::ALL.len()],
    /// The parts ruled out; where no part may be used the nearest first, else by part number, listed only when asked for.
    others: OnceLock<Vec<PartId>>,
}

impl Candidates {
    /// Checks every part of the catalogue at a position; `None` when the job has no such position or nobody waits any more.
    pub(crate) fn of(
        job: &Job,
        catalog_index: &CatalogIndex,
        position: PositionId,
        progress: &Progress,
    ) -> Option<Self> {
        /// Below this many parts handing work to other threads costs more than it saves.
        const PARTS_PER_TASK: usize = 256;
        let catalog = catalog_index.catalog();
        let place = PositionContext::new(job, catalog, position)?;
        let admitted = catalog_index.admitted(&place);
        let line = |&id: &PartId| {
            let ranked = (!progress.is_cancelled()).then(|| sizing::evaluate_part(&place, catalog, id))?;
            let evaluation = &ranked.evaluation;
            Some(Line {
                worth: (&ranked).into(),
                outcomes: Outcomes::pack(&evaluation.outcomes, evaluation.verdict),
                figures: Kept::ALL.map(|kept| single(kept.of(&evaluation.figures))),
                cost: single(ranked.cost),
                offer: ranked.offer.and_then(|at| u16::try_from(at).ok()),
            })
        };
        let mut lines: Vec<Line> = admitted.par_iter().with_min_len(PARTS_PER_TASK).map(line).collect::<Option<_>>()?;
        lines.par_sort_unstable_by(|a, b| sizing::by_rank_key(catalog, &a.worth, &b.worth));
        let usable = lines.first().is_some_and(|best| best.outcomes.verdict().usable());
        let counted = |of: Outcome| {
            let of_these = lines.iter().map(|line| line.outcomes).filter(|all| all.verdict() == of);
            if usable { Default::default() } else { counted(of_these, of) }
        };
        Some(Self {
            failing: counted(Outcome::Fail),
            unknown: counted(Outcome::Unknown),
            position,
            costs: lines.iter().map(|line| line.cost).collect(),
            offers: lines.iter().map(|line| line.offer).collect(),
            ruled_out: catalog.len() - lines.len(),
            ruled_out_by: (!usable).then(|| catalog_index.ruled_out(&place)),
            ids: lines.iter().map(|line| line.worth.id).collect(),
            outcomes: lines.iter().map(|line| line.outcomes).collect(),
            figures: std::array::from_fn(|at| lines.iter().map(|line| line.figures[at]).collect()),
            others: if usable { OnceLock::new() } else { nearest_excluded(catalog_index, &place).into() },
        })
    }

    /// How many parts were not ruled out at a glance.
    pub(crate) fn len(&self) -> usize {
        self.ids.len()
    }

    /// Whether the parts ruled out are listed too: when asked for, and where there is no other.
    pub(crate) fn lists_excluded(&self, asked: bool) -> bool {
        asked || self.ids.is_empty()
    }

    /// The best part that was not ruled out at a glance.
    pub(crate) fn best(&self) -> Option<PartId> {
        self.ids.first().copied()
    }

    /// The parts that were not ruled out, best first, then, if wanted, those that were.
    pub(crate) fn rows(&self, catalog: &Catalog, with_ruled_out: bool) -> Rows<'_> {
        let others = if with_ruled_out { self.others(catalog) } else { &[] };
        Rows { candidates: self, others }
    }

    fn others(&self, catalog: &Catalog) -> &[PartId] {
        self.others.get_or_init(|| {
            let looked_at: HashSet<PartId> = self.ids.iter().copied().collect();
            catalog.by_number().iter().copied().filter(|id| !looked_at.contains(id)).collect()
        })
    }

    /// Whether a part may be used: pass or marginal.
    pub(crate) fn any_usable(&self) -> bool {
        self.outcomes.first().is_some_and(|best| best.verdict().usable())
    }
}

fn nearest_excluded(catalog_index: &CatalogIndex, place: &PositionContext) -> Vec<PartId> {
    let mut excluded = catalog_index.excluded(place);
    excluded.par_sort_unstable_by(|a, b| sizing::nearest_first(catalog_index.catalog(), a, b));
    excluded.into_iter().map(|(id, _)| id).collect()
}

/// How many have this outcome of each check, and how many of no other check.
fn counted(all: impl Iterator<Item = Outcomes>, wanted: Outcome) -> [(usize, usize); Check::ALL.len()] {
    let mut counts = [(0, 0); Check::ALL.len()];
    for outcomes in all {
        let has = |check: &Check| outcomes.at(*check as usize) == wanted;
        let alone = Check::ALL.iter().filter(|check| has(check)).count() == 1;
        for check in Check::ALL.iter().filter(|check| has(check)) {
            let count = &mut counts[*check as usize];
            count.0 += 1;
            count.1 += usize::from(alone);
        }
    }
    counts
}

fn single(value: Option<f64>) -> f32 {
    #[expect(clippy::cast_possible_truncation, reason = "seven digits are enough to sort and filter by")]
    value.map_or(f32::NAN, |value| value as f32)
}

/// Candidates by number of row.
#[derive(Clone, Copy)]
pub(crate) struct Rows<'a> {
    candidates: &'a Candidates,
    others: &'a [PartId],
}

impl Rows<'_> {
    /// How many rows there are.
    pub(crate) fn len(&self) -> usize {
        self.candidates.ids.len() + self.others.len()
    }

    /// What the pieces needed here cost; NaN where it is not known, as for parts ruled out at a glance.
    pub(crate) fn cost(&self, row: usize) -> f64 {
        self.candidates.costs.get(row).map_or(f64::NAN, |&cost| f64::from(cost))
    }

    /// The terms of the offer that gives the cost, else of the row of the catalogue.
    pub(crate) fn terms<'c>(&self, catalog: &'c Catalog, row: usize) -> Option<Terms<'c>> {
        let offer = self.candidates.offers.get(row).copied().flatten();
        Some(Terms::of(catalog, self.id(row)?, offer.map(usize::from)))
    }

    /// Whether the row is a part ruled out at a glance.
    pub(crate) fn is_ruled_out(&self, row: usize) -> bool {
        row >= self.candidates.ids.len()
    }

    pub(crate) fn id(&self, row: usize) -> Option<PartId> {
        let ids = &self.candidates.ids;
        ids.get(row).or_else(|| self.others.get(row - ids.len())).copied()
    }

    /// A figure kept; NaN where it is not known, as for parts ruled out at a glance.
    pub(crate) fn figure(&self, kept: Kept, row: usize) -> f64 {
        self.candidates.figures[kept as usize].get(row).map_or(f64::NAN, |&value| f64::from(value))
    }

    /// The outcome of a check; `None` for parts ruled out at a glance, which were not looked at.
    pub(crate) fn outcome(&self, check: Check, row: usize) -> Option<Outcome> {
        Some(self.candidates.outcomes.get(row)?.at(check as usize))
    }

    /// The verdict; parts ruled out at a glance fail.
    pub(crate) fn verdict(&self, row: usize) -> Outcome {
        self.candidates.outcomes.get(row).map_or(Outcome::Fail, |outcomes| outcomes.verdict())
    }
}

#[cfg(test)]
#[path = "../../../tests/window/inside/candidates.rs"]
mod tests;
