//! Of `sizing/position_context.rs`, from within it: limits, missing data, odd cases.

use super::*;
use crate::domain::RippleLine;
use crate::sizing::testing::{HERE, job, position};

/// Asks something of the position after a change of the job.
fn asked<T>(change: impl FnOnce(&mut Job), ask: impl FnOnce(&PositionContext) -> T) -> T {
    let mut job = job(position());
    change(&mut job);
    ask(&PositionContext::new(&job, &Catalog::default(), HERE).unwrap())
}

/// The same after a change of its position.
fn asked_at<T>(change: impl FnOnce(&mut Position), ask: impl FnOnce(&PositionContext) -> T) -> T {
    asked(|job| change(&mut job.boards[0].positions[0]), ask)
}

#[test]
fn a_position_the_job_lacks_is_none() {
    let job = job(position());
    for id in [PositionId { board: 1, index: 0 }, PositionId { board: 0, index: 1 }] {
        assert!(PositionContext::new(&job, &Catalog::default(), id).is_none());
    }
}

#[test]
fn an_incomplete_spectrum_is_unknown_an_empty_one_is_known_and_the_originals_rating_stands_in() {
    let spectrum = |lines: Option<Vec<RippleLine>>| {
        asked_at(|p| p.stress.ripple = lines, |context| context.lines().map(<[(f64, f64)]>::to_vec))
    };
    let line = |hz, a| RippleLine { hz, a, ..RippleLine::default() };
    assert_eq!(spectrum(None), Some(vec![(1e5, 1.0)]));
    assert_eq!(spectrum(Some(Vec::new())), Some(Vec::new()));
    assert_eq!(spectrum(Some(vec![line(Some(100.0), Some(1.0)), line(None, Some(1.0))])), None);
    assert_eq!(spectrum(Some(vec![line(Some(0.0), Some(1.0))])), None);
    assert_eq!(spectrum(Some(vec![line(Some(100.0), Some(1.0))])), Some(vec![(100.0, 1.0)]));
    let unrated = |p: &mut Position| (p.stress.ripple, p.original.can.ripple_a) = (None, None);
    assert!(asked_at(unrated, |context| context.lines().is_none() && context.electrical.ripple.assumed));
}

#[test]
fn the_target_is_the_positions_own_else_the_interval() {
    assert_eq!(asked(|_| (), |context| context.target_h), Some(30_000.0));
    let no_own = |p: &mut Position| p.needs.life_h = None;
    assert_eq!(asked_at(no_own, |context| context.target_h), Some(10.0 * 3000.0));
}

#[test]
fn the_esr_limit_falls_back_on_the_original() {
    assert_eq!(asked(|_| (), |context| context.esr_limit()), (1e5, Some(80.0)));
    let no_own = |p: &mut Position| (p.needs.esr_max_mohm, p.needs.esr_hz) = (None, None);
    assert_eq!(asked_at(no_own, |context| context.esr_limit()), (1e5, Some(60.0)));
}

#[test]
fn room_is_what_was_measured_else_what_the_original_took() {
    assert_eq!(asked(|_| (), |context| context.room_mm()), (Some(11.0), Some(20.0)));
    let unmeasured = |p: &mut Position| {
        (p.space.diameter_max_mm, p.space.height_max_mm) = (None, None);
        (p.original.can.diameter_max_mm, p.original.can.height_max_mm) = (None, None);
    };
    // 10 x 16 mm radial: +0.5 mm, +1 mm and 2 mm for the vent.
    assert_eq!(asked_at(unmeasured, |context| context.room_mm()), (Some(10.5), Some(19.0)));
    let lying = |p: &mut Position| {
        unmeasured(p);
        p.original.can.mounting = Some(Mounting::Axial);
    };
    assert_eq!(asked_at(lying, |context| context.room_mm()), (Some(10.5), Some(10.5)));
}

#[test]
fn the_reach_of_the_position_wins_over_that_of_the_policy() {
    let reach = |own: Option<f64>| asked_at(|p| p.space.pitch_reach_mm = own, |context| context.room.pitch_reach_mm);
    assert_eq!([reach(None), reach(Some(0.0))], [2.5, 0.0]);
}

#[test]
fn need_is_pieces_and_spares_rounded_up() {
    let need = |per_unit, units, spare_pct| {
        let change = |job: &mut Job| {
            job.boards[0].per_unit = per_unit;
            (job.units, job.spare_pct) = (units, spare_pct);
        };
        asked(change, |context| context.need_qty)
    };
    assert_eq!(need(None, None, None), 1.0);
    assert_eq!(need(Some(1.0), Some(10.0), Some(10.0)), 11.0, "exactly 11, not 12 by binary rounding");
    assert_eq!(need(Some(2.0), Some(4.0), Some(10.0)), 9.0);
}

#[test]
fn capacitance_bounds_come_from_needs_else_from_the_role() {
    let range = |change: fn(&mut Position)| asked_at(change, |context| context.capacitance_range_uf());
    assert_eq!(range(|_| ()), (0.8 * 470.0, 3.0 * 470.0));
    assert_eq!(range(|p| p.needs.capacitance_min_uf = Some(100.0)), (100.0, 3.0 * 470.0));
    assert_eq!(range(|p| p.needs.capacitance_max_uf = Some(900.0)), (0.8 * 470.0, 900.0));
    assert_eq!(range(|p| p.role = None), (0.0, f64::INFINITY));
}

#[test]
fn mountings_are_the_originals_and_those_accepted() {
    let mountings = |change: fn(&mut Position)| asked_at(change, |context| context.mountings());
    assert_eq!(mountings(|_| ()), Some(vec![Mounting::Radial]));
    let accepts = |p: &mut Position| p.space.accepts = Some(vec![Mounting::SnapIn]);
    assert_eq!(mountings(accepts), Some(vec![Mounting::Radial, Mounting::SnapIn]));
    assert_eq!(mountings(|p| p.original.can.mounting = None), None);
}
