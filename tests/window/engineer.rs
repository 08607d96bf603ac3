//! What the engineer answers for in the Life view: records, circuits, logs, exchanges, every pick on one screen.

use std::path::Path;

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};
use refarad::domain::{Date, RippleOrigin, ShelfStock};

use crate::harness::Bench;

fn life(mut bench: Bench, reference: &str) -> Bench {
    if reference != "C1" {
        bench.click(&format!("{reference}, "));
    }
    bench.press_with(Modifiers::COMMAND, Key::Num3);
    bench
}

fn at(reference: &str) -> Bench {
    life(Bench::demo(), reference)
}

fn open(bench: &mut Bench, panel: &str) {
    bench.harness.get_by_role_and_label(Role::DisclosureTriangle, panel).scroll_to_me();
    bench.settle();
    bench.harness.get_by_role_and_label(Role::DisclosureTriangle, panel).click();
    bench.settle();
}

fn enter(bench: &mut Bench, name: &str, text: &str) {
    bench.harness.get_by_role_and_label(Role::TextInput, name).scroll_to_me();
    bench.settle();
    bench.enter(name, text);
    bench.settle();
}

fn reach(bench: &mut Bench, name: &str) {
    bench.harness.get_by_role_and_label(Role::Button, name).scroll_to_me();
    bench.settle();
    bench.click_exactly(name);
}

/// Chooses an entry of a box whose entries drop down.
fn choose(bench: &mut Bench, name: &str, entry: &str) {
    bench.harness.get_by_role_and_label(Role::ComboBox, name).scroll_to_me();
    bench.settle();
    bench.harness.get_by_role_and_label(Role::ComboBox, name).click();
    bench.settle();
    bench.harness.get_by_role_and_label(Role::Button, entry).click();
    bench.settle();
}

fn read_file(bench: &mut Bench, button: &str, prompt: &str, path: &Path) {
    reach(bench, button);
    bench.harness.get_by_label(prompt).type_text(path.to_str().unwrap());
    bench.settle();
    bench.click_exactly("Read this file");
    bench.settle();
}

/// A made-up record: 2 V and 1 V peak of 1 kHz and 10 kHz on one channel, its mirror image at a tenth on the other; 20 ms in steps of 5 µs.
fn record(folder: &Path) -> std::path::PathBuf {
    let mut text = String::from("Time (s),CH1 (V),CH2 (V)\n");
    for at in 0..4000 {
        let t = f64::from(at) * 5e-6;
        let wave = 2.0 * (std::f64::consts::TAU * 1e3 * t).sin() + (std::f64::consts::TAU * 1e4 * t).cos();
        text.push_str(&format!("{t:e},{wave},{}\n", -0.1 * wave));
    }
    let path = folder.join("scope.csv");
    std::fs::write(&path, text).unwrap();
    path
}

fn rms(bench: &Bench, reference: &str) -> f64 {
    let lines = bench.position("Supply", reference).stress.ripple.clone().unwrap();
    lines.iter().map(|line| line.a.unwrap().powi(2)).sum::<f64>().sqrt()
}

#[test]
fn an_oscilloscope_record_needs_its_scale_and_becomes_the_ripple_as_one_step() {
    let folder = tempfile::tempdir().unwrap();
    let path = record(folder.path());
    let mut bench = at("C5");
    let start = bench.job().clone();
    open(&mut bench, "Ripple from an oscilloscope");
    read_file(&mut bench, "Read an oscilloscope record…", "Path of the record (*.csv)", &path);
    bench.assert_says("scope.csv: 4000 samples.");
    bench.assert_says("Choose the channel of the current");
    choose(&mut bench, "Channel", "CH1 (V)");
    bench.assert_says("The scale is not known");
    assert!(!bench.says("Use this record"));
    enter(&mut bench, "A for 1 V", "500 mA");
    // 0.5 A/V: lines of 1/√2 A and 0.5/√2 A, together 0.790569 A (the sines' own rms).
    bench.assert_says("0.791 A rms over 20 ms, 20 whole periods of 1 kHz");
    bench.assert_says("Hann's window");
    choose(&mut bench, "Channel", "CH2 (V)");
    bench.assert_says("0.0791 A rms");
    enter(&mut bench, "probe factor", "10");
    bench.assert_says("0.791 A rms");
    reach(&mut bench, "Use this record");
    let stress = &bench.position("Supply", "C5").stress;
    let lines = stress.ripple.as_ref().unwrap();
    assert!((rms(&bench, "C5") - 0.790_569).abs() < 1e-5);
    let near = |hz: f64| lines.iter().find(|line| (line.hz.unwrap() / hz - 1.0).abs() < 0.01).unwrap().a.unwrap();
    assert!((near(1e3) - 0.5f64.sqrt()).abs() < 0.01 && (near(1e4) - 0.5 * 0.5f64.sqrt()).abs() < 0.01, "{lines:?}");
    let origin = stress.ripple_from.clone().unwrap();
    assert_eq!((origin.file.as_deref(), origin.channel.as_deref()), (Some("scope.csv"), Some("CH2 (V)")));
    assert_eq!(origin.figures["a_per_unit"], 5.0);
    bench.press_with(Modifiers::COMMAND, Key::Z);
    assert_eq!(*bench.job(), start);
}

#[test]
fn a_bad_record_is_refused_in_words() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("empty.csv");
    std::fs::write(&path, "nothing,here\n").unwrap();
    let mut bench = at("C5");
    open(&mut bench, "Ripple from an oscilloscope");
    read_file(&mut bench, "Read an oscilloscope record…", "Path of the record (*.csv)", &path);
    bench.assert_says("expected rows of numbers");
    assert!(!bench.says("Use this record"));
}

#[test]
fn a_file_dropped_on_the_life_place_is_read_for_what_it_is() {
    let folder = tempfile::tempdir().unwrap();
    let scope = record(folder.path());
    let log = folder.path().join("log.csv");
    let rows: Vec<String> = (0..48).map(|hour| format!("{hour},{}\n", 40 + 20 * ((hour / 12) % 2))).collect();
    std::fs::write(&log, format!("time_h,temperature (°C)\n{}", rows.concat())).unwrap();
    let mut bench = at("C5");
    let panels = ["Choose the channel of the current", "48 readings over"];
    let said = ["Read as an oscilloscope record of 4000 samples.", "Read as a temperature log"];
    for (path, (said, panel)) in [scope, log].into_iter().zip(said.into_iter().zip(panels)) {
        bench.drop_files([path]);
        bench.settle();
        bench.assert_says(said);
        // The panel opens on what was read.
        bench.assert_says(panel);
    }
}

#[test]
fn what_was_entered_for_a_circuit_is_kept_with_the_position_and_comes_back() {
    let mut bench = at("C5");
    open(&mut bench, "Ripple from the circuit");
    choose(&mut bench, "Circuit", "input of a buck stage");
    let bench_figures = [
        ("input voltage", "24 V"),
        ("output voltage", "12"),
        ("output current", "5"),
        ("switching frequency", "100 kHz"),
    ];
    for (name, text) in bench_figures {
        enter(&mut bench, name, text);
    }
    reach(&mut bench, "Use this spectrum");
    let origin = bench.position("Supply", "C5").stress.ripple_from.clone().unwrap();
    assert_eq!((origin.circuit.as_deref(), origin.figures["input_v"]), (Some("buck_input"), 24.0));
    assert_eq!(origin.assumed, ["inductance_uh", "duty"]);
    // Infineon IR3894 data sheet p. 27 (published): Io sqrt(D(1-D)).
    assert!((rms(&bench, "C5") - 2.5).abs() < 1e-9);
    bench.assert_says("Worked out from the circuit: input of a buck stage");
    bench.assert_says("a figure of the circuit");
    bench.click("C6, ");
    assert_eq!(bench.text_of("input voltage"), "");
    bench.click("C5, ");
    bench.settle();
    assert_eq!(bench.text_of("input voltage"), "24");
    assert_eq!(bench.text_of("switching frequency"), "100000");
}

#[test]
fn of_several_temperature_columns_another_one_is_chosen() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("log.csv");
    let rows: Vec<String> = (0..48).map(|hour| format!("{hour},20,{}\n", 40 + 20 * ((hour / 12) % 2))).collect();
    std::fs::write(&path, format!("time_h,room (°C),can (°C)\n{}", rows.concat())).unwrap();
    let mut bench = at("C5");
    open(&mut bench, "Temperature log");
    read_file(&mut bench, "Read a temperature log…", "Path of the log (*.csv)", &path);
    assert!(!bench.says("readings over"), "no column is guessed");
    for (column, said) in [("room (°C)", "20 to 20 °C"), ("can (°C)", "40 to 60 °C, mean 50 °C")] {
        choose(&mut bench, "Column", column);
        bench.assert_says(said);
    }
    bench.assert_says("2 phases change the life by ");
}

#[test]
fn a_case_rise_gives_a_ripple_that_can_be_taken_over() {
    let mut bench = at("C5");
    let start = bench.job().clone();
    open(&mut bench, "Thermal cross-check");
    enter(&mut bench, "case rise", "6 K");
    bench.assert_says("times the ripple entered");
    let before = rms(&bench, "C5");
    reach(&mut bench, "Use this ripple");
    let origin = bench.position("Supply", "C5").stress.ripple_from.clone().unwrap();
    assert_eq!((origin.method.as_deref(), origin.figures["case_rise_k"]), (Some("case_rise"), 6.0));
    assert!((rms(&bench, "C5") - before).abs() > 1e-3);
    bench.press_with(Modifiers::COMMAND, Key::Z);
    assert_eq!(*bench.job(), start);
}

#[test]
fn one_can_for_two_is_proposed_and_carried_out_as_one_step() {
    let mut bench = at("C1");
    let start = bench.job().clone();
    open(&mut bench, "Parallel and series");
    let names: Vec<String> = bench
        .harness
        .root()
        .children_recursive()
        .filter_map(|node| node.accesskit_node().label())
        .filter(|label| label.starts_with("Carry out one for all"))
        .collect();
    if let Some(name) = names.first() {
        bench.press_button(name);
        assert!(bench.job().boards[0].positions.len() < start.boards[0].positions.len());
        assert!(
            bench.job().boards[0]
                .positions
                .iter()
                .any(|p| { p.note.as_deref().is_some_and(|note| note.contains("one can for C1, C2")) })
        );
        bench.press_with(Modifiers::COMMAND, Key::Z);
        assert_eq!(*bench.job(), start);
    } else {
        bench.assert_says("No exchange: ");
    }
}

#[test]
fn the_worst_share_of_a_string_follows_the_balancing_resistor() {
    let bench = Bench::demo_with(|job| {
        for position in job.boards[0].positions.iter_mut().take(2) {
            position.parallel_group = None;
            position.series_group = Some("string".into());
        }
    });
    let mut bench = life(bench, "C1");
    open(&mut bench, "Parallel and series");
    bench.assert_says("String string (C1, C2): 650 V over it, 325 V each if equal");
    enter(&mut bench, "balancing resistor", "10 kohm");
    bench.assert_says("Ω across each: worst can 3");
    enter(&mut bench, "balancing resistor", "10 Mohm");
    assert!(!bench.says("Ω across each: worst can 3"), "a resistor that large no longer balances");
}

#[test]
fn every_pick_of_a_board_is_defended_on_one_screen() {
    let mut bench = at("C5");
    bench.click_exactly("Board overview");
    bench.assert_says("Supply lasts at most ");
    bench.assert_says("limits it; then ");
    bench.assert_says("seed 1.");
    for words in ["P10 / P50 / P90", "Assumptions", "Heat balance", "HERONSGATE-16-2200U", "no suitable part"] {
        bench.assert_says(words);
    }
    // Every position of the board stands within the window without scrolling.
    for reference in (1..=12).map(|at| format!("C{at}")) {
        let row = bench.harness.get_by_role_and_label(Role::Link, &reference).rect();
        assert!(row.bottom() < 668.0 && row.right() < 1280.0, "{reference} {row:?}");
    }
    bench.harness.get_by_role_and_label(Role::Link, "C7").click();
    bench.settle();
    assert!(bench.selected_rows().iter().any(|row| row.starts_with("C7, ")));
    bench.click_exactly("Curves");
    bench.assert_says("years against ambient: ");
}

#[test]
fn the_cost_over_the_horizon_is_a_curve_of_its_own() {
    let mut bench = at("C5");
    open(&mut bench, "Interval plan");
    reach(&mut bench, "over the horizon");
    bench.assert_says("years against cost over the horizon: from ");
    bench.assert_says("of all rebuilds within the horizon");
}

#[test]
fn stock_with_an_old_date_code_is_to_be_re_formed_and_says_how() {
    let year = Date::today().unwrap().year();
    let bench = Bench::demo_with(|job| {
        job.shelf.push(ShelfStock {
            part_number: "HERONSGATE-16-2200U".into(),
            qty: Some(3.0),
            date_code: Some(format!("{}-01", year - 6)),
            ..ShelfStock::default()
        });
    });
    let mut bench = life(bench, "C5");
    open(&mut bench, "Shelf and re-forming");
    bench.assert_says("On the shelf: 3 × HERONSGATE-16-2200U. Date code ");
    bench.assert_says("re-form before use. 16 V through 100 Ω for 1 h");
    enter(&mut bench, "Date code on a part", &format!("{year}-01"));
    bench.assert_says("up to 2 years it goes in as it is.");
}

#[test]
fn the_old_part_that_wore_more_than_predicted_is_named_on_map_and_panel() {
    let mut bench = at("C5");
    open(&mut bench, "Old part");
    bench.assert_says("the stress here is underestimated");
    bench.assert_says("more than thought");
    bench.press_with(Modifiers::COMMAND, Key::Num1);
    assert!(!bench.says("Stress underestimated at"));
    bench.click_exactly("Old parts");
    bench.assert_says("Stress underestimated at");
    bench.assert_says("C5 on the board: pass");
    bench.assert_says("stress underestimated: the old part wore more than predicted");
}

#[test]
fn the_spread_is_ranked_and_drawn_for_the_part_and_the_board() {
    let mut bench = at("C5");
    bench.assert_says("histogram of the years of this part before the cap");
    bench.assert_says("What matters most: ");
    bench.assert_says("1. ");
    open(&mut bench, "Uncertainties of the job");
    bench.assert_says("seed 1: the same seed gives the same figures");
}

#[test]
fn where_the_ripple_came_from_is_told_and_forgotten_in_the_editor() {
    let mut bench = Bench::demo_with(|job| {
        let stress = &mut job.boards[0].positions[0].stress;
        stress.ripple_from = Some(RippleOrigin { method: Some("case_rise".into()), ..RippleOrigin::default() });
    });
    let start = bench.job().clone();
    bench.press_with(Modifiers::COMMAND, Key::E);
    bench.press_button("Stress");
    bench.assert_says("Worked out backwards from a measured rise of the case");
    bench.press_button("Forget where the ripple came from");
    let stress = &bench.job().boards[0].positions[0].stress;
    assert_eq!(stress.ripple_from, None);
    assert_eq!(stress.ripple, start.boards[0].positions[0].stress.ripple);
    bench.menu("Edit", "Undo: ");
    assert_eq!(*bench.job(), start);
}

#[test]
fn a_heat_balance_far_above_the_law_is_marked_among_every_pick() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::Num3);
    bench.press_button("Board overview");
    // C1 and its parallel neighbour C2: the panel of C1 tells the same difference in a sentence.
    let texts = bench.harness.root().children_recursive().filter_map(|node| node.accesskit_node().value());
    let flagged = texts.filter(|text| text.ends_with(" K hotter")).count();
    assert_eq!(flagged, 2);
    bench.press_button("Curves");
    bench.press_button("Thermal cross-check");
    bench.assert_says("the balance is 11.4 K hotter");
}
