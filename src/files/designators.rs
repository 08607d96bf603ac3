//! Reference designators as parts lists write them: lists, ranges, prefixes of sheets and panels, and the marks for "not numbered yet".
//!
//! `C1,C2`, `C1 C2`, `C1-C4`, `C5..C9`, `C1-4`, `FUZZ1:C1`, `C_S4A1`, `CE405`, `Cboot`, `U$2`, `C221/C47`, `C?`.

use std::collections::HashSet;

use super::cell::{clean, words};

/// Most designators from one cell; real ones hold a few hundred.
pub const MOST: usize = 10_000;
/// Longest cell read, in bytes.
pub const LONGEST_CELL: usize = 200_000;

/// Whether a word stands between the first and the last of a range.
pub(crate) fn is_range(word: &str) -> bool {
    words::list("to").any(|known| known == word)
}

/// Whether a word stands between two names of a list.
pub(crate) fn is_and(word: &str) -> bool {
    words::list("and").any(|known| known == word)
}

/// The designators of one cell.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Designators {
    /// In the order written, ranges expanded, each once.
    pub refs: Vec<String>,
    /// How many stand without a number (`C?`, `??`): positions that exist and have no name yet.
    pub unnumbered: usize,
    /// What stands between designators and is none: `a`, `C1§`; nobody knows what it means.
    pub unclear: Vec<String>,
    /// What the person should know: assumed ranges, repetitions, what could not be read.
    pub notes: Vec<String>,
}

impl Designators {
    /// How many positions the cell names.
    pub fn count(&self) -> usize {
        self.refs.len() + self.unnumbered
    }
}

/// Whether a designator is one of a capacitor; `None` when it does not say.
pub fn is_capacitor(name: &str) -> Option<bool> {
    // Letters that begin like a capacitor's and are none.
    const OTHERS: [&str; 12] =
        ["CN", "CON", "CONN", "CR", "CLK", "CPU", "CARD", "CNN", "CONNECTOR", "CT", "CRY", "COMP"];
    let last = own(name);
    let letters: String = last.chars().take_while(char::is_ascii_alphabetic).collect();
    let rest = &last[letters.len()..];
    if letters.is_empty() || rest.starts_with('$') {
        return None;
    }
    let upper = letters.to_uppercase();
    Some(
        !OTHERS.contains(&upper.as_str())
            && (upper.starts_with('C') || matches!(upper.as_str(), "EC" | "ECAP" | "ELKO" | "ELCO")),
    )
}

/// Reads a cell of designators. `quantity` is the row's count where the file has one: it settles whether `C1-4` is a range of four or the
/// name of one part; without it a range is assumed and noted.
pub fn read(text: &str, quantity: Option<usize>) -> Designators {
    let mut list = List::default();
    if text.split([',', ' ', ';']).any(|item| item.trim_end_matches(')').ends_with(['+', '-']) && item.len() > 2) {
        let note = format!("`{text}`: a sign behind a designator is taken as the mark of a lead");
        list.found.notes.push(note);
    }
    if text.len() > LONGEST_CELL {
        list.found.notes.push(format!("a cell of {} bytes is not read", text.len()));
        return list.found;
    }
    let items = items(text);
    let lone = items.len() == 1;
    list.among_others = !lone;
    for item in &items {
        if !list.full {
            list.take(item, quantity.filter(|_| lone));
        }
    }
    if list.full {
        list.found.notes.push(format!("more than {MOST} designators in one cell; the rest is left out"));
    }
    list.found
}

#[derive(Default)]
struct List {
    found: Designators,
    seen: HashSet<String>,
    /// There is more than one item.
    among_others: bool,
    /// There are more than are read.
    full: bool,
}

impl List {
    fn push(&mut self, name: String) {
        if self.found.count() >= MOST {
            self.full = true;
        } else if self.seen.insert(name.clone()) {
            self.found.refs.push(name);
        } else {
            self.found.notes.push(format!("`{name}` is listed twice"));
        }
    }

    fn take(&mut self, item: &str, quantity: Option<usize>) {
        if item.contains('?') {
            self.found.unnumbered += 1;
            return;
        }
        match range(item) {
            Some(Range { first, last, .. }) if last < first => {
                self.found.notes.push(format!("the range `{item}` does not rise; taken as a name"));
                self.push(item.to_string());
            }
            Some(Range { first, last, .. }) if last - first >= MOST as u64 => {
                self.found.notes.push(format!("the range `{item}` has more than {MOST} members; taken as a name"));
                self.push(item.to_string());
            }
            // `C1-4`: one part or four? The quantity decides.
            Some(Range { first, last, short: true, .. }) if quantity == Some(1) && last > first => {
                self.push(item.to_string());
            }
            Some(Range { prefix, first, last, width, short }) => {
                if short && quantity != usize::try_from(last - first + 1).ok() {
                    self.found.notes.push(format!("`{item}` is taken as a range"));
                }
                (first..=last).for_each(|number| self.push(format!("{prefix}{number:0width$}")));
            }
            None => self.name(item),
        }
    }

    fn name(&mut self, item: &str) {
        if let Some(names) = slashed(item) {
            self.found.notes.push(format!("`{item}` is taken as {} designators", names.len()));
            names.into_iter().for_each(|name| self.push(name));
            return;
        }
        let odd = |c: char| !(c.is_alphanumeric() || "_$-.:/#*'()[]".contains(c));
        let word = item.len() <= 3 && item.chars().all(char::is_lowercase) && self.among_others;
        if word || item.contains(odd) && item.chars().any(char::is_alphanumeric) {
            return self.found.unclear.push(item.to_owned());
        }
        if !item.chars().any(char::is_alphanumeric) {
            self.found.notes.push(format!("`{item}` is no designator"));
            return;
        }
        if item.chars().all(|c| c.is_ascii_digit()) {
            // `C105,106`: the second belongs to the first where it goes on counting.
            let before = self.found.refs.last().and_then(|last| trailing_number(last));
            if let Some((prefix, number)) = before.filter(|(prefix, _)| !prefix.is_empty())
                && let (Ok(first), Ok(next)) = (number.parse::<u64>(), item.parse::<u64>())
                && next > first
                && item.len() >= number.len()
            {
                let name = format!("{prefix}{item}");
                self.found.notes.push(format!("`{item}` behind `{prefix}{number}` is taken as {name}"));
                self.push(name);
                return;
            }
            self.found.notes.push(format!("`{item}` is a bare number, taken as a designator"));
        }
        self.push(item.to_string());
    }
}

/// The cell split at list separators, with ranges that were written with blanks pulled together.
fn items(text: &str) -> Vec<String> {
    let spelled: String = text
        .chars()
        .map(|c| match c {
            '–' | '—' | '‐' | '‑' | '−' => '-',
            '～' | '∼' | '÷' => '~',
            '，' | '、' | '；' => ',',
            // The letter of another alphabet that looks the same.
            'С' => 'C',
            c if c.is_control() => ' ',
            c => clean::narrow_letter(c),
        })
        .collect();
    let spelled = without_remarks(&spelled.replace('…', ".."));
    let mut items: Vec<String> = Vec::new();
    for group in spelled.split([',', ';', '|']) {
        let mut joins = false;
        for word in group.split_whitespace() {
            match word {
                word if is_and(word) => {}
                word if is_range(word) => joins = true,
                word => match items.last_mut().filter(|last| joins || word.starts_with("..") || goes_on(last, word)) {
                    Some(last) => {
                        if joins {
                            last.push_str("..");
                        }
                        last.push_str(word);
                        joins = false;
                    }
                    None => items.push(word.to_string()),
                },
            }
        }
    }
    items
        .iter()
        .flat_map(|item| item.trim_end_matches('-').split(['&', '+']))
        .filter(|item| !item.is_empty())
        .map(str::to_string)
        .collect()
}

/// Without what stands in brackets and names none: `C5-C8 (4 off)`, `C13(+)`. `C1(A)` is a name.
fn without_remarks(text: &str) -> String {
    let Some((before, (inside, behind))) =
        text.split_once('(').and_then(|(before, rest)| Some((before, rest.split_once(')')?)))
    else {
        return text.to_owned();
    };
    let counts = inside.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '+' | '-' | 'x'));
    let names = inside.contains(|c: char| c.is_ascii_uppercase()) && inside.contains(|c: char| c.is_ascii_digit());
    let kept = if counts || before.ends_with(' ') && !names { String::new() } else { format!("({inside})") };
    format!("{before}{kept}{}", without_remarks(behind))
}

/// Whether a number stands apart from its letter: `C 101`.
fn goes_on(letters: &str, number: &str) -> bool {
    (1..=2).contains(&letters.len())
        && letters.bytes().all(|c| c.is_ascii_uppercase())
        && number.starts_with(|c: char| c.is_ascii_digit())
        && number.len() <= 5
}

struct Range<'a> {
    prefix: &'a str,
    first: u64,
    last: u64,
    /// Digits to write, for `C01-C10`.
    width: usize,
    /// Whether the prefix is written only once (`C1-4`).
    short: bool,
}

fn range(item: &str) -> Option<Range<'_>> {
    let (left, right) = ["...", "..", "~", "-"].into_iter().find_map(|mark| item.split_once(mark))?;
    let (prefix, first) = trailing_number(left)?;
    let (last_prefix, last) = trailing_number(right)?;
    let short = last_prefix.is_empty() && !prefix.is_empty();
    // `FUZZ1:C1-C4` repeats only the last part of the prefix.
    let same =
        last_prefix == prefix || short || (!last_prefix.is_empty() && prefix.ends_with(&format!(":{last_prefix}")));
    if !same || prefix.is_empty() {
        return None;
    }
    let width = if first.starts_with('0') { first.len() } else { 0 };
    Some(Range { prefix, first: first.parse().ok()?, last: last.parse().ok()?, width, short })
}

/// `C221/C47`, `C1/2/3`: names of one prefix, which may stand only once, are so many positions; any other slash belongs to the name (a
/// sheet path). `C1/2` may be a section of one can and stays whole.
fn slashed(item: &str) -> Option<Vec<String>> {
    let mut pieces = item.split('/');
    let (prefix, _) = pieces.next().and_then(trailing_number)?;
    let behind: Vec<(&str, &str)> = pieces.map(trailing_number).collect::<Option<_>>()?;
    let spelled = behind.iter().all(|(of, _)| *of == prefix);
    let counted = behind.len() > 1 && !prefix.is_empty() && behind.iter().all(|(of, _)| of.is_empty());
    let first = item.split('/').next().map(str::to_owned);
    let rest = behind.iter().map(|(_, number)| format!("{prefix}{number}"));
    (!behind.is_empty() && (spelled || counted)).then(|| first.into_iter().chain(rest).collect())
}

/// The designator itself behind the marks of sheet, board and assembly: `C6` of `A1C6`, `PS-C6`, `FUZZ1:C6`, `C6/A`.
pub fn own(name: &str) -> &str {
    let begins = |piece: &&str| piece.len() > 1 && piece.starts_with(|c: char| c.is_ascii_alphabetic());
    let name = name.rsplit([':', '/', '.']).find(begins).unwrap_or(name);
    let behind = |at: usize, most: usize| {
        let (letters, number) = trailing_number(&name[at..])?;
        let spelled = (1..=3).contains(&letters.len()) && letters.bytes().all(|c| c.is_ascii_alphabetic());
        (spelled && number.len() <= most).then_some(&name[at..])
    };
    if let Some((prefix, _)) = name.rsplit_once('-') {
        let board = (1..=4).contains(&prefix.len()) && prefix.bytes().all(|c| c.is_ascii_alphanumeric());
        return Some(name).filter(|_| board).and_then(|_| behind(prefix.len() + 1, 4)).unwrap_or(name);
    }
    let letters = name.bytes().take_while(u8::is_ascii_uppercase).count();
    let digits = name[letters..].bytes().take_while(u8::is_ascii_digit).count();
    // `D5L11` is a size; behind longer names a number of three digits is the code of a value.
    let assembly = (1..=3).contains(&letters) && (1..=2).contains(&digits) && !name.starts_with(['D', 'E', 'H', 'L']);
    let most = if letters == 1 { 4 } else { 2 };
    Some(letters + digits).filter(|_| assembly).and_then(|at| behind(at, most)).unwrap_or(name)
}

/// A name split before its last digits; `None` without any.
fn trailing_number(name: &str) -> Option<(&str, &str)> {
    let digits = name.bytes().rev().take_while(u8::is_ascii_digit).count();
    let at = name.len() - digits;
    (digits > 0 && digits <= 12).then(|| name.split_at(at))
}

#[cfg(test)]
#[path = "../../tests/within/designators.rs"]
mod tests;
