//! Voltages over blocks of rows.

use super::*;
use crate::files::import::synonyms::known;
use crate::files::table::{self, Options};

fn spread_of(text: &str) -> Table {
    spread(table::read(text.as_bytes(), known(), &Options::default()).unwrap())
}

fn column(table: &Table, at: usize) -> Vec<&str> {
    table.rows.iter().map(|row| row.cells[at].as_str()).collect()
}

// Hand-made tables.
#[test]
fn a_merged_voltage_holds_for_the_rows_below_it() {
    let table = spread_of(
        "WV (V),Cap (µF),Size,Part No.\n6.3 (8),220,5x11,A1\n,470,6.3x11,A2\n10 (13),150,5x11,A3\n,330,6.3x11,A4\n",
    );
    assert_eq!(column(&table, 0), ["6.3 (8)", "6.3 (8)", "10 (13)", "10 (13)"]);
    assert!(table.notes.iter().any(|note| note.text.contains("2 rows have a blank rated voltage")));
}

#[test]
fn a_missing_voltage_stays_missing() {
    for rows in ["25,220,5x11,A1\n,470,6.3x11,A2\n25,150,5x11,A3\n", ",220,5x11,A1\n16,470,6x11,A2\n,1,5x11,A3\n"] {
        let table = spread_of(&format!("WV (V),Cap (µF),Size,Part No.\n{rows}"));
        assert!(column(&table, 0).contains(&""), "{rows}");
    }
}

#[test]
fn a_line_of_voltage_holds_for_the_rows_below_it() {
    let table = spread_of(
        "Capacitance (µF),Size,Part number\n\"200 V DC, surge 250 V\",,\n330,22x25,A1\n470,22x30,A2\nUR = 400 V,,\n100,22x30,A3\n",
    );
    assert_eq!(column(&table, 3), ["", "200 V", "200 V", "", "400 V"]);
    assert_eq!(column(&table, 4), ["", "250 V", "250 V", "", ""]);
}
