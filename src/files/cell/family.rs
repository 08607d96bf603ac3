//! What kind of capacitor the words of a row say it is, with the word that says so.

/// Kinds told apart, because most of them are not what this program replaces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
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
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
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
enum Stand {
    /// As whole words.
    Words,
    /// At the beginning of a word or of a run of words.
    Start,
    /// Anywhere: for scripts without blanks.
    Anywhere,
}

use Evidence::{Habit, Word};
use Family::{
    Ceramic, Film, Hybrid, Mica, Niobium, NonPolar, Polarised, Polymer, Supercapacitor, Tantalum, Unpolarised,
    WetAluminium,
};
use Stand::{Anywhere, Start, Words};

/// In order: an earlier rule goes before a later one, so that "hybrid" inside "aluminum electrolytic hybrid" decides, and
/// "unpolarized" is met before "polarized" could be. A few words were brands once and are what people write for the family.
const RULES: &[(Family, Evidence, Stand, &[&str])] = &[
    (
        Supercapacitor,
        Word,
        Start,
        &[
            "supercap",
            "super cap",
            "ultracap",
            "ultra cap",
            "edlc",
            "double layer",
            "electric double",
            "goldcap",
            "gold cap",
            "cap super",
        ],
    ),
    (Supercapacitor, Word, Anywhere, &["超级电容", "法拉电容", "双电层"]),
    (Tantalum, Word, Start, &["tant"]),
    (Tantalum, Word, Anywhere, &["钽"]),
    (Niobium, Word, Start, &["niobium"]),
    (Hybrid, Word, Start, &["hybrid"]),
    (Hybrid, Word, Words, &["hyb"]),
    (Hybrid, Word, Anywhere, &["混合"]),
    (
        Polymer,
        Word,
        Start,
        &["polymer", "alum poly", "alu poly", "aluminum poly", "aluminium poly", "conductive poly", "solid"],
    ),
    (Polymer, Word, Anywhere, &["固态", "聚合物", "固体"]),
    // A film capacitor is bipolar by nature, and some lists say so.
    (Film, Word, Words, &["film", "mkp", "mkt", "mks", "fkp", "fks", "folie", "folienkondensator"]),
    (Film, Word, Start, &["folienk", "mks2", "mks4", "mkt1", "fks2"]),
    (NonPolar, Word, Start, &["bipol", "bi polar", "bi pol", "ungepolt"]),
    (
        NonPolar,
        Word,
        Words,
        &[
            "bp",
            "bpuf",
            "alum np",
            "alum non polar",
            "non polar electrolytic",
            "nonpolar electrolytic",
            "electrolytic non polar",
            "electrolytic nonpolar",
            "elec nonpolar",
            "elko np",
            "elko bp",
        ],
    ),
    (NonPolar, Word, Anywhere, &["双极", "无极性电解", "両極性", "無極性"]),
    (
        Film,
        Word,
        Words,
        &[
            "x1",
            "x2",
            "y1",
            "y2",
            "x1y2",
            "polyester",
            "polypropylene",
            "metallized",
            "metallised",
            "rifa",
            "paper",
            "mylar",
            "pet",
            "pps",
            "plastfilm",
            "foliowy",
            "polyesterfilm",
        ],
    ),
    (Film, Word, Anywhere, &["薄膜", "安规"]),
    (
        Ceramic,
        Word,
        Words,
        &[
            "ceramic", "cer", "cerm", "mlcc", "x7r", "x5r", "x6s", "x7s", "x7t", "x8r", "x5s", "x6t", "c0g", "cog",
            "np0", "npo", "y5v", "z5u", "y5p", "u2j",
        ],
    ),
    (
        Ceramic,
        Word,
        Start,
        &["keram", "керамич", "kerko", "cerám", "céram", "cerâm", "ceram", "керамічн", "kerám", "κεραμ"],
    ),
    (Ceramic, Word, Anywhere, &["陶瓷", "瓷片", "瓷介", "独石", "贴片电容", "セラミック", "세라믹"]),
    (Mica, Word, Words, &["mica", "glimmer", "слюда"]),
    (
        Film,
        Word,
        Start,
        &["poliest", "poliést", "polipropil", "polyprop", "polyest", "плёноч", "пленоч", "бумажн", "лавсан", "papierk"],
    ),
    (
        WetAluminium,
        Word,
        Start,
        &[
            "alum",
            "aluminum",
            "aluminium",
            "electrolyt",
            "elektrolyt",
            "elektrolit",
            "elko",
            "electrolit",
            "eletrol",
            "электролит",
            "електроліт",
            "elettrolit",
            "elyt",
            "ellyt",
            "électrolyt",
            "electrolí",
            "elektroly",
            "eletrol",
            "chimique",
            "condensateur chim",
            "ηλεκτρολυτ",
        ],
    ),
    (WetAluminium, Word, Words, &["elec", "alu", "elect"]),
    (WetAluminium, Word, Anywhere, &["电解", "電解", "전해"]),
    (
        Tantalum,
        Habit,
        Start,
        &[
            "case a", "case b", "case c", "case d", "case e", "eia 3216", "eia 3528", "eia 6032", "eia 7343", "cp eia",
            "ct 3216", "ct 3528", "ct 7343",
        ],
    ),
    (
        WetAluminium,
        Habit,
        Start,
        &["cpelec", "cp radial", "cp axial", "cap th bd", "cap smd bd", "capae", "cappr", "ecap", "e cap"],
    ),
    (NonPolar, Habit, Start, &["celec"]),
    (
        Ceramic,
        Habit,
        Start,
        &[
            "c 0201", "c 0402", "c 0603", "c 0805", "c 1206", "c 1210", "c 1812", "c0201", "c0402", "c0603", "c0805",
            "c1206", "c1210", "c1812",
        ],
    ),
    (Unpolarised, Habit, Start, &["unpolar", "non polar", "nonpolar", "un polar", "not polar"]),
    (Unpolarised, Habit, Words, &["np"]),
    (Polarised, Habit, Start, &["polarized", "polarised", "polar"]),
    (Polarised, Habit, Start, &["cpol", "c polar", "cap pol", "cap polarized", "c pol", "cp"]),
];

/// The family that the cells of one row give away (description, type, value, footprint, symbol ...), or `None` if no word does.
/// Evidence of the whole row counts: a word in a later cell goes before a habit in an earlier one.
#[must_use]
pub fn family(cells: &[&str]) -> Option<Finding> {
    // In the names of SMD cans `Elec` is the library's word for the case: polymer parts have it, too.
    let library = |cell: String| cell.replace(" cp elec ", " cpelec ").replace(" c elec ", " celec ");
    let plain: Vec<String> = cells.iter().map(|cell| library(plain(cell))).collect();
    let electrolytic = || {
        plain.iter().any(|cell| {
            ["electrol", "eletrol", "электролит", "alum", "elko", "elektrol", "électrol", "elettrol", "chimique"]
                .into_iter()
                .any(|word| holds(cell, &Start, word))
                || holds(cell, &Words, "elec")
                || holds(cell, &Words, "elect")
        })
    };
    let (family, evidence, word) = RULES.iter().find_map(|(family, evidence, stand, words)| {
        words
            .iter()
            .find(|word| plain.iter().any(|cell| holds(cell, stand, word)))
            .map(|word| (*family, *evidence, *word))
    })?;
    // "Electrolytic capacitor, non-polarized": the electrolytic word came first, the polarity word completes it.
    if family == WetAluminium && evidence == Word && electrolytic() {
        let non_polar = ["unpolar", "non polar", "nonpolar", "no polar", "apolar", "niepolar"]
            .into_iter()
            .find(|word| plain.iter().any(|cell| holds(cell, &Start, word)));
        let np = non_polar.or_else(|| plain.iter().any(|cell| holds(cell, &Words, "np")).then_some("np"));
        if let Some(word) = np {
            return Some(Finding { family: NonPolar, evidence: Word, word: word.to_string() });
        }
    }
    Some(Finding { family, evidence, word: word.to_string() })
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

fn holds(plain: &str, stand: &Stand, word: &str) -> bool {
    match stand {
        Words => plain.contains(&format!(" {word} ")),
        Start => plain.contains(&format!(" {word}")),
        Anywhere => plain.contains(word),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(cells: &[&str]) -> Option<(Family, Evidence)> {
        family(cells).map(|finding| (finding.family, finding.evidence))
    }

    // Hand-made cases.
    #[test]
    fn words_of_the_trade_decide() {
        for (cells, family) in [
            (&["CAP ALUM 470UF 20% 35V RADIAL"][..], WetAluminium),
            (&["Aluminum Electrolytic Capacitors", "Hybrid"], Hybrid),
            (&["Aluminum Electrolytic", "conductive polymer"], Polymer),
            (&["固态电容 100uF"], Polymer),
            (&["Electric Double Layer (EDLC)", "Elec"], Supercapacitor),
            (&["CAP SUPER 470MF 5.5V"], Supercapacitor),
            (&["CAP TANT 10UF 16V"], Tantalum),
            (&["100nF 275VAC X2"], Film),
            (&["C0G 50V"], Ceramic),
            (&["NP0"], Ceramic),
            (&["CAP CER 10UF 25V X7R 1206"], Ceramic),
            (&["22 BPuF"], NonPolar),
            (&["Bipolar electrolytic"], NonPolar),
            (&["ALUM, NON-POLAR"], NonPolar),
            (&["Electrolytic NP 50V"], NonPolar),
        ] {
            assert_eq!(found(cells), Some((family, Word)), "{cells:?}");
        }
    }

    #[test]
    fn unpolarized_is_not_polarized() {
        assert_eq!(found(&["Unpolarized capacitor"]), Some((Unpolarised, Habit)));
        assert_eq!(found(&["Unpolarised capacitor, small symbol"]), Some((Unpolarised, Habit)));
        assert_eq!(found(&["Polarized capacitor"]), Some((Polarised, Habit)));
        assert_eq!(found(&["Polarised capacitor"]), Some((Polarised, Habit)));
    }

    #[test]
    fn habits_give_way_to_words() {
        assert_eq!(found(&["C-POLAR-A", "CASE_A"]), Some((Tantalum, Habit)));
        assert_eq!(found(&["CP", "CP_Radial_D10.0mm_P5.00mm"]), Some((WetAluminium, Habit)));
        assert_eq!(found(&["CPOL-EUB"]), Some((Polarised, Habit)));
        assert_eq!(found(&["10u 50v", "C_0805_2012Metric"]), Some((Ceramic, Habit)));
        assert_eq!(found(&["CP_Radial_D10.0mm_P5.00mm", "EDLC"]), Some((Supercapacitor, Word)));
        assert_eq!(found(&["C_Polarized_US"]), Some((Polarised, Habit)));
    }

    #[test]
    fn no_word_no_family_and_the_evidence_is_named() {
        assert_eq!(family(&["470uF 25V", "C12"]), None);
        assert_eq!(family(&["CAP TANT 10UF"]).map(|finding| finding.word), Some("tant".to_string()));
        assert_eq!(family(&["stantion expert"]), None);
    }
}
