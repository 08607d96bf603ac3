//! Property tests over all readers: what is printed reads back, and no text makes a reader panic.

use proptest::prelude::*;

use super::*;

/// Values over many decades with few and many digits.
fn positive(least: f64, most: f64) -> impl Strategy<Value = f64> {
    prop_oneof![
        (1u32..100_000, -3i32..3).prop_filter_map("in range", move |(digits, exponent)| {
            let value: f64 = format!("{digits}e{exponent}").parse().ok()?;
            (value >= least && value <= most).then_some(value)
        }),
        least..most,
    ]
}

/// The value comes back under the dot; with nothing known it comes back or is among the options, never another value alone.
macro_rules! reads_back {
    ($read:expr, $text:expr, $value:expr) => {{
        let text: String = $text;
        prop_assert_eq!($read(&text, &Column::dot()), Reading::Value($value), "{}", text);
        match $read(&text, &Column::default()) {
            Reading::Value(value) => prop_assert_eq!(value, $value, "{}", text),
            Reading::Ambiguous { options, .. } => prop_assert!(options.contains(&$value), "{}", text),
            other => prop_assert!(false, "{} gives {:?}", text, other),
        }
    }};
}

proptest! {
    #[test]
    fn capacitance_reads_back(value in positive(1e-6, 1e9)) {
        reads_back!(capacitance::read, capacitance::print(value), value);
    }

    #[test]
    fn voltage_reads_back(value in positive(0.1, 9999.0)) {
        reads_back!(voltage::read, voltage::print(value), value);
    }

    #[test]
    fn ripple_reads_back(ripple_a in positive(1e-4, 999.0), hz in prop::option::of(positive(1.0, 1e6)), temp_c in prop::option::of(-50i32..150)) {
        let ripple = ripple::Ripple { ripple_a, hz, temp_c: temp_c.map(f64::from) };
        reads_back!(ripple::read, ripple::print(&ripple), ripple);
    }

    #[test]
    fn esr_reads_back(esr_mohm in positive(0.1, 1e6), hz in prop::option::of(positive(1.0, 1e6)), temp_c in prop::option::of(-50i32..150)) {
        let esr = esr::Esr { esr_mohm, hz, temp_c: temp_c.map(f64::from) };
        reads_back!(esr::read, esr::print(&esr), esr);
    }

    #[test]
    fn frequency_reads_back(hz in positive(0.1, 1e9)) {
        reads_back!(frequency::read, frequency::print(hz), hz);
    }

    #[test]
    fn endurance_reads_back(hours in positive(48.0, 1e6), temp_c in prop::option::of(-50i32..200)) {
        let endurance = endurance::Endurance { hours, temp_c: temp_c.map(f64::from) };
        reads_back!(endurance::read, endurance::print(&endurance), endurance);
    }

    #[test]
    fn temperature_reads_back(temp_c in -100.0f64..500.0, width in 1.0f64..200.0) {
        reads_back!(temperature::read, temperature::print(temp_c), temp_c);
        let range = temperature::TempRange { min_c: Some(temp_c), max_c: temp_c + width };
        reads_back!(temperature::read_range, temperature::print_range(&range), range);
    }

    #[test]
    fn tolerance_reads_back(minus_pct in positive(0.1, 99.0), plus_pct in positive(0.1, 299.0), same: bool) {
        let tolerance = tolerance::Tolerance { minus_pct, plus_pct: if same { minus_pct } else { plus_pct } };
        reads_back!(tolerance::read, tolerance::print(&tolerance), tolerance);
    }

    #[test]
    fn leakage_reads_back(leakage_ua in positive(1e-3, 1e6), after_min in prop::option::of(1u8..120)) {
        let leakage = leakage::Leakage { leakage_ua, after_min: after_min.map(f64::from) };
        reads_back!(leakage::read, leakage::print(&leakage), leakage);
    }

    #[test]
    fn length_reads_back(mm in -9999.0f64..9999.0) {
        reads_back!(length::read, format!("{mm} mm"), mm);
    }

    #[test]
    fn percent_reads_back(percent in -1000.0f64..1000.0) {
        reads_back!(percent::read, format!("{percent} %"), percent);
    }

    #[test]
    fn number_reads_back(value in prop_oneof![-1e9f64..1e9, (-1_000_000i32..1_000_000).prop_map(f64::from)]) {
        reads_back!(number::read, number::print(value), value);
    }

    #[test]
    fn price_reads_back(amount in positive(1e-4, 1e8), currency in prop::option::of("[A-Z]{3}")) {
        let price = price::Price { amount, currency };
        reads_back!(price::read, format!("{amount} {}", price.currency.as_deref().unwrap_or_default()).trim_end().to_owned(), price.clone());
    }

    #[test]
    fn price_breaks_read_back(steps in prop::collection::btree_map(1u64..1_000_000, positive(1e-3, 1e6), 1..10)) {
        let breaks: Vec<price::PriceBreak> = steps.into_iter().map(|(from_qty, unit_price)| price::PriceBreak { from_qty, unit_price }).collect();
        reads_back!(price::read_breaks, breaks.iter().map(|step| format!("{}:{}", step.from_qty, step.unit_price)).collect::<Vec<_>>().join(";"), breaks.clone());
    }

    #[test]
    fn size_reads_back(
        diameter_mm in prop::option::of(positive(0.1, 299.0)),
        height_mm in prop::option::of(positive(0.1, 299.0)),
        pitch_mm in prop::option::of(positive(0.1, 99.0)),
        lead_d_mm in prop::option::of(positive(0.1, 9.0)),
        base_mm in prop::option::of(positive(0.1, 99.0)),
    ) {
        let size = body::Size { diameter_mm, height_mm, pitch_mm, lead_d_mm, base_mm };
        prop_assume!(size != body::Size::default());
        reads_back!(size::read, size::print(&size), size);
    }

    #[test]
    fn no_text_makes_a_reader_panic(text in prop_oneof![any::<String>(), "[0-9.,' uµnpmFVvAaRrhH%±°CxX×DØPLHW()/@~+eE\"-]{0,24}", "[-+0-9.,]{0,60}"]) {
        let columns = [Column::default(), Column::dot(), Column { decimal: Decimal::Comma, unit: Some(Unit::MicroOrMillifarad), ..Column::default() }];
        for column in &columns {
            let _ = capacitance::read(&text, column);
            let _ = voltage::read(&text, column);
            let _ = ripple::read(&text, column);
            let _ = esr::read(&text, column);
            let _ = frequency::read(&text, column);
            let _ = endurance::read(&text, column);
            let _ = temperature::read(&text, column);
            let _ = temperature::read_range(&text, column);
            let _ = tolerance::read(&text, column);
            let _ = leakage::read(&text, column);
            let _ = length::read(&text, column);
            let _ = percent::read(&text, column);
            let _ = number::read(&text, column);
            let _ = price::read(&text, column);
            let _ = price::read_breaks(&text, column);
            let _ = size::read(&text, column);
            let _ = text::find(&text, column);
        }
        let _ = family::family(&[&text]);
        let _ = header::hints(&text);
        let _ = number::column_decimal([text.as_str()]);
        let _ = order::column_order([text.as_str()], &Column::default());
    }

    /// A reader never answers with a value that is not finite.
    #[test]
    fn every_value_is_finite(text in "[0-9]{1,400}(e[+-][0-9]{1,4})?(V|uF|A)?") {
        for reading in [capacitance::read(&text, &Column::dot()), voltage::read(&text, &Column::dot()), number::read(&text, &Column::dot())] {
            prop_assert!(reading.value().is_none_or(f64::is_finite));
        }
    }
}
