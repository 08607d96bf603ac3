use proptest::prelude::*;

use super::*;

#[test]
fn expansion_is_bounded_and_said() {
    let found = read("C1-C999999999", None);
    assert_eq!((found.refs.len(), found.notes.len()), (1, 1));
    let found = read("C1-C9000 D1-D9000", None);
    assert_eq!(found.count(), MOST);
    assert!(!found.notes.is_empty());
    assert_eq!(read("C9-C1", None).notes.len(), 1);
    assert_eq!(read("C1,C1", None).refs.len(), 1);
}

proptest! {
    #[test]
    fn no_text_panics_or_grows_without_bound(text: String, marks in "[C0-9.,;:~/?$_ -]{0,60}") {
        for text in [text, marks] {
            prop_assert!(read(&text, None).count() <= MOST);
            prop_assert!(read(&text, Some(3)).count() <= MOST);
        }
    }

    #[test]
    fn printed_lists_read_back(names in prop::collection::btree_set("[A-Z]{1,3}[0-9]{1,5}", 0..30)) {
        let refs: Vec<String> = names.into_iter().collect();
        prop_assert_eq!(read(&refs.join(", "), None).refs, refs);
    }
}
