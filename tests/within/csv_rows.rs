//! Of `files/csv_rows.rs`, from within it: limits, missing data, odd cases.

use super::*;
use proptest::prelude::*;

fn read(text: &str, columns: Option<usize>) -> (Vec<(u64, Vec<String>)>, Vec<u64>) {
    let mut rows = CsvRows::new(text, b',', 2, columns);
    let mut row = StringRecord::new();
    let mut all = Vec::new();
    while let Some(line) = rows.next(&mut row) {
        all.push((line, row.iter().map(str::to_owned).collect()));
    }
    (all, rows.strays)
}

#[test]
fn a_stray_mark_costs_no_other_row() {
    let body =
        (0..500).map(|n| format!("P{n},10,25,{}\n", if n == 103 { "\"odd" } else { "x" })).collect::<Vec<_>>().concat();
    let (rows, strays) = read(&body, Some(4));
    assert_eq!((rows.len(), strays.as_slice()), (500, [105].as_slice()));
    assert_eq!(rows[103], (105, ["P103", "10", "25", "\"odd"].map(str::to_owned).to_vec()));
    assert_eq!(rows[499].0, 501);
}

#[test]
fn two_marks_that_belong_to_nothing_cost_no_row_between_them() {
    for odd in ["\"odd", "\"odd\" one"] {
        let cell = |n: usize| if n.is_multiple_of(50) { odd } else { "x" };
        let body = (0..200).map(|n| format!("P{n},10,25,{}\n", cell(n))).collect::<Vec<_>>().concat();
        assert_eq!(read(&body, Some(4)).0.len(), 200, "{odd}");
    }
    // The second closes a cell as it should, but every line between is a whole row.
    let body = "A,\"5,2\nB,6,3\nC,7\",4\nD,8,5\n";
    assert_eq!(read(body, Some(3)).0.len(), 4);
}

#[test]
fn cells_over_several_lines_with_marks_and_separators_stay_whole() {
    let body = "A,\"x, y\nz, w\",2\n\n\"B\"\"\n,\",\"a\n\nb\",3\r\nC,1,2\n";
    let (rows, strays) = read(body, Some(3));
    assert!(strays.is_empty());
    let lines: Vec<u64> = rows.iter().map(|(line, _)| *line).collect();
    assert_eq!(lines, [2, 5, 9]);
    assert_eq!(rows[1].1, ["B\"\n,", "a\n\nb", "3"]);
}

#[test]
fn every_end_of_line_is_one() {
    for end in ["\n", "\r\n", "\r"] {
        let text = ["a,b", "1,2", "3,4"].join(end);
        assert_eq!(read(&decode(text.as_bytes()), Some(2)).0.len(), 3, "{end:?}");
    }
}

proptest! {
    /// What the program writes itself comes back, whatever stands in the cells, as long as it does not look like rows.
    #[test]
    fn written_rows_are_read_as_they_were(cells in prop::collection::vec(("[a\",\n ]{0,6}", "[^\r]{0,9}"), 1..20)) {
        // A cell whose inner lines are rows of three cells is taken for rows between two marks that belong to nothing.
        let like_rows = |cell: &String| {
            let lines: Vec<&str> = cell.split('\n').collect();
            lines.len() > 2 && lines[1..lines.len() - 1].iter().all(|line| line.matches(',').count() == 2)
        };
        prop_assume!(!cells.iter().any(|(a, b)| like_rows(a) || like_rows(b)));
        let mut writer = csv::Writer::from_writer(Vec::new());
        for (a, b) in &cells {
            writer.write_record([a, b, "end"]).unwrap();
        }
        let bytes = writer.into_inner().unwrap();
        let (rows, strays) = read(std::str::from_utf8(&bytes).unwrap(), Some(3));
        prop_assert!(strays.is_empty());
        prop_assert!(rows.iter().map(|(_, row)| (&row[0], &row[1])).eq(cells.iter().map(|(a, b)| (a, b))));
    }

    /// However the marks stand, every line with the last cell of a row gives its row.
    #[test]
    fn no_row_is_lost_to_stray_marks(odd in prop::collection::vec("[a\"]{0,4}", 1..60)) {
        let rows = odd.iter().enumerate().map(|(n, odd)| format!("P{n},1,2,3,\"{odd}x,end\n"));
        let body = rows.collect::<Vec<_>>().concat();
        let rows = read(&body, Some(6)).0;
        for n in 0..odd.len() {
            prop_assert!(rows.iter().any(|(_, row)| row[0] == format!("P{n}")), "row {n} of\n{body}");
        }
    }
}
