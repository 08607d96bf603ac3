//! Quantities inside a free description: `CAP ALUM 470UF 20% 35V RADIAL`, `63V, 3.0A, 16x31.5`, `16V 1000µF`, `22u/63V`.
//!
//! Only numbers with a unit are taken, never bare ones. A quantity found twice with different figures is ambiguous.

mod dimensions;

use super::body::Size;
use super::clean::{clean_within, is_nothing};
use super::digits::Number;
use super::endurance::Endurance;
use super::esr::Esr;
use super::ripple::Ripple;
use super::scan::{Join, Token, scan};
use super::temperature::TempRange;
use super::tolerance::{self, Tolerance};
use super::unit::{Kind, Unit};
use super::words;
use super::{Column, Decimal, Doubt, Reading, ask, capacitance, choose, merge, voltage};

/// Longest description read, in characters.
pub const LONGEST_TEXT: usize = 4000;

/// What a description holds; [`Reading::Nothing`] where it says nothing.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Found {
    /// Capacitance, µF.
    pub capacitance_uf: Reading<f64>,
    /// Rated voltage, V.
    pub rated_v: Reading<f64>,
    /// Tolerance.
    pub tolerance: Reading<Tolerance>,
    /// Ripple current.
    pub ripple: Reading<Ripple>,
    /// ESR or impedance.
    pub esr: Reading<Esr>,
    /// Capacitance that was measured, µF.
    pub measured_uf: Reading<f64>,
    /// ESR that was measured.
    pub measured_esr: Reading<Esr>,
    /// Endurance.
    pub endurance: Reading<Endurance>,
    /// Operating temperatures.
    pub temperature: Reading<TempRange>,
    /// Dimensions.
    pub size: Reading<Size>,
}

/// Finds the quantities of a description. Too long or damaged text finds nothing.
pub fn find(text: &str, column: &Column) -> Found {
    let cleaned = if is_nothing(text) { Ok(String::new()) } else { clean_within(text, LONGEST_TEXT) };
    let cleaned = cleaned.unwrap_or_default();
    // Nothing is said by figures alone.
    if cleaned.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'.' | b',')) {
        return Found::default();
    }
    let cleaned = parted(&without_codes(&cleaned));
    let under = |decimal| Finder::new(&cleaned, decimal).run(&Column { decimal, ..*column });
    match column.decimal {
        Decimal::Unknown if cleaned.contains(['.', ',']) => {
            let (dot, comma) = (under(Decimal::Dot), under(Decimal::Comma));
            Found {
                capacitance_uf: merge(dot.capacitance_uf, comma.capacitance_uf),
                rated_v: merge(dot.rated_v, comma.rated_v),
                tolerance: merge(dot.tolerance, comma.tolerance),
                ripple: merge(dot.ripple, comma.ripple),
                esr: merge(dot.esr, comma.esr),
                measured_uf: merge(dot.measured_uf, comma.measured_uf),
                measured_esr: merge(dot.measured_esr, comma.measured_esr),
                endurance: merge(dot.endurance, comma.endurance),
                temperature: merge(dot.temperature, comma.temperature),
                size: merge(dot.size, comma.size),
            }
        }
        // Without a mark both rules read the same.
        Decimal::Unknown => under(Decimal::Dot),
        known => under(known),
    }
}

/// Without the maker's code behind the voltage it stands for (`10(1A)`), whose letter may be that of another unit.
fn without_codes(text: &str) -> String {
    let Some((before, rest)) = text.split_once('(') else { return text.to_owned() };
    let Some((inside, behind)) = rest.split_once(')') else { return text.to_owned() };
    let figure = before.trim_end().trim_end_matches(['V', 'v']).trim_end();
    let start = figure.rfind(|c: char| !(c.is_ascii_digit() || c == '.')).map_or(0, |at| at + 1);
    let same = voltage::of_code(inside.trim()).is_some_and(|volts| figure[start..].parse() == Ok(volts));
    if same { format!("{before}{behind}") } else { text.to_owned() }
}

/// With a blank behind commas that join figures (`4u7,250V`): one behind a letter for the decimal mark is none itself.
fn parted(text: &str) -> String {
    let letters = ['u', 'U', 'µ', 'n', 'p', 'm', 'R', 'V', 'F'];
    let ends_in_code = |before: &str| {
        let digits = before.len() - before.trim_end_matches(|c: char| c.is_ascii_digit()).len();
        let rest = before[..before.len() - digits].trim_end_matches(letters);
        let lettered = rest.len() + digits < before.len();
        digits > 0 && lettered && rest.ends_with(|c: char| c.is_ascii_digit())
    };
    let mut out = String::with_capacity(text.len() + 4);
    for (at, piece) in text.split(',').enumerate() {
        if at > 0 {
            out.push(',');
            if ends_in_code(&out[..out.len() - 1]) {
                out.push(' ');
            }
        }
        out.push_str(piece);
    }
    out
}

/// Whether a word says that what stands behind it was measured.
pub(crate) fn is_measured(word: &str) -> bool {
    let lower = word.to_lowercase();
    words::list("measured").any(|begins| lower.starts_with(begins))
}

/// A token and whether it stands directly behind the one before.
struct Placed {
    token: Token,
    glued: bool,
}

struct Finder<'a> {
    chunks: Vec<&'a str>,
    tokens: Vec<Placed>,
}

/// One outcome from all the places where a quantity was found.
fn settle<T: PartialEq>(what: &str, found: Vec<Reading<T>>) -> Reading<T> {
    if found.is_empty() {
        return Reading::Nothing;
    }
    let mut options = Vec::new();
    let mut bad = None;
    let mut question = None;
    for reading in found {
        match reading {
            Reading::Bad { reason } => bad = Some(reason),
            Reading::Ambiguous { what, options: more } => {
                question = Some(what);
                options.extend(more);
            }
            other => options.extend(other.possible()),
        }
    }
    match (options.is_empty(), bad) {
        (true, Some(reason)) => Reading::Bad { reason },
        (true, None) => Reading::Nothing,
        // One value in all sections of a can is a question, too: there are several of it.
        (false, _) => match (choose(question.clone().unwrap_or_else(|| what.into()), options), question) {
            (Reading::Value(value), Some(what)) => ask(what, vec![value]),
            (reading, _) => reading,
        },
    }
}

impl<'a> Finder<'a> {
    fn new(text: &'a str, decimal: Decimal) -> Self {
        let chunks: Vec<&str> = text.split(' ').filter(|chunk| !chunk.is_empty()).collect();
        let mut tokens = Vec::new();
        for chunk in &chunks {
            for (at, token) in scan(chunk, decimal, Join::Never).into_iter().enumerate() {
                tokens.push(Placed { token, glued: at > 0 });
            }
        }
        Finder { chunks, tokens }
    }

    fn number(&self, at: usize) -> Option<&Number> {
        match self.tokens.get(at).map(|placed| &placed.token) {
            Some(Token::Number(number)) => Some(number),
            _ => None,
        }
    }

    fn word(&self, at: usize) -> Option<&str> {
        match self.tokens.get(at).map(|placed| &placed.token) {
            Some(Token::Word(word)) => Some(word),
            _ => None,
        }
    }

    fn mark(&self, at: usize) -> Option<char> {
        match self.tokens.get(at).map(|placed| &placed.token) {
            Some(Token::Mark(mark)) => Some(*mark),
            _ => None,
        }
    }

    /// A number that is not part of a name (`X7R`, `C0805`).
    fn free_number(&self, at: usize) -> Option<&Number> {
        let name = |word: &str| Unit::parse(word).is_none() && !(word == "x" && self.in_russian(at));
        let named = at > 0 && self.tokens[at].glued && self.word(at - 1).is_some_and(name);
        self.number(at).filter(|_| !named)
    }

    /// Whether the number at `at` is in volts, and Russian.
    fn in_russian(&self, at: usize) -> bool {
        matches!(self.word(at + 1), Some("в" | "В"))
    }

    /// `20,0х300 в`: the capacitance before the voltage at `at`, which is in µF in Russian lists.
    fn before_russian(&self, at: usize) -> Option<&Number> {
        let russian = at > 1 && self.word(at - 1) == Some("x") && self.in_russian(at);
        self.free_number(at.checked_sub(2)?).filter(|_| russian)
    }

    /// The unit behind the number at `at`. Short words are units only where they are written as such.
    fn unit(&self, at: usize) -> Option<Unit> {
        let word = self.word(at + 1)?;
        let glued = self.tokens[at + 1].glued;
        let unit = Unit::parse(word)?;
        let value = self.number(at)?.value()?;
        let accepted = match word {
            "C" => glued && (55.0..=200.0).contains(&value),
            // `2m2` is 2200 µF (IEC 60062); `2.2m` may be a length.
            "m" => {
                let digits = self.number(at)?.digits();
                digits.contains('.') && self.chunks.iter().any(|chunk| chunk.contains(&digits.replace('.', "m")))
            }
            "K" | "M" | "p" | "P" | "f" | "in" | "r" | "°" | "deg" => false,
            "R" => glued && value < 100.0 && self.number(at)?.digits().contains('.'),
            // Apart from its number, `h` is a height unless the number is far too large for one.
            "h" if !glued => value >= 500.0,
            "H" | "h" => glued && value >= 100.0,
            "n" | "N" => glued || self.tokens.get(at + 2).is_none(),
            _ => true,
        };
        if unit == Unit::Volt && self.word(at + 2).is_some_and(|next| next.eq_ignore_ascii_case("ac")) {
            return Some(Unit::VoltAc);
        }
        accepted.then_some(unit)
    }

    /// Frequency and temperature within the next few tokens, up to the next quantity of another kind.
    fn conditions(&self, from: usize) -> (Option<f64>, Option<f64>) {
        let (mut hz, mut temp_c) = (None, None);
        let mut at = from;
        while at < self.tokens.len() && at < from + 10 {
            if let Some(number) = self.number(at) {
                match self.unit(at) {
                    Some(unit) if unit.kind() == Kind::Frequency && hz.is_none() => {
                        hz = unit.exponent().and_then(|exponent| number.shifted(exponent)).filter(|&hz| hz > 0.0);
                    }
                    Some(Unit::Celsius) if temp_c.is_none() => temp_c = number.value(),
                    _ => break,
                }
                at += 1;
            } else if let Some(word) = self.word(at) {
                if !matches!(word.to_lowercase().as_str(), "at" | "rms" | "max") {
                    break;
                }
            } else if !matches!(self.mark(at), Some('@' | '/' | '(' | ')' | ',')) {
                break;
            }
            at += 1;
        }
        (hz, temp_c)
    }

    fn run(&self, column: &Column) -> Found {
        let (mut uf, mut volts, mut ripples, mut esrs, mut lives, mut temps) =
            (vec![], vec![], vec![], vec![], vec![], vec![]);
        let (mut measured_ufs, mut measured_esrs) = (vec![], vec![]);
        let measured = (0..self.tokens.len()).find(|&at| self.word(at).is_some_and(is_measured)).unwrap_or(usize::MAX);
        let mut at = 0;
        while at < self.tokens.len() {
            if let Some((range, next)) = self.range(at) {
                temps.push(Reading::Value(range));
                at = next;
                continue;
            }
            let Some((number, unit)) = self.free_number(at).zip(self.unit(at)) else {
                at += 1;
                continue;
            };
            let scaled = |by, most| {
                let value = unit.exponent().and_then(|exponent| number.shifted(exponent + by));
                value.filter(|&value| value > 0.0 && value <= most)
            };
            match unit.kind() {
                Kind::Capacitance if at > measured => measured_ufs.push(capacitance::in_unit(number, unit, column)),
                Kind::Capacitance => {
                    let alone = capacitance::in_unit(number, unit, column);
                    let sections =
                        self.joined(at, '+').into_iter().chain(self.joined(at, '/').filter(|of| of.len() > 2));
                    if let Some(sections) = sections.into_iter().next() {
                        let options = sections.iter().flat_map(|of| capacitance::in_unit(of, unit, column).possible());
                        uf.push(ask("sections of one can, each of its own value", options.collect()));
                        at += 2;
                        continue;
                    }
                    uf.push(match self.grouped(at).map(|whole| capacitance::in_unit(&whole, unit, column)) {
                        None => alone,
                        Some(whole) if number.digits().starts_with('0') => whole,
                        // `2 200 µF`: two thousand, or two of them.
                        Some(whole) => {
                            let options = whole.possible().into_iter().chain(alone.possible()).collect();
                            choose("thousands, or a number before the capacitance", options)
                        }
                    });
                }
                Kind::Voltage => {
                    if let Some(sections) = self.joined(at, '/').filter(|of| of.len() > 2) {
                        let options = sections.iter().flat_map(|of| voltage::in_unit(of, unit).possible());
                        volts.push(ask("sections of one can, each of its own voltage", options.collect()));
                        at += 2;
                        continue;
                    }
                    uf.extend(self.before_russian(at).map(|uf| capacitance::in_unit(uf, Unit::Microfarad, column)));
                    volts.push(voltage::in_unit(number, unit));
                    volts.extend(self.voltage_before(at).map(Reading::Value));
                }
                Kind::Current => {
                    let (hz, temp_c) = self.conditions(at + 2);
                    let (hz, temp_c) = (hz.or(column.hz), temp_c.or(column.temp_c));
                    // Microamperes in a description are leakage.
                    if let Some(ripple_a) = scaled(0, 1000.0).filter(|_| unit != Unit::Microampere) {
                        ripples.push(Reading::Value(Ripple { ripple_a, hz, temp_c }));
                    }
                }
                Kind::Resistance => {
                    let (hz, temp_c) = self.conditions(at + 2);
                    if let Some(esr_mohm) = scaled(3, 1e8) {
                        let esr = Esr { esr_mohm, hz: hz.or(column.hz), temp_c: temp_c.or(column.temp_c) };
                        if at > measured { &mut measured_esrs } else { &mut esrs }.push(Reading::Value(esr));
                    }
                }
                Kind::Time if matches!(unit, Unit::Hour | Unit::KiloHour) => {
                    let temp_c = self.conditions(at + 2).1.or(column.temp_c);
                    // `2000~5000 h`: the shorter for some of the cans.
                    let range = self.joined(at, '~').or_else(|| self.joined(at, '-'));
                    let hours = |of: &Number| of.shifted(unit.exponent()?).filter(|hours| (1.0..=1e6).contains(hours));
                    let alone = range.is_none();
                    let all = range.unwrap_or_else(|| vec![number]).into_iter().filter_map(hours);
                    let all: Vec<Endurance> = all.map(|hours| Endurance { hours, temp_c }).collect();
                    lives.push(if alone { choose("", all) } else { ask("a range of endurances", all) });
                }
                // A temperature that is the condition of something before it is not the part's upper limit.
                Kind::Temperature if unit == Unit::Celsius && !self.is_condition(at) => {
                    if let Some(max_c) = number.value() {
                        temps.push(Reading::Value(TempRange { min_c: None, max_c }));
                    }
                }
                _ => {}
            }
            at += 2;
        }
        if volts.is_empty() && !uf.is_empty() {
            volts.extend((0..self.tokens.len()).filter_map(|at| self.voltage_code(at)));
        }
        Found {
            capacitance_uf: settle("two capacitances in one text", uf),
            rated_v: settle("two voltages in one text", volts),
            tolerance: tolerance::in_text(&self.chunks.join(" "), column.decimal),
            ripple: settle("two ripple currents in one text", ripples),
            esr: settle("two resistances in one text", esrs),
            measured_uf: settle("two measured capacitances in one text", measured_ufs),
            measured_esr: settle("two measured resistances in one text", measured_esrs),
            endurance: settle("two endurances in one text", lives),
            temperature: settle("two temperatures in one text", temps),
            size: self.size(column),
        }
    }

    /// The figures of `40/20/20` or `50+50` that the one at `at` ends, in order; `None` where it stands alone.
    fn joined(&self, at: usize, mark: char) -> Option<Vec<&Number>> {
        let mut first = at;
        while first >= 2 && self.mark(first - 1) == Some(mark) && self.free_number(first - 2).is_some() {
            first -= 2;
        }
        (first < at).then(|| (first..=at).step_by(2).filter_map(|at| self.number(at)).collect())
    }

    /// `10 000` where the number at `at` may be the last group of a longer one.
    fn grouped(&self, at: usize) -> Option<Number> {
        let is_whole = |number: &&Number| number.digits().bytes().all(|c| c.is_ascii_digit());
        let last = self.number(at).filter(|number| number.digits().len() == 3).filter(is_whole)?;
        let first =
            self.free_number(at.checked_sub(1)?).filter(|number| number.digits().len() <= 3).filter(is_whole)?;
        let apart = !self.tokens[at].glued
            && !self.tokens[at - 1].glued
            && !last.negative
            && !last.plus
            && !first.digits().starts_with('0');
        apart.then(|| Number::new(format!("{}{}", first.digits(), last.digits()), first.negative, first.plus, 0))
    }

    /// The 25 of `25/50 V`: a usual voltage without unit before a higher one. `470/50V` is a capacitance and a voltage.
    fn voltage_before(&self, at: usize) -> Option<f64> {
        // Common practice, no source.
        const USUAL_V: [f64; 23] = [
            3.0, 6.0, 6.3, 10.0, 12.0, 15.0, 16.0, 25.0, 30.0, 35.0, 50.0, 63.0, 70.0, 80.0, 100.0, 160.0, 200.0,
            250.0, 315.0, 350.0, 385.0, 400.0, 450.0,
        ];
        let slash = at.checked_sub(1).filter(|&slash| self.mark(slash) == Some('/'))?;
        let before = self.free_number(slash.checked_sub(1)?)?.value()?;
        (USUAL_V.contains(&before) && before < self.number(at)?.value()?).then_some(before)
    }

    /// `1E` apart from other words, a maker's code of 25 V; one that is a figure with its unit is none here.
    fn voltage_code(&self, at: usize) -> Option<Reading<f64>> {
        let (digit, letter) = (self.free_number(at)?.digits(), self.word(at + 1)?);
        let glued = |at: usize| self.tokens.get(at).is_some_and(|placed| placed.glued);
        let alone = !glued(at) && glued(at + 1) && !glued(at + 2) && self.unit(at).is_none();
        let volts = voltage::of_code(&format!("{digit}{letter}")).filter(|_| alone)?;
        Some(ask(Doubt::VoltageCodes, vec![volts]))
    }

    fn is_condition(&self, at: usize) -> bool {
        let before = |back: usize| at.checked_sub(back);
        let marked = before(1).is_some_and(|at| {
            self.mark(at) == Some('@') || self.word(at).is_some_and(|word| word.eq_ignore_ascii_case("at"))
        });
        marked
            || before(1).is_some_and(|mark| self.mark(mark) == Some('/'))
                && before(2).is_some_and(|word| self.word(word).is_some_and(|w| w.to_lowercase().ends_with("rms")))
    }

    /// `-40°C ~ 105°C` from `at` on: the range and the token behind it.
    fn range(&self, at: usize) -> Option<(TempRange, usize)> {
        let low = self.number(at).filter(|number| number.negative)?;
        let celsius = |at: usize| self.word(at).is_some_and(|word| Unit::parse(word) == Some(Unit::Celsius));
        let mut next = at + 1;
        next += usize::from(celsius(next));
        while matches!(self.mark(next), Some('~' | '-' | '/' | '.' | '+'))
            || self.word(next).is_some_and(|word| word.eq_ignore_ascii_case("to"))
        {
            next += 1;
        }
        let high = self.number(next).filter(|number| !number.negative)?;
        let (min_c, max_c) = (low.value()?, high.value()?);
        (celsius(next + 1) && min_c < max_c && min_c > -273.15 && max_c < 1000.0)
            .then_some((TempRange { min_c: Some(min_c), max_c }, next + 2))
    }
}
