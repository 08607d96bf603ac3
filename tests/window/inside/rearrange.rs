//! Of `app/actions/rearrange.rs`, whose module this is.

use super::*;

#[test]
fn a_new_name_is_the_next_free_one() {
    let taken: HashSet<String> = ["C1", "C7", "CE2"].map(str::to_owned).into();
    assert_eq!(next_name("C1", &taken), "C8");
    assert_eq!(next_name("CE", &taken), "CE3");
    assert_eq!(next_name("12", &taken), "C8");
}

#[test]
fn a_copy_has_its_own_name_and_no_pick() {
    let original = Position { reference: "C4".into(), pick: Some("A".into()), ..Position::default() };
    let board = Board { positions: vec![original], ..Board::default() };
    let job = Job { boards: vec![board], ..Job::default() };
    let (new, copies) = duplicated(&job, &[PositionId::default()]);
    let copy = new.position(copies[0]).unwrap();
    assert_eq!((copy.reference.as_str(), &copy.pick), ("C5", &None));
}
