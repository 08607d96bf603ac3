//! The parts one can buy, held in columns so that a million of them stay small and quick to search.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use super::can::{Can, CanColumns, EnduranceBasis, LifeBasis, Mounting, Technology};
use super::interned::{Distinct, Interned, Texts, intern, intern_table, intern_text};
use super::job::Job;
use super::offer::OfferBook;
use super::part::{PART_TEXTS, Part, PartId, Status, Trade, TradeColumns};
use super::table::PairTable;
use crate::progress::Progress;

/// The word for parts that nobody can buy.
pub const INVENTED: &str = "invented";

/// The texts of a part but its number, in the order of [`PART_TEXTS`].
const TEXT_FIELDS: usize = PART_TEXTS.len() - 1;

/// The catalogue file some parts come from.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
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
    texts: [Interned<Box<str>>; TEXT_FIELDS],
    technology: Vec<Option<Technology>>,
    mounting: Vec<Option<Mounting>>,
    endurance_basis: Vec<Option<EnduranceBasis>>,
    status: Vec<Option<Status>>,
    life_basis: Interned<Option<LifeBasis>>,
    freq_factors: Interned<Option<PairTable>>,
    temp_factors: Interned<Option<PairTable>>,
    price_breaks: Interned<Option<PairTable>>,
    /// The catalogue a part comes from.
    source: Interned<CatalogSource>,
    cans: CanColumns,
    trade: TradeColumns,
    /// Rows sorted by part number.
    by_number: Vec<PartId>,
}

impl Catalog {
    /// How many parts there are.
    pub fn len(&self) -> usize {
        self.columns.technology.len()
    }

    /// Whether there is no part at all.
    pub fn is_empty(&self) -> bool {
        self.columns.technology.is_empty()
    }

    /// Every part in the order it was read.
    pub fn ids(&self) -> impl ExactSizeIterator<Item = PartId> + use<> {
        #[expect(clippy::cast_possible_truncation, reason = "the builder refuses more than u32::MAX rows")]
        (0..self.len() as u32).map(PartId)
    }

    /// Every part, part numbers rising.
    pub fn by_number(&self) -> &[PartId] {
        &self.columns.by_number
    }

    /// The part with this number.
    pub fn find(&self, part_number: &str) -> Option<PartId> {
        self.columns
            .by_number
            .binary_search_by(|&id| self.part_number(id).cmp(part_number))
            .ok()
            .map(|at| self.columns.by_number[at])
    }

    /// The part's number.
    pub fn part_number(&self, id: PartId) -> &str {
        self.columns.numbers.get(id.row())
    }

    /// Who makes the part; empty when unknown.
    pub fn maker(&self, id: PartId) -> &str {
        self.columns.texts[0].get(id.row())
    }

    /// Who sells the part; empty when unknown.
    pub fn supplier(&self, id: PartId) -> &str {
        self.columns.texts[2].get(id.row())
    }

    /// The part's family; empty when unknown.
    pub fn series(&self, id: PartId) -> &str {
        self.columns.texts[1].get(id.row())
    }

    /// Every maker once.
    pub fn makers(&self) -> Distinct<'_> {
        Distinct(&self.columns.texts[0])
    }

    /// Every family once.
    pub fn all_series(&self) -> Distinct<'_> {
        Distinct(&self.columns.texts[1])
    }

    /// The currency of the part's prices; empty when unknown.
    pub fn currency(&self, id: PartId) -> &str {
        self.columns.texts[5].get(id.row())
    }

    /// What fills the part.
    pub fn technology(&self, id: PartId) -> Option<Technology> {
        self.columns.technology[id.row()]
    }

    /// How the part is fixed.
    pub fn mounting(&self, id: PartId) -> Option<Mounting> {
        self.columns.mounting[id.row()]
    }

    /// The numeric columns, for searching without building parts.
    pub fn columns(&self) -> &CanColumns {
        &self.columns.cans
    }

    /// The figures of the part as a thing.
    pub fn can(&self, id: PartId) -> Can {
        let row = id.row();
        Can {
            technology: self.columns.technology[row],
            mounting: self.columns.mounting[row],
            endurance_basis: self.columns.endurance_basis[row],
            life_basis: *self.columns.life_basis.get(row),
            ripple_freq_factors: self.columns.freq_factors.get(row).clone(),
            ripple_temp_factors: self.columns.temp_factors.get(row).clone(),
            ..self.columns.cans.get(row)
        }
    }

    /// Where it stands on the market.
    pub fn status(&self, id: PartId) -> Option<Status> {
        self.columns.status[id.row()]
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
        Distinct(&self.columns.texts[5])
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
        self.trade(id).small_price(self.price_breaks(id))
    }

    /// These parts in this order: the part at `order[n]` becomes the part at `n`. Parts that are looked at together are
    /// found faster when they lie together. `order` names no part twice; `None` once it is cancelled.
    pub fn reordered(self, order: &[PartId], progress: &Progress) -> Option<Self> {
        let rows: Vec<usize> = order.iter().map(|id| id.row()).collect();
        let mut now_at = vec![None; self.len()];
        for (now, &row) in (0..).map(PartId).zip(&rows) {
            now_at[row] = Some(now);
        }
        let offers = self.offers;
        let own = Arc::unwrap_or_clone(self.columns);
        let texts = own.texts;
        let (numbers, texts) =
            rayon::join(|| own.numbers.reordered(&rows, progress), || texts.map(|texts| texts.reordered(&rows)));
        let columns = Columns {
            numbers: numbers?,
            texts,
            technology: rows.iter().map(|&row| own.technology[row]).collect(),
            mounting: rows.iter().map(|&row| own.mounting[row]).collect(),
            endurance_basis: rows.iter().map(|&row| own.endurance_basis[row]).collect(),
            status: rows.iter().map(|&row| own.status[row]).collect(),
            life_basis: own.life_basis.reordered(&rows),
            freq_factors: own.freq_factors.reordered(&rows),
            temp_factors: own.temp_factors.reordered(&rows),
            price_breaks: own.price_breaks.reordered(&rows),
            source: own.source.reordered(&rows),
            cans: own.cans.reordered(&rows, progress),
            trade: own.trade.reordered(&rows, progress),
            by_number: own.by_number.into_iter().filter_map(|id| now_at[id.row()]).collect(),
        };
        (!progress.is_cancelled()).then(|| Self { columns: Arc::new(columns), offers })
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
            status: self.columns.status[row],
            trade: self.columns.trade.get(row),
            price_breaks: self.columns.price_breaks.get(row).clone(),
            ..Part::default()
        };
        let [_, texts @ ..] = part.texts_mut();
        texts.into_iter().zip(&self.columns.texts).for_each(|(text, column)| *text = column.get(row).to_string());
        part
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
    catalog: Catalog,
    text_ids: [HashMap<Box<str>, u32>; TEXT_FIELDS],
    freq_factor_ids: HashMap<String, u32>,
    temp_factor_ids: HashMap<String, u32>,
    price_break_ids: HashMap<String, u32>,
    /// Where the parts pushed now come from.
    source: CatalogSource,
}

impl CatalogBuilder {
    /// Makes room for so many more parts at once, so that columns do not grow by being copied.
    pub fn reserve(&mut self, parts: usize) {
        let columns = Arc::make_mut(&mut self.catalog.columns);
        columns.numbers.reserve(parts);
        columns.technology.reserve_exact(parts);
        columns.mounting.reserve_exact(parts);
        columns.endurance_basis.reserve_exact(parts);
        columns.status.reserve_exact(parts);
        columns.texts.iter_mut().for_each(|column| column.of_row.reserve_exact(parts));
        columns.cans.reserve(parts);
        columns.trade.reserve(parts);
    }

    /// From now on parts come from this catalogue.
    pub fn set_source(&mut self, source: CatalogSource) {
        self.source = source;
    }

    /// Adds a part.
    pub fn push<Text: AsRef<str>>(&mut self, part: &Part<Text>) {
        let row = self.catalog.len();
        let catalog = Arc::make_mut(&mut self.catalog.columns);
        catalog.numbers.push(part.part_number.as_ref());
        let [_, texts @ ..] = part.texts();
        for ((text, column), ids) in texts.into_iter().zip(&mut catalog.texts).zip(&mut self.text_ids) {
            let at = intern_text(column, ids, text.as_ref());
            column.set(row, at);
        }
        catalog.technology.push(part.can.technology);
        catalog.mounting.push(part.can.mounting);
        catalog.endurance_basis.push(part.can.endurance_basis);
        catalog.status.push(part.status);
        if let Some(basis) = part.can.life_basis {
            let at = intern(&mut catalog.life_basis, &Some(basis));
            catalog.life_basis.set(row, at);
        }
        let at =
            intern_table(&mut catalog.freq_factors, &mut self.freq_factor_ids, part.can.ripple_freq_factors.as_ref());
        catalog.freq_factors.set(row, at);
        let at =
            intern_table(&mut catalog.temp_factors, &mut self.temp_factor_ids, part.can.ripple_temp_factors.as_ref());
        catalog.temp_factors.set(row, at);
        let at = intern_table(&mut catalog.price_breaks, &mut self.price_break_ids, part.price_breaks.as_ref());
        catalog.price_breaks.set(row, at);
        let at = intern(&mut catalog.source, &self.source);
        catalog.source.set(row, at);
        catalog.cans.set(row, &part.can);
        catalog.trade.set(row, &part.trade);
    }

    /// Puts the parts of another builder behind these.
    pub fn append(&mut self, other: Self) {
        if self.catalog.is_empty() {
            *self = other;
            return;
        }
        let rows = self.catalog.len();
        let (own, other) = (Arc::make_mut(&mut self.catalog.columns), Arc::unwrap_or_clone(other.catalog.columns));
        let (numbers, cans) = (&mut own.numbers, &mut own.cans);
        rayon::join(|| numbers.append(&other.numbers), || cans.append(rows, other.cans));
        for ((column, ids), other) in own.texts.iter_mut().zip(&mut self.text_ids).zip(other.texts) {
            column.append(rows, other, |column, text| intern_text(column, ids, &text));
        }
        own.technology.extend(other.technology);
        own.mounting.extend(other.mounting);
        own.endurance_basis.extend(other.endurance_basis);
        own.status.extend(other.status);
        own.life_basis.append(rows, other.life_basis, |column, basis| intern(column, &basis));
        let tables = [
            (&mut own.freq_factors, &mut self.freq_factor_ids, other.freq_factors),
            (&mut own.temp_factors, &mut self.temp_factor_ids, other.temp_factors),
            (&mut own.price_breaks, &mut self.price_break_ids, other.price_breaks),
        ];
        for (column, ids, other) in tables {
            column.append(rows, other, |column, table| intern_table(column, ids, table.as_ref()));
        }
        own.source.append(rows, other.source, |column, source| intern(column, &source));
        own.trade.append(rows, other.trade);
    }

    /// The catalogue, and the part numbers that came more than once (the later row wins).
    pub fn finish(self) -> (Catalog, Vec<Duplicate>) {
        // Work that nobody can cancel is always finished.
        self.finish_watched(&Progress::default()).unwrap_or_default()
    }

    /// Like [`finish`](Self::finish), for somebody who waits; `None` once it is cancelled.
    pub fn finish_watched(self, progress: &Progress) -> Option<(Catalog, Vec<Duplicate>)> {
        let mut catalog = self.catalog;
        let by_number = sorted_by_number(&catalog, progress)?;
        Arc::make_mut(&mut catalog.columns).by_number = by_number;
        let duplicates: Vec<Duplicate> = catalog
            .by_number()
            .windows(2)
            .filter(|pair| catalog.part_number(pair[0]) == catalog.part_number(pair[1]))
            .map(|pair| Duplicate {
                part_number: catalog.part_number(pair[0]).to_owned(),
                dropped: pair[0].row(),
                kept: pair[1].row(),
            })
            .collect();
        if duplicates.is_empty() {
            return Some((catalog, duplicates));
        }
        let dropped: HashSet<usize> = duplicates.iter().map(|duplicate| duplicate.dropped).collect();
        let kept: Vec<PartId> = catalog.ids().filter(|id| !dropped.contains(&id.row())).collect();
        Some((catalog.reordered(&kept, progress)?, duplicates))
    }
}

/// Rows by part number, equal numbers in the order they came; `None` once it is cancelled.
fn sorted_by_number(catalog: &Catalog, progress: &Progress) -> Option<Vec<PartId>> {
    // The first bytes decide nearly every comparison; kept beside the row they spare a look into the texts.
    let leading = |id: PartId| {
        let mut bytes = [0; 16];
        bytes.iter_mut().zip(catalog.part_number(id).as_bytes()).for_each(|(to, from)| *to = *from);
        u128::from_be_bytes(bytes)
    };
    let mut order: Vec<(u128, PartId)> = catalog.ids().map(|id| (leading(id), id)).collect();
    progress.sort(&mut order, |&(a_leading, a), &(b_leading, b)| {
        (a_leading.cmp(&b_leading)).then_with(|| catalog.part_number(a).cmp(catalog.part_number(b))).then(a.cmp(&b))
    })?;
    Some(order.into_iter().map(|(_, id)| id).collect())
}
