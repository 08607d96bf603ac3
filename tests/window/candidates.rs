use crate::harness::Bench;

#[test]
fn the_original_stands_first_and_every_check_has_its_reason() {
    let mut bench = Bench::demo();
    bench.click("original part: ");
    bench.assert_says("Why original part is ");
    bench.assert_says("peak 334 V on 400 V rated, used 83.5 %");
}

#[test]
fn the_original_cannot_be_picked_and_the_button_says_why() {
    let mut bench = Bench::demo();
    bench.click("original part: ");
    let before = bench.job().clone();
    bench.press(eframe::egui::Key::Enter);
    assert_eq!(*bench.job(), before);
    bench.assert_says("The original part cannot be bought");
}

#[test]
fn a_clicked_candidate_is_picked_by_the_button() {
    let mut bench = Bench::demo();
    bench.click("C3, ");
    let row = bench.candidate_rows().into_iter().find(|name| !name.contains("picked") && !name.starts_with("original"));
    let row = row.expect("a candidate that is not picked");
    bench.click(&row);
    bench.click_exactly("Pick");
    let part = row.split(": ").next().unwrap();
    assert_eq!(bench.position("Supply", "C3").pick.as_deref(), Some(part));
}
