//! What is asked of all part numbers at once is what is asked of each.

use proptest::prelude::*;
use refarad::domain::Part;

use super::scenes::runs;
use super::support::catalog;

proptest! {
    #![proptest_config(runs(20))]

    #[test]
    fn a_text_is_looked_for_in_all_part_numbers_as_in_each(
        beginnings in prop::collection::vec("[aAbB1-]{0,4}|[aéÉ1]{0,3}", 1..200),
        repeated in prop::sample::select(vec![1_usize, 70]),
        needle in "[ab1é-]{1,3}",
    ) {
        let numbers: Vec<String> =
            (0..beginnings.len() * repeated).map(|at| format!("{}{at}", beginnings[at / repeated])).collect();
        let parts: Vec<Part> = numbers.iter().map(|number| Part { part_number: number.clone(), ..Part::default() }).collect();
        let catalog = catalog(&parts);
        let found = catalog.numbers_containing(&needle, &|| true);
        for id in catalog.ids() {
            let number = catalog.part_number(id);
            prop_assert_eq!(found[id.0 as usize], number.to_lowercase().contains(&needle), "{}", number);
        }
        prop_assert!(catalog.numbers_containing(&needle, &|| false).iter().all(|found| !found));
    }
}
