//! Numbers as people read them, the same in window, sheets and terminal; files keep plain numbers.

/// Between the thousands of a number of five digits or more (ISO 80000-1): it does not break a line.
const THIN: char = '\u{a0}';

/// A decimal text with its thousands set apart and a true minus: `131 400`, `−0.5`.
pub fn grouped(text: &str) -> String {
    let (minus, digits) = text.strip_prefix('-').map_or(("", text), |digits| ("−", digits));
    let (whole, rest) = digits.split_at(digits.find(|c: char| !c.is_ascii_digit()).unwrap_or(digits.len()));
    let mut out = minus.to_owned();
    for (at, digit) in whole.chars().enumerate() {
        if whole.len() > 4 && at > 0 && (whole.len() - at).is_multiple_of(3) {
            out.push(THIN);
        }
        out.push(digit);
    }
    out + rest
}

/// Figures with three significant digits, trailing zeros dropped; large ones whole.
pub fn figure(value: f64) -> String {
    if value.is_infinite() {
        return if value > 0.0 { "unlimited".into() } else { "below any limit".into() };
    }
    let magnitude = value.abs();
    let decimals = match magnitude {
        m if m >= 99.95 || m == 0.0 => 0,
        m if m >= 9.995 => 1,
        m if m >= 0.9995 => 2,
        m if m >= 0.0995 => 3,
        m if m >= 0.00995 => 4,
        m if m >= 0.000995 => 5,
        _ => return grouped(&format!("{value:.2e}")),
    };
    let text = format!("{value:.decimals$}");
    let text = if decimals == 0 { &text } else { text.trim_end_matches('0').trim_end_matches('.') };
    grouped(text)
}

/// `1 part`, `2 parts`.
pub fn counted(number: usize, one: &str, more: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { more })
}

/// A share as percent without decimals: `76 %`.
pub fn percent(share: f64) -> String {
    grouped(&format!("{:.0} %", share * 100.0))
}

/// A temperature rise in K, with the decimals a thermometer could tell: `12.3`, of a small one `0.08`.
pub fn rise(rise_k: f64) -> String {
    if rise_k < 1.0 { format!("{rise_k:.2}") } else { format!("{rise_k:.1}") }
}

/// A frequency: `120 Hz`, `100 kHz`.
pub fn hertz(value: f64) -> String {
    if value.abs() < 1000.0 { format!("{} Hz", figure(value)) } else { format!("{} kHz", figure(value / 1e3)) }
}

/// The price of one piece, to four decimals.
pub fn price(value: f64) -> String {
    grouped(&format!("{value:.4}"))
}

/// A sum of money, to two decimals.
pub fn money(value: f64) -> String {
    grouped(&format!("{value:.2}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_read_as_the_trade_prints_them() {
        assert_eq!(figure(131_400.0), "131\u{a0}400");
        assert_eq!(figure(4700.0), "4700");
        assert_eq!(figure(-0.5), "−0.5");
        assert_eq!(figure(1_234_567.0), "1\u{a0}234\u{a0}567");
        assert_eq!(figure(0.000_05), "5.00e-5");
        assert_eq!(percent(0.756), "76 %");
        assert_eq!((hertz(120.0), hertz(66_000.0)), ("120 Hz".to_owned(), "66 kHz".to_owned()));
        assert_eq!((price(0.0889), money(1084.449)), ("0.0889".to_owned(), "1084.45".to_owned()));
        assert_eq!(money(-12_084.5), "−12\u{a0}084.50");
    }
}
