//! Of `sizing/ripple_origin.rs`, from within it: limits, missing data, odd cases.

use super::*;

fn buck() -> (CircuitEntry, CircuitRipple) {
    let mut entry = CircuitEntry::new(CircuitKind::BuckInput);
    for (key, value) in [("input_v", 24.0), ("output_v", 12.0), ("output_a", 5.0), ("switching_hz", 1e5)] {
        entry.set(key, Some(value));
    }
    let found = entry.ripple().unwrap();
    (entry, found)
}

#[test]
fn a_form_survives_the_job_file_and_says_what_was_assumed() {
    let (entry, found) = buck();
    let stress =
        Stress { ripple: Some(found.ripple_lines()), ripple_from: Some(entry.origin(&found)), ..Stress::default() };
    let read: Stress = serde_json::from_str(&serde_json::to_string(&stress).unwrap()).unwrap();
    assert_eq!(read, stress);
    let back = CircuitEntry::of_origin(read.ripple_from.as_ref().unwrap()).unwrap();
    assert_eq!(back.kind, entry.kind);
    assert_eq!(back.ripple(), entry.ripple());
    assert_eq!(still_holds(&read), Some(true));
    assert!(leans_on_assumed(&read));
    let said = sentence(&read).unwrap();
    assert!(said.contains("input of a buck stage") && said.contains("input voltage 24 V"), "{said}");
    assert!(said.contains("duty of the switch assumed"), "{said}");
}

#[test]
fn a_ripple_changed_by_hand_no_longer_leans_on_its_origin() {
    let (entry, found) = buck();
    let mut stress = Stress { ripple_from: Some(entry.origin(&found)), ..Stress::default() };
    stress.ripple = Some(vec![RippleLine { hz: Some(1e5), a: Some(1.0), ..RippleLine::default() }]);
    assert_eq!(still_holds(&stress), Some(false));
    assert!(!leans_on_assumed(&stress));
    assert!(sentence(&stress).unwrap().ends_with("The ripple was changed since."));
    assert_eq!(sentence(&Stress::default()), None);
}

#[test]
fn fields_and_circuits_of_a_later_version_survive() {
    let text = r#"{"ripple_from":{"method":"circuit","circuit":"cuk_output","figures":{"x_v":3.0},"odd":[1]}}"#;
    let stress: Stress = serde_json::from_str(text).unwrap();
    assert_eq!(serde_json::to_string(&stress).unwrap(), text);
    assert_eq!(CircuitEntry::of_origin(stress.ripple_from.as_ref().unwrap()), None);
    assert!(sentence(&stress).unwrap().contains("which this version does not know"));
}
