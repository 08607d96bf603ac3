use super::*;

// Invented part numbers in the manner of the trade.
#[test]
fn codes_are_read_where_they_are_certain() {
    for (number, expected) in [
        ("QXA1H101MPD", Some((50.0, 100.0))),
        ("ZZB1C4R7MD1", Some((16.0, 4.7))),
        ("QX-1V222M", Some((35.0, 2200.0))),
        ("QX-470U-25V", Some((25.0, 470.0))),
        ("C8678", None),
        ("1H101", None),
        ("QXA11H101M", None),
        ("470", None),
    ] {
        let found = codes(number).map(|codes| (codes.rated_v, codes.capacitance_uf));
        assert_eq!(found, expected, "{number}");
    }
}
