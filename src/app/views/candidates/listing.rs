//! Which candidates are listed, and in which order. Pure, so that it can be worked out on another thread.

use std::sync::Arc;

use rayon::prelude::*;

use super::columns::{COLUMNS, Shared, Subject};
use super::{filter::Filter, matching, matching::Ready};
use crate::app::state::{Candidates, Rows};
use crate::domain::{Catalog, PartId};

/// Sorted by a column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Sort {
    /// Index in [`COLUMNS`].
    pub column: usize,
    /// Largest first.
    pub descending: bool,
}

/// What the person wants to see.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Ask {
    /// The filter as typed.
    pub filter: String,
    /// `None`: best first.
    pub sort: Option<Sort>,
    /// Also the parts ruled out at a glance.
    pub ruled_out: bool,
}

/// The candidates that are listed.
#[derive(Debug)]
pub(crate) struct Listing {
    /// Those it is made from.
    pub candidates: Arc<Candidates>,
    pub ask: Ask,
    /// The parts, in order.
    pub ids: Vec<PartId>,
    /// How many of them were ruled out at a glance.
    pub ruled_out: usize,
}

impl Listing {
    /// Filters and sorts; `None` when nobody waits for it any more.
    pub(crate) fn new(
        candidates: &Arc<Candidates>,
        catalog: &Catalog,
        ask: Ask,
        cancelled: &(dyn Fn() -> bool + Sync),
    ) -> Option<Self> {
        /// Rows between two looks at whether anybody still waits.
        const ROWS_PER_LOOK: usize = 4096;
        let rows = candidates.rows(catalog, candidates.lists_excluded(ask.ruled_out));
        let filter = Filter::parse(&ask.filter);
        #[expect(clippy::cast_possible_truncation, reason = "a catalogue has at most u32::MAX parts")]
        let count = rows.len() as u32;
        let ready = Ready::new(&filter, rows, catalog, &|| !cancelled());
        let holds =
            |&row: &u32| !((row as usize).is_multiple_of(ROWS_PER_LOOK) && cancelled()) && ready.holds(row as usize);
        let mut listed: Vec<u32> = if filter.clauses.is_empty() {
            (0..count).collect()
        } else {
            (0..count).into_par_iter().with_min_len(ROWS_PER_LOOK).filter(holds).collect()
        };
        if let Some(sort) = ask.sort {
            self::sort(&mut listed, &rows, catalog, sort);
        }
        let ids = listed.iter().filter_map(|&row| rows.id(row as usize)).collect();
        let ruled_out = listed.iter().filter(|&&row| rows.is_ruled_out(row as usize)).count();
        (!cancelled()).then(|| Self { candidates: candidates.clone(), ask, ids, ruled_out })
    }
}

/// Sorts rows by a column; unknown values last either way, the better part first among equals.
fn sort(listed: &mut [u32], rows: &Rows, catalog: &Catalog, sort: Sort) {
    let rank: Rank = match COLUMNS[sort.column].subject {
        Subject::Text(text) => match text.shared(catalog) {
            Some(shared) => shared_ranks(shared),
            None => number_ranks(catalog),
        },
        _ => Box::new(|_| None),
    };
    let value = |row: usize| match COLUMNS[sort.column].subject {
        Subject::Text(_) => rank(rows.id(row)?),
        Subject::Verdict | Subject::Check(_) => {
            matching::outcome_in(sort.column, rows, row).map(|outcome| outcome as u32)
        }
        Subject::Number(..) => ordered(matching::number(sort.column, rows, catalog, row)),
    };
    // Key and row in one number: sorted in one go, ties by row, which is the rank.
    let key = |&row: &u32| {
        let value = value(row as usize);
        let value = value.map_or(u32::MAX, |value| if sort.descending { !value - 1 } else { value.min(u32::MAX - 1) });
        u64::from(value) << 32 | u64::from(row)
    };
    let mut keys: Vec<u64> = listed.par_iter().map(key).collect();
    keys.par_sort_unstable();
    for (row, key) in listed.iter_mut().zip(keys) {
        #[expect(clippy::cast_possible_truncation, reason = "the lower half is the row")]
        let own = key as u32;
        *row = own;
    }
}

/// A number as bits that sort as it does; `None` when it is not known. Figures that are equal to seven digits are ties.
fn ordered(value: f64) -> Option<u32> {
    #[expect(clippy::cast_possible_truncation, reason = "seven digits are enough to sort by")]
    let bits = (!value.is_nan()).then_some(value as f32)?.to_bits();
    let turned = if bits >> 31 == 0 { bits | 1 << 31 } else { !bits };
    Some(turned.min(u32::MAX - 2))
}

/// Where a part stands in a sorted list.
type Rank<'a> = Box<dyn Fn(PartId) -> Option<u32> + Sync + 'a>;

/// Where each part stands by number.
fn number_ranks(catalog: &Catalog) -> Rank<'_> {
    let mut ranks = vec![0; catalog.len()];
    for (rank, id) in (0..).zip(catalog.by_number()) {
        ranks[id.0 as usize] = rank;
    }
    Box::new(move |id| Some(ranks[id.0 as usize]))
}

/// Where the text of each part stands in the alphabet; a text not known stands nowhere.
fn shared_ranks(shared: Shared) -> Rank {
    let mut order: Vec<usize> = (0..shared.texts.len()).filter(|&at| !shared.texts[at].is_empty()).collect();
    order.sort_unstable_by_key(|&at| shared.texts[at]);
    let mut ranks = vec![None; shared.texts.len()];
    for (rank, at) in (0..).zip(order) {
        ranks[at] = Some(rank);
    }
    Box::new(move |id| ranks[(shared.at)(id)])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::PositionId;
    use crate::files::load::load_demo;
    use crate::progress::Progress;

    #[test]
    fn a_filter_finds_the_same_whether_asked_of_all_parts_at_once_or_of_each_row() {
        let demo = load_demo().unwrap();
        let catalog = demo.catalog_index.catalog();
        let here = PositionId { board: 0, index: 2 };
        let candidates = Arc::new(Candidates::of(&demo.job, &demo.catalog_index, here, &Progress::default()).unwrap());
        // Few rows are asked one by one; with the parts ruled out they are most of the catalogue and asked at once.
        assert!(candidates.len() * 2 < catalog.len());
        let ids = |filter: &str, ruled_out: bool| {
            let ask = Ask { filter: filter.to_owned(), sort: None, ruled_out };
            Listing::new(&candidates, catalog, ask, &|| false).unwrap().ids
        };
        let own = ids("", false);
        for filter in
            ["talus", "47u 25V", "maker = halv", "maker != halv", "-wet", "series = unknown", "pass", "hybrid|105"]
        {
            let among_all: Vec<PartId> = ids(filter, true).into_iter().filter(|id| own.contains(id)).collect();
            assert_eq!(ids(filter, false), among_all, "{filter}");
        }
        assert!(!ids("talus", false).is_empty() && ids("talus", false).len() < own.len());
    }

    #[test]
    fn numbers_sort_as_numbers() {
        let values = [f64::NEG_INFINITY, -2.0, -0.5, 0.0, 1e-9, 0.5, 2.0, 1e9, f64::INFINITY];
        let keys = values.map(|value| ordered(value).unwrap());
        assert!(keys.windows(2).all(|pair| pair[0] < pair[1]));
        assert_eq!(ordered(f64::NAN), None);
        assert!(keys.iter().all(|&key| key < u32::MAX - 1));
    }
}
