//! Workbooks as lists: what a person sees on a sheet is what is read, and no workbook does harm.

use std::io::{Cursor, Write};
use std::path::{Path, PathBuf};

use refarad::files::child;
use refarad::files::datasheet::Printed;
use refarad::files::import::{Content, Source, SourceError};
use refarad::files::table::Options;
use refarad::files::workbook::{Book, read_bytes};
use refarad::progress::Progress;
use rust_xlsxwriter::{ExcelDateTime, Format, Formula, Workbook, Worksheet};
use zip::write::SimpleFileOptions;

/// A file of the test's own folder.
fn written(folder: &Path, name: &str, bytes: &[u8]) -> PathBuf {
    let path = folder.join(name);
    std::fs::write(&path, bytes).unwrap();
    path
}

/// A workbook with one sheet called Parts.
fn sheet(fill: impl FnOnce(&mut Worksheet)) -> Vec<u8> {
    let mut book = Workbook::new();
    fill(book.add_worksheet().set_name("Parts").unwrap());
    book.save_to_buffer().unwrap()
}

fn rows(sheet: &mut Worksheet, from: u32, rows: &[&[&str]]) {
    for (row, cells) in (from..).zip(rows) {
        for (column, cell) in (0..).zip(*cells) {
            if !cell.is_empty() {
                sheet.write(row, column, *cell).unwrap();
            }
        }
    }
}

fn archive(parts: &[(&str, &[u8])]) -> Vec<u8> {
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for (name, content) in parts {
        zip.start_file(*name, SimpleFileOptions::default()).unwrap();
        zip.write_all(content).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

fn ods(body: &str) -> Vec<u8> {
    let content = format!(
        r#"<?xml version="1.0"?><office:document-content xmlns:office="o" xmlns:table="t" xmlns:text="x" xmlns:style="s" xmlns:draw="d">
        <office:automatic-styles><style:style style:name="away" style:family="table"><style:table-properties table:display="false"/></style:style>
        </office:automatic-styles><office:body><office:spreadsheet>{body}</office:spreadsheet></office:body></office:document-content>"#
    );
    archive(&[("mimetype", b"application/vnd.oasis.opendocument.spreadsheet"), ("content.xml", content.as_bytes())])
}

fn texts(book: &Book, sheet: usize) -> Vec<(usize, Vec<&str>)> {
    book.sheets[sheet].rows.iter().map(|(row, cells)| (*row, cells.iter().map(String::as_str).collect())).collect()
}

/// Reads it apart, as the program does.
fn open(path: &Path) -> Result<Content, SourceError> {
    child::use_program(env!("CARGO_BIN_EXE_refarad").into());
    Content::open(path, &Progress::default())
}

fn sources(path: &Path, sheets: &[&str]) -> Result<Vec<Source>, SourceError> {
    let sheets: Vec<String> = sheets.iter().map(|name| (*name).to_owned()).collect();
    open(path)?.sources(path, None, &Options::default(), &sheets, &Printed::default())
}

fn notes(source: &Source) -> String {
    source.table.notes.iter().map(|note| format!("{}: {}", note.line, note.text)).collect::<Vec<_>>().join("\n")
}

#[test]
fn a_parts_list_of_a_board_is_read_as_from_text() {
    let folder = tempfile::tempdir().unwrap();
    let bytes = sheet(|sheet| {
        rows(sheet, 0, &[&["Dome drive, parts"], &[], &["Designator", "Value", "Voltage", "Type"]]);
        sheet.write(3, 0, "C1, C2").unwrap();
        sheet.write_with_format(3, 1, 470.0, &Format::new().set_num_format("0\" µF\"")).unwrap();
        sheet.write(3, 2, 35).unwrap();
        rows(sheet, 3, &[&["", "", "", "electrolytic"]]);
        rows(sheet, 4, &[&["C3", "4u7", "63V", "electrolytic"]]);
    });
    let read = sources(&written(folder.path(), "drive.xlsx", &bytes), &[]).unwrap();
    let import = read[0].positions();
    let names: Vec<_> = import.positions.iter().map(|(line, p)| (*line, p.reference.as_str())).collect();
    assert_eq!(names, [(4, "C1"), (4, "C2"), (5, "C3")]);
    let c1 = &import.positions[0].1.original;
    assert_eq!((c1.can.capacitance_uf, c1.can.rated_v), (Some(470.0), Some(35.0)));
    assert_eq!(import.positions[2].1.original.can.capacitance_uf, Some(4.7));
    assert_eq!(read[0].title, "drive");
}

#[test]
fn values_stand_as_they_were_typed() {
    let format = |code: &str| Format::new().set_num_format(code);
    let bytes = sheet(|sheet| {
        let cells: [(f64, &str); 6] = [
            (4.7, "0.00"),
            (0.2, "0%"),
            (603.0, "0000"),
            (0.1 + 0.2, "General"),
            (12.5, "[$€-407] 0.00"),
            (2.2e-6, "0.0E+00"),
        ];
        for (column, (value, code)) in (0..).zip(cells) {
            sheet.write_with_format(0, column, value, &format(code)).unwrap();
        }
        let date = ExcelDateTime::from_ymd(2024, 10, 16).unwrap();
        sheet.write_with_format(1, 0, &date, &format("dd/mm")).unwrap();
        let later = ExcelDateTime::from_ymd(2024, 10, 16).unwrap().and_hms(7, 5, 0).unwrap();
        sheet.write_with_format(1, 1, &later, &format("yyyy-mm-dd hh:mm")).unwrap();
        sheet.write(1, 2, true).unwrap();
        sheet.write_formula(1, 3, Formula::new("=A1*10").set_result("47")).unwrap();
        sheet.write_formula(1, 4, Formula::new("=1/0").set_result("#DIV/0!")).unwrap();
        sheet.write(1, 5, " two\nlines ").unwrap();
    });
    let book = read_bytes(&bytes).unwrap();
    assert_eq!(
        texts(&book, 0),
        [
            (1, vec!["4.7", "20%", "0603", "0.3", "€ 12.5", "0.0000022"]),
            (2, vec!["2024-10-16", "2024-10-16 07:05", "TRUE", "47", "#DIV/0!", "two\nlines"]),
        ]
    );
}

#[test]
fn hidden_rows_and_columns_are_read_and_said() {
    let folder = tempfile::tempdir().unwrap();
    let bytes = sheet(|sheet| {
        rows(
            sheet,
            0,
            &[
                &["Ref", "Value", "Voltage", "Type"],
                &["C1", "10u", "25", "electrolytic"],
                &["C2", "22u", "25", "electrolytic"],
            ],
        );
        rows(sheet, 3, &[&["C3", "47u", "25", "electrolytic"], &["C4", "47u", "25", "electrolytic"]]);
        sheet.set_row_hidden(2).unwrap().set_row_hidden(3).unwrap().set_row_hidden(90).unwrap();
        sheet.set_column_hidden(2).unwrap().set_column_hidden(9).unwrap();
    });
    let read = sources(&written(folder.path(), "a.xlsx", &bytes), &[]).unwrap();
    assert_eq!(read[0].positions().positions.len(), 4);
    let notes = notes(&read[0]);
    assert!(notes.contains("3: rows 3 to 4 are hidden"), "{notes}");
    assert!(notes.contains("columns C are hidden"), "{notes}");
}

#[test]
fn a_value_merged_over_rows_holds_in_each_and_a_merged_title_stays_one() {
    let folder = tempfile::tempdir().unwrap();
    let bytes = sheet(|sheet| {
        sheet.merge_range(0, 0, 0, 3, "Amplifier", &Format::new()).unwrap();
        rows(
            sheet,
            1,
            &[&["Ref", "Value", "Voltage", "Type"], &["C1"], &["C2"], &["C3", "100u", "63", "electrolytic"]],
        );
        sheet.merge_range(2, 1, 3, 1, "47u", &Format::new()).unwrap();
        sheet.merge_range(2, 2, 3, 2, "25 V", &Format::new()).unwrap();
        sheet.merge_range(2, 3, 3, 3, "electrolytic", &Format::new()).unwrap();
    });
    let read = sources(&written(folder.path(), "a.xlsx", &bytes), &[]).unwrap();
    assert_eq!(read[0].table.preamble[0].text, "Amplifier");
    let import = read[0].positions();
    let seen: Vec<_> = import
        .positions
        .iter()
        .map(|(_, p)| (p.reference.as_str(), p.original.can.capacitance_uf, p.original.can.rated_v))
        .collect();
    assert_eq!(seen, [("C1", Some(47.0), Some(25.0)), ("C2", Some(47.0), Some(25.0)), ("C3", Some(100.0), Some(63.0))]);
    assert!(notes(&read[0]).contains("B3 to 4, C3 to 4, D3 to 4"), "{}", notes(&read[0]));
}

#[test]
fn a_formula_without_a_value_is_said() {
    let folder = tempfile::tempdir().unwrap();
    // As programs write it that compute nothing.
    let xml = r#"<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>
        <row r="1"><c r="A1" t="inlineStr"><is><t>Ref</t></is></c><c r="B1" t="inlineStr"><is><t>Value</t></is></c></row>
        <row r="2"><c r="A2" t="inlineStr"><is><t>C1</t></is></c><c r="B2"><f>40+7</f></c></row></sheetData></worksheet>"#;
    let read = sources(&written(folder.path(), "a.xlsx", &xlsx_of(xml)), &[]).unwrap();
    assert!(notes(&read[0]).contains("2: 1 formulas have no stored value"), "{}", notes(&read[0]));
    assert!(notes(&read[0]).contains("first in B2"));
}

/// A workbook around the part of its one sheet.
fn xlsx_of(sheet: &str) -> Vec<u8> {
    const MAIN: &str = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    const OFFICE: &str = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    const PACKAGE: &str = "http://schemas.openxmlformats.org/package/2006";
    let related = |of: &str, target: &str| {
        format!(
            r#"<Relationships xmlns="{PACKAGE}/relationships"><Relationship Id="r1" Type="{OFFICE}/{of}" Target="{target}"/></Relationships>"#
        )
    };
    let book = format!(
        r#"<workbook xmlns="{MAIN}" xmlns:r="{OFFICE}"><sheets><sheet name="Parts" sheetId="1" r:id="r1"/></sheets></workbook>"#
    );
    let types = format!(r#"<Types xmlns="{PACKAGE}/content-types"></Types>"#);
    archive(&[
        ("[Content_Types].xml", types.as_bytes()),
        ("_rels/.rels", related("officeDocument", "xl/workbook.xml").as_bytes()),
        ("xl/workbook.xml", book.as_bytes()),
        ("xl/_rels/workbook.xml.rels", related("worksheet", "worksheets/sheet1.xml").as_bytes()),
        ("xl/worksheets/sheet1.xml", sheet.as_bytes()),
    ])
}

#[test]
fn a_list_on_a_hidden_sheet_is_asked_about() {
    let folder = tempfile::tempdir().unwrap();
    let list = |name| [vec!["Ref", "Value", "Voltage", "Type"], vec![name, "10u", "25", "electrolytic"]];
    let put = |sheet: &mut Worksheet, name| {
        let list = list(name);
        rows(sheet, 0, &list.iter().map(Vec::as_slice).collect::<Vec<_>>());
    };
    let mut book = Workbook::new();
    rows(book.add_worksheet().set_name("Cover").unwrap(), 0, &[&["Dome drive"], &["as of October"]]);
    put(book.add_worksheet().set_name("Data").unwrap().set_hidden(true), "C1");
    let path = written(folder.path(), "alone.xlsx", &book.save_to_buffer().unwrap());
    let asked = sources(&path, &[]).unwrap_err().to_string();
    assert!(asked.contains("not sure which sheets are meant, Data"), "{asked}");
    assert_eq!(sources(&path, &["Data"]).unwrap()[0].positions().positions.len(), 1);

    put(book.add_worksheet().set_name("Board").unwrap(), "C2");
    let path = written(folder.path(), "beside.xlsx", &book.save_to_buffer().unwrap());
    let asked = sources(&path, &[]).unwrap_err().to_string();
    assert!(asked.contains("not sure which sheets are meant, Data, Board"), "{asked}");
}

#[test]
fn of_several_sheets_the_one_with_a_list_is_read_and_the_others_are_named() {
    let folder = tempfile::tempdir().unwrap();
    let list: [&[&str]; 2] = [&["Ref", "Value", "Voltage", "Type"], &["C1", "10u", "25", "electrolytic"]];
    let mut book = Workbook::new();
    rows(book.add_worksheet().set_name("Cover").unwrap(), 0, &[&["Dome drive"], &["as of October"]]);
    rows(book.add_worksheet().set_name("Board").unwrap(), 0, &list);
    rows(book.add_worksheet().set_name("Before").unwrap().set_hidden(true), 0, &list);
    book.add_worksheet().set_name("Nothing").unwrap();
    let path = written(folder.path(), "a.xlsx", &book.save_to_buffer().unwrap());
    let read = sources(&path, &[]).unwrap();
    assert_eq!((read.len(), read[0].title.as_str()), (1, "a"));
    assert!(read[0].path.display().to_string().ends_with("a.xlsx, sheet Board"));
    assert!(notes(&read[0]).contains("not read: Cover, Before (hidden)"), "{}", notes(&read[0]));

    rows(book.add_worksheet().set_name("Second board").unwrap(), 0, &list);
    let path = written(folder.path(), "b.xlsx", &book.save_to_buffer().unwrap());
    let asked = sources(&path, &[]).unwrap_err().to_string();
    assert!(asked.contains("not sure which sheets are meant, Board, Second board"), "{asked}");
    let both = sources(&path, &["Second board", "Board"]).unwrap();
    assert_eq!(both.iter().map(|s| s.title.as_str()).collect::<Vec<_>>(), ["Board", "Second board"]);
    let none = sources(&path, &["Third"]).unwrap_err().to_string();
    assert!(none.contains("there is no sheet Third; expected one of Cover, Board"), "{none}");
}

#[test]
fn an_opendocument_sheet_is_read_with_all_it_shows() {
    let body = r#"<table:table table:name="Old" table:style-name="away"><table:table-row><table:table-cell office:value-type="string"><text:p>x</text:p></table:table-cell></table:table-row></table:table>
      <table:table table:name="Board"><table:table-column/><table:table-column table:visibility="collapse"/>
      <table:shapes><draw:frame><draw:text-box><text:p>a text box</text:p></draw:text-box></draw:frame></table:shapes>
      <table:table-row table:number-rows-repeated="2"><table:table-cell table:number-columns-repeated="16384"/></table:table-row>
      <table:table-row><table:table-cell office:value-type="string"><text:p>C1 &amp; C2<text:s text:c="2"/>!</text:p><text:p>below</text:p></table:table-cell>
        <table:table-cell office:value-type="float" office:value="4.7"><text:p>4,7 µF</text:p></table:table-cell>
        <table:table-cell office:value-type="percentage" office:value="0.2"><office:annotation><text:p>a note</text:p></office:annotation><text:p>20%</text:p></table:table-cell>
        <table:table-cell office:value-type="date" office:date-value="2024-10-16"><text:p>16/10</text:p></table:table-cell>
        <table:table-cell office:value-type="currency" office:currency="EUR" office:value="0.125"><text:p>0,13</text:p></table:table-cell>
        <table:table-cell office:value-type="float" office:value="5" table:number-columns-repeated="2"><text:p>5</text:p></table:table-cell>
        <table:table-cell table:formula="of:=1"/></table:table-row>
      <table:table-row table:visibility="filter"><table:table-cell office:value-type="string" table:number-rows-spanned="2"><text:p>C3</text:p></table:table-cell></table:table-row>
      <table:table-row><table:covered-table-cell office:value-type="string"><text:p>under it</text:p></table:covered-table-cell><table:table-cell office:value-type="float" office:value="603"><text:p>0603</text:p></table:table-cell></table:table-row>
      <table:table-row table:number-rows-repeated="1048000"><table:table-cell table:number-columns-repeated="16384"/></table:table-row></table:table>"#;
    let book = read_bytes(&ods(body)).unwrap();
    assert!(book.sheets[0].hidden && !book.sheets[1].hidden);
    assert_eq!(
        texts(&book, 1),
        [
            (3, vec!["C1 & C2  !\nbelow", "4.7 µF", "20%", "2024-10-16", "0.125 EUR", "5", "5"]),
            (4, vec!["C3"]),
            (5, vec!["", "0603"]),
        ]
    );
    let board = &book.sheets[1];
    assert_eq!((board.hidden_rows.as_slice(), board.hidden_columns.as_slice()), (&[4][..], &[2][..]));
    assert_eq!((board.merged[0].rows, board.merged[0].columns), ((4, 5), (1, 1)));
    assert_eq!(board.without_value, [(3, 8)]);
}

/// Records of an old workbook: kind, content.
fn biff(records: &[(u16, Vec<u8>)]) -> Vec<u8> {
    let one = |(kind, content): &(u16, Vec<u8>)| {
        let length = u16::try_from(content.len()).unwrap();
        [&kind.to_le_bytes()[..], &length.to_le_bytes()[..], content].concat()
    };
    records.iter().flat_map(one).collect()
}

fn words(words: &[u16]) -> Vec<u8> {
    words.iter().flat_map(|word| word.to_le_bytes()).collect()
}

/// An old workbook with one sheet of these records.
fn xls(of_sheet: &[(u16, Vec<u8>)]) -> Vec<u8> {
    let begin = |kind| (0x0809, words(&[0x0600, kind, 0, 0, 0, 0, 0, 0]));
    let globals = |place: u32| {
        let sheet = [&place.to_le_bytes()[..], &[0, 0, 5, 0], b"Parts"].concat();
        biff(&[begin(5), (0x0042, words(&[1200])), (0x0085, sheet), (0x000A, vec![])])
    };
    let place = u32::try_from(globals(0).len()).unwrap();
    let sheet = [&[begin(0x10)], of_sheet, &[(0x000A, vec![])]].concat();
    let mut container = cfb::CompoundFile::create_with_version(cfb::Version::V3, Cursor::new(Vec::new())).unwrap();
    let mut stream = container.create_stream("/Workbook").unwrap();
    stream.write_all(&globals(place)).unwrap();
    stream.write_all(&biff(&sheet)).unwrap();
    // Shorter streams are kept elsewhere in the container.
    stream.write_all(&[0; 4096]).unwrap();
    drop(stream);
    container.into_inner().into_inner()
}

fn label(row: u16, column: u16, text: &str) -> (u16, Vec<u8>) {
    let length = u16::try_from(text.len()).unwrap();
    (0x0204, [words(&[row, column, 0, length]), vec![0], text.as_bytes().to_vec()].concat())
}

#[test]
fn an_old_workbook_is_read_with_what_it_hides() {
    let number = (0x0203, [words(&[1, 1, 0]), 4.7_f64.to_le_bytes().to_vec()].concat());
    let hidden_row = (0x0208, words(&[1, 0, 2, 255, 0, 0, 0x20, 0]));
    let hidden_column = (0x007D, words(&[1, 1, 2000, 0, 1, 0]));
    let records = [hidden_column, hidden_row, label(0, 0, "Ref"), label(0, 1, "Value"), label(1, 0, "C1"), number];
    let book = read_bytes(&xls(&records)).unwrap();
    assert_eq!(texts(&book, 0), [(1, vec!["Ref", "Value"]), (2, vec!["C1", "4.7"])]);
    assert_eq!((book.sheets[0].hidden_rows.as_slice(), book.sheets[0].hidden_columns.as_slice()), (&[2][..], &[2][..]));
    assert!(book.sheets[0].notes.is_empty(), "{:?}", book.sheets[0].notes);
}

/// What a workbook is refused with, read apart as the program does.
fn refusal(folder: &Path, name: &str, bytes: &[u8]) -> String {
    let error = open(&written(folder, name, bytes)).unwrap_err().to_string();
    assert!(error.contains(name) && !error.contains('\n'), "{error}");
    error
}

#[test]
fn a_hostile_workbook_is_refused_in_one_line() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    // Two cells at opposite corners: five hundred gigabytes if each between were kept.
    let corners = r#"<worksheet><sheetData><row r="1"><c r="A1"><v>1</v></c></row><row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData></worksheet>"#;
    let said = refusal(folder, "corners.xlsx", &xlsx_of(corners));
    assert!(said.contains("row 1048576, column 16384; at most 1000"), "{said}");
    let wide = (1..=4000).map(|row| format!(r#"<row r="{row}"><c r="ALK{row}"><v>1</v></c></row>"#));
    let wide = wide.collect::<String>();
    let said = refusal(folder, "wide.xlsx", &xlsx_of(&format!("<worksheet><sheetData>{wide}</sheetData></worksheet>")));
    assert!(said.contains("more than 3000000 cells"), "{said}");
    // The directory of the archive says what it unpacks to.
    let mut bomb = xlsx_of("<worksheet/>");
    let entry = bomb.windows(4).rposition(|bytes| bytes == b"PK\x01\x02").unwrap();
    bomb[entry + 24..entry + 28].copy_from_slice(&(300_u32 << 20).to_le_bytes());
    assert!(refusal(folder, "bomb.xlsx", &bomb).contains("unpacks to 300 MB"));
    let repeated = r#"<table:table table:name="A"><table:table-row table:number-rows-repeated="4000000000">
        <table:table-cell office:value-type="string" table:number-columns-repeated="900"><text:p>x</text:p></table:table-cell>
        </table:table-row></table:table>"#;
    assert!(refusal(folder, "repeated.ods", &ods(repeated)).contains("more than 3000000 cells"));
    // The reader of old workbooks lays out all cells between the corners: within the memory it may have, or not at all.
    let far = (0x0200, words(&[0, 0, 0xFFFF, 0xFFFF, 0, 0xFFFF, 0]));
    let path = written(folder, "far.xls", &xls(&[far, label(0, 0, "x"), label(0xFFFF, 0xFFFF, "x")]));
    let said = open(&path).unwrap_err().to_string();
    assert!(said.contains("memory") || said.contains("column 65536"), "{said}");
}

#[test]
fn what_is_no_workbook_is_called_by_its_name() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    assert!(refusal(folder, "a.xlsx", &archive(&[("a.txt", b"x")])).contains("an archive, not a workbook"));
    assert!(refusal(folder, "b.xlsx", &archive(&[("word/document.xml", b"x")])).contains("a text document"));
    assert!(refusal(folder, "c.xlsx", &archive(&[("xl/workbook.bin", b"x")])).contains("binary workbook (.xlsb)"));
    assert!(refusal(folder, "d.xlsx", &xlsx_of("<worksheet><sheetData><row")[..700]).contains("damaged"));
    let locked = r"<manifest:manifest><manifest:file-entry><manifest:encryption-data/></manifest:file-entry></manifest:manifest>";
    let locked = archive(&[("META-INF/manifest.xml", locked.as_bytes()), ("content.xml", b"?")]);
    assert!(refusal(folder, "e.ods", &locked).contains("password"));
    let mut container = cfb::CompoundFile::create_with_version(cfb::Version::V3, Cursor::new(Vec::new())).unwrap();
    container.create_stream("/EncryptedPackage").unwrap().write_all(&[1; 5000]).unwrap();
    assert!(refusal(folder, "f.xlsx", &container.into_inner().into_inner()).contains("password"));
    assert!(refusal(folder, "g.xls", b"\xD0\xCF\x11\xE0 and nothing more").contains("damaged"));
    let mut container = cfb::CompoundFile::create_with_version(cfb::Version::V3, Cursor::new(Vec::new())).unwrap();
    // A first record without content, over which the library for old workbooks falls.
    container.create_stream("/Workbook").unwrap().write_all(&biff(&[(0x0809, vec![]), (0, vec![0; 4096])])).unwrap();
    assert!(refusal(folder, "i.xls", &container.into_inner().into_inner()).contains("damaged"));
    // Dimensions for which the same library asks for some petabytes.
    let dimensions = (0x0200, words(&[0x0001, 0x7800, 0x2F6C, 0x6F77, 0x6B72, 0x6F62, 0x6B6F, 0x622E]));
    let told = refusal(folder, "j.xls", &xls(&[dimensions]));
    assert!(told.contains("damaged") || told.contains("memory"), "{told}");
    let empty = written(folder, "h.xlsx", &sheet(|_| {}));
    assert!(sources(&empty, &[]).unwrap_err().to_string().contains("empty"));
}
