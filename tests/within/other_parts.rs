//! Of `sizing/other_parts.rs`, from within it: limits, missing data, odd cases.

use super::*;

fn relay() -> OtherPart {
    let mut part = OtherPart { operations_per_year: Some(12_000.0), ..OtherPart::default() };
    (part.original.coil_ohm, part.replacement.coil_ohm) = (Some(1440.0), Some(1440.0));
    part.replacement.switching_life_operations = Some(1e5);
    (part.load_a, part.replacement.life_load_a) = (Some(3.0), Some(5.0));
    part
}

#[test]
fn the_shortest_of_what_is_known_counts() {
    let mut part = relay();
    let (years, from) = own_years(&part).unwrap();
    assert!((years - 1e5 / 12_000.0).abs() < 1e-12 && from == IntervalFrom::SwitchingLife);
    part.interval_operations = Some(60_000.0);
    assert_eq!(own_years(&part), Some((5.0, IntervalFrom::Operations)));
    part.interval_years = Some(4.0);
    assert_eq!(own_years(&part), Some((4.0, IntervalFrom::Years)));
    assert_eq!(own_years(&OtherPart::default()), None);
    // Operations without a rate say nothing.
    let part = OtherPart { interval_operations: Some(1e5), ..OtherPart::default() };
    assert_eq!(own_years(&part), None);
}

#[test]
fn what_is_missing_of_a_life_is_said_and_what_is_known_can_be_worked_out_again() {
    let told = |change: &dyn Fn(&mut OtherPart)| {
        let mut part = relay();
        part.kind = Some(OtherKind::Relay);
        change(&mut part);
        lasts(&part)
    };
    let by =
        "lasts 8.33 years by the manufacturer's rated switching life, 100\u{a0}000 operations at 12\u{a0}000 a year";
    assert_eq!(told(&|_| ()).as_deref(), Some(by));
    assert_eq!(told(&|part| part.load_a = None), Some(format!("{by}; its load here is not given")));
    let unknown = "lasts an unknown time: no operations a year given";
    assert_eq!(told(&|part| part.operations_per_year = None).as_deref(), Some(unknown));
    let unknown = "lasts an unknown time: no rated switching life or interval of its own given";
    assert_eq!(told(&|part| part.replacement = crate::domain::Replacement::default()).as_deref(), Some(unknown));
    assert_eq!(lasts(&OtherPart { kind: Some(OtherKind::Fuse), ..OtherPart::default() }), None);
}

#[test]
fn a_substitute_that_differs_is_told_and_missing_figures_are_no_difference() {
    let mut part = relay();
    assert!(warnings(&part).is_empty());
    part.replacement.coil_ohm = Some(1600.0);
    assert_eq!(warnings(&part), ["coil resistance 1600 Ω is 11.1 % above the original's 1440 Ω"]);
    part.original.coil_ohm = None;
    assert!(warnings(&part).is_empty());
    part.load_a = Some(8.0);
    assert_eq!(warnings(&part), ["switches 8 A, its switching life is rated at 5 A: expect fewer years"]);
    part.replacement.life_load_a = None;
    assert_eq!(warnings(&part), ["its switching life is stated without a current"]);
    part.original.contacts = Some("2 CO".into());
    part.replacement.contacts = Some("1 CO".into());
    assert!(warnings(&part).contains(&"contacts 1 CO for 2 CO".to_owned()));
}
