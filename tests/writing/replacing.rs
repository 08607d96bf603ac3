//! One rule for which files others may replace.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use refarad::files::output::{OutputError, Outputs, Refusal, Replace, asked};
use refarad::files::written::Written;

/// A set of one file, with a memory of its own.
fn write(folder: &Path, name: &str, content: &str, replace: Replace, overwrite: bool) -> Result<(), OutputError> {
    write_after(folder, name, content, replace, overwrite, Vec::new())
}

fn write_after(
    folder: &Path,
    name: &str,
    content: &str,
    replace: Replace,
    overwrite: bool,
    inputs: Vec<PathBuf>,
) -> Result<(), OutputError> {
    let mut outputs = Outputs::new(inputs, overwrite).remembering(Some(Written::in_folder(&folder.join("memory"))));
    outputs.add(folder.join(name), content, replace);
    outputs.write().map(|_| ())
}

fn why(done: Result<(), OutputError>) -> Option<Refusal> {
    match done {
        Ok(()) => None,
        Err(OutputError::Refused { why, .. }) => Some(why),
        Err(error) => panic!("{error}"),
    }
}

fn read(folder: &Path, name: &str) -> Option<String> {
    fs::read_to_string(folder.join(name)).ok()
}

const TABLE: &str = "board,ref,original,part_number\n";

#[test]
fn only_what_the_program_wrote_and_nobody_changed_is_replaced_unasked() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let own = |content: &str| why(write(folder, "a.csv", content, Replace::Own, false));
    assert_eq!(own("a\n1"), None);
    assert_eq!(own("a\n2"), None);
    assert_eq!((read(folder, "a.csv").unwrap().as_str(), read(folder, "a.csv.previous")), ("a\n2", None));
    fs::write(folder.join("a.csv"), "a\n2, mended by hand").unwrap();
    assert_eq!(own("a\n3"), Some(Refusal::Foreign));
    assert_eq!(own("a\n2, mended by hand"), None, "the same content needs no writing");
    assert_eq!(why(write(folder, "a.csv", "a\n3", Replace::Own, true)), None);
    assert_eq!(read(folder, "a.csv.previous").unwrap(), "a\n2, mended by hand");
    assert_eq!(why(write(folder, "a.csv", "a\n4", Replace::Same, false)), Some(Refusal::Foreign));
}

#[test]
fn what_is_not_remembered_is_known_by_how_it_begins_and_kept() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let page = |text: &str| format!("<!DOCTYPE html>\n<meta content=\"Written by Refarad\">{text}");
    let catalogue = "part_number,maker,capacitance_uf,rated_v\n";
    for (name, there, new, refused) in [
        ("own.csv", format!("{TABLE}1"), format!("{TABLE}2"), false),
        ("other.csv", "part,price,shop,ref\n1".to_owned(), format!("{TABLE}2"), true),
        ("catalogue.csv", format!("{catalogue}1"), format!("{catalogue}2"), true),
        ("own.html", page("1"), page("2"), false),
        ("other.html", "<!DOCTYPE html>1".to_owned(), page("2"), true),
        ("empty.csv", String::new(), format!("{TABLE}2"), true),
        // Two columns are soon the same by chance.
        ("narrow.csv", "part,price\n1".to_owned(), "part,price\n2".to_owned(), true),
    ] {
        fs::write(folder.join(name), &there).unwrap();
        let done = why(write(folder, name, &new, Replace::Own, false));
        assert_eq!(done, refused.then_some(Refusal::Foreign), "{name}");
        let kept = read(folder, &format!("{name}.previous"));
        assert_eq!(kept, (!refused).then_some(there), "{name}");
    }
}

#[test]
fn inputs_jobs_and_records_stay_even_where_the_person_was_asked_and_are_kept_when_overruled() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let job = r#"{"format": "refarad-job", "version": 1}"#;
    let record = "{\"format\":\"refarad-unit\",\"version\":1}\n";
    for (name, there, refusal) in [
        ("in.csv", format!("{TABLE}1"), Refusal::Input),
        ("job.json", job.to_owned(), Refusal::Job),
        ("job.units.jsonl", record.to_owned(), Refusal::Record),
    ] {
        fs::write(folder.join(name), &there).unwrap();
        fs::create_dir_all(folder.join("x")).unwrap();
        let inputs = vec![folder.join("x/../in.csv")];
        for replace in [Replace::Own, Replace::Asked, Replace::Same] {
            let done = write_after(folder, name, &format!("{TABLE}2"), replace, false, inputs.clone());
            assert_eq!(why(done), Some(refusal), "{name}");
        }
        assert_eq!(read(folder, name).unwrap(), there);
        write_after(folder, name, &format!("{TABLE}2"), Replace::Own, true, inputs).unwrap();
        assert_eq!(read(folder, &format!("{name}.previous")).unwrap(), there);
    }
}

#[test]
fn the_person_is_told_that_it_can_be_overruled_only_where_that_helps() {
    let overruled = |why| OutputError::Refused { path: PathBuf::new(), why }.can_be_overruled();
    for why in [Refusal::Input, Refusal::Job, Refusal::Record, Refusal::Foreign] {
        assert!(overruled(why), "{why}");
    }
    for why in [Refusal::Folder, Refusal::Link, Refusal::Special, Refusal::Twice] {
        assert!(!overruled(why), "{why}");
    }
}

#[test]
fn what_a_person_was_asked_about_is_replaced_and_kept_and_a_job_is_not() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    fs::write(folder.join("a.csv"), "mine").unwrap();
    fs::write(folder.join("job.json"), r#"{"format": "refarad-job", "version": 1}"#).unwrap();
    asked(&folder.join("a.csv"), b"new".to_vec()).unwrap();
    assert_eq!([read(folder, "a.csv").unwrap(), read(folder, "a.csv.previous").unwrap()], ["new", "mine"]);
    assert!(asked(&folder.join("job.json"), b"new".to_vec()).unwrap_err().contains("is a job"));
}

#[test]
fn what_one_memory_holds_another_does_not_know() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let by = |memory: &str, content: &str| {
        let mut outputs = Outputs::new(Vec::new(), false).remembering(Some(Written::in_folder(&folder.join(memory))));
        outputs.add(folder.join("a.csv"), content, Replace::Own);
        why(outputs.write().map(|_| ()))
    };
    assert_eq!((by("mine", "a\n1"), by("yours", "a\n2")), (None, Some(Refusal::Foreign)));
    assert_eq!(by("mine", "a\n2"), None);
}

#[cfg(unix)]
#[test]
fn a_set_waits_until_another_call_is_done_with_its_folder() {
    let folder = tempfile::tempdir().unwrap();
    let other = fs::File::open(folder.path()).unwrap();
    other.lock().unwrap();
    let path = folder.path().to_owned();
    let call = std::thread::spawn(move || write(&path, "a.csv", "a", Replace::Own, false));
    // Time enough for a call that does not wait; one that waits is never too early.
    std::thread::sleep(Duration::from_millis(300));
    let early = read(folder.path(), "a.csv");
    other.unlock().unwrap();
    assert_eq!((why(call.join().unwrap()), early), (None, None));
    assert_eq!(read(folder.path(), "a.csv").unwrap(), "a");
}

#[test]
fn a_job_is_written_again_only_as_long_as_nobody_worked_on_it_and_is_kept_even_then() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let job = |name: &str| format!(r#"{{"format": "refarad-job", "version": 1, "name": "{name}"}}"#);
    let own = |name: &str| why(write(folder, "job.json", &job(name), Replace::Own, false));
    assert_eq!((own("first"), own("second")), (None, None));
    assert_eq!(read(folder, "job.json.previous").unwrap(), job("first"));
    fs::write(folder.join("job.json"), job("worked on")).unwrap();
    assert_eq!(own("third"), Some(Refusal::Job));
}

#[cfg(unix)]
#[test]
fn links_folders_and_special_files_are_never_replaced() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    fs::write(folder.join("real.csv"), "x").unwrap();
    std::os::unix::fs::symlink(folder.join("real.csv"), folder.join("link.csv")).unwrap();
    std::os::unix::fs::symlink(folder.join("nowhere"), folder.join("dangling.csv")).unwrap();
    fs::create_dir(folder.join("folder.csv")).unwrap();
    std::os::unix::net::UnixListener::bind(folder.join("socket.csv")).unwrap();
    for (name, refusal) in [
        ("link.csv", Refusal::Link),
        ("dangling.csv", Refusal::Link),
        ("folder.csv", Refusal::Folder),
        ("socket.csv", Refusal::Special),
    ] {
        for replace in [Replace::Own, Replace::Asked] {
            assert_eq!(why(write(folder, name, "new", replace, true)), Some(refusal), "{name}");
        }
    }
    assert_eq!(why(write(Path::new("/dev"), "null", "new", Replace::Asked, true)), Some(Refusal::Special));
    assert_eq!(read(folder, "real.csv").unwrap(), "x");
}

#[test]
fn a_set_is_refused_as_a_whole_and_two_files_at_one_place_are_told() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    fs::write(folder.join("b.csv"), "mine").unwrap();
    let set = |names: &[&str]| {
        let mut outputs = Outputs::new(Vec::new(), false).remembering(None);
        names.iter().for_each(|name| outputs.add(folder.join(name), "new", Replace::Own));
        outputs.write().map(|_| ())
    };
    assert_eq!(why(set(&["a.csv", "b.csv"])), Some(Refusal::Foreign));
    assert_eq!(why(set(&["a.csv", "a.csv"])), Some(Refusal::Twice));
    assert_eq!(read(folder, "a.csv"), None);
    assert_eq!(why(set(&["new/a.csv", "c.csv"])), None);
    assert_eq!(read(folder, "new/a.csv").unwrap(), "new");
}

#[cfg(unix)]
#[test]
fn what_cannot_be_put_in_its_place_takes_the_others_back() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    for name in ["a.csv", "b.csv"] {
        fs::write(folder.join(name), "old").unwrap();
    }
    // Where the version before would be kept stands a folder, so the second cannot be replaced.
    fs::create_dir_all(folder.join("b.csv.previous/x")).unwrap();
    // Of what the program wrote itself no version before is kept, and yet it is taken back.
    write(folder, "own.csv", "old", Replace::Own, false).unwrap();
    let mut outputs = Outputs::new(Vec::new(), true).remembering(Some(Written::in_folder(&folder.join("memory"))));
    ["new.csv", "own.csv", "a.csv", "b.csv"]
        .iter()
        .for_each(|name| outputs.add(folder.join(name), "new", Replace::Own));
    assert!(matches!(outputs.write(), Err(OutputError::Failed(_))));
    assert_eq!(["own.csv", "a.csv", "b.csv"].map(|name| read(folder, name).unwrap()), ["old"; 3]);
    assert_eq!([read(folder, "new.csv"), read(folder, "own.csv.previous")], [None, None]);
}
