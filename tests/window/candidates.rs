use std::sync::Arc;

use egui::accesskit::Role;
use egui::{Key, Modifiers, OutputCommand};
use egui_kittest::kittest::{NodeT, Queryable};
use refarad::domain::{CatalogBuilder, Job};
use refarad::sizing::CatalogIndex;

use crate::harness::Bench;

/// The demo with C3 of the supply board selected.
fn at_c3() -> Bench {
    let mut bench = Bench::demo();
    bench.click("C3, ");
    bench
}

/// The demo with C3 changed and selected.
fn with_c3(change: impl FnOnce(&mut refarad::domain::Position)) -> Bench {
    let mut bench = Bench::demo_with(|job: &mut Job| {
        let positions = job.boards.iter_mut().flat_map(|board| &mut board.positions);
        change(positions.into_iter().find(|position| position.reference == "C3").unwrap());
    });
    bench.click("C3, ");
    bench
}

fn type_filter(bench: &mut Bench, text: &str) {
    bench.harness.get_by_label("Filter").focus();
    bench.settle();
    bench.harness.get_by_label("Filter").type_text(text);
    bench.settle();
}

/// Clicks a button and returns what it put on the clipboard.
fn copied_by(bench: &mut Bench, button: &str) -> String {
    bench.harness.get_by_role_and_label(Role::Button, button).click();
    for _ in 0..4 {
        bench.harness.step();
        for command in &bench.harness.output().platform_output.commands {
            if let OutputCommand::CopyText(text) = command {
                return text.clone();
            }
        }
    }
    panic!("{button} put nothing on the clipboard");
}

/// Every candidate listed, as copied: headings and rows.
fn listed(bench: &mut Bench) -> (Vec<String>, Vec<Vec<String>>) {
    // Ctrl+A marks the rows of the list in use.
    bench.menu("Go", "To the candidates");
    bench.press_with(Modifiers::COMMAND, Key::A);
    let button = bench
        .harness
        .root()
        .children_recursive()
        .filter_map(|node| node.accesskit_node().label())
        .find(|label| label.starts_with("Copy ") && label.contains("row"))
        .unwrap();
    let text = copied_by(bench, &button);
    bench.press_with(Modifiers::COMMAND, Key::A);
    let split = |line: &str| line.split('\t').map(str::to_owned).collect::<Vec<_>>();
    let mut lines = text.lines();
    (split(lines.next().unwrap()), lines.map(split).collect())
}

/// The numbers of a column of what is listed; those not known are left out.
fn column(bench: &mut Bench, heading: &str) -> Vec<f64> {
    let (headings, rows) = listed(bench);
    let at = headings.iter().position(|own| own == heading).unwrap_or_else(|| panic!("{heading} in {headings:?}"));
    rows.iter().filter_map(|row| row[at].parse().ok()).collect()
}

#[test]
fn the_original_stands_first_and_every_check_has_its_reason() {
    let mut bench = Bench::demo();
    bench.click("original part: ");
    bench.assert_says("Why original part ");
    bench.assert_says("peak 334 V on 400 V rated, used 83.5 %");
}

#[test]
fn the_original_cannot_be_picked_and_the_button_says_why() {
    let mut bench = Bench::demo();
    bench.click("original part: ");
    let before = bench.job().clone();
    bench.press(Key::Enter);
    assert_eq!(*bench.job(), before);
    bench.assert_says("The original part cannot be bought");
}

#[test]
fn a_clicked_candidate_is_picked_by_the_button() {
    let mut bench = at_c3();
    let row = bench.candidate_rows().into_iter().find(|name| !name.contains("picked") && !name.starts_with("original"));
    let row = row.expect("a candidate that is not picked");
    bench.click(&row);
    bench.click_exactly("Pick");
    let part = row.split([':', ',']).next().unwrap();
    assert_eq!(bench.position("Supply", "C3").pick.as_deref(), Some(part));
}

#[test]
fn the_part_the_program_proposes_is_marked_as_proposed() {
    let mut bench = at_c3();
    if bench.position("Supply", "C3").pick.is_some() {
        bench.click_exactly("Clear pick");
    }
    assert_eq!(bench.candidate_rows().iter().filter(|name| name.contains(", proposed")).count(), 1);
}

#[test]
fn a_comparison_lists_only_what_holds_it() {
    let mut bench = at_c3();
    let all = column(&mut bench, "height (mm)");
    type_filter(&mut bench, "h < 12 life > 10");
    let heights = column(&mut bench, "height (mm)");
    assert!(!heights.is_empty() && heights.len() < all.len());
    assert!(heights.iter().all(|&height_mm| height_mm < 12.0), "{heights:?}");
    let years = column(&mut bench, "years of life (years)");
    assert_eq!(years.len(), heights.len());
    assert!(years.iter().all(|&years| years > 10.0), "{years:?}");
    assert!(bench.candidate_rows()[0].starts_with("original part"), "the original stays for comparison");
}

#[test]
fn words_are_found_wherever_they_stand() {
    let mut bench = at_c3();
    bench.click_exactly("Columns");
    bench.click("Technology");
    bench.press(Key::Escape);
    type_filter(&mut bench, "HYBRID|polymer");
    let (headings, rows) = listed(&mut bench);
    let at = headings.iter().position(|heading| heading == "technology").unwrap();
    assert!(!rows.is_empty());
    let other = rows.iter().find(|row| !["hybrid", "polymer"].contains(&&*row[at]));
    assert_eq!(other, None);
}

#[test]
fn what_the_filter_does_not_understand_is_said_and_the_rest_still_holds() {
    let mut bench = at_c3();
    type_filter(&mut bench, "h < 12 hight < 5");
    bench.assert_says("“hight” is no column");
    assert!(column(&mut bench, "height (mm)").iter().all(|&height_mm| height_mm < 12.0));
}

#[test]
fn a_filter_nothing_holds_says_so_and_is_cleared_by_its_button() {
    let mut bench = at_c3();
    let before = bench.candidate_rows();
    type_filter(&mut bench, "no-such-part");
    bench.assert_says("Nothing matches the filter; it hides ");
    assert_eq!(bench.candidate_rows().len(), 1, "only the original");
    bench.click_exactly("Show all candidates");
    assert_eq!(bench.candidate_rows(), before);
}

#[test]
fn escape_clears_the_filter() {
    let mut bench = at_c3();
    let before = bench.candidate_rows();
    bench.press_with(Modifiers::COMMAND, Key::F);
    bench.harness.get_by_label("Filter").type_text("no-such-part");
    bench.settle();
    assert_eq!(bench.candidate_rows().len(), 1);
    bench.press(Key::Escape);
    assert_eq!(bench.candidate_rows(), before);
}

#[test]
fn a_part_is_found_and_picked_by_keys_alone() {
    let mut bench = at_c3();
    bench.press_with(Modifiers::COMMAND, Key::F);
    bench.harness.get_by_label("Filter").type_text("d <= 6.3 verdict = pass");
    bench.settle();
    let wanted = bench.candidate_rows()[1].split([':', ',']).next().unwrap().to_owned();
    bench.press(Key::ArrowDown);
    bench.press(Key::Home);
    bench.press(Key::ArrowDown);
    bench.press(Key::Enter);
    assert_eq!(bench.position("Supply", "C3").pick.as_deref(), Some(&*wanted));
}

#[test]
fn the_examples_say_what_can_be_typed_and_can_be_clicked() {
    let mut bench = at_c3();
    bench.click("Examples");
    bench.assert_says("more than 10 years of life");
    bench.click("life > 10");
    assert!(column(&mut bench, "years of life (years)").iter().all(|&years| years > 10.0));
}

#[test]
fn a_click_on_a_heading_sorts_another_turns_round_and_a_third_goes_back() {
    let mut bench = at_c3();
    let best_first = listed(&mut bench).1;
    bench.click("Sort by price");
    let cheapest_first = column(&mut bench, "price");
    assert!(cheapest_first.len() > 5 && cheapest_first.is_sorted(), "{cheapest_first:?}");
    bench.assert_says("by price, smallest first");
    bench.click("Sort by price");
    let mut dearest_first = column(&mut bench, "price");
    dearest_first.reverse();
    assert_eq!(dearest_first, cheapest_first);
    bench.click("Sort by price");
    assert_eq!(listed(&mut bench).1, best_first);
}

#[test]
fn a_heading_sorts_by_key_the_better_end_first() {
    let mut bench = at_c3();
    let before = bench.job().clone();
    bench.harness.get_by_label("Sort by years of life (years)").focus();
    bench.settle();
    bench.press(Key::Enter);
    assert_eq!(*bench.job(), before, "nothing is picked");
    let mut years = column(&mut bench, "years of life (years)");
    years.reverse();
    assert!(years.is_sorted(), "{years:?}");
}

#[test]
fn a_heading_out_of_sight_is_reached_by_key_and_comes_into_sight() {
    let mut bench = at_c3();
    bench.click_exactly("Columns");
    for column in ["Maker", "Stock", "Lead time", "Minimum order"] {
        bench.click(column);
    }
    bench.press(Key::Escape);
    bench.harness.get_by_label("Sort by minimum order").focus();
    bench.settle();
    let heading = bench.harness.get_by_label("Sort by minimum order").rect();
    assert!(heading.width() > 20.0 && heading.right() <= 1280.0, "{heading:?}");
    bench.press(Key::Enter);
    assert!(column(&mut bench, "minimum order").is_sorted());
}

#[test]
fn in_a_large_window_the_reasons_leave_room_for_every_usual_column() {
    let heading = |size: [f32; 2]| {
        let mut bench = Bench::sized(refarad::app::Window::holding(crate::harness::DEMO.clone(), None), size);
        bench.press_with(Modifiers::COMMAND, Key::Num2);
        bench.harness.get_by_label("Sort by price").rect().width()
    };
    let usual = heading([1296.0, 736.0]);
    for size in [[1936.0, 1096.0], [2576.0, 1456.0], [1723.0, 976.0]] {
        let width = heading(size);
        assert!(width >= usual, "{size:?}: {width} of {usual}");
    }
}

#[test]
fn figures_that_are_not_known_come_last_either_way() {
    let mut bench = at_c3();
    for _ in 0..2 {
        bench.click("Sort by price");
        let (headings, rows) = listed(&mut bench);
        let at = headings.iter().position(|heading| heading == "price").unwrap();
        let first_unknown = rows.iter().position(|row| row[at].is_empty()).unwrap_or(rows.len());
        assert!(rows[first_unknown..].iter().all(|row| row[at].is_empty()));
    }
}

#[test]
fn a_column_is_chosen_and_stands_in_the_table_and_in_the_copy() {
    let mut bench = at_c3();
    assert!(!bench.says("Sort by maker"));
    bench.click_exactly("Columns");
    bench.click("Maker");
    bench.press(Key::Escape);
    assert!(listed(&mut bench).0.contains(&"maker".to_owned()));
    bench.click_exactly("Columns");
    bench.click_exactly("Default columns");
    bench.press(Key::Escape);
    assert!(!listed(&mut bench).0.contains(&"maker".to_owned()));
}

#[test]
fn the_selected_row_is_copied_as_a_table_with_headings() {
    let mut bench = at_c3();
    let row = bench.candidate_rows()[2].clone();
    bench.click(&row);
    let text = copied_by(&mut bench, "Copy row");
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines.len(), 2);
    assert_eq!(lines[0].split('\t').count(), lines[1].split('\t').count());
    assert!(row.starts_with(lines[1].split('\t').next().unwrap()));
    bench.settle();
    bench.assert_says("Copied as a table: 1 row.");
}

#[test]
fn marked_rows_are_copied_together_in_the_order_shown() {
    let mut bench = at_c3();
    let part = |name: &String| name.split([':', ',']).next().unwrap().to_owned();
    bench.click(&bench.candidate_rows()[3].clone());
    bench.press(Key::M);
    bench.press(Key::ArrowUp);
    bench.press(Key::M);
    let rows = bench.candidate_rows();
    assert!(rows[2].contains(", marked") && rows[3].contains(", marked"));
    let text = copied_by(&mut bench, "Copy 2 rows");
    let copied: Vec<&str> = text.lines().skip(1).filter_map(|line| line.split('\t').next()).collect();
    assert_eq!(copied, [part(&rows[2]), part(&rows[3])]);
}

#[test]
fn pinned_candidates_stand_side_by_side_with_better_and_worse_in_words() {
    let mut bench = with_c3(|position| position.original.can.temp_max_c = Some(150.0));
    for at in [1, 2] {
        bench.click(&bench.candidate_rows()[at].clone());
        bench.press(Key::P);
    }
    bench.click("Compare pinned (2)");
    bench.assert_says("against the original");
    bench.assert_says(" better");
    bench.assert_says(" worse");
    let unpin: Vec<_> = bench.harness.get_all_by_label("Unpin").collect();
    assert_eq!(unpin.len(), 2);
    unpin[0].click();
    drop(unpin);
    bench.settle();
    bench.assert_says("Compare pinned (1)");
}

#[test]
fn with_text_twice_as_large_three_parts_stand_beside_the_original_without_scrolling() {
    let mut bench = Bench::sized(refarad::app::Window::holding(crate::harness::DEMO.clone(), None), [656.0, 376.0]);
    bench.press_with(Modifiers::COMMAND, Key::Num2);
    for key in [Key::Home, Key::ArrowDown, Key::ArrowDown, Key::ArrowRight, Key::Home] {
        bench.press(key);
    }
    for _ in 0..3 {
        bench.press(Key::ArrowDown);
        bench.press(Key::P);
    }
    bench.press(Key::C);
    let edges: Vec<f32> =
        bench.harness.get_all_by_role_and_label(Role::Button, "Unpin").map(|node| node.rect().right()).collect();
    assert!(edges.len() == 3 && edges.iter().all(|edge| *edge <= 648.0), "{edges:?}");
    assert!(bench.says("years of life"), "there is room for figures, too");
}

#[test]
fn when_the_catalogue_does_not_say_enough_the_window_says_what_it_lacks_and_where_it_is_given() {
    let mut loaded = crate::harness::DEMO.clone();
    let catalog = loaded.catalog_index.catalog().clone();
    let mut builder = CatalogBuilder::default();
    for id in catalog.ids() {
        let mut part = catalog.part(id);
        part.can.mounting = None;
        builder.push(&part);
    }
    loaded.catalog_index = CatalogIndex::new(Arc::new(builder.finish().0));
    let mut bench = Bench::with(refarad::app::Window::holding(loaded, None));
    bench.press_with(Modifiers::COMMAND, Key::Num2);
    bench.click("C6, ");
    bench.assert_says("No part is known to pass");
    bench.assert_says("unknown: fit (");
    bench.assert_says("mounting, diameter, height, lead spacing");
    assert!(!bench.says("excluded by:"), "that is not what stands in the way");
}

#[test]
fn a_seventh_pin_is_refused_in_words() {
    let mut bench = at_c3();
    bench.click(&bench.candidate_rows()[1].clone());
    for _ in 0..7 {
        bench.press(Key::P);
        bench.press(Key::ArrowDown);
    }
    bench.assert_says("6 candidates are pinned already");
    bench.assert_says("Compare pinned (6)");
}

#[test]
fn parts_ruled_out_are_listed_when_wanted_with_their_reasons() {
    let mut bench = at_c3();
    let before = listed(&mut bench).1.len();
    bench.click("Show excluded parts");
    let (_, rows) = listed(&mut bench);
    assert!(rows.len() > before);
    assert!(rows[before..].iter().all(|row| row[1] == "fail"), "the verdict of what is ruled out");
    bench.click(&bench.candidate_rows()[1].clone());
    bench.press(Key::End);
    let last = rows.last().unwrap()[0].clone();
    bench.assert_says(&format!("Why {last} fails"));
}

#[test]
fn when_all_parts_are_ruled_out_the_window_says_by_what_and_what_to_look_at() {
    let mut bench = with_c3(|position| position.space.height_max_mm = Some(1.0));
    bench.assert_says("No suitable part: all");
    bench.assert_says("excluded by: height");
    bench.assert_says("measure the room above the board, now 1 mm");
    // There is nothing else to look at: they are listed unasked.
    bench.assert_says("excluded parts are listed after them, the nearest first");
    assert!(listed(&mut bench).1[1..].iter().all(|row| row[1] == "fail"));
}

#[test]
fn when_no_part_passes_the_window_says_which_check_stands_in_the_way() {
    let bench = with_c3(|position| position.needs.life_h = Some(1e7));
    bench.assert_says("No part may be used here");
    bench.assert_says(" fail: life");
    bench.assert_says("a target below ");
}

#[test]
fn another_position_brings_its_own_candidates_and_drops_the_marks() {
    let mut bench = at_c3();
    bench.click(&bench.candidate_rows()[1].clone());
    bench.press(Key::M);
    assert!(bench.candidate_rows()[1].contains(", marked"));
    bench.click("C1, ");
    assert!(bench.candidate_rows().iter().all(|name| !name.contains(", marked")));
}
