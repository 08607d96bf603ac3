use crate::harness::Bench;

#[test]
fn the_bar_says_how_long_the_board_lasts_and_leads_to_what_limits_it() {
    let mut bench = Bench::demo();
    bench.press(egui::Key::ArrowDown);
    bench.click("lasts ");
    let limiting = bench.selected_rows()[0].split(',').next().unwrap().to_owned();
    bench.assert_says(&format!("limited by {limiting}"));
}
