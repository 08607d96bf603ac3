use std::path::Path;

use egui::{Event, Key, Modifiers};
use egui_kittest::kittest::NodeT;
use refarad::app::Window;
use refarad::files::{demo, load};

use crate::harness::Bench;

fn paste(bench: &mut Bench, text: &str) {
    bench.harness.event(Event::Paste(text.to_owned()));
    bench.settle();
}

fn saved_demo(folder: &Path) -> Bench {
    demo::write_unless_there(folder, false).unwrap();
    let path = folder.join("observatory.json");
    let mut loaded = load::load(&path, &[]).unwrap();
    // A job of one's own: nothing goes into the demo.
    loaded.job.invented = None;
    Bench::with(Window::holding(loaded, Some(path)))
}

#[test]
fn rows_are_pasted_as_one_step_and_refused_cells_are_listed() {
    let mut bench = Bench::demo();
    let start = bench.job().clone();
    paste(&mut bench, "Ref\tCapacitance\tVoltage\nC90\t470u\t35V\nC91\t4u7\thigh\n");
    bench.assert_says("Not pasted: line 3, Voltage: \"high\"");
    bench.press(Key::Escape);
    assert_eq!(bench.position("Supply", "C90").original.can.rated_v, Some(35.0));
    assert_eq!(bench.position("Supply", "C91").original.can.capacitance_uf, Some(4.7));
    bench.press_with(Modifiers::COMMAND, Key::Z);
    assert_eq!(*bench.job(), start);
}

#[test]
fn text_pasted_into_a_field_stays_in_the_field() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::E);
    let count = bench.job().positions().count();
    bench.type_into("Marking", "");
    paste(&mut bench, "9");
    bench.press(Key::Enter);
    assert_eq!(bench.job().positions().count(), count);
    assert_eq!(bench.job().boards[0].positions[0].original.label.as_deref(), Some("9"));
}

#[test]
fn a_dropped_job_is_opened_after_unsaved_work_is_seen_to() {
    let folder = tempfile::tempdir().unwrap();
    demo::write_unless_there(folder.path(), false).unwrap();
    let path = folder.path().join("observatory.json");
    let mut bench = Bench::demo();
    bench.click_exactly("Clear pick");
    bench.drop_files([path]);
    bench.click_exactly("Discard");
    assert!(bench.position("Supply", "C1").pick.is_some());
    assert!(!bench.harness.state().has_unsaved_changes());
}

#[test]
fn a_dropped_catalogue_adds_its_parts() {
    let folder = tempfile::tempdir().unwrap();
    let mut bench = saved_demo(folder.path());
    let more = folder.path().join("more.csv");
    std::fs::write(&more, "part_number,maker,capacitance_uf,rated_v\nEXTRA-1,Invented,470,35\n").unwrap();
    bench.drop_files([more]);
    bench.press(Key::F2);
    bench.assert_says(" parts loaded.");
    assert!(bench.job().catalogs.contains(&"more.csv".to_owned()));
}

#[test]
fn a_dropped_photo_is_laid_under_the_board_and_one_from_elsewhere_is_copied_beside_the_job() {
    let folder = tempfile::tempdir().unwrap();
    let elsewhere = tempfile::tempdir().unwrap();
    let mut bench = saved_demo(folder.path());
    let (outside, inside) = (elsewhere.path().join("other.png"), folder.path().join("board.png"));
    for path in [&outside, &inside] {
        std::fs::write(path, "x").unwrap();
    }
    bench.drop_files([inside]);
    assert_eq!(bench.job().boards[0].photo.as_deref(), Some("board.png"));
    bench.drop_files([outside]);
    assert_eq!(bench.job().boards[0].photo.as_deref(), Some("other.png"));
    assert!(folder.path().join("other.png").is_file());
}

#[test]
fn a_file_of_another_kind_is_refused_in_words() {
    let mut bench = Bench::demo();
    bench.drop_files(["board.dwg".into()]);
    bench.assert_says("expected a job (*.json)");
}

#[test]
fn a_hover_text_goes_when_a_sheet_is_laid_over_the_window() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::Num2);
    let row = bench.candidate_rows()[2].clone();
    let is_it = |node: &egui_kittest::Node<'_>| node.accesskit_node().label().as_deref() == Some(&row);
    bench.harness.root().children_recursive().find(is_it).expect("the row").hover();
    for _ in 0..40 {
        bench.harness.step();
    }
    let hover = format!("{}: ", row.split(',').next().and_then(|name| name.split(':').next()).unwrap());
    let shown = |bench: &Bench| {
        let texts = bench.harness.root().children_recursive().filter_map(|node| node.accesskit_node().value());
        texts.filter(|text| text.starts_with(&hover)).count()
    };
    assert_eq!(shown(&bench), 1, "{hover} is shown while the pointer rests");
    bench.press(Key::F1);
    for _ in 0..10 {
        bench.harness.step();
    }
    assert_eq!(shown(&bench), 0, "{hover} is gone");
}
