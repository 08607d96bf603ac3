//! What a list leaves open and a person is asked, once for all the rows it concerns.

use super::answer::Answer;
use super::columns::{Columns, Prepared};
use super::every_row::has_number;
use super::field::{Field, Target};
use super::mapping::Mapping;
use super::matrix::CELLS;
use super::naming::{self, named};
use super::report::{Choice, Questions};
use super::shape::{is_capacitance, is_number, is_voltage, samples, share};
use super::synonyms::{is_of_another, plain};
use super::words::{list, open_word};
use crate::domain::{Can, Part};
use crate::files::cell::clean::is_nothing;
use crate::files::cell::endurance::Endurance;
use crate::files::cell::{Column, Reading, capacitance, endurance, frequency, number, temperature, text, voltage};
use crate::files::datasheet::{BY_ROW, FROM_SHEET, LIFE};
use crate::files::table::{Layout, Row, Table};

/// Asks whether capacitors whose kind nothing says are to be kept: all of the file, or those that say the same as this row.
pub(super) fn kind(questions: &mut Questions, words: &[&str], shown: &str, line: usize) {
    let what = "nothing says what kind these capacitors are: keep them as electrolytics?";
    questions.ask("", what, shown, line, || {
        let all = Choice::yes_or_no(["unsaid_are_electrolytic"], ["yes, keep them", "no, set them aside"]);
        // The last words of a row are those of its package or description.
        let text =
            words.iter().rev().find(|word| word.chars().any(char::is_alphabetic) && !word.contains(['"', '.', '=']));
        let group = open_word(words).or(text.copied()).into_iter().flat_map(|text| {
            [(true, "keep"), (false, "skipped")].map(|(answer, word)| {
                Choice::new(format!("{word} those with {text}"), Answer::at(["electrolytic", text], answer))
            })
        });
        all.into_iter().chain(group).collect()
    });
}

/// What a person said about rows of these designators, words and value, the most particular first: a designator, a text, a range.
pub(super) fn answered(mapping: &Mapping, names: &[String], words: &[&str], uf: Option<f64>) -> Option<bool> {
    let rules = || mapping.electrolytic.iter();
    let by_name = rules().find(|(of, _)| names.contains(of));
    let by_text = || rules().find(|(of, _)| words.iter().any(|word| word.contains(of.as_str())));
    let by_value = || rules().find(|(of, _)| uf.is_some_and(|uf| in_range(of, uf)));
    by_name.or_else(by_text).or_else(by_value).map(|(_, answer)| *answer).or(mapping.unsaid_are_electrolytic)
}

/// `< 10 uF`, `>= 1 µF`
fn in_range(range: &str, uf: f64) -> bool {
    let range = range.trim();
    let figure = range.trim_start_matches(['<', '>', '=', ' ']);
    let Some(limit) = capacitance::read(figure, &Column::dot()).value() else { return false };
    match range[..range.len() - figure.len()].trim() {
        "<" => uf < limit,
        "<=" => uf <= limit,
        ">" => uf > limit,
        ">=" => uf >= limit,
        _ => false,
    }
}

/// Whether nothing says that the ESR in a board's list is the maker's: no word in its header, and no figure beside it that only data
/// sheets have. People who list a board write down what they measured.
pub(super) fn esr_is_open(header: &[String], has: &dyn Fn(Field) -> bool) -> bool {
    let esr = header.iter().filter(|name| heads_esr(name)).map(|name| name.to_lowercase());
    let said = esr.into_iter().any(|name| list("of the maker").any(|word| name.contains(word)));
    let sheets = [Field::Ripple, Field::Endurance, Field::PartNumber, Field::Maker, Field::Series, Field::MeasuredEsr];
    !said && !sheets.into_iter().any(has)
}

/// Whether a header is that of the ESR, which nothing says was measured.
fn heads_esr(name: &str) -> bool {
    let measured = naming::of_machine(name) || is_of_another(&plain(name));
    !measured && named(name, Target::Positions).is_some_and(|(of, _)| of == Field::Esr)
}

/// Asks whose the ESR of a board's list is.
pub(super) fn whose_esr(questions: &mut Questions, mapping: &Mapping, table: &Table) {
    let has = |field| mapping.has(field);
    if has(Field::Esr) || !esr_is_open(&table.header, &has) {
        return;
    }
    let Some(at) = table.header.iter().position(|name| heads_esr(name)) else { return };
    let name = &table.header[at];
    for row in table.rows.iter().filter(|row| !is_nothing(&row.cells[at])) {
        let what = "was this ESR measured on the parts, or is it the maker's?";
        questions.ask(name, what, &row.cells[at], row.line, || {
            [("measured", Field::MeasuredEsr), ("the maker's", Field::Esr)]
                .map(|(label, field)| Choice::new(label, Answer::means(name, Some(field))))
                .into()
        });
    }
}

/// Asks which of two columns of capacitances or rated voltages counts, where both are filled and say different things.
pub(super) fn which_of_two(questions: &mut Questions, mapping: &Mapping, table: &Table, target: Target) {
    type Kind = (&'static [Field], fn(&str) -> bool, fn(&str, &Column) -> Reading<f64>);
    const KINDS: [Kind; 2] = [
        (&[Field::Capacitance, Field::Value], is_capacitance, capacitance::read),
        (&[Field::RatedV], is_voltage, voltage::read),
    ];
    let meaning = |at: usize| mapping.column(&table.header[at]).copied().unwrap_or_default();
    let all = 0..table.header.len();
    let unused = |at: &usize| meaning(*at).field.is_none() && meaning(*at).set_aside.is_none();
    for (at, (fields, is_figure, read)) in all.clone().filter(unused).flat_map(|at| KINDS.map(|kind| (at, kind))) {
        let name = &table.header[at];
        let of_kind = |field: Field| fields.contains(&field);
        let alike = || {
            named(name, target).is_some_and(|(field, _)| of_kind(field))
                || share(&samples(table, at), is_figure) >= 0.8 && !is_of_another(&plain(name))
        };
        let Some(used) = all.clone().find(|&at| meaning(at).field.is_some_and(of_kind)).filter(|_| alike()) else {
            continue;
        };
        let other = &table.header[used];
        // A bare number beside one with a unit may be the same in another unit.
        let figure = |cell: &str| match read(cell, &Column::default()) {
            _ if is_number(cell) => number::read(cell, &Column::default()).possible().first().map(|&bare| (true, bare)),
            Reading::Value(value) => Some((false, value)),
            _ => None,
        };
        let differ = |row: &&Row| {
            let both =
                row.cells.get(at).and_then(|cell| figure(cell)).zip(row.cells.get(used).and_then(|cell| figure(cell)));
            both.is_some_and(|(a, b)| a.0 == b.0 && a.1 != b.1)
        };
        for row in table.rows.iter().filter(differ) {
            let what = format!("this column and {other} say different things: which one counts?");
            questions.ask(name, &what, &format!("{} | {}", row.cells[at], row.cells[used]), row.line, || {
                let aside = |name: &str| Answer::at(["columns", name, "set_aside"], true);
                let chosen = Answer::means(name, meaning(used).field).and(aside(other));
                vec![Choice::new(other, aside(name)), Choice::new(name, chosen)]
            });
        }
    }
}

/// Asks which of several boards a list is read as.
pub(super) fn boards(questions: &mut Questions, column: &str, names: &[String], cell: &str, line: usize) {
    const NAMED_MOST: usize = 12;
    let what = "does this column name the board a row is about?";
    questions.ask(column, what, cell, line, || {
        let answer = |column: &str, only: Option<&String>| {
            Answer::at(["boards"], column).and(Answer::at(["only_board"], only.cloned()))
        };
        let each = Choice::new("yes, each is a board of its own", answer(column, None));
        let only = names.iter().take(NAMED_MOST);
        let only = only.map(|name| Choice::new(format!("read only {name}"), answer(column, Some(name))));
        let none = Choice::new("no", answer("", None));
        std::iter::once(each).chain(only).chain([none]).collect()
    });
}

/// Asks what the cells of a table of two axes are.
pub(super) fn meaning(questions: &mut Questions, line: usize, cell: &str) {
    questions.ask(CELLS, "what do the cells of this table mean?", cell, line, || {
        [Field::Ripple, Field::Esr, Field::Size, Field::PartNumber, Field::TanDelta]
            .map(|field| Choice::new(field.label(), Answer::means(CELLS, Some(field))))
            .into()
    });
}

/// Conditions without which a figure cannot be used: asked once for the column.
pub(super) fn conditions(questions: &mut Questions, columns: &Columns, cells: &[String], can: &Can, line: usize) {
    let column = |field| {
        let filled = |column: &&Prepared| cells.get(column.at).is_some_and(|cell| !is_nothing(cell.trim()));
        let used = columns.of_field(field).find(filled).or_else(|| columns.of_field(field).next());
        used.map_or_else(String::new, |column| column.header.clone())
    };
    let cell = |field| columns.text(cells, field).unwrap_or_default().to_owned();
    let at = |name: &str, header: String, said: &[(f64, String)]| {
        let usual = [(100.0, "100 Hz"), (120.0, "120 Hz"), (100e3, "100 kHz")];
        let said = said.iter().map(|(hz, text)| (*hz, format!("{}, as the text says: {text}", frequency::print(*hz))));
        let all: Vec<(f64, String)> = said.chain(usual.map(|(hz, label)| (hz, label.to_owned()))).collect();
        let name = name.to_owned();
        move || -> Vec<Choice> {
            let first = |(at, (hz, _)): &(usize, &(f64, String))| all[..*at].iter().all(|(before, _)| before != hz);
            let answer = |hz: f64| match header.as_str() {
                "" => Answer::every_row(&name, hz),
                header => Answer::at(["columns", header, "hz"], hz),
            };
            let choice = |(_, (hz, label)): (usize, &(f64, String))| Choice::new(label, answer(*hz));
            all.iter().enumerate().filter(first).map(choice).collect()
        }
    };
    if can.ripple_a.is_some() && can.ripple_hz.is_none() {
        let header = column(Field::Ripple);
        let what = "frequency of the ripple current; until it is given the ripple is unknown";
        questions.ask(&header, what, &cell(Field::Ripple), line, at("ripple_hz", header.clone(), &columns.ripple_hz));
    }
    if can.esr_mohm.is_some() && can.esr_hz.is_none() {
        let header = column(Field::Esr);
        let what = "frequency of the ESR; until it is given the ESR is unknown";
        questions.ask(&header, what, &cell(Field::Esr), line, at("esr_hz", header.clone(), &[]));
    }
}

/// What stands over the table about all its parts is offered for every row that does not say it itself.
pub(super) fn title(
    questions: &mut Questions,
    columns: &Columns,
    mapping: &Mapping,
    parts: &[(u64, Part)],
    table: &Table,
) {
    // A sheet's own endurance is asked about in `sheet`.
    if parts.is_empty() || table.found.layout == Layout::Printed {
        return;
    }
    for note in &table.preamble {
        let found = text::find(&note.text, &Column::default());
        if let Reading::Ambiguous { options, .. } = &found.endurance
            && columns.of_field(Field::Endurance).next().is_none()
        {
            endurances(questions, parts, options, (note.line, &note.text));
        }
        let life = found.endurance.value();
        let upper = life.and_then(|life| life.temp_c).or(found.temperature.value().map(|range| range.max_c));
        let of_life = life.map(|life| ("endurance_h", Field::Endurance, endurance::print(&life), life.hours));
        let of_upper = upper.map(|temp_c| ("temp_max_c", Field::TempMax, temperature::print(temp_c), temp_c));
        for (name, field, shown, value) in [of_life, of_upper].into_iter().flatten() {
            let told = columns.of_field(field).next().is_some()
                || mapping.every_row.numbers.contains_key(name)
                || parts.iter().all(|(_, part)| has_number(&part.can, name));
            if told {
                continue;
            }
            let what = format!("the text over the table says {shown}: is that the {} of every row?", field.label());
            questions.ask("", &what, &note.text, note.line, || Choice::yes(Answer::every_row(name, value)));
        }
    }
}

/// Several endurances are those of cans of different sizes: asked for each diameter of the rows that have none.
fn endurances(questions: &mut Questions, parts: &[(u64, Part)], lives: &[Endurance], (line, text): (usize, &str)) {
    let open = parts.iter().filter(|(_, part)| part.can.endurance_h.is_none());
    let mut diameters: Vec<Option<f64>> = open.map(|(_, part)| part.can.diameter_mm).collect();
    diameters.sort_by(|a, b| a.partial_cmp(b).unwrap_or(std::cmp::Ordering::Equal));
    diameters.dedup();
    let single = diameters.len() == 1;
    for diameter in diameters {
        let what = match diameter {
            Some(mm) if !single => format!("which endurance holds for the cans of {mm} mm?"),
            _ => "which endurance holds for the rows?".to_owned(),
        };
        questions.ask("", &what, text, line, || {
            let answer = |life: &Endurance| match diameter {
                Some(mm) if !single => Answer::at(["endurance_h", &mm.to_string()], life.hours),
                _ => Answer::every_row("endurance_h", life.hours),
            };
            let of = |life: &Endurance| Choice::new(endurance::print(life), answer(life));
            lives.iter().map(of).collect()
        });
    }
}

/// What a data sheet says beside its lists is asked about once: multipliers by frequency, and what its endurance test applied.
pub(super) fn sheet(questions: &mut Questions, mapping: &Mapping, parts: &[(u64, Part)], table: &Table) {
    let Some((line, _)) = parts.first().filter(|_| table.found.layout == Layout::Printed) else { return };
    let line = usize::try_from(*line).unwrap_or(1);
    let column = table.header.iter().position(|name| name == FROM_SHEET);
    let factors = column.and_then(|at| table.rows.iter().find_map(|row| row.cells.get(at).filter(|c| !c.is_empty())));
    if let Some(factors) = factors.filter(|_| mapping.from_sheet.is_none()) {
        let what = "the sheet has a table of ripple multipliers by frequency: does it hold for these parts?";
        questions.ask_of(parts.len(), ("", what), factors, line, || Choice::yes_or_no(["from_sheet"], ["yes", "no"]));
    }
    let lives: Vec<_> = table
        .preamble
        .iter()
        .filter(|note| note.text.starts_with(LIFE))
        .filter_map(|note| text::find(&note.text, &Column::default()).endurance.value())
        .collect();
    let lacks = |name: &str| {
        !mapping.every_row.numbers.contains_key(name) && parts.iter().any(|(_, part)| !has_number(&part.can, name))
    };
    if !lives.is_empty() && lacks("endurance_h") {
        let shown: Vec<String> = lives.iter().map(endurance::print).collect();
        let what = "which endurance of the sheet holds for the rows?";
        questions.ask_of(parts.len(), ("", what), &shown.join("; "), line, || {
            let by_row = table.header.iter().any(|name| name == BY_ROW);
            let by_row = by_row.then(|| {
                let answer = Answer::means(BY_ROW, Some(Field::Endurance));
                Choice::new("each row that of its footnote mark or diameter", answer)
            });
            let of = |life| Choice::new(endurance::print(life), Answer::every_row("endurance_h", life.hours));
            by_row.into_iter().chain(lives.iter().map(of)).collect()
        });
    }
    let upper = lives.iter().filter_map(|life| life.temp_c).reduce(f64::max);
    if let Some(upper) = upper.filter(|_| lacks("temp_max_c")) {
        let what = "the sheet's endurance holds at this temperature: is it the upper temperature of every row?";
        let yes = || Choice::yes(Answer::every_row("temp_max_c", upper));
        questions.ask_of(parts.len(), ("", what), &temperature::print(upper), line, yes);
    }
    let lacks_basis = |(_, part): &&(u64, Part)| part.can.endurance_h.is_some() && part.can.endurance_basis.is_none();
    if let Some((_, part)) = parts.iter().find(lacks_basis) {
        let shown = part.can.endurance_h.map_or_else(String::new, |hours| format!("{hours} h"));
        questions.ask("", "what did the endurance test apply?", &shown, line, || {
            [("ripple", "voltage and rated ripple current"), ("voltage", "voltage only")]
                .map(|(basis, label)| Choice::new(label, Answer::at(["every_row", "endurance_basis"], basis)))
                .into()
        });
    }
}
