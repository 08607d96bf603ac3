use crate::harness::Bench;

#[test]
fn every_position_is_listed_with_what_was_there_what_is_chosen_and_its_outcome() {
    let bench = Bench::demo();
    bench.assert_says("C1, 220u 400V 85C snap-in; SKARN-400-220U picked; ");
    assert!(bench.selected_rows().iter().any(|name| name.starts_with("C1, ")));
}

#[test]
fn a_click_selects_a_position_and_its_candidates_follow() {
    let mut bench = Bench::demo();
    bench.click("C3, ");
    assert!(bench.selected_rows().iter().any(|name| name.starts_with("C3, 47u 25V 85C")));
    bench.assert_says("was 47u 25V 85C");
}
