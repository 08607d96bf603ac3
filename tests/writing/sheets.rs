//! The sheets as pages: what stands on them, in which order, and that no text of a file becomes markup.

use std::sync::Arc;

use refarad::domain::{Board, Date, Job, Position, Side};
use refarad::files::demo;
use refarad::files::sheets::{Provenance, inspection, justification, worksheet};
use refarad::sizing::{self, CatalogIndex, purchase};

fn sheets(job: &Job) -> (String, String) {
    let catalog_index = CatalogIndex::new(Arc::new(demo::parts().unwrap().catalog));
    let sizing = sizing::size(job, &catalog_index);
    let today: Date = "2026-11-25".parse().unwrap();
    let bought = purchase(job, &catalog_index, &sizing, Some(today));
    (
        worksheet(job, &catalog_index, &sizing, &bought, &[], Some(today)),
        justification(job, &catalog_index, &sizing, &Provenance::of(None, job, &[], false), Some(today)),
    )
}

/// Every tag that opens is closed in order, and every attribute value is quoted.
fn assert_well_formed(page: &str) {
    const VOID: [&str; 4] = ["meta", "br", "col", "!DOCTYPE"];
    let mut open = Vec::new();
    for piece in page.split('<').skip(1) {
        let (tag, _) = piece.split_once('>').unwrap_or_else(|| panic!("a tag that does not end: {piece:.60}"));
        assert_eq!(tag.matches('"').count() % 2, 0, "{tag}");
        let name = tag.split([' ', '/']).find(|part| !part.is_empty()).unwrap();
        if let Some(closing) = tag.strip_prefix('/') {
            assert_eq!(open.pop(), Some(closing), "closing {closing}");
        } else if !tag.ends_with('/') && !VOID.contains(&name) {
            open.push(name);
        }
    }
    assert!(open.is_empty(), "{open:?}");
}

#[test]
fn the_sheets_of_the_demo_name_every_position_and_run_nothing() {
    let job = demo::job().unwrap().job;
    let (work, why) = sheets(&job);
    for page in [&work, &why] {
        assert_well_formed(page);
        for (_, position) in job.positions() {
            assert!(page.contains(&position.reference), "{}", position.reference);
        }
        for banned in ["<script", "http://", "https://", "<link", "<img", "@import", "url("] {
            let page = page.replace("http://www.w3.org/2000/svg", "");
            assert!(!page.contains(banned), "{banned}");
        }
    }
    let first = |text: &str| work.find(text).unwrap_or_else(|| panic!("{text}"));
    assert!(first("Caution") < first("<svg") && first("<svg") < first("Measured before"));
    assert!(first("Parts for one unit") < first("Next due"));
    // Assumed figures are told in words on both sheets, never by their names in files.
    for page in [&work, &why] {
        assert!(page.contains("rise at rated ripple") && !page.contains("core_rise_k"));
    }
    assert_eq!(work.matches("class=\"map\"").count(), 4);
    // Two servo boards in a unit: their table stands there twice.
    assert!(work.contains("Servo 1 of 2") && work.contains("Servo 2 of 2"));
}

#[test]
fn texts_from_a_job_never_become_markup() {
    let mut job = demo::job().unwrap().job;
    let bad = "\"><script>alert(1)</script>'";
    job.name = bad.into();
    for board in &mut job.boards {
        board.name = bad.into();
        for position in &mut board.positions {
            position.reference = bad.into();
            position.original.label = Some(bad.into());
            position.pick = Some(bad.into());
        }
    }
    let (work, why) = sheets(&job);
    for page in [work, why] {
        assert!(!page.contains("<script"));
        assert_well_formed(&page);
    }
}

#[test]
fn an_empty_job_and_positions_without_figures_still_print() {
    let (work, why) = sheets(&Job::default());
    assert_well_formed(&work);
    assert_well_formed(&why);
    let boards = vec![Board { positions: vec![Position::default()], ..Default::default() }];
    let (work, why) = sheets(&Job { boards, ..Job::default() });
    assert!(work.contains("treat as charged") && work.contains("no part yet"));
    assert_well_formed(&why);
}

#[test]
fn a_can_on_the_other_side_is_drawn_and_told_as_seen_from_below() {
    let mut job = demo::job().unwrap().job;
    let position = &mut job.boards[0].positions[0];
    (position.side, position.rotation_deg) = (Some(Side::Bottom), Some(0.0));
    let (work, _) = sheets(&job);
    // A map of its own for the side with one can; + to the right from above is + to the left from below.
    assert_eq!(work.matches("class=\"map\"").count(), 5);
    assert!(work.contains("bottom seen from below") && work.contains("+ to the left, seen from below"));
}

#[test]
fn incoming_goods_are_inspected_part_by_part_against_their_own_limits() {
    let job = demo::job().unwrap().job;
    let catalog_index = CatalogIndex::new(Arc::new(demo::parts().unwrap().catalog));
    let sizing = sizing::size(&job, &catalog_index);
    let today: Date = "2026-11-25".parse().unwrap();
    let bought = purchase(&job, &catalog_index, &sizing, Some(today));
    let page = inspection(&job, catalog_index.catalog(), &bought, Some(today));
    assert_well_formed(&page);
    for line in bought.lines.iter().filter(|line| line.to_order()) {
        // Other parts have no capacitance to be measured.
        let on_sheet = page.contains(&*line.part_number);
        assert_eq!(on_sheet, line.has_positions(), "{}", line.part_number);
    }
    assert!(page.contains("to measure") && page.contains("Capacitance") && page.contains("Leakage"));
}

#[test]
fn the_worksheet_says_what_nobody_measured() {
    let mut job = demo::job().unwrap().job;
    assert!(sheets(&job).0.contains("Handling"));
    job.boards.iter_mut().flat_map(|board| &mut board.positions).for_each(|position| position.stress.ripple = None);
    let (work, why) = sheets(&job);
    let (_, measure) = work.split_once("To measure first").unwrap();
    let (measure, assumed) = measure.split_once("<h2>Assumed</h2>").unwrap();
    assert!(measure.contains("with more ripple the part runs hotter") && why.contains("ripple"));
    // Said once: what is to be measured is not told again among what was assumed.
    let ripple = assumed.split("<li>").find(|item| item.starts_with("<b>ripple as")).unwrap_or_default();
    let rows: Vec<&str> = measure.split("<tr><td>").skip(1).collect();
    assert!(rows.len() > 5 && rows.iter().all(|row| row.contains(" A at ")));
    for row in rows {
        let reference = row.split('<').next().and_then(|name| name.rsplit(' ').next()).unwrap();
        assert!(ripple.split([' ', ',', ';', '<']).all(|word| word != reference), "{reference}: {ripple}");
    }
}

#[test]
fn a_board_that_stands_twice_in_a_unit_has_two_tables_on_the_worksheet() {
    let mut job = demo::job().unwrap().job;
    let first = job.boards[0].name.clone();
    let named = job.unit_types[0].boards.iter().filter(|name| **name == first).count();
    job.unit_types[0].boards.push(first.clone());
    let page = sheets(&job).0;
    let tables = named + 1;
    assert!(page.contains(&format!("{first} {tables} of {tables}")) && page.contains(&format!("{tables} × {first}")));
}
