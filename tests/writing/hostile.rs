//! Names made to break what is written: formulas for spreadsheets, markup for the sheets and the drawing.

use std::collections::BTreeMap;
use std::io::Cursor;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use calamine::{Reader, Xlsx};
use refarad::domain::{Catalog, CatalogBuilder, Date, Job, Part, Side};
use refarad::files::unit_record::UnitRecord;
use refarad::files::{
    Rejected, board_svg, curves, demo, export, job, order, parts, parts_writer, purchase, purchase_workbook, sheets,
    unit_table,
};
use refarad::sizing::curves::{Axis, curve_set, steps};
use refarad::sizing::{CatalogIndex, OrderOptions, PositionContext, Purchase, Sizing, size};
use serde_json::Value;

/// The demo with names that a spreadsheet would run or a browser would obey, everything worked out.
struct Hostile {
    job: Job,
    catalog_index: CatalogIndex,
    sizing: Sizing,
    bought: Purchase,
}

fn today() -> Date {
    "2026-11-25".parse().unwrap()
}

/// The demo catalogue with every text changed.
fn catalogue(change: impl Fn(&str) -> String) -> Catalog {
    let own = demo::parts().unwrap().catalog;
    let mut builder = CatalogBuilder::default();
    for mut part in own.ids().map(|id| own.part(id)) {
        for text in [
            &mut part.part_number,
            &mut part.maker,
            &mut part.series,
            &mut part.supplier,
            &mut part.supplier_part_number,
            &mut part.datasheet,
            &mut part.currency,
        ] {
            *text = change(text);
        }
        builder.push(&part);
    }
    builder.finish().0
}

/// Changes every text of the job that may be any text; what must be one of a few words stays. Texts of one field are changed together, since
/// reading the job takes its time.
fn change_texts(content: &mut Value, change: &dyn Fn(&str) -> String) -> usize {
    let mut places = Vec::new();
    collect(content, String::new(), &mut places);
    let mut fields = BTreeMap::<String, Vec<String>>::new();
    for place in places {
        let names = place.split('/').filter(|name| name.parse::<usize>().is_err());
        fields.entry(names.collect()).or_default().push(place);
    }
    let mut changed = 0;
    for places in fields.into_values() {
        let before = content.clone();
        for place in &places {
            let text = content.pointer_mut(place).unwrap();
            *text = change(text.as_str().unwrap()).into();
        }
        if job::from_slice(content.to_string().as_bytes(), "a.json".as_ref()).is_ok() {
            changed += places.len();
        } else {
            *content = before;
        }
    }
    changed
}

/// Where the texts are.
fn collect(content: &Value, place: String, places: &mut Vec<String>) {
    match content {
        Value::String(_) => places.push(place),
        Value::Array(items) => {
            items.iter().enumerate().for_each(|(at, item)| collect(item, format!("{place}/{at}"), places));
        }
        Value::Object(fields) => {
            fields.iter().for_each(|(name, field)| collect(field, format!("{place}/{name}"), places));
        }
        _ => {}
    }
}

impl Hostile {
    fn new(change: impl Fn(&str) -> String) -> Self {
        let mut content: Value = serde_json::from_str(demo::FILES[0].1).unwrap();
        content["currency"] = "EUR".into();
        assert!(change_texts(&mut content, &change) > 100);
        let job = job::from_slice(content.to_string().as_bytes(), "a.json".as_ref()).unwrap().job;
        let catalog_index = CatalogIndex::new(Arc::new(catalogue(change)));
        let sizing = size(&job, &catalog_index);
        let bought = refarad::sizing::purchase(&job, &catalog_index, &sizing, Some(today()));
        assert!(bought.lines.len() > 5, "there is something to buy");
        Self { job, catalog_index, sizing, bought }
    }
}

/// No cell starts like a formula unless it is a number; at least one was disarmed.
fn assert_no_formula(what: &str, separator: u8, content: &[u8]) {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).delimiter(separator).from_reader(content);
    let mut disarmed = 0;
    for cell in reader.records().skip(1).flat_map(|row| row.unwrap().iter().map(str::to_owned).collect::<Vec<_>>()) {
        let runs = cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']) && cell.parse::<f64>().is_err();
        assert!(!runs, "{what}: {cell}");
        disarmed += usize::from(cell.starts_with("'="));
    }
    assert!(disarmed > 0, "{what}: no hostile name reached it");
}

/// Every table the program writes, with what separates its cells.
fn tables(Hostile { job, catalog_index, sizing, bought }: &Hostile, bad: &str) -> Vec<(String, u8, Vec<u8>)> {
    let catalog = catalog_index.catalog();
    let mut all = Vec::new();
    let mut add = |what: &str, write: &dyn Fn(&mut Vec<u8>) -> csv::Result<()>| {
        let mut out = Vec::new();
        write(&mut out).unwrap();
        all.push((what.to_owned(), b',', out));
    };
    add("selection", &|out| export::selection(out, job, catalog_index, sizing));
    add("candidates", &|out| export::candidates(out, job, catalog_index, sizing, false));
    add("purchase", &|out| purchase::csv(out, job, bought));
    let bad = || bad.to_owned();
    let rejected = Rejected::new(bad().as_ref(), 1, &bad(), &bad(), bad());
    add("rejected", &|out| export::rejected(out, std::slice::from_ref(&rejected)));
    let record = UnitRecord::planned(job, catalog, sizing, &job.unit_types_or_one()[0], &bad(), today());
    let record = UnitRecord { technician: bad(), note: bad(), ..record };
    add("units", &|out| unit_table::export(out, std::slice::from_ref(&record)));
    let found: Vec<Part> = catalog.ids().map(|id| catalog.part(id)).collect();
    add("parts", &|out| parts_writer::write(out, &found, false));
    let (id, position) = job.positions().next().unwrap();
    let place = PositionContext::new(job, catalog, id).unwrap();
    let cans = [(found[0].part_number.clone(), found[0].can.clone())];
    let set = curve_set(&place, Axis::Ambient, &steps(40.0, 85.0, 3), &cans);
    add("curves", &|out| curves::write(out, &job.boards[0].name, &position.reference, &set));
    let constraints = OrderOptions::default();
    let proposed =
        refarad::sizing::order(job, catalog_index, &constraints, &AtomicBool::new(false), &mut |_| {}).unwrap();
    add("order picks", &|out| order::picks(out, job, catalog_index, &proposed));
    if !proposed.steps.is_empty() {
        add("order steps", &|out| order::steps(out, job, catalog_index, &proposed));
    }
    all.push(("clipboard".into(), b'\t', purchase::tab_separated(job, bought).unwrap().into_bytes()));
    let lists = purchase::per_supplier(job, bought).unwrap();
    assert!(!lists.is_empty());
    all.extend(lists.into_iter().map(|(name, content)| (name, b',', content)));
    all
}

#[test]
fn no_table_holds_a_formula() {
    let hostile = Hostile::new(|text| format!("=cmd|' /C calc'!A0 {text}"));
    for (name, separator, content) in tables(&hostile, "=1+1") {
        let plain = |c: char| c.is_alphanumeric() || matches!(c, '_' | '-' | '.' | ' ');
        assert!(name.chars().all(plain), "{name}");
        assert_no_formula(&name, separator, &content);
    }
}

#[test]
fn no_table_no_workbook_and_no_page_hides_anything_in_a_name() {
    let bad = "C1\u{202e}9\u{7}\u{200b}";
    let hostile = Hostile::new(|text| format!("{text}{bad}"));
    let shown = |what: &str, text: &str| {
        assert!(text.contains("C1U+202E9 U+200B"), "{what}: the name is there, spelled out");
        let hidden = text.chars().find(|c| {
            *c != '\n'
                && (c.is_control()
                    || matches!(c, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}') && *c != '\u{200d}')
        });
        assert_eq!(hidden.filter(|&c| c != '\t' && c != '\r'), None, "{what}");
    };
    for (name, _, content) in tables(&hostile, bad) {
        shown(&name, &String::from_utf8(content).unwrap());
    }
    let Hostile { job, catalog_index, sizing, bought } = &hostile;
    shown("worksheet", &sheets::worksheet(job, catalog_index, sizing, bought, &[], Some(today())));
    let files = sheets::Provenance::default();
    shown("justification", &sheets::justification(job, catalog_index, sizing, &files, Some(today())));
    sheets::packing(job, bought).iter().for_each(|(name, page)| shown(name, page));
    let book = purchase_workbook::xlsx(job, bought).unwrap();
    let mut book = Xlsx::new(Cursor::new(book)).unwrap();
    let cells = book.worksheet_range("Order").unwrap();
    let cells: Vec<String> = cells.rows().flatten().map(ToString::to_string).collect();
    shown("workbook", &cells.join("\n"));
}

#[test]
fn names_like_formulas_come_back_as_they_were() {
    let catalog = catalogue(|text| format!("=1+1{text}"));
    let all: Vec<Part> = catalog.ids().map(|id| catalog.part(id)).collect();
    let mut bytes = Vec::new();
    parts_writer::write(&mut bytes, &all, false).unwrap();
    let again = parts::from_bytes(vec![("a.csv".into(), bytes)]).unwrap();
    assert_eq!(again.catalog.len(), all.len());
    for (id, part) in again.catalog.ids().zip(&all) {
        assert_eq!(&again.catalog.part(id), part);
    }
}

#[test]
fn markup_in_names_stands_on_the_sheets_and_the_drawing_as_text() {
    let Hostile { job, catalog_index, sizing, bought } =
        Hostile::new(|text| format!("{text}<img src=x onerror=\"run()\">&'"));
    let mut pages = vec![
        ("worksheet", sheets::worksheet(&job, &catalog_index, &sizing, &bought, &[], Some(today()))),
        (
            "justification",
            sheets::justification(&job, &catalog_index, &sizing, &sheets::Provenance::default(), Some(today())),
        ),
    ];
    pages.extend(sheets::packing(&job, &bought));
    for side in [Side::Top, Side::Bottom] {
        for board in 0..job.boards.len() {
            pages.push((
                "drawing",
                board_svg::document(
                    &job,
                    catalog_index.catalog(),
                    &sizing,
                    board,
                    side,
                    refarad::files::board_colours::Colours::NewPart,
                    &[],
                )
                .unwrap(),
            ));
            pages.extend(
                board_svg::for_sheet(&job, catalog_index.catalog(), &sizing, (board, side), [188.0, 106.0], None)
                    .map(|page| ("drawing on a sheet", page)),
            );
        }
    }
    for (what, page) in pages {
        assert!(
            page.contains("&lt;img src=x onerror=&quot;run()&quot;&gt;&amp;"),
            "{what}: the names are there, escaped"
        );
        assert!(!page.contains("<img") && !page.contains("onerror=\""), "{what}");
        // Every ampersand begins a reference of the page, not of a name.
        for rest in page.split('&').skip(1) {
            assert!(
                ["amp;", "lt;", "gt;", "quot;", "#"].iter().any(|name| rest.starts_with(name)),
                "{what}: &{rest:.20}"
            );
        }
    }
}
