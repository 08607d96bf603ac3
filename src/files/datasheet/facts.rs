//! What stands in a sheet beside its lists of parts and holds for them: endurance, ripple multipliers by frequency. It is proposed only.

use super::rows::Grid;

/// A table of ripple multipliers.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Multipliers {
    /// Frequencies, Hz.
    pub(super) hz: Vec<f64>,
    /// For a range of capacitances in µF, a factor for each frequency.
    pub(super) rows: Vec<(Range, Vec<f64>)>,
}

/// From above the first to the last.
type Range = (f64, f64);

const HOURS: [&str; 5] = ["hours", "hour", "hrs", "hr", "h"];
const DEGREES: [&str; 6] = ["°c", "℃", "ºc", "˚c", "° c", "c"];

/// Longest text that is looked at.
const TEXT_MAX: usize = 600;

/// `5000 h at 105 °C` from a text about endurance, also `2000 / 5000 h`: hours and temperature of each, and whether the text speaks of the
/// rated ripple current, too.
pub(super) fn lives(text: &str) -> Vec<(f64, f64, bool)> {
    lives_at(text, None)
}

/// The same of a text that may leave the temperature to the rest of the sheet.
pub(super) fn lives_at(text: &str, known_c: Option<f64>) -> Vec<(f64, f64, bool)> {
    let lower = text.to_lowercase();
    let has = |words: &[&str]| words.iter().any(|word| lower.contains(word));
    let about = [
        "endurance",
        "load life",
        "lifetime",
        "life time",
        "life test",
        "useful life",
        "hours at",
        "guaranteed",
        "life of",
        "耐久",
        "寿命",
    ];
    if text.len() > TEXT_MAX || has(&["shelf", "storage", "no load", "without load"]) || !has(&about) {
        return Vec::new();
    }
    let (mut hours, _) = taken(&lower, &[&HOURS[..], &["/", "to", "~", "-", "–"]].concat());
    let (last, _) = taken(&lower, &HOURS);
    let Some(end) = hours.iter().rposition(|h| last.contains(h) && (500.0..=100_000.0).contains(h)) else {
        return Vec::new();
    };
    hours.truncate(end + 1);
    hours.retain(|h| (500.0..=100_000.0).contains(h));
    let temp_c = taken(&lower, &DEGREES).0.into_iter().find(|c| (60.0..=175.0).contains(c)).or(known_c);
    let ripple = lower.contains("ripple");
    temp_c.map_or_else(Vec::new, |temp_c| hours.into_iter().map(|hours| (hours, temp_c, ripple)).collect())
}

/// What a text says of endurance by the diameter of the can: hours, each with diameters in mm from above the first to the last (all of
/// them where it names none): `5000 h (φD ≤ 6.3: 2000 h)`. `None` where it names no diameter, or anything else they depend on.
pub(super) fn by_diameter(text: &str) -> Option<Vec<(f64, Range)>> {
    const WORDS: &str = "d φ φd ø ød dia diameter mm to and up over \
         or more less above below under endurance load life useful at for with c";
    let mut found: Vec<(Option<f64>, Option<Range>)> = Vec::new();
    let lower = text.to_lowercase();
    let clauses = lower.split([';', '(', ')', '（', '）', '、', '，']).flat_map(|part| part.split(", "));
    for (at, clause) in clauses.enumerate() {
        let (hours, rest) = taken(clause, &HOURS);
        let (_, rest) = taken(&rest, &DEGREES);
        let words = || rest.split(|c: char| !c.is_alphabetic()).filter(|word| !word.is_empty());
        let of_cans = rest.contains(['φ', 'ø']) || words().any(|word| word == "d" || word.starts_with("diam"));
        let figured = rest.contains(|c: char| c.is_ascii_digit());
        let hours = match hours.as_slice() {
            [] => None,
            &[one] if (500.0..=100_000.0).contains(&one) => Some(one),
            _ => return None,
        };
        let range = match (
            of_cans && figured,
            words().all(|word| WORDS.split(' ').any(|known| known == word) || HOURS.contains(&word)),
        ) {
            (true, true) => Some(range(rest.split(':').find(|part| part.contains(|c: char| c.is_ascii_digit()))?)?),
            // Sizes, suffixes, voltages: what they say is not only about diameters.
            (true, false) => return None,
            (false, _) if figured && at > 0 => return None,
            (false, _) => None,
        };
        match found.last_mut().filter(|last| hours.is_none() && last.0.is_some() && last.1.is_none()) {
            Some(last) if range.is_some() => last.1 = range,
            _ => found.push((hours, range)),
        }
    }
    let named = found.iter().any(|(_, range)| range.is_some());
    let complete = found.iter().all(|(hours, range)| range.is_none() || hours.is_some());
    let lives = found.into_iter().filter_map(|(hours, range)| Some((hours?, range.unwrap_or((0.0, f64::INFINITY)))));
    (named && complete).then(|| lives.collect())
}

/// The hours for a diameter in mm: those of the narrowest range it is in.
pub(super) fn hours_for(lives: &[(f64, Range)], mm: f64) -> Option<f64> {
    // Of two ranges without an end the one that begins later.
    let width = |range: &Range| range.1.min(1e6) - range.0;
    let holds = || lives.iter().filter(|(_, range)| mm > range.0 && mm <= range.1);
    let least = holds().map(|(_, range)| width(range)).reduce(f64::min)?;
    let mut narrowest = holds().filter(|(_, range)| width(range) <= least);
    let (hours, _) = narrowest.next()?;
    narrowest.all(|(other, _)| other == hours).then_some(*hours)
}

/// Whether the names over a table speak of endurance at a temperature.
pub(super) fn is_about_life(header: &str) -> bool {
    !lives(&format!("{header} 1000 h")).is_empty()
}

/// Figures before one of the units, which no letter follows, and the text without them; blanks and thousands' commas are passed.
fn taken(text: &str, units: &[&str]) -> (Vec<f64>, String) {
    let (mut found, mut left) = (Vec::new(), String::new());
    let mut rest = text;
    while let Some(at) = rest.find(|c: char| c.is_ascii_digit()) {
        left.push_str(&rest[..at]);
        rest = &rest[at..];
        let end = rest
            .char_indices()
            .find(|&(at, c)| {
                let group = matches!(c, ',' | ' ')
                    && rest[at + 1..].bytes().take_while(u8::is_ascii_digit).count() == 3
                    && at <= 3;
                !(c.is_ascii_digit() || c == '.' || group)
            })
            .map_or(rest.len(), |(at, _)| at);
        let value: String = rest[..end].chars().filter(|c| c.is_ascii_digit() || *c == '.').collect();
        let behind = rest[end..].trim_start();
        let unit = units
            .iter()
            .any(|unit| behind.strip_prefix(unit).is_some_and(|after| !after.starts_with(|c: char| c.is_alphabetic())));
        found.extend(value.parse::<f64>().ok().filter(|_| unit));
        left.push_str(if unit { "" } else { &rest[..end] });
        rest = &rest[end..];
    }
    left.push_str(rest);
    (found, left)
}

/// The multipliers of a grid, if it is a table of them; `Err` says why such a table cannot be used.
pub(super) fn multipliers(grid: &Grid, title: &str) -> Option<Result<Multipliers, String>> {
    let all = format!("{title} {}", grid.texts.iter().flatten().cloned().collect::<Vec<_>>().join(" ")).to_lowercase();
    let of_ripple = ["multiplier", "coefficient", "correction", "factor"].iter().any(|word| all.contains(word));
    if !of_ripple || !(all.contains("freq") || all.contains("hz")) || all.len() > 4000 {
        return None;
    }
    // Ranges of capacitance may stand over the columns and frequencies before the rows.
    let width = grid.texts.iter().map(Vec::len).max().unwrap_or(0);
    let across = |at: usize| grid.texts.iter().map(|row| row.get(at).cloned().unwrap_or_default()).collect();
    by_frequency(&grid.texts).or_else(|| by_frequency(&(0..width).map(across).collect::<Vec<_>>()))
}

/// The multipliers of rows under a row of frequencies.
fn by_frequency(texts: &[Vec<String>]) -> Option<Result<Multipliers, String>> {
    let (head, places) = texts.iter().enumerate().find_map(|(row, texts)| {
        let places: Vec<(usize, f64)> =
            texts.iter().enumerate().filter_map(|(at, text)| Some((at, frequency(text)?))).collect();
        // Voltages over columns look like frequencies, too.
        let named = texts.iter().any(|text| {
            let text = text.to_lowercase();
            text.contains("freq")
                || text.contains("hz")
                || text.starts_with(|c: char| c.is_ascii_digit()) && text.contains('k')
        });
        (named && places.len() >= 3 && places.windows(2).all(|pair| pair[0].1 < pair[1].1)).then_some((row, places))
    })?;
    // A frequency that is not understood would leave the last known factor for it.
    let unread = texts[head][places[0].0..].iter().filter(|text| !text.trim().is_empty());
    if let Some(text) =
        unread.clone().find(|text| frequency(text).is_none() && text.contains(|c: char| c.is_ascii_digit()))
    {
        return Some(Err(format!("its frequency {text} cannot be read")));
    }
    let mut found = Multipliers { hz: places.iter().map(|place| place.1).collect(), rows: Vec::new() };
    for texts in &texts[head + 1..] {
        let factors: Vec<f64> = places
            .iter()
            .filter_map(|&(at, _)| texts.get(at)?.trim().parse().ok())
            .filter(|factor| (0.05..=4.0).contains(factor))
            .collect();
        if factors.len() < places.len() {
            continue;
        }
        let labels: Vec<&String> =
            texts[..places[0].0].iter().filter(|text| text.contains(|c: char| c.is_ascii_digit())).collect();
        let mut labels = labels;
        labels.dedup();
        match labels.as_slice() {
            [] => found.rows.push(((0.0, f64::INFINITY), factors)),
            [one] if one.trim().parse::<f64>().is_ok_and(|factor| factor < 4.0) => {
                return Some(Err("its first frequency cannot be read".to_owned()));
            }
            [one] => match range(one) {
                Some(range) => found.rows.push((range, factors)),
                None => return Some(Err(format!("its rows hold for {one}, which is no range of capacitances"))),
            },
            _ => return Some(Err("its rows hold for voltages and capacitances together".to_owned())),
        }
    }
    let corner = texts[..=head].iter().flat_map(|texts| texts.iter().take(places[0].0)).cloned().collect::<String>();
    let several = found.rows.len() > 1;
    if several && corner.to_lowercase().contains("volt") {
        return Some(Err("its rows hold for voltages".to_owned()));
    }
    if found.rows.is_empty() {
        return None;
    }
    // Two rows for one capacitance contradict each other.
    let apart = |a: &Range, b: &Range| a.1 <= b.0 || b.1 <= a.0;
    let clear = (0..found.rows.len()).all(|i| (0..i).all(|j| apart(&found.rows[i].0, &found.rows[j].0)));
    Some(if clear { Ok(found) } else { Err("its rows overlap".to_owned()) })
}

/// `120`, `120 Hz`, `1k`, `10 kHz`, `50(60)`, `100k≦`; the first frequency of several.
fn frequency(text: &str) -> Option<f64> {
    let text = text.trim().trim_start_matches(['≥', '≧', '>']).trim_start();
    let end = text.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(text.len());
    let value: f64 = text[..end].parse().ok()?;
    let unit = text[end..].trim_start().to_lowercase();
    let kilo = unit.starts_with('k') || unit.contains('k') && !unit.contains('(');
    let ends = |c: char| "≦≤<≧≥>+~-–. and or to up more over above以上min".contains(c);
    let known = ["", "hz", "k", "khz"].contains(&unit.trim_end_matches(ends))
        || unit
            .trim_start_matches('k')
            .trim_start_matches("hz")
            .trim_start()
            .starts_with(['(', '/', '~', '-', '–', '≦', '≤', ',', '・']);
    let hz = if kilo { value * 1e3 } else { value };
    (known && (40.0..=1e6).contains(&hz)).then_some(hz)
}

/// Capacitances from above the first to the last, µF: `18 to 82`, `≤10`, `100<CAP≤1000`, `>1000`, `470`.
fn range(text: &str) -> Option<Range> {
    /// Just below a lower bound that belongs to the range.
    const BELOW: f64 = 0.999;
    let plain = text.replace(',', "");
    let mut values: Vec<f64> =
        plain.split(|c: char| !(c.is_ascii_digit() || c == '.')).filter_map(|piece| piece.parse().ok()).collect();
    let lower = plain.trim().to_lowercase();
    if lower.split(|c: char| !c.is_alphabetic()).any(|word| ["v", "wv", "vdc", "volt", "volts"].contains(&word))
        || values.is_empty()
        || values.len() > 2
    {
        return None;
    }
    values.sort_by(f64::total_cmp);
    let has = |signs: &[char]| plain.contains(signs);
    Some(match *values.as_slice() {
        [low, high] if has(&['<', '＜']) => (low, high),
        [low, high] => (low * BELOW, high * 1.001),
        [one] => {
            let first = plain.find(|c: char| c.is_ascii_digit()).unwrap_or(0);
            let words: Vec<&str> = lower.split(|c: char| !c.is_alphabetic()).collect();
            if ["to", "up", "under", "below", "less"].contains(&words[0]) {
                return Some((0.0, if words[0] == "under" || words[0] == "below" { one * BELOW } else { one }));
            }
            if ["over", "more", "above", "min"].iter().any(|word| words.contains(word)) {
                return Some((one * BELOW, f64::INFINITY));
            }
            let letter_before = plain[..first].contains(char::is_alphabetic);
            let number_first = !letter_before && plain[first..].contains(char::is_alphabetic);
            // `CAP ≤ 10` and `≤ 10` reach up to it, `10 < CAP` and `> 10` begin with it.
            match (has(&['<', '≤', '≦', '＜']), has(&['>', '≥', '≧', '＞'])) {
                (true, false) if number_first => (one * if has(&['≤', '≦']) { BELOW } else { 1.0 }, f64::INFINITY),
                (true, false) => (0.0, if has(&['≤', '≦']) { one } else { one * BELOW }),
                (false, true) if number_first => (0.0, one),
                (false, true) => (if has(&['≥', '≧']) { one * BELOW } else { one }, f64::INFINITY),
                (false, false) => (one * BELOW, one * 1.001),
                (true, true) => return None,
            }
        }
        _ => return None,
    })
}

impl Multipliers {
    /// The multipliers for a capacitance in µF, as in the catalogue's column (`120:0.5;1000:0.8`); for tables of one row those for any.
    pub(super) fn pairs(&self, capacitance_uf: Option<f64>) -> Option<String> {
        let for_all = |(range, _): &&(Range, Vec<f64>)| *range == (0.0, f64::INFINITY);
        let holds = |((above, to), _): &&(Range, Vec<f64>)| capacitance_uf.is_some_and(|uf| uf > *above && uf <= *to);
        let (_, factors) = self.rows.iter().find(for_all).or_else(|| self.rows.iter().find(holds))?;
        let pairs: Vec<String> = self.hz.iter().zip(factors).map(|(hz, factor)| format!("{hz}:{factor}")).collect();
        Some(pairs.join(";"))
    }
}

#[cfg(test)]
#[path = "../../../tests/within/sheet_facts.rs"]
mod tests;
