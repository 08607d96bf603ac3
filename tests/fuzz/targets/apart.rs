#![no_main]
//! Any bytes as the answer of a process that read a workbook apart; what is understood must become tables or be refused.

use libfuzzer_sys::fuzz_target;
use refarad::files::child;
use refarad::files::datasheet::Printed;
use refarad::files::import::Content;
use refarad::files::table::Options;
use refarad::files::workbook::Workbook;

fuzz_target!(init: refarad_fuzz::one_thread(), |bytes: &[u8]| {
    if let Ok(book) = child::understood::<Workbook>(bytes) {
        let names: Vec<String> = book.sheets.iter().map(|sheet| sheet.name.clone()).collect();
        let content = Content::Book(book);
        let _ = content.sources("any.xlsx".as_ref(), None, &Options::default(), &[], &Printed::default());
        let _ = content.sources("any.xlsx".as_ref(), None, &Options::default(), &names, &Printed::default());
    }
});
