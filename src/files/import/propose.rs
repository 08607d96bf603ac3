//! Which column holds what: proposed from header names, checked against the cells, for a person to confirm or correct.

use super::asking;
use super::by_place;
use super::field::{Field, Target};
use super::fitted;
use super::mapping::{ColumnMeaning, Mapping};
use super::naming::{self, Confidence, frequency_field, named};
use super::pairs;
use super::shape::{
    self, bare_numbers, capacitors_in, is_capacitance, is_coordinate, is_counter, is_designators, is_number,
    is_voltage, numbered, samples, share, tells_capacitance,
};
use super::synonyms::{self, plain};
use super::trade::{Half, paired};
use super::words;
use crate::domain::Can;
use crate::files::cell::unit::Unit;
use crate::files::cell::voltage;
use crate::files::entry;
use crate::files::table::{Layout, Table};

/// A column and what it probably holds.
#[derive(Debug, Clone, PartialEq)]
pub struct ProposedColumn {
    /// The header.
    pub header: String,
    /// The field; `None` when the column is not used.
    pub field: Option<Field>,
    /// How sure that is.
    pub confidence: Confidence,
    /// Why, in words.
    pub why: String,
    /// The first cells that say something.
    pub samples: Vec<String>,
}

impl ProposedColumn {
    fn set(&mut self, field: impl Into<Option<Field>>, confidence: Confidence, why: &str) {
        (self.field, self.confidence, self.why) = (field.into(), confidence, why.to_owned());
    }
}

/// A mapping with its reasons.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposal {
    /// What to start from.
    pub mapping: Mapping,
    /// A row for each column, in the order of the file.
    pub columns: Vec<ProposedColumn>,
}

/// Why a column is not used.
const UNKNOWN: &str = "the header is not known";

/// Why a side of a base is not used.
const BASE: &str = "a side of the base of an SMD can, which is wider than the can: its diameter stays unknown";

/// Sample cells shown beside a proposal.
const SHOWN: usize = 3;

/// Proposes a mapping of the table for `target`.
pub fn propose(table: &Table, target: Target) -> Proposal {
    let cells: Vec<Vec<&str>> = (0..table.header.len()).map(|at| samples(table, at)).collect();
    let printed = table.found.layout == Layout::Printed;
    let mut columns: Vec<ProposedColumn> =
        table.header.iter().zip(&cells).map(|(header, cells)| by_header(header, cells, target, printed)).collect();
    if Field::PriceBreaks.serves(target) {
        pair_breaks(&mut columns);
    }
    keep_one_of_each(&mut columns, &cells);
    bare_multipliers(&mut columns, &cells, target);
    bases(&mut columns);
    by_cells(&mut columns, &cells, target, table.found.header_line.is_none());
    let fields: Vec<Option<Field>> = columns.iter().map(|column| column.field).collect();
    if target == Target::Positions && asking::esr_is_open(&table.header, &|field| fields.contains(&Some(field))) {
        let open = |of: &&mut ProposedColumn| matches!(of.field, Some(Field::Esr | Field::TanDelta));
        for column in columns.iter_mut().filter(open) {
            (column.field, column.why) = (None, "the maker's, or measured on the part: nothing says which".to_owned());
        }
    }
    if let Some(at) = counted(table, &fields).filter(|_| target == Target::Positions) {
        columns[at].set(Field::Designator, Confidence::Guess, "it counts the rows, and nothing else names them");
    }
    let mut mapping = Mapping::empty(target);
    for column in &columns {
        // A bare list is designator, µF, V: the proposal says so, and a person can say otherwise.
        let bare = column.field == Some(Field::Capacitance) && column.why == by_place::BARE;
        let unit = bare.then_some(Unit::Microfarad);
        let meaning = ColumnMeaning { field: column.field, unit, ..ColumnMeaning::default() };
        mapping.columns.insert(column.header.clone(), meaning);
    }
    Proposal { mapping, columns }
}

/// The column that counts the rows of a list without designators, 1, 2, 3, ..., which has kinds, values and voltages and nothing that only
/// a part or a shelf has: what the drawing of an old device goes with.
fn counted(table: &Table, fields: &[Option<Field>]) -> Option<usize> {
    use Field::{Capacitance, Description, RatedV, Tolerance, Type, Value};
    let of_position = |field: &Field| matches!(field, Value | Capacitance | RatedV | Type | Tolerance | Description);
    let has = |wanted: &[Field]| wanted.iter().any(|field| fields.contains(&Some(*field)));
    if !fields.iter().flatten().all(|field| of_position(field) || field.is_of_sale())
        || !has(&[RatedV])
        || !has(&[Type, Description])
    {
        return None;
    }
    (0..table.header.len()).find(|&at| {
        let cells = samples(table, at);
        is_counter(&table.header[at]) && cells.iter().zip(1..).all(|(cell, row)| cell.parse() == Ok(row))
    })
}

/// Breaks in pairs of columns count where both halves are there, `Qty Break 1` and `Price Break 1`; prices alone whose numbers are more
/// than a count of them, `Price 1`, `Price 10`, `Price 100`, are those from so many pieces on.
fn pair_breaks(columns: &mut [ProposedColumn]) {
    let halves: Vec<Option<(Half, u32)>> = columns.iter().map(|column| paired(&column.header)).collect();
    for (column, half) in columns.iter_mut().zip(&halves) {
        let Some((half, number)) = *half else { continue };
        let other = if half == Half::Price { Half::Quantity } else { Half::Price };
        if halves.contains(&Some((other, number))) {
            let why = "half of a price break, with the column of the same number";
            column.set(Field::PriceBreaks, Confidence::Likely, why);
        }
    }
    let lone = |&at: &usize| {
        let (half, number) = halves[at]?;
        (half == Half::Price && !halves.contains(&Some((Half::Quantity, number)))).then_some(number)
    };
    let alone: Vec<usize> = (0..columns.len()).filter(|at| lone(at).is_some()).collect();
    if alone.len() > 1 && alone.iter().filter_map(lone).any(|number| number as usize > alone.len()) {
        for at in alone {
            columns[at].set(Field::PriceBreaks, Confidence::Likely, "the price from so many pieces on");
        }
    }
}

/// Length and width beside a height are the base of an SMD can, and the length is no height.
fn bases(columns: &mut [ProposedColumn]) {
    let is = |column: &ProposedColumn, names: &[&str]| names.contains(&plain(&column.header).as_str());
    let find = |columns: &[ProposedColumn], names: &[&str]| columns.iter().position(|column| is(column, names));
    let length = find(columns, &["lmm", "l", "length", "lengthmm", "basel", "baselength"]);
    let width = find(columns, &["wmm", "w", "width", "widthmm", "basew", "basewidth"]);
    let height = find(columns, &["hmm", "h", "height", "heightmm"]);
    let (Some(length), Some(width), Some(height)) = (length, width, height) else { return };
    columns[height].field = Some(Field::Height);
    for at in [length, width] {
        columns[at].set(None, Confidence::Likely, BASE);
    }
}

/// Columns headed by nothing but a frequency, with factors in them: at least two, so that a single figure is no factor.
fn bare_multipliers(columns: &mut [ProposedColumn], cells: &[Vec<&str>], target: Target) {
    const FACTORS: std::ops::RangeInclusive<f64> = 0.05..=3.0;
    let factor = |cell: &str| cell.trim().replace(',', ".").parse().is_ok_and(|factor: f64| FACTORS.contains(&factor));
    let of = |at: usize| {
        let header = columns[at].header.as_str();
        let bare =
            header.split(|c: char| !c.is_alphabetic()).all(|word| matches!(word, "" | "Hz" | "kHz" | "k" | "KHz"));
        let free = columns[at].field.is_none() && columns[at].why == UNKNOWN;
        let field = if bare && free { frequency_field(header) } else { None }?;
        (field.serves(target) && !cells[at].is_empty() && share(&cells[at], factor) >= 0.95).then_some((at, field))
    };
    let found: Vec<(usize, Field)> = (0..columns.len()).filter_map(of).collect();
    let taken: Vec<Field> = columns.iter().filter_map(|column| column.field).collect();
    if found.len() >= 2 {
        for (at, field) in found.into_iter().filter(|(_, field)| !taken.contains(field)) {
            columns[at].set(field, Confidence::Likely, "a frequency over factors");
        }
    }
}

/// The number of a cell in the plainest notation.
fn figure(cell: &str) -> Option<f64> {
    cell.trim().replace([',', '.', ' '], "").parse().ok()
}

/// A name that looks like one thing and heads another, in most files or in this one.
fn by_habit(header: &str, cells: &[&str], target: Target) -> Option<(Option<Field>, Confidence, &'static str)> {
    let name = plain(header);
    let decoy = synonyms::is_decoy(&name);
    if decoy && Field::Designator.serves(target) && share(cells, is_designators) >= 0.8 && numbered(cells, 0.5) {
        return Some((Some(Field::Designator), Confidence::Guess, "headed like a count, filled like designators"));
    }
    let codes = share(cells, |cell| voltage::of_code(cell).is_some()) >= 0.8;
    if codes && matches!(named(header, target), None | Some((Field::PartNumber | Field::RatedV, _))) {
        return Some((Some(Field::RatedV), Confidence::Guess, "filled with codes of voltages"));
    }
    // The hours of a board's list may be those it has run.
    let hours = ["hours", "hrs", "stunden", "ore", "heures", "h"].contains(&name.as_str());
    if hours && target == Target::Positions && named(header, target).is_some_and(|(of, _)| of == Field::Endurance) {
        return Some((None, Confidence::Likely, "hours of what, it does not say"));
    }
    if decoy {
        return Some((None, Confidence::Sure, "a code, a copy or a second coordinate, not the figure itself"));
    }
    // A bare figure without a unit in the header would be one more question about what only a bench needs.
    let united = || {
        header.split(|c: char| !c.is_alphanumeric() && c != 'Ω' && c != 'µ').any(|word| Unit::parse(word).is_some())
            || cells.iter().any(|cell| cell.ends_with(char::is_alphabetic))
    };
    if let Some(field) = naming::measured(header).filter(|field| field.serves(target) && united()) {
        return Some((Some(field), Confidence::Likely, "measured on the part at this position"));
    }
    let another = naming::of_machine(header) || synonyms::is_of_another(&name);
    another.then_some((None, Confidence::Likely, "a measured or a new figure, not that of the part as it was"))
}

fn by_header(header: &str, cells: &[&str], target: Target, printed: bool) -> ProposedColumn {
    let (field, confidence, why) = judged(header, cells, target, printed);
    let samples = cells.iter().take(SHOWN).map(|cell| (*cell).chars().take(80).collect()).collect();
    ProposedColumn { header: header.to_owned(), field, confidence, why: why.to_owned(), samples }
}

/// What a header says of the cells below it, how surely and why.
fn judged(header: &str, cells: &[&str], target: Target, printed: bool) -> (Option<Field>, Confidence, &'static str) {
    use Confidence::{Guess, Likely, Sure};
    if let Some(field) = naming::of_catalogue(header, target)
        && cells.iter().all(|cell| entry::enter(field, &mut Can::default(), cell).is_ok())
    {
        return (Some(Field::OwnName), Sure, "the name it has in a catalogue of this program");
    }
    if let Some(habit) = by_habit(header, cells, target) {
        return habit;
    }
    // Over several columns of a printed table stands what they have in common: `Electrical IR (mA)`.
    let ending = || {
        let ends = header.match_indices(' ').filter(|_| printed).map(|(at, _)| &header[at + 1..]);
        ends.filter_map(|end| named(end, target)).find(|(_, confidence)| *confidence > Guess)
    };
    let Some((field, confidence)) = named(header, target).or_else(ending) else {
        return (None, Likely, UNKNOWN);
    };
    // The same word heads designators in one file and part numbers or values in another: the cells decide.
    // Titles, totals and remarks stand in the same column; they do not look like the cells of any other kind either.
    let looks = match field {
        Field::Designator | Field::Value | Field::Type | Field::PartNumber => share(cells, is_designators),
        _ => 0.0,
    };
    let capacitors = || cells.iter().filter(|cell| capacitors_in(cell)).count();
    match field {
        Field::Designator if (0.2..0.4).contains(&looks) && capacitors() >= 2 => {
            (Some(field), Likely, "a known header; some cells are titles or remarks")
        }
        Field::Designator if cells.len() > 2 && cells.iter().all(|cell| *cell == cells[0]) => {
            (None, Likely, "headed like designators, every cell the same")
        }
        Field::Designator if looks < 0.4 && !cells.is_empty() => {
            // Among the values of a board are those of its resistors.
            if Field::Value.serves(target)
                && share(cells, |cell| is_capacitance(cell) || tells_capacitance(cell)) >= 0.2
            {
                return (Some(Field::Value), Likely, "headed like designators, filled like values");
            }
            let part = matches!(plain(header).as_str(), "part" | "component");
            if !part && !is_counter(header) && Field::Designator.serves(target) && bare_numbers(cells) {
                return (Some(field), Likely, "a known header over bare numbers, every one another");
            }
            if Field::PartNumber.serves(target) && part {
                return (Some(Field::PartNumber), Likely, "headed like designators, filled like part numbers");
            }
            // Where each line is headed `component`, what it names is the kind: `Elko axial`, `Relais`.
            let words = Field::Description.serves(target) && share(cells, |cell| !is_number(cell)) >= 0.5;
            let field = words.then_some(Field::Description);
            (field, Likely, "headed like designators, filled with something else")
        }
        // No can is half a metre high; a lifetime is thousands of hours.
        Field::Height if plain(header) == "h" && share(cells, |cell| figure(cell) >= Some(500.0)) >= 0.5 => {
            (Some(Field::Endurance), Likely, "hours, by the size of the figures")
        }
        // A number of the row (`No.`) may be the designator.
        Field::Value | Field::Type | Field::PartNumber
            if looks > 0.8
                && numbered(cells, if field == Field::Value { 0.25 } else { 0.5 })
                && Field::Designator.serves(target)
                && (field != Field::PartNumber
                    || is_counter(header)
                    || synonyms::place(&plain(header), Field::Designator).is_some()) =>
        {
            (Some(Field::Designator), Guess, "filled like designators")
        }
        Field::Maker
            if plain(header) == "mf" && share(cells, |cell| is_number(cell) || is_capacitance(cell)) >= 0.8 =>
        {
            (Some(Field::Capacitance), Likely, "headed MF, filled with figures")
        }
        Field::Quantity if share(cells, tells_capacitance) >= 0.8 => {
            (Some(Field::Value), Likely, "headed like a quantity, filled like values")
        }
        Field::Fitted if share(cells, fitted::is_mark) < 0.5 && !cells.is_empty() => {
            (Some(Field::Description), Likely, "headed like marks of what is fitted, filled with texts")
        }
        Field::Value if share(cells, is_voltage) >= 0.8 => {
            (Some(Field::RatedV), Likely, "headed like a value, filled with voltages")
        }
        Field::Type if plain(header) == "material" && share(cells, is_number) >= 0.8 => {
            (Some(Field::PartNumber), Likely, "headed like a type, filled with numbers")
        }
        Field::Side if share(cells, |cell| shape::side(cell).is_some()) < 0.5 && !cells.is_empty() => {
            (None, Likely, "headed like a side, filled with something else")
        }
        Field::X | Field::Y if share(cells, is_coordinate) < 0.5 && !cells.is_empty() => {
            (None, Likely, "headed like a coordinate, filled with something else")
        }
        _ if cells.is_empty() => (Some(field), Likely, "a known header over an empty column"),
        _ if confidence == Sure => (Some(field), confidence, "a known header"),
        _ => (Some(field), confidence, "the header begins like a known one"),
    }
}

/// Of several columns for a field that can stand only once, the surest and fullest is used.
fn keep_one_of_each(columns: &mut [ProposedColumn], cells: &[Vec<&str>]) {
    for field in Field::ALL.iter().copied().filter(|field| !field.repeats()) {
        let of_field: Vec<usize> = (0..columns.len()).filter(|&at| columns[at].field == Some(field)).collect();
        let rank = |at: usize| {
            let fit = if field == Field::Designator { share(&cells[at], is_designators) > 0.8 } else { true };
            (
                fit,
                !cells[at].is_empty(),
                columns[at].confidence,
                preference(field, &columns[at].header),
                std::cmp::Reverse(at),
            )
        };
        let Some(best) = of_field.iter().copied().max_by_key(|&at| rank(at)) else { continue };
        let used = columns[best].header.clone();
        for at in of_field.into_iter().filter(|&at| at != best) {
            // ESR and impedance stand side by side in distributors' lists, one of them mostly empty.
            if field == Field::Esr && at > best && columns[at].confidence >= Confidence::Likely {
                columns[at].why = format!("a known header; used where {used} has no figure");
                continue;
            }
            columns[at].field = None;
            columns[at].why = format!("a second column of {}; {used} is used", field.label());
        }
    }
}

/// Place of a header among the names of its field, the first being the best.
fn preference(field: Field, header: &str) -> std::cmp::Reverse<usize> {
    // Beside the maker's number a plain `Part Number` is that of the shop.
    let makers = ["manuf", "mfr", "mfg", "mpn", "maker", "herst"];
    if field == Field::PartNumber && makers.iter().any(|word| plain(header).contains(word)) {
        return std::cmp::Reverse(0);
    }
    if field == Field::PartNumber && header != "part_number" {
        return std::cmp::Reverse(synonyms::place(&plain(header), field).map_or(usize::MAX, |at| at + 1));
    }
    // Millimetres are the figure, inches its copy.
    let last = usize::MAX - usize::from(!header.to_lowercase().contains("inch"));
    let place = |name: &str| synonyms::place(&plain(name), field);
    std::cmp::Reverse(place(header).or_else(|| place(naming::without_unit(header))).unwrap_or(last))
}

/// Fields that the headers did not give, from cells that can be nothing else. Only where the header names nothing, or names nothing known.
fn by_cells(columns: &mut [ProposedColumn], cells: &[Vec<&str>], target: Target, headless: bool) {
    let has = |columns: &[ProposedColumn], field| columns.iter().any(|column| column.field == Some(field));
    let rows = cells.iter().map(Vec::len).max().unwrap_or(0);
    let guess = |columns: &mut [ProposedColumn], field: Field, fits: &dyn Fn(&str) -> bool| {
        if !field.serves(target) || has(columns, field) {
            return;
        }
        let open = (0..columns.len()).filter(|&at| match columns[at].field {
            None => {
                columns[at].why == UNKNOWN && !(field == Field::Designator && words::heads_places(&columns[at].header))
            }
            // Remarks may be nothing but the names of capacitors.
            Some(of) => of == Field::Description && field == Field::Designator && numbered(&cells[at], 0.8),
        });
        // Customers' notes name a position here and there; a list names one in nearly every row.
        let enough = if field == Field::Designator { rows.div_ceil(2) } else { 1 };
        // Without a header the titles of a list stand among its designators.
        let least = if headless && field == Field::Designator { 0.6 } else { 0.8 };
        let best = open.filter(|&at| share(&cells[at], fits) >= least && cells[at].len() >= enough).min();
        if let Some(at) = best {
            columns[at].set(field, Confidence::Guess, "from the cells alone");
        }
    };
    if target != Target::Parts {
        // Codes of sizes look like designators; a board's list names capacitors among them.
        let is_open = |field| matches!(field, None | Some(Field::Description));
        let some_capacitors =
            (0..columns.len()).any(|at| is_open(columns[at].field) && share(&cells[at], capacitors_in) >= 0.2);
        if headless || some_capacitors {
            guess(columns, Field::Designator, &is_designators);
        }
        guess(columns, Field::Side, &|cell| shape::side(cell).is_some());
    }
    if !has(columns, Field::Value) && !has(columns, Field::Capacitance) {
        guess(columns, Field::Value, &is_capacitance);
    }
    if headless && target == Target::Positions && !has(columns, Field::Value) && !has(columns, Field::Capacitance) {
        guess(columns, Field::Value, &|cell| pairs::is_pair(cell) || is_capacitance(cell) || tells_capacitance(cell));
    }
    if !has(columns, Field::Value) && !has(columns, Field::Capacitance) {
        let best = (0..columns.len())
            .filter(|&at| columns[at].field.is_none() && columns[at].why == UNKNOWN)
            .find(|&at| share(&cells[at], tells_capacitance) >= 0.5);
        let told =
            |at: usize| columns[at].field == Some(Field::Description) && share(&cells[at], tells_capacitance) >= 0.2;
        if let Some(at) = best.filter(|_| !(0..columns.len()).any(told)) {
            columns[at].set(Field::Description, Confidence::Guess, "from the cells alone");
        }
    }
    guess(columns, Field::Fitted, &fitted::is_yes_or_no);
    guess(columns, Field::RatedV, &is_voltage);
    guess(columns, Field::Type, &words::is_type);
    let bare = |cell: &str| !cell.contains(|c: char| c.is_ascii_digit());
    guess(columns, Field::Mounting, &|cell| bare(cell) && words::mounting(&[cell]).is_some());
    if target == Target::Parts && !headless {
        numbers_of_parts(columns, cells, rows);
    }
    if headless {
        let fields: Vec<Option<Field>> = columns.iter().map(|column| column.field).collect();
        for (at, field, why) in by_place::fields(&fields, cells, target) {
            columns[at].set(field, Confidence::Guess, why);
        }
        // What stands behind the figures may say what kind they are.
        let texts = columns.iter_mut().zip(cells).filter(|(column, _)| {
            column.field.is_none() && column.why == UNKNOWN && !words::heads_boards(&column.header)
        });
        for (column, _) in texts.filter(|(_, cells)| share(cells, |cell| !is_number(cell)) >= 0.5) {
            if Field::Description.serves(target) {
                column.set(Field::Description, Confidence::Guess, "text in a table without header");
            }
        }
    }
}

/// A list of parts without a header for their numbers: a column of types or articles, or one headed by something unknown, in which every
/// cell is another name.
fn numbers_of_parts(columns: &mut [ProposedColumn], cells: &[Vec<&str>], rows: usize) {
    if columns.iter().any(|column| column.field == Some(Field::PartNumber)) {
        return;
    }
    let type_names = ["type", "typ", "symbol", "part", "pn", "item", "comment", "name"];
    let free = |at: usize| {
        let column = &columns[at];
        if words::heads_places(&column.header) {
            return false;
        }
        let typed = matches!(column.field, Some(Field::Type | Field::Value | Field::SupplierPartNumber))
            && type_names.contains(&plain(&column.header).as_str());
        // An article is its number where it looks like one.
        let article = column.field == Some(Field::Description)
            && ["artikel", "article", "articolo", "articulo", "art"].contains(&plain(&column.header).as_str());
        let counter = is_counter(&column.header) && column.field.is_none();
        typed || article || counter || (column.field.is_none() && column.why == UNKNOWN)
    };
    let different = |at: usize| {
        let mut names = cells[at].clone();
        names.sort_unstable();
        names.dedup();
        names.len() == cells[at].len()
            && rows - names.len() <= 1.max(rows / 4)
            && (rows > 1 || plain(&columns[at].header) == "part")
    };
    let named = |at: usize| free(at) && different(at) && share(&cells[at], shape::is_part_number) >= 0.9;
    if let Some(at) = (0..columns.len()).find(|&at| named(at)) {
        columns[at].set(Field::PartNumber, Confidence::Guess, "every cell is another name");
    }
}
