use super::*;
use crate::files::cell::Order;

fn free(text: &str) -> Found {
    find(text, &Column::default())
}

fn twenty() -> Reading<Tolerance> {
    Reading::Value(Tolerance { minus_pct: 20.0, plus_pct: 20.0 })
}

// Hand-made cases, spellings as counted in public parts lists.
#[test]
fn a_distributors_description_is_taken_apart() {
    let found = free("CAP ALUM 470UF 20% 35V RADIAL");
    assert_eq!(
        (found.capacitance_uf, found.rated_v, found.tolerance),
        (Reading::Value(470.0), Reading::Value(35.0), twenty())
    );
    assert_eq!((found.ripple, found.size, found.temperature), (Reading::Nothing, Reading::Nothing, Reading::Nothing));
}

#[test]
fn remarks_in_other_scripts_do_not_matter() {
    let found = free("3.3uF ±20% 25V 停产");
    assert_eq!(
        (found.capacitance_uf, found.rated_v, found.tolerance),
        (Reading::Value(3.3), Reading::Value(25.0), twenty())
    );
}

#[test]
fn ripple_without_a_frequency_stays_without() {
    let found = find("63V, 3.0A, 16x31.5", &Column { order: Order::DiameterFirst, ..Column::default() });
    assert_eq!(found.rated_v, Reading::Value(63.0));
    assert_eq!(found.ripple, Reading::Value(Ripple { ripple_a: 3.0, hz: None, temp_c: None }));
    assert_eq!(found.size, Reading::Value(Size { diameter_mm: Some(16.0), height_mm: Some(31.5), ..Size::default() }));
    assert!(matches!(free("63V, 3.0A, 16x31.5").size, Reading::Ambiguous { .. }));
}

#[test]
fn value_and_voltage_in_either_order() {
    for (text, uf, volts) in [
        ("22u/63V", 22.0, 63.0),
        ("20000uF/100V", 20_000.0, 100.0),
        ("16V 1000µF", 1000.0, 16.0),
        ("10µF / 50V", 10.0, 50.0),
        ("10u 50v", 10.0, 50.0),
        ("100uF25V", 100.0, 25.0),
        ("4u7 6V3", 4.7, 6.3),
        ("0,47 µF 6,3V", 0.47, 6.3),
        ("CAP-10UF-25V-RADIAL", 10.0, 25.0),
    ] {
        let found = free(text);
        assert_eq!((found.capacitance_uf, found.rated_v), (Reading::Value(uf), Reading::Value(volts)), "{text}");
    }
}

#[test]
fn capital_mf_in_a_description_is_asked() {
    assert!(
        matches!(free("CAP SUPER 470MF 5.5V").capacitance_uf, Reading::Ambiguous { options, .. } if options == [470.0, 470_000.0])
    );
}

#[test]
fn names_are_no_quantities() {
    let found = free("C0805 X7R 2 x 470uF EEX7R50 M0:C1");
    assert_eq!(found.capacitance_uf, Reading::Value(470.0));
    assert_eq!((found.rated_v, found.size, found.esr), (Reading::Nothing, Reading::Nothing, Reading::Nothing));
}

#[test]
fn the_whole_of_a_rich_description() {
    let found = free("ALUM CAP 1000uF 35V -40°C~105°C 5000h @ 105°C 1.42A@100kHz 35mΩ SMD,D10xL10.5mm -20% +80%");
    assert_eq!(found.temperature, Reading::Value(TempRange { min_c: Some(-40.0), max_c: 105.0 }));
    assert_eq!(found.endurance, Reading::Value(Endurance { hours: 5000.0, temp_c: Some(105.0) }));
    assert_eq!(found.ripple, Reading::Value(Ripple { ripple_a: 1.42, hz: Some(100_000.0), temp_c: None }));
    assert_eq!(found.esr, Reading::Value(Esr { esr_mohm: 35.0, hz: None, temp_c: None }));
    assert_eq!(found.size, Reading::Value(Size { diameter_mm: Some(10.0), height_mm: Some(10.5), ..Size::default() }));
    assert_eq!(found.tolerance, Reading::Value(Tolerance { minus_pct: 20.0, plus_pct: 80.0 }));
}

#[test]
fn contradicting_figures_are_asked() {
    assert!(matches!(free("100uF 220uF").capacitance_uf, Reading::Ambiguous { .. }));
    assert!(
        matches!(free("CAP ALUM 1000UF 20% 25/50 V").rated_v, Reading::Ambiguous { options, .. } if options == [50.0, 25.0])
    );
    assert_eq!(free("470/50V").rated_v, Reading::Value(50.0));
    assert!(matches!(free("275VAC X2 100nF").rated_v, Reading::Bad { .. }));
    assert_eq!(free("16V(1C) 105C").temperature, Reading::Value(TempRange { min_c: None, max_c: 105.0 }));
}

#[test]
fn a_footprint_name_in_a_text_gives_its_size() {
    let found = free("470uF CP_Radial_D10.0mm_P5.00mm");
    assert_eq!(found.size, Reading::Value(Size { diameter_mm: Some(10.0), pitch_mm: Some(5.0), ..Size::default() }));
}

#[test]
fn one_sided_tolerances_keep_their_sides() {
    let uneven = Reading::Value(Tolerance { minus_pct: 20.0, plus_pct: 80.0 });
    for text in
        ["CAP,ELECT,47UF,50V,-20+80%", "47uF -20/+80% 50V", "47uF -20% +80%", "47uF +80/-20%", "47uF -20%, +80 %"]
    {
        assert_eq!(free(text).tolerance, uneven, "{text}");
    }
    for text in ["22UF +/-20% 25VDC", "22UF +-20% 25VDC", "470uF/16V-20%", "22uF ± 20 %"] {
        assert_eq!(free(text).tolerance, twenty(), "{text}");
    }
}
