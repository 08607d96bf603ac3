//! Of `sizing/checks/capacitance.rs`: nominal capacitance and tolerance.

use refarad::domain::{Check, Outcome, Position, Role};

use super::testing::outcome as outcome_of;
use Outcome::{Fail, Marginal, Pass, Unknown};

fn at(role: Role, multiple: f64) -> Outcome {
    outcome_of(Check::Capacitance, |p| p.role = Some(role), |can| can.capacitance_uf = Some(multiple * 470.0))
}

#[test]
fn filters_take_up_to_twice_the_capacitance() {
    use Role::{DcLink, Decoupling, InputFilter, OutputFilter, Reservoir};
    for role in [Reservoir, DcLink, InputFilter, OutputFilter, Decoupling] {
        assert_eq!([1.0, 2.0].map(|m| at(role, m)), [Pass, Pass]);
        assert_eq!([0.8, 0.999, 2.001, 3.0].map(|m| at(role, m)), [Marginal; 4]);
        assert_eq!([0.799, 3.001].map(|m| at(role, m)), [Fail, Fail]);
    }
}

#[test]
fn a_start_up_capacitor_takes_less_more() {
    assert_eq!([1.0, 1.5].map(|m| at(Role::Startup, m)), [Pass, Pass]);
    assert_eq!([0.8, 0.999, 1.501, 2.0].map(|m| at(Role::Startup, m)), [Marginal; 4]);
    assert_eq!([0.799, 2.001].map(|m| at(Role::Startup, m)), [Fail, Fail]);
}

#[test]
fn timing_and_coupling_take_two_percent() {
    for role in [Role::Timing, Role::Coupling] {
        assert_eq!([0.98, 1.0, 1.02].map(|m| at(role, m)), [Pass; 3]);
        assert_eq!([0.9, 0.979, 1.021, 1.1].map(|m| at(role, m)), [Marginal; 4]);
        assert_eq!([0.899, 1.101].map(|m| at(role, m)), [Fail, Fail]);
    }
}

#[test]
fn a_wider_tolerance_is_marginal_where_the_value_matters() {
    let at = |role, own| outcome_of(Check::Capacitance, |p| p.role = Some(role), |can| can.tolerance_pct = own);
    assert_eq!(
        [Some(10.0), Some(20.0), Some(20.1), None].map(|t| at(Role::Timing, t)),
        [Pass, Pass, Marginal, Unknown]
    );
    assert_eq!([Some(50.0), None].map(|t| at(Role::Reservoir, t)), [Pass, Pass]);
    let no_original = |p: &mut Position| {
        p.role = Some(Role::Coupling);
        p.original.can.tolerance_pct = None;
    };
    assert_eq!(outcome_of(Check::Capacitance, no_original, |_| ()), Unknown);
}

#[test]
fn given_limits_replace_the_window_and_know_no_marginal() {
    let at = |min, max, own| {
        let needs = |p: &mut Position| {
            (p.needs.capacitance_min_uf, p.needs.capacitance_max_uf) = (min, max);
            (p.role, p.original.can.capacitance_uf) = (None, None);
        };
        outcome_of(Check::Capacitance, needs, |can| can.capacitance_uf = Some(own))
    };
    assert_eq!([99.0, 100.0, 200.0, 201.0].map(|c| at(Some(100.0), Some(200.0), c)), [Fail, Pass, Pass, Fail]);
    assert_eq!([at(Some(100.0), None, 1e6), at(None, Some(200.0), 1.0)], [Pass, Pass], "the other side is open");
    assert_eq!(at(Some(200.0), Some(100.0), 150.0), Fail, "limits that contradict each other");
}

#[test]
fn a_side_that_is_not_given_goes_by_the_role() {
    let at = |min, max, own| {
        let needs = |p: &mut Position| (p.needs.capacitance_min_uf, p.needs.capacitance_max_uf) = (min, max);
        outcome_of(Check::Capacitance, needs, |can| can.capacitance_uf = Some(own))
    };
    let from = |own| at(Some(200.0), None, own);
    assert_eq!([199.0, 200.0, 940.0, 941.0, 1410.0, 1411.0].map(from), [Fail, Pass, Pass, Marginal, Marginal, Fail]);
    let up_to = |own| at(None, Some(5000.0), own);
    assert_eq!([375.0, 376.0, 470.0, 5000.0, 5001.0].map(up_to), [Fail, Marginal, Pass, Pass, Fail]);
}

#[test]
fn without_capacitance_role_or_original_it_is_unknown() {
    assert_eq!(outcome_of(Check::Capacitance, |_| (), |can| can.capacitance_uf = None), Unknown);
    assert_eq!(outcome_of(Check::Capacitance, |p| p.role = None, |_| ()), Unknown);
    assert_eq!(outcome_of(Check::Capacitance, |p| p.original.can.capacitance_uf = None, |_| ()), Unknown);
}
