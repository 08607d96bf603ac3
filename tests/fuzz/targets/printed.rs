#![no_main]
//! Any bytes as the answer of a process that read a page of a data sheet apart; what is understood must become lists or be refused.

use libfuzzer_sys::fuzz_target;
use refarad::files::child;
use refarad::files::datasheet::{PageReader, Pages, Printed};
use refarad::files::import::Content;
use refarad::files::table::Options;

fuzz_target!(init: refarad_fuzz::one_thread(), |bytes: &[u8]| {
    if let Ok(page) = child::understood::<PageReader>(bytes)
        && page.check().is_ok()
    {
        let pages = Content::Pages(Pages { read: vec![page], failed: Vec::new() });
        let sources = pages.sources("any.pdf".as_ref(), None, &Options::default(), &[], &Printed::default());
        for source in sources.unwrap_or_default() {
            let _ = source.parts();
        }
    }
});
