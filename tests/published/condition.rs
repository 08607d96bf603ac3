//! Old parts against a measured ageing set, re-forming against the published recipe.

use refarad::domain::Can;
use refarad::physics::condition::{Condition, assess, reforming};
use refarad::sizing::{Before, before_use};

use crate::ageing::{Reading, UNITS, readings};

#[test]
fn the_condition_of_measured_parts_never_improves_and_ends_worn_out_but_for_one() {
    // makers' endurance limits, common practice; readings of the NASA set
    for unit in UNITS {
        let mut worst = Condition::Sound;
        for Reading { hours, loss_pct, rise_pct } in readings(unit) {
            let condition = assess(Some(1.0 - loss_pct / 100.0), Some(1.0 + rise_pct / 100.0)).condition;
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
        let recipe = reforming(rated_v).unwrap();
        assert_eq!(recipe.series_ohm, series_ohm);
        assert_eq!((recipe.voltage_v, recipe.hold_h, recipe.discharge_ohm), (rated_v, 1.0, rated_v));
        assert_eq!((recipe.rest_min_h, recipe.rest_max_h), (12.0, 48.0));
    }
    // a drive maker's bulletin (quoted in a forum): under 2 years none
    let can = Can { rated_v: Some(450.0), ..Can::default() };
    assert_eq!(before_use(Some(&can), "2501", "2026-11-25".parse().ok()), Before::Nothing);
    assert_eq!(before_use(Some(&can), "2401", "2026-11-25".parse().ok()), Before::Reform(reforming(450.0)));
}
