//! Of `physics/condition.rs`, from within it: limits, missing data, odd cases.

use super::*;

fn together(share: Option<f64>, ratio: Option<f64>) -> Condition {
    assess(share, ratio).condition
}

#[test]
fn the_worse_of_capacitance_and_esr_decides() {
    assert_eq!(together(Some(1.0), Some(1.0)), Condition::Sound);
    assert_eq!(together(Some(0.85), Some(1.0)), Condition::Ageing);
    assert_eq!(together(Some(1.0), Some(1.7)), Condition::Ageing);
    assert_eq!(together(Some(0.79), Some(1.0)), Condition::WornOut);
    assert_eq!(together(Some(0.85), Some(2.1)), Condition::WornOut);
}

#[test]
fn borders_count_as_ageing() {
    for (share, ratio) in [(0.8, 1.0), (0.9, 1.0), (1.0, 1.5), (1.0, 2.0)] {
        assert_eq!(together(Some(share), Some(ratio)), Condition::Ageing, "{share} {ratio}");
    }
    assert_eq!(together(Some(0.901), Some(1.499)), Condition::Sound);
}

#[test]
fn one_measurement_can_condemn_but_not_acquit() {
    assert_eq!(together(None, None), Condition::Unknown);
    assert_eq!(together(Some(1.0), None), Condition::Unknown);
    assert_eq!(together(None, Some(1.0)), Condition::Unknown);
    assert_eq!(together(Some(0.7), None), Condition::WornOut);
    assert_eq!(together(None, Some(1.8)), Condition::Ageing);
    assert_eq!(together(Some(f64::NAN), Some(1.0)), Condition::Unknown);
    assert_eq!(assess(Some(1.0), None).by_capacitance, Condition::Sound);
}

#[test]
fn the_recipe_names_the_heat_of_a_shorted_part_and_takes_a_voltage() {
    assert!((reforming(400.0).unwrap().fault_w - 160.0).abs() < 1e-9);
    assert_eq!(reforming(0.0), None);
}
