//! No file makes the import panic, and every row is accounted for.

use proptest::prelude::*;
use refarad::domain::Board;
use refarad::files::import::offers::offers;
use refarad::files::import::placement::place;
use refarad::files::import::{Mapping, Source, Target};
use refarad::files::table::Options;
use refarad::files::{offers as canonical, parts_writer};

const CELLS: &[&str] = &[
    "",
    "-",
    "C1",
    "C1-C4",
    "C?",
    "R1",
    "470uF",
    "4u7",
    "470MF",
    "4.700",
    "25V",
    "25/50 V",
    "16(1C)",
    "10x20",
    "11x5",
    "SMD,D6.3xL5.4mm",
    "CP_Radial_D10.0mm_P5.00mm",
    "0805",
    "CAP ALUM 470UF 20% 35V",
    "hybrid",
    "X7R",
    "1.35A @ 100kHz",
    "45",
    "2000 Hrs @ 105°C",
    "-40°C ~ 105°C",
    "top",
    "B",
    "-90",
    "R270",
    "12.7mm",
    "500mil",
    "1e309",
    "-1",
    "0",
    "999999999999",
    "±20%",
    "\"",
    "é",
    "QXA1H101MPD",
    "C1,C2",
    "DNP",
];
const HEADERS: &[&str] = &[
    "Designator",
    "Value",
    "Comment",
    "MPN",
    "Voltage",
    "Cap (uF)",
    "Capacitance",
    "unit",
    "Size",
    "Footprint",
    "Rated ripple",
    "Description",
    "Mid X",
    "Mid Y",
    "Rotation",
    "Layer",
    "Quantity",
    "Type",
    "Price",
    "Price 10",
    "Stock",
    "Supplier",
    "Lifetime @ Temp.",
    "tanδ",
    "ESR",
    "Tolerance",
    "Height",
    "odd",
];

fn cell() -> impl Strategy<Value = String> {
    prop_oneof![
        4 => prop::sample::select(CELLS).prop_map(str::to_string),
        1 => "[ -~µΩ°×]{0,12}".prop_map(|text| text.replace([',', '"'], " ")),
    ]
}

fn all_ways(bytes: &[u8]) -> Result<(), TestCaseError> {
    for target in [None, Some(Target::Parts), Some(Target::Positions), Some(Target::Placement), Some(Target::Offers)] {
        let Ok(sources) = Source::all_from_bytes("any.csv".as_ref(), bytes, target, &Options::default()) else {
            continue;
        };
        for mut source in sources {
            let again = Mapping::from_slice(source.mapping.to_text().as_bytes(), "m.json".as_ref());
            prop_assert_eq!(again.ok(), Some(source.mapping.clone()));
            let parts = source.parts();
            let report = &parts.report;
            prop_assert_eq!(report.kept + report.set_aside_rows() + report.refused, report.rows, "{:?}", report);
            let positions = source.positions();
            let listed = &positions.report;
            prop_assert_eq!(listed.kept + listed.set_aside_rows() + listed.refused, listed.rows, "{:?}", listed);
            let offers = offers(&source.table, &source.mapping, &source.path, &|_| true).unwrap();
            let sold = &offers.report;
            prop_assert_eq!(sold.kept + sold.set_aside_rows() + sold.refused, sold.rows, "{:?}", sold);
            let mut written = Vec::new();
            parts_writer::write_offers(&mut written, offers.parts.iter().map(|(_, offer)| offer)).unwrap();
            let again = canonical::from_bytes(&[("any.offers.csv".into(), written)]).unwrap();
            let twice = |reason: &str| reason.contains("the later row is used");
            prop_assert!(again.rejected.iter().all(|rejected| twice(&rejected.reason)), "{:?}", again.rejected);
            let mut board =
                Board { positions: positions.positions.into_iter().map(|(_, p)| p).collect(), ..Board::default() };
            let _ = place(&source.table, &source.mapping, &source.path, &mut board);
            prop_assert!(board.positions.iter().all(|p| p.original.can.height_mm.is_none_or(|mm| mm > 0.0)));
            prop_assert!(board.positions.iter().all(|p| p.x_mm.is_none_or(f64::is_finite)));
            // Whatever a person answers, nothing breaks either.
            for choice in report
                .questions
                .iter()
                .chain(&positions.report.questions)
                .chain(&sold.questions)
                .flat_map(|question| &question.choices)
            {
                choice.answer.apply(&mut source.mapping).unwrap();
            }
            let _ = source.parts();
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn tables_of_plausible_cells_are_accounted_for(
        headers in prop::sample::subsequence(HEADERS, 1..8),
        rows in prop::collection::vec(prop::collection::vec(cell(), 8), 0..6),
    ) {
        let mut text = headers.join(",") + "\n";
        for row in rows {
            let cells: Vec<String> = row.iter().take(headers.len()).map(|cell| format!("\"{}\"", cell.replace('"', "\"\""))).collect();
            text.push_str(&(cells.join(",") + "\n"));
        }
        all_ways(text.as_bytes())?;
    }

    #[test]
    fn no_bytes_make_the_import_panic(bytes in prop_oneof![
        prop::collection::vec(any::<u8>(), 0..300),
        "[C1,;|\t\"\n 0-9uFVx.-]{0,200}".prop_map(String::into_bytes),
    ]) {
        all_ways(&bytes)?;
        let _ = Mapping::from_slice(&bytes, "m.json".as_ref());
    }
}

/// Files that once broke a reader, and a few that were made to try: none may break one again.
#[test]
fn files_that_broke_a_reader_no_longer_do() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reading/regressions");
    let mut read = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let bytes = std::fs::read(entry.unwrap().path()).unwrap();
        all_ways(&bytes).unwrap();
        let _ = Mapping::from_slice(&bytes, "m.json".as_ref());
        let _ = refarad::files::job::from_slice(&bytes, "j.json".as_ref());
        let _ = refarad::files::parts::from_bytes(vec![("c.csv".into(), bytes)]);
        read += 1;
    }
    assert!(read > 0);
}
