//! The parts one can buy, held in columns so that a million of them stay small and quick to search.

use std::collections::HashSet;
use std::hash::Hash;
use std::sync::{Arc, OnceLock};

use rayon::prelude::*;

use super::can::{CAN_NUMBERS, Can, CanColumns, EnduranceBasis, LifeBasis, Mounting, Technology};
use super::column::NumberColumn;
use super::interned::{Found, Interned, Texts};
use super::job::Job;
use super::offer::OfferBook;
use super::part::{Known, PART_TEXTS, Part, PartId, Status, Trade, TradeColumns};
use super::table::PairTable;
use crate::progress::Progress;

/// The word for parts that nobody can buy.
pub const INVENTED: &str = "invented";

/// The catalogue file some parts come from.
#[derive(Debug, Clone, Default, PartialEq, Eq, Hash)]
pub struct CatalogSource {
    /// Its name without the folder; empty when the parts come from no file.
    pub name: String,
    /// Whether it says that its parts are invented: nobody can buy them.
    pub invented: bool,
}

/// An unchanging set of parts with unique part numbers, and what further suppliers ask for them. A copy shares the parts.
#[derive(Debug, Clone, Default)]
pub struct Catalog {
    columns: Arc<Columns>,
    offers: Arc<OfferBook>,
}

#[derive(Debug, Clone, Default)]
struct Columns {
    numbers: Texts,
    /// Where the part with a number is.
    found: Found,
    /// In the order of [`PART_TEXTS`]; the part numbers, of which there are no two alike, are not among them.
    texts: [Interned<Box<str>>; PART_TEXTS.len()],
    technology: Interned<Option<Technology>>,
    mounting: Interned<Option<Mounting>>,
    endurance_basis: Interned<Option<EnduranceBasis>>,
    life_basis: Interned<Option<LifeBasis>>,
    freq_factors: Interned<Option<PairTable>>,
    temp_factors: Interned<Option<PairTable>>,
    status: Interned<Option<Status>>,
    price_breaks: Interned<Option<PairTable>>,
    cans: CanColumns,
    trade: TradeColumns,
    /// The catalogue a part comes from.
    source: Interned<CatalogSource>,
    /// Rows sorted by part number, once somebody asks.
    by_number: OnceLock<Vec<PartId>>,
}

/// Where the columns of words, of figures and of terms begin among those of [`Columns::rows_mut`]; the texts come first.
const WORDS: usize = PART_TEXTS.len();
const CANS: usize = WORDS + 8;
const TRADES: usize = CANS + CAN_NUMBERS.len();

impl Columns {
    /// Of each column which value each row has.
    fn rows_mut(&mut self) -> Vec<&mut Vec<u32>> {
        let words: [_; CANS - WORDS] = [
            self.technology.rows_mut(),
            self.mounting.rows_mut(),
            self.endurance_basis.rows_mut(),
            self.life_basis.rows_mut(),
            self.freq_factors.rows_mut(),
            self.temp_factors.rows_mut(),
            self.status.rows_mut(),
            self.price_breaks.rows_mut(),
        ];
        let numbers = self.cans.all_mut().into_iter().chain(self.trade.all_mut()).map(NumberColumn::rows_mut);
        self.texts.iter_mut().map(Interned::rows_mut).chain(words).chain(numbers).collect()
    }

    /// In which column what is known of a part stands, and as which of its values.
    fn place(&mut self, known: Known) -> (usize, u32) {
        fn code<T: Clone + Eq + Hash>(column: &mut Interned<Option<T>>, value: T) -> u32 {
            let value = Some(value);
            column.code(&value, || value.clone())
        }
        match known {
            Known::Text(at, text) => (at, self.texts[at].code(text, || text.into())),
            Known::Technology(word) => (WORDS, code(&mut self.technology, word)),
            Known::Mounting(word) => (WORDS + 1, code(&mut self.mounting, word)),
            Known::EnduranceBasis(word) => (WORDS + 2, code(&mut self.endurance_basis, word)),
            Known::LifeBasis(word) => (WORDS + 3, code(&mut self.life_basis, word)),
            Known::RippleFreqFactors(factors) => (WORDS + 4, code(&mut self.freq_factors, factors)),
            Known::RippleTempFactors(factors) => (WORDS + 5, code(&mut self.temp_factors, factors)),
            Known::Status(word) => (WORDS + 6, code(&mut self.status, word)),
            Known::PriceBreaks(breaks) => (WORDS + 7, code(&mut self.price_breaks, breaks)),
            Known::Can(at, value) => (CANS + at, self.cans.all_mut()[at].code(value)),
            Known::Trade(at, value) => (TRADES + at, self.trade.all_mut()[at].code(value)),
        }
    }
}

impl Catalog {
    /// How many parts there are.
    pub fn len(&self) -> usize {
        self.columns.numbers.len()
    }

    /// Whether there is no part at all.
    pub fn is_empty(&self) -> bool {
        self.columns.numbers.len() == 0
    }

    /// Every part in the order it was read.
    pub fn ids(&self) -> impl ExactSizeIterator<Item = PartId> + use<> {
        #[expect(clippy::cast_possible_truncation, reason = "the builder refuses more than u32::MAX rows")]
        (0..self.len() as u32).map(PartId)
    }

    /// Every part, part numbers rising.
    pub fn by_number(&self) -> &[PartId] {
        self.columns.by_number.get_or_init(|| sorted_by_number(self))
    }

    /// The part with this number.
    pub fn find(&self, part_number: &str) -> Option<PartId> {
        self.columns.found.row(&self.columns.numbers, part_number).map(PartId)
    }

    /// The part's number.
    pub fn part_number(&self, id: PartId) -> &str {
        self.columns.numbers.get(id.row())
    }

    /// Of each part whether its number contains `needle`, which is in lower case and not empty, in whatever case it is written; without
    /// meaning once `goes_on` says that nobody waits any more.
    pub fn numbers_containing(&self, needle: &str, goes_on: &(dyn Fn() -> bool + Sync)) -> Vec<bool> {
        self.columns.numbers.containing(needle, goes_on)
    }

    /// Who makes the part; empty when unknown.
    pub fn maker(&self, id: PartId) -> &str {
        self.columns.texts[1].get(id.row())
    }

    /// Who sells the part; empty when unknown.
    pub fn supplier(&self, id: PartId) -> &str {
        self.columns.texts[3].get(id.row())
    }

    /// The part's family; empty when unknown.
    pub fn series(&self, id: PartId) -> &str {
        self.columns.texts[2].get(id.row())
    }

    /// Every maker once.
    pub fn makers(&self) -> Distinct<'_> {
        Distinct(&self.columns.texts[1])
    }

    /// Every family once.
    pub fn all_series(&self) -> Distinct<'_> {
        Distinct(&self.columns.texts[2])
    }

    /// The currency of the part's prices; empty when unknown.
    pub fn currency(&self, id: PartId) -> &str {
        self.columns.texts[6].get(id.row())
    }

    /// What fills the part.
    pub fn technology(&self, id: PartId) -> Option<Technology> {
        *self.columns.technology.get(id.row())
    }

    /// How the part is fixed.
    pub fn mounting(&self, id: PartId) -> Option<Mounting> {
        *self.columns.mounting.get(id.row())
    }

    /// The numeric columns, for searching without building parts.
    pub fn columns(&self) -> &CanColumns {
        &self.columns.cans
    }

    /// The figures of the part as a thing.
    pub fn can(&self, id: PartId) -> Can {
        let row = id.row();
        Can {
            technology: *self.columns.technology.get(row),
            mounting: *self.columns.mounting.get(row),
            endurance_basis: *self.columns.endurance_basis.get(row),
            life_basis: *self.columns.life_basis.get(row),
            ripple_freq_factors: self.columns.freq_factors.get(row).clone(),
            ripple_temp_factors: self.columns.temp_factors.get(row).clone(),
            ..self.columns.cans.get(row)
        }
    }

    /// Where it stands on the market.
    pub fn status(&self, id: PartId) -> Option<Status> {
        *self.columns.status.get(id.row())
    }

    /// The same parts with these offers of further suppliers.
    #[must_use]
    pub fn with_offers(&self, offers: Arc<OfferBook>) -> Self {
        Self { columns: self.columns.clone(), offers }
    }

    /// What further suppliers ask.
    pub fn offers(&self) -> &OfferBook {
        &self.offers
    }

    /// Every currency once.
    pub fn currencies(&self) -> Distinct<'_> {
        Distinct(&self.columns.texts[6])
    }

    /// Pieces and price each from that quantity on.
    pub fn price_breaks(&self, id: PartId) -> Option<&PairTable> {
        self.columns.price_breaks.get(id.row()).as_ref()
    }

    /// Numeric terms of sale.
    pub fn trade(&self, id: PartId) -> Trade {
        self.columns.trade.get(id.row())
    }

    /// Price of one piece when few are bought: the unit price, else the break with the lowest quantity.
    pub fn small_price(&self, id: PartId) -> Option<f64> {
        Trade { unit_price: self.unit_price(id), ..Trade::default() }.small_price(self.price_breaks(id))
    }

    /// Price of one piece by its own column.
    pub fn unit_price(&self, id: PartId) -> Option<f64> {
        self.columns.trade.unit_price.get(id.row())
    }

    /// These parts in this order: the part at `order[n]` becomes the part at `n`. `order` names no part twice; `None` once it is
    /// cancelled.
    pub fn reordered(self, order: &[PartId], progress: &Progress) -> Option<Self> {
        let rows: Vec<usize> = order.iter().map(|id| id.row()).collect();
        let own = Arc::unwrap_or_clone(self.columns);
        let numbers = own.numbers.reordered(&rows, progress)?;
        let columns = Columns {
            found: Found::of(&numbers, progress).0,
            numbers,
            texts: own.texts.map(|texts| texts.reordered(&rows)),
            technology: own.technology.reordered(&rows),
            mounting: own.mounting.reordered(&rows),
            endurance_basis: own.endurance_basis.reordered(&rows),
            life_basis: own.life_basis.reordered(&rows),
            freq_factors: own.freq_factors.reordered(&rows),
            temp_factors: own.temp_factors.reordered(&rows),
            status: own.status.reordered(&rows),
            price_breaks: own.price_breaks.reordered(&rows),
            cans: own.cans.reordered(&rows),
            trade: own.trade.reordered(&rows),
            source: own.source.reordered(&rows),
            by_number: OnceLock::new(),
        };
        (!progress.is_cancelled()).then(|| Self { columns: Arc::new(columns), offers: self.offers })
    }

    /// The number of a part as it is told to people: with the word where nobody can buy it, unless all of the job is invented and
    /// says so itself.
    pub fn told(&self, job: &Job, id: PartId) -> String {
        let number = self.part_number(id);
        if self.is_marked(job, id) { format!("{number} ({INVENTED})") } else { number.to_owned() }
    }

    /// Whether a part bears the word beside its number: nobody can buy it, and the job does not say so of all its parts.
    pub fn is_marked(&self, job: &Job, id: PartId) -> bool {
        job.invented != Some(true) && self.is_invented(id)
    }

    /// Whether the part is invented: its catalogue says so, and nobody can buy it.
    pub fn is_invented(&self, id: PartId) -> bool {
        self.source(id).invented
    }

    /// The catalogue file the part comes from.
    pub fn source(&self, id: PartId) -> &CatalogSource {
        self.columns.source.get(id.row())
    }

    /// Everything known of the part.
    pub fn part(&self, id: PartId) -> Part {
        let row = id.row();
        let mut part = Part {
            part_number: self.part_number(id).to_owned(),
            can: self.can(id),
            status: *self.columns.status.get(row),
            trade: self.columns.trade.get(row),
            price_breaks: self.columns.price_breaks.get(row).clone(),
            ..Part::default()
        };
        part.texts_mut()
            .into_iter()
            .zip(&self.columns.texts)
            .skip(1)
            .for_each(|(text, column)| *text = column.get(row).to_string());
        part
    }
}

/// The different texts of a column in which texts repeat, so that a question can be asked once of each.
#[derive(Debug, Clone, Copy)]
pub struct Distinct<'a>(&'a Interned<Box<str>>);

impl<'a> Distinct<'a> {
    /// Every text once; the first is empty and stands for unknown.
    pub fn texts(self) -> impl Iterator<Item = &'a str> {
        self.0.values().iter().map(|text| &**text)
    }

    /// Which of [`texts`](Self::texts) a part has.
    pub fn at(self, id: PartId) -> usize {
        self.0.at(id.row()) as usize
    }
}

/// Two rows carried one part number; the later one was kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Duplicate {
    /// The number both carry.
    pub part_number: String,
    /// Row dropped, counted in the order of [`CatalogBuilder::push`].
    pub dropped: usize,
    /// Row kept, counted the same way.
    pub kept: usize,
}

/// Collects parts into a [`Catalog`].
#[derive(Debug, Default)]
pub struct CatalogBuilder {
    columns: Columns,
    /// Where the parts pushed now come from.
    source: CatalogSource,
}

impl CatalogBuilder {
    /// Makes room for so many more part numbers at once, so that they do not grow by being copied.
    pub fn reserve(&mut self, parts: usize) {
        self.columns.numbers.reserve(parts);
        self.columns.source.rows_mut().reserve_exact(parts);
    }

    /// From now on parts come from this catalogue.
    pub fn set_source(&mut self, source: CatalogSource) {
        self.source = source;
    }

    /// Adds a part.
    pub fn push<Text: AsRef<str>>(&mut self, part: &Part<Text>) {
        let row = self.next_row();
        self.columns.numbers.push(part.part_number.as_ref());
        let places: Vec<(usize, u32)> = part.known().map(|known| self.columns.place(known)).collect();
        let mut columns = self.columns.rows_mut();
        places.into_iter().for_each(|(column, code)| set_row(columns[column], row, code));
        self.come_from_source();
    }

    /// Adds the number of a part; [`fill`](Self::fill) says what is known of it.
    pub fn push_number(&mut self, part_number: &str) {
        self.columns.numbers.push(part_number);
    }

    /// Takes back the numbers after so many parts.
    pub fn truncate_numbers(&mut self, parts: usize) {
        self.columns.numbers.truncate(parts);
    }

    /// The row of the next part.
    pub fn next_row(&self) -> usize {
        self.columns.numbers.len()
    }

    /// In which column what is known of a part stands, and as which of its values: what [`set_row`] takes.
    pub fn place(&mut self, known: Known) -> (usize, u32) {
        self.columns.place(known)
    }

    /// What is known of parts whose numbers alone were pushed: columns with the places of their values, a row for each part.
    pub fn fill(&mut self, filled: impl IntoIterator<Item = (usize, Vec<u32>)>) {
        let mut columns = self.columns.rows_mut();
        filled.into_iter().for_each(|(column, rows)| *columns[column] = rows);
        self.come_from_source();
    }

    fn come_from_source(&mut self) {
        let code = self.columns.source.code(&self.source, || self.source.clone());
        self.columns.source.rows_mut().resize(self.columns.numbers.len(), code);
    }

    /// Puts the parts of another builder behind these.
    pub fn append(&mut self, other: Self) {
        let rows = self.next_row();
        if rows == 0 {
            *self = other;
            return;
        }
        let (own, mut other) = (&mut self.columns, other.columns);
        own.technology.append(rows, other.technology);
        own.mounting.append(rows, other.mounting);
        own.endurance_basis.append(rows, other.endurance_basis);
        own.life_basis.append(rows, other.life_basis);
        own.freq_factors.append(rows, other.freq_factors);
        own.temp_factors.append(rows, other.temp_factors);
        own.status.append(rows, other.status);
        own.price_breaks.append(rows, other.price_breaks);
        own.source.append(rows, other.source);
        let numbers = own.cans.all_mut().into_iter().chain(own.trade.all_mut());
        let numbers: Vec<_> = numbers.zip(other.cans.all_mut().into_iter().chain(other.trade.all_mut())).collect();
        let texts = own.texts.par_iter_mut().zip(other.texts);
        rayon::join(
            || own.numbers.append(&other.numbers),
            || {
                texts.for_each(|(column, other)| column.append(rows, other));
                numbers.into_par_iter().for_each(|(column, other)| column.append(rows, other));
            },
        );
    }

    /// The catalogue, and the part numbers that came more than once (the later row wins).
    pub fn finish(self) -> (Catalog, Vec<Duplicate>) {
        // Work that nobody can cancel is always finished.
        self.finish_watched(&Progress::default()).unwrap_or_default()
    }

    /// Like [`finish`](Self::finish), for somebody who waits; `None` once it is cancelled.
    pub fn finish_watched(self, progress: &Progress) -> Option<(Catalog, Vec<Duplicate>)> {
        let mut columns = self.columns;
        let (found, again) = Found::of(&columns.numbers, progress);
        columns.found = found;
        let catalog = Catalog { columns: Arc::new(columns), ..Catalog::default() };
        let number = |row: u32| catalog.part_number(PartId(row)).to_owned();
        let duplicate = |(dropped, kept): (u32, u32)| Duplicate {
            part_number: number(dropped),
            dropped: dropped as usize,
            kept: kept as usize,
        };
        let mut duplicates: Vec<Duplicate> = again.into_iter().map(duplicate).collect();
        duplicates.sort_unstable_by(|a, b| (&a.part_number, a.dropped).cmp(&(&b.part_number, b.dropped)));
        if progress.is_cancelled() || duplicates.is_empty() {
            return (!progress.is_cancelled()).then_some((catalog, duplicates));
        }
        let dropped: HashSet<usize> = duplicates.iter().map(|duplicate| duplicate.dropped).collect();
        let kept: Vec<PartId> = catalog.ids().filter(|id| !dropped.contains(&id.row())).collect();
        Some((catalog.reordered(&kept, progress)?, duplicates))
    }
}

/// Puts the place of a value into the row of a column; rows come in rising order, those that are left out have none.
#[inline]
pub fn set_row(column: &mut Vec<u32>, row: usize, code: u32) {
    if code != 0 {
        if column.len() < row {
            column.resize(row, 0);
        }
        column.push(code);
    }
}

/// Rows by part number.
fn sorted_by_number(catalog: &Catalog) -> Vec<PartId> {
    // The first bytes decide nearly every comparison; kept beside the row they spare a look into the texts.
    let leading = |id: PartId| {
        let mut bytes = [0; 16];
        bytes.iter_mut().zip(catalog.part_number(id).as_bytes()).for_each(|(to, from)| *to = *from);
        u128::from_be_bytes(bytes)
    };
    let mut order: Vec<(u128, PartId)> = catalog.ids().map(|id| (leading(id), id)).collect();
    order.par_sort_unstable_by(|&(a_leading, a), &(b_leading, b)| {
        a_leading.cmp(&b_leading).then_with(|| catalog.part_number(a).cmp(catalog.part_number(b)))
    });
    order.into_iter().map(|(_, id)| id).collect()
}
