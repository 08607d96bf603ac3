//! Rows over two lines.

use super::*;

fn cells(text: &str) -> Vec<String> {
    text.split('|').map(|cell| cell.trim().to_owned()).collect()
}

// Hand-made headers.
#[test]
fn units_and_conditions_under_the_names_become_part_of_them() {
    let (header, below) = (cells("Cap|WV|Ripple||Life"), cells("µF|V|mA 120Hz|mA 100kHz|h"));
    assert!(continues(&header, &below, &Known::default()));
    assert_eq!(joined(&header, &below), cells("Cap (µF)|WV (V)|Ripple (mA 120Hz)|Ripple (mA 100kHz)|Life (h)"));
}

#[test]
fn conditions_under_a_title_belong_to_it() {
    let (header, below) = (cells("Cap|Impedance (Ω)||Part No."), cells("|20°C|-10 °C|"));
    assert!(continues(&header, &below, &Known::default()));
    assert_eq!(joined(&header, &below), cells("Cap|Impedance (Ω) (20°C)|Impedance (Ω) (-10 °C)|Part No."));
    let (header, below) = (cells("UR|Case|IR|tan d|IL5"), cells("(V)|D x L (mm)|100 Hz 85 C|100 Hz|5 min"));
    assert!(continues(&header, &below, &Known::default()));
    assert_eq!(joined(&header, &below), cells("UR (V)|D x L (mm)|IR (100 Hz 85 C)|tan d (100 Hz)|IL5 (5 min)"));
    assert!(!continues(&cells("Part|Min|Max"), &cells("A|-40 °C|105 °C"), &Known::default()));
}

#[test]
fn names_under_a_title_are_the_names() {
    let (header, below) = (cells("Designator|Capacitor||Qty"), cells("|Value|Voltage|"));
    assert!(continues(&header, &below, &Known::new(["Value", "Voltage"])));
    assert_eq!(joined(&header, &below), cells("Designator|Value|Voltage|Qty"));
}

#[test]
fn a_row_of_values_is_no_header() {
    for below in ["C1|470 uF|25 V|", "100|25|5x11|3", "C1|cap|470uF|1"] {
        assert!(!continues(&cells("Ref||Value|Qty"), &cells(below), &Known::new(["Value", "Ref"])), "{below}");
    }
    assert!(!continues(&cells("Value|Voltage|Price"), &cells("470uF|25V|0.3"), &Known::new(["Value"])));
}

#[test]
fn figures_of_an_axis_stand_before_the_names_below_them() {
    let (above, header) = (cells("WV||10||16|"), cells("Cap(uF)||DxL|Ripple|DxL|Ripple"));
    assert!(spans(&above, &header));
    assert_eq!(under(&above, &header), cells("Cap(uF)||10 DxL|10 Ripple|16 DxL|16 Ripple"));
}
