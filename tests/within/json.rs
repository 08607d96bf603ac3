use super::*;
use proptest::prelude::*;

#[test]
fn a_key_that_stands_twice_is_refused_with_the_key_and_its_line() {
    let error = parse(b"{\"a\": 1,\n \"b\": {\"c\": 1, \"d\": 2,\n \"c\": 3}}").unwrap_err();
    assert!(error.to_string().contains("\"c\" stands twice") && error.line() == 3, "{error}");
    assert!(parse(b"{\"a\": {\"a\": [{\"a\": 1}, {\"a\": 1}]}}").is_ok());
    assert!(parse(b"{\"a\": 1} x").is_err());
}

#[test]
fn a_file_of_nothing_but_empty_values_is_refused_before_it_takes_the_memory() {
    for item in ["{},", "0,", "[],", "\"\","] {
        let text = format!("[{}0]", item.repeat(15_000_000 / item.len()));
        assert!(parse(text.as_bytes()).unwrap_err().to_string().contains("far more values"), "{item}");
    }
}

proptest! {
    #[test]
    fn everything_else_is_read_as_the_json_library_reads_it(text in "[\\[\\]{}:,\"ab0-9.eE+\\- ]{0,40}") {
        match (parse(text.as_bytes()), serde_json::from_str::<Value>(&text)) {
            (Ok(own), Ok(theirs)) => prop_assert_eq!(own, theirs),
            (Err(error), Ok(_)) => prop_assert!(error.to_string().contains("stands twice"), "{}", error),
            (own, Err(_)) => prop_assert!(own.is_err()),
        }
    }
}
