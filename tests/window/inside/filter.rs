//! Of `app/views/candidates/filter.rs`, whose module this is.

use super::*;
use proptest::prelude::*;

fn one(text: &str) -> Test {
    let mut filter = Filter::parse(text);
    assert_eq!(filter.faults, Vec::<String>::new(), "{text}");
    assert_eq!((filter.clauses.len(), filter.clauses[0].any.len()), (1, 1), "{text}: {filter:?}");
    filter.clauses[0].any.remove(0)
}

fn fault(text: &str) -> String {
    let filter = Filter::parse(text);
    assert_eq!(filter.clauses, [], "{text}");
    assert_eq!(filter.faults.len(), 1, "{text}: {:?}", filter.faults);
    filter.faults[0].clone()
}

/// The column with this heading.
fn column(heading: &str) -> usize {
    COLUMNS.iter().position(|c| c.heading == heading).unwrap()
}

#[test]
fn comparisons_need_no_spaces_and_take_any_sign() {
    let height = |op, limit| Test::Number { column: column("H mm"), op, limit };
    for text in ["h<20", "h < 20", "H <20", "height < 20mm", "h < 20 mm", "h<2cm"] {
        assert_eq!(one(text), height(Op::Less, 20.0), "{text}");
    }
    for (sign, op) in [("<=", Op::AtMost), ("≤", Op::AtMost), (">=", Op::AtLeast), (">", Op::More), ("!=", Op::Other)]
    {
        assert_eq!(one(&format!("h {sign} 12,5")), height(op, 12.5));
    }
    assert_eq!(one("h:20"), height(Op::Same, 20.0));
    assert_eq!(one("d = 10..8"), Test::Between { column: column("Ø mm"), low: 8.0, high: 10.0 });
}

#[test]
fn figures_of_every_kind_are_compared_in_their_unit() {
    let limit = |text: &str| match one(text) {
        Test::Number { limit, column, .. } => (COLUMNS[column].heading, limit),
        other => panic!("{other:?}"),
    };
    assert_eq!(limit("life > 10"), ("Years", 10.0));
    assert_eq!(limit("life > 10 years"), ("Years", 10.0));
    assert_eq!(limit("price <= 1"), ("Price", 1.0));
    assert_eq!(limit("headroom >= 20"), ("Margin", 0.2));
    assert_eq!(limit("margin >= 20"), ("Margin", 0.2));
    assert_eq!(limit("used < 80 %"), ("Ripple util.", 0.8));
    assert_eq!(limit("c >= 4.7mF"), ("µF", 4700.0));
    assert_eq!(limit("tol <= 20%"), ("± %", 20.0));
    assert_eq!(limit("i > 900mA"), ("Rated A", 0.9));
}

#[test]
fn one_name_is_a_check_or_a_figure_by_what_it_is_compared_with() {
    let ripple = |op, outcome| Test::Outcome { column: column("Ripple check"), op, outcome };
    assert_eq!(one("ripple = pass"), ripple(Op::Same, Outcome::Pass));
    assert_eq!(one("ripple = unknown"), ripple(Op::Same, Outcome::Unknown));
    assert_eq!(one("ripple != fail"), ripple(Op::Other, Outcome::Fail));
    assert_eq!(one("ripple > 1"), Test::Number { column: column("Rated A"), op: Op::More, limit: 1.0 });
    assert_eq!(one("price = unknown"), Test::NotKnown { column: column("Price") });
    let maker = |contains: &str| Test::Text { text: Text::Maker, contains: contains.into(), op: Op::Same };
    assert_eq!(one("maker = Halv"), maker("halv"));
    assert_eq!(one("maker = \"Two Words\""), maker("two words"));
}

#[test]
fn plain_words_are_looked_for_everywhere_and_all_of_them_count() {
    let filter = Filter::parse("105 Hybrid");
    assert_eq!(filter.clauses.len(), 2);
    assert_eq!(filter.clauses[0].any, [Test::Anywhere { text: "105".into(), number: Some((105.0, None)) }]);
    assert_eq!(filter.clauses[1].any, [Test::Anywhere { text: "hybrid".into(), number: None }]);
    let number = |text: &str| match one(text) {
        Test::Anywhere { number, .. } => number,
        other => panic!("{other:?}"),
    };
    assert_eq!(number("470u"), Some((470.0, Some(Unit::Microfarad))));
    assert_eq!(number("25V"), Some((25.0, Some(Unit::Volt))));
    assert_eq!(number("QX-10"), None);
}

#[test]
fn a_word_is_excluded_and_one_of_several_is_enough() {
    let filter = Filter::parse("-obsolete radial|smd");
    assert!(filter.clauses[0].negated && !filter.clauses[1].negated);
    assert_eq!(filter.clauses[1].any.len(), 2);
    // A dash inside a part number, or before a number, excludes nothing.
    assert!(Filter::parse("QX-abc -40").clauses.iter().all(|clause| !clause.negated));
}

#[test]
fn what_cannot_be_understood_is_said_in_words_and_asks_nothing() {
    assert!(fault("h <").contains("h < 10"));
    assert!(fault("< 5").contains("life > 5"));
    assert!(fault("hight < 5").contains("“hight” is no column"));
    assert!(fault("h < abc").contains("compared with a number"));
    assert!(fault("h < 20V").contains("is in mm"));
    assert!(fault("price < 2km").contains("no unit"));
    assert!(fault("maker < x").contains("only be ="));
    assert!(fault("verdict = good").contains("verdict = pass"));
    assert!(fault("h < 8..10").contains("only with ="));
    // The rest still holds.
    let filter = Filter::parse("hybrid h <");
    assert_eq!((filter.clauses.len(), filter.faults.len()), (1, 1));
}

#[test]
fn every_example_in_the_window_is_understood() {
    for (text, _) in EXAMPLES {
        let filter = Filter::parse(text);
        assert!(filter.faults.is_empty() && !filter.clauses.is_empty(), "{text}");
    }
}

#[test]
fn nothing_asks_nothing() {
    for text in ["", "  ", "|", "- |", "\"\"", "\""] {
        assert!(Filter::parse(text).clauses.iter().all(|clause| !clause.any.is_empty()), "{text}");
    }
    assert_eq!(Filter::parse("  "), Filter::default());
}

proptest! {
    #[test]
    fn any_text_is_read_without_panic(text in "\\PC*") {
        let _ = Filter::parse(&text);
    }

    #[test]
    fn any_mix_of_the_pieces_is_read_without_panic_and_each_limit_is_a_number(
        pieces in prop::collection::vec(
            prop::sample::select(vec![
                "h", "life", "ripple", "maker", "<", "=", "≤", "..", "8..10", "-", "|", "\"", " ", "20", "1e9", "unknown",
                "pass", "mm", "%", "µF", "−5", ",", ":", "x",
            ]),
            0..12,
        ),
    ) {
        for clause in Filter::parse(&pieces.concat()).clauses {
            prop_assert!(!clause.any.is_empty());
            for test in clause.any {
                if let Test::Number { limit, .. } = test {
                    prop_assert!(limit.is_finite());
                }
            }
        }
    }

    #[test]
    fn a_limit_is_read_as_it_was_written(value in 0.0..1e6f64) {
        let read = one(&format!("h < {value}"));
        prop_assert_eq!(read, Test::Number { column: column("H mm"), op: Op::Less, limit: value });
    }
}
