#[test]
fn every_line_of_the_words_is_a_rule() {
    let lines = include_str!("../../src/files/cell/family.txt").lines().filter(|line| !line.starts_with('#')).count();
    assert_eq!(super::RULES.len(), lines);
}
