//! The buyer's lists and the workbook, of parts whose texts and figures are awkward on purpose.

use std::process::Command;
use std::sync::Arc;

use refarad::domain::{Board, CatalogBuilder, Job, Part, Position, SupplierOffer, Trade};
use refarad::files::purchase::{column_names, csv, per_supplier};
use refarad::files::purchase_workbook::{cut, xlsx};
use refarad::sizing::{self, CatalogIndex, Purchase, purchase};

/// Three parts whose texts and figures are awkward on purpose.
fn awkward() -> (Job, Purchase) {
    let mut builder = CatalogBuilder::default();
    let texts = [("=1+1", "Größe & Söhne", "@SUM(A1)"), ("A-1", "\"quoted\", comma", "S/1"), ("B", "plain", "S:1")];
    for (at, (number, maker, supplier)) in texts.into_iter().enumerate() {
        builder.push(&Part {
            part_number: number.to_owned(),
            maker: maker.into(),
            supplier: supplier.into(),
            currency: if at == 2 { String::new() } else { "EUR".into() },
            trade: Trade { unit_price: [Some(0.1), None, Some(3.0)][at], pack: Some(3.0), ..Trade::default() },
            price_breaks: if at == 1 { "1:0.0123456789;1000:0.001".parse().ok() } else { None },
            ..Part::default()
        });
    }
    let catalog_index = CatalogIndex::new(Arc::new(builder.finish().0));
    let position = |reference: &str, pick: &str| Position {
        reference: reference.into(),
        pick: (!pick.is_empty()).then(|| pick.into()),
        ..Position::default()
    };
    let positions = vec![
        position("-C1", "=1+1"),
        position("C2", "A-1"),
        position("C3", "B"),
        position("C4", ""),
        position("C5", "=1+1"),
    ];
    let boards = vec![Board { name: "+Supply".into(), positions, ..Board::default() }];
    let job = Job { currency: Some("EUR".into()), units: Some(1.0), boards, ..Job::default() };
    let sizing = sizing::size(&job, &catalog_index);
    let bought = purchase(&job, &catalog_index, &sizing, None);
    (job, bought)
}

fn parsed(content: &[u8]) -> Vec<Vec<String>> {
    let mut reader = ::csv::ReaderBuilder::new().has_headers(false).from_reader(content);
    reader.records().map(|record| record.unwrap().iter().map(str::to_owned).collect()).collect()
}

#[test]
fn the_list_has_the_fixed_columns_plain_numbers_and_no_text_that_a_spreadsheet_runs() {
    let (job, bought) = awkward();
    let mut content = Vec::new();
    csv(&mut content, &job, &bought).unwrap();
    let rows = parsed(&content);
    assert_eq!(rows[0], column_names());
    assert_eq!(rows.len(), 4);
    assert_eq!(
        rows[1][..11],
        ["'=1+1", "Größe & Söhne", "'@SUM(A1)", "", "3", "2", "0.1", "0.3", "EUR", "0.3", "'-C1;C5"]
    );
    // No price in a known currency: the figures stand, the currency stays empty.
    assert_eq!(rows[3][4..9], ["3", "1", "3", "9", ""]);
    for cell in rows.iter().flatten() {
        assert!(!cell.starts_with(['=', '+', '-', '@', '\t']), "{cell}");
    }
}

#[test]
fn each_supplier_gets_a_file_of_its_own_even_when_names_look_alike() {
    let (job, mut bought) = awkward();
    let files = per_supplier(&job, &bought).unwrap();
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(
        names,
        [
            "purchase__SUM_A1_.csv",
            "upload__SUM_A1_.csv",
            "references__SUM_A1_.csv",
            "purchase_S_1.csv",
            "upload_S_1.csv",
            "references_S_1.csv",
            "purchase_S_1_2.csv",
            "upload_S_1_2.csv",
            "references_S_1_2.csv",
        ]
    );
    assert!(files.iter().all(|(_, content)| parsed(content).len() == 2));
    bought.lines[0].order_qty = Some(0);
    bought.lines[1].offer = Some(SupplierOffer::default());
    let files = per_supplier(&job, &bought).unwrap();
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["purchase_no_supplier.csv", "purchase_S_1.csv", "upload_S_1.csv", "references_S_1.csv"]);
}

#[test]
fn a_supplier_gets_its_own_numbers_the_pieces_and_the_positions_ready_to_upload() {
    let (job, mut bought) = awkward();
    bought.lines[0].offer.as_mut().unwrap().supplier_part_number = " 12-34 ".into();
    let files = per_supplier(&job, &bought).unwrap();
    let upload = |name: &str| parsed(&files.iter().find(|(other, _)| other == name).unwrap().1);
    assert_eq!(upload("upload__SUM_A1_.csv"), [["part_number", "quantity"], ["12-34", "3"]]);
    let heads = ["part_number", "quantity", "customer_reference"];
    assert_eq!(upload("references__SUM_A1_.csv"), [heads, ["12-34", "3", "'-C1 C5"]]);
    // Without a number of theirs the manufacturer's stands there.
    assert_eq!(upload("upload_S_1.csv")[1], ["A-1", "3"]);
}

#[test]
fn an_order_above_the_stock_is_marked_and_the_same_order_gives_the_same_bytes() {
    let (job, mut bought) = awkward();
    let line = &mut bought.lines[1];
    line.offer.as_mut().unwrap().trade.stock = Some(2.0);
    assert!(line.stock_short() && !bought.lines[0].stock_short());
    assert_eq!(xlsx(&job, &bought).unwrap(), xlsx(&job, &bought).unwrap());
    let mut content = Vec::new();
    csv(&mut content, &job, &bought).unwrap();
    let at = column_names().iter().position(|name| *name == "stock").unwrap();
    assert_eq!(parsed(&content)[2][at], "2");
}

/// Every value of the workbook, read back by LibreOffice, is the value of the CSV; skipped with a word where it is missing.
#[test]
fn the_workbook_keeps_every_value_through_libre_office() {
    let (job, bought) = awkward();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("purchase.xlsx");
    std::fs::write(&path, xlsx(&job, &bought).unwrap()).unwrap();
    let profile = format!("-env:UserInstallation=file://{}/profile", folder.path().display());
    // Filter options: comma, double quote, UTF-8, first line 1, no column formats, cell content as stored and not as shown.
    let filter = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false";
    let done = Command::new("soffice")
        .args([profile.as_str(), "--headless", "--convert-to", filter, "--outdir"])
        .arg(folder.path())
        .arg(&path)
        .output();
    let Ok(done) = done else {
        eprintln!("SKIPPED: soffice is not installed, so the workbook was not read back");
        return;
    };
    let back = std::fs::read(folder.path().join("purchase.csv")).unwrap_or_else(|_| panic!("{done:?}"));
    let back = parsed(&back);
    let mut content = Vec::new();
    csv(&mut content, &job, &bought).unwrap();
    for (row, expected) in back.iter().zip(parsed(&content)) {
        for (column, (got, expected)) in row.iter().zip(&expected).enumerate() {
            // In a workbook a text is a text: it needs no apostrophe.
            let expected = expected.strip_prefix('\'').unwrap_or(expected);
            match (got.parse::<f64>(), expected.parse::<f64>()) {
                (Ok(got), Ok(expected)) => assert_eq!(got, expected, "column {column}"),
                _ => assert_eq!(got, expected, "column {column}"),
            }
        }
    }
    // Worked out by LibreOffice from the formulas. By hand: 3 x 0.1 + 3 x 0.0123456789; the part without currency is in no total.
    let total = |name: &str, column: usize| {
        let row = back.iter().find(|row| row[0] == name).unwrap_or_else(|| panic!("{name}: {back:?}"));
        row[column].parse::<f64>().unwrap()
    };
    let found = [("Total", 7), ("Parts in EUR", 9), ("Total in EUR", 9)].map(|(name, at)| total(name, at));
    assert!(found.iter().all(|sum| (sum - 0.3370370367).abs() < 1e-12), "{found:?}");
}

#[test]
fn a_text_over_the_limit_of_a_cell_is_cut_with_a_mark_and_the_rest_is_written() {
    let (job, mut bought) = awkward();
    bought.lines[0].part_number = "µ".repeat(65_536);
    bought.lines[1].line_total = Some(f64::INFINITY);
    bought.notes.push("😀".repeat(40_000));
    xlsx(&job, &bought).unwrap();
    for text in ["µ".repeat(65_536), "😀".repeat(40_000)] {
        let cut = cut(&text);
        assert!((32_766..=32_767).contains(&cut.encode_utf16().count()) && cut.ends_with("than a cell may be]"));
    }
    let mut content = Vec::new();
    csv(&mut content, &job, &bought).unwrap();
    let text = String::from_utf8(content).unwrap();
    assert!(!text.contains("inf") && text.contains("beyond what a number can say"), "{text:.300}");
}
