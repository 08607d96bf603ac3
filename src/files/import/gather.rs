//! Several read files together: their parts as one list, their positions and places as one board.

use std::collections::HashMap;
use std::path::Path;

use super::field::{Field, Target};
use super::mapping::Mapping;
use super::offers::offers;
use super::parts::parts;
pub use super::placement::FileGave;
use super::placement::place;
use super::positions::{PositionsImport, positions};
use super::report::Contradiction;
use super::source::Source;
use crate::domain::{Board, CAN_NUMBERS, Can, Part, schema};
use crate::files::table::Table;
use crate::files::{Rejected, Unused};

/// Why the earlier of two rows with one part number is skipped.
const IN_ANOTHER_FILE: &str = "in another file, too";

/// A table with the mapping to read it by.
#[derive(Debug, Clone, Copy)]
pub struct Given<'a> {
    /// The table.
    pub table: &'a Table,
    /// What its columns mean, and what it is read as.
    pub mapping: &'a Mapping,
    /// Its file, for messages.
    pub path: &'a Path,
    /// The name of a board that is made of it.
    pub title: &'a str,
}

impl<'a> Given<'a> {
    /// The table of a source, by a mapping of its own or by another.
    pub fn of(source: &'a Source, mapping: &'a Mapping) -> Self {
        Self { table: &source.table, mapping, path: &source.path, title: &source.title }
    }
}

/// Which tables make a board of their own, in order: every list one, the tables of one title in a file together. Where no list is among
/// them and nothing else is known of their board (`alone`) each placement is one.
pub fn by_board(given: &[Given], alone: bool) -> Vec<Vec<usize>> {
    let is_list = |at: &usize| given[*at].mapping.target == Target::Positions;
    let alone = alone && !(0..given.len()).any(|at| is_list(&at));
    let makes_board = |at: &usize| is_list(at) || alone && given[*at].mapping.target == Target::Placement;
    let tables: Vec<usize> = (0..given.len()).filter(makes_board).collect();
    let of = |at: usize| (given[at].path, given[at].title);
    tables.chunk_by(|&a, &b| of(a) == of(b)).map(<[usize]>::to_vec).collect()
}

/// What all of them gave.
#[derive(Debug, Clone, Default)]
pub struct Gathered {
    /// The parts, each with which of the files gave it; of several with a number the last.
    pub parts: Vec<(usize, Part)>,
    /// Offers of suppliers, each with which of the files gave it.
    pub offers: Vec<(usize, Part)>,
    /// The board with new positions and places; `None` when no file is about a board.
    pub board: Option<Board>,
    /// Positions that are new on it.
    pub added: usize,
    /// Other parts added to the board.
    pub others: usize,
    /// Positions it had of which the files know more.
    pub completed: usize,
    /// What each file gave, in the order given.
    pub files: Vec<FileGave>,
}

/// Reads the files and puts them together; positions and places go onto `board`. Names of the first `leading` rows of each file
/// are kept. `goes_on` is told how much is done, 0 to 1, and ends the reading by saying no: then there is no result.
pub fn gather(given: &[Given], board: Board, leading: usize, goes_on: &dyn Fn(f32) -> bool) -> Option<Gathered> {
    let all: usize = given.iter().map(|file| file.table.rows.len()).sum::<usize>().max(1);
    let mut before = 0;
    let mut work = Work { gathered: Gathered::default(), board, leading, parts: HashMap::new() };
    work.gathered.files = vec![FileGave::default(); given.len()];
    let of_boards = given.iter().any(|file| file.mapping.target.is_of_board());
    let lists = given.iter().filter(|file| file.mapping.target == Target::Positions).count();
    // A placement file alone, without a board, is all there is to know of it.
    let alone = lists == 0 && work.board.positions.is_empty();
    // Lists before placements, so that the order in which files were opened does not matter.
    let rank = |target: Target| usize::from(target == Target::Placement);
    let mut order: Vec<usize> = (0..given.len()).collect();
    order.sort_by_key(|&at| rank(given[at].mapping.target));
    for at in order {
        let file = given[at];
        let told = |rows: usize| goes_on((before + rows) as f32 / all as f32);
        match file.mapping.target {
            Target::Parts => work.parts(at, file, &told)?,
            Target::Offers => {
                let read = offers(file.table, file.mapping, file.path, &told)?;
                work.gathered.files[at].names = work.names(file, &read.parts, |part| part.part_number.as_str());
                work.gathered.files[at].report = read.report;
                work.gathered.offers.extend(read.parts.into_iter().map(|(_, offer)| (at, offer)));
            }
            Target::Positions => {
                work.positions(at, file, &told)?;
                if file.mapping.has(Field::X) && file.mapping.has(Field::Y) {
                    work.place(at, file);
                }
            }
            Target::Placement if alone => work.placement_alone(at, file, &told)?,
            Target::Placement => {
                work.place(at, file);
                let names = &mut work.gathered.files[at].names;
                names.clear();
                let placed: std::collections::HashSet<&str> =
                    work.board.positions.iter().filter(|p| p.x_mm.is_some()).map(|p| p.reference.as_str()).collect();
                for row in file.table.rows.iter().take(leading) {
                    let name = row.cells.iter().map(|cell| cell.trim()).find(|cell| placed.contains(cell));
                    names.extend(name.map(|name| (row.line as u64, name.to_owned())));
                }
            }
        }
        before += file.table.rows.len();
    }
    let Work { mut gathered, board, .. } = work;
    gathered.board = of_boards.then_some(board);
    Some(gathered)
}

struct Work {
    gathered: Gathered,
    board: Board,
    leading: usize,
    /// Place of each part number among the parts, with the file and the line it stands in.
    parts: HashMap<String, (usize, usize, u64)>,
}

impl Work {
    fn names<T>(&self, given: Given, read: &[(u64, T)], name: impl Fn(&T) -> &str) -> Vec<(u64, String)> {
        let end = given.table.rows.get(self.leading).map_or(u64::MAX, |row| row.line as u64);
        read.iter().take_while(|(line, _)| *line < end).map(|(line, of)| (*line, name(of).to_owned())).collect()
    }

    fn parts(&mut self, at: usize, given: Given, told: &dyn Fn(usize) -> bool) -> Option<()> {
        let import = parts(given.table, given.mapping, given.path, told)?;
        self.gathered.files[at].names = self.names(given, &import.parts, |part| part.part_number.as_str());
        self.gathered.files[at].report = import.report;
        for (line, part) in import.parts {
            let next = self.gathered.parts.len();
            let (index, earlier) = match self.parts.get(&part.part_number) {
                Some(&(index, file, line)) => (index, Some((file, line))),
                None => (next, None),
            };
            self.parts.insert(part.part_number.clone(), (index, at, line));
            match earlier {
                None => self.gathered.parts.push((at, part)),
                Some((file, earlier_line)) => {
                    let later = given.path.display();
                    let reason = format!("stands again in {later} line {line}; the later row is used");
                    let report = &mut self.gathered.files[file].report;
                    report.kept = report.kept.saturating_sub(1);
                    let earlier_line = usize::try_from(earlier_line).unwrap_or_default();
                    report.put_aside(earlier_line, &part.part_number, IN_ANOTHER_FILE, &reason);
                    self.gathered.parts[index] = (at, part);
                }
            }
        }
        Some(())
    }

    fn positions(&mut self, at: usize, given: Given, told: &dyn Fn(usize) -> bool) -> Option<()> {
        let PositionsImport { positions, others, mut report } =
            positions(given.table, given.mapping, given.path, told)?;
        self.gathered.files[at].names = self.names(given, &positions, |position| position.reference.as_str());
        self.gathered.files[at].other_names = self.names(given, &others, |part| part.reference.as_str());
        let known: HashMap<String, usize> =
            self.board.positions.iter().enumerate().map(|(at, p)| (p.reference.clone(), at)).collect();
        for (line, position) in positions {
            let Some(&index) = known.get(&position.reference) else {
                self.board.positions.push(position);
                self.gathered.added += 1;
                continue;
            };
            let present = &mut self.board.positions[index];
            let (completed, contradictions) = complete(&mut present.original.can, &position.original.can);
            for (field, own, of_file) in contradictions {
                report.contradict(Contradiction {
                    line,
                    field: format!("{field} of {}", present.reference),
                    first: format!("{own} on the board"),
                    second: format!("{of_file} in the file"),
                    done: "that of the board stays".to_owned(),
                });
            }
            let measured = position.measured.filter(|_| present.measured.is_none());
            let completed = completed || measured.is_some();
            present.measured = measured.or_else(|| present.measured.take());
            if present.original.label.is_none() {
                present.original.label = position.original.label;
            }
            if completed {
                let also = position.original.read_from.into_iter();
                let told: Vec<String> = present.original.read_from.take().into_iter().chain(also).collect();
                present.original.read_from = (!told.is_empty()).then(|| schema::cut_to_note(told.join("; ")));
            }
            self.gathered.completed += usize::from(completed);
        }
        for (line, part) in others {
            if self.board.other_parts.iter().any(|known| known.reference == part.reference) {
                let reason = "an other part of this name is on the board already; that one stays";
                report.list(usize::try_from(line).unwrap_or_default(), "(row)", &part.reference, reason);
                continue;
            }
            self.board.other_parts.push(part);
            self.gathered.others += 1;
        }
        self.gathered.files[at].report = report;
        Some(())
    }

    /// Its own values become the positions.
    fn placement_alone(&mut self, at: usize, given: Given, told: &dyn Fn(usize) -> bool) -> Option<()> {
        let source = Source::of_table(given.path, given.table.clone(), Some(Target::Positions));
        let mut mapping = source.mapping;
        // What the person said about the placement's columns holds here, too.
        for (header, meaning) in given.mapping.columns.iter().filter(|(_, meaning)| meaning.field.is_some()) {
            *mapping.column_mut(header) = *meaning;
        }
        mapping.unsaid_are_electrolytic = given.mapping.unsaid_are_electrolytic;
        let as_list = Given { mapping: &mapping, ..given };
        self.positions(at, as_list, told)?;
        self.place(at, given);
        let note = "no parts list and no board beside it: its own values become the positions".to_owned();
        self.gathered.files[at].report.notes.insert(0, note);
        Some(())
    }

    /// Gives positions their places; the reports of a list that holds both become one.
    fn place(&mut self, at: usize, given: Given) {
        let placed = place(given.table, given.mapping, given.path, &mut self.board);
        let gave = &mut self.gathered.files[at];
        if gave.report.rows == 0 {
            *gave = placed;
            return;
        }
        gave.placed = placed.placed;
        gave.without_position = placed.without_position;
        gave.without_place = placed.without_place;
        // Rows that were read as a list are counted there; here only what keeps them from being placed is new.
        gave.report.questions.extend(placed.report.questions);
        let about_places = |listed: &Rejected| listed.unused != Unused::Skipped;
        gave.report.rejected.extend(placed.report.rejected.into_iter().filter(about_places));
        let known = gave.report.notes.clone();
        gave.report.notes.extend(placed.report.notes.into_iter().filter(|note| !known.contains(note)));
    }
}

/// Gives `own` the figures it does not have; figures it has stay. Whether it got any, and where they differ: field, the figure that was
/// there, the other figure.
fn complete(own: &mut Can, other: &Can) -> (bool, Vec<(&'static str, f64, f64)>) {
    let words = |can: &Can| (can.technology, can.mounting, can.endurance_basis, can.life_basis);
    let before = words(own);
    own.technology = own.technology.or(other.technology);
    own.mounting = own.mounting.or(other.mounting);
    own.endurance_basis = own.endurance_basis.or(other.endurance_basis);
    own.life_basis = own.life_basis.or(other.life_basis);
    let (mut completed, mut contradictions) = (before != words(own), Vec::new());
    for ((value, found), field) in own.numbers_mut().into_iter().zip(other.numbers()).zip(CAN_NUMBERS) {
        match (*value, found) {
            (None, Some(_)) => (*value, completed) = (found, true),
            (Some(value), Some(found)) if (value - found).abs() > 1e-6 * value.abs().max(found.abs()) => {
                contradictions.push((field.name, value, found));
            }
            _ => {}
        }
    }
    (completed, contradictions)
}
