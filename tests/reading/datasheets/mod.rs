//! Data sheets end to end: each is typeset here with a difficulty of real ones. Makers, series and part numbers are invented.

mod conditions;
mod hostile;
mod styles;
mod typeset;

use std::path::Path;

use pdf_writer::types::TextRenderingMode;
use refarad::files::child;
use refarad::files::datasheet::{Area, Printed, Rect, place_of};
use refarad::files::import::parts::PartsImport;
use refarad::files::import::{Content, Source, SourceError};
use refarad::files::table::Options;
use refarad::progress::Progress;

use super::{answer, part};
use typeset::{Cell, Page, edges, file, plain};

pub(crate) fn open(bytes: &[u8]) -> Result<Content, SourceError> {
    child::use_program(env!("CARGO_BIN_EXE_refarad").into());
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("talus.pdf");
    std::fs::write(&path, bytes).unwrap();
    Content::open(&path, &Progress::default())
}

fn sources(pages: Vec<Page>, printed: &Printed) -> Result<Vec<Source>, SourceError> {
    open(&file(pages))?.sources(Path::new("talus.pdf"), None, &Options::default(), &[], printed)
}

fn one(pages: Vec<Page>) -> Source {
    let mut all = sources(pages, &Printed::default()).unwrap();
    assert_eq!(all.len(), 1, "one list expected");
    all.remove(0)
}

fn figures(import: &PartsImport, number: &str) -> [Option<f64>; 5] {
    let can = &part(import, number).can;
    [can.capacitance_uf, can.rated_v, can.diameter_mm, can.height_mm, can.ripple_a]
}

fn notes(source: &Source) -> String {
    source.table.notes.iter().map(|note| format!("{}\n", note.text)).collect()
}

/// Two-level header with a turned name and a footnote, merged voltages, a marked figure.
fn list_page() -> Page {
    let mut page = Page::new();
    let xs = [40.0, 90.0, 140.0, 180.0, 220.0, 290.0, 320.0, 430.0];
    let ys = edges(100.0, 20.0, 7);
    let mut cells = vec![
        Cell((0, 1), (0, 2), "Rated\nvoltage (V)"),
        Cell((1, 2), (0, 2), "Cap.\n(\u{b5}F)"),
        Cell((2, 4), (0, 1), "Case size (mm)"),
        Cell((2, 3), (1, 2), "\u{f8}D"),
        Cell((3, 4), (1, 2), "L"),
        Cell((4, 5), (0, 2), "Ripple cur-\nrent (mA rms)^*1"),
        Cell((5, 6), (0, 2), "up:Code"),
        Cell((6, 7), (0, 2), "Part number"),
        Cell((0, 1), (2, 4), "16 (1C)"),
        Cell((0, 1), (4, 7), "25 (1E)"),
    ];
    let rows: [[&'static str; 6]; 5] = [
        ["100", "5", "11", "160", "B", "TA1C101MB"],
        ["*220", "6.3", "11", "240", "C", "TA1C221MC"],
        ["47", "5", "11", "130", "B", "TA1E470MB"],
        ["100", "6.3", "11", "210", "C", "TA1E101MC"],
        ["220", "8", "11.5", "1,090", "D", "TA1E221MD"],
    ];
    for (row, texts) in (2..).zip(rows) {
        cells.extend((1..).zip(texts).map(|(column, text)| Cell((column, column + 1), (row, row + 1), text)));
    }
    page.ruled(&xs, &ys, &cells);
    page.text(40.0, 260.0, 7.0, "*1: Ripple current (100 kHz / +105 \u{b0}C)");
    page.text(40.0, 272.0, 7.0, "* : to be discontinued");
    page
}

#[test]
fn a_ruled_list_with_merged_cells_footnotes_and_a_turned_header() {
    let source = one(vec![list_page()]);
    let import = source.parts();
    assert_eq!(import.parts.len(), 5, "{:?}", import.report);
    assert_eq!(figures(&import, "TA1C101MB"), [Some(100.0), Some(16.0), Some(5.0), Some(11.0), Some(0.16)]);
    assert_eq!(figures(&import, "TA1C221MC"), [Some(220.0), Some(16.0), Some(6.3), Some(11.0), Some(0.24)]);
    assert_eq!(figures(&import, "TA1E221MD"), [Some(220.0), Some(25.0), Some(8.0), Some(11.5), Some(1.09)]);
    // The footnote at the header gives the condition, the mark at the figure leaves it.
    assert_eq!(part(&import, "TA1E470MB").can.ripple_hz, Some(1e5), "{:?}", source.table.header);
    assert!(source.table.header.iter().any(|name| name == "Code"), "{:?}", source.table.header);
    assert!(source.table.header.iter().any(|name| name.starts_with("Ripple current")), "{:?}", source.table.header);
    assert!(notes(&source).contains("1 row has footnote marks"), "{}", notes(&source));
    // Every part says where it stands.
    let (file, page, rect) = place_of(&part(&import, "TA1E470MB").datasheet).unwrap();
    let rect = rect.unwrap();
    assert_eq!((file, page), ("talus.pdf", 1));
    assert!((rect.y0 - 180.0).abs() < 3.0 && (rect.y1 - 200.0).abs() < 3.0, "{rect:?}");
}

#[test]
fn a_list_goes_on_over_pages_with_and_without_its_header() {
    let mut second = Page::new();
    let xs = [40.0, 90.0, 140.0, 180.0, 220.0, 290.0, 320.0, 430.0];
    second.ruled(
        &xs,
        &edges(60.0, 20.0, 2),
        &plain(
            0,
            &[&["35", "47", "5", "11", "150", "B", "TA1V470MB"], &["35", "100", "8", "11.5", "300", "D", "TA1V101MD"]],
        ),
    );
    let import = one(vec![list_page(), second, list_page()]).parts();
    assert_eq!(figures(&import, "TA1V101MD"), [Some(100.0), Some(35.0), Some(8.0), Some(11.5), Some(0.3)]);
    // The third page repeats the first: its rows are duplicates of one list, not another list.
    assert_eq!(import.parts.len(), 7, "{:?}", import.report.set_aside);
}

#[test]
fn a_table_of_voltages_with_a_diagonal_corner_and_two_sizes_in_a_cell() {
    let mut page = Page::new();
    let xs = edges(40.0, 60.0, 5);
    let ys = [100.0, 116.0, 132.0, 148.0, 172.0, 188.0];
    let mut cells =
        vec![Cell((0, 1), (0, 2), "WV   \n   \u{b5}F"), Cell((1, 3), (0, 1), "16"), Cell((3, 5), (0, 1), "25")];
    cells.extend(
        (1..)
            .zip(["Size \u{d8}DxL (mm)", "Ripple mA", "Size \u{d8}DxL (mm)", "Ripple mA"])
            .map(|(at, text)| Cell((at, at + 1), (1, 2), text)),
    );
    cells.extend(plain(
        2,
        &[
            &["47", "--", "--", "5x11", "70"],
            &["100", "5x11\n6.3x11", "90\n110", "6.3x11", "120"],
            &["220", "6.3x11", "150", "--", "--"],
        ],
    ));
    page.text(40.0, 90.0, 9.0, "Ripple current: 105\u{b0}C, 120Hz")
        .ruled(&xs, &ys, &cells)
        .line((40.0, 100.0), (100.0, 132.0));
    let import = one(vec![page]).parts();
    let mut got: Vec<_> = import
        .parts
        .iter()
        .map(|(_, part)| {
            let can = &part.can;
            [can.capacitance_uf, can.rated_v, can.diameter_mm, can.height_mm, can.ripple_a, can.ripple_hz]
                .map(Option::unwrap)
        })
        .collect();
    got.sort_by(|a, b| a.partial_cmp(b).unwrap());
    let expected = [
        [47.0, 25.0, 5.0, 11.0, 0.07, 120.0],
        [100.0, 16.0, 5.0, 11.0, 0.09, 120.0],
        [100.0, 16.0, 6.3, 11.0, 0.11, 120.0],
        [100.0, 25.0, 6.3, 11.0, 0.12, 120.0],
        [220.0, 16.0, 6.3, 11.0, 0.15, 120.0],
    ];
    assert_eq!(got, expected, "{:?}", import.report);
}

const HEADER: [&str; 5] = ["WV (V)", "Cap (\u{b5}F)", "Size DxL (mm)", "Ripple (mA, 120Hz)", "Part No."];

#[test]
fn two_lists_side_by_side_are_one() {
    let mut page = Page::new();
    let xs: Vec<f32> = edges(30.0, 53.0, 10);
    let head: Vec<&'static str> = HEADER.iter().chain(&HEADER).copied().collect();
    let rows: [&[&'static str]; 3] = [
        &head,
        &["16", "47", "5x11", "80", "TB1C470M", "25", "47", "5x11", "90", "TB1E470M"],
        &["16", "100", "6.3x11", "120", "TB1C101M", "25", "100", "8x11.5", "150", "TB1E101M"],
    ];
    page.ruled(&xs, &edges(100.0, 16.0, 3), &plain(0, &rows));
    let import = one(vec![page]).parts();
    assert_eq!(import.parts.len(), 4);
    assert_eq!(figures(&import, "TB1E101M"), [Some(100.0), Some(25.0), Some(8.0), Some(11.5), Some(0.15)]);
}

/// Capacitance, voltage, diameter and ripple of every part, in order.
fn sorted(sources: &[Source]) -> Vec<[Option<f64>; 4]> {
    let figures = |(_, part): &(u64, refarad::domain::Part)| {
        let can = &part.can;
        [can.capacitance_uf, can.rated_v, can.diameter_mm, can.ripple_a]
    };
    let mut all: Vec<_> = sources.iter().flat_map(|source| source.parts().parts).map(|part| figures(&part)).collect();
    all.sort_by(|a, b| a.partial_cmp(b).unwrap());
    all
}

#[test]
fn tables_side_by_side_under_a_voltage_each_keep_their_own() {
    let mut page = Page::new();
    for (volts, left, ripples) in [("16 V", 40.0, ["70", "110"]), ("25 V", 310.0, ["80", "120"])] {
        let (xs, ys) = (edges(left, 80.0, 3), edges(100.0, 16.0, 4));
        let mut cells = vec![Cell((0, 3), (0, 1), volts)];
        let head = ["Cap (\u{b5}F)", "Size DxL (mm)", "Ripple (mA, 120Hz)"];
        cells.extend(plain(1, &[&head, &["47", "5x11", ripples[0]], &["100", "6.3x11", ripples[1]]]));
        page.ruled(&xs, &ys, &cells);
    }
    let expected =
        [[47.0, 16.0, 5.0, 0.07], [47.0, 25.0, 5.0, 0.08], [100.0, 16.0, 6.3, 0.11], [100.0, 25.0, 6.3, 0.12]];
    assert_eq!(sorted(&[one(vec![page])]), expected.map(|part| part.map(Some)));
}

#[test]
fn matrices_with_the_same_axes_under_other_titles_are_two_tables() {
    let mut page = Page::new();
    let matrix = |page: &mut Page, top: f32, title: &str, cells: [[&'static str; 2]; 2]| {
        let rows: [&[&'static str]; 3] =
            [&["\u{b5}F \\ V", "16", "25"], &["47", cells[0][0], cells[0][1]], &["100", cells[1][0], cells[1][1]]];
        page.text(40.0, top - 8.0, 9.0, title);
        page.ruled(&edges(40.0, 80.0, 3), &edges(top, 16.0, 3), &plain(0, &rows));
    };
    matrix(&mut page, 100.0, "Case size DxL (mm)", [["5x11", "6.3x11"], ["6.3x11", "8x11.5"]]);
    matrix(&mut page, 300.0, "Ripple current (mA rms, 105\u{b0}C 120Hz)", [["70", "80"], ["110", "160"]]);
    let all = sources(vec![page], &Printed::default()).unwrap();
    assert_eq!(all.len(), 2);
    let ripples: Vec<_> = sorted(&all[1..]).into_iter().map(|part| part[3].unwrap()).collect();
    assert_eq!(ripples, [0.07, 0.08, 0.11, 0.16]);
}

#[test]
fn a_ripple_condition_of_the_sheet_is_offered_for_every_table_of_it() {
    let mut page = Page::new();
    let columns =
        |unit: &'static str| -> [&'static str; 5] { ["WV (V)", "Cap (\u{b5}F)", "Size DxL (mm)", unit, "Part No."] };
    page.text(40.0, 60.0, 9.0, "Rated ripple current: 105\u{b0}C, 100kHz");
    let first: [&[&'static str]; 2] = [&columns("Ripple (mA)"), &["16", "47", "5x11", "80", "TL1C470M"]];
    page.ruled(&edges(40.0, 90.0, 5), &edges(100.0, 16.0, 2), &plain(0, &first));
    let second: [&[&'static str]; 2] = [&columns("Ripple mA"), &["25", "47", "5x11", "90", "TL1E470M"]];
    page.ruled(&edges(40.0, 90.0, 5), &edges(500.0, 16.0, 2), &plain(0, &second));
    let all = sources(vec![page], &Printed::default()).unwrap();
    assert_eq!(all.len(), 2);
    for mut source in all {
        answer(&source.parts().report, "frequency of the ripple", "100000 Hz, as the text says")
            .apply(&mut source.mapping)
            .unwrap();
        assert_eq!(source.parts().parts[0].1.can.ripple_hz, Some(1e5));
    }
}

#[test]
fn what_stands_over_several_columns_hides_none_of_their_names() {
    let mut page = Page::new();
    let xs = edges(40.0, 80.0, 6);
    let ys = edges(100.0, 16.0, 5);
    let mut cells: Vec<Cell> = [(0, "UR (V)"), (1, "CR (\u{b5}F)"), (2, "Size DxL (mm)"), (5, "Order code")]
        .map(|(at, name)| Cell((at, at + 1), (0, 3), name))
        .into();
    cells.extend([Cell((3, 5), (0, 1), "Electrical"), Cell((3, 5), (1, 2), "IR (mA)")]);
    cells.extend([Cell((3, 4), (2, 3), "120Hz 105\u{b0}C"), Cell((4, 5), (2, 3), "100kHz 105\u{b0}C")]);
    let rows: [&[&'static str]; 2] =
        [&["16", "47", "5x11", "70", "140", "SR16A47"], &["25", "100", "8x11.5", "110", "220", "SR25A100"]];
    cells.extend(plain(3, &rows));
    page.ruled(&xs, &ys, &cells);
    let import = one(vec![page]).parts();
    let can = &part(&import, "SR25A100").can;
    assert_eq!((can.ripple_a, can.ripple_hz), (Some(0.11), Some(120.0)), "{:?}", import.report);
    assert_eq!(can.ripple_freq_factors, "120:1;100000:2".parse().ok());
}

#[test]
fn a_list_without_lines_is_read_by_its_gaps_and_unclear_labels_are_not_guessed() {
    let xs = [40.0, 100.0, 170.0, 250.0, 360.0];
    let rows = |volts: [&'static str; 5]| -> Vec<[&'static str; 5]> {
        let rest = [
            ["47", "5x11", "80", "TC1C470M"],
            ["100", "6.3x11", "120", "TC1C101M"],
            ["220", "8x11.5", "190", "TC1C221M"],
            ["47", "5x11", "90", "TC1E470M"],
            ["100", "8x11.5", "150", "TC1E101M"],
        ];
        volts.into_iter().zip(rest).map(|(v, [a, b, c, d])| [v, a, b, c, d]).collect()
    };
    let read = |volts| {
        let mut page = Page::new();
        let rows = rows(volts);
        let mut all: Vec<&[&str]> = vec![&HEADER];
        all.extend(rows.iter().map(|row| row.as_slice()));
        page.columns(&xs, 100.0, &all);
        one(vec![page]).parts()
    };
    let full = read(["16", "16", "16", "25", "25"]);
    assert_eq!(figures(&full, "TC1E101M"), [Some(100.0), Some(25.0), Some(8.0), Some(11.5), Some(0.15)]);
    // In the middle of three rows: 16 V holds for the one above it, too; then 25 V at the first of its two rows is no middle. Only the
    // rows beside the labels are sure.
    let unclear = read(["", "16", "", "25", ""]);
    let kept: Vec<_> = unclear.parts.iter().map(|(_, part)| (part.part_number.as_str(), part.can.rated_v)).collect();
    assert_eq!(kept, [("TC1C101M", Some(16.0)), ("TC1E470M", Some(25.0))]);
    assert!(unclear.report.rejected.iter().all(|row| row.field.contains("voltage")), "{:?}", unclear.report.rejected);
    let top = read(["16", "", "", "25", ""]);
    assert_eq!(figures(&top, "TC1C221M")[1], Some(16.0));
    assert_eq!(figures(&top, "TC1E101M")[1], Some(25.0));
}

#[test]
fn what_cannot_be_seen_is_not_read() {
    let mut page = list_page();
    // White on white, without paint, under a fill: none of them may join a figure.
    page.content.set_fill_gray(1.0);
    page.text(118.0, 152.0, 8.0, "9").text(255.0, 152.0, 8.0, "777");
    page.content.set_fill_gray(0.0);
    page.mode(TextRenderingMode::Invisible).text(118.0, 192.0, 8.0, "8").mode(TextRenderingMode::Fill);
    page.text(440.0, 400.0, 8.0, "covered").filled(430.0, 380.0, 80.0, 40.0, 1.0);
    // Under a clip.
    page.content.save_state().rect(0.0, 0.0, 10.0, 10.0).clip_nonzero().end_path();
    page.text(118.0, 212.0, 8.0, "7");
    page.content.restore_state();
    let source = one(vec![page]);
    let import = source.parts();
    assert_eq!(figures(&import, "TA1C101MB"), [Some(100.0), Some(16.0), Some(5.0), Some(11.0), Some(0.16)]);
    assert_eq!(figures(&import, "TA1E470MB")[0], Some(47.0));
    assert_eq!(figures(&import, "TA1E101MC")[0], Some(100.0));
    assert!(notes(&source).contains("page 1: 13 letters that cannot be seen"), "{}", notes(&source));
}

#[test]
fn white_letters_on_a_dark_header_are_seen() {
    let mut page = Page::new();
    page.filled(40.0, 100.0, 400.0, 16.0, 0.2);
    let xs = edges(40.0, 80.0, 5);
    page.content.set_fill_gray(1.0);
    page.ruled(&xs, &edges(100.0, 16.0, 1), &plain(0, &[&HEADER]));
    page.content.set_fill_gray(0.0);
    page.ruled(
        &xs,
        &edges(116.0, 16.0, 2),
        &plain(0, &[&["16", "47", "5x11", "80", "TD1C470M"], &["16", "100", "5x11", "90", "TD1C101M"]]),
    );
    let import = one(vec![page]).parts();
    assert_eq!(figures(&import, "TD1C101M"), [Some(100.0), Some(16.0), Some(5.0), Some(11.0), Some(0.09)]);
}

#[test]
fn a_scan_with_a_text_layer_is_refused_with_its_reason() {
    let mut page = Page::new();
    page.content
        .save_state()
        .transform([595.0, 0.0, 0.0, 842.0, 0.0, 0.0])
        .x_object(pdf_writer::Name(b"Scan"))
        .restore_state();
    page.mode(TextRenderingMode::Invisible);
    page.columns(
        &[40.0, 100.0, 170.0, 250.0, 360.0],
        100.0,
        &[
            &HEADER,
            &["16", "47", "5x11", "80", "TE1C470M"],
            &["16", "100", "5x11", "90", "TE1C101M"],
            &["16", "220", "5x11", "95", "TE1C221M"],
        ],
    );
    let refused = sources(vec![page], &Printed::default()).unwrap_err().to_string();
    assert!(refused.contains("page 1 is a scan"), "{refused}");
}

#[test]
fn a_sign_without_a_letter_is_asked_about_and_spoils_only_its_own_figures() {
    let page = || {
        let mut page = Page::new();
        let xs = edges(40.0, 80.0, 5);
        page.ruled(
            &xs,
            &edges(100.0, 16.0, 4),
            &plain(
                0,
                &[
                    &HEADER,
                    &["16", "47", "5x11", "80", "TF1C470M"],
                    &["16", "100", "", "90", "TF1C101M"],
                    &["16", "22", "5x11", "60", "TF1C220M"],
                ],
            ),
        );
        page.in_font("F2", 238.0, 144.0, 8.0, b"a").text(245.0, 144.0, 8.0, "x11");
        page
    };
    let source = one(vec![page()]);
    let import = source.parts();
    let sign = &source.places.as_ref().unwrap().signs[0];
    assert!(notes(&source).contains(&format!("--sign {}=LETTER", sign.1.key)), "{}", notes(&source));
    assert_eq!(figures(&import, "TF1C470M")[2], Some(5.0));
    assert_eq!(figures(&import, "TF1C101M")[2..4], [None, None]);
    let said = Printed { letters: [(sign.1.key.clone(), "8".to_owned())].into(), ..Printed::default() };
    let import = sources(vec![page()], &said).unwrap().remove(0).parts();
    assert_eq!(figures(&import, "TF1C101M")[2..4], [Some(8.0), Some(11.0)]);
}

#[test]
fn endurance_and_multipliers_of_the_sheet_are_asked_about_and_never_assumed() {
    let mut first = Page::new();
    first.text(40.0, 80.0, 9.0, "Endurance: 105 \u{b0}C 5000 h with rated ripple current");
    first.text(40.0, 92.0, 9.0, "Shelf life: 105 \u{b0}C 1000 h");
    first.text(40.0, 110.0, 9.0, "Frequency multipliers of the ripple current");
    let rows: [&[&'static str]; 3] = [
        &["Cap (\u{b5}F) \\ Frequency (Hz)", "120", "1k", "10k", "100k"],
        &["to 100", "0.5", "0.8", "0.9", "1"],
        &["101 to 470", "0.6", "0.85", "0.95", "1"],
    ];
    first.ruled(&edges(40.0, 100.0, 5), &edges(120.0, 16.0, 3), &plain(0, &rows));
    let mut source = one(vec![first, list_page()]);
    let import = source.parts();
    let can = &part(&import, "TA1E221MD").can;
    assert_eq!((can.endurance_h, can.ripple_freq_factors.as_ref()), (None, None));
    for (what, label) in [("multipliers", "yes"), ("which endurance", "5000"), ("upper temperature", "yes")] {
        if import.report.questions.iter().any(|question| question.what.contains(what)) {
            answer(&import.report, what, label).apply(&mut source.mapping).unwrap();
        }
    }
    let import = source.parts();
    answer(&import.report, "endurance test", "ripple").apply(&mut source.mapping).unwrap();
    let import = source.parts();
    let can = &part(&import, "TA1E221MD").can;
    assert_eq!((can.endurance_h, can.temp_max_c), (Some(5000.0), Some(105.0)));
    assert_eq!(can.ripple_freq_factors, "120:0.6;1000:0.85;10000:0.95;100000:1".parse().ok());
    assert_eq!(part(&import, "TA1E470MB").can.ripple_freq_factors, "120:0.5;1000:0.8;10000:0.9;100000:1".parse().ok());
    assert_eq!(can.endurance_basis, Some(refarad::domain::EnduranceBasis::Ripple));
}

#[test]
fn voltages_in_front_of_the_names_of_one_header_line_are_an_axis() {
    let mut page = Page::new();
    let rows: [&[&'static str]; 3] = [
        &["Cap (\u{b5}F)", "160 Size DxL (mm)", "160 Ripple mA", "200 Size DxL (mm)", "200 Ripple mA"],
        &["10", "10x12.5", "65", "10x16", "75"],
        &["22", "10x16", "110", "10x20", "120"],
    ];
    page.text(40.0, 90.0, 9.0, "Ripple current: 105\u{b0}C, 120Hz");
    page.ruled(&edges(40.0, 90.0, 5), &edges(100.0, 20.0, 3), &plain(0, &rows));
    let import = one(vec![page]).parts();
    let mut got: Vec<_> = import
        .parts
        .iter()
        .map(|(_, part)| {
            let can = &part.can;
            [can.capacitance_uf, can.rated_v, can.diameter_mm, can.height_mm, can.ripple_a].map(Option::unwrap)
        })
        .collect();
    got.sort_by(|a, b| a.partial_cmp(b).unwrap());
    let expected = [
        [10.0, 160.0, 10.0, 12.5, 0.065],
        [10.0, 200.0, 10.0, 16.0, 0.075],
        [22.0, 160.0, 10.0, 16.0, 0.11],
        [22.0, 200.0, 10.0, 20.0, 0.12],
    ];
    assert_eq!(got, expected, "{:?}", import.report);
}

#[test]
fn sub_rows_parted_words_codes_and_a_thin_diameter() {
    let mut page = Page::new();
    let xs = [40.0, 95.0, 140.0, 180.0, 215.0, 250.0, 330.0, 430.0];
    let mut cells = plain(
        0,
        &[&[
            "WV (V)",
            "Cap (\u{b5}F)",
            "Code",
            "\u{f8}D (mm)",
            "L (mm)",
            "Impe-\ndance\n(\u{3a9}, 100kHz)",
            "Part No.",
        ]],
    );
    cells.extend([Cell((0, 1), (1, 4), "220 (2P)"), Cell((1, 2), (1, 3), "100"), Cell((2, 3), (1, 3), "101")]);
    cells.extend([Cell((1, 2), (3, 4), "150"), Cell((2, 3), (3, 4), "151")]);
    for (row, texts) in
        [["16", "25", "0.42", "TH2P101M1"], ["18", "20", "0.40", "TH2P101M2"], ["0.8", "25", "0.35", "TH2P151M"]]
            .into_iter()
            .enumerate()
    {
        cells.extend((3..).zip(texts).map(|(column, text)| Cell((column, column + 1), (row + 1, row + 2), text)));
    }
    page.ruled(&xs, &[100.0, 136.0, 154.0, 172.0, 190.0], &cells);
    let source = one(vec![page]);
    let import = source.parts();
    assert!(source.table.header.iter().any(|name| name.starts_with("Impedance")), "{:?}", source.table.header);
    // A code beside the capacitance is no part number, and 2P is 220 V.
    assert_eq!(figures(&import, "TH2P101M1"), [Some(100.0), Some(220.0), Some(16.0), Some(25.0), None]);
    assert_eq!(figures(&import, "TH2P101M2"), [Some(100.0), Some(220.0), Some(18.0), Some(20.0), None]);
    assert_eq!(figures(&import, "TH2P151M")[2], None);
    answer(&import.report, "no can is 0.8 mm", "leads");
}

#[test]
fn a_box_drawn_by_hand_says_where_the_table_is() {
    let mut page = list_page();
    page.columns(
        &[40.0, 100.0, 170.0, 250.0, 360.0],
        500.0,
        &[&HEADER, &["35", "47", "5x11", "80", "TG1V470M"], &["35", "100", "5x11", "90", "TG1V101M"]],
    );
    let rect = Rect { x0: 30.0, y0: 490.0, x1: 450.0, y1: 540.0 };
    let areas = vec![Area { page: 1, rect, columns: vec![35.0, 95.0, 165.0, 245.0, 355.0, 450.0] }];
    let import = sources(vec![page], &Printed { areas, ..Printed::default() }).unwrap().remove(0).parts();
    assert_eq!(import.parts.len(), 2);
    assert_eq!(figures(&import, "TG1V101M"), [Some(100.0), Some(35.0), Some(5.0), Some(11.0), Some(0.09)]);
}
