//! What kind of capacitor the words of a row say it is, with the word that says so.

use std::sync::LazyLock;

use hashbrown::HashMap;

use super::words::from_each_word;

/// Kinds told apart, because most of them are not what this program replaces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, strum::EnumString)]
pub enum Family {
    /// Electric double layer.
    Supercapacitor,
    /// Tantalum, solid or wet.
    Tantalum,
    /// Niobium oxide.
    Niobium,
    /// Plastic film or paper.
    Film,
    /// Ceramic.
    Ceramic,
    /// Mica.
    Mica,
    /// Polymer with liquid electrolyte.
    Hybrid,
    /// Solid polymer aluminium.
    Polymer,
    /// Bipolar aluminium electrolytic.
    NonPolar,
    /// Aluminium with liquid electrolyte.
    WetAluminium,
    /// Polarised by its symbol or prefix; the technology is not said.
    Polarised,
    /// Not polarised by its symbol; whether it is an electrolytic at all is not said.
    Unpolarised,
}

/// How far the evidence reaches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, strum::EnumString)]
pub enum Evidence {
    /// A word of the trade for exactly this kind.
    Word,
    /// A symbol, prefix or case name that is usual for this kind (common practice, no source).
    Habit,
}

/// A family and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// The kind.
    pub family: Family,
    /// How far the evidence reaches.
    pub evidence: Evidence,
    /// The text that decided, as found (in lower case).
    pub word: String,
}

/// How a rule's text must stand in the row.
#[derive(Clone, Copy, PartialEq, strum::EnumString)]
enum Stand {
    /// As whole words.
    Words,
    /// At the beginning of a word or of a run of words.
    Start,
    /// Anywhere: for scripts without blanks.
    Anywhere,
}

/// Kind, evidence and texts, the first that fits being the one: `family.txt`.
type Rule = (Family, Evidence, Stand, Vec<&'static str>);

static RULES: LazyLock<Vec<Rule>> = LazyLock::new(|| {
    let lines = include_str!("family.txt").lines().filter(|line| !line.starts_with('#'));
    let rule = |line: &'static str| {
        let (head, texts) = line.split_once(": ")?;
        let mut head = head.split(' ');
        let (family, evidence) = (head.next()?.parse().ok()?, head.next()?.parse().ok()?);
        Some((family, evidence, head.next()?.parse().ok()?, texts.split(" | ").collect()))
    };
    lines.filter_map(rule).collect()
});

/// Place of a text among the rules, its place in its rule, and the text.
type Text = (usize, usize, &'static str);

/// The texts of the rules by the letter they begin with; those that stand anywhere under none.
static BY_LETTER: LazyLock<HashMap<Option<char>, Vec<Text>>> = LazyLock::new(|| {
    let mut texts: HashMap<_, Vec<_>> = HashMap::new();
    for (rule, (_, _, stand, words)) in RULES.iter().enumerate() {
        for (at, word) in words.iter().enumerate() {
            let letter = word.chars().next().filter(|_| *stand != Stand::Anywhere);
            texts.entry(letter).or_default().push((rule, at, *word));
        }
    }
    texts
});

/// The first text that holds, of the rules of the kinds that are wanted.
fn first_of(plain: &str, wanted: &dyn Fn(Family) -> bool) -> Option<Text> {
    let wanted = |of: &&Text| wanted(RULES[of.0].0);
    let of = |letter| BY_LETTER.get(&letter).into_iter().flatten().filter(wanted).copied();
    let anywhere = of(None).find(|(.., word)| !plain.is_ascii() && plain.contains(word));
    let fits = |text, (rule, _, word): &Text| stands(text, RULES[*rule].2, word);
    let begins = from_each_word(plain).filter_map(|text| of(text.chars().next()).find(|of| fits(text, of)));
    begins.chain(anywhere).min()
}

/// The family that the cells of one row give away (description, type, value, footprint, symbol ...), or `None` if no word does.
/// Evidence of the whole row counts: a word in a later cell goes before a habit in an earlier one.
pub fn family(cells: &[&str]) -> Option<Finding> {
    // In the names of SMD cans `Elec` is the library's word for the case: polymer parts have it, too.
    let library = |cell: String| cell.replace(" cp elec ", " cpelec ").replace(" c elec ", " celec ");
    let plain: Vec<String> = cells.iter().map(|cell| library(plain(cell))).collect();
    let first = |wanted: &dyn Fn(Family) -> bool| {
        let (rule, _, word) = plain.iter().filter_map(|cell| first_of(cell, wanted)).min()?;
        let (family, evidence, ..) = RULES[rule];
        Some(Finding { family, evidence, word: word.to_owned() })
    };
    let found = first(&|_| true)?;
    // "Electrolytic capacitor, non-polarized": the electrolytic word came first, the polarity word completes it.
    if (found.family, found.evidence) == (Family::WetAluminium, Evidence::Word)
        && let Some(unpolarised) = first(&|family| family == Family::Unpolarised)
    {
        return Some(Finding { family: Family::NonPolar, evidence: Evidence::Word, ..unpolarised });
    }
    Some(found)
}

/// Lower case, everything but letters and digits one blank, blanks at both ends; at most 4000 characters.
fn plain(cell: &str) -> String {
    let mut out = String::from(" ");
    for c in cell.chars().take(4000).flat_map(char::to_lowercase) {
        if c.is_alphanumeric() {
            out.push(c);
        } else if !out.ends_with(' ') {
            out.push(' ');
        }
    }
    if !out.ends_with(' ') {
        out.push(' ');
    }
    out
}

fn stands(text: &str, stand: Stand, word: &str) -> bool {
    text.strip_prefix(word).is_some_and(|behind| stand != Stand::Words || behind.starts_with(' '))
}

#[cfg(test)]
#[path = "../../../tests/within/cell_family.rs"]
mod tests;
