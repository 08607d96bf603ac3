//! The columns of the table of candidates: heading, explanation, width, and what they go by when sorted or filtered.

use strum::{VariantArray, VariantNames};

use super::{quantity::Field, quantity::Quantity};
use crate::app::state::Kept;
use crate::domain::{Catalog, Check, Distinct, Mounting, PartId, Technology, Unit};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Text {
    /// Part number.
    Number,
    /// Who makes it.
    Maker,
    /// Family.
    Series,
    /// What fills the can.
    Technology,
    /// How it is fixed.
    Mounting,
    /// Where it stands on the market.
    Status,
}

impl Text {
    /// The text of a part; empty when not known.
    pub(crate) fn of(self, catalog: &Catalog, id: PartId) -> &str {
        match self {
            Self::Number => catalog.part_number(id),
            Self::Maker => catalog.maker(id),
            Self::Series => catalog.series(id),
            Self::Technology => technology(catalog.technology(id)),
            Self::Mounting => mounting(catalog.mounting(id)),
            Self::Status => catalog.status(id).map_or("", <&str>::from),
        }
    }

    /// The texts that parts share; `None` for part numbers, which are all different.
    pub(crate) fn shared(self, catalog: &Catalog) -> Option<Shared<'_>> {
        Some(match self {
            Self::Number => return None,
            Self::Maker => Shared::distinct(catalog.makers()),
            Self::Series => Shared::distinct(catalog.all_series()),
            Self::Technology => Shared::named(|id| catalog.technology(id)),
            Self::Mounting => Shared::named(|id| catalog.mounting(id)),
            Self::Status => Shared::named(|id| catalog.status(id)),
        })
    }
}

/// A text that many parts share: every different one, and which of them a part has.
pub(crate) struct Shared<'a> {
    /// Every different text; an empty one is a text not known.
    pub texts: Vec<&'a str>,
    /// The index of a part's text among them.
    pub at: Box<dyn Fn(PartId) -> usize + Sync + 'a>,
}

impl<'a> Shared<'a> {
    fn distinct(texts: Distinct<'a>) -> Self {
        Self { texts: texts.texts().collect(), at: Box::new(move |id| texts.at(id)) }
    }

    fn named<T: VariantArray + VariantNames + PartialEq + Sync>(of: impl Fn(PartId) -> Option<T> + Sync + 'a) -> Self {
        let all = <T as VariantArray>::VARIANTS;
        let at = move |id| of(id).and_then(|own| all.iter().position(|known| *known == own)).unwrap_or(all.len());
        let words = <T as VariantNames>::VARIANTS.iter().copied();
        Self { texts: words.chain([""]).collect(), at: Box::new(at) }
    }
}

/// The word for a technology; empty when not known.
pub(crate) fn technology(value: Option<Technology>) -> &'static str {
    value.map_or("", Into::into)
}

/// The word for a mounting; empty when not known.
pub(crate) fn mounting(value: Option<Mounting>) -> &'static str {
    value.map_or("", Into::into)
}

/// What a column shows.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Subject {
    Text(Text),
    Verdict,
    Check(Check),
    Number(Quantity, Unit),
}

/// Which of two numbers is the better one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Better {
    More,
    Less,
    /// Neither: it depends.
    Neither,
}

#[derive(Debug, Clone, Copy)]
pub(crate) struct TableColumn {
    /// What stands over it.
    pub heading: &'static str,
    /// What it is called where there is more room.
    pub name: &'static str,
    /// What it means, by which formula, from which source.
    pub hover: &'static str,
    /// Its names in the filter, the shortest or plainest first.
    pub words: &'static [&'static str],
    pub subject: Subject,
    /// Width, points.
    pub width: f32,
    /// Which of two numbers is better.
    pub better: Better,
    /// Shown until the person chooses otherwise.
    pub usual: bool,
}

impl TableColumn {
    /// Numbers stand on the right, everything else on the left.
    pub(crate) fn is_number(&self) -> bool {
        matches!(self.subject, Subject::Number(..)) && !self.is_headroom()
    }

    /// Whether it is drawn as a bar.
    pub(crate) fn is_headroom(&self) -> bool {
        matches!(self.subject, Subject::Number(Quantity::Kept(Kept::Headroom), _))
    }

    /// The unit of its numbers, empty where there is none.
    pub(crate) fn unit(&self) -> &'static str {
        if let Subject::Number(_, unit) = self.subject { unit.symbol() } else { "" }
    }

    /// Whether it holds prices, each in the currency of its part.
    pub(crate) fn is_price(&self) -> bool {
        matches!(self.subject, Subject::Number(Quantity::Price | Quantity::ForNeed, _))
    }

    /// Whether its prices are in the currency of the job.
    pub(crate) fn is_in_job_currency(&self) -> bool {
        matches!(self.subject, Subject::Number(Quantity::ForNeed, _))
    }

    /// The column that has this name in the filter.
    pub(crate) fn named(word: &str) -> impl Iterator<Item = (usize, &'static Self)> {
        let word = word.to_lowercase().replace('μ', "µ");
        COLUMNS.iter().enumerate().filter(move |(_, column)| column.words.contains(&word.as_str()))
    }

    /// Whether the better values come first when sorted downwards.
    pub(crate) fn best_is_largest(&self) -> bool {
        self.better == Better::More
    }
}

const fn text(heading: &'static str, hover: &'static str, words: &'static [&'static str], text: Text) -> TableColumn {
    let (usual, width) = (matches!(text, Text::Number), if matches!(text, Text::Number) { 200.0 } else { 92.0 });
    let subject = Subject::Text(text);
    TableColumn { heading, name: heading, hover, words, subject, width, better: Better::Neither, usual }
}

const fn check(
    check: Check,
    heading: &'static str,
    words: &'static [&'static str],
    hover: &'static str,
) -> TableColumn {
    let subject = Subject::Check(check);
    let name = if matches!(check, Check::Esr) { "ESR" } else { words[0] };
    TableColumn { heading, name, hover, words, subject, width: 92.0, better: Better::Less, usual: false }
}

const fn number(
    heading: &'static str,
    name: &'static str,
    words: &'static [&'static str],
    subject: (Quantity, Unit, Better),
    width: f32,
    usual: bool,
    hover: &'static str,
) -> TableColumn {
    let (quantity, unit, better) = subject;
    TableColumn { heading, name, hover, words, subject: Subject::Number(quantity, unit), width, better, usual }
}

/// A number of the catalogue.
macro_rules! field {
    ($name:ident) => {
        Quantity::Field(Field { of_can: |can| can.$name, in_row: |columns, row| columns.$name.get(row) })
    };
}

/// Rows of the table, each on as few lines as it needs.
macro_rules! columns {
    ($($row:expr;)*) => { &[$($row),*] };
}

/// Every column, from left to right. The first is always shown.
pub(crate) const COLUMNS: &[TableColumn] = {
    use Better::{Less, More, Neither};
    use Quantity::Kept as Of;
    columns! {
        text("Part", "Part number; the part that was built in always stands first.", &["part"], Text::Number);
        TableColumn {
            heading: "Verdict",
            name: "verdict",
            hover: "The worst of all checks, and the one check that limits or fails. A click on the arrow shows all nine. Unknown if a figure is missing, never silently passed; unknown availability alone does not count.",
            words: &["verdict"],
            subject: Subject::Verdict,
            width: 168.0,
            better: Less,
            usual: true,
        };
        number("Years", "years of life", &["life", "years"], (Of(Kept::Years), Unit::Year, More), 46.0, true,
            "Calendar years until the life is used up: hours of life ÷ energised hours a year, capped at 15 years (published, Beckhoff PS9011 manual).");
        number("Cost", "cost of the need", &["cost"], (Quantity::ForNeed, Unit::Money, Less), 104.0, true,
            "What the pieces needed here cost in the currency of the job, spares included, least over all offers with their price breaks, minimum orders and packs; pieces on the shelf are free.");
        number("Ø mm", "diameter", &["d", "diameter"], (field!(diameter_mm), Unit::Millimetre, Less), 44.0, true,
            "Nominal diameter, from the data sheet; the fit goes by the largest.");
        number("H mm", "height", &["h", "height"], (field!(height_mm), Unit::Millimetre, Less), 44.0, true,
            "Nominal height, body length of an axial part, from the data sheet; the fit goes by the largest.");
        number("Margin", "margin", &["margin", "headroom"], (Of(Kept::Headroom), Unit::Share, More), 104.0, true,
            "The least known margin of voltage, ripple, life and ESR, as a share of its limit: 1 − usage ÷ limit. Negative: over the limit.");
        check(Check::Voltage, "Voltage check", &["voltage"],
            "Voltage: operating voltage and ripple peak against the rated voltage: pass up to the policy's share (liquid electrolyte 80 % below 160 V, 90 % from 160 V; hybrid and polymer 80 %; common practice), marginal up to the rating. Transients against the surge voltage (IEC 60384-1: 1.15 times up to 315 V, 1.10 above), reverse voltage to −1 V.");
        check(Check::Ripple, "Ripple check", &["ripple"],
            "Ripple: equivalent current √Σ(I/F)² against the current allowed at the ambient, in the worst phase: pass up to the policy's share (80 %), marginal up to 100 %. F from the part or from published tables.");
        check(Check::Life, "Life check", &["life"],
            "Life with the load profile against the target: pass from 1.25 times the target, marginal from the target on.");
        check(Check::Esr, "ESR check", &["esr"],
            "ESR at the position's frequency against its limit, else against the original's ESR: marginal within 10 % beyond. In the cold where a limit is set.");
        check(Check::Capacitance, "Capacitance check", &["capacitance"],
            "Capacitance against the limits entered, else against the original by the role of the position (common practice).");
        check(Check::Fit, "Fit check", &["fit"],
            "Fit: mounting, largest body, vent space, lead spacing, lead in its hole, gap to the neighbours. The worst counts.");
        check(Check::Temperature, "Temperature check", &["temperature"],
            "Category temperatures against the coldest and hottest ambient: pass with 5 K to spare.");
        check(Check::Leakage, "Leakage check", &["leakage"],
            "Leakage current against its limit; passes where no limit is set. Usual leakage: 0.01·C·U up to 100 V (published, maker's data sheets).");
        check(Check::Supply, "Availability check", &["availability", "supply"],
            "Availability: no longer made fails; not for new designs, or less in stock than needed here, is marginal.");
        number("Life h", "hours of life", &["hours"], (Of(Kept::Life), Unit::Hour, More), 64.0, false,
            "L = L0 · 2^((T0 − Ta)/10) · 2^((ΔT0 − ΔT)/10), solid polymer ten times for 20 K; phases by linear damage 1/L = Σ w/L; at most 131 400 h (published, makers' sheets).");
        number("Ripple util.", "ripple utilisation", &["used"], (Of(Kept::RippleUsage), Unit::Share, Less), 76.0,
            true, "Equivalent ripple current over the current allowed at the ambient, in the worst phase.");
        number("Allowed A", "ripple allowed", &["allowed"], (Of(Kept::RippleAllowed), Unit::Ampere, More), 72.0, false,
            "Rated ripple current times the multiplier for the ambient: 1.7 at 20 K and 2.1 at 40 K below the upper temperature (published, Rubycon) unless the part has its own.");
        number("Core rise K", "core temperature rise", &["rise"], (Of(Kept::CoreRise), Unit::Kelvin, Less), 78.0, false,
            "Rise of the core over the ambient: ΔT0 · (I ÷ I rated)² (published, Rubycon life sheet), in the worst phase.");
        number("Voltage util.", "voltage utilisation", &["vused"], (Of(Kept::VoltageUsage), Unit::Share, Less), 92.0,
            false, "Operating voltage and ripple peak over the rated voltage.");
        number("ESR mΩ", "ESR", &["esr"], (Of(Kept::Esr), Unit::Milliohm, Less), 56.0, true,
            "Equivalent series resistance at the frequency of the limit: the part's own figure, else tan δ ÷ 2πfC (published, KEMET A4001).");
        number("µF", "capacitance", &["c", "uf", "µf", "capacitance"],
            (field!(capacitance_uf), Unit::Microfarad, Neither), 48.0, true,
            "Nominal capacitance, from the data sheet.");
        number("± %", "tolerance", &["tol", "tolerance"], (field!(tolerance_pct), Unit::Percent, Less), 44.0,
            false, "Capacitance tolerance either way, from the data sheet.");
        number("Rated V", "rated voltage", &["v", "voltage"], (field!(rated_v), Unit::Volt, More), 52.0, true,
            "Rated voltage, from the data sheet.");
        number("Rated A", "rated ripple", &["i", "ripple"], (field!(ripple_a), Unit::Ampere, More), 60.0, false,
            "Rated ripple current at the upper temperature and the frequency of the data sheet; parts rated at different frequencies do not compare.");
        number("Lead spacing mm", "lead spacing", &["pitch"], (field!(pitch_mm), Unit::Millimetre, Neither), 112.0,
            false, "Lead spacing, from the data sheet.");
        number("Ø clearance mm", "diameter clearance", &["droom"], (Of(Kept::DiameterSlack), Unit::Millimetre, More),
            104.0, false, "Largest diameter that fits less the largest diameter of the part.");
        number("H clearance mm", "height clearance", &["hroom"], (Of(Kept::HeightSlack), Unit::Millimetre, More), 104.0,
            false,
            "Height that fits less the largest height of the part; the vent takes 2 to 5 mm of it (published, KEMET A4006).");
        number("Gap mm", "gap to the neighbour", &["gap"], (Of(Kept::Gap), Unit::Millimetre, More), 58.0, false,
            "Smallest gap between the largest bodies of the part and of its neighbours.");
        number("Max °C", "upper temperature", &["temp", "tmax"], (field!(temp_max_c), Unit::Celsius, More), 56.0, false,
            "Upper category temperature, from the data sheet.");
        number("Endurance h", "endurance", &["endurance"], (field!(endurance_h), Unit::Hour, More), 84.0, false,
            "Endurance at the upper category temperature, from the data sheet; it counts together with that temperature.");
        number("Leakage µA", "leakage current", &["leakage"], (Of(Kept::Leakage), Unit::Microampere, Less), 80.0, false,
            "Leakage current where a limit is set: the part's own, else the usual formula of makers' sheets.");
        text("Maker", "Who makes the part.", &["maker"], Text::Maker);
        text("Series", "Family of parts.", &["series"], Text::Series);
        text("Technology", "What fills the can: liquid electrolyte (wet), hybrid, polymer or nonpolar. Unknown counts as wet (assumed).",
            &["tech", "technology"], Text::Technology);
        text("Mounting", "How the part is fixed to the board.", &["mount", "mounting"], Text::Mounting);
        text("Status", "Active, nrnd (not recommended for new designs) or obsolete.", &["status"], Text::Status);
        number("Price", "price", &["price"], (Quantity::Price, Unit::Money, Less), 104.0, true,
            "Price of one piece when few are bought, of the offer that gives the cost, in its currency.");
        number("Stock", "stock", &["stock"], (Quantity::Trade(|trade| trade.stock), Unit::Piece, More), 58.0, false,
            "Pieces the supplier has whose offer gives the cost.");
        number("Lead days", "lead time", &["lead"], (Quantity::Trade(|trade| trade.lead_time_d), Unit::Day, Less), 68.0,
            false, "Days until the supplier delivers.");
        number("Minimum", "minimum order", &["moq"], (Quantity::Trade(|trade| trade.moq), Unit::Piece, Less), 66.0,
            false, "Smallest order, pieces.");
    }
};

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    /// Kinds of figures a name in the filter is told apart by.
    fn kind(column: &TableColumn) -> u8 {
        match column.subject {
            Subject::Text(_) => 0,
            Subject::Verdict | Subject::Check(_) => 1,
            Subject::Number(..) => 2,
        }
    }

    #[test]
    fn a_name_in_the_filter_means_one_column_of_a_kind() {
        let names: Vec<_> = COLUMNS.iter().flat_map(|c| c.words.iter().map(move |word| (*word, kind(c)))).collect();
        assert_eq!(names.iter().collect::<HashSet<_>>().len(), names.len());
        assert!(names.iter().all(|(word, _)| *word == word.to_lowercase() && !word.contains(' ')));
    }

    #[test]
    fn every_column_explains_itself() {
        for column in COLUMNS {
            assert!(column.hover.ends_with('.') && !column.words.is_empty() && !column.heading.is_empty());
        }
        let headings: HashSet<_> = COLUMNS.iter().map(|c| c.heading).collect();
        assert_eq!(headings.len(), COLUMNS.len());
    }

    #[test]
    fn every_check_has_its_column() {
        let of = |check: Check| COLUMNS.iter().any(|c| matches!(c.subject, Subject::Check(own) if own == check));
        assert!(Check::ALL.into_iter().all(of));
    }
}
