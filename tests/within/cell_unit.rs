#[test]
fn every_unit_stands_in_its_line() {
    let lines = include_str!("../../src/files/cell/units.txt").lines().filter(|line| !line.starts_with('#')).count();
    assert_eq!(super::TABLE.len(), lines);
    assert!(super::TABLE.iter().enumerate().all(|(at, row)| row.unit as usize == at));
    assert_eq!(super::Unit::Mil as usize + 1, lines);
}
