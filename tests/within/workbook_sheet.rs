use super::*;

#[test]
fn columns_are_named_as_on_a_sheet() {
    for (column, name) in [(1, "A"), (26, "Z"), (27, "AA"), (702, "ZZ"), (703, "AAA"), (16384, "XFD")] {
        assert_eq!(letters(column), name);
        assert_eq!(place(&format!("{name}7")), Some((column, 7)));
    }
    assert_eq!(place("7"), None);
    assert_eq!(place("É7"), None);
}

#[test]
fn rows_out_of_order_come_into_order() {
    let (mut sheet, mut taker) = (Sheet::default(), Taker::default());
    for (row, column, text) in [(2, 1, "a"), (1, 2, " b "), (2, 3, "c"), (5, 1, " ")] {
        taker.take(&mut sheet, row, column, text).unwrap();
    }
    assert_eq!(sheet.rows, [(1, vec![String::new(), "b".into()]), (2, vec!["a".into(), String::new(), "c".into()])]);
    assert!(taker.take(&mut sheet, 1, COLUMNS_MAX + 1, "x").is_err());
}
