//! What stands around the tables of a data sheet.

use super::*;

// Hand-made texts.
#[test]
fn ranges_of_capacitance() {
    for (text, inside, outside) in [
        ("18 to 82", 82.0, 100.0),
        ("≤10", 10.0, 22.0),
        ("CAP ≤ 10", 10.0, 22.0),
        ("100<CAP≤1000", 220.0, 100.0),
        ("> 1000", 2200.0, 1000.0),
        ("1000 < CAP", 2200.0, 1000.0),
        ("10~100", 10.0, 220.0),
        ("to 100", 100.0, 220.0),
        ("1000 and over", 1000.0, 470.0),
    ] {
        let range = range(text).unwrap();
        assert!(inside > range.0 && inside <= range.1, "{text}: {range:?}");
        assert!(!(outside > range.0 && outside <= range.1), "{text}: {range:?}");
    }
    assert_eq!(range("6.3 V to 16 V"), None);
}

#[test]
fn frequencies_of_a_header() {
    for (text, hz) in [
        ("120", 120.0),
        ("1k", 1e3),
        ("10 kHz", 1e4),
        ("50(60)", 50.0),
        ("100k≦", 1e5),
        ("100 k to", 1e5),
        ("120Hz", 120.0),
        ("50K-100K", 5e4),
        ("10 kHz~100 kHz", 1e4),
    ] {
        assert_eq!(frequency(text), Some(hz), "{text}");
    }
    assert_eq!(frequency("0.8"), None);
    assert_eq!(frequency("Coefficient"), None);
}

#[test]
fn endurance_is_read_with_its_temperature_and_not_from_shelf_life() {
    assert_eq!(lives("Endurance: 5,000 hours at 105 °C with rated ripple current"), [(5000.0, 105.0, true)]);
    assert_eq!(lives("Load life 2000 h, 85℃"), [(2000.0, 85.0, false)]);
    assert_eq!(lives("Shelf life: 1000 hours at 105 °C, no load"), []);
    let two = [(2000.0, 105.0, false), (5000.0, 105.0, false)];
    assert_eq!(lives("Load life of 2000/5000 hours at 105°C."), two);
    assert_eq!(lives("Endurance: 105 ℃ 2000 h to 5000 h"), two);
    assert_eq!(lives("Restored to 20 °C after 3000 hours at 125 °C"), [(3000.0, 125.0, false)]);
}

#[test]
fn hours_by_diameter_only_where_a_text_says_nothing_else() {
    let for_mm = |text: &str, mm: &[f64]| -> Vec<Option<f64>> {
        by_diameter(text).map_or_else(Vec::new, |lives| mm.iter().map(|mm| hours_for(&lives, *mm)).collect())
    };
    let (two, five, three) = (Some(2000.0), Some(5000.0), Some(3000.0));
    assert_eq!(for_mm("Endurance: 105 °C 5000 h (φD ≤ 6.3: 2000 h)", &[5.0, 6.3, 8.0]), [two, two, five]);
    assert_eq!(for_mm("Endurance : 105 ℃ 2000 h （≧ φ12.5 : 5,000 h）", &[10.0, 12.5, 16.0]), [two, five, five]);
    assert_eq!(for_mm("Load life 2000 hours (φD≤8), 3000 hours (φD=10)", &[8.0, 10.0, 12.5]), [two, three, None]);
    assert_eq!(
        for_mm("Load life 2000 h (D ≥ 8: 3000 h, D = 10: 5000 h)", &[6.3, 8.0, 10.0, 12.5]),
        [two, three, five, three]
    );
    assert_eq!(for_mm("Endurance 105 °C: φ5 to φ6.3: 2000 h, φ8: 3000 h", &[6.3, 8.0, 10.0]), [two, three, None]);
    for text in [
        "Endurance: 5000 h at 105 °C",
        "Endurance 105 °C 2000 h (≧ φ12.5 and suffix G in φ8×10.2, φ10×10.2 are 5000 hours)",
        "Endurance 105 °C 2000 h (φD ≤ 8, 6.3 to 16 V), 5000 h (φD ≤ 8, 25 to 50 V)",
    ] {
        assert_eq!(by_diameter(text), None, "{text}");
    }
}
