//! Lists of lines taken apart.

use super::*;
use crate::files::import::synonyms::known;
use crate::files::table::{self, Options};

fn split_of(text: &str) -> Table {
    split(table::read(text.as_bytes(), known(), &Options::default()).unwrap())
}

// Hand-made list.
#[test]
fn a_list_of_designators_broken_over_rows_is_one() {
    let text = "Item,Quantity,Reference,Value\n1,3,\"C4,C5,\",22uF/35V\n,,C6,\n2,2,\"C7,\",10uF\n,,C8,\n";
    let table = table::read(text.as_bytes(), known(), &Options::default()).unwrap();
    let names: Vec<&str> = table.rows.iter().map(|row| row.cells[2].as_str()).collect();
    assert_eq!(names, ["C4,C5, C6", "C7, C8"]);
}

// Hand-made lines.
#[test]
fn several_designators_in_front_of_a_line_are_all_taken() {
    for (line, names, said) in [
        ("C101, C102 - 10000uF 63V", "C101, C102", "10000uF 63V"),
        ("C1, C2 & C3: 47uF, 50V", "C1, C2, C3", "47uF, 50V"),
        ("C4 and C5 = 10uF", "C4, C5", "10uF"),
        ("C7, 47uF", "C7", "47uF"),
    ] {
        let parts = taken_apart(line).map(|said| (said.names, said.text));
        assert_eq!(parts, Some((names.to_owned(), said.to_owned())), "{line}");
    }
}

// Hand-made lists.
#[test]
fn a_list_of_a_letter_becomes_designators_and_texts() {
    let table = split_of(
        "Caps for my monitor:\n\nC401 - 1000uF 16V\nC402 - 47uF 25V\nC405: 4.7uF 50V NP (bipolar)\n\nGood luck!\n",
    );
    let rows: Vec<&[String]> = table.rows.iter().map(|row| row.cells.as_slice()).collect();
    assert!(rows.contains(&["C401".to_owned(), "1000uF 16V".to_owned()].as_slice()), "{rows:?}");
    assert!(rows.contains(&["C405".to_owned(), "4.7uF 50V NP (bipolar)".to_owned()].as_slice()), "{rows:?}");
}

#[test]
fn a_table_stays_a_table() {
    for text in ["C1,470uF,25V\nC2,100uF,50V\n", "Ref Value\nC1 470uF\nC2 100uF\n", "just words\nand more words\n"] {
        let before = table::read(text.as_bytes(), known(), &Options::default()).unwrap();
        assert_eq!(split(before.clone()).header, before.header, "{text}");
    }
}
