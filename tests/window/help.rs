use egui::{Key, Modifiers};

use crate::harness::Bench;

fn help() -> Bench {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::Num5);
    bench
}

#[test]
fn the_help_opens_with_the_cautions() {
    let bench = help();
    bench.assert_says("This work can hurt or kill.");
    bench.assert_says("Switch off, lock off and prove dead");
}

#[test]
fn the_methods_are_told_with_formula_and_source() {
    let mut bench = help();
    bench.click("Methods and sources");
    bench.assert_says("I_eq = sqrt( sum (I_k / F(f_k))^2 )");
    bench.assert_says("Source: Vishay BCcomponents doc. 28340");
}

#[test]
fn every_chapter_of_the_guide_can_be_opened() {
    let mut bench = help();
    let guide = include_str!("../../src/app/views/help/GUIDE.md");
    for title in guide.lines().filter_map(|line| line.strip_prefix("## ")) {
        bench.press_button(title);
        let chapter = guide.split("\n## ").find(|chapter| chapter.starts_with(title)).unwrap();
        if let Some(heading) = chapter.lines().find_map(|line| line.strip_prefix("### ")) {
            bench.assert_says(heading);
        }
    }
    bench.click("Headings on screen");
    bench.assert_says("missing data never passes");
}

#[test]
fn a_search_finds_a_field_and_leads_to_its_chapter() {
    let mut bench = help();
    bench.type_into("Search the help", "airflow_lfm");
    bench.assert_says("air speed at the part");
    assert!(!bench.says("Switch off, lock off"));
    bench.click("Fields: Stress");
    bench.assert_says("highest short overvoltage");
    assert_eq!(bench.text_of("Search the help"), "");
}

#[test]
fn a_search_without_a_find_says_so() {
    let mut bench = help();
    bench.type_into("Search the help", "zzz qqq");
    bench.assert_says("Nothing in the guide holds all of these words");
}

#[test]
fn the_caution_stands_at_a_dangerous_position_only() {
    let mut bench = help();
    bench.press_with(Modifiers::COMMAND, Key::Num2);
    bench.assert_says("Caution: stored energy ");
    bench.click("C3, ");
    assert!(!bench.says("Caution: stored energy "));
}
