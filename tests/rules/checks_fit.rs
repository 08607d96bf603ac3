//! Of `sizing/checks/fit.rs`: whether the body, the leads and the neighbours agree with the room there is.

use refarad::domain::{Assumed, Can, Catalog, Check, Mounting, Outcome, Position, Side};
use refarad::sizing::{FitFault, PositionContext};

use super::testing::{HERE, IN_STOCK, can, evaluated, job_of, position};
use Outcome::{Fail, Marginal, Pass, Unknown};

fn fit(change_position: impl FnOnce(&mut Position), change_can: impl FnOnce(&mut Can)) -> (Outcome, FitFault) {
    let evaluation = evaluated(change_position, change_can);
    (evaluation.outcome(Check::Fit), evaluation.fit_fault)
}

/// Both the original and the part take this mounting.
fn mounted(mounting: Mounting) -> impl Fn(&mut Can) {
    move |can| can.mounting = Some(mounting)
}

#[test]
fn another_mounting_fails_unless_accepted() {
    let with = |own, accepts: Option<Vec<Mounting>>| fit(|p| p.space.accepts = accepts, |can| can.mounting = own);
    // A screw part at radial holes of the same pitch differs in mounting only.
    assert_eq!(with(Some(Mounting::Screw), None), (Fail, FitFault::Mounting));
    assert_eq!(with(Some(Mounting::Screw), Some(vec![Mounting::Screw])), (Marginal, FitFault::Mounting));
    assert_eq!(with(None, None), (Unknown, FitFault::Mounting));
    let original_unknown =
        |accepts: Option<Vec<Mounting>>| fit(|p| (p.original.can.mounting, p.space.accepts) = (None, accepts), |_| ());
    assert_eq!(original_unknown(None), (Unknown, FitFault::Mounting));
    assert_eq!(original_unknown(Some(vec![Mounting::Radial])).0, Marginal);
}

#[test]
fn a_part_without_mounting_is_measured_as_radial_and_says_so() {
    let evaluation =
        evaluated(|_| (), |can| (can.mounting, can.diameter_max_mm, can.height_max_mm) = (None, None, None));
    assert_eq!(evaluation.figures.diameter_slack_mm, Some(0.5));
    assert_eq!(evaluation.figures.height_slack_mm, Some(3.0));
    assert_eq!(evaluation.figures.pitch_error_mm, None);
    for mark in [Assumed::MOUNTING, Assumed::DIAMETER_MAX, Assumed::HEIGHT_MAX] {
        assert!(evaluation.assumed.contains(mark));
    }
}

#[test]
fn the_largest_diameter_passes_and_the_nominal_one_is_marginal() {
    let at = |limit_mm| fit(|p| p.space.diameter_max_mm = Some(limit_mm), |_| ());
    assert_eq!(at(10.5), (Pass, FitFault::None));
    assert_eq!(at(10.49), (Marginal, FitFault::Diameter));
    assert_eq!(at(10.0), (Marginal, FitFault::Diameter));
    assert_eq!(at(9.99), (Fail, FitFault::Diameter));
}

#[test]
fn height_passes_with_its_vent_clearance_and_is_marginal_without() {
    let at = |limit_mm| fit(|p| p.space.height_max_mm = Some(limit_mm), |_| ());
    assert_eq!(at(19.0), (Pass, FitFault::None));
    assert_eq!(at(18.99), (Marginal, FitFault::Height));
    assert_eq!(at(17.0), (Marginal, FitFault::Height));
    assert_eq!(at(16.99), (Fail, FitFault::Height));
}

#[test]
fn without_limits_the_originals_largest_body_and_vent_space_are_the_room() {
    let no_limits = |p: &mut Position| (p.space.diameter_max_mm, p.space.height_max_mm) = (None, None);
    assert_eq!(fit(no_limits, |_| ()), (Pass, FitFault::None));
    assert_eq!(fit(no_limits, |can| can.diameter_max_mm = Some(10.51)), (Marginal, FitFault::Diameter));
    assert_eq!(fit(no_limits, |can| can.height_max_mm = Some(17.01)), (Marginal, FitFault::Height));
    let nothing_known = |p: &mut Position| {
        no_limits(p);
        (p.original.can.diameter_mm, p.original.can.diameter_max_mm) = (None, None);
    };
    assert_eq!(fit(nothing_known, |_| ()), (Unknown, FitFault::Diameter));
}

#[test]
fn a_body_that_is_not_known_is_unknown() {
    let no_diameter = |can: &mut Can| (can.diameter_mm, can.diameter_max_mm) = (None, None);
    assert_eq!(fit(|_| (), no_diameter), (Unknown, FitFault::Diameter));
    let no_height = |can: &mut Can| (can.height_mm, can.height_max_mm) = (None, None);
    assert_eq!(fit(|_| (), no_height), (Unknown, FitFault::Height));
    // The vent clearance goes by the nominal diameter.
    assert_eq!(fit(|_| (), |can| can.diameter_mm = None), (Unknown, FitFault::Height));
}

#[test]
fn radial_leads_can_be_formed_within_reach() {
    let at = |pitch_mm, reach_mm| fit(|p| p.space.pitch_reach_mm = reach_mm, |can| can.pitch_mm = Some(pitch_mm));
    assert_eq!([at(5.5, None), at(4.5, None)], [(Pass, FitFault::None); 2]);
    assert_eq!([at(5.51, None), at(7.5, None), at(2.5, None)], [(Marginal, FitFault::Pitch); 3]);
    assert_eq!(at(7.51, None), (Fail, FitFault::Pitch));
    assert_eq!(at(5.51, Some(0.0)), (Fail, FitFault::Pitch));
    assert_eq!(at(5.5, Some(0.0)), (Pass, FitFault::None));
}

#[test]
fn stiff_terminals_must_meet_their_holes() {
    for mounting in [Mounting::SnapIn, Mounting::Screw] {
        let at = |pitch_mm| {
            let part = |can: &mut Can| {
                mounted(mounting)(can);
                can.pitch_mm = Some(pitch_mm);
            };
            fit(|p| mounted(mounting)(&mut p.original.can), part)
        };
        assert_eq!([5.3, 4.7].map(at), [(Pass, FitFault::None); 2]);
        assert_eq!([5.31, 4.69].map(at), [(Fail, FitFault::Pitch); 2]);
    }
}

#[test]
fn how_far_the_leads_are_off_the_holes_is_shown_either_way() {
    let at = |pitch_mm| evaluated(|_| (), |can| can.pitch_mm = Some(pitch_mm)).figures.pitch_error_mm;
    assert_eq!([5.0, 5.5, 4.75].map(at), [0.0, 0.5, 0.25].map(Some));
}

#[test]
fn an_axial_part_lies_down_and_needs_three_millimetres_of_hole_span_over_its_body() {
    let at = |span_mm, height_limit_mm| {
        let context = |p: &mut Position| {
            mounted(Mounting::Axial)(&mut p.original.can);
            (p.space.pitch_mm, p.space.height_max_mm) = (Some(span_mm), Some(height_limit_mm));
        };
        let part = |can: &mut Can| {
            mounted(Mounting::Axial)(can);
            can.height_max_mm = Some(16.0);
        };
        fit(context, part)
    };
    assert_eq!(at(19.0, 10.5), (Pass, FitFault::None), "16 mm long, 10.5 mm thick");
    assert_eq!(at(18.99, 10.5), (Fail, FitFault::Pitch));
    assert_eq!(at(19.0, 10.49), (Fail, FitFault::Height));
}

#[test]
fn smd_pads_go_by_the_diameter_and_need_no_holes() {
    let at = |diameter_mm| {
        let context = |p: &mut Position| {
            mounted(Mounting::Smd)(&mut p.original.can);
            p.space.diameter_max_mm = Some(20.0);
        };
        let part = |can: &mut Can| {
            mounted(Mounting::Smd)(can);
            (can.diameter_mm, can.diameter_max_mm) = (Some(diameter_mm), Some(diameter_mm));
            (can.pitch_mm, can.lead_d_mm) = (None, None);
        };
        fit(context, part)
    };
    assert_eq!([at(10.3), at(9.7)], [(Pass, FitFault::None); 2]);
    assert_eq!([at(10.31), at(11.7), at(8.3)], [(Marginal, FitFault::Pitch); 3]);
    assert_eq!([at(11.71), at(8.29)], [(Fail, FitFault::Pitch); 2]);
}

#[test]
fn a_missing_pitch_or_hole_pitch_is_unknown() {
    assert_eq!(fit(|_| (), |can| can.pitch_mm = None), (Unknown, FitFault::Pitch));
    let no_holes = |p: &mut Position| (p.space.pitch_mm, p.original.can.pitch_mm) = (None, None);
    assert_eq!(fit(no_holes, |_| ()), (Unknown, FitFault::Pitch));
    assert_eq!(fit(|p| p.space.pitch_mm = None, |_| ()), (Pass, FitFault::None), "the original's pitch stands in");
}

#[test]
fn the_lead_needs_room_in_its_hole() {
    let at = |hole_mm| fit(|p| p.space.hole_mm = Some(hole_mm), |_| ());
    assert_eq!(at(0.85), (Pass, FitFault::None));
    assert_eq!([0.84, 0.80, 0.65].map(at), [(Marginal, FitFault::Lead); 3]);
    assert_eq!(at(0.64), (Fail, FitFault::Lead));
    assert_eq!(fit(|_| (), |can| can.lead_d_mm = None), (Unknown, FitFault::Lead));
    assert_eq!(fit(|p| p.space.hole_mm = None, |can| can.lead_d_mm = None), (Pass, FitFault::None));
}

/// The part at a position with a neighbour of 10.5 mm at this distance.
fn beside(distance_mm: f64, change: impl FnOnce(&mut Position)) -> (Outcome, FitFault) {
    let located = |x_mm| Position { x_mm: Some(x_mm), y_mm: Some(20.0), ..position() };
    let mut other = located(10.0 + distance_mm);
    change(&mut other);
    let job = job_of(vec![located(10.0), other]);
    let context = PositionContext::new(&job, &Catalog::default(), HERE).unwrap();
    let evaluation = context.evaluate(&can(), IN_STOCK);
    (evaluation.outcome(Check::Fit), evaluation.fit_fault)
}

#[test]
fn neighbours_need_a_gap_and_must_not_collide() {
    assert_eq!(beside(11.5, |_| ()), (Pass, FitFault::None));
    assert_eq!([beside(11.49, |_| ()), beside(10.5, |_| ())], [(Marginal, FitFault::Neighbour); 2]);
    assert_eq!(beside(10.49, |_| ()), (Fail, FitFault::Neighbour));
}

#[test]
fn a_neighbour_that_is_not_located_or_on_the_other_side_does_not_count() {
    assert_eq!(beside(5.0, |other| other.x_mm = None), (Pass, FitFault::None));
    assert_eq!(beside(5.0, |other| other.side = Some(Side::Bottom)), (Pass, FitFault::None));
}

#[test]
fn a_neighbour_of_unknown_size_is_unknown() {
    assert_eq!(beside(50.0, |other| other.original.can = Can::default()), (Unknown, FitFault::Neighbour));
    let lost_pick = |other: &mut Position| other.pick = Some("not in the catalogue".into());
    assert_eq!(beside(50.0, lost_pick), (Unknown, FitFault::Neighbour));
}

/// An axial part of 16 mm by 10 mm, largest 17 by 10.5, beside a standing can of 10.5 mm, its leads in this direction.
fn lying_beside(
    rotation_deg: Option<f64>,
    distance_mm: f64,
    length_mm: Option<f64>,
) -> (Outcome, FitFault, Option<f64>) {
    let located = |x_mm| Position { x_mm: Some(x_mm), y_mm: Some(20.0), ..position() };
    let mut own = located(10.0);
    own.original.can.mounting = Some(Mounting::Axial);
    own.rotation_deg = rotation_deg;
    (own.space.pitch_mm, own.space.height_max_mm) = (Some(30.0), Some(30.0));
    let job = job_of(vec![own, located(10.0 + distance_mm)]);
    let context = PositionContext::new(&job, &Catalog::default(), HERE).unwrap();
    let part = Can {
        mounting: Some(Mounting::Axial),
        height_mm: length_mm,
        height_max_mm: length_mm.map(|l| l + 1.0),
        ..can()
    };
    let evaluation = context.evaluate(&part, IN_STOCK);
    (evaluation.outcome(Check::Fit), evaluation.fit_fault, evaluation.figures.gap_mm)
}

#[test]
fn a_lying_can_is_measured_as_long_as_it_is_along_its_leads() {
    // 17/2 + 10.5/2 = 13.75 mm between centres touch end on, 10.5 mm side on.
    let end_on = |distance_mm| lying_beside(Some(0.0), distance_mm, Some(16.0));
    assert_eq!(end_on(14.75), (Pass, FitFault::None, Some(1.0)));
    assert_eq!(end_on(13.75), (Marginal, FitFault::Neighbour, Some(0.0)));
    assert_eq!(end_on(13.0).0, Fail);
    let side_on = lying_beside(Some(90.0), 11.5, Some(16.0));
    assert_eq!((side_on.0, side_on.1), (Pass, FitFault::None));
    assert!((side_on.2.unwrap() - 1.0).abs() < 1e-9);
    assert_eq!(lying_beside(None, 50.0, Some(16.0)).0, Unknown, "without a direction nobody knows how it lies");
}

#[test]
fn a_lying_can_of_unknown_length_has_an_unknown_gap() {
    let (outcome, _, gap_mm) = lying_beside(Some(90.0), 50.0, None);
    assert_eq!((outcome, gap_mm), (Unknown, None));
}
