//! Other parts and test points: in the list with their count, on the map, in the editor, on the order.

use egui::Key;

use crate::harness::Bench;

#[test]
fn they_stand_under_the_positions_with_their_count_and_open_in_the_editor() {
    let mut bench = Bench::demo();
    bench.press_with(egui::Modifiers::COMMAND, Key::Num1);
    bench.assert_says("Other parts 5/5");
    bench.click("K2, relay: CAIRNFOLD-24-2CO8, lasts 40 years on the board");
    assert_eq!(bench.text_of("Operations a year"), "2500");
    bench.enter("Operations a year", "20000");
    let part = &bench.job().boards[0].other_parts[1];
    assert_eq!(part.operations_per_year, Some(20_000.0));
    // 100 000 operations are five years then: the relay limits the board, and the bar names it.
    bench.assert_says("It lasts 5 years by the manufacturer's rated switching life");
    bench.assert_says("lasts at most 5 years, limited by K2");
    bench.menu("Edit", "Undo: ");
    assert_eq!(bench.job().boards[0].other_parts[1].operations_per_year, Some(2500.0));
}

#[test]
fn one_is_added_ordered_and_removed_by_name() {
    let mut bench = Bench::demo();
    bench.menu("Edit", "Other parts and test points…");
    bench.click("Add other part to the board");
    bench.enter("Reference", "F9");
    bench.enter("Part number", "BRINTHWAITE-T1A");
    let part = bench.job().boards[0].other_parts.last().unwrap().clone();
    assert_eq!((part.reference.as_str(), part.part_number()), ("F9", Some("BRINTHWAITE-T1A")));
    bench.press_with(egui::Modifiers::COMMAND, Key::Num4);
    bench.assert_says("BRINTHWAITE-T1A: need 5");
    bench.click("Remove other part");
    assert_eq!(bench.job().boards[0].other_parts.len(), 5);
}

#[test]
fn ratings_are_typed_once_for_old_and_new_and_once_for_all_relays_alike() {
    let mut bench = Bench::demo_with(|job| {
        let parts = &mut job.boards[0].other_parts;
        parts[0].replacement = refarad::domain::Replacement::default();
        parts[0].replacement.part_number = parts[1].replacement.part_number.clone();
        parts[0].note = Some("stiff".into());
    });
    bench.press_with(egui::Modifiers::COMMAND, Key::Num1);
    bench.click("K2, relay: CAIRNFOLD-24-2CO8, lasts 40 years on the board");
    bench.enter("Coil resistance", "900");
    bench.press_button("Relay that goes in");
    bench.press_button("Same ratings as the original");
    let of = |bench: &Bench, at: usize| bench.job().boards[0].other_parts[at].clone();
    assert_eq!(of(&bench, 1).replacement.coil_ohm, Some(900.0));
    assert_eq!(of(&bench, 1).replacement.contacts, of(&bench, 1).original.contacts);
    bench.press_button("Same for K1");
    let (k1, k2) = (of(&bench, 0), of(&bench, 1));
    assert_eq!((&k1.replacement, &k1.original, k1.operations_per_year), (&k2.replacement, &k2.original, Some(2500.0)));
    assert_eq!((k1.reference.as_str(), k1.note.as_deref(), k1.x_mm == k2.x_mm), ("K1", Some("stiff"), false));
}

#[test]
fn test_points_are_told_on_the_map_and_say_when_what_was_found_is_outside() {
    let mut bench = Bench::demo();
    bench.press_with(egui::Modifiers::COMMAND, Key::Num1);
    bench.click("TP1, test point: 5 V output against its return, loaded, expected 4.95 to 5.15 V on the board");
    bench.assert_says("Found outside the expected range.");
    assert_eq!(
        bench.harness.ctx.memory(|memory| memory.focused()),
        Some(egui::Id::unique(("entry", "test_points.ref")))
    );
    bench.enter("Found", "5.02");
    assert!(!bench.says("Found outside the expected range."));
}

#[test]
fn the_editor_shows_what_was_clicked_a_relay_or_a_can() {
    let mut bench = Bench::demo();
    bench.press_with(egui::Modifiers::COMMAND, Key::Num1);
    bench.press_with(egui::Modifiers::COMMAND, Key::E);
    bench.click("K1, relay: CAIRNFOLD-24-1NO16, lasts 66.7 years on the board");
    assert_eq!(bench.text_of("Reference"), "K1");
    bench.click("C10 on the board: ");
    bench.assert_says("What is printed on it?");
    assert!(bench.position("Supply", "C10").original.label.as_deref() == Some(&*bench.text_of("Marking")));
}

#[test]
fn a_type_of_unit_is_added_and_the_order_counts_it() {
    let mut bench = Bench::demo_with(|job| job.unit_types.clear());
    bench.press_with(egui::Modifiers::COMMAND, Key::J);
    bench.press_button("Add a type of unit");
    assert_eq!((bench.job().unit_types[0].units, bench.job().unit_types[0].boards.len()), (Some(4.0), 4));
    bench.press_button("Servo in units of type 1");
    assert_eq!(bench.job().copies(Some(1)), 0.0);
}

#[test]
fn an_alternative_is_entered_compared_and_taken_as_one_step() {
    let mut bench = Bench::demo();
    bench.press_with(egui::Modifiers::COMMAND, Key::Num1);
    bench.click("K1, relay: CAIRNFOLD-24-1NO16, lasts 66.7 years on the board");
    bench.enter("Alternatives", "CAIRNFOLD-24-2CO8");
    bench.press_with(egui::Modifiers::COMMAND, Key::Num4);
    bench.press_button("Consolidate order");
    bench.press_button("Find fewest-cost order");
    bench.assert_says("With their lines they cost ");
    bench.assert_says("Supply K1: CAIRNFOLD-24-2CO8 instead of CAIRNFOLD-24-1NO16");
    bench.press_button("Take these for the other parts");
    let taken = |bench: &Bench| bench.job().boards[0].other_parts[0].part_number().map(str::to_owned);
    assert_eq!(taken(&bench).as_deref(), Some("CAIRNFOLD-24-2CO8"));
    bench.press_button("Order");
    assert!(!bench.says("CAIRNFOLD-24-1NO16: need"));
    bench.menu("Edit", "Undo: alternatives of other parts");
    assert_eq!(taken(&bench).as_deref(), Some("CAIRNFOLD-24-1NO16"));
}

#[test]
fn a_fuse_has_no_coil_and_what_is_filled_in_stays_in_sight() {
    let mut bench = Bench::demo_with(|job| {
        job.boards[0].other_parts[3].original.contacts = Some("spring clips".into());
    });
    bench.press_with(egui::Modifiers::COMMAND, Key::Num1);
    bench.click("F1, fuse: BRINTHWAITE-T6A3 on the board");
    let relays = ["Coil voltage", "Contacts", "Switched current", "Relay that goes in"];
    assert!(relays.iter().all(|field| !bench.says_exactly(field)));
    assert_eq!(bench.text_of("Own interval"), "");
    bench.click("F2, fuse: BRINTHWAITE-T2A on the board");
    assert_eq!(bench.text_of("Contacts"), "spring clips");
    bench.click("K2, relay: CAIRNFOLD-24-2CO8, lasts 40 years on the board");
    assert!(relays.iter().all(|field| bench.says_exactly(field)));
}
