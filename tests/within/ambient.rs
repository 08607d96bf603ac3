//! Of `sizing/ambient.rs`, from within it: limits, missing data, odd cases.

use super::*;
use crate::domain::Conditions;
use crate::sizing::testing::phase;

fn conditions(ambient_c: f64, ambient_min_c: Option<f64>, airflow_lfm: Option<f64>) -> Conditions {
    Conditions { phases: Some(vec![phase(1.0, ambient_c, 1.0)]), ambient_min_c, airflow_lfm, ..Conditions::default() }
}

fn ambient(job: Conditions, board: Conditions, change: impl FnOnce(&mut Position)) -> Ambient {
    let mut position = Position::default();
    change(&mut position);
    let job = Job { conditions: job, ..Job::default() };
    Ambient::of(&job, &Board { conditions: board, ..Board::default() }, &position)
}

#[test]
fn each_field_is_taken_by_itself_from_board_else_job() {
    let job = || conditions(40.0, Some(-20.0), Some(100.0));
    let found = ambient(job(), Conditions::default(), |p| p.stress.ambient_rise_k = Some(5.0));
    assert_eq!((found.max_c, found.min_c, found.airflow_lfm), (Some(45.0), Some(-20.0), 100.0));
    let found = ambient(job(), conditions(55.0, None, None), |_| ());
    // The air of the job does not come with the duty of the board.
    assert_eq!((found.max_c, found.min_c, found.airflow_lfm), (Some(55.0), Some(-20.0), 0.0));
    let own = |p: &mut Position| {
        p.stress.phases = Some(vec![phase(1.0, 30.0, 1.0)]);
        p.stress.ambient_rise_k = Some(5.0);
    };
    let found = ambient(job(), Conditions::default(), own);
    assert_eq!((found.max_c, found.airflow_lfm), (Some(30.0), 0.0));
}

#[test]
fn the_coldest_ambient_is_the_colder_of_the_one_given_and_the_coolest_phase() {
    assert_eq!(ambient(conditions(40.0, Some(50.0), None), Conditions::default(), |_| ()).min_c, Some(40.0));
    let no_phases = Conditions { ambient_min_c: Some(-10.0), ..Conditions::default() };
    let found = ambient(no_phases, Conditions::default(), |_| ());
    assert_eq!((found.min_c, found.max_c, found.complete), (None, None, false));
}

#[test]
fn shares_and_scales_are_one_where_absent_and_a_phase_without_ambient_leaves_the_duty_incomplete() {
    let bare = Phase { ambient_c: Some(50.0), ..Phase::default() };
    let two = Conditions { phases: Some(vec![bare.clone(), bare.clone()]), ..Conditions::default() };
    let found = ambient(two, Conditions::default(), |_| ());
    assert_eq!(found.duty().unwrap(), [DutyPhase { share: 1.0, ambient_c: 50.0, ripple_scale: 1.0 }; 2]);
    let half = Conditions {
        phases: Some(vec![bare, Phase { ripple_scale: Some(3.0), ..Phase::default() }]),
        ..Conditions::default()
    };
    let found = ambient(half, Conditions::default(), |_| ());
    assert_eq!((found.duty(), found.max_c, found.ripple_scale_max), (None, Some(50.0), 3.0));
}
