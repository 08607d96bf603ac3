//! Words of a row that are no quantities: family, mounting, market status, not fitted.

use std::sync::LazyLock;

use hashbrown::HashMap;

use crate::domain::{Mounting, Status, Technology};
use crate::files::cell::family::{Evidence, Family, family};
use crate::files::cell::footprint;
use crate::files::cell::unit::{Kind as UnitKind, Unit};
use crate::files::cell::words::from_each_word;
pub(super) use crate::files::cell::words::{list, says};

/// Whose a row is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Kind {
    /// An aluminium electrolytic, of this technology where it is said.
    Ours { technology: Option<Technology>, word: String },
    /// Another kind of capacitor.
    Other { name: &'static str, word: String },
    /// Not polarised by its symbol; whether it is an electrolytic is not said.
    Unpolarised { word: String },
    /// Polarised by its symbol; could be tantalum.
    Polarised { word: String },
    /// Nothing says.
    Unsaid,
}

/// The kind of capacitor the cells of a row say.
pub(super) fn kind(cells: &[&str]) -> Kind {
    let Some(found) = family(cells) else {
        return cells.iter().find_map(|cell| by_case(cell)).unwrap_or(Kind::Unsaid);
    };
    let word = found.word;
    let other = |name| Kind::Other { name, word: word.clone() };
    let ours = |technology| Kind::Ours { technology, word: word.clone() };
    match (found.family, found.evidence) {
        (Family::Supercapacitor, _) => other("supercapacitor"),
        (Family::Tantalum, _) => other("tantalum"),
        (Family::Niobium, _) => other("niobium"),
        (Family::Film, _) => other("film"),
        (Family::Ceramic, _) => other("ceramic"),
        (Family::Mica, _) => other("mica"),
        (Family::Hybrid, _) => ours(Some(Technology::Hybrid)),
        (Family::Polymer, _) => ours(Some(Technology::Polymer)),
        (Family::NonPolar, Evidence::Word) => ours(Some(Technology::NonPolar)),
        (Family::WetAluminium, Evidence::Word) => ours(Some(Technology::Wet)),
        (Family::NonPolar | Family::WetAluminium, Evidence::Habit) => ours(None),
        // A symbol says less than a case: `CPOL-US` in a chip case, or in a round one.
        (Family::Polarised, _) => cells
            .iter()
            .find_map(|cell| by_case(cell))
            .or_else(|| lettered_smd_can(cells).map(|cell| Kind::Ours { technology: None, word: cell.to_owned() }))
            .unwrap_or(Kind::Polarised { word }),
        (Family::Unpolarised, _) => cells.iter().find_map(|cell| by_case(cell)).unwrap_or(Kind::Unpolarised { word }),
    }
}

/// What the short word of a column of types stands for: `EL`, `BP`.
pub(super) fn type_code(cell: &str) -> Option<&'static str> {
    static CODES: LazyLock<HashMap<&str, &str>> = LazyLock::new(|| {
        let lines = include_str!("type_codes.txt").lines().filter(|line| !line.starts_with('#'));
        lines.filter_map(|line| line.split_once(' ')).collect()
    });
    let plain: String = cell.to_lowercase().chars().filter(|c| c.is_alphanumeric()).collect();
    CODES.get(plain.as_str()).copied()
}

/// A word that may be two kinds: `POLY` is polymer or polyester.
pub(super) fn open_word<'a>(cells: &[&'a str]) -> Option<&'a str> {
    let words = cells.iter().flat_map(|cell| cell.split(|c: char| !c.is_alphanumeric()));
    words.into_iter().find(|word| word.eq_ignore_ascii_case("poly"))
}

/// Whether a header may be that of a column of boards, machines or assemblies.
pub(super) fn heads_boards(header: &str) -> bool {
    is_of_boards("boards", header)
}

/// The same by a name that heads nothing else.
pub(super) fn surely_heads_boards(header: &str) -> bool {
    is_of_boards("boards, surely", header)
}

fn is_of_boards(words: &str, header: &str) -> bool {
    let name = header.to_lowercase();
    let name = name.trim_end_matches([' ', '.', ':']).trim_end_matches(" name").trim_end_matches(" no");
    says(words, name)
}

/// How many capacitors or sections a text counts in front of the capacitance: `2x 4700µ`, `2 x 50 mfd`.
pub(super) fn times(text: &str) -> Option<usize> {
    let (count, rest) = text.split_once(['x', 'X', '×', '*'])?;
    let count = count.trim_end();
    let digit = count.chars().next_back().filter(|c| ('2'..='9').contains(c))?;
    let alone = !count[..count.len() - 1].ends_with(|c: char| c.is_alphanumeric() || matches!(c, '.' | ','));
    let figure = rest.trim_start().trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | ','));
    // Behind `5x11`, `P2` is a lead spacing.
    let unit = figure.trim_start().split(|c: char| !c.is_alphanumeric()).next()?;
    let of_capacitance = Unit::parse(unit).is_some_and(|unit| unit.kind() == UnitKind::Capacitance);
    let figure_there = rest.trim_start().starts_with(|c: char| c.is_ascii_digit());
    (alone && figure_there && of_capacitance).then_some(digit as usize - '0' as usize)
}

/// Whether a header is that of a column of shelves and drawers.
pub(super) fn heads_places(header: &str) -> bool {
    says("places", header.trim_end_matches(|c: char| !c.is_alphabetic()))
}

/// Whether a cell is nothing but a word for a kind of capacitor.
pub(super) fn is_type(cell: &str) -> bool {
    const WORDS_MOST: usize = 3;
    let short = cell.split_whitespace().count() <= WORDS_MOST && !cell.contains(|c: char| c.is_ascii_digit());
    type_code(cell).is_some() || (short && kind(&[cell]) != Kind::Unsaid)
}

/// The kind of capacitor that a heading among the rows says: a few words that name one, `Non polarized capacitors`.
pub(super) fn heading(cells: &[String]) -> Option<String> {
    const WORDS_MOST: usize = 6;
    let text = cells.iter().map(|cell| cell.trim()).find(|cell| !cell.is_empty())?;
    let short = text.split_whitespace().count() <= WORDS_MOST;
    (short && kind(&[text]) != Kind::Unsaid).then(|| text.to_owned())
}

/// Case names that only one kind of capacitor has (common practice, no source).
fn by_case(cell: &str) -> Option<Kind> {
    let plain: String =
        cell.to_lowercase().chars().filter(|c| c.is_alphanumeric() || matches!(c, '-' | '_' | '.' | ',')).collect();
    let other = |name| Some(Kind::Other { name, word: cell.trim().to_owned() });
    let chip = plain.trim_start_matches("cap").trim_start_matches('c').trim_start_matches(['_', '-']);
    let (digits, rest) = chip.split_at(chip.len() - chip.trim_start_matches(|c: char| c.is_ascii_digit()).len());
    let ends = rest.is_empty() || rest.starts_with(['_', '-', 'm', 'n', 'l']) || rest == "k";
    if ends && list("sizes of chips").any(|size| size == digits) {
        return other("chip (ceramic or tantalum)");
    }
    // `C050-025X075`: lead spacing and the sides of a box, in tenths of a millimetre.
    let tenths = |text: &str| text.len() == 3 && text.bytes().all(|c| c.is_ascii_digit());
    let sides = plain.strip_prefix('c').and_then(|rest| rest.split_once('-')).filter(|(pitch, _)| tenths(pitch));
    if sides.and_then(|(_, sides)| sides.split_once('x')).is_some_and(|(a, b)| tenths(a) && tenths(b)) {
        return other("box (film or ceramic)");
    }
    if list("cases of tantalum").any(|case| case == plain) {
        return other("tantalum");
    }
    // `Radial_D5.0mm`: the diameter tells, the word alone is said of film and ceramic, too.
    let diameter = |rest: &str| {
        let rest = rest.trim_start_matches(['_', '-', ',']);
        rest.strip_prefix('d').is_some_and(|figure| figure.starts_with(|c: char| c.is_ascii_digit()))
    };
    let radial = plain.split_once("radial").is_some_and(|(_, rest)| diameter(rest)) && !plain.contains("disc");
    // `E5-10,5`: lead spacing and diameter behind the letter of the electrolytics.
    let lettered = plain.starts_with('e') && footprint::read(&plain).is_some();
    let ours = radial || lettered || coded_smd_can(cell);
    ours.then(|| Kind::Ours { technology: None, word: cell.trim().to_owned() })
}

/// SMD cans of board libraries named by a series and the size: `123ABC-0605`, two digits of diameter and two of height
/// (common practice of board libraries, no source).
fn coded_smd_can(cell: &str) -> bool {
    let cell = cell.trim().as_bytes();
    let [a @ .., b'-', _, _, _, _] = cell else { return false };
    let size = &cell[cell.len() - 4..];
    a.len() == 6
        && a[..3].iter().all(u8::is_ascii_digit)
        && a[3..].iter().all(u8::is_ascii_alphabetic)
        && size.iter().all(u8::is_ascii_digit)
}

/// The cell with an SMD can of a board library named by a maker and a letter for the size, `NORTHWAY_B`, in a row whose symbol
/// is that of a polarised capacitor (common practice of board libraries, no source). Tantalum cases are told before.
fn lettered_smd_can<'a>(cells: &[&'a str]) -> Option<&'a str> {
    let symbol = |cell: &&str| {
        let lower = cell.trim().to_ascii_lowercase();
        ["cpol", "c-pol", "cap_pol", "cap-pol"].iter().any(|begins| lower.starts_with(begins))
    };
    let case = |cell: &&str| {
        cell.trim().split_once('_').is_some_and(|(maker, size)| {
            let letter = size.as_bytes().first().is_some_and(|c| (b'A'..=b'K').contains(&c.to_ascii_uppercase()));
            let rest = size.get(1..).is_some_and(|rest| rest.len() <= 1 && rest.bytes().all(|c| c.is_ascii_digit()));
            maker.len() >= 5 && maker.bytes().all(|c| c.is_ascii_alphabetic()) && letter && rest
        })
    };
    cells.iter().any(symbol).then(|| cells.iter().copied().find(case))?.map(str::trim)
}

/// How the words of a row say the part is fixed; `None` when they do not or contradict each other.
pub(super) fn mounting(cells: &[&str]) -> Option<Mounting> {
    let text = format!(" {} ", cells.join("  ").to_lowercase());
    let spaced: String = text.chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect();
    let smd =
        cells.iter().any(|cell| coded_smd_can(cell)) || lettered_smd_can(cells).is_some() || text.contains("贴片");
    let stands = |word: &str, text: &str| match word.strip_suffix('$') {
        Some(word) => text.strip_prefix(word).is_some_and(|behind| behind.starts_with(' ')),
        None => text.starts_with(word),
    };
    let says = |list_of: &str| list(list_of).any(|word| from_each_word(&spaced).any(|text| stands(word, text)));
    let found = [
        (Mounting::SnapIn, says("snap-in")),
        (Mounting::Screw, says("screw")),
        (Mounting::Axial, says("axial")),
        (Mounting::Smd, says("smd") || smd),
        (Mounting::Radial, says("radial")),
    ];
    let mut said = found.into_iter().filter(|(_, said)| *said).map(|(mounting, _)| mounting);
    let first = said.next()?;
    // "Radial, Can - Snap-In" and "Radial, Can - SMD" name the construction and then the mounting.
    match (first, said.next(), said.next()) {
        (mounting, None | Some(Mounting::Radial), None) => Some(mounting),
        _ => None,
    }
}

/// What a remark says of the market status: only an end of production, since "active" may be anything there.
pub(super) fn status_in_remark(cell: &str) -> Option<Status> {
    first_status(cell, &[("obsolete", Status::Obsolete), ("not for new", Status::Nrnd)])
}

/// Market status that a cell of its own column says. `Not active` is no production, and what it is instead it does not say.
pub(super) fn status(cell: &str) -> Option<Status> {
    let more = [("obsolete, in its column", Status::Obsolete), ("not for new, in its column", Status::Nrnd)];
    let negated = || cell.split(|c: char| !c.is_alphanumeric()).any(|word| says("negations", word));
    let produced = || first_status(cell, &[("in production", Status::Active)]).filter(|_| !negated());
    status_in_remark(cell).or_else(|| first_status(cell, &more)).or_else(produced)
}

fn first_status(cell: &str, of: &[(&str, Status)]) -> Option<Status> {
    let text = cell.to_lowercase();
    of.iter().find(|(name, _)| list(name).any(|word| text.contains(word))).map(|(_, status)| *status)
}

/// The word that says a position is left empty.
pub(super) fn not_fitted(cells: &[&str]) -> Option<&'static str> {
    let spaced = |cell: &str| {
        let words: Vec<String> = cell
            .to_lowercase()
            .split(|c: char| !c.is_alphanumeric())
            .filter(|w| !w.is_empty())
            .map(str::to_owned)
            .collect();
        words.join(" ")
    };
    let figure = |cell: &str| cell.ends_with(|c: char| c.is_ascii_digit());
    for cell in cells.iter().map(|cell| cell.trim()).filter(|cell| !cell.is_empty()) {
        let words = spaced(cell);
        // `100 NF` is a capacitance.
        let last = |mark: &&str| match words.strip_suffix(mark) {
            Some("") => cell != "nF",
            // A relay's contacts are NO and NC.
            Some(rest) => rest.ends_with(' ') && !figure(rest.trim_end()) && !rest.ends_with(" no "),
            None => false,
        };
        let anywhere = |mark: &&str| format!(" {words} ").contains(&format!(" {mark} "));
        if let Some(mark) = list("not fitted").find(anywhere).or_else(|| list("not fitted, last").find(last)) {
            return Some(mark);
        }
    }
    None
}

/// What a short word in capitals among the figures of a text stands for: `CAP, EL, 22UF, 100V`, `KER 100n`.
pub(super) fn code_in(text: &str) -> Option<&'static str> {
    // Ambient temperature and a symbol of polarity are written so, too.
    const OTHERS: [&str; 3] = ["TA", "AL", "NP"];
    let words = text.split(|c: char| !c.is_alphanumeric()).filter(|word| word.len() > 1 && !OTHERS.contains(word));
    let mut words = words.filter(|word| word.bytes().all(|c| c.is_ascii_uppercase()));
    text.contains(|c: char| c.is_ascii_digit()).then(|| words.find_map(type_code)).flatten()
}

#[cfg(test)]
#[path = "../../../tests/within/import_words.rs"]
mod tests;
