//! Of `sizing/shelf.rs`, from within it: limits, missing data, odd cases.

use super::*;
use crate::domain::ShelfStock;

fn job(lots: &[(f64, &str)]) -> Job {
    let lot = |&(qty, code): &(f64, &str)| ShelfStock {
        part_number: "A".into(),
        qty: Some(qty),
        date_code: (!code.is_empty()).then(|| code.to_owned()),
        ..ShelfStock::default()
    };
    Job { shelf: lots.iter().map(lot).collect(), ..Job::default() }
}

#[test]
fn the_oldest_lot_goes_first_and_is_re_formed_after_two_years() {
    let can = Can { rated_v: Some(400.0), ..Can::default() };
    let used = take(&job(&[(5.0, "2640"), (3.0, ""), (4.0, "2210")]), "A", Some(&can), 10, "2026-11-25".parse().ok());
    assert_eq!(used.iter().map(|u| u.qty).collect::<Vec<_>>(), [4, 5, 1]);
    assert!(
        used[0].note().contains(
            "re-form before use (400 V through 1000 Ω for 1 h, discharge through about 400 Ω, rest 12 to 48 h)"
        )
    );
    assert_eq!(used[1].before, Before::Nothing);
    assert!(matches!(used[2].before, Before::AgeUnknown(Some(_))), "{:?}", used[2]);
}

#[test]
fn polymer_is_not_re_formed_and_other_parts_stay_on_the_shelf() {
    let can = Can { technology: Some(Technology::Polymer), ..Can::default() };
    let used = take(&job(&[(5.0, "1801")]), "A", Some(&can), 2, "2026-11-25".parse().ok());
    assert_eq!((used[0].qty, used[0].before), (2, Before::Nothing));
    assert!(take(&job(&[(5.0, "1801")]), "B", None, 2, None).is_empty());
}

#[test]
fn the_advice_follows_the_date_code_and_gives_the_published_recipe() {
    let can = Can { rated_v: Some(63.0), ..Can::default() };
    let today = Date::new(2026, 11, 25);
    let advice = |code: &str| reforming_advice(Some(&can), code, today);
    assert!(advice("2610").ends_with("up to 2 years it goes in as it is."), "{}", advice("2610"));
    // ECA/EIA-815 abstract: rated voltage through 100 ohm up to 100 V, 1 h, rest 12 to 48 h.
    let old = advice("2101");
    assert!(old.contains("re-form before use. 63 V through 100 Ω for 1 h"), "{old}");
    assert!(old.contains("rest 12 to 48 h") && old.contains("local codes"), "{old}");
    assert!(advice("").starts_with("No date code, so the age is unknown: re-form"), "{}", advice(""));
    assert!(advice("soon").contains("cannot be read"));
    let high = Can { rated_v: Some(400.0), ..Can::default() };
    assert!(reforming_advice(Some(&high), "2101", today).contains("400 V through 1000 Ω"));
    let dry = Can { technology: Some(Technology::Polymer), ..can.clone() };
    assert!(reforming_advice(Some(&dry), "2101", today).starts_with("Solid polymer is not re-formed"));
    assert_eq!(before_use(Some(&can), "2610", today), Before::Nothing);
    assert!(matches!(before_use(Some(&can), "2610", None), Before::AgeUnknown(Some(_))));
}

#[test]
fn two_years_on_the_shelf_are_no_reason_to_reform() {
    let can = Can { rated_v: Some(63.0), ..Can::default() };
    assert_eq!(before(Some(&can), Some(2.0)), Before::Nothing);
    assert!(matches!(before(Some(&can), Some(2.1)), Before::Reform(Some(_))));
    assert_eq!(before(None, Some(2.1)), Before::Reform(None));
}
