//! Records of oscilloscopes in many layouts.

use std::f64::consts::TAU;
use std::path::Path;

use proptest::prelude::*;

use refarad::files::oscilloscope::{Record, from_bytes, remarks};

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
    let no_times = from_bytes(b"1\n2\n1\n2\n", Path::new("a.csv")).unwrap();
    assert!(no_times.step_asked.unwrap().contains("sample interval"));
    let broken = "t,a\n0,1\n1,2\n2,3\n3,oops\n";
    assert_eq!(refused(broken), "a.csv: line 5: \"oops\": expected a number in each of 2 columns");
}

#[test]
fn settings_may_stand_beside_the_samples() {
    let settings =
        ["Record Length,1000", "Sample Interval,1e-05", "Vertical Units,V", "Horizontal Units,s", "Source,CH2"];
    let beside = |at: u32| settings.get(at as usize).copied().unwrap_or(",");
    let text = text("", |at, a| format!("{},,{:e},{a},", beside(at), f64::from(at) * 1e-5 - 0.005));
    let record = record(&text);
    let [channel] = record.channels.as_slice() else { panic!("{:?}", record.channels.len()) };
    assert_eq!((channel.name.as_str(), channel.unit.as_str(), record.time_s.len()), ("CH2", "V", 1000));
    assert!(record.notes.is_empty() && record.step_asked.is_none(), "{:?}", record.notes);
    assert!((record.analyse(0, 1.0, Some(1000.0)).unwrap().ripple.rms_a - (2.0f64 + 0.125).sqrt()).abs() < 2e-3);
}

#[test]
fn rounded_times_give_the_step_where_it_is_sure_and_are_asked_for_where_not() {
    let derived = record(&text("t (s),a (A)\n", |at, a| format!("{:.2e},{a}", f64::from(at) * 3.7e-6)));
    assert!(derived.notes.iter().any(|note| note.contains("derived")), "{:?}", derived.notes);
    let found = derived.analyse(0, 1.0, None).unwrap();
    assert!((found.ripple.lines[0].hz * 0.37 / 1000.0 - 1.0).abs() < 0.01, "{:?}", found.ripple.lines);
    let mut asked = record(&text("t (s),a (A)\n", |at, a| format!("{:.3},{a}", f64::from(at) * 1e-5)));
    assert!(asked.step_asked.as_ref().unwrap().contains("too coarse"));
    asked.set_step(1e-5);
    assert!((asked.analyse(0, 1.0, None).unwrap().ripple.lines[0].hz / 1000.0 - 1.0).abs() < 1e-3);
    let no_unit = record(&text("", |at, a| format!("{},{a}", at * 10)));
    assert!(no_unit.step_asked.unwrap().contains("no unit"));
}

#[test]
fn of_several_channels_only_one_in_amperes_is_meant_without_asking() {
    let of = |head: &str| record(&text(head, |at, a| format!("{:e},{a},{a}", f64::from(at) * 1e-5))).only_channel();
    assert_eq!(of("t (s),a (V),b (A)\n"), Some(1));
    assert_eq!((of("t (s),a (V),b (V)\n"), of("")), (None, None));
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
