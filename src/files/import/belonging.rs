//! Whether a row is an aluminium electrolytic, and what says so.

use super::figures::RowFigures;
use super::words::{Kind, kind};
use crate::domain::Technology;

/// Capacitance from which a capacitor whose kind nothing says can only be an electrolytic, µF: film and ceramic end far below at the
/// voltages boards use (common practice, no source).
const SURELY_UF: f64 = 100.0;
/// Capacitance below which such a capacitor is skipped, µF: nearly all of them are ceramic or film (common practice, no source).
const HARDLY_UF: f64 = 1.0;

/// What becomes of a row.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Belonging {
    /// Ours; the remark says what is not certain.
    Keep { technology: Option<Technology>, remark: Option<&'static str> },
    /// Not ours: group and reason.
    Aside { group: &'static str, reason: String },
    /// Nothing says; a person has to.
    Ask,
}

/// Remark on rows kept although only the symbol speaks.
pub(super) const BY_SYMBOL: &str =
    "polarised by their symbol, the technology is not said: a tantalum would look the same";
/// Remark on rows kept by their value.
pub(super) const BY_VALUE: &str =
    "nothing says what kind they are; taken as electrolytics because they have 100 µF or more";
/// Remark on rows kept by the whole file.
pub(super) const BY_FILE: &str = "nothing in the row says what kind they are; the file does";

/// Remark on rows whose technology a title gives.
pub(super) const BY_TITLE: &str = "the technology is the one of the title over the table";

/// Remark on rows kept because the list is about nothing else.
pub(super) const BY_LIST: &str = "a bare list of capacitors with voltages: taken as electrolytics";

/// What a file says about all its rows.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct FileSays {
    /// Title, file name or columns are those of electrolytics.
    pub electrolytic: bool,
    /// The technology for rows without one.
    pub technology: Option<Technology>,
    /// A bare list of capacitors with voltages and nothing else.
    pub bare: bool,
    /// The technology is that of a title, not the person's word.
    pub titled: bool,
    /// The person's answer.
    pub unsaid: Option<bool>,
}

pub(super) fn belonging(words: &[&str], figures: &RowFigures, file: FileSays) -> Belonging {
    let keep =
        |technology: Option<Technology>, remark| Belonging::Keep { technology: technology.or(file.technology), remark };
    let aside = |group, reason: &str| Belonging::Aside { group, reason: reason.to_owned() };
    let uf = figures.can.capacitance_uf;
    match kind(words) {
        Kind::Other { name, word } => aside(name, &format!("{name} (`{word}`)")),
        Kind::Ours { technology, .. } => keep(technology, None),
        Kind::Unpolarised { .. } if file.technology == Some(Technology::NonPolar) => keep(None, None),
        // `22uF NP` is a bipolar electrolytic or film: nothing below a microfarad is worth the question. `Unpolarized capacitor` is
        // what libraries call the symbol of every ceramic.
        Kind::Unpolarised { word }
            if word != "unpolar" && file.unsaid != Some(false) && uf.is_some_and(|uf| uf >= HARDLY_UF) =>
        {
            let listed = file.bare && word == "np";
            let ours = file.electrolytic || listed || file.unsaid == Some(true);
            let remark = (listed && file.unsaid.is_none()).then_some(BY_LIST);
            if ours { keep(Some(Technology::NonPolar), remark) } else { Belonging::Ask }
        }
        Kind::Unpolarised { word } => {
            let group = "not polarised by its symbol";
            aside(group, &format!("{group} (`{word}`), and nothing says that it is a bipolar electrolytic"))
        }
        Kind::Unsaid | Kind::Polarised { .. } if is_supercapacitor(figures) => {
            let why = "nothing says what kind it is, and only supercapacitors have so much at so low a voltage";
            aside("supercapacitor", why)
        }
        Kind::Polarised { .. } => keep(None, (!file.electrolytic).then_some(BY_SYMBOL)),
        Kind::Unsaid if file.technology.is_some() || file.unsaid == Some(true) => {
            keep(None, file.titled.then_some(BY_TITLE))
        }
        Kind::Unsaid if file.electrolytic => keep(None, Some(BY_FILE)),
        Kind::Unsaid if file.bare && uf.is_some_and(|uf| uf >= HARDLY_UF) => keep(None, Some(BY_LIST)),
        Kind::Unsaid if is_round_can(words, figures) => keep(None, None),
        Kind::Unsaid => match uf {
            Some(uf) if uf >= SURELY_UF => keep(None, Some(BY_VALUE)),
            Some(uf) if uf < HARDLY_UF => {
                let why = "nothing says what kind of capacitor it is, and below 1 µF it is hardly an electrolytic";
                aside("kind not said, below 1 µF", why)
            }
            _ if file.unsaid == Some(false) => aside("kind not said", "nothing says what kind of capacitor it is"),
            _ => Belonging::Ask,
        },
    }
}

/// What only double-layer capacitors have (common practice, no source): two farads and more; a hundredth of a farad and more at
/// the voltages of their cells, or with an upper temperature below those of electrolytics and at most 12 V.
fn is_supercapacitor(figures: &RowFigures) -> bool {
    let can = &figures.can;
    let Some(uf) = can.capacitance_uf else { return false };
    let at_most = |limit: f64| can.rated_v.is_some_and(|volts| volts <= limit);
    let cell = at_most(5.5) && !at_most(2.0);
    let cool = can.temp_max_c.is_some_and(|max_c| max_c <= 70.0) && at_most(12.0);
    uf >= 2e6 || (uf >= 1e4 && (cell || cool))
}

/// A written diameter with a height, or a diameter in a case for surface mounting: chips have none, discs say that they are discs.
fn is_round_can(words: &[&str], figures: &RowFigures) -> bool {
    let disc = words.iter().any(|word| word.to_lowercase().contains("disc"));
    let smd = super::words::mounting(words) == Some(crate::domain::Mounting::Smd);
    figures.round && !disc && (figures.can.height_mm.is_some() || smd)
}

/// The technology that the titles over a table agree on, hybrid or polymer: a wet one needs no title.
pub(super) fn technology_of<'a>(titles: impl Iterator<Item = &'a str>) -> Option<Technology> {
    let mut found = titles.filter_map(|title| match kind(&[title]) {
        Kind::Ours { technology: Some(technology @ (Technology::Hybrid | Technology::Polymer)), .. } => {
            Some(technology)
        }
        _ => None,
    });
    let first = found.next()?;
    found.all(|other| other == first).then_some(first)
}

/// Whether a title says that a whole file is about aluminium electrolytics.
pub(super) fn titled(text: &str) -> bool {
    let lower = text.to_lowercase();
    let named = ["electrolyt", "elektrolyt", "elko", "电解"].iter().any(|word| lower.contains(word));
    named && matches!(kind(&[text]), Kind::Ours { .. })
}
