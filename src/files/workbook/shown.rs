//! Numbers of cells as words: the figure as it was typed, with the literal text, percent sign and leading zeros that its format shows around it.

/// What a number format adds to the figure. Rounding is no part of it: the figure itself is kept whole.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Around {
    before: String,
    after: String,
    percent: bool,
    /// Digits before the point at least, where the format has no decimals.
    digits_least: usize,
}

/// Words that a format may repeat for every figure; longer ones are no unit.
const LITERAL_MOST: usize = 12;

impl Around {
    /// What the code of a format adds (`0.0" µF"`, `0%`, `0000`, `[$€-407] #,##0.00`); its part for positive figures counts.
    pub(super) fn of_format(code: &str) -> Self {
        let mut around = Self::default();
        let mut integer = String::new();
        let (mut digits, mut decimals) = (false, false);
        let mut chars = code.chars();
        while let Some(c) = chars.next() {
            let mut literal = String::new();
            match c {
                ';' => break,
                '"' => literal.extend(chars.by_ref().take_while(|&c| c != '"')),
                '\\' => literal.extend(chars.next()),
                '_' | '*' => _ = chars.next(),
                '[' => {
                    let inside: String = chars.by_ref().take_while(|&c| c != ']').collect();
                    if let Some(currency) = inside.strip_prefix('$') {
                        literal.push_str(currency.split('-').next().unwrap_or_default());
                    }
                }
                '%' => around.percent = true,
                '0' | '#' | '?' => {
                    digits = true;
                    around.after.clear();
                    if !decimals {
                        integer.push(c);
                    }
                }
                '.' => decimals = true,
                '$' | '€' | '£' | '¥' | 'µ' | 'Ω' | '°' | '±' => literal.push(c),
                'G' | 'g' if chars.as_str().to_lowercase().starts_with("eneral") => {
                    digits = true;
                    chars.nth("eneral".len() - 1);
                }
                ' ' => literal.push(' '),
                _ => {}
            }
            if digits { around.after.push_str(&literal) } else { around.before.push_str(&literal) }
        }
        around.digits_least = if decimals { 0 } else { integer.chars().rev().take_while(|&c| c == '0').count() };
        around.without_sentences()
    }

    /// What stands around the figure of a text as it is displayed (`4,7 µF`).
    pub(super) fn of_display(text: &str) -> Self {
        let text = text.trim();
        let figure = |c: char| c.is_ascii_digit() || matches!(c, '-' | '−' | '+' | '.' | ',');
        let Some(first) = text.find(figure) else { return Self::default() };
        let Some(last) = text.rfind(|c: char| c.is_ascii_digit()) else { return Self::default() };
        let zeros = text.bytes().all(|c| c.is_ascii_digit()) && text.starts_with('0');
        let (before, after) = (text[..first].to_owned(), text.get(last + 1..).unwrap_or_default().to_owned());
        let percent = after.trim() == "%";
        let after = if percent { String::new() } else { after };
        Self { before, after, percent, digits_least: if zeros { text.len() } else { 0 } }.without_sentences()
    }

    fn without_sentences(mut self) -> Self {
        for text in [&mut self.before, &mut self.after] {
            if text.chars().count() > LITERAL_MOST || text.chars().any(|c| matches!(c, '(' | ')')) {
                text.clear();
            }
        }
        self
    }

    /// The figure in words.
    pub(super) fn figure(&self, value: f64) -> String {
        let value = if self.percent { value * 100.0 } else { value };
        let mut number = plain(value);
        if number.bytes().all(|c| c.is_ascii_digit()) && number.len() < self.digits_least {
            number.insert_str(0, &"0".repeat(self.digits_least - number.len()));
        }
        let percent = if self.percent { "%" } else { "" };
        format!("{}{number}{percent}{}", self.before, self.after).trim().to_owned()
    }
}

/// A figure as it was typed: the shortest decimals within the fifteen digits a spreadsheet keeps.
pub(super) fn plain(value: f64) -> String {
    if !value.is_finite() {
        return String::new();
    }
    let rounded = format!("{value:.14e}").parse().unwrap_or(value);
    format!("{rounded}")
}

/// A date and a time of day; the time alone for day 0, the date alone for midnight.
pub(super) fn moment((year, month, day, hour, minute, second, _): (u16, u8, u8, u8, u8, u8, u16), days: f64) -> String {
    let time =
        if second == 0 { format!("{hour:02}:{minute:02}") } else { format!("{hour:02}:{minute:02}:{second:02}") };
    if days.abs() < 1.0 {
        return time;
    }
    let date = format!("{year:04}-{month:02}-{day:02}");
    if days.fract() == 0.0 { date } else { format!("{date} {time}") }
}

#[cfg(test)]
#[path = "../../../tests/within/workbook_shown.rs"]
mod tests;
