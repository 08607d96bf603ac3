//! The life place: curves, readings, exports, and the engineer's panels.

use std::path::Path;

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};

use refarad::app::Window;

use crate::harness::{Bench, DEMO};

/// The life place with a position of the supply board selected.
fn at(reference: &str) -> Bench {
    let mut bench = Bench::demo();
    if reference != "C1" {
        bench.click(&format!("{reference}, "));
    }
    bench.press_with(Modifiers::COMMAND, Key::Num3);
    bench
}

fn type_into(bench: &mut Bench, name: &str, text: &str) {
    let entry = bench.harness.get_by_role_and_label(Role::TextInput, name);
    entry.focus();
    bench.settle();
    bench.press_with(Modifiers::COMMAND, Key::A);
    bench.harness.get_by_role_and_label(Role::TextInput, name).type_text(text);
    bench.settle();
    bench.press(Key::Enter);
    bench.settle();
}

/// The whole name of what is called so at its beginning.
fn named(bench: &Bench, start: &str) -> String {
    let of = |node: egui_kittest::Node<'_>| node.accesskit_node().label().filter(|label| label.starts_with(start));
    bench.harness.root().children_recursive().find_map(of).unwrap_or_else(|| panic!("nothing is called {start}"))
}

/// Clicks a button that may have to be scrolled to.
fn reach(bench: &mut Bench, name: &str) {
    bench.harness.get_by_role_and_label(Role::Button, name).scroll_to_me();
    bench.settle();
    bench.click_exactly(name);
}

/// Opens a panel that is closed at first.
fn open(bench: &mut Bench, panel: &str) {
    let heading = bench.harness.get_by_role_and_label(Role::DisclosureTriangle, panel);
    heading.scroll_to_me();
    bench.settle();
    bench.harness.get_by_role_and_label(Role::DisclosureTriangle, panel).click();
    bench.settle();
}

fn export(bench: &mut Bench, button: &str, prompt: &str, path: &Path) {
    bench.click_exactly(button);
    bench.harness.get_by_label(prompt).type_text(path.to_str().unwrap());
    bench.settle();
    bench.click_exactly("Write here");
}

#[test]
fn the_picked_part_is_drawn_beside_the_original_with_its_years_and_the_band() {
    let bench = at("C1");
    bench.assert_says("years against ambient: SKARN-400-220U, original part");
    bench.assert_says("years against ripple: SKARN-400-220U, original part");
    bench.assert_says("Load profile, years");
}

#[test]
fn a_reading_tells_every_curve_at_the_hottest_phase_and_then_at_the_pointer() {
    let mut bench = at("C5");
    bench.assert_says("Years at 59 °C");
    bench.assert_says("5.87 (4.31 to 8.4)");
    let plot = bench.harness.get_by_label_contains("years against ambient: ").rect();
    bench.harness.hover_at(plot.center());
    bench.settle();
    assert!(!bench.says("Years at 59 °C"), "the reading follows the pointer");
    bench.assert_says("Years at ");
    let below = bench.harness.get_by_label_contains("years against ripple: ").rect();
    bench.harness.hover_at(below.center());
    bench.settle();
    bench.assert_says("Years at 1");
    bench.assert_says(" ×");
}

#[test]
fn a_pinned_part_keeps_its_curve_and_is_let_go_again() {
    let mut bench = at("C5");
    let name = first_offer(&mut bench);
    bench.click_exactly(&name);
    bench.assert_says(&format!("Unpin {name}"));
    let drawn = |bench: &Bench| bench.says(&format!("{name}, original part")) || bench.says(&format!(", {name}"));
    assert!(drawn(&bench));
    bench.click_exactly(&format!("Unpin {name}"));
    assert!(!bench.says(&format!("Unpin {name}")));
}

/// The first part offered for comparison, in the list that was opened.
fn first_offer(bench: &mut Bench) -> String {
    let buttons = |bench: &Bench| -> Vec<String> {
        let all = bench.harness.root().children_recursive().filter(|node| node.accesskit_node().role() == Role::Button);
        all.filter_map(|node| node.accesskit_node().label()).collect()
    };
    let before = buttons(bench);
    bench.press_button("Compare with…");
    buttons(bench).into_iter().find(|name| !before.contains(name)).expect("a part is offered")
}

#[test]
fn the_numbers_of_both_plots_are_written_as_csv() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("life.csv");
    let mut bench = at("C5");
    export(&mut bench, "Export life data…", "Path of the table (*.csv)", &path);
    bench.assert_says("The numbers were written to ");
    let table = std::fs::read_to_string(&path).unwrap();
    assert!(table.starts_with("board,ref,part_number,kind,phase,ambient_c,"), "{}", &table[..80]);
    assert!(table.contains("Supply,C5,HERONSGATE-16-2200U,duty,"));
    let against_ripple = std::fs::read_to_string(folder.path().join("life-ripple.csv")).unwrap();
    assert!(against_ripple.lines().next().unwrap().contains(",ripple_scale,"));
}

#[test]
fn the_plot_for_paper_names_job_position_and_verdicts() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("life.svg");
    let mut bench = at("C5");
    export(&mut bench, "Export life plot…", "Path of the plot (*.svg, *.png)", &path);
    bench.assert_says("The plot was written to ");
    let drawn = std::fs::read_to_string(&path).unwrap();
    for wanted in ["Supply C5", "HERONSGATE-16-2200U: pass", "Ambient beside the can, °C", "target 10 years"] {
        assert!(drawn.contains(wanted), "{wanted}");
    }
}

#[test]
fn a_kept_variant_answers_for_the_whole_job_and_changes_nothing_of_it() {
    let warmer =
        refarad::domain::Variant { ambient_shift_k: Some(15.0), name: "heat wave".into(), ..Default::default() };
    let mut bench = Bench::demo_with(|job| job.variants.push(warmer));
    let start = bench.job().clone();
    bench.press_with(Modifiers::COMMAND, Key::Num3);
    bench.assert_says("as entered");
    bench.click_exactly("Variants");
    bench.settle();
    bench.click_exactly("heat wave");
    bench.settle();
    bench.assert_says("Supply 14 to");
    bench.assert_says("change verdict");
    assert_eq!(*bench.job(), start);
    reach(&mut bench, "As entered");
    bench.assert_says("as entered");
}

#[test]
fn the_same_plot_is_written_as_pixels_and_before_the_limit_the_curves_differ() {
    let folder = tempfile::tempdir().unwrap();
    let [capped, uncapped, other] = ["capped.png", "uncapped.png", "plot.gif"].map(|name| folder.path().join(name));
    let mut bench = at("C1");
    let prompt = "Path of the plot (*.svg, *.png)";
    export(&mut bench, "Export life plot…", prompt, &capped);
    bench.assert_says("The plot was written to ");
    bench.click("Uncapped");
    export(&mut bench, "Export life plot…", prompt, &uncapped);
    let [capped, uncapped] = [capped, uncapped].map(|path| image::open(path).unwrap().to_rgb8());
    assert_eq!((capped.width(), capped.height()), (1920, 1280));
    assert_eq!(capped.get_pixel(2, 2).0, [255, 255, 255], "paper is white whatever the window is");
    assert!(capped.pixels().any(|pixel| pixel.0 == [0x00, 0x66, 0xA0]), "the first curve has its colour");
    assert!(capped.as_raw() != uncapped.as_raw());
    export(&mut bench, "Export life plot…", prompt, &other);
    bench.assert_says("written as *.svg or *.png");
    // 272 854 h at 3000 h a year, where the limit says 15 years.
    bench.assert_says("15 (91)");
}

#[test]
fn other_conditions_stand_beside_what_was_entered_in_the_table_of_the_curves() {
    let hot = refarad::domain::Variant { ambient_shift_k: Some(25.0), name: "fire".into(), ..Default::default() };
    let mut bench = Bench::demo_with(|job| job.variants.push(hot));
    bench.click("C5, ");
    bench.press_with(Modifiers::COMMAND, Key::Num3);
    assert!(!bench.says("With +25 K"));
    bench.click_exactly("Variants");
    bench.settle();
    bench.click_exactly("fire");
    bench.settle();
    bench.assert_says("With +25 K");
    bench.press_with(Modifiers::COMMAND, Key::Num1);
    bench.assert_says("change verdict");
}

#[test]
fn an_ambient_typed_with_its_unit_changes_the_life_and_is_taken_back() {
    let mut bench = at("C5");
    let start = bench.job().clone();
    reach(&mut bench, "Change");
    type_into(&mut bench, "phase 1 ambient", "78 C");
    let ambient_c = |bench: &Bench| bench.position("Supply", "C5").stress.phases.as_ref().unwrap()[0].ambient_c;
    assert_eq!(ambient_c(&bench), Some(78.0));
    bench.assert_says("at 78 °C");
    bench.press_with(Modifiers::COMMAND, Key::Z);
    bench.settle();
    assert_eq!(*bench.job(), start);
}

#[test]
fn a_bad_entry_is_refused_in_words_and_changes_nothing() {
    let mut bench = at("C5");
    let start = bench.job().clone();
    reach(&mut bench, "Change");
    type_into(&mut bench, "phase 1 ambient", "warm");
    assert_eq!(*bench.job(), start);
    bench.assert_says("expected a figure in °C");
}

#[test]
fn phases_are_added_and_removed_and_without_any_the_duty_is_unknown() {
    let mut bench = at("C5");
    let count = |bench: &Bench| bench.position("Supply", "C5").stress.phases.as_ref().map_or(0, Vec::len);
    let before = count(&bench);
    reach(&mut bench, "Add a phase");
    assert_eq!(count(&bench), before + 1);
    reach(&mut bench, "Change");
    for _ in 0..=before {
        reach(&mut bench, "Remove phase 1");
    }
    assert_eq!(bench.position("Supply", "C5").stress.phases, None);
    bench.assert_says("The load profile is not known, so no life can be worked out.");
    bench.assert_says("No life is known here.");
}

#[test]
fn the_spread_names_percentiles_and_what_matters_most_and_says_what_is_assumed() {
    let mut bench = at("C5");
    bench.assert_says("HERONSGATE-16-2200U lasts P10 ");
    bench.assert_says("What matters most: ");
    open(&mut bench, "Uncertainties of the job");
    bench.assert_says("3 K assumed");
    type_into(&mut bench, "Ambient uncertainty (1σ)", "1.5 K");
    let uncertainty = bench.job().uncertainty.clone().unwrap();
    assert_eq!(uncertainty.ambient_sigma_k, Some(1.5));
    assert!(!bench.says("3 K assumed"));
}

#[test]
fn ripple_comes_from_the_circuit_with_its_source_and_is_used_as_one_step() {
    let mut bench = at("C5");
    let start = bench.job().clone();
    open(&mut bench, "Ripple from the circuit");
    bench.assert_says("Source: ");
    type_into(&mut bench, "source voltage, open circuit, rms", "24 V");
    bench.assert_says("No spectrum yet: not entered: ");
    let found = [
        ("line frequency", "50 Hz"),
        ("source resistance", "500 mohm"),
        ("capacitance", "2200"),
        ("load, constant current", "800 mA"),
    ];
    for (name, text) in found {
        type_into(&mut bench, name, text);
    }
    reach(&mut bench, "Use this spectrum");
    let lines = bench.position("Supply", "C5").stress.ripple.clone().unwrap();
    assert_eq!(lines[0].hz, Some(100.0), "twice the line frequency: {lines:?}");
    bench.press_with(Modifiers::COMMAND, Key::Z);
    assert_eq!(*bench.job(), start);
}

#[test]
fn the_limits_of_all_boards_are_removed_with_one_list_that_is_one_step() {
    let mut bench = Bench::demo_with(|job| {
        job.interval_years = Some(14.5);
        job.boards[0].positions[2].pick = Some("TALUS-35-47U".into());
        job.boards[1].positions[3].pick = Some("MORAINE-200-470U".into());
    });
    bench.press_with(Modifiers::COMMAND, Key::Num3);
    bench.settle();
    let start = bench.job().clone();
    reach(&mut bench, "Remove the limits of all boards…");
    bench.settle();
    bench.assert_says("C3 limits at 14 years; ");
    bench.assert_says("C104 limits at 13.2 years; ");
    bench.assert_says("The target is reached.");
    // Nothing is applied that nobody agreed to, and picks only once they are ticked.
    assert_eq!(*bench.job(), start);
    bench.press_button("C3");
    let name = named(&bench, "Apply for all boards (");
    assert_eq!(name, "Apply for all boards (1 pick)");
    reach(&mut bench, &name);
    bench.settle();
    let pick = |bench: &Bench, board: usize, at: usize| bench.job().boards[board].positions[at].pick.clone();
    assert_ne!(pick(&bench, 0, 2).as_deref(), Some("TALUS-35-47U"));
    assert_eq!(pick(&bench, 1, 3).as_deref(), Some("MORAINE-200-470U"));
    bench.press_with(Modifiers::COMMAND, Key::Z);
    assert_eq!(*bench.job(), start);
}

#[test]
fn no_target_is_reached_while_a_position_has_no_part_and_proposals_that_become_picks_are_no_other_parts() {
    let mut bench = Bench::demo_with(|job| {
        job.interval_years = Some(1.0);
        // No part has so high a rated voltage.
        job.boards[0].positions[2].stress.dc_v = Some(5000.0);
    });
    bench.press_with(Modifiers::COMMAND, Key::Num3);
    bench.settle();
    open(&mut bench, "Interval plan");
    bench.assert_says("The target of 1 years is reached except at C3");
    bench.assert_says("Left out of the plan: C3, ");
    bench.assert_says("become picks");
    assert!(!bench.says("is reached.") && !bench.says(", reached for"));
}

#[test]
fn a_temperature_log_is_read_cut_into_phases_and_used() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("log.csv");
    let mut text = String::from("time_h,temperature (°C)\n");
    for hour in 0..48 {
        text.push_str(&format!("{hour},{}\n", if hour % 24 < 12 { 40.0 } else { 60.0 }));
    }
    std::fs::write(&path, text).unwrap();
    let mut bench = at("C5");
    open(&mut bench, "Temperature log");
    reach(&mut bench, "Read a temperature log…");
    bench.harness.get_by_label("Path of the log (*.csv)").type_text(path.to_str().unwrap());
    bench.settle();
    bench.click_exactly("Read this file");
    bench.settle();
    bench.assert_says("40 to 60 °C, mean ");
    reach(&mut bench, "Use these 2 phases");
    let phases = bench.position("Supply", "C5").stress.phases.clone().unwrap();
    assert_eq!(phases.iter().map(|p| p.ambient_c.unwrap().round()).collect::<Vec<_>>(), [40.0, 60.0]);
}

#[test]
fn the_interval_plan_names_what_limits_and_its_picks_are_one_step() {
    let mut bench = at("C5");
    let start = bench.job().clone();
    bench.assert_says("As chosen the board lasts");
    bench.assert_says("First to be used up:");
    open(&mut bench, "Interval plan");
    bench.assert_says("years against cost: from ");
    // One button to take the board past its limit; a list of what would change before anything does.
    bench.assert_says("Remove the limit");
    bench.assert_says("would get another part");
    let name = named(&bench, "Apply the cheapest picks (");
    reach(&mut bench, &name);
    let picks = |bench: &Bench| bench.job().boards[0].positions.iter().filter(|p| p.pick.is_some()).count();
    assert!(picks(&bench) > start.boards[0].positions.iter().filter(|p| p.pick.is_some()).count());
    bench.press_with(Modifiers::COMMAND, Key::Z);
    assert_eq!(*bench.job(), start);
}

#[test]
fn stored_energy_comes_with_the_caution_and_the_time_through_a_resistor() {
    let mut bench = at("C1");
    open(&mut bench, "Stored energy and discharge");
    bench.assert_says("Caution: this position can hurt.");
    // The figure of the caution on top and of the CSV: at the highest voltage, which is named. 220 uF x 380^2 / 2, by hand.
    bench.assert_says("15.9 J at 380 V (transient), 31.8 J with its parallel group.");
    bench.assert_says("Caution: stored energy 15.9 J, 31.8 J with its parallel group, at 380 V (transient).");
    bench.assert_says("Verify below 60 V");
    bench.assert_says("people licensed for the work decide");
    type_into(&mut bench, "discharge resistor", "10 kohm");
    bench.assert_says("Ω: 60 V after ");
}

#[test]
fn the_old_part_is_compared_with_what_was_predicted() {
    let mut bench = at("C1");
    open(&mut bench, "Old part");
    bench.assert_says("Worn by ");
    bench.assert_says("The board by condition, the most worn first:");
}

#[test]
fn a_second_opinion_on_heat_and_a_measured_rise_are_there() {
    let mut bench = at("C1");
    open(&mut bench, "Thermal cross-check");
    bench.assert_says("Core rise by the rated-ripple law ");
    type_into(&mut bench, "case rise", "8 K");
    bench.assert_says("By the rated-ripple law ");
}

#[test]
fn parallel_cans_share_the_ripple() {
    let mut bench = at("C1");
    open(&mut bench, "Parallel and series");
    bench.assert_says("Group bulk: ");
}

#[test]
fn the_second_plot_and_the_axis_can_be_changed() {
    let mut bench = at("C1");
    bench.click("Log years");
    let combo = bench.harness.get_by_role_and_label(Role::ComboBox, "Second plot");
    combo.click();
    bench.settle();
    bench.harness.get_by_role_and_label(Role::Button, "hours").click();
    bench.settle();
    bench.assert_says("years against hours: ");
}

#[test]
fn in_a_small_window_plots_and_panels_stand_below_each_other() {
    let mut bench = Bench::sized(Window::holding(DEMO.clone(), None), [640.0, 360.0]);
    bench.press_with(Modifiers::COMMAND, Key::Num3);
    let rect = |bench: &Bench, starts: &str| {
        let found =
            |node: &egui_kittest::Node<'_>| node.accesskit_node().label().is_some_and(|name| name.starts_with(starts));
        bench.harness.root().children_recursive().find(found).expect(starts).rect()
    };
    let (drawing, share) = (rect(&bench, "drawing of the load profile"), rect(&bench, "Add a phase"));
    assert!(drawing.left() >= 104.0 && drawing.right() <= 640.0, "{drawing:?}");
    assert!(share.top() > drawing.top());
    assert!(rect(&bench, "years against ambient: ").bottom() < drawing.top(), "the panels stand below the plots");
}

#[test]
fn a_name_stands_in_one_line_with_its_figure() {
    for width in [640.0, 700.0, 760.0, 900.0] {
        let mut bench = Bench::sized(Window::holding(DEMO.clone(), None), [width, 480.0]);
        bench.press_with(Modifiers::COMMAND, Key::Num2);
        let texts: Vec<_> = bench
            .harness
            .root()
            .children_recursive()
            .filter_map(|node| Some((node.accesskit_node().value()?, node.rect())))
            .collect();
        // What has no room in the line is told by hovering the reference.
        let names = ["operating", "hottest", "max. Ø", "max. height", "target"];
        for at in texts.iter().enumerate().filter(|(_, (text, _))| names.contains(&&**text)).map(|(at, _)| at) {
            let name = &texts[at].0;
            let (own, figure) = (texts[at].1, texts[at + 1].1);
            assert!((own.center().y - figure.center().y).abs() < 4.0, "{width}: {name} {own:?} {figure:?}");
        }
    }
}

#[test]
fn the_line_at_the_bottom_tells_of_the_last_change_and_of_nothing_older() {
    let mut bench = at("C5");
    reach(&mut bench, "Remove the limit");
    bench.settle();
    assert!(bench.says(" picked for ") && bench.says(" (before: "), "{:?}", bench.harness.root());
    bench.menu("Edit", "Remove position");
    bench.assert_says("Done: remove C5.");
    assert!(!bench.says(" picked for "));
}
