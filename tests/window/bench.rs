//! A unit at the bench, from its first can to the record.

use std::path::{Path, PathBuf};

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};
use refarad::app::Window;
use refarad::domain::{Date, Job, Measured};
use refarad::files::unit_record::{self, UnitRecord};
use refarad::files::{demo, load};

use crate::harness::Bench;

/// The demo in a file of its own, cut to the first three cans of the supply and changed, at the bench.
fn at_bench(folder: &Path, change: impl FnOnce(&mut Job)) -> (Bench, PathBuf) {
    demo::write_unless_there(folder, false).unwrap();
    let path = folder.join("observatory.json");
    let mut loaded = load::load(&path, &[]).unwrap();
    loaded.job.boards.truncate(1);
    loaded.job.unit_types.clear();
    loaded.job.boards[0].positions.truncate(3);
    change(&mut loaded.job);
    let mut bench = Bench::with(Window::holding(loaded, Some(path.clone())));
    bench.press_with(Modifiers::COMMAND, Key::Num7);
    (bench, unit_record::path_beside(&path))
}

fn records(file: &Path) -> Vec<UnitRecord> {
    unit_record::read(file).unwrap().records
}

/// Types into the field that has the keyboard and goes on by Enter.
fn typed(bench: &mut Bench, field: &str, text: &str) {
    assert_eq!(bench.focused(), field);
    if !text.is_empty() {
        bench.harness.get_by_role_and_label(Role::TextInput, field).type_text(text);
        bench.settle();
    }
    bench.press(Key::Enter);
}

const FIELDS: [&str; 10] = [
    "Old: capacitance",
    "Old: ESR",
    "Old: leakage",
    "New: capacitance",
    "New: ESR",
    "New: leakage",
    "Part fitted",
    "Lot",
    "Date code",
    "Finding",
];

#[test]
fn a_whole_unit_is_worked_by_the_keyboard_alone_to_a_record() {
    let folder = tempfile::tempdir().unwrap();
    let (mut bench, file) = at_bench(folder.path(), |_| {});
    bench.press(Key::Home);
    bench.press(Key::Enter);
    for (can, old) in [("C1", "150"), ("C2", "0.2 mF"), ("C3", "")] {
        bench.assert_says(&format!("{can} on the board: to do"));
        for field in FIELDS {
            let text = match field {
                "Old: capacitance" => old,
                "Lot" => "L-7",
                "Finding" if can == "C1" => "vent lifted",
                _ => "",
            };
            typed(&mut bench, field, text);
        }
        assert_eq!(bench.focused(), "Done, next", "{can}");
        bench.press(Key::Enter);
        bench.assert_says(&format!("{can} on the board: done"));
    }
    bench.assert_says("3 of 3 done");
    bench.assert_says("Every can of this unit is done");
    assert!(!file.exists(), "nothing is recorded before it is asked for");
    for (field, text) in [
        ("Serial number", "DOME-3"),
        ("Day", "2026-11-25"),
        ("Technician", "T."),
        ("ESR meter", "100k"),
        ("Remark", ""),
    ] {
        typed(&mut bench, field, text);
    }
    typed(&mut bench, "Add to the record", "");
    let all = records(&file);
    let [record] = &all[..] else { panic!("{all:?}") };
    assert_eq!((record.serial.as_str(), record.technician.as_str(), record.positions.len()), ("DOME-3", "T.", 3));
    let first = &record.positions[0];
    assert_eq!(
        (first.board.as_str(), first.reference.as_str(), first.part_number.as_str()),
        ("Supply", "C1", "SKARN-400-220U")
    );
    assert_eq!(
        (first.before.capacitance_uf, first.lot.as_str(), first.finding.as_str()),
        (Some(150.0), "L-7", "vent lifted")
    );
    assert_eq!(record.positions[1].before.capacitance_uf, Some(200.0));
    assert!(first.life_h.is_some() && record.next_due.is_some(), "what was planned goes with it");
    assert!(bench.job().bench.is_empty(), "it is off the bench");
    bench.assert_says("Rebuilt 2026-11-25 by T., next due ");
}

#[test]
fn what_was_measured_before_a_unit_came_is_taken_over_by_one_press_and_then_has_one_form() {
    let folder = tempfile::tempdir().unwrap();
    let measured = Measured { capacitance_uf: Some(150.0), ..Measured::default() };
    let (mut bench, _) = at_bench(folder.path(), |job| job.boards[0].positions[0].measured = Some(measured));
    bench.click("C1 on the board");
    bench.click("As entered: 150 µF");
    assert_eq!(bench.job().bench[0].positions[0].before.capacitance_uf, Some(150.0));
    assert!(!bench.says("As entered: "));
    bench.press_with(Modifiers::COMMAND, Key::Num1);
    bench.press_with(Modifiers::COMMAND, Key::E);
    bench.press_button("Measured on the old part");
    bench.assert_says("Measured capacitance: 150 µF");
    assert!(bench.harness.query_by_role_and_label(Role::TextInput, "Measured capacitance").is_none());
}

#[test]
fn what_is_measured_reaches_the_position_the_colours_and_the_prediction() {
    let folder = tempfile::tempdir().unwrap();
    let (mut bench, _) = at_bench(folder.path(), |_| {});
    bench.click("C1 on the board");
    bench.enter("Old: capacitance", "150");
    bench.assert_says("C1 on the board: old part worn out");
    bench.assert_says("worn out: 68 % of its capacitance");
    bench.assert_says("of its life used at its age");
    let measured = bench.position("Supply", "C1").measured.clone().unwrap();
    assert_eq!((measured.capacitance_uf, measured.unit), (Some(150.0), None));
    // Another unit whose part is better changes nothing of it, one whose part is worse does.
    for (serial, uf, kept_uf) in [("B", "210", 150.0), ("C", "100", 100.0)] {
        bench.press_button("New unit");
        bench.enter("Serial number", serial);
        bench.click("C1 on the board");
        bench.enter("Old: capacitance", uf);
        assert_eq!(bench.position("Supply", "C1").measured.as_ref().unwrap().capacitance_uf, Some(kept_uf));
    }
    assert_eq!(bench.position("Supply", "C1").measured.as_ref().unwrap().unit.as_deref(), Some("C"));
    bench.type_into("Old: capacitance", "many");
    bench.press(Key::Enter);
    bench.assert_says("Refused: ");
    assert_eq!(bench.position("Supply", "C1").measured.as_ref().unwrap().capacitance_uf, Some(100.0));
    bench.press(Key::Escape);
    bench.press_with(Modifiers::COMMAND, Key::Z);
    assert_eq!(
        bench.position("Supply", "C1").measured.as_ref().unwrap().capacitance_uf,
        Some(150.0),
        "one step takes it back"
    );
    bench.click("C2 on the board");
    bench.assert_says("Not measured yet.");
    bench.enter("Old: leakage", "850");
    bench.assert_says("Leaks 850 µA; capacitance and ESR not measured.");
    assert_eq!(bench.position("Supply", "C2").measured.as_ref().unwrap().note.as_deref(), Some("leakage 850 µA"));
}

#[test]
fn one_day_twice_is_asked_about_a_day_ahead_refused_and_what_is_not_done_names_no_part() {
    let folder = tempfile::tempdir().unwrap();
    let (mut bench, file) = at_bench(folder.path(), |job| job.boards[0].per_unit = Some(2.0));
    let rebuild = |bench: &mut Bench, day: &str, uf: &str| {
        bench.press_button("New unit");
        bench.enter("Serial number", "D1");
        bench.enter("Day", day);
        bench.click("C1 on the board");
        bench.enter("Old: capacitance", uf);
        bench.press_button("Unit D1");
    };
    bench.press_button("New unit");
    bench.press_button("Take off the bench");
    assert!(bench.job().bench.is_empty());
    rebuild(&mut bench, "2016-11-25", "199");
    bench.press_button("Supply 2 0/3");
    bench.click("C2 on the board");
    bench.enter("New: capacitance", "220");
    bench.press_button("Done, next");
    bench.assert_says("1 of 6 done");
    bench.press_button("Unit D1");
    bench.press_button("Add to the record");
    let [record] = &records(&file)[..] else { panic!() };
    let parts: Vec<_> = record
        .positions
        .iter()
        .map(|at| (at.board.as_str(), at.reference.as_str(), at.part_number.is_empty()))
        .collect();
    assert_eq!(parts, [("Supply 1", "C1", true), ("Supply 2", "C2", false)]);
    let before = std::fs::read(&file).unwrap();

    let tomorrow = Date::from_days(Date::today().unwrap().days() + 1).unwrap().to_string();
    rebuild(&mut bench, &tomorrow, "190");
    bench.assert_says("is after today");
    bench.press_button("Add to the record");
    bench.enter("Day", "2016-11-25");
    bench.assert_says("is recorded already");
    bench.press_button("Add to the record");
    assert_eq!(std::fs::read(&file).unwrap(), before, "neither is added");
    bench.press_button("Record a second rebuild on this day");
    bench.press_button("Add to the record");
    assert_eq!(records(&file).len(), 2);
    assert!(std::fs::read(&file).unwrap().starts_with(&before), "what stands in the record stays");
}

#[test]
fn a_unit_that_comes_back_is_judged_by_what_went_in_and_shows_how_it_wore() {
    let folder = tempfile::tempdir().unwrap();
    let (mut bench, file) = at_bench(folder.path(), |_| {});
    let rebuild = |bench: &mut Bench, day: &str, field: &str, uf: &str| {
        bench.enter("Day", day);
        bench.click("C1 on the board");
        bench.enter(field, uf);
        bench.press_button("Done, next");
        bench.press_button("Unit D1");
        bench.press_button("Add to the record");
    };
    bench.press_button("New unit");
    bench.enter("Serial number", "D1");
    rebuild(&mut bench, "2016-11-25", "New: capacitance", "220");
    bench.assert_says("Rebuilt 2016-11-25");
    bench.press_button("Rebuild D1 again");
    rebuild(&mut bench, "2026-11-25", "Old: capacitance", "216");
    assert_eq!(records(&file).len(), 2);
    bench.assert_says("Wear since the rebuild before");
    // 4 of 220 uF lost of the 20 % that end a life: 9 %.
    bench.assert_says("9 %");
    assert!(bench.says("slower than predicted"));
    let table = folder.path().join("units.csv");
    bench.press_button("Export service records…");
    bench.harness.get_by_label("Path of the table (*.csv)").type_text(table.to_str().unwrap());
    bench.settle();
    bench.click_exactly("Write here");
    let rows = std::fs::read_to_string(&table).unwrap();
    assert_eq!(rows.lines().filter(|line| line.starts_with("D1,")).count(), 2);
}

#[test]
fn without_a_file_the_bench_says_what_to_do_before_a_record() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::Num7);
    bench.press_button("New unit");
    bench.assert_says("save the job first");
    assert!(!bench.says("Add to the record"));
    // What is measured is kept in the job all the same.
    bench.click("C1 on the board");
    bench.enter("Old: capacitance", "150");
    assert_eq!(bench.job().bench[0].positions.len(), 1);
}

#[test]
fn at_the_bench_no_key_picks_or_takes_away_a_pick() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::Num7);
    let picks = |bench: &Bench| bench.job().positions().map(|(_, at)| at.pick.clone()).collect::<Vec<_>>();
    let before = picks(&bench);
    for key in [Key::Backspace, Key::Delete] {
        bench.press(key);
    }
    bench.press_with(Modifiers::COMMAND, Key::Enter);
    assert_eq!(picks(&bench), before);
    bench.assert_says("At the bench nothing is picked");
}

#[test]
fn a_tick_is_taken_back_by_undo_at_once_and_a_can_without_a_part_is_not_ticked_as_if_it_had_one() {
    let folder = tempfile::tempdir().unwrap();
    let (mut bench, _) = at_bench(folder.path(), |job| {
        // No part is made that would do.
        let position = &mut job.boards[0].positions[1];
        (position.pick, position.original.can.capacitance_uf) = (None, Some(7.0e6));
    });
    bench.click("C1 on the board");
    bench.click_exactly("Done, next");
    bench.assert_says("C1 on the board: done");
    assert_eq!(bench.focused(), "Old: capacitance");
    bench.press_with(Modifiers::COMMAND, Key::Z);
    assert!(!bench.says("C1 on the board: done"), "undone");
    bench.click("C2 on the board");
    bench.click_exactly("Done, part not recorded");
    bench.click("C2 on the board");
    bench.assert_says("Done, part not recorded");
    assert_eq!(bench.job().bench[0].positions[0].part_number, "");
    // Once it is said what went in the tick is like any other.
    bench.enter("Part fitted", "OTHER-1");
    assert!(!bench.says("part not recorded"));
}

#[test]
fn what_a_gloved_finger_has_to_hit_is_large() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::Num7);
    for name in ["Old: capacitance", "Lot", "Done, next", "New unit", "Next", "Unit", "C1"] {
        let found = |node: &egui_kittest::Node<'_>| {
            let node = node.accesskit_node();
            matches!(node.role(), Role::Button | Role::TextInput) && node.label().as_deref() == Some(name)
        };
        let Some(rect) = bench.harness.root().children_recursive().find(found).map(|node| node.rect()) else {
            assert_eq!(name, "Unit", "a control of that name");
            continue;
        };
        assert!(rect.height() >= 44.0, "{name}: {rect:?}");
    }
}
