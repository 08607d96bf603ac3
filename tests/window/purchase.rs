use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;

use egui::accesskit::Role;
use egui::{Key, Modifiers, OutputCommand};
use egui_kittest::kittest::{NodeT, Queryable};
use refarad::app::Window;
use refarad::domain::{Date, Job};
use refarad::files::{demo, job, load};
use refarad::sizing::{self, OrderOptions, Purchase};

use crate::harness::Bench;

/// The demo in a file of its own, at the order.
fn saved(folder: &Path) -> (Bench, PathBuf) {
    demo::write_unless_there(folder, false).unwrap();
    let path = folder.join("observatory.json");
    let mut bench = Bench::with(Window::holding(load::load(&path, &[]).unwrap(), Some(path.clone())));
    bench.press_with(Modifiers::COMMAND, Key::Num4);
    (bench, path)
}

fn order() -> Bench {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::Num4);
    bench
}

/// What is to be bought by the library, without the window.
fn bought(job: &Job) -> Purchase {
    let catalog_index = load::load_demo().unwrap().catalog_index;
    let sizing = sizing::size(job, &catalog_index);
    sizing::purchase(job, &catalog_index, &sizing, Date::today())
}

/// The rows of the order as they are read aloud.
fn lines(bench: &Bench) -> Vec<String> {
    let names = bench.harness.root().children_recursive().filter_map(|node| {
        let node = node.accesskit_node();
        if node.role() == Role::ListBoxOption { node.label() } else { None }
    });
    names.filter(|name| name.contains(": need ")).collect()
}

fn line_of(bench: &Bench, part: &str) -> String {
    let start = format!("{part}: need ");
    lines(bench).into_iter().find(|line| line.starts_with(&start)).unwrap_or_else(|| panic!("{part}"))
}

fn total(line: &str) -> f64 {
    line.split("total ").nth(1).and_then(|rest| rest.split(' ').next()).unwrap().parse().unwrap()
}

/// Presses a control of this name that is no label, wherever it is scrolled to.
fn press(bench: &mut Bench, name: &str) {
    bench.press_button(name);
}

/// Opens an export by its menu and types where to.
fn export(bench: &mut Bench, entry: &str, prompt: &str, path: &Path) {
    press(bench, "Export…");
    bench.click(entry);
    bench.harness.get_by_label(prompt).type_text(path.to_str().unwrap());
    bench.settle();
    bench.click_exactly("Write here");
}

fn add_offers(bench: &mut Bench, path: &Path) {
    press(bench, "Stock and quotes");
    press(bench, "Add offers…");
    bench.harness.get_by_label("Path of the offers (a text table or a workbook)").type_text(path.to_str().unwrap());
    bench.settle();
    bench.click_exactly("Use these offers");
    press(bench, "Order");
}

#[test]
fn the_order_says_what_it_comes_to_and_the_position_without_a_part_is_selected_by_a_click() {
    let mut bench = order();
    let expected = bought(bench.job());
    bench.assert_says(&format!("{} order lines:", expected.totals.lines));
    bench.assert_says("parts ");
    assert!(!bench.says("  "), "no two blanks beside each other");
    bench.assert_says(&format!("total {:.2} EUR", expected.totals.certain_job().unwrap()));
    assert_eq!(lines(&bench).len(), expected.lines.len());
    press(&mut bench, "Supply C4");
    assert!(bench.selected_rows().iter().any(|row| row.starts_with("C4, ")), "{:?}", bench.selected_rows());
}

#[test]
fn a_click_on_a_heading_sorts_the_order_and_another_turns_it_round() {
    let mut bench = order();
    press(&mut bench, "Sort the order by total");
    let rising: Vec<f64> = lines(&bench).iter().map(|line| total(line)).collect();
    assert!(rising.len() > 20 && rising.is_sorted(), "{rising:?}");
    press(&mut bench, "Sort the order by total, now smallest first");
    let falling: Vec<f64> = lines(&bench).iter().map(|line| total(line)).collect();
    assert!(falling.is_sorted_by(|a, b| a >= b) && falling[0] > falling[20], "{falling:?}");
}

#[test]
fn twice_the_units_are_twice_the_need_and_undo_brings_the_order_back() {
    let mut bench = order();
    let before = line_of(&bench, "SKARN-400-220U");
    assert!(before.contains(": need 9,"), "{before}");
    bench.click("Quantities: 5 units of 2 types");
    bench.enter("dome of 1996, units", "8");
    assert_eq!(bench.job().unit_types[0].units, Some(8.0));
    // Two positions in eight units with 10 % spares: 17.6.
    assert!(line_of(&bench, "SKARN-400-220U").contains(": need 18,"));
    bench.enter("Spares", "0 %");
    assert!(line_of(&bench, "SKARN-400-220U").contains(": need 16,"));
    bench.menu("Edit", "Undo: spares");
    bench.menu("Edit", "Undo: units");
    assert_eq!(line_of(&bench, "SKARN-400-220U"), before);
}

#[test]
fn a_part_without_a_price_is_unknown_and_takes_the_total_with_it() {
    let catalog_index = load::load_demo().unwrap().catalog_index;
    let catalog = catalog_index.catalog();
    let unpriced = catalog.ids().find(|&id| {
        let part = catalog.part(id);
        part.trade.unit_price.is_none() && part.price_breaks.is_none()
    });
    let number = catalog.part_number(unpriced.expect("the demo has parts without a price")).to_owned();
    let mut bench = Bench::demo_with(|job| job.boards[0].positions[2].pick = Some(number.clone()));
    bench.press_with(Modifiers::COMMAND, Key::Num4);
    bench.assert_says("the total is unknown: 1 line has no price that can be counted");
    assert!(!bench.says(" + handling "));
    assert!(line_of(&bench, &number).contains("total unknown"));
}

#[test]
fn an_offer_in_another_currency_counts_once_its_rate_is_entered_and_the_buyer_may_still_choose() {
    let folder = tempfile::tempdir().unwrap();
    let elsewhere = tempfile::tempdir().unwrap();
    let (mut bench, path) = saved(folder.path());
    let own = line_of(&bench, "SKARN-400-220U");
    let list = elsewhere.path().join("offers.csv");
    std::fs::write(
        &list,
        "part_number,supplier,currency,price_breaks\nSKARN-400-220U,Elsewhere,USD,1:1.0\n,X,USD,1:1\n",
    )
    .unwrap();
    add_offers(&mut bench, &list);
    assert_eq!(bench.job().offers, ["offers.csv"]);
    assert!(folder.path().join("offers.csv").exists(), "the list is kept beside the job");
    assert_eq!(line_of(&bench, "SKARN-400-220U"), own, "without a rate dollars are not compared");
    press(&mut bench, &own);
    bench.assert_says("no rate for USD");
    bench.click("Quantities: ");
    bench.enter("EUR for 1 USD", "0.9");
    assert_eq!(bench.job().currency_rates.get("USD"), Some(&0.9));
    assert!(line_of(&bench, "SKARN-400-220U").contains("order 9 from Elsewhere, total 9.00 USD"));
    bench.assert_says("by currency: ");
    let first = own.split("from ").nth(1).unwrap().split(',').next().unwrap().to_owned();
    press(&mut bench, &first);
    assert_eq!(line_of(&bench, "SKARN-400-220U"), own);
    assert_eq!(bench.job().suppliers.get("SKARN-400-220U"), Some(&first));
    press(&mut bench, "Take the cheapest again");
    assert!(line_of(&bench, "SKARN-400-220U").contains("Elsewhere"));
    press(&mut bench, "Stock and quotes");
    bench.assert_says("Not used: offers.csv line 3, part_number");
    bench.press_with(Modifiers::COMMAND, Key::S);
    assert_eq!(job::read(&path).unwrap().job, *bench.job());
}

#[test]
fn a_lot_on_the_shelf_is_taken_off_the_order_and_an_old_one_asks_to_be_re_formed() {
    let mut bench = order();
    press(&mut bench, "Stock and quotes");
    bench.enter("New lot: part number", "SKARN-400-220U");
    bench.enter("pieces", "4");
    bench.enter("date code", "year 3");
    press(&mut bench, "Add to stock");
    bench.assert_says("Refused: year 3; expected year and week as 2319");
    assert!(bench.job().shelf.is_empty());
    bench.enter("date code", "1901");
    press(&mut bench, "Add to stock");
    assert_eq!((bench.job().shelf.len(), bench.job().shelf[0].qty), (1, Some(4.0)));
    bench.assert_says("stored over 2 years: re-form before use (400 V through 1000 Ω for 1 h");
    press(&mut bench, "Order");
    assert!(line_of(&bench, "SKARN-400-220U").contains("need 9, order 5"));
    press(&mut bench, "Stock and quotes");
    bench.enter("Pieces of SKARN-400-220U, lot 1", "20");
    press(&mut bench, "Order");
    assert!(line_of(&bench, "SKARN-400-220U").contains("need 9, order 0"));
    press(&mut bench, "Stock and quotes");
    press(&mut bench, "Remove lot 1 of SKARN-400-220U");
    assert!(bench.job().shelf.is_empty());
    bench.menu("Edit", "Undo: remove a lot");
    assert_eq!(bench.job().shelf[0].qty, Some(20.0));
}

#[test]
fn few_lines_are_found_proven_told_step_by_step_and_applied_as_one_change() {
    let mut bench = order();
    let start = bench.job().clone();
    press(&mut bench, "Consolidate order");
    press(&mut bench, "Find fewest-cost order");
    bench.assert_says("Proven: no choice of passing parts costs less.");
    bench.assert_says("Steps away from each position's cheapest part");
    bench.assert_says("less than the present parts.");
    bench.assert_says("no part passes");
    bench.click("Apply what is ticked (");
    // The search looks at no other parts.
    let applied = bought(bench.job()).totals_of_positions(&start);
    let before = bought(&start).totals_of_positions(&start);
    assert!(applied.lines < before.lines);
    // Picks a person made are kept until they are ticked.
    for (id, position) in start.positions().filter(|(_, position)| position.pick.is_some()) {
        assert_eq!(bench.job().position(id).unwrap().pick, position.pick);
    }
    assert!(applied.certain_job().unwrap() < before.certain_job().unwrap());
    // What was shown for few lines is what the purchase list of its positions now says: all that have a pick.
    let catalog_index = load::load_demo().unwrap().catalog_index;
    let mut picked = sizing::size(bench.job(), &catalog_index);
    picked.positions.retain(|sized| bench.job().position(sized.id).unwrap().pick.is_some());
    let now = sizing::purchase(bench.job(), &catalog_index, &picked, Date::today());
    bench.assert_says(&format!("{:.2} EUR", now.totals_of_positions(&start).certain_job().unwrap()));
    bench.assert_says("Apply what is ticked (0 picks)");
    bench.press_with(Modifiers::COMMAND, Key::Z);
    assert_eq!(*bench.job(), start);
}

#[test]
fn wishes_are_entered_refused_where_they_name_nothing_and_kept_by_the_search() {
    let demo = load::load_demo().unwrap();
    let go_on = AtomicBool::new(false);
    let found = sizing::order(&demo.job, &demo.catalog_index, &OrderOptions::default(), &go_on, &mut |_| {}).unwrap();
    let shared = found.lines.iter().find(|line| line.positions.len() > 1).expect("a part that is shared");
    let avoided = demo.catalog_index.catalog().part_number(shared.part);
    let mut bench = order();
    press(&mut bench, "Consolidate order");
    press(&mut bench, "Find fewest-cost order");
    assert!(bench.says_exactly(avoided));
    bench.enter("Part number", "NO-SUCH-PART");
    press(&mut bench, "Excluded");
    bench.assert_says("Refused: NO-SUCH-PART is not in the catalogue.");
    bench.enter("Part number", avoided);
    press(&mut bench, "Excluded");
    assert_eq!(bench.job().never_use, [avoided]);
    bench.assert_says("The job changed since this was found");
    press(&mut bench, "A second source for every part");
    assert_eq!(bench.job().second_source, Some(true));
    press(&mut bench, "Find fewest-cost order");
    bench.assert_says("There is no order: no part that passes");
    bench.assert_says("second source");
    press(&mut bench, "A second source for every part");
    press(&mut bench, "Find fewest-cost order");
    bench.assert_says("Proven");
    press(&mut bench, &format!("Remove: {avoided} excluded"));
    assert!(bench.job().never_use.is_empty());
}

#[test]
fn the_order_is_copied_as_a_table_a_spreadsheet_takes() {
    let mut bench = order();
    bench.harness.get_by_role_and_label(Role::Button, "Copy as table").click();
    let mut copied = None;
    for _ in 0..4 {
        bench.harness.step();
        for command in &bench.harness.output().platform_output.commands {
            if let OutputCommand::CopyText(text) = command {
                copied = Some(text.clone());
            }
        }
    }
    let copied = copied.expect("something on the clipboard");
    let mut rows = copied.lines().map(|line| line.split('\t').collect::<Vec<_>>());
    let headings = rows.next().unwrap();
    assert_eq!((headings[0], headings.len()), ("part_number", 18));
    let rows: Vec<_> = rows.collect();
    assert_eq!(rows.len(), lines(&bench).len());
    let at = |name: &str| headings.iter().position(|heading| *heading == name).unwrap();
    for row in rows {
        let figure = |name: &str| row[at(name)].parse::<f64>().unwrap();
        assert!((figure("order_qty") * figure("unit_price") - figure("line_total")).abs() < 1e-9, "{row:?}");
    }
}

#[test]
fn lists_workbook_and_sheets_are_written_where_the_person_says() {
    let folder = tempfile::tempdir().unwrap();
    let mut bench = order();
    let at = |name: &str| folder.path().join(name);
    export(&mut bench, "Export purchase list…", "Path of the list (*.csv)", &at("purchase.csv"));
    let list = std::fs::read_to_string(at("purchase.csv")).unwrap();
    assert_eq!(list.lines().count(), lines(&bench).len() + 1);
    bench.assert_says("purchase.csv");
    export(&mut bench, "Export a list for each supplier…", "Folder for the lists", &at("suppliers"));
    // The full list of a supplier, the two columns its page takes, and the same with the positions.
    for kind in ["purchase_", "upload_", "references_"] {
        let files = std::fs::read_dir(at("suppliers")).unwrap().map(|file| file.unwrap().path());
        let each: usize = files
            .filter(|path| path.file_name().unwrap().to_string_lossy().starts_with(kind))
            .map(|path| std::fs::read_to_string(path).unwrap().lines().count() - 1)
            .sum();
        assert_eq!(each, lines(&bench).len(), "{kind}");
    }
    export(&mut bench, "Export workbook…", "Path of the workbook (*.xlsx)", &at("order.xlsx"));
    assert!(std::fs::read(at("order.xlsx")).unwrap().starts_with(b"PK"));
    export(&mut bench, "Export worksheet…", "Path of the worksheet (*.html)", &at("work.html"));
    let work = std::fs::read_to_string(at("work.html")).unwrap();
    assert!(work.contains("rise at rated ripple") && !work.contains("core_rise_k"), "assumed figures in words");
    export(&mut bench, "Export justification…", "Path of the justification (*.html)", &at("why.html"));
    assert!(std::fs::read_to_string(at("why.html")).unwrap().contains("Justification of the replacement capacitors"));
}

#[test]
fn arrow_keys_move_along_the_order_and_the_line_below_follows() {
    let mut bench = order();
    let first = lines(&bench)[0].clone();
    bench.click(&first);
    bench.press(Key::ArrowDown);
    let second = lines(&bench)[1].clone();
    assert!(bench.selected_rows().contains(&second), "{:?}", bench.selected_rows());
    let number = second.split(':').next().unwrap().to_owned();
    bench.assert_says(&number);
    assert!(bench.selected_rows().iter().any(|row| row.starts_with("C1, ")), "the position stays");
}

/// The demo several times over: too much for a proof within the time of a test.
fn much() -> Bench {
    let mut bench = Bench::demo_with(|job| {
        let boards = job.boards.clone();
        for copy in 1..8 {
            for board in &boards {
                let mut board = board.clone();
                board.name = format!("{} {copy}", board.name);
                for (at, position) in board.positions.iter_mut().enumerate() {
                    position.pick = None;
                    // No two positions ask for the same, or they would be one to the search.
                    let factor = 0.9 - 0.011 * f64::from(copy) - 0.003 * (at % 7) as f64;
                    position.stress.dc_v = position.stress.dc_v.map(|volt| volt * factor);
                }
                job.boards.push(board);
            }
        }
    });
    bench.press_with(Modifiers::COMMAND, Key::Num4);
    bench
}

#[test]
fn a_search_for_few_lines_is_stopped_and_says_what_it_has() {
    let mut bench = much();
    press(&mut bench, "Consolidate order");
    let pressed = |bench: &mut Bench, name: &str| {
        bench.harness.get_by_role_and_label(Role::Button, name).click();
        bench.harness.step();
        bench.harness.step();
    };
    pressed(&mut bench, "Find fewest-cost order");
    assert!(bench.harness.state().is_working());
    pressed(&mut bench, "Stop and take the best");
    bench.settle();
    assert!(!bench.harness.state().is_working());
    bench.assert_says("Stopped");
    assert!(!bench.says("Stop and take the best") && bench.says("Find fewest-cost order"));
}

#[test]
fn the_order_fits_into_a_window_of_1280_points() {
    let bench = order();
    for heading in [
        "Sort the order by part",
        "Sort the order by lead time (d)",
        "Sort the order by supplier stock",
        "Sort the order by manufacturer",
    ] {
        let found =
            |node: &egui_kittest::Node<'_>| node.accesskit_node().label().is_some_and(|name| name.starts_with(heading));
        let rect = bench.harness.root().children_recursive().find(found).expect(heading).rect();
        assert!(rect.left() >= 104.0 && rect.right() <= 1280.0, "{heading}: {rect:?}");
    }
}

#[test]
fn at_twice_the_size_a_button_goes_to_the_next_line_whole() {
    // As many points as a window of 1280 by 720 pixels has then.
    let mut bench = Bench::sized(Window::holding(load::load_demo().unwrap(), None), [640.0, 360.0]);
    bench.press_with(Modifiers::COMMAND, Key::Num4);
    let height = |name: &str| bench.harness.get_by_label(name).rect().height();
    assert_eq!(height("Export…"), height("Stock and quotes"));
    bench.click_exactly("Export…");
    // What has no room beside it is an entry of it.
    bench.assert_says("Copy as table");
}

#[test]
fn of_many_positions_without_a_part_the_first_are_named_and_the_others_counted() {
    let mut bench = Bench::demo_with(|job| {
        for position in job.boards.iter_mut().flat_map(|board| &mut board.positions) {
            position.pick = None;
            // No part is that high in voltage.
            position.stress.dc_v = Some(2000.0);
        }
    });
    bench.press_with(Modifiers::COMMAND, Key::Num4);
    bench.assert_says("Still without a part:");
    let all = bench.job().positions().count();
    bench.assert_says(&format!("and {} more", all - 12));
}
