//! Surge voltage.

use refarad::domain::{Can, Check, Outcome, Technology};
use refarad::physics::voltage::usual_surge_v;

use super::assert_printed;
use super::support::{can, evaluate, job, position};

/// IEC 60384-1 as quoted by Wikipedia, "Aluminum electrolytic capacitor": 1.15 times the rated voltage up to 315 V, 1.10
/// times above.
#[test]
fn surge_voltages_are_those_of_iec_60384_1() {
    let table = [(16.0, 18.4), (63.0, 72.45), (315.0, 362.25), (350.0, 385.0), (400.0, 440.0), (450.0, 495.0)];
    for (rated_v, quoted) in table {
        assert_printed(usual_surge_v(Technology::Wet, rated_v).most_v, quoted, 2);
    }
}

/// The same through the voltage check: a 450 V part takes a transient of 495 V and not of 496 V.
#[test]
fn a_transient_up_to_the_surge_voltage_of_iec_60384_1_passes() {
    let at = |transient_v| {
        let mut position = position();
        (position.stress.dc_v, position.stress.ripple_peak_v) = (Some(395.0), Some(10.0));
        position.stress.transient_v = Some(transient_v);
        let part = Can { rated_v: Some(450.0), surge_v: None, ..can() };
        evaluate(&job(vec![position]), &part).outcome(Check::Voltage)
    };
    assert_eq!([at(495.0), at(496.0)], [Outcome::Pass, Outcome::Fail]);
}
