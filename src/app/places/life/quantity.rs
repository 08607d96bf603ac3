//! Numbers with units as a person types them: `58`, `58 °C`, `0,8A`, `66 kHz`, `55 %`.

/// The value of `text` in `unit`; empty text is "not known". A multiple of the unit (`mA`, `kHz`) is understood, a percent sign is a
/// hundredth where the unit is a plain number, and a comma is a decimal sign.
///
/// # Errors
/// What was expected, when something else stands there.
pub(super) fn read(text: &str, unit: &str) -> Result<Option<f64>, String> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(None);
    }
    let refused = || {
        let example = if unit.is_empty() { "0.5 or 50 %".to_owned() } else { format!("12 {unit}") };
        format!("\"{text}\": expected a number such as {example}")
    };
    let end = text.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+' | 'e' | 'E')));
    // An e or E behind the digits may begin a unit, not an exponent.
    let (mut number, mut behind) = text.split_at(end.unwrap_or(text.len()));
    if let Some(bare) = number.strip_suffix(['e', 'E']) {
        number = bare;
        behind = &text[bare.len()..];
    }
    let value: f64 = number.replace(',', ".").parse().map_err(|_| refused())?;
    let factor = factor(behind.trim(), unit).ok_or_else(refused)?;
    let value = value * factor;
    if value.is_finite() { Ok(Some(value)) } else { Err(refused()) }
}

/// What a word behind the number multiplies it by.
fn factor(word: &str, unit: &str) -> Option<f64> {
    let plain = |text: &str| text.replace('μ', "µ").trim_start_matches('°').replace("Ohm", "Ω").replace("ohm", "Ω");
    // `V rms` is meant when somebody types `V`.
    let unit = plain(unit.split(' ').next().unwrap_or_default());
    let word = plain(word);
    let word = word.split(' ').next().unwrap_or_default();
    if word.is_empty() || word == unit {
        return Some(1.0);
    }
    if unit.is_empty() {
        return (word == "%").then_some(0.01);
    }
    let scale = |text: &str| {
        const PREFIXES: [(&str, f64); 7] =
            [("p", 1e-12), ("n", 1e-9), ("u", 1e-6), ("µ", 1e-6), ("m", 1e-3), ("k", 1e3), ("M", 1e6)];
        PREFIXES.into_iter().find(|(prefix, _)| *prefix == text).map(|(_, factor)| factor)
    };
    // The unit itself may carry a multiple: `µH`, `mΩ`.
    let (base, own) = match unit.char_indices().nth(1) {
        Some((at, _)) if unit.chars().count() == 2 => match scale(&unit[..at]) {
            Some(own) => (unit[at..].to_owned(), own),
            None => (unit.clone(), 1.0),
        },
        _ => (unit.clone(), 1.0),
    };
    if word == base {
        return Some(1.0 / own);
    }
    let prefix = word.strip_suffix(base.as_str()).unwrap_or(word);
    Some(scale(prefix)? / own)
}

#[cfg(test)]
mod tests {
    use super::read;

    #[test]
    fn numbers_are_read_with_their_unit_a_multiple_of_it_or_none() {
        let close = |text: &str, unit: &str, value: f64| {
            let found = read(text, unit).unwrap().unwrap();
            assert!((found - value).abs() <= 1e-9 * value.abs(), "{text} in {unit}: {found}");
        };
        close("58", "°C", 58.0);
        close("58 °C", "°C", 58.0);
        close("-5C", "°C", -5.0);
        close("0,8 A", "A", 0.8);
        close("800mA", "A", 0.8);
        close("66k", "Hz", 66_000.0);
        close("66 kHz", "Hz", 66_000.0);
        close("1e5", "Hz", 1e5);
        close("55 %", "", 0.55);
        close("0.55", "", 0.55);
        close("47 mH", "µH", 47_000.0);
        close("230 V", "V rms", 230.0);
        close("0.33 ohm", "Ω", 0.33);
    }

    #[test]
    fn nothing_is_unknown_and_nonsense_is_refused_with_an_example() {
        assert_eq!(read("  ", "A"), Ok(None));
        assert!(read("warm", "°C").unwrap_err().contains("expected a number such as 12 °C"));
        assert!(read("12 V", "A").is_err());
        assert!(read("12 %", "A").is_err());
        assert!(read("1e999", "A").is_err());
    }
}
