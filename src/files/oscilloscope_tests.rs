use std::f64::consts::TAU;

use proptest::prelude::*;

use super::*;

fn wave(at: u32) -> f64 {
    let t = f64::from(at) * 1e-5;
    2.0 * (TAU * 1000.0 * t).sin() + 0.5 * (TAU * 3000.0 * t + 0.4).sin() + 0.1
}

/// 1000 samples of 10 µs: 1 kHz of 2 A peak, 3 kHz of 0.5 A peak, an offset of 0.1 A.
fn text(preamble: &str, row: impl Fn(u32, f64) -> String) -> String {
    let rows: Vec<String> = (0..1000).map(|at| row(at, wave(at))).collect();
    format!("{preamble}{}\n", rows.join("\n"))
}

fn record(text: &str) -> Record {
    from_bytes(text.as_bytes(), Path::new("scope.csv")).unwrap()
}

#[test]
fn the_same_waveform_in_many_layouts_gives_its_known_harmonics() {
    let texts = [
        text("", |at, a| format!("{:e},{a}", f64::from(at) * 1e-5)),
        text("Time (ms);Channel A (A)\n", |at, a| format!("{};{}", f64::from(at) * 1e-2, a).replace('.', ",")),
        text("Model,X7\nDate,2026-10-02\n\nTime,CH1\n(us),(A)\n", |at, a| format!("{},{a}", at * 10)),
        text("X,CH1,Start,Increment\nSequence,Ampere,0,1.0e-05\n", |at, a| format!("{at},{a},")),
        text("Sample Interval,10 us\nRecord Length,1000\nCH1\n", |_, a| format!("{a:.7}")),
        text("s\tA\n", |at, a| format!("{:.5}\t{a:.6e}", f64::from(at) * 1e-5 - 0.005)),
    ];
    for text in texts {
        let record = record(&text);
        assert_eq!((record.channels.len(), record.time_s.len()), (1, 1000), "{}", &text[..60]);
        let found = record.analyse(0, 1.0, Some(1000.0)).unwrap();
        let expected = [(1000.0, 2.0 / 2f64.sqrt()), (3000.0, 0.5 / 2f64.sqrt())];
        assert_eq!(found.ripple.lines.len(), 2, "{}", &text[..60]);
        for (line, (hz, a)) in found.ripple.lines.iter().zip(expected) {
            assert!((line.hz / hz - 1.0).abs() < 1e-3 && (line.a / a - 1.0).abs() < 1e-3, "{line:?}");
        }
        assert!((found.mean_a - 0.1).abs() < 1e-4);
        assert!(remarks(&found).iter().any(|remark| remark.contains("offset of the probe")));
    }
}

#[test]
fn several_channels_keep_their_names_and_units_and_a_probe_factor_scales() {
    let record =
        record(&text("Time [s],probe [mV],gate [V]\n", |at, a| format!("{},{},5", f64::from(at) * 1e-5, a * 100.0)));
    let names: Vec<(&str, &str)> = record.channels.iter().map(|c| (c.name.as_str(), c.unit.as_str())).collect();
    assert_eq!(names, [("probe [mV]", "mV"), ("gate [V]", "V")]);
    let found = record.analyse(0, 0.01, None).unwrap();
    assert!((found.ripple.rms_a - (2.0f64 + 0.125).sqrt()).abs() < 2e-3);
    assert!(record.analyse(7, 1.0, None).is_err());
}

#[test]
fn a_time_without_unit_is_assumed_and_said() {
    let record = record(&text("", |at, a| format!("{},{a}", f64::from(at) * 1e-5)));
    assert!(record.notes.iter().any(|note| note.contains("seconds (assumed)")));
}

#[test]
fn faults_name_the_file_and_the_line() {
    let refused = |text: &str| from_bytes(text.as_bytes(), Path::new("a.csv")).unwrap_err().to_string();
    assert!(refused("").contains("expected rows of numbers"));
    assert!(refused("hello,world\nagain,and\n").contains("expected rows of numbers"));
    assert!(refused("1\n2\n1\n2\n").contains("sample interval"));
    let broken = "t,a\n0,1\n1,2\n2,3\n3,oops\n";
    assert_eq!(refused(broken), "a.csv: line 5: \"oops\": expected a number in each of 2 columns");
}

proptest! {
    #[test]
    fn no_bytes_make_the_reader_panic(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        let _ = from_bytes(&bytes, Path::new("a.csv"));
    }

    #[test]
    fn nothing_that_looks_like_a_record_makes_reader_or_analysis_panic(
        head in prop::collection::vec("[a-zA-Z ()\\[\\]]{0,12}[,;]?(increment|interval)?[,;]?[-0-9.eE]{0,6}", 0..4),
        rows in prop::collection::vec("[-0-9.,eE+]{1,8}[,;\t][-0-9.,eE+]{0,8}", 0..90),
    ) {
        let text = format!("{}\n{}", head.join("\n"), rows.join("\n"));
        let found = from_bytes(text.as_bytes(), Path::new("a.csv")).ok().and_then(|record| record.analyse(0, 1.0, None).ok());
        prop_assert!(found.is_none_or(|found| found.ripple.rms_a.is_finite()));
    }
}
