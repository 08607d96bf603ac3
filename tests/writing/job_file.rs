//! Of `files/job_file.rs`: saving a job without losing anybody's work.

use std::path::Path;

use refarad::domain::Job;
use refarad::files::job;
use refarad::files::job_file::{Expect, JobSaveError, Stamp, previous, save_job};
use refarad::sizing::changed::Records;

fn job(name: &str) -> Job {
    Job { name: name.into(), ..Job::default() }
}

fn name_in(path: &Path) -> String {
    job::read(path).unwrap().job.name
}

#[test]
fn saving_keeps_the_version_before_and_saving_twice_does_not_lose_it() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.json");
    let first = save_job(&path, &job("first"), &Records::new(), Expect::Nothing).unwrap();
    assert!(!previous(&path).exists());
    let second = save_job(&path, &job("second"), &Records::new(), Expect::Known(first)).unwrap();
    save_job(&path, &job("second"), &Records::new(), Expect::Known(second)).unwrap();
    assert_eq!((name_in(&path), name_in(&previous(&path))), ("second".into(), "first".into()));
    assert_eq!(Stamp::of_file(&path), Some(second));
}

#[test]
fn a_file_that_somebody_else_changed_is_not_replaced_unasked() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.json");
    let known = save_job(&path, &job("mine"), &Records::new(), Expect::Nothing).unwrap();
    std::fs::write(&path, job::to_text(&job("theirs"))).unwrap();
    let error = save_job(&path, &job("mine too"), &Records::new(), Expect::Known(known)).unwrap_err();
    assert!(matches!(error, JobSaveError::Changed { .. }), "{error}");
    assert_eq!(name_in(&path), "theirs");
    save_job(&path, &job("mine too"), &Records::new(), Expect::Anything).unwrap();
    assert_eq!((name_in(&path), name_in(&previous(&path))), ("mine too".into(), "theirs".into()));
}

#[test]
fn a_file_nobody_spoke_of_is_not_replaced_and_one_that_vanished_is_written_again() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.json");
    let known = save_job(&path, &job("one"), &Records::new(), Expect::Nothing).unwrap();
    let error = save_job(&path, &job("two"), &Records::new(), Expect::Nothing).unwrap_err();
    assert!(matches!(error, JobSaveError::Occupied { .. }), "{error}");
    std::fs::remove_file(&path).unwrap();
    save_job(&path, &job("two"), &Records::new(), Expect::Known(known)).unwrap();
    assert_eq!(name_in(&path), "two");
}

#[cfg(unix)]
#[test]
fn what_stands_there_and_cannot_be_read_is_not_replaced() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.json");
    let _socket = std::os::unix::net::UnixListener::bind(&path).unwrap();
    for expected in [Expect::Nothing, Expect::Anything] {
        let error = save_job(&path, &job("new"), &Records::new(), expected).unwrap_err();
        assert!(error.to_string().contains("it is no ordinary file"), "{error}");
    }
    assert!(!path.is_file() && path.exists());
}

#[cfg(unix)]
#[test]
fn a_link_stays_a_link() {
    let folder = tempfile::tempdir().unwrap();
    let (real, link) = (folder.path().join("real.json"), folder.path().join("link.json"));
    let known = save_job(&real, &job("one"), &Records::new(), Expect::Nothing).unwrap();
    std::os::unix::fs::symlink(&real, &link).unwrap();
    save_job(&link, &job("two"), &Records::new(), Expect::Known(known)).unwrap();
    assert!(link.is_symlink());
    assert_eq!(name_in(&real), "two");
}
