//! Work that was not saved: found again, with its parts, once its program is gone.

use std::sync::Arc;

use refarad::domain::Job;
use refarad::files::demo;
use refarad::files::job_file::Stamp;
use refarad::files::recovery::{LeftBehind, Origin, Recovery, left_behind};
use refarad::files::{load, parts};
use refarad::sizing::CatalogIndex;

fn job(name: &str) -> Job {
    Job { name: name.into(), ..Job::default() }
}

fn origin() -> Origin {
    let stamp = Some(Stamp::of(b"x"));
    Origin { job_file: Some("/jobs/a.json".into()), stamp, newer: true, kept_unix_s: 0 }
}

#[test]
fn work_is_found_once_its_program_is_gone_and_not_before() {
    let folder = tempfile::tempdir().unwrap();
    let recovery = Recovery::in_folder(folder.path());
    recovery.write(&job("first"), &origin(), None).unwrap();
    recovery.write(&job("second"), &origin(), None).unwrap();
    assert!(left_behind(folder.path()).0.is_empty(), "the program still runs");
    drop(recovery);
    let (found, faults) = left_behind(folder.path());
    assert!(faults.is_empty(), "{faults:?}");
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].job, job("second"));
    assert_eq!(Origin { kept_unix_s: 0, ..found[0].origin.clone() }, origin());
    assert!(left_behind(folder.path()).0.is_empty(), "already offered elsewhere");
    found.into_iter().for_each(LeftBehind::remove);
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
}

#[test]
fn parts_that_no_file_has_are_kept_beside_the_job_and_those_of_the_demo_are_not() {
    let folder = tempfile::tempdir().unwrap();
    let recovery = Recovery::in_folder(folder.path());
    let of_demo = Arc::new(CatalogIndex::new(Arc::new(demo::parts().unwrap().catalog)));
    recovery.write(&job("a"), &origin(), Some(&of_demo)).unwrap();
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 2);
    let own = parts::from_bytes(vec![(
        "a.csv".into(),
        b"part_number,capacitance_uf,rated_v\nOWN-1,10,25\n=OWN-2,22,35\n".to_vec(),
    )]);
    let own = Arc::new(CatalogIndex::new(Arc::new(own.unwrap().catalog)));
    recovery.write(&job("a"), &origin(), Some(&own)).unwrap();
    drop(recovery);
    let (mut found, _) = left_behind(folder.path());
    let left = found.remove(0);
    let again = load::recovered(left.job.clone(), None, left.parts.as_deref());
    let numbers = |catalog_index: &CatalogIndex| {
        let catalog = catalog_index.catalog();
        let mut all: Vec<String> = catalog.ids().map(|id| catalog.part_number(id).to_owned()).collect();
        all.sort();
        all
    };
    assert_eq!(numbers(&again.catalog_index), ["=OWN-2", "OWN-1"]);
    left.remove();
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
}

#[test]
fn work_that_was_saved_leaves_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let recovery = Recovery::in_folder(folder.path());
    recovery.write(&job("first"), &origin(), None).unwrap();
    recovery.clear();
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
    recovery.write(&job("again"), &origin(), None).unwrap();
    drop(recovery);
    assert_eq!(left_behind(folder.path()).0.len(), 1);
}

#[test]
fn a_broken_file_is_set_aside_with_its_parts_and_told_once() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("1.json"), "{").unwrap();
    std::fs::write(folder.path().join("1.lock"), "").unwrap();
    std::fs::write(folder.path().join("1.parts.csv"), "parts").unwrap();
    let (found, faults) = left_behind(folder.path());
    assert!(found.is_empty() && faults.len() == 1 && faults[0].contains("1.json"), "{faults:?}");
    let read = |name: &str| std::fs::read_to_string(folder.path().join(name)).unwrap();
    assert_eq!((read("1.json.broken").as_str(), read("1.parts.csv.broken").as_str()), ("{", "parts"));
    assert!(faults[0].contains("1.json.broken"), "{faults:?}");
    let (found, faults) = left_behind(folder.path());
    assert!(found.is_empty() && faults.is_empty(), "{faults:?}");
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 2);
}

#[test]
fn a_figure_out_of_range_does_not_lose_the_rest() {
    let folder = tempfile::tempdir().unwrap();
    let odd = Job { units: Some(-1.0), ..job("odd") };
    Recovery::in_folder(folder.path()).write(&odd, &origin(), None).unwrap();
    let (found, faults) = left_behind(folder.path());
    assert_eq!(found[0].job, job("odd"));
    assert!(faults.len() == 1 && faults[0].contains("units"), "{faults:?}");
}

#[test]
fn the_time_is_told_in_words() {
    // 1 000 000 000 s after 1970 began is 2001-09-09 01:46:40 UTC, a figure often printed.
    assert_eq!(Origin { kept_unix_s: 1_000_000_000, ..origin() }.kept_at(), "2001-09-09 01:46 UTC");
}
