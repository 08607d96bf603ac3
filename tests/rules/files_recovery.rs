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
    assert_ne!(found[0].origin.kept_unix_s, 0, "it says when it was kept");
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
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 3);
    recovery.write(&job("a"), &origin(), None).unwrap();
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 2, "they go when the job has them no more");
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
fn parts_beside_those_of_the_demo_are_kept_with_them() {
    let folder = tempfile::tempdir().unwrap();
    let text = demo::FILES.iter().find(|file| file.0 == "parts.csv").unwrap().1;
    let (_, rest) = text.lines().last().unwrap().split_once(',').unwrap();
    let more = parts::from_bytes(vec![("a.csv".into(), format!("{text}OWN-1,{rest}\n").into_bytes())]).unwrap().catalog;
    assert_eq!(more.len(), demo::parts().unwrap().catalog.len() + 1);
    let more = Arc::new(CatalogIndex::new(Arc::new(more)));
    Recovery::in_folder(folder.path()).write(&job("a"), &origin(), Some(&more)).unwrap();
    assert!(left_behind(folder.path()).0[0].parts.is_some());
}

#[test]
fn windows_that_begin_at_one_moment_each_keep_their_own_work() {
    const WINDOWS: usize = 16;
    let folder = tempfile::tempdir().unwrap();
    let windows: Vec<Recovery> = (0..WINDOWS).map(|_| Recovery::in_folder(folder.path())).collect();
    let together = std::sync::Barrier::new(WINDOWS);
    std::thread::scope(|threads| {
        for (n, window) in windows.iter().enumerate() {
            let together = &together;
            threads.spawn(move || {
                together.wait();
                window.write(&job(&n.to_string()), &origin(), None).unwrap();
            });
        }
    });
    drop(windows);
    assert_eq!(left_behind(folder.path()).0.len(), WINDOWS);
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
