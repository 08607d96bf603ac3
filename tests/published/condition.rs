//! Old parts against a measured ageing set, re-forming against the published recipe.

use refarad::physics::condition::{Condition, Reforming, assess, reforming};

/// NASA Ames Prognostics Center of Excellence, Capacitor Electrical Stress-2 data set (Celaya, Kulkarni, Biswas, Goebel, AIAA 2011-1519): hours,
/// capacitance loss in percent, ESR increase in percent of one unit.
fn readings(unit: &str) -> Vec<(f64, f64, f64)> {
    include_str!("data/ageing_measured_2200uf_10v.csv")
        .lines()
        .filter_map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            (cells[0] == unit).then(|| {
                let number = |cell: &str| cell.parse().unwrap();
                (number(cells[1]), number(cells[2]), number(cells[3]))
            })
        })
        .collect()
}

#[test]
fn the_condition_of_measured_parts_never_improves_and_ends_worn_out_but_for_one() {
    // makers' endurance limits, common practice; readings of the NASA set
    for unit in ["C1", "C2", "C3", "C4", "C5", "C6"] {
        let mut worst = Condition::Sound;
        for (hours, loss, esr) in readings(unit) {
            let condition = assess(Some(1.0 - loss / 100.0), Some(1.0 + esr / 100.0)).condition;
            let rank = |condition| match condition {
                Condition::Unknown => 0,
                Condition::Sound => 1,
                Condition::Ageing => 2,
                Condition::WornOut => 3,
            };
            assert!(rank(condition) >= rank(worst), "{unit} at {hours} h");
            worst = condition;
        }
        let end = if unit == "C1" { Condition::Ageing } else { Condition::WornOut };
        assert_eq!(worst, end, "{unit}");
    }
}

#[test]
fn reforming_is_that_of_the_published_abstract() {
    // ECA/EIA-815 (1999-08-01), abstract: rated voltage through about 100 ohm up to 100 V rated, about 1000 ohm above, 1 h; discharge through
    // about 1 ohm per volt; rest 12 to 48 h. The same text in a TDK/EPCOS data book (secondary copy).
    for (rated_v, series_ohm) in [(16.0, 100.0), (100.0, 100.0), (160.0, 1000.0), (450.0, 1000.0)] {
        let Some(Reforming::Needed(recipe)) = reforming(rated_v, 3.0) else {
            panic!("{rated_v} V needs re-forming after 3 years")
        };
        assert_eq!(recipe.series_ohm, series_ohm);
        assert_eq!((recipe.voltage_v, recipe.hold_h, recipe.discharge_ohm), (rated_v, 1.0, rated_v));
        assert_eq!((recipe.rest_min_h, recipe.rest_max_h), (12.0, 48.0));
    }
    // a drive maker's bulletin (quoted in a forum): under 2 years none
    assert_eq!(reforming(450.0, 1.9), Some(Reforming::NotNeeded));
}
