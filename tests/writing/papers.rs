//! What of the printed papers can be held without a browser: the caution and the first picture share a page, outlines are as large
//! as the parts, every figure names its file.

use refarad::domain::{CatalogBuilder, Technology};
use refarad::files::load::{Loaded, load_demo};
use refarad::files::sheets::{Provenance, justification, worksheet};
use refarad::physics::body;
use refarad::sizing::{CatalogIndex, purchase, size};

/// Height of the paper that a page of Letter prints, the lower of A4 and Letter, mm.
const PAGE_MM: f64 = 256.0;

fn papers(change: impl FnOnce(&mut refarad::domain::Job)) -> (Loaded, String, String) {
    let mut loaded = load_demo().unwrap();
    change(&mut loaded.job);
    let Loaded { job, catalog_index, .. } = &loaded;
    let sizing = size(job, catalog_index);
    let bought = purchase(job, catalog_index, &sizing, None);
    let work = worksheet(job, catalog_index, &sizing, &bought, &[], None);
    let why = justification(job, catalog_index, &sizing, &Provenance::of(None, job, &[], false), None);
    (loaded, work, why)
}

/// Width and height of the first drawing of a page in mm.
fn first_drawing_mm(page: &str) -> [f64; 2] {
    let svg = &page[page.find("<svg").unwrap()..];
    ["width=\"", "height=\""].map(|name| svg.split(name).nth(1).unwrap().split("mm\"").next().unwrap().parse().unwrap())
}

#[test]
fn the_first_picture_shares_the_page_with_the_caution_as_long_as_there_is_room() {
    let (_, work, _) = papers(|_| {});
    assert!(work.find("<svg") < work.find("class=\"board\""), "the picture follows the caution without a page break");
    let [wide, high] = first_drawing_mm(&work);
    // 50 mm above the caution and between, 12 mm of frame and heading, seven steps of a line at least.
    assert!(wide <= 190.0 && (60.0..PAGE_MM - 50.0 - 12.0 - 7.0 * 4.0).contains(&high), "{wide} x {high}");
    // With more positions in the caution than a page holds, the picture has a page of its own.
    let (_, work, _) = papers(|job| {
        let board = &mut job.boards[0];
        let position = board.positions[0].clone();
        board.positions.extend(std::iter::repeat_n(position, 80));
    });
    assert!(work.find("class=\"board\"") < work.find("<svg"));
    assert!(first_drawing_mm(&work)[1] > 60.0);
}

#[test]
fn outlines_on_the_worksheet_are_as_large_as_the_largest_body() {
    let (loaded, work, _) = papers(|_| {});
    let catalog = loaded.catalog_index.catalog();
    let mut seen = 0;
    for piece in work.split("<div class=\"sizes\">").skip(1) {
        for outline in piece.split("<div>").skip(1).filter(|outline| outline.contains("<circle")) {
            let value = |mark: &str| outline.split(mark).nth(1).unwrap().split(['"', 'm']).next().unwrap();
            let number = outline.split("<br>").nth(1).unwrap().split("</div>").next().unwrap();
            let can = catalog.can(catalog.find(number).unwrap());
            let across = body::of(&can).diameter_max_mm.unwrap();
            let radius: f64 = value(" r=\"").parse().unwrap();
            // A unit of the drawing is a millimetre: its width in mm is its width in units.
            assert_eq!(value("width=\""), value("viewBox=\"0 0 ").split(' ').next().unwrap(), "{number}");
            assert!((2.0 * radius - across).abs() < 1e-9, "{number}: {radius}, {across}");
            assert_eq!(outline.contains("<path"), can.technology != Some(Technology::NonPolar), "{number}");
            seen += 1;
        }
    }
    assert!(seen > 20, "{seen}");
}

#[test]
fn the_justification_begins_with_the_boards_and_names_the_file_of_every_figure_of_a_part() {
    let (_, _, why) = papers(|job| job.boards[0].positions[0].original.read_from = Some("bom.csv line 7".into()));
    let first = why.find("<section class=\"position\"><h3>").unwrap();
    assert!(why.rfind("<h2>Board ").unwrap() < first);
    assert_eq!(why[..first].matches("<svg").count(), 4, "each board with located parts has its map");
    for section in why.split("<section class=\"position\"><h3>").skip(1).filter(|section| section.contains(">U_R<")) {
        assert!(section.contains("from catalogue parts.csv, data sheet"), "{section:.80}");
    }
    assert!(why.contains("Read from bom.csv line 7."));
}

#[test]
fn what_was_not_taken_is_compared_in_the_currency_of_the_job_or_said_not_to_be() {
    let told = |change: &dyn Fn(&mut refarad::domain::Part), rate: Option<f64>| {
        let own = load_demo().unwrap();
        let (mut job, catalog) = (own.job, own.catalog_index.catalog().clone());
        job.boards.truncate(1);
        job.boards[0].positions.truncate(2);
        job.currency_rates.extend(rate.map(|rate| ("JPY".to_owned(), rate)));
        let mut builder = CatalogBuilder::default();
        for mut part in catalog.ids().map(|id| catalog.part(id)) {
            change(&mut part);
            builder.push(&part);
        }
        let catalog_index = CatalogIndex::new(std::sync::Arc::new(builder.finish().0));
        let sizing = size(&job, &catalog_index);
        let page = justification(&job, &catalog_index, &sizing, &Provenance::of(None, &job, &[], false), None);
        let own = sizing.positions[0]
            .best
            .iter()
            .find(|part| sizing.positions[0].choice.part.is_some_and(|chosen| chosen.id != part.id));
        let number = catalog_index.catalog().part_number(own.unwrap().id).to_owned();
        let (_, after) = page.split_once("Not taken").unwrap();
        let (_, why) = after.split_once(&format!("<b>{number}</b>: ")).unwrap();
        why.split([';', '<']).next().unwrap().to_owned()
    };
    let plain = told(&|_| (), None);
    assert!(plain.starts_with("passes too, ") && plain.ends_with(" EUR") && plain.contains(" EUR against "), "{plain}");
    // Everything in yen: one yen is 0.01 of the job's currency, and 100 of one are one of the other.
    let in_yen = |part: &mut refarad::domain::Part| {
        part.currency = "JPY".into();
        part.trade.unit_price = part.trade.unit_price.map(|price| price * 100.0);
        part.price_breaks = None;
    };
    let eur = |part: &mut refarad::domain::Part| part.price_breaks = None;
    assert_eq!(told(&in_yen, Some(0.01)), told(&eur, None));
    let unknown = told(&in_yen, None);
    assert!(unknown.contains(" JPY each, which cannot be compared: no rate or usable offer"), "{unknown}");
}
