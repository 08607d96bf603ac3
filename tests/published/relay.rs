//! Switching life of relays: operations as makers' durability curves give them at a stated load.

use refarad::domain::OtherPart;
use refarad::physics::relay::years;
use refarad::sizing::other_parts::{IntervalFrom, own_years, warnings};

/// Digi-Key TechForum 33568, "interpret relay durability curve data" (published): about 150 000 operations at 12 A, resistive
/// 250 V ac; about 300 000 at 3 A, inductive. The division by the operations of a year is the definition.
#[test]
fn a_printed_switching_life_is_so_many_years_and_only_at_its_load() {
    assert_eq!(years(150_000.0, 10_000.0), Some(15.0));
    assert_eq!(years(300_000.0, 10_000.0), Some(30.0));
    let mut part = OtherPart { operations_per_year: Some(10_000.0), load_a: Some(12.0), ..OtherPart::default() };
    part.replacement.switching_life_operations = Some(150_000.0);
    (part.replacement.life_load_a, part.replacement.life_load_v) = (Some(12.0), Some(250.0));
    assert_eq!(own_years(&part), Some((15.0, IntervalFrom::SwitchingLife)));
    assert!(warnings(&part).is_empty());
    part.load_a = Some(12.5);
    assert!(warnings(&part)[0].contains("expect fewer years"));
}
