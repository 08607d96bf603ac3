//! The sheets, the drawing and the workbook of a small job, held against files kept in `golden/`.
//!
//! `REFARAD_WRITE_GOLDEN=1 cargo test --test writing golden` writes them anew: look at the difference before you keep it.

use std::fmt::Write;
use std::io::Cursor;
use std::sync::Arc;

use calamine::Reader;
use refarad::domain::{Date, Job, Side};
use refarad::files::{board_svg, demo, purchase_workbook, sheets};
use refarad::sizing::{CatalogIndex, Purchase, Sizing, purchase, size};

/// The first positions of the demo, which have a pick, proposals and work to do.
fn small() -> (Job, CatalogIndex, Sizing, Purchase) {
    let mut job = demo::job().unwrap().job;
    job.boards.truncate(1);
    job.boards[0].positions.truncate(4);
    job.boards[0].photo = None;
    let catalog_index = CatalogIndex::new(Arc::new(demo::parts().unwrap().catalog));
    let sizing = size(&job, &catalog_index);
    let bought = purchase(&job, &catalog_index, &sizing, day());
    (job, catalog_index, sizing, bought)
}

fn day() -> Option<Date> {
    Date::new(2026, 10, 2)
}

/// A line for each tag, so that a difference is seen where it is.
fn lines(page: &str) -> String {
    page.replace("><", ">\n<").replace(env!("CARGO_PKG_VERSION"), "VERSION") + "\n"
}

fn assert_golden(name: &str, now: &str) {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/writing/golden").join(name);
    if std::env::var_os("REFARAD_WRITE_GOLDEN").is_some() {
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, now).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default().replace("\r\n", "\n");
    for (at, (kept, now)) in kept.lines().zip(now.lines()).enumerate() {
        assert_eq!(kept, now, "{name}, line {}; see the head of golden.rs", at + 1);
    }
    assert_eq!(kept.lines().count(), now.lines().count(), "{name}; see the head of golden.rs");
}

#[test]
fn the_sheets_say_what_they_said() {
    let (job, catalog_index, sizing, bought) = small();
    assert_golden("worksheet.html", &lines(&sheets::worksheet(&job, &catalog_index, &sizing, &bought, &[], day())));
    let provenance = sheets::Provenance::default();
    let justification = sheets::justification(&job, &catalog_index, &sizing, &provenance, day());
    assert_golden("justification.html", &lines(&justification));
    assert_golden("inspection.html", &lines(&sheets::inspection(&job, catalog_index.catalog(), &bought, day())));
}

#[test]
fn the_board_is_drawn_as_it_was() {
    let (job, catalog_index, sizing, _) = small();
    let drawn =
        board_svg::for_sheet(&job, catalog_index.catalog(), &sizing, (0, Side::Top), [188.0, 106.0], None).unwrap();
    assert_golden("board.svg", &lines(&drawn));
}

#[test]
fn the_cells_of_the_purchase_workbook_are_what_they_were() {
    let (job, _, _, bought) = small();
    let bytes = purchase_workbook::xlsx(&job, &bought).unwrap();
    let mut book: calamine::Xlsx<_> = calamine::open_workbook_from_rs(Cursor::new(bytes)).unwrap();
    let mut cells = String::new();
    for name in book.sheet_names() {
        for (row, column, cell) in book.worksheet_range(&name).unwrap().used_cells() {
            writeln!(cells, "{name}\t{}\t{}\t{cell:?}", row + 1, column + 1).unwrap();
        }
    }
    assert_golden("purchase.txt", &cells);
}
