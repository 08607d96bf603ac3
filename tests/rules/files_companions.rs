//! The files a job names: where they may lie, and how they go with it.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use refarad::domain::{Board, Catalog, Job};
use refarad::files::companions::{From, Held, bring, free_name, inside, name_inside};
use refarad::files::demo;

fn from(old: &Path, job: &Job, to: &Path) -> (Job, Vec<String>) {
    let from = From { beside: Some(old), held: &Held::new(), parts: &Catalog::default() };
    bring(job, from, to).unwrap()
}

fn folder(outer: &Path, name: &str) -> PathBuf {
    let folder = outer.join(name);
    std::fs::create_dir(&folder).unwrap();
    folder.join("job.json")
}

#[test]
fn everything_a_job_names_goes_with_it_and_replaces_nothing() {
    let outer = tempfile::tempdir().unwrap();
    let (old, new) = (folder(outer.path(), "old"), folder(outer.path(), "new"));
    std::fs::create_dir(old.with_file_name("lists")).unwrap();
    for (name, content) in [("lists/parts.csv", "parts"), ("offers.csv", "mine"), ("board.png", "picture")] {
        std::fs::write(old.with_file_name(name), content).unwrap();
    }
    std::fs::write(new.with_file_name("offers.csv"), "theirs").unwrap();
    std::fs::write(new.with_file_name("board.png"), "picture").unwrap();
    let job = Job {
        catalogs: vec!["lists/parts.csv".into(), "none.csv".into()],
        offers: vec!["offers.csv".into()],
        boards: vec![Board { photo: Some("board.png".into()), ..Board::default() }],
        ..Job::default()
    };
    let (moved, notes) = from(&old, &job, &new);
    assert_eq!(moved.catalogs, ["lists/parts.csv", "none.csv"]);
    assert_eq!(moved.offers, ["offers-2.csv"]);
    assert_eq!(moved.boards[0].photo.as_deref(), Some("board.png"));
    assert!(notes.len() == 1 && notes[0].starts_with("none.csv"), "{notes:?}");
    let read = |name: &str| std::fs::read_to_string(new.with_file_name(name)).unwrap();
    assert_eq!(
        (read("lists/parts.csv"), read("offers.csv"), read("offers-2.csv")),
        ("parts".into(), "theirs".into(), "mine".into())
    );
    assert_eq!(from(&old, &job, &new).0, moved, "a second time there is nothing to do");
}

#[test]
fn in_the_same_folder_nothing_is_copied() {
    let outer = tempfile::tempdir().unwrap();
    let old = folder(outer.path(), "old");
    let job = Job { catalogs: vec!["none.csv".into()], ..Job::default() };
    assert_eq!(from(&old, &job, &old.with_file_name("other.json")), (job, Vec::new()));
}

#[test]
fn parts_that_are_only_in_memory_are_written_as_a_catalogue() {
    let outer = tempfile::tempdir().unwrap();
    let new = folder(outer.path(), "new");
    let catalog = demo::parts().unwrap().catalog;
    let written = |job: &Job, held: &Held| bring(job, From { beside: None, held, parts: &catalog }, &new).unwrap().0;
    let moved = written(&Job::default(), &Held::new());
    assert_eq!(moved.catalogs, ["parts.csv"]);
    let again = refarad::files::parts::read_files(&[new.with_file_name("parts.csv")]).unwrap();
    assert_eq!(again.catalog.len(), catalog.len());
    let held = Held::from([("parts.csv".to_owned(), Arc::new(b"others".to_vec()))]);
    let moved = written(&moved, &held);
    assert_eq!(moved.catalogs, ["parts-2.csv"], "a name that is taken gets a number");
    assert_eq!(std::fs::read(new.with_file_name("parts-2.csv")).unwrap(), b"others");
}

#[test]
fn only_files_below_the_folder_of_the_job_have_a_name_inside() {
    let outer = tempfile::tempdir().unwrap();
    let job = folder(outer.path(), "job");
    let photo = job.with_file_name("b").join("photo.png");
    std::fs::create_dir(photo.parent().unwrap()).unwrap();
    for path in [&job, &photo, &outer.path().join("secret.png")] {
        std::fs::write(path, "x").unwrap();
    }
    assert_eq!(name_inside(&job, &photo).as_deref(), Some("b/photo.png"));
    assert_eq!(name_inside(&job, &job.with_file_name("../secret.png")), None);
}

#[test]
fn names_that_lead_out_of_the_folder_are_not_followed() {
    let outer = tempfile::tempdir().unwrap();
    let job = folder(outer.path(), "job");
    std::fs::write(outer.path().join("secret.csv"), "secret").unwrap();
    for name in [
        "../secret.csv",
        "/etc/hostname",
        "a/../../secret.csv",
        "..\\secret.csv",
        "C:secret.csv",
        "\\\\host\\share\\a.csv",
        "a\0b",
    ] {
        assert_eq!(inside(&job, name), None, "{name}");
    }
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink(outer.path().join("secret.csv"), job.with_file_name("link.csv")).unwrap();
        std::os::unix::fs::symlink(outer.path(), job.with_file_name("up")).unwrap();
        assert_eq!((inside(&job, "link.csv"), inside(&job, "up/secret.csv")), (None, None));
    }
    assert_eq!(inside(&job, "./lists/parts.csv"), Some(job.with_file_name("./lists/parts.csv")));
}

#[test]
fn a_catalogue_gets_a_name_nothing_else_has_and_no_path() {
    let job = Job { catalogs: vec!["Parts.csv".into()], ..Job::default() };
    let name = |stem: &str| free_name(&job, None, &Held::default(), stem);
    assert_eq!((name("parts").as_str(), name("../../x/y").as_str()), ("parts (2).csv", "_.._x_y.csv"));
    assert_eq!(name(""), "parts (2).csv");
    assert_eq!(name("Purchase"), "Purchase (2).csv", "an export writes purchase.csv and would move it aside");
}
