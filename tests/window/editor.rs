use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::harness::Bench;

fn editing(reference: &str) -> Bench {
    let mut bench = Bench::demo();
    bench.click(&format!("{reference}, "));
    bench.press_with(Modifiers::COMMAND, Key::E);
    bench
}

#[test]
fn a_figure_is_entered_with_its_unit_and_taken_back_as_one_step() {
    let mut bench = editing("C3");
    let start = bench.job().clone();
    bench.enter("Capacitance", "4u7");
    assert_eq!(bench.position("Supply", "C3").original.can.capacitance_uf, Some(4.7));
    assert_eq!(bench.text_of("Capacitance"), "4.7 µF");
    bench.menu("Edit", "Undo: capacitance of C3");
    assert_eq!(*bench.job(), start);
}

#[test]
fn every_spelling_of_a_unit_ends_in_the_same_figure() {
    let mut bench = editing("C3");
    for text in ["470u", "470 µF", "0.47 mF", "470"] {
        bench.enter("Capacitance", text);
        assert_eq!(bench.position("Supply", "C3").original.can.capacitance_uf, Some(470.0), "{text}");
    }
    bench.enter("Operating voltage (DC)", "35V");
    assert_eq!(bench.position("Supply", "C3").stress.dc_v, Some(35.0));
    bench.enter("Lowest ambient", "-12 °C");
    assert_eq!(bench.position("Supply", "C3").stress.ambient_min_c, Some(-12.0));
}

#[test]
fn a_bad_entry_is_refused_in_place_and_the_job_keeps_its_value() {
    let mut bench = editing("C3");
    let start = bench.job().clone();
    bench.type_into("Rated voltage", "35 A");
    bench.assert_says("Refused: ");
    bench.assert_says("expected a figure in V");
    bench.press(Key::Enter);
    bench.assert_says("Refused: ");
    assert_eq!(bench.position("Supply", "C3").original.can.rated_v, Some(25.0));
    assert_eq!(bench.job().boards[0].positions[2], start.boards[0].positions[2]);
}

#[test]
fn escape_brings_the_old_figure_back() {
    let mut bench = editing("C3");
    bench.type_into("Rated voltage", "high");
    bench.press(Key::Escape);
    assert!(!bench.says("Refused: "));
    assert_eq!(bench.text_of("Rated voltage"), "25 V");
}

#[test]
fn an_emptied_figure_is_unknown_or_says_what_is_assumed_instead() {
    let mut bench = editing("C1");
    bench.enter("Operating voltage (DC)", "");
    assert_eq!(bench.position("Supply", "C1").stress.dc_v, None);
    bench.assert_says("360 V, assumed");
    bench.enter("Capacitance", "");
    bench.assert_says("unknown (µF)");
    bench.press_button("Room");
    bench.enter("Max. lead forming", "");
    bench.assert_says("2.5 mm");
}

#[test]
fn several_positions_are_changed_at_once_and_only_in_the_touched_field() {
    let mut bench = Bench::demo();
    bench.click("C2, ");
    bench.click_with(Modifiers::COMMAND, "C3, ");
    bench.press_with(Modifiers::COMMAND, Key::E);
    bench.assert_says("2 positions at once");
    let before = bench.job().clone();
    bench.enter("Highest transient", "99 V");
    for reference in ["C2", "C3"] {
        let was = before.boards[0].positions.iter().find(|p| p.reference == reference).unwrap();
        let mut expected = was.clone();
        expected.stress.transient_v = Some(99.0);
        assert_eq!(*bench.position("Supply", reference), expected);
    }
    bench.menu("Edit", "Undo: highest transient of 2 positions");
    assert_eq!(*bench.job(), before);
}

#[test]
fn shift_with_an_arrow_marks_the_next_position_by_keys_alone() {
    let mut bench = Bench::demo();
    bench.press(Key::Home);
    bench.press_with(Modifiers::SHIFT, Key::ArrowDown);
    bench.press_with(Modifiers::SHIFT, Key::ArrowDown);
    bench.press_with(Modifiers::COMMAND, Key::E);
    bench.assert_says("3 positions at once");
}

#[test]
fn a_ripple_line_and_a_phase_are_added_and_filled() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::E);
    bench.press(Key::Escape);
    bench.press_button("Stress");
    bench.press_button("Ripple is not known");
    bench.press_button("Add a line");
    bench.enter("Frequency, line 1", "100 Hz");
    bench.enter("Current, line 1", "850mA");
    let line = bench.position("Supply", "C1").stress.ripple.as_ref().unwrap()[0].clone();
    assert_eq!((line.hz, line.a), (Some(100.0), Some(0.85)));
    let phases = bench.position("Supply", "C1").stress.phases.as_ref().map_or(0, Vec::len);
    bench.press_button("Add a phase");
    bench.enter(&format!("Ambient, phase {}", phases + 1), "58 °C");
    assert_eq!(bench.position("Supply", "C1").stress.phases.as_ref().unwrap()[phases].ambient_c, Some(58.0));
}

#[test]
fn a_name_that_is_taken_is_refused() {
    let mut bench = editing("C3");
    bench.press_button("Name, groups and note");
    bench.type_into("Reference", "C1");
    bench.assert_says("C1 is on this board already");
    assert_eq!(bench.job().boards[0].positions[2].reference, "C3");
}

#[test]
fn positions_and_boards_come_and_go_and_come_back() {
    let mut bench = Bench::demo();
    let start = bench.job().clone();
    let count = start.boards[0].positions.len();
    bench.press(Key::Insert);
    bench.menu("Edit", "Duplicate board");
    assert_eq!(bench.job().boards.len(), start.boards.len() + 1);
    bench.menu("Edit", "Remove board");
    bench.click_exactly("Remove it");
    bench.click("C1, 220u");
    bench.press_with(Modifiers::COMMAND, Key::Delete);
    assert_eq!(bench.job().boards[0].positions.len(), count);
    for _ in 0..4 {
        bench.press_with(Modifiers::COMMAND, Key::Z);
    }
    assert_eq!(*bench.job(), start);
}

#[test]
fn what_is_still_being_typed_is_entered_before_the_job_is_saved() {
    let folder = tempfile::tempdir().unwrap();
    refarad::files::demo::write_unless_there(folder.path(), false).unwrap();
    let path = folder.path().join("observatory.json");
    let loaded = refarad::files::load::load(&path, &[]).unwrap();
    let mut bench = Bench::with(refarad::app::Window::holding(loaded, Some(path.clone())));
    bench.press_with(Modifiers::COMMAND, Key::E);
    bench.type_into("Operating voltage (DC)", "333 V");
    bench.press_with(Modifiers::COMMAND, Key::S);
    let saved = refarad::files::job::read(&path).unwrap().job;
    assert_eq!(saved.boards[0].positions[0].stress.dc_v, Some(333.0));
}

#[test]
fn a_role_that_an_import_filled_in_says_so_until_a_person_chooses_one() {
    let mut bench = Bench::demo_with(|job| job.boards[0].positions[2].role_assumed = true);
    bench.click("C3, ");
    bench.press_with(Modifiers::COMMAND, Key::E);
    bench.assert_says("assumed by the import");
    bench.press_button("Role");
    bench.press_button("decoupling");
    let position = bench.position("Supply", "C3");
    assert_eq!((position.role, position.role_assumed), (Some(refarad::domain::Role::Decoupling), false));
    assert!(!bench.says("assumed by the import"));
}

#[test]
fn cans_in_series_are_told_by_the_name_of_their_group() {
    let mut bench = editing("C3");
    bench.press_button("Name, groups and note");
    bench.enter("Series group", "link");
    assert_eq!(bench.position("Supply", "C3").series_group.as_deref(), Some("link"));
}

/// Where the fields of the questions stand, by name.
fn fields(bench: &Bench) -> Vec<(String, i32)> {
    let field = |node: egui_kittest::Node<'_>| {
        let name = node.accesskit_node().label()?;
        #[expect(clippy::cast_possible_truncation, reason = "points on a screen")]
        let top = node.rect().top().round() as i32;
        (node.accesskit_node().role() == Role::TextInput && node.rect().left() > 800.0).then_some((name, top))
    };
    bench.harness.root().children_recursive().filter_map(field).collect()
}

#[test]
fn six_questions_are_asked_and_stay_where_they_are_with_several_positions() {
    let mut bench = editing("C3");
    for question in
        ["printed on it?", "voltage is across it?", "ripple runs", "How hot", "How much room", "What does it do?"]
    {
        bench.assert_says(question);
    }
    let one = fields(&bench);
    bench.click_with(Modifiers::COMMAND, "C2, ");
    bench.assert_says("2 positions at once");
    // A spectrum of several lines has the room of the two fields it stands for.
    let both = fields(&bench);
    assert!(both.len() + 2 >= one.len() && both.iter().all(|field| one.contains(field)), "{both:?} {one:?}");
}

#[test]
fn the_editor_takes_at_most_a_third_of_the_window_and_leaves_the_map_three_fifths() {
    for size in [[760.0, 480.0], [1280.0, 720.0], [1920.0, 1080.0], [2560.0, 1440.0]] {
        let mut bench = Bench::sized(refarad::app::Window::holding(crate::harness::DEMO.clone(), None), size);
        bench.press_with(Modifiers::COMMAND, Key::Num1);
        bench.press_with(Modifiers::COMMAND, Key::E);
        let map = bench.harness.get_by_role(Role::Canvas).rect();
        let field = bench.harness.get_by_role_and_label(Role::TextInput, "Capacitance").rect();
        assert!(map.width() >= 0.58 * size[0], "{size:?}: {map:?}");
        assert!(field.right() <= size[0] && field.left() >= map.right(), "{size:?}: {field:?}");
        assert!(size[0] - map.right() <= size[0] / 3.0 + 8.0, "{size:?}: {map:?}");
    }
}

#[test]
fn the_next_open_position_comes_by_one_key_with_the_keyboard_where_something_is_needed() {
    let mut bench = Bench::demo_with(|job| {
        for position in &mut job.boards[0].positions {
            (position.stress.ripple, position.original.can.ripple_a) = (None, None);
        }
    });
    bench.press_with(Modifiers::COMMAND, Key::E);
    bench.press(Key::F3);
    let first = bench.selected_rows()[0].clone();
    assert!(first.contains("needs: ripple"), "{first}");
    bench.assert_says("needs: ripple");
    let focused = |bench: &Bench| {
        let node = bench.harness.root().children_recursive().find(|node| node.is_focused());
        node.and_then(|node| node.accesskit_node().label()).unwrap_or_default()
    };
    assert_eq!(focused(&bench), "Current");
    bench.harness.get_by_role_and_label(Role::TextInput, "Current").type_text("0.4 A");
    bench.press(Key::F3);
    assert_ne!(bench.selected_rows()[0], first);
    assert_eq!(focused(&bench), "Current");
    let entered = bench.job().boards[0].positions.iter().filter(|p| p.stress.ripple.is_some()).count();
    assert_eq!(entered, 1, "what was being typed was entered");
}
