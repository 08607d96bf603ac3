use super::*;

fn order(header: &str, cells: &[&str]) -> Option<bool> {
    of_column(header, cells, &Column::dot()).unwrap().capacitance_first
}

// Hand-made columns.
#[test]
fn header_other_rows_or_the_series_of_values_prove_the_order() {
    assert_eq!(order("µF/V", &["100/100"]), Some(true));
    assert_eq!(order("V / µF", &["100/100"]), Some(false));
    assert_eq!(order("Value", &["100/100", "470/35V"]), Some(true));
    assert_eq!(order("Value", &["2200/25", "100/63"]), Some(true));
    assert_eq!(order("Value", &["25/2200", "63/100"]), Some(false));
    assert_eq!(order("Value", &["100/63"]), Some(true));
}

#[test]
fn without_a_proof_the_order_stays_open() {
    assert_eq!(order("Value", &["100/10"]), None);
    assert_eq!(order("Value", &["50/25", "16/350"]), None);
    assert_eq!(order("Cap (µF)", &["100/220"]), None);
    assert_eq!(of_column("Value", &["100uF", "1k"], &Column::dot()), None);
}

#[test]
fn the_unit_comes_from_header_or_other_pairs_only() {
    let unit = |header, cells: &[&str]| of_column(header, cells, &Column::dot()).unwrap().unit;
    assert_eq!(unit("µF/V", &["470/35"]), Some(Unit::Microfarad));
    assert_eq!(unit("Value", &["2200uF/25V", "470/35"]), Some(Unit::Microfarad));
    assert_eq!(unit("Value", &["470/35"]), None);
    assert_eq!(unit("Value", &["2200uF/25V", "100nF/50V", "470/35"]), None);
}
