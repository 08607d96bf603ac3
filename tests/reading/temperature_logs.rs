//! Temperature logs in many notations.

use std::path::Path;

use proptest::prelude::*;

use refarad::files::temperature_log::{LogAnswers, LogError, Scale, TemperatureLog, from_bytes};

fn log(text: &str) -> TemperatureLog {
    from_bytes(text.as_bytes(), Path::new("log.csv"), &LogAnswers::default()).unwrap()
}

fn samples(log: &TemperatureLog) -> Vec<(f64, f64)> {
    log.stretches.iter().map(|s| (s.weight, (s.ambient_c * 1e6).round() / 1e6)).collect()
}

const EXPECTED: [(f64, f64); 3] = [(600.0, 41.5), (600.0, 42.0), (600.0, 40.25)];

#[test]
fn the_same_log_in_many_notations_reads_the_same() {
    let texts = [
        "time,temp_c\n2026-10-02T23:50:00Z,41.5\n2026-10-03T00:00:00Z,42\n2026-10-03T00:10:00Z,40.25\n",
        "Zeit;Temperatur °C\n02.10.2026 23:50;41,5\n03.10.2026 00:00;42,0\n03.10.2026 00:10;40,25\n",
        "Logger 7\nsite: dome\n\nDate\tTime\tTemp (°F)\n10/22/2026\t11:50:00 PM\t106.7\n10/23/2026\t12:00:00 AM\t107.6\n10/23/2026\t12:10:00 AM\t104.45\n",
        "time_min,ambient (C)\n0,41.5\n10,42\n20,40.25\n",
        "elapsed [h],t (K)\n0,314.65\n0.16666666666666666,315.15\n0.3333333333333333,313.4\n",
        "23:50:00;41,5 °C\n00:00:00;42,0 °C\n00:10:00;40,25 °C\n",
        "1790985000,41.5\n1790985600,42\n1790986200,40.25\n",
        "time (ms),°C\n1790985000000,41.5\n1790985600000,42\n1790986200000,40.25\n",
        "#,Date Time,Humidity %,Temperature (°C)\n1,2026-10-02 23:50,40,41.5\n2,2026-10-03 00:00,41,42\n3,2026-10-03 00:10,42,40.25\n",
        "Elapsed,Probe\n(s),(K)\n0,314.65\n600,315.15\n1200,313.4\n",
        "time,temp_c\n2026-10-03 00:10,40.25\n2026-10-03 00:00,42\n2026-10-02 23:50,41.5\n",
    ];
    for text in texts {
        let log = log(text);
        let found = samples(&log);
        for (found, expected) in found.iter().zip(EXPECTED) {
            assert!((found.0 - expected.0).abs() < 1e-6 && (found.1 - expected.1).abs() < 1e-6, "{text}\n{found:?}");
        }
        assert_eq!((found.len(), log.rejected.len()), (3, 0), "{text}\n{:?}", log.rejected);
        assert!((log.length_s - 1200.0).abs() < 1e-6 && (log.step_s - 600.0).abs() < 1e-6);
    }
}

#[test]
fn what_was_assumed_is_said() {
    let says = |text: &str, part: &str| {
        let notes = log(text).notes;
        assert!(notes.iter().any(|note| note.contains(part)), "{notes:?}");
    };
    says("0,20\n1,21\n2,22.5\n2.5,20\n", "read as seconds (assumed)");
    says("0,20\n1,21\n2,22.5\n2.5,20\n", "read as °C (assumed)");
    says("time,temp_c\n03/04/2026 10:00,20\n03/04/2026 10:10,21\n", "day first (assumed)");
    says("time,temp_c\n2026-01-01 10:10,20\n2026-01-01 10:00,21\n", "sorted by time");
}

#[test]
fn a_log_in_the_letters_of_a_country_is_read_and_its_encoding_said() {
    let rows = "2026-10-02 23:50;41,5\n2026-10-03 00:00;42,0\n2026-10-03 00:10;40,25\n";
    let encoded = |encoding: &'static encoding_rs::Encoding, header: &str| {
        encoding.encode(&format!("{header}\n{rows}")).0.into_owned()
    };
    let french = [b"Heure;Temp\x82rature (\xF8C)\n", rows.as_bytes()].concat();
    for (bytes, column, encoding) in [
        (encoded(encoding_rs::GBK, "时间;温度(℃)"), "温度(℃)", "GB 18030"),
        (encoded(encoding_rs::SHIFT_JIS, "日時;温度[℃]"), "温度[℃]", "Shift JIS"),
        (encoded(encoding_rs::EUC_KR, "시간;온도(℃)"), "온도(℃)", "EUC-KR"),
        (encoded(encoding_rs::KOI8_R, "Время;Температура, °C"), "Температура, °C", "KOI8"),
        (french, "Température (°C)", "DOS"),
    ] {
        let log = from_bytes(&bytes, Path::new("log.csv"), &LogAnswers::default()).unwrap();
        assert_eq!((log.column.as_deref(), log.scale), (Some(column), Some(Scale::Celsius)), "{encoding}");
        assert_eq!(log.stretches.len(), 3);
        assert!(log.notes[0].contains(encoding), "{:?}", log.notes);
    }
}

#[test]
fn the_order_of_day_and_month_is_the_one_in_which_the_days_follow_each_other() {
    let log = log("time,temp_c\n10/02/26 11:50:00 PM,41.5\n10/03/26 12:00:00 AM,42\n10/03/26 12:10:00 AM,40.25\n");
    assert_eq!((log.length_s, samples(&log)), (1200.0, EXPECTED.to_vec()));
    assert!(log.notes[0].contains("month first"), "{:?}", log.notes);
}

fn answered(text: &str, column: Option<&str>, scale: Option<Scale>) -> Result<TemperatureLog, LogError> {
    from_bytes(text.as_bytes(), Path::new("log.csv"), &LogAnswers { column: column.map(str::to_owned), scale })
}

#[test]
fn which_of_several_columns_is_asked_and_never_guessed() {
    for head in [
        "time_s,board temp °C,lid temp °C",
        "time_s,TC1 (°C),TC2 (°C)",
        "time_s,A,B",
        "time_s,K1,J2",
        "time_s,101 ambient (C),102 can (C)",
    ] {
        let text = format!("{head}\n0,40,20\n60,41,21\n");
        let open = log(&text);
        assert_eq!((open.column, open.stretches.len(), open.columns.len()), (None, 0, 2), "{head}");
        let chosen = answered(&text, Some(&open.columns[1]), None).unwrap();
        assert_eq!(chosen.stretches[0].ambient_c, 20.0);
    }
    let one = log("time_s,Humidity %,lid temp °C,CO2 ppm\n0,40,20,400\n60,41,21,410\n");
    assert_eq!(one.column.as_deref(), Some("lid temp °C"));
    let error = answered("time_s,A,B\n0,40,20\n60,41,21\n", Some("roof"), None).unwrap_err().to_string();
    assert!(error.contains("called roof; expected one of A, B"), "{error}");
}

#[test]
fn hours_before_a_letter_are_times() {
    let log = log("Date,Heure,T1 (°C)\n01/03/2026,8h05,40\n01/03/2026,8h06,41\n");
    assert_eq!((log.stretches.len(), log.step_s), (2, 60.0));
}

#[test]
fn a_unit_that_nothing_says_is_asked_for() {
    // A thermocouple of type K is no kelvin; a warm place without unit may be in °F.
    for text in ["time_s,TC (K)\n0,40\n60,41\n", "time_s,temp\n0,104\n60,105\n"] {
        let open = log(text);
        assert_eq!((open.scale, open.stretches.len()), (None, 0), "{text}");
        let said = answered(text, None, Scale::parse("F")).unwrap();
        assert_eq!((said.stretches.len(), said.notes.len()), (2, 0), "{:?}", said.notes);
    }
    assert_eq!(answered("time_s,temp\n0,104\n60,105\n", None, Scale::parse("F")).unwrap().stretches[0].ambient_c, 40.0);
}

#[test]
fn a_row_that_cannot_be_read_is_listed_and_a_gap_counts_as_one_step() {
    let text = "time_s,temp_c\n0,40\n60,n/a\n120,41\nlater,42\n180,43\n240,5000\n300,40\n100000,50\n";
    let log = log(text);
    let lines: Vec<u64> = log.rejected.iter().map(|r| r.line).collect();
    assert_eq!(lines, [3, 5, 7]);
    assert_eq!(log.gaps, 1);
    assert_eq!(log.stretches.last().unwrap().weight, log.step_s);
    assert!(log.stretches.iter().all(|s| s.weight <= 120.0), "{:?}", log.stretches);
}

#[test]
fn what_is_no_log_is_refused_with_the_reason() {
    let refused = |text: &str| answered(text, None, None).unwrap_err().to_string();
    assert!(refused("").contains("no column with times"));
    assert!(refused("hello\nworld\n").contains("no column with times"));
    assert!(refused("2026-10-02 10:00\n2026-10-02 10:01\n").contains("no column"));
    assert!(refused("time,temp_c\n2026-10-02 10:00,20\n").contains("1 usable rows"));
    assert!(refused("time,temp_c\n2026-10-02 10:00,20\n2026-10-02 10:00,21\n").contains("expected at least 2"));
}

proptest! {
    #[test]
    fn no_bytes_make_the_reader_panic(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        let _ = from_bytes(&bytes, Path::new("a.csv"), &LogAnswers::default());
    }

    #[test]
    fn nothing_that_looks_like_a_log_makes_it_panic(
        rows in prop::collection::vec("[0-9]{1,4}[-/.:;,\t ]{1,2}[0-9]{1,2}[-/.:,; T][0-9]{0,4}[ ,;\t][-0-9.,:e°CFKAPMZ+]{0,9}", 0..12),
        end in "\r?\n",
    ) {
        if let Ok(log) = answered(&rows.join(&end), None, None) {
            prop_assert!(log.stretches.iter().all(|s| s.weight >= 0.0 && s.weight.is_finite() && s.ambient_c.is_finite()));
        }
    }
}
