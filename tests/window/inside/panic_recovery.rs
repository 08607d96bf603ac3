//! Of `app/shell/panic_recovery.rs`, whose module this is.

use super::*;
use crate::app::Folders;
use crate::files::{load, recovery};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;

#[test]
fn a_stumble_of_the_window_keeps_the_work_first_and_then_goes_on() {
    let folder = tempfile::tempdir().unwrap();
    let folders = Folders { settings: folder.path().join("s"), recovery: folder.path().join("r") };
    let mut window = Window::holding(load::load_demo().unwrap(), None).keeping_in(folders.clone());
    window.session.history.edit(crate::app::state::edit::Edit::unpick(crate::domain::PositionId::default()));
    window.trips = true;
    let mut harness = Harness::builder().build_ui_state(|ui, window: &mut Window| window.ui(ui), window);
    harness.run_ok();
    assert!(harness.query_by_label_contains("kept in a recovery file just now").is_some());
    assert!(harness.query_by_label("by intent").is_some());
    let job = harness.state().job().clone();
    harness.get_by_label("Go back to the job").click();
    harness.run_ok();
    assert!(harness.query_by_label("Go back to the job").is_none());
    assert_eq!(*harness.state().job(), job);
    drop(harness);
    let (left, _) = recovery::left_behind(&folders.recovery);
    assert_eq!(left[0].job, job);
}

#[test]
fn the_home_of_the_person_is_not_told() {
    let home = std::path::Path::new("/home/someone");
    assert_eq!(without_home("/home/someone/jobs/a.json: odd", Some(home)), "~/jobs/a.json: odd");
    assert_eq!(without_home("/jobs/a.json", Some(std::path::Path::new("/"))), "/jobs/a.json");
}
