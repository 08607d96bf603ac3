use egui::{Event, Key, Modifiers, PointerButton, Pos2, pos2};
use egui_kittest::kittest::{NodeT, Queryable};
use refarad::app::Window;
use refarad::domain::{Board, Job};
use refarad::files::{demo, load, parts};
use refarad::sizing::CatalogIndex;

use crate::harness::Bench;

/// The demo with the map in front.
fn map() -> Bench {
    on_map(Window::holding(load::load_demo().unwrap(), None))
}

fn on_map(window: Window) -> Bench {
    let mut bench = Bench::with(window);
    bench.press_with(Modifiers::COMMAND, Key::Num1);
    bench
}

/// The map of a changed demo.
fn map_of(change: impl FnOnce(&mut Job)) -> Bench {
    let mut loaded = load::load_demo().unwrap();
    change(&mut loaded.job);
    on_map(Window::holding(loaded, None))
}

/// The map of the demo in a folder of its own, with a photo of 400 by 250 pixels under the supply board.
fn with_photo() -> (tempfile::TempDir, Bench) {
    let folder = tempfile::tempdir().unwrap();
    demo::write_unless_there(folder.path(), false).unwrap();
    let path = folder.path().join("observatory.json");
    image::RgbImage::from_pixel(400, 250, image::Rgb([20, 90, 40])).save(folder.path().join("supply.png")).unwrap();
    let mut loaded = load::load(&path, &[]).unwrap();
    (loaded.job.boards[0].photo, loaded.job.boards[0].photo_corners_mm) = (Some("supply.png".into()), None);
    let bench = on_map(Window::holding(loaded, Some(path)));
    (folder, bench)
}

fn named(bench: &Bench, starts: &str) -> Pos2 {
    let found = |node: &egui_kittest::Node<'_>| node.accesskit_node().label().is_some_and(|l| l.starts_with(starts));
    bench.harness.root().children_recursive().find(found).unwrap_or_else(|| panic!("{starts}")).rect().center()
}

fn label(bench: &Bench, starts: &str) -> String {
    let labels = bench.harness.root().children_recursive().filter_map(|node| node.accesskit_node().label());
    let mut found = labels.filter(|label| label.starts_with(starts));
    found.next().unwrap_or_else(|| panic!("nothing is called {starts}…"))
}

pub(crate) fn can(bench: &Bench, reference: &str) -> Pos2 {
    named(bench, &format!("{reference} on the board: "))
}

fn button(bench: &Bench, pos: Pos2, pressed: bool) {
    let event = Event::PointerButton { pos, button: PointerButton::Primary, pressed, modifiers: Modifiers::NONE };
    bench.harness.event(event);
}

pub(crate) fn click_at(bench: &mut Bench, at: Pos2) {
    bench.harness.hover_at(at);
    bench.harness.step();
    button(bench, at, true);
    button(bench, at, false);
    bench.settle();
}

pub(crate) fn drag(bench: &mut Bench, from: Pos2, to: Pos2) {
    bench.harness.hover_at(from);
    bench.harness.step();
    button(bench, from, true);
    bench.harness.step();
    for share in [0.3, 0.7, 1.0] {
        bench.harness.hover_at(from.lerp(to, share));
        bench.harness.step();
    }
    button(bench, to, false);
    bench.settle();
}

/// The references of the cans on the map that are drawn selected.
fn selected(bench: &Bench) -> String {
    let rows = bench.selected_rows();
    rows[0].split(',').next().unwrap().to_owned()
}

fn supply(bench: &Bench) -> &Board {
    &bench.job().boards[0]
}

#[test]
fn a_click_on_a_can_selects_its_position() {
    let mut bench = map();
    let at = can(&bench, "C3");
    click_at(&mut bench, at);
    assert_eq!(selected(&bench), "C3");
    bench.assert_says("C3 from the side");
}

#[test]
fn every_can_tells_its_old_and_new_part_its_outcome_and_its_neighbour() {
    let bench = map();
    let told = label(&bench, "C1 on the board: ");
    for part in ["old 220u 400V 85C snap-in", "new SKARN-400-220U picked", " mm to C"] {
        assert!(told.contains(part), "{told}");
    }
    for position in &supply(&bench).positions {
        label(&bench, &format!("{} on the board: ", position.reference));
    }
}

#[test]
fn arrows_lead_to_the_nearest_can_in_their_direction_while_the_map_has_the_keyboard() {
    let mut bench = map();
    let at = can(&bench, "C1");
    click_at(&mut bench, at);
    bench.press(Key::ArrowRight);
    let right = selected(&bench);
    assert_ne!(right, "C1");
    let x = |reference: &str| bench.position("Supply", reference).x_mm.unwrap();
    assert!(x(&right) > x("C1"), "{right}");
    bench.press(Key::ArrowLeft);
    let back = selected(&bench);
    assert!(bench.position("Supply", &back).x_mm.unwrap() < bench.position("Supply", &right).x_mm.unwrap());
}

#[test]
fn a_part_is_picked_by_key_without_leaving_the_map() {
    let mut bench = map_of(|job| job.boards[0].positions.iter_mut().for_each(|p| p.pick = None));
    let at = can(&bench, "C1");
    click_at(&mut bench, at);
    assert_eq!(bench.position("Supply", "C1").pick, None);
    bench.press(Key::Enter);
    assert!(bench.position("Supply", "C1").pick.is_some());
    bench.assert_says("C1 from the side");
}

#[test]
fn the_best_parts_stand_beside_the_map_and_one_is_picked_from_there() {
    let mut bench = map();
    let at = can(&bench, "C3");
    click_at(&mut bench, at);
    let rows = bench.harness.root().children_recursive().filter_map(|node| node.accesskit_node().label());
    let chosen = bench.position("Supply", "C3").pick.clone();
    let is_other = |l: &String| chosen.as_ref().is_none_or(|chosen| !l.starts_with(chosen));
    let other = rows.filter(|l| l.contains(" on the map: ") && is_other(l)).nth(1).unwrap();
    bench.click(&other);
    bench.click_exactly("Pick");
    let part = other.split(' ').next().unwrap();
    assert_eq!(bench.position("Supply", "C3").pick.as_deref(), Some(part));
}

#[test]
fn a_rectangle_marks_every_can_inside_it() {
    let mut bench = map();
    let canvas = bench.harness.get_by_label("Map of Supply, top side, 12 cans").rect();
    drag(&mut bench, canvas.min + egui::vec2(3.0, 3.0), canvas.max - egui::vec2(3.0, 3.0));
    bench.assert_says("12 positions selected");
    let at = can(&bench, "C2");
    click_at(&mut bench, at);
    assert!(!bench.says("positions marked"), "a plain click selects one");
}

#[test]
fn a_can_is_dragged_to_another_place_as_one_change_and_taken_back() {
    let mut bench = map();
    let before = bench.job().clone();
    bench.click("Place parts");
    let from = can(&bench, "C3");
    drag(&mut bench, from, from + egui::vec2(30.0, -20.0));
    let place = |job: &Job| job.boards[0].positions.iter().find(|p| p.reference == "C3").unwrap().centre_mm().unwrap();
    let (was, is) = (place(&before), place(bench.job()));
    assert!(is.0 > was.0 && is.1 > was.1, "right and up: {was:?} {is:?}");
    assert!((is.0 * 10.0 - (is.0 * 10.0).round()).abs() < 1e-9, "to a tenth of a millimetre");
    bench.press_with(Modifiers::COMMAND, Key::Z);
    assert_eq!(*bench.job(), before);
}

#[test]
fn marked_cans_move_together_by_pointer_and_by_key() {
    let mut bench = map();
    bench.click("C2, ");
    bench.click_with(Modifiers::COMMAND, "C3, ");
    bench.click("Place parts");
    let place = |bench: &Bench, name: &str| bench.position("Supply", name).centre_mm().unwrap();
    let before = ["C1", "C2", "C3"].map(|name| place(&bench, name));
    let from = can(&bench, "C3");
    drag(&mut bench, from, from + egui::vec2(12.0, -8.0));
    let moved = |bench: &Bench| {
        [0, 1, 2].map(|at| {
            let (x, y) = place(bench, ["C1", "C2", "C3"][at]);
            [x - before[at].0, y - before[at].1].map(|mm| (mm * 10.0).round() / 10.0)
        })
    };
    let [c1, c2, c3] = moved(&bench);
    assert!(c1 == [0.0, 0.0] && c2 == c3 && c3[0] > 0.0 && c3[1] > 0.0, "{c1:?} {c2:?} {c3:?}");
    bench.press(Key::ArrowRight);
    let [c1, further, last] = moved(&bench);
    assert!(c1 == [0.0, 0.0] && further == last, "{further:?} {last:?}");
    assert!((last[0] - c3[0] - 1.0).abs() < 0.11, "{c3:?} {last:?}");
    bench.menu("Edit", "Undo: place of 2 positions");
    assert!(moved(&bench)[1] != further);
}

#[test]
fn the_second_button_opens_a_menu_of_what_can_be_done_with_a_can() {
    let mut bench = map();
    let at = can(&bench, "C6");
    bench.harness.hover_at(at);
    bench.harness.step();
    for pressed in [true, false] {
        let (button, modifiers) = (PointerButton::Secondary, Modifiers::NONE);
        bench.harness.event(Event::PointerButton { pos: at, button, pressed, modifiers });
        bench.harness.step();
    }
    bench.settle();
    assert_eq!(selected(&bench), "C6");
    let entries = ["Duplicate position", "Remove position", "To the candidates"];
    assert!(entries.iter().all(|entry| bench.says(entry)));
    bench.click("Remove position");
    assert!(!bench.job().boards[0].positions.iter().any(|p| p.reference == "C6"));
}

#[test]
fn a_click_places_a_position_that_was_not_located_and_goes_on_to_the_next() {
    let mut bench = map_of(|job| {
        for position in &mut job.boards[0].positions[3..5] {
            (position.x_mm, position.y_mm) = (None, None);
        }
    });
    bench.assert_says("2 positions are not located yet");
    let (first, second) =
        (supply(&bench).positions[3].reference.clone(), supply(&bench).positions[4].reference.clone());
    bench.click_exactly("Place them");
    assert_eq!(selected(&bench), first);
    let at = can(&bench, "C1");
    click_at(&mut bench, at + egui::vec2(40.0, 0.0));
    assert!(bench.position("Supply", &first).centre_mm().is_some());
    assert_eq!(selected(&bench), second);
}

#[test]
fn a_board_without_coordinates_is_a_grid_and_says_so() {
    let mut bench = map_of(|job| {
        for position in &mut job.boards[0].positions {
            (position.x_mm, position.y_mm) = (None, None);
        }
    });
    bench.assert_says("the positions stand in a grid, not where they sit");
    let at = can(&bench, "C7");
    click_at(&mut bench, at);
    assert_eq!(selected(&bench), "C7");
    assert!(label(&bench, "C7 on the board: ").contains("not located yet"));
}

#[test]
fn the_other_side_shows_its_own_cans_mirrored_and_the_selection_turns_the_board() {
    let mut bench = map_of(|job| {
        for position in &mut job.boards[0].positions[..2] {
            position.side = Some(refarad::domain::Side::Bottom);
        }
    });
    bench.assert_says("Map of Supply, bottom side, 2 cans");
    let x = |bench: &Bench, at: usize| supply(bench).positions[at].x_mm.unwrap();
    let on_screen = |bench: &Bench, at: usize| can(bench, &supply(bench).positions[at].reference).x;
    assert_eq!(x(&bench, 0) < x(&bench, 1), on_screen(&bench, 0) > on_screen(&bench, 1), "seen from below");
    bench.click("Top (10)");
    bench.assert_says("Map of Supply, top side, 10 cans");
    assert!(!bench.says("C1 on the board: "));
    bench.click("C1, ");
    bench.press(Key::ArrowDown);
    bench.assert_says("C2 on the board: ");
}

#[test]
fn a_gap_that_falls_short_is_told_with_its_figure() {
    let mut bench = map_of(|job| {
        let board = &mut job.boards[0];
        board.positions.iter_mut().for_each(|p| p.pick = None);
        let (x, y) = board.positions[2].centre_mm().unwrap();
        (board.positions[3].x_mm, board.positions[3].y_mm) = (Some(x + 1.0), Some(y));
    });
    let third = supply(&bench).positions[2].reference.clone();
    let told = label(&bench, &format!("{third} on the board: "));
    assert!(told.contains("overlap ") && told.contains("1 mm wanted"), "{told}");
    bench.press_with(Modifiers::COMMAND, Key::Num1);
    bench.assert_says("too close: ");
}

#[test]
fn colours_tell_the_condition_of_the_old_parts_with_words() {
    let mut bench = map();
    let counted = |bench: &Bench| {
        let labels = bench.harness.root().children_recursive().filter_map(|node| node.accesskit_node().value());
        labels.filter(|label| label.ends_with(" worn out")).collect::<Vec<_>>()
    };
    assert!(counted(&bench).is_empty());
    bench.click_exactly("Old parts");
    let told = supply(&bench).positions.iter().map(|p| label(&bench, &format!("{} on the board: ", p.reference)));
    let worn = told.filter(|told| told.contains("condition worn out")).count();
    assert!(worn > 0, "the demo has worn parts");
    assert!(counted(&bench).contains(&format!("{worn} worn out")));
}

#[test]
fn the_wheel_zooms_to_the_pointer_and_the_whole_board_comes_back() {
    let mut bench = map();
    let (start, other) = (can(&bench, "C3"), can(&bench, "C1"));
    bench.harness.hover_at(start);
    bench.harness.step();
    bench.harness.event(Event::MouseWheel {
        unit: egui::MouseWheelUnit::Point,
        delta: egui::vec2(0.0, 120.0),
        phase: egui::TouchPhase::Move,
        source: egui::MouseWheelSource::Unknown,
        modifiers: Modifiers::NONE,
    });
    bench.harness.run_steps(30);
    bench.settle();
    assert!(can(&bench, "C3").distance(start) < 1.5, "what is under the pointer stays");
    assert!(can(&bench, "C1").distance(other) > 10.0, "the rest moves");
    bench.click_exactly("Zoom to fit");
    assert!(can(&bench, "C1").distance(other) < 0.5);
}

#[test]
fn a_photo_is_calibrated_by_two_clicks_and_a_distance_as_one_change() {
    let (_folder, mut bench) = with_photo();
    bench.menu("Photo", "Calibrate scale");
    let (a, b) = (can(&bench, "C1"), can(&bench, "C3"));
    click_at(&mut bench, a);
    click_at(&mut bench, b);
    bench.assert_says("The two points are apart by");
    bench.assert_says("The figure shown is assumed: the photo has no scale yet.");
    let positions = ["C1", "C3"].map(|r| bench.position("Supply", r).centre_mm().unwrap());
    let apart = (positions[0].0 - positions[1].0).hypot(positions[0].1 - positions[1].1);
    // The picture covers the width of the outline until it is calibrated; the points are taken to be twice as far apart.
    let width = supply(&bench).outline_mm.unwrap()[0];
    // The bar of what if has such fields, too; it is drawn first.
    let field = bench.harness.get_all_by_role(egui::accesskit::Role::SpinButton).last().unwrap();
    field.set_value_accesskit(2.0 * apart);
    bench.settle();
    bench.click_exactly("Set the scale");
    let corners = supply(&bench).photo_corners_mm.unwrap();
    let new_width = corners[1][0] - corners[0][0];
    assert!((new_width / width - 2.0).abs() < 0.02, "{new_width} for {width}");
    bench.press_with(Modifiers::COMMAND, Key::Z);
    assert_eq!(supply(&bench).photo_corners_mm, None);
}

#[test]
fn the_distance_is_typed_straight_after_the_second_click() {
    let (_folder, mut bench) = with_photo();
    bench.menu("Photo", "Calibrate scale");
    let (a, b) = (can(&bench, "C1"), can(&bench, "C3"));
    click_at(&mut bench, a);
    click_at(&mut bench, b);
    let positions = ["C1", "C3"].map(|r| bench.position("Supply", r).centre_mm().unwrap());
    let apart = (positions[0].0 - positions[1].0).hypot(positions[0].1 - positions[1].1);
    let width = supply(&bench).outline_mm.unwrap()[0];
    bench.harness.event(Event::Text(format!("{:.1}", 3.0 * apart)));
    bench.settle();
    bench.press(Key::Enter);
    let corners = supply(&bench).photo_corners_mm.unwrap();
    assert!(((corners[1][0] - corners[0][0]) / width - 3.0).abs() < 0.03, "{corners:?} for {width}");
    assert!(!bench.says("This part is picked already."), "Enter means the distance");
}

#[test]
fn a_can_over_a_keep_out_is_told_with_how_far_it_reaches_in() {
    let bench = map_of(|job| {
        let board = &mut job.boards[0];
        let (x, y) = board.positions[0].centre_mm().unwrap();
        board.keepouts_mm = vec![[x, y - 50.0, 100.0, 100.0]];
        board.positions.truncate(1);
    });
    let told = label(&bench, "C1 on the board: ");
    assert!(told.contains("over a keep-out by "), "{told}");
    bench.assert_says("must stay free: C1 over a keep-out by ");
    assert!(!map().says("must stay free: "));
}

#[test]
fn a_photo_is_moved_and_straightened() {
    let (_folder, mut bench) = with_photo();
    bench.menu("Photo", "Move photo");
    let at = can(&bench, "C1");
    drag(&mut bench, at, at + egui::vec2(60.0, 0.0));
    let moved = supply(&bench).photo_corners_mm.unwrap();
    assert!(moved[0][0] > 1.0, "{moved:?}");
    bench.menu("Photo", "Correct perspective");
    bench.assert_says("Click the lower left corner");
    let canvas = bench.harness.get_by_label("Map of Supply, top side, 12 cans").rect();
    let mut corners = [(0.25, 0.8), (0.8, 0.75), (0.7, 0.25), (0.3, 0.2)];
    let click_all = |bench: &mut Bench, corners: &[(f32, f32)]| {
        for (x, y) in corners {
            click_at(bench, pos2(canvas.left() + x * canvas.width(), canvas.top() + y * canvas.height()));
        }
    };
    corners.reverse();
    click_all(&mut bench, &corners);
    bench.assert_says("the photo would lie on its face");
    corners.reverse();
    click_all(&mut bench, &corners);
    let straight = supply(&bench).photo_corners_mm.unwrap();
    assert_ne!(straight, moved);
    bench.press_with(Modifiers::COMMAND, Key::Z);
    assert_eq!(supply(&bench).photo_corners_mm, Some(moved));
}

#[test]
fn a_photo_is_chosen_by_its_path_and_a_bad_one_is_refused_in_words() {
    let (folder, mut bench) = with_photo();
    let other = tempfile::tempdir().unwrap();
    let photo = other.path().join("new.jpg");
    image::RgbImage::from_pixel(60, 40, image::Rgb([200, 90, 40])).save(&photo).unwrap();
    let choose = |bench: &mut Bench, path: &std::path::Path| {
        bench.menu("Job", "Photo under the board…");
        bench.harness.get_by_label("Path of the photo (*.png, *.jpg)").type_text(path.to_str().unwrap());
        bench.settle();
        bench.click_exactly("Use this photo");
    };
    choose(&mut bench, &photo);
    assert_eq!(supply(&bench).photo.as_deref(), Some("new.jpg"));
    assert!(folder.path().join("new.jpg").exists(), "copied beside the job");
    let text = folder.path().join("notes.png");
    std::fs::write(&text, "no picture").unwrap();
    choose(&mut bench, &text);
    bench.assert_says("The photo is not shown: ");
}

#[test]
fn the_map_is_exported_as_a_drawing_and_as_a_picture() {
    let folder = tempfile::tempdir().unwrap();
    let mut bench = map();
    let write = |bench: &mut Bench, name: &str| {
        let path = folder.path().join(name);
        bench.click_exactly("Export…");
        bench.harness.get_by_label("Path of the map (*.svg, *.png)").type_text(path.to_str().unwrap());
        bench.settle();
        bench.click_exactly("Write here");
        path
    };
    let svg = std::fs::read_to_string(write(&mut bench, "map.svg")).unwrap();
    let [width, _] = supply(&bench).outline_mm.unwrap();
    assert!(svg.contains(&format!("width=\"{:.2}mm\"", width + 10.0)) && svg.contains(">C12</text>"));
    // Which stress is underestimated is marked where the colours tell the old parts, on the map and on paper.
    assert!(!svg.contains("stress underestimated"));
    bench.click_exactly("Old parts");
    let suffered = std::fs::read_to_string(write(&mut bench, "old.svg")).unwrap();
    let on_map = supply(&bench).positions.iter().map(|p| label(&bench, &format!("{} on the board: ", p.reference)));
    let on_map = on_map.filter(|told| told.contains("stress underestimated")).count();
    assert!(on_map > 0 && suffered.matches(">stress underestimated</text>").count() == on_map);
    let picture = image::open(write(&mut bench, "map.png")).unwrap().to_rgb8();
    assert!(picture.width() > 1500);
    let colours: std::collections::HashSet<_> = picture.pixels().map(|pixel| pixel.0).collect();
    assert!(colours.len() > 100, "{} colours", colours.len());
    write(&mut bench, "map.pdf");
    bench.assert_says("written as *.svg or *.png");
}

#[test]
fn a_card_says_in_words_which_figure_of_a_part_is_missing() {
    let mut loaded = load::load_demo().unwrap();
    let folder = tempfile::tempdir().unwrap();
    let list = folder.path().join("list.csv");
    let head = "part_number,maker,technology,mounting,capacitance_uf,rated_v,temp_max_c,diameter_mm,height_mm,status";
    let rows = ["TARN-A,Halvenbeck,wet,radial,47,35,105,,,active", "TARN-B,Halvenbeck,wet,radial,47,35,,8,,active"];
    std::fs::write(&list, format!("{head}\n{}\n", rows.join("\n"))).unwrap();
    loaded.catalog_index = CatalogIndex::new(parts::read_files(&[list]).unwrap().catalog.into());
    let mut bench = Bench::with(Window::holding(loaded, None));
    bench.press_with(Modifiers::COMMAND, Key::Num1);
    bench.click("C3 on the board");
    bench.assert_says("47 µF 35 V 105 °C; size unknown");
    bench.assert_says("47 µF 35 V, °C unknown; Ø 8 mm, height unknown");
    assert!(!bench.says("?"));
}
