//! Life falls with ripple, ambient and voltage, and has no step anywhere.

use proptest::prelude::*;
use refarad::domain::Technology;
use refarad::physics::life::{Conditions, voltage_factor};

use super::scenes::{Dice, dice, runs};

/// A part at some ambient with some ripple. Many of the figures stand on a threshold of the laws.
fn conditions(dice: &mut Dice) -> Conditions {
    let temp_max_c = dice.pick(&[85.0, 99.9, 100.0, 105.0, 120.0, 125.0]);
    let ambient_c = dice.pick(&[39.9, 40.0, temp_max_c, 55.0]) + dice.pick(&[0.0, 7.3]);
    Conditions {
        endurance_h: 5000.0,
        temp_max_c,
        rated_rise_k: dice.pick(&[3.0, 5.0, 10.0, 20.0]),
        rise_assumed: dice.chance(0.5),
        tested_with_ripple: dice.chance(0.5),
        ambient_c,
        rise_share: dice.pick(&[0.0, 1.0, 0.25, 1.5]) + dice.pick(&[0.0, 0.17]),
        voltage_factor: 1.0,
    }
}

fn technology(dice: &mut Dice) -> Technology {
    dice.pick(&[Technology::Wet, Technology::Hybrid, Technology::Polymer, Technology::NonPolar])
}

proptest! {
    #![proptest_config(runs(500))]

    #[test]
    fn a_hair_more_ripple_or_ambient_costs_a_hair_of_life(mut dice in dice()) {
        const HAIR: f64 = 1e-7;
        let (here, technology) = (conditions(&mut dice), technology(&mut dice));
        let life_h = |conditions: Conditions| conditions.life(technology).nominal_h;
        for more in [
            Conditions { ambient_c: here.ambient_c + HAIR, ..here },
            Conditions { rise_share: here.rise_share + HAIR, ..here },
        ] {
            let ratio = life_h(more) / life_h(here);
            prop_assert!(ratio <= 1.0 && ratio > 1.0 - 1e-5, "{here:?}: {ratio}");
        }
        // From either side of rated ripple.
        let [below, at, above] = [1.0 - HAIR, 1.0, 1.0 + HAIR].map(|rise_share| life_h(Conditions { rise_share, ..here }));
        prop_assert!(below > at && at > above && below / above - 1.0 < 1e-5, "{below} {at} {above}");
    }

    #[test]
    fn more_ripple_and_a_hotter_ambient_never_lengthen_the_life(mut dice in dice(), k in 0.0..60.0f64, share in 0.0..4.0f64) {
        let (here, technology) = (conditions(&mut dice), technology(&mut dice));
        let before = here.life(technology);
        for worse in [
            Conditions { ambient_c: here.ambient_c + k, ..here },
            Conditions { rise_share: here.rise_share + share, ..here },
        ] {
            prop_assert!(worse.life(technology).nominal_h <= before.nominal_h * (1.0 + 1e-12), "{here:?}");
        }
        prop_assert!(before.low_h <= before.nominal_h && before.nominal_h <= before.high_h);
    }

    #[test]
    fn a_higher_working_voltage_never_lengthens_the_life_and_has_no_step(share in 0.0..1.3f64, more in 0.0..0.5f64) {
        let at = |share: f64| voltage_factor(share * 400.0, 400.0);
        prop_assert!(at(share + more) <= at(share));
        for edge in [0.6, 1.0, share] {
            prop_assert!((at(edge + 1e-9) / at(edge - 1e-9) - 1.0).abs() < 1e-7);
        }
    }
}
