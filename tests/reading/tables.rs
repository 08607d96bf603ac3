//! Tables of any encoding, separator and layout: hand-made files for the traps of real ones.

use proptest::prelude::*;

use refarad::files::table::{
    Encoding, Known, Layout, Limits, Note, Options, Separator, Table, TableError, read, read_all,
};

const KNOWN: &[&str] = &[
    "designator",
    "ref",
    "reference",
    "value",
    "val",
    "comment",
    "package",
    "footprint",
    "quantity",
    "mpn",
    "manufacturer",
    "posx",
    "posy",
    "rot",
    "side",
    "mid x",
    "mid y",
    "rotation",
    "layer",
    "capacitance",
    "voltage",
    "cap (uf)",
    "part number",
];

fn table(bytes: &[u8]) -> Table {
    read(bytes, &Known::new(KNOWN.iter().copied()), &Options::default()).unwrap()
}

fn cells(table: &Table) -> Vec<Vec<&str>> {
    table.rows.iter().map(|row| row.cells.iter().map(String::as_str).collect()).collect()
}

fn utf16(text: &str, little: bool, mark: bool) -> Vec<u8> {
    let text = if mark { format!("\u{FEFF}{text}") } else { text.to_string() };
    text.encode_utf16().flat_map(|unit| if little { unit.to_le_bytes() } else { unit.to_be_bytes() }).collect()
}

#[test]
fn a_zero_character_within_a_word_is_a_lost_letter_and_elsewhere_padding() {
    let mut text = b"ref,value,voltage\nC1,100\0uF,25V\0\0\nC2,47uF,50V\n".to_vec();
    text.extend(b"C3,47uF,50V\n".repeat(20));
    let table = table(&text);
    assert_eq!(cells(&table)[0], ["C1", "100\u{FFFD}uF", "25V"]);
    assert!(table.notes.iter().any(|note| note.text.contains("zero characters")));
}

#[test]
fn every_encoding_gives_the_same_table() {
    let text = "Designator\tValue\tVoltage\nC1\t470µF\t25V ±20%\nC2\t10µF\t50V\n";
    let latin: Vec<u8> = text.chars().map(|c| u8::try_from(u32::from(c)).unwrap()).collect();
    let plain = table(text.as_bytes());
    assert_eq!(cells(&plain), [["C1", "470µF", "25V ±20%"], ["C2", "10µF", "50V"]]);
    for (bytes, encoding, mark) in [
        (format!("\u{FEFF}{text}").into_bytes(), Encoding::Utf8, true),
        (utf16(text, true, true), Encoding::Utf16Le, true),
        (utf16(text, false, true), Encoding::Utf16Be, true),
        (utf16(text, true, false), Encoding::Utf16Le, false),
        (utf16(text, false, false), Encoding::Utf16Be, false),
        (latin, Encoding::Windows1252, false),
    ] {
        let read = table(&bytes);
        assert_eq!((read.found.encoding, read.found.byte_order_mark), (encoding, mark));
        assert_eq!((read.header, read.rows), (plain.header.clone(), plain.rows.clone()), "{encoding:?}");
    }
}

#[test]
fn separators_are_told_apart_by_the_header() {
    for (text, separator) in [
        ("Ref,Value,Voltage\nC1,470uF,25V\n", Separator::Comma),
        ("Ref;Value;Voltage\nC1;4,7uF;6,3V\nC2;0,1uF;6,3V\n", Separator::Semicolon),
        ("Ref\tValue\tVoltage\nC1,C2\t4,7uF\t6,3V\n", Separator::Tab),
        ("Ref|Value|Voltage\nC1|470uF|25V\n", Separator::Pipe),
        ("sep=;\nRef;Value\nC1;470uF\n", Separator::Semicolon),
    ] {
        assert_eq!(table(text.as_bytes()).found.separator, separator, "{text}");
    }
}

#[test]
fn a_preamble_is_passed_over_and_kept() {
    let mut text = String::from("Board: dome supply, variant A\nDate: 1996-05-01\n\nUnits: mm\n");
    text.push_str("Designator,Value,Mid X,Mid Y,Layer\n\nC1,470uF,1.0,2.0,top\nC2,10uF,3.0,4.0,top\n");
    let read = table(text.as_bytes());
    assert_eq!((read.found.header_line, read.found.preamble_lines), (Some(5), 3));
    assert_eq!(read.preamble[2], Note { line: 4, text: "Units: mm".into() });
    assert_eq!(read.rows.iter().map(|row| row.line).collect::<Vec<_>>(), [7, 8]);
    let long = format!("{}{}", "note\n".repeat(20), "Designator,Value\nC1,470uF\nC2,1uF\n");
    assert_eq!(table(long.as_bytes()).found.header_line, Some(21));
}

#[test]
fn a_header_behind_a_comment_mark_is_found_in_fixed_columns() {
    let text = "### positions - created by hand ###\n## Unit = mm, Angle = deg.\n## Side : All\n\
        # Ref     Val       Package                      PosX       PosY       Rot  Side\n\
        C1        470uF     CP_Radial_D10.0mm_P5.00mm    128.2700   -71.1200    90.0000  top\n\
        C12       10uF      C_0805                        12.0000  -101.1200  -180.0000  bottom\n\
        C13                 C_0805                        12.0000  -101.1200     0.0000  top\n\
        ## End\n";
    let read = table(text.as_bytes());
    assert_eq!(read.header, ["Ref", "Val", "Package", "PosX", "PosY", "Rot", "Side"]);
    assert_eq!(
        (read.found.layout, read.found.header_line, read.found.preamble_lines),
        (Layout::FixedWidth, Some(4), 3)
    );
    assert_eq!(cells(&read)[0], ["C1", "470uF", "CP_Radial_D10.0mm_P5.00mm", "128.2700", "-71.1200", "90.0000", "top"]);
    assert_eq!(cells(&read)[2], ["C13", "", "C_0805", "12.0000", "-101.1200", "0.0000", "top"]);
    assert_eq!(read.trailing, [Note { line: 8, text: "## End".into() }]);
    let delimited = table(b"# Ref,Val,Side\nC1,470uF,top\n");
    assert_eq!(delimited.header, ["Ref", "Val", "Side"]);
}

#[test]
fn fixed_columns_may_hold_blanks() {
    let text = "Designator  Comment     Mid X     Mid Y   Layer\n\
                C1          470uF 25V   12.5      3.1     top\n\
                C2          10 uF       2.5       13.1    top\n\
                C3          1 uF 6.3 V  112.5     3.12    bottom\n";
    let read = table(text.as_bytes());
    assert_eq!(read.header, ["Designator", "Comment", "Mid X", "Mid Y", "Layer"]);
    assert_eq!(cells(&read)[2], ["C3", "1 uF 6.3 V", "112.5", "3.12", "bottom"]);
}

#[test]
fn a_narrow_first_column_is_a_column() {
    let text = "Qty Value       Device          Parts\n\
                2   100n        C-EUC0805       C1, C3\n\
                1   470uF/25V   CPOL-EU         C2\n\
                1               PINHD-1X2       JP1\n";
    let read = table(text.as_bytes());
    assert_eq!(read.header, ["Qty", "Value", "Device", "Parts"]);
    assert_eq!(cells(&read)[0], ["2", "100n", "C-EUC0805", "C1, C3"]);
    assert_eq!(cells(&read)[2], ["1", "", "PINHD-1X2", "JP1"]);
}

#[test]
fn rows_of_words_without_header_are_split() {
    let read = table(b"C1 12.70 33.02 90 470uF E5-10,5\nC2 2.54 3.81 0 100n C0805\n");
    assert_eq!((read.found.header_line, read.found.layout), (None, Layout::FixedWidth));
    assert_eq!(cells(&read)[1], ["C2", "2.54", "3.81", "0", "100n", "C0805"]);
    assert_eq!(cells(&table(b"C1 470 25\nC2 1000 35\n"))[1], ["C2", "1000", "35"]);
}

#[test]
fn words_in_a_row_need_no_alignment() {
    let read = table(b"Ref Value PosX PosY Side\nC1 470uF 1.0 2.0 top\nC112 4u7 100.0 2.0 bottom\n");
    assert_eq!(cells(&read), [["C1", "470uF", "1.0", "2.0", "top"], ["C112", "4u7", "100.0", "2.0", "bottom"]]);
}

#[test]
fn repeated_header_names_are_kept_and_numbered() {
    let read = table(b"Designator,Manufacturer,MPN,Manufacturer,MPN,\nC1,Northway,NW-1,Harrow,HA-2,\n");
    assert_eq!(read.header, ["Designator", "Manufacturer", "MPN", "Manufacturer (2)", "MPN (2)"]);
    assert_eq!(cells(&read)[0][3..5], ["Harrow", "HA-2"]);
    assert!(read.notes.iter().any(|note| note.text.contains("repeated")));
}

#[test]
fn ragged_rows_are_padded_or_widened_and_said() {
    let read = table(b"Ref,Value,Voltage\nC1,470uF\nC2,10uF,25V,spare,\nC3,1uF,50V\n");
    assert_eq!(read.header, ["Ref", "Value", "Voltage", "column 4"]);
    assert_eq!(cells(&read), [["C1", "470uF", "", ""], ["C2", "10uF", "25V", "spare"], ["C3", "1uF", "50V", ""]]);
    assert!(read.notes.iter().any(|note| note.line == 3 && note.text.contains("more cells")));
    let read = table(b"Ref,Value,Voltage,Comment\nC1,470uF\nC2,1uF\n");
    assert!(read.notes.iter().any(|note| note.text.contains("last 2 columns")));
}

#[test]
fn quoted_line_breaks_stay_in_their_cell() {
    let read = table(b"Designator,Value\r\n\"C1,\r\nC2, C3\",470uF\r\n\r\nC4,\"0.465\"\" (11.80mm)\"\r\n");
    assert_eq!(cells(&read), [["C1,\r\nC2, C3", "470uF"], ["C4", "0.465\" (11.80mm)"]]);
    assert_eq!(read.rows.iter().map(|row| row.line).collect::<Vec<_>>(), [2, 5]);
}

#[test]
fn an_unclosed_quotation_mark_does_not_swallow_the_file() {
    let read = table(b"Ref,Value,Comment\nC1,470uF,\"round can\nC2,10uF,\"a, b\"\nC3,1uF,c\n");
    assert_eq!(cells(&read), [["C1", "470uF", "\"round can"], ["C2", "10uF", "a, b"], ["C3", "1uF", "c"]]);
    assert!(read.notes.iter().any(|note| note.line == 2 && note.text.contains("quotation mark")));
}

#[test]
fn metadata_behind_the_table_is_no_row() {
    let read =
        table(b"Ref,Value,Voltage,Quantity\nC1,470uF,25V,1\nC2,10uF,50V,2\n\nApproved by,nobody\nComponent count,3\n");
    assert_eq!(read.rows.len(), 2);
    assert_eq!(
        read.trailing.iter().map(|note| note.text.as_str()).collect::<Vec<_>>(),
        ["Approved by nobody", "Component count 3"]
    );
    let read = table(b"Ref,Value,Voltage\nC1,470uF,25V\nC2,10uF,50V\nend of list\n");
    assert_eq!((read.rows.len(), read.trailing[0].line), (2, 4));
}

#[test]
fn a_thin_last_row_is_a_row_under_either_line_end() {
    for end in ["\n", "\r\n"] {
        let text = ["Ref,Value,Voltage,Quantity", "C1,470uF,25V,1", "C2,10uF,50V,2", "C3,1uF,,", ""].join(end);
        let read = table(text.as_bytes());
        assert_eq!((read.rows.len(), read.trailing.len()), (3, 0), "{end:?}");
    }
}

#[test]
fn a_header_repeated_at_a_page_break_is_dropped_with_a_note() {
    let read = table(b"Ref,Value\nC1,1uF\nRef,Value\nC2,2uF\n");
    assert_eq!(read.rows.len(), 2);
    assert!(read.notes.iter().any(|note| note.line == 3));
}

#[test]
fn several_markdown_tables_are_all_read_and_the_best_is_taken() {
    let text = "# Parts\n\n| a | b |\n|---|---|\n| x | y |\n\ntext\n\nRef | Value | Voltage\n--- | :---: | ---\nC1 | **470uF** | [25V](http://example.org)\nC2 | 1\\|2 | 50V\n";
    let all = read_all(text.as_bytes(), &Known::new(KNOWN.iter().copied()), &Options::default()).unwrap();
    assert_eq!(all.len(), 2);
    let best = table(text.as_bytes());
    assert_eq!(cells(&best), [["C1", "470uF", "25V"], ["C2", "1|2", "50V"]]);
    assert_eq!((best.found.layout, best.found.header_line, best.rows[0].line), (Layout::Markdown, Some(9), 11));
    assert!(best.notes.iter().any(|note| note.text.contains("1 more table")));
}

#[test]
fn wiki_tables_are_read() {
    let short = "|Qty|Value|Ref|\n|:-|-|-|\n|1|10uF|C1|\n|2|1uF||\n";
    assert_eq!(cells(&table(short.as_bytes())), [["1", "10uF", "C1"], ["2", "1uF", ""]]);
    let media = "{| class=\"wikitable\"\n! Ref !! Value\n|-\n| C1 || 470uF\n|-\n| C2\n| style=\"x\" | 10uF\n|}\n";
    assert_eq!(cells(&table(media.as_bytes())), [["C1", "470uF"], ["C2", "10uF"]]);
    assert_eq!(cells(&table(b"^ Ref ^ Value ^\n| C1 | 470uF |\n")), [["C1", "470uF"]]);
    assert_eq!(cells(&table(b"|| Ref || Value ||\n| C1 | 470uF |\n")), [["C1", "470uF"]]);
    let drawn = "+-----+-------+\n| Ref | Value |\n+=====+=======+\n| C1  | 470uF |\n+-----+-------+\n";
    assert_eq!(cells(&table(drawn.as_bytes())), [["C1", "470uF"]]);
}

#[test]
fn a_table_without_header_gets_numbered_columns() {
    let read = table(b"C1,12.5,33.0,90,T\nC2,14.5,30.0,0,B\n");
    assert_eq!((read.found.header_line, read.header[0].as_str(), read.rows.len()), (None, "column 1", 2));
    assert!(read.notes.iter().any(|note| note.text.contains("no header")));
}

#[test]
fn an_unknown_header_over_values_is_found_by_its_shape() {
    let read = read(b"Benaemning,Storlek\nC1,10x20\nC2,5x11\n", &Known::default(), &Options::default()).unwrap();
    assert_eq!(read.header, ["Benaemning", "Storlek"]);
}

#[test]
fn every_detection_can_be_overruled() {
    let with = |bytes: &[u8], options: Options| read(bytes, &Known::new(KNOWN.iter().copied()), &options).unwrap();
    let read = with(
        b"Ref;Value\nC1;4,7uF\n",
        Options { separator: Some(Separator::Comma), header_line: Some(1), ..Options::default() },
    );
    assert_eq!(read.header[0], "Ref;Value");
    let read = with(b"Ref,Value\nName,Size\nC1,1uF\n", Options { header_line: Some(2), ..Options::default() });
    assert_eq!((read.header[0].as_str(), read.rows.len(), read.preamble.len()), ("Name", 1, 1));
    let read = with(b"Ref,Value\nC1,1uF\n", Options { header_line: Some(0), ..Options::default() });
    assert_eq!((read.header[0].as_str(), read.rows.len()), ("column 1", 2));
    let read =
        with("Ref,Value\nC1,1µF\n".as_bytes(), Options { encoding: Some(Encoding::Windows1252), ..Options::default() });
    assert_eq!(read.rows[0].cells[1], "1ÂµF");
    let missing = refarad::files::table::read(
        b"Ref,Value\n",
        &Known::new(KNOWN.iter().copied()),
        &Options { header_line: Some(7), ..Options::default() },
    );
    assert_eq!(missing, Err(TableError::NoSuchHeader { line: 7 }));
}

#[test]
fn old_line_ends_and_empty_but_valid_files_are_read() {
    assert_eq!(table(b"Ref,Value\rC1,1uF\r").rows.len(), 1);
    let read = table(b"Designator,Mid X,Mid Y,Layer\n");
    assert_eq!((read.header.len(), read.rows.len()), (4, 0));
    assert_eq!(
        refarad::files::table::read(b" \n\n", &Known::new(KNOWN.iter().copied()), &Options::default()),
        Err(TableError::Empty)
    );
}

#[test]
fn hostile_input_meets_a_limit_with_a_clear_error() {
    let small = Limits { bytes: 10_000, line_bytes: 500, columns: 20, cell_bytes: 100, rows: 5, cells: 60 };
    let fails = |bytes: &[u8]| {
        read(bytes, &Known::new(KNOWN.iter().copied()), &Options { limits: small, ..Options::default() }).unwrap_err()
    };
    assert!(matches!(fails(&vec![b'a'; 20_000]), TableError::TooLarge { .. }));
    assert!(matches!(fails(&[b'a'; 600]), TableError::LineTooLong { line: 1, limit: 500 }));
    assert!(matches!(
        fails("a,".repeat(30).as_bytes()),
        TableError::TooManyColumns { columns: 30, .. } | TableError::TooManyColumns { .. }
    ));
    assert!(matches!(
        fails(format!("Ref,Value\nC1,{}\n", "x".repeat(200)).as_bytes()),
        TableError::CellTooLong { line: 2, column: 2, .. }
    ));
    assert!(matches!(fails("Ref,Value\n".repeat(9).as_bytes()), TableError::TooManyRows { line: 6, limit: 5 }));
    assert!(matches!(
        fails(format!("Ref,Value\n{}", "a,b,c,d,e,f,g,h,i,j,k,l,m,n,o,p,q,r,s,t\n".repeat(4)).as_bytes()),
        TableError::TooManyCells { .. }
    ));
    assert!(matches!(fails(b"PK\x03\x04rest"), TableError::NotText { .. }));
    assert!(matches!(fails(&[0, 1, 0, 0, 0, 9, 0, 0]), TableError::NotText { .. } | TableError::Empty));
}

/// A cell as RFC 4180 writes it.
fn quote(cell: &str) -> String {
    format!("\"{}\"", cell.replace('"', "\"\""))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn no_bytes_make_the_reader_panic(bytes in prop_oneof![
        prop::collection::vec(any::<u8>(), 0..400),
        "[C1,;|\t\"\n\r #^{}+=!:x-]{0,200}".prop_map(String::into_bytes),
        "(Ref[ ,|]{1,3}Value[ ,|]{0,3}\n)([-|+: ]{3,12}\n)?([C0-9uF,|\" \t-]{0,30}\n){0,8}".prop_map(String::into_bytes),
    ]) {
        let tight = Limits { line_bytes: 100, columns: 5, cell_bytes: 20, rows: 5, cells: 20, ..Limits::default() };
        for options in [Options::default(), Options { limits: tight, ..Options::default() }] {
            let _ = read_all(&bytes, &Known::new(KNOWN.iter().copied()), &options);
        }
        for separator in [Separator::Comma, Separator::Tab, Separator::Blanks, Separator::Markup, Separator::Pipe] {
            for header_line in [None, Some(0), Some(2)] {
                if let Ok(tables) = read_all(&bytes, &Known::new(KNOWN.iter().copied()), &Options { separator: Some(separator), header_line, ..Options::default() }) {
                    for table in tables {
                        prop_assert!(table.rows.iter().all(|row| row.cells.len() == table.header.len()));
                        let names: std::collections::HashSet<&String> = table.header.iter().collect();
                        prop_assert_eq!(names.len(), table.header.len());
                    }
                }
            }
        }
    }

    /// Any cells written by the rules come back, on the lines where they stand.
    #[test]
    fn a_written_table_reads_back(
        rows in prop::collection::vec(prop::collection::vec("[A-Za-z0-9µ,;\"\n|.-]{1,12}", 3), 1..8),
        separator in prop::sample::select(vec![(',', Separator::Comma), (';', Separator::Semicolon), ('\t', Separator::Tab)]),
    ) {
        let (mark, separator) = separator;
        let mut text = ["Ref", "Value", "Voltage"].join(&mark.to_string()) + "\n";
        let mut line = 2;
        let mut expected = Vec::new();
        for row in &rows {
            text.push_str(&row.iter().map(|cell| quote(cell)).collect::<Vec<_>>().join(&mark.to_string()));
            text.push('\n');
            let trimmed: Vec<String> = row.iter().map(|cell| cell.trim().to_string()).collect();
            if trimmed.iter().any(|cell| !cell.is_empty()) {
                expected.push((line, trimmed));
            }
            line += 1 + row.iter().map(|cell| cell.matches('\n').count()).sum::<usize>();
        }
        // Rows of blank cells are gaps.
        prop_assume!(rows.iter().flatten().all(|cell| !cell.trim().is_empty()));
        let read = read(text.as_bytes(), &Known::new(KNOWN.iter().copied()), &Options { separator: Some(separator), header_line: Some(1), ..Options::default() }).unwrap();
        prop_assert_eq!(read.rows.into_iter().map(|row| (row.line, row.cells)).collect::<Vec<_>>(), expected);
    }
}
