use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use refarad::app::Window;
use refarad::domain::Job;
use refarad::files::job_file::{self, Expect};
use refarad::files::{demo, job, load};
use refarad::sizing;
use refarad::sizing::changed::{Records, State, records};

use crate::harness::Bench;

fn type_path(bench: &mut Bench, path: &std::path::Path, button: &str) {
    bench.harness.get_by_label("Path of the job file (*.json)").type_text(path.to_str().unwrap());
    bench.settle();
    bench.click_exactly(button);
}

#[test]
fn a_change_is_saved_to_the_file_and_read_back() {
    let folder = tempfile::tempdir().unwrap();
    demo::write_unless_there(folder.path(), false).unwrap();
    let path = folder.path().join("observatory.json");
    let mut bench = Bench::with(Window::holding(load::load(&path, &[]).unwrap(), Some(path.clone())));
    bench.click_exactly("Clear pick");
    assert!(bench.harness.state().has_unsaved_changes());
    bench.press_with(Modifiers::COMMAND, Key::S);
    assert!(!bench.harness.state().has_unsaved_changes());
    bench.assert_says("Saved to ");
    assert_eq!(job::read(&path).unwrap().job, *bench.job());
    assert_eq!(bench.position("Supply", "C1").pick, None);
}

#[test]
fn another_job_is_opened_by_its_path_and_unsaved_work_is_asked_about() {
    let folder = tempfile::tempdir().unwrap();
    demo::write_unless_there(folder.path(), false).unwrap();
    let path = folder.path().join("observatory.json");
    let mut bench = Bench::demo();
    bench.click_exactly("Clear pick");
    bench.press_with(Modifiers::COMMAND, Key::O);
    bench.click_exactly("Discard");
    type_path(&mut bench, &path, "Open this file");
    assert!(bench.position("Supply", "C1").pick.is_some());
    assert!(!bench.harness.state().has_unsaved_changes());
}

#[test]
fn a_file_that_cannot_be_used_is_refused_in_words_and_the_job_stays() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("no such job.json");
    let mut bench = Bench::demo();
    let before = bench.job().clone();
    bench.press_with(Modifiers::COMMAND, Key::O);
    type_path(&mut bench, &path, "Open this file");
    assert_eq!(*bench.job(), before);
    bench.assert_says("no such job.json");
}

#[test]
fn a_window_started_with_a_job_has_the_parts_of_its_catalogue() {
    let folder = tempfile::tempdir().unwrap();
    demo::write_unless_there(folder.path(), false).unwrap();
    let start = refarad::app::Start { path: Some(folder.path().join("observatory.json")) };
    let mut bench = Bench::with(Window::new(start));
    bench.settle();
    bench.assert_says("1557 parts");
}

#[test]
fn a_job_with_bad_values_opens_with_those_unknown_and_keeps_its_file_until_saved() {
    let folder = tempfile::tempdir().unwrap();
    demo::write_unless_there(folder.path(), false).unwrap();
    let path = folder.path().join("observatory.json");
    let mut content: serde_json::Value = serde_json::from_slice(&std::fs::read(&path).unwrap()).unwrap();
    content["units"] = 2.5.into();
    content["boards"][0]["positions"][0]["stress"]["ripple_peak_v"] = (-200).into();
    let bad = content.to_string();
    std::fs::write(&path, &bad).unwrap();
    let mut bench = Bench::with(Window::new(refarad::app::Start { path: Some(path.clone()) }));
    bench.assert_says("2 fields of the job cannot be used");
    bench.assert_says("units: expected a whole number from 1 to 1000000000, not 2.5");
    bench.assert_says("(C1): stress.ripple_peak_v: expected a voltage from 0 to 10 kV, not -200");
    bench.click_exactly("Open with these unknown");
    let position = bench.position("Supply", "C1");
    assert_eq!((bench.job().units, position.stress.ripple_peak_v), (None, None));
    assert!(position.stress.dc_v.is_some());
    assert_eq!(std::fs::read_to_string(&path).unwrap(), bad);
    assert!(bench.harness.state().has_unsaved_changes());
    bench.press(Key::Escape);
    bench.press_with(Modifiers::COMMAND, Key::S);
    bench.assert_says("Saved to ");
    assert_eq!(job::read(&path).unwrap().job, *bench.job());
    assert_eq!(std::fs::read_to_string(job_file::previous(&path)).unwrap(), bad);
}

#[test]
fn a_job_that_cannot_be_read_is_told_and_the_empty_window_offers_what_to_do() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("broken.json");
    let text = r#"{"format": "refarad-job", "version": 1, "boards": [{"name": "A", "positions": [{"x_mm": "abc"}]}]}"#;
    std::fs::write(&path, text).unwrap();
    let mut bench = Bench::with(Window::new(refarad::app::Start { path: Some(path) }));
    bench.assert_says("boards[0].positions[0].x_mm: expected a number, not \"abc\"");
    bench.click_exactly("Cancel");
    bench.assert_says("The job is empty");
    bench.press(Key::Insert);
    assert_eq!(bench.position("Board 1", "C1").reference, "C1");
    bench.menu("Edit", "Undo: add Board 1 with C1");
    assert!(bench.job().boards.is_empty());
}

/// A window started with the demo's job, changed, in a folder without its catalogue.
fn started_without_catalogue(folder: &std::path::Path, change: impl Fn(&mut Job)) -> Bench {
    let path = folder.join("observatory.json");
    let mut job = demo::job().unwrap().job;
    change(&mut job);
    std::fs::write(&path, job::to_text(&job)).unwrap();
    let mut bench = Bench::with(Window::new(refarad::app::Start { path: Some(path) }));
    bench.settle();
    bench
}

#[test]
fn a_job_whose_catalogue_is_missing_opens_with_its_boards_and_says_what_is_missing() {
    let folder = tempfile::tempdir().unwrap();
    let mut bench = started_without_catalogue(folder.path(), |job| {
        job.boards.iter_mut().for_each(|board| board.photo = None);
    });
    assert_eq!(bench.job().boards.len(), 4);
    bench.assert_says("parts.csv");
    bench.assert_says("goes on without this catalogue");
    bench.press_with(Modifiers::COMMAND, Key::Num2);
    bench.assert_says("original part");
}

#[test]
fn a_job_that_names_no_catalogue_yet_opens_and_says_what_to_do() {
    let folder = tempfile::tempdir().unwrap();
    let mut bench = started_without_catalogue(folder.path(), |job| job.catalogs.clear());
    assert_eq!(bench.job().boards.len(), 4);
    // Its photos are missing too, which is said after it.
    bench.press(Key::F2);
    bench.assert_says("The job names no catalogue yet: open or import one");
}

#[test]
fn a_catalogue_that_is_no_table_is_left_out_and_the_others_are_used() {
    let folder = tempfile::tempdir().unwrap();
    demo::write_unless_there(folder.path(), false).unwrap();
    std::fs::write(folder.path().join("odd.csv"), "no,table\n").unwrap();
    let bench = started_without_catalogue(folder.path(), |job| job.catalogs.insert(0, "odd.csv".into()));
    bench.assert_says("odd.csv");
    assert!(bench.says_exactly("1557 parts"));
}

#[test]
fn a_window_started_with_a_file_that_is_not_there_says_so() {
    let start = refarad::app::Start { path: Some("no such job.json".into()) };
    let mut bench = Bench::with(Window::new(start));
    bench.settle();
    bench.assert_says("no such job.json");
}

#[test]
fn a_job_opened_beside_a_newer_catalogue_lists_what_changed_and_one_goes_through_it() {
    let folder = tempfile::tempdir().unwrap();
    demo::write_unless_there(folder.path(), false).unwrap();
    let path = folder.path().join("observatory.json");
    let open = || {
        let mut bench = Bench::with(Window::new(refarad::app::Start { path: Some(path.clone()) }));
        bench.settle();
        bench
    };
    let mut bench = open();
    assert!(!bench.says("Since the job was saved"), "nothing was kept yet");
    bench.press_with(Modifiers::COMMAND, Key::S);
    bench.assert_says("Saved to ");
    let mut bench = open();
    assert!(!bench.says("Since the job was saved"), "nothing changed");
    bench.click_exactly("Clear pick");
    bench.press_with(Modifiers::COMMAND, Key::S);
    assert!(!bench.says("Since the job was saved"), "what one does oneself is no news");
    // A year later one part is dearer and one is no longer in the list.
    let parts = folder.path().join("parts.csv");
    let text = std::fs::read_to_string(&parts).unwrap();
    let dearer = |line: &str| {
        let cells: Vec<&str> = line.split(',').collect();
        let header = text.lines().find(|line| line.starts_with("part_number,")).unwrap();
        let at = header.split(',').position(|name| name == "stock").unwrap();
        let changed = cells.iter().enumerate().map(|(n, cell)| if n == at { "77777" } else { cell });
        changed.collect::<Vec<_>>().join(",")
    };
    let kept = text.lines().filter(|line| !line.starts_with("CURLEWBY-250-68U,"));
    let newer: Vec<String> =
        kept.map(|line| if line.starts_with("GNEISS-200-4700U,") { dearer(line) } else { line.to_owned() }).collect();
    std::fs::write(&parts, newer.join("\n")).unwrap();
    let mut bench = open();
    bench.assert_says("Since the job was saved the parts of ");
    bench.harness.get_by_label_contains(" changed since saved").click();
    bench.settle();
    bench.assert_says("CURLEWBY-250-68U is gone from the catalogue");
    bench.assert_says(&format!(" to {}", refarad::domain::style::figure(77777.0)));
    bench.click_exactly("Servo C101");
    assert_eq!(bench.harness.state().job().positions().count(), 35);
    bench.assert_says("GNEISS-200-4700U");
    bench.click_exactly("Dismiss");
    assert!(!bench.says("changed since saved"));
}

/// A catalogue with canonical headers and so many parts.
fn catalogue(comment: &str, maker: &str, parts: usize) -> String {
    let head = "part_number,maker,technology,mounting,capacitance_uf,rated_v,diameter_mm,height_mm";
    let rows = (0..parts).map(|at| format!("{maker}-{at},{maker},wet,radial,{},35,10,20\n", 100 + at));
    format!("{comment}{head}\n{}", rows.collect::<String>())
}

#[test]
fn catalogues_are_ticked_reloaded_and_removed_by_mouse_and_by_keys() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("own.json");
    let catalogs = ["quarrel.csv", "basalt.csv", "gone.csv"].map(str::to_owned).to_vec();
    std::fs::write(&path, job::to_text(&Job { name: "Own".into(), catalogs, ..Job::default() })).unwrap();
    std::fs::write(folder.path().join("quarrel.csv"), catalogue("", "Quarrel", 3)).unwrap();
    std::fs::write(folder.path().join("basalt.csv"), catalogue("# Invented: for a trial\n", "Basalt", 2)).unwrap();
    demo::write_unless_there(folder.path(), false).unwrap();
    let mut bench = Bench::with(Window::new(refarad::app::Start { path: Some(path) }));
    bench.press(Key::Escape);
    let used = |bench: &Bench| bench.job().catalogs.join(" ");
    bench.menu("Job", "Catalogues…");
    // What is invented says so, what is not there too; the demo's lies beside the job and is offered.
    bench.assert_says("invented: cannot be bought");
    bench.assert_says("not found beside the job");
    assert!(!bench.job().catalogs.contains(&"parts.csv".to_owned()));
    bench.click("Use parts.csv");
    bench.assert_says("1562 parts");
    bench.click("Use parts.csv");
    bench.assert_says("5 parts");
    // By keys: the tick of the first catalogue, and back.
    while bench.focused() != "Use quarrel.csv" {
        bench.press(Key::Tab);
    }
    bench.press(Key::Space);
    assert_eq!(used(&bench), "basalt.csv gone.csv");
    bench.assert_says("2 parts");
    bench.press(Key::Space);
    std::fs::write(folder.path().join("quarrel.csv"), catalogue("", "Quarrel", 4)).unwrap();
    bench.click("Reload quarrel.csv");
    bench.assert_says("6 parts");
    // What was removed stays away when the list is opened again; its file stays.
    bench.click("Remove gone.csv");
    bench.click("Remove basalt.csv");
    bench.press(Key::Escape);
    bench.menu("Job", "Catalogues…");
    assert_eq!(used(&bench), "quarrel.csv");
    assert!(!bench.says("basalt.csv") && !bench.says("gone.csv"));
    assert!(folder.path().join("basalt.csv").exists());
    bench.press(Key::Escape);
    bench.press_with(Modifiers::COMMAND, Key::Z);
    assert_eq!(used(&bench), "basalt.csv quarrel.csv");
}

#[test]
fn escape_leaves_every_question_and_enter_destroys_nothing() {
    let mut bench = Bench::demo();
    let before = bench.job().clone();
    let ctrl_shift = Modifiers::COMMAND | Modifiers::SHIFT;
    for (modifiers, key, says) in [
        (Modifiers::COMMAND, Key::O, "Open a job"),
        (ctrl_shift, Key::O, "Path of the list"),
        (ctrl_shift, Key::S, "Save the job"),
        (Modifiers::NONE, Key::F1, "Keyboard shortcuts"),
    ] {
        bench.press_with(modifiers, key);
        bench.assert_says(says);
        bench.press(Key::Escape);
        assert!(!bench.says(says), "{says}");
    }
    for key in [Key::Escape, Key::Enter] {
        bench.menu("Edit", "Remove board");
        bench.assert_says("Remove Supply?");
        bench.press(key);
        assert!(!bench.says("Remove Supply?"), "{key:?}");
        assert_eq!(*bench.job(), before, "{key:?}");
    }
    bench.press_with(Modifiers::COMMAND, Key::Num1);
    bench.click_exactly("Clear pick");
    let changed = bench.job().clone();
    bench.press_with(Modifiers::COMMAND, Key::O);
    bench.assert_says("The job has changes that are not saved");
    bench.press(Key::Escape);
    assert_eq!(*bench.job(), changed);
    assert!(bench.harness.state().has_unsaved_changes());
}

#[test]
fn a_job_with_offers_opens_without_an_alarm_and_is_saved_with_what_they_ask() {
    let folder = tempfile::tempdir().unwrap();
    demo::write_unless_there(folder.path(), false).unwrap();
    let path = folder.path().join("observatory.json");
    let read = |path: &std::path::Path| load::load(path, &[]).unwrap();
    // A proposed part that the offers make dear: with them another one is proposed.
    let loaded = read(&path);
    let sizing = sizing::size(&loaded.job, &loaded.catalog_index);
    let catalog = loaded.catalog_index.catalog();
    let proposed = sizing.positions.iter().find(|sized| sized.choice.source == sizing::Source::Proposed);
    let number = catalog.part_number(proposed.unwrap().choice.part.unwrap().id);
    let supplier = catalog.supplier(catalog.find(number).unwrap());
    let offers =
        format!("part_number,supplier,currency,unit_price\n{number},{supplier},EUR,900\n{number},Other,EUR,800\n");
    std::fs::write(folder.path().join("offers.csv"), offers).unwrap();
    let job = Job { offers: vec!["offers.csv".into()], ..loaded.job };
    job_file::save_job(&path, &job, &Records::new(), Expect::Anything).unwrap();
    let loaded = read(&path);
    let sizing = sizing::size(&loaded.job, &loaded.catalog_index);
    let state = State { job: &loaded.job, catalog_index: &loaded.catalog_index, sizing: &sizing };
    let kept = records(state);
    assert_ne!(sizing.position(proposed.unwrap().id).unwrap().choice.part, proposed.unwrap().choice.part);
    job_file::save_job(&path, &loaded.job, &kept, Expect::Anything).unwrap();
    // The same catalogue and the same offers: nothing changed, whatever was there first.
    let mut bench = Bench::with(Window::new(refarad::app::Start { path: Some(path.clone()) }));
    bench.settle();
    assert!(!bench.says("Since the job was saved"), "{:?}", bench.harness.root());
    bench.press_with(Modifiers::COMMAND, Key::S);
    bench.assert_says("Saved to ");
    assert_eq!(read(&path).as_saved, kept);
}
