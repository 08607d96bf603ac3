use super::*;

#[test]
fn numbers_of_instruments_are_read() {
    for (cell, value, behind) in [
        ("23.4", 23.4, ""),
        ("23,4 °C", 23.4, "°C"),
        ("-1.25E-03", -1.25e-3, ""),
        ("+.5 mV", 0.5, "mV"),
        ("12e", 12.0, "e"),
        ("\u{2212}7", -7.0, ""),
    ] {
        assert_eq!(number(cell), Some((value, behind)), "{cell}");
    }
    for cell in ["", "abc", "-", "1.2.3", "1,2,3", "e5", "NaN", "inf", "1e999"] {
        assert_eq!(number(cell), None, "{cell}");
    }
}

#[test]
fn the_separator_is_the_one_that_gives_equal_rows() {
    assert_eq!(separator("a;b\n1,5;2,5\n1,6;2,6\n"), b';');
    assert_eq!(separator("a,b\n1.5,2\n"), b',');
    assert_eq!(separator("a\tb\n1,5\t2,5\n"), b'\t');
    assert_eq!(separator("lonely\n"), b';');
}

#[test]
fn rows_keep_their_line_and_their_number_is_limited() {
    let (found, more) = rows("x,y\n\n1,2\n3,4\n", 2);
    assert_eq!(found.rows.iter().map(|row| row.line).collect::<Vec<_>>(), [1, 3]);
    assert!(more && !rows("x,y\n\n1,2\n", 2).1);
}
