//! A placement file gives the positions of a board their place.

use std::collections::{HashMap, HashSet};
use std::path::Path;

use super::answer::Answer;
use super::columns::{Columns, Prepared};
use super::field::Field;
use super::mapping::Mapping;
use super::report::{Choice, Question, Report};
use super::shape;
use crate::domain::style::counted;
use crate::domain::{Board, Side};
use crate::files::cell::clean::is_nothing;
use crate::files::cell::unit::{Kind, Unit};
use crate::files::cell::{Column, Reading, length, number};
use crate::files::designators::{self, is_capacitor};
use crate::files::table::Table;

/// Larger boards are implausible, mm (common practice, no source: panels of board makers end near 600 mm).
const LARGEST_MM: f64 = 1000.0;
/// Room left between the edge and the outermost part when coordinates have to be moved, mm.
const MARGIN_MM: f64 = 5.0;

/// What one of several files gave.
#[derive(Debug, Clone, Default)]
pub struct FileGave {
    /// What was kept, skipped, refused and asked.
    pub report: Report,
    /// Part numbers and references taken from the leading rows, with their line.
    pub names: Vec<(u64, String)>,
    /// References of other parts taken from the leading rows, with their line.
    pub other_names: Vec<(u64, String)>,
    /// Positions that were placed; `None` when the file places nothing.
    pub placed: Option<usize>,
    /// Capacitors that are placed and are no position of the board.
    pub without_position: Vec<String>,
    /// Positions of the board that the file does not place.
    pub without_place: Vec<String>,
}

/// A part of the file.
#[derive(Debug, Clone)]
struct Spot {
    line: usize,
    name: String,
    x_mm: f64,
    y_mm: f64,
    rotation_deg: Option<f64>,
    side: Option<Side>,
}

/// Places the positions of a board. Nothing is placed while the unit is open or the board would be implausibly large.
pub fn place(table: &Table, mapping: &Mapping, file: &Path, board: &mut Board) -> FileGave {
    let mut import = FileGave { report: Report::of(table, file), placed: Some(0), ..FileGave::default() };
    let report = &mut import.report;
    let columns = Columns::of(table, mapping);
    let one = |field| columns.of_field(field).next().cloned();
    let (Some(names), Some(mut x), Some(mut y)) = (one(Field::Designator), one(Field::X), one(Field::Y)) else {
        report.notes.push("no columns of designator, x and y: nothing could be placed".to_owned());
        report.refused = report.rows;
        return import;
    };
    if table.rows.is_empty() {
        report.notes.push("the file has a header and no rows: nothing is placed".to_owned());
    }
    // One column's unit holds for the other.
    let stated = x.column.unit.or(y.column.unit).or_else(|| preamble_unit(table));
    for column in [&mut x, &mut y] {
        column.column.unit = column.column.unit.or(stated);
    }
    if stated.is_none() && !has_suffix(table, &x) && !table.rows.is_empty() {
        ask_unit(table, &x, &y, report, "unit of the coordinates, which neither header nor preamble gives");
        report.refused = report.rows;
        return import;
    }
    let by_person =
        [&x, &y].iter().any(|column| mapping.column(&column.header).is_some_and(|meaning| meaning.unit.is_some()));
    let mut spots = read_spots(table, &columns, [&names, &x, &y], report);
    let (width_mm, height_mm) = (range(spots.iter().map(|s| s.x_mm)), range(spots.iter().map(|s| s.y_mm)));
    if width_mm.max(height_mm) > LARGEST_MM {
        let what = format!(
            "the parts would cover {width_mm:.0} x {height_mm:.0} mm, which is implausible for a board: is the unit right?"
        );
        if !by_person {
            ask_unit(table, &x, &y, report, &what);
            report.refused = report.rows;
            return import;
        }
        report.notes.push(what);
    }
    straighten(&mut spots, mapping, report);
    if x.header.to_lowercase().starts_with("pos")
        && table.rows.iter().any(|row| row.cells.iter().any(|cell| cell.starts_with("CP_Radial")))
    {
        let text = "the coordinates may be those of pin 1, not of the body, for leaded parts: compare with the board";
        report.notes.push(text.to_owned());
    }
    assign(&spots, board, &mut import);
    import
}

/// The board that placement files are about; `None` where no board has a position that stands in them.
pub fn board_placed<'a>(tables: &[&Table], boards: impl IntoIterator<Item = &'a Board>) -> Option<usize> {
    let placed_by = |table: &Table, board: &Board| {
        let cells: HashSet<&str> = table.rows.iter().flat_map(|row| &row.cells).map(|cell| cell.trim()).collect();
        board.positions.iter().filter(|position| cells.contains(position.reference.as_str())).count()
    };
    // C1 is on every board: what counts is how many are found and how much of the board they are.
    let fits = |board: &Board| {
        let found: usize = tables.iter().map(|table| placed_by(table, board)).sum();
        found * found * 1000 / board.positions.len().max(1)
    };
    let boards = boards.into_iter().enumerate().map(|(at, board)| (fits(board), at));
    let best = boards.max_by_key(|&(fit, at)| (fit, std::cmp::Reverse(at)));
    best.filter(|&(fit, _)| fit > 0).map(|(_, at)| at)
}

/// `Units used: mil`, `## Unit = mm, Angle = deg.`, `# X,Y in mils. rotation in degrees.`
fn preamble_unit(table: &Table) -> Option<Unit> {
    let mut found = table.preamble.iter().chain(&table.trailing).filter_map(|note| {
        let text = note.text.to_lowercase();
        let behind = match (text.find("unit"), text.replace(',', " ").find("x y in ")) {
            (Some(at), _) => &text[at..],
            // From the last letter of `in` on: the word itself is also a unit.
            (None, Some(at)) => &text[at + "x y i".len()..],
            (None, None) => return None,
        };
        let mut words = behind.split(|c: char| !c.is_alphanumeric()).skip(1).filter(|word| !word.is_empty()).take(4);
        words.find_map(|word| Unit::parse(word).filter(|unit| unit.kind() == Kind::Length))
    });
    let first = found.next()?;
    found.all(|other| other == first).then_some(first)
}

/// Whether the cells carry their unit themselves.
fn has_suffix(table: &Table, x: &Prepared) -> bool {
    let cells = shape::samples(table, x.at);
    !cells.is_empty() && shape::share(&cells, |cell| matches!(length::read(cell, &x.column), Reading::Value(_))) > 0.9
}

fn ask_unit(table: &Table, x: &Prepared, y: &Prepared, report: &mut Report, what: &str) {
    let choices = Field::X.units().iter().map(|&unit| {
        let read = |column: &Prepared| -> Vec<f64> {
            let with = Column { unit: Some(unit), ..column.column };
            table.rows.iter().filter_map(|row| length::read(row.cells.get(column.at)?, &with).value()).collect()
        };
        let (width, height) = (range(read(x)), range(read(y)));
        let doubt = if width.max(height) > LARGEST_MM || width.max(height) < 3.0 { ", implausible" } else { "" };
        let label = format!("{}: the parts cover {width:.0} x {height:.0} mm{doubt}", unit.symbol());
        Choice::new(label, Answer::unit(&x.header, unit))
    });
    let line = table.rows.first().map_or(1, |row| row.line);
    report.questions.push(Question {
        column: x.header.clone(),
        what: what.to_owned(),
        example: shape::samples(table, x.at).first().map_or(String::new(), ToString::to_string),
        rows: table.rows.len(),
        line: line as u64,
        choices: choices.collect(),
    });
    report.list(line, Field::X.label(), &x.header, format!("nothing is placed: {what}"));
}

fn read_spots(table: &Table, columns: &Columns, of: [&Prepared; 3], report: &mut Report) -> Vec<Spot> {
    let [names, x, y] = of;
    let mut spots = Vec::new();
    for row in &table.rows {
        let cell = |column: &Prepared| row.cells.get(column.at).map_or("", |cell| cell.trim());
        let name = cell(names);
        if is_nothing(name) || name.contains('?') {
            report.put_aside(row.line, name, "no designator", "no designator, or one without a number");
            continue;
        }
        let (read_x, read_y) = (length::read(cell(x), &x.column), length::read(cell(y), &y.column));
        let (Reading::Value(x_mm), Reading::Value(y_mm)) = (read_x, read_y) else {
            let value = format!("{} {}", cell(x), cell(y));
            report.refuse(row.line, Field::X.label(), &value, "the coordinates cannot be read");
            continue;
        };
        let angle = columns.text(&row.cells, Field::Rotation).unwrap_or_default();
        let bottom = columns.text(&row.cells, Field::Side).and_then(shape::side);
        let bottom = bottom.or(angle.starts_with('M').then_some(true));
        let side = bottom.map(|bottom| if bottom { Side::Bottom } else { Side::Top });
        let (line, rotation_deg) = (row.line, rotation(angle));
        let names = designators::read(name, Some(1)).refs.into_iter();
        spots.extend(names.map(|name| Spot { line, name, x_mm, y_mm, rotation_deg, side }));
    }
    spots
}

/// `90`, `-90`, `R270`, `MR90`, `90.0°` as an angle from 0 to below 360.
fn rotation(cell: &str) -> Option<f64> {
    let figure =
        cell.trim_start_matches(['M', 'S', 'R']).trim_end_matches(|c: char| c == '°' || c.is_alphabetic() || c == ' ');
    let degrees = number::read(figure, &Column::dot()).value()?;
    Some(degrees.rem_euclid(360.0)).filter(|degrees| degrees.is_finite())
}

/// How far figures lie apart; 0 for none.
fn range(values: impl IntoIterator<Item = f64>) -> f64 {
    let ends = |(least, most): (f64, f64), value: f64| (least.min(value), most.max(value));
    let (least, most) = values.into_iter().fold((f64::MAX, f64::MIN), ends);
    (most - least).max(0.0)
}

/// Mirrored and shifted coordinates as distances from the lower left corner, with a word about it.
fn straighten(spots: &mut [Spot], mapping: &Mapping, report: &mut Report) {
    let bottom = |spot: &Spot| spot.side == Some(Side::Bottom);
    let all = |wanted: bool, holds: fn(f64) -> bool, spots: &[Spot]| {
        let mut side = spots.iter().filter(|spot| bottom(spot) == wanted).peekable();
        side.peek().is_some() && side.all(|spot| holds(spot.x_mm))
    };
    if all(true, |x| x < 0.0, spots) && all(false, |x| x > 0.0, spots) {
        spots.iter_mut().filter(|spot| bottom(spot)).for_each(|spot| spot.x_mm = -spot.x_mm);
        report.notes.push("x of the bottom side is negative in the file and was mirrored".to_owned());
    }
    if mapping.y_down == Some(true) {
        spots.iter_mut().for_each(|spot| spot.y_mm = -spot.y_mm);
    }
    let least = |of: fn(&Spot) -> f64| spots.iter().map(of).fold(f64::MAX, f64::min);
    let (x_min, y_min) = (least(|spot| spot.x_mm), least(|spot| spot.y_mm));
    if spots.is_empty() || (x_min >= 0.0 && y_min >= 0.0) {
        return;
    }
    // Both are moved, so that the picture keeps its shape; a coordinate that was positive all over stays.
    let shift = |least: f64| if least < 0.0 { MARGIN_MM - least } else { 0.0 };
    let (dx, dy) = (shift(x_min), shift(y_min));
    for spot in spots.iter_mut() {
        spot.x_mm = rounded(spot.x_mm + dx);
        spot.y_mm = rounded(spot.y_mm + dy);
    }
    report.notes.push(format!("coordinates are negative in the file: moved by {dx:.3} mm in x and {dy:.3} mm in y"));
}

/// To a tenth of a micrometre, so that sums leave no binary noise in the file.
fn rounded(mm: f64) -> f64 {
    (mm * 1e4).round() / 1e4
}

fn assign(spots: &[Spot], board: &mut Board, import: &mut FileGave) {
    let at: HashMap<String, usize> =
        board.positions.iter().enumerate().map(|(at, position)| (position.reference.clone(), at)).collect();
    let mut seen: HashMap<&str, usize> = HashMap::new();
    let mut placed: HashSet<usize> = HashSet::new();
    let report = &mut import.report;
    let mut repeated = 0;
    for spot in spots {
        let name = &spot.name;
        if let Some(line) = seen.get(name.as_str()) {
            repeated += 1;
            let reason = format!("{name} stands already in line {line} (a panel?)");
            report.put_aside(spot.line, name, "repeated designator", &reason);
            continue;
        }
        seen.insert(name, spot.line);
        let Some(&index) = at.get(name) else {
            let other = board.other_parts.iter_mut().find(|part| part.reference == *name);
            if let Some(part) = other {
                (part.x_mm, part.y_mm) = (Some(spot.x_mm), Some(spot.y_mm));
                part.side = spot.side.or(part.side);
                report.kept += 1;
            } else if is_capacitor(name) == Some(true) {
                let reason = format!("{name} is placed here and is no position of the board");
                report.put_aside(spot.line, name, "placed, but no position", &reason);
                import.without_position.push(name.clone());
            } else {
                report.put_aside(spot.line, name, "not a capacitor", &format!("not a capacitor ({name})"));
            }
            continue;
        };
        let position = &mut board.positions[index];
        (position.x_mm, position.y_mm) = (Some(spot.x_mm), Some(spot.y_mm));
        position.rotation_deg = spot.rotation_deg.or(position.rotation_deg);
        position.side = spot.side.or(position.side);
        placed.insert(index);
        report.kept += 1;
    }
    import.placed = Some(placed.len());
    let left = board.positions.iter().enumerate().filter(|(index, _)| !placed.contains(index));
    import.without_place = left.map(|(_, position)| position.reference.clone()).collect();
    if repeated > 0 {
        report.notes.push(format!(
            "{} a designator, as panels do; the first place is used",
            counted(repeated, "row repeats", "rows repeat")
        ));
    }
    for name in &import.without_place {
        report.list(0, Field::Designator.label(), name, "a position of the board that this file does not place");
    }
    for (names, text) in [
        (&import.without_place, "positions are not in the placement file"),
        (&import.without_position, "capacitors of the placement file are no positions"),
    ] {
        if !names.is_empty() {
            report.notes.push(format!("{} {text}: {}", names.len(), shortened(names)));
        }
    }
    if !placed.is_empty() {
        report.notes.push("rotations are those of the file; where its zero points is not in it: check every polarity mark against the board".to_owned());
    }
}

fn shortened(names: &[String]) -> String {
    const SHOWN: usize = 20;
    let more = if names.len() > SHOWN { ", ..." } else { "" };
    names[..names.len().min(SHOWN)].join(", ") + more
}
