//! What stands over tables, in their headers and in other tables, and holds for some rows only.

use refarad::files::datasheet::Printed;
use refarad::files::import::parts::PartsImport;

use super::typeset::{Cell, Page, edges, plain};
use super::{answer, figures, notes, one, part, sources};

const NAMES: [&str; 5] = ["V", "\u{b5}F", "DxL mm", "Ripple mA", "Part No."];

fn choices(import: &PartsImport, what: &str) -> Vec<String> {
    let question = import.report.questions.iter().find(|question| question.what.contains(what));
    let question = question.unwrap_or_else(|| panic!("{what} is not asked: {:?}", import.report.questions));
    question.choices.iter().map(|choice| choice.label.clone()).collect()
}

#[test]
fn lists_of_one_header_under_other_conditions_stay_apart() {
    let mut page = Page::new();
    page.text(40.0, 90.0, 8.0, "TDA: ripple current at 105 \u{b0}C, 120 Hz");
    page.ruled(
        &edges(40.0, 80.0, 5),
        &edges(100.0, 14.0, 2),
        &plain(0, &[&NAMES, &["25", "100", "6.3x11", "180", "TDA101"]]),
    );
    page.text(40.0, 190.0, 8.0, "TDB: ripple current at 105 \u{b0}C, 100 kHz");
    page.ruled(
        &edges(40.0, 80.0, 5),
        &edges(200.0, 14.0, 2),
        &plain(0, &[&NAMES, &["25", "100", "6.3x11", "340", "TDB101"]]),
    );
    let lists = sources(vec![page], &Printed::default()).unwrap();
    let offered: Vec<String> =
        lists.iter().map(|list| choices(&list.parts(), "frequency of the ripple").remove(0)).collect();
    assert_eq!(offered.len(), 2);
    assert!(offered[0].contains("120 Hz") && offered[1].contains("100 kHz"), "{offered:?}");
}

#[test]
fn a_voltage_over_the_first_rows_is_that_of_the_rows_and_no_name() {
    let mut page = Page::new();
    let mut cells = plain(0, &[&["CR (\u{b5}F)", "Size DxL (mm)", "ESR (m\u{3a9}) 120 Hz", "Ordering code"]]);
    cells.extend([Cell((0, 4), (1, 2), "Rated voltage 400 V"), Cell((0, 4), (3, 4), "Rated voltage 450 V")]);
    cells.extend(plain(2, &[&["100", "22x30", "1990", "TLB400-101"]]));
    cells.extend(plain(4, &[&["82", "22x30", "2430", "TLB450-820"]]));
    page.ruled(&edges(40.0, 100.0, 4), &edges(100.0, 16.0, 5), &cells);
    let import = one(vec![page]).parts();
    assert_eq!(figures(&import, "TLB400-101")[..4], [Some(100.0), Some(400.0), Some(22.0), Some(30.0)]);
    assert_eq!(figures(&import, "TLB450-820")[..4], [Some(82.0), Some(450.0), Some(22.0), Some(30.0)]);
}

#[test]
fn three_figures_under_each_voltage_in_one_line_of_a_header() {
    let mut page = Page::new();
    page.text(40.0, 90.0, 8.0, "Ripple current at 120 Hz, 85 \u{b0}C; size DxL in mm");
    let names = ["Cap. \u{b5}F", "160 V\nSize\nmm", "160 V\nRipple\nA", "200 V\nSize\nmm", "200 V\nRipple\nA"];
    let cells = plain(0, &[&names, &["220", "22x25", "1.15", "22x30", "1.24"], &["330", "22x30", "1.45", "-", "-"]]);
    page.ruled(&edges(40.0, 90.0, 5), &[100.0, 136.0, 150.0, 164.0], &cells);
    let import = one(vec![page]).parts();
    let mut read: Vec<[Option<f64>; 4]> = import
        .parts
        .iter()
        .map(|(_, part)| [part.can.capacitance_uf, part.can.rated_v, part.can.height_mm, part.can.ripple_a])
        .collect();
    read.sort_by(|a, b| a.partial_cmp(b).unwrap());
    let expected = [[220.0, 160.0, 25.0, 1.15], [220.0, 200.0, 30.0, 1.24], [330.0, 160.0, 30.0, 1.45]];
    assert_eq!(read, expected.map(|figures| figures.map(Some)), "{:?}", import.report);
}

fn with_multipliers(frequencies: &[&'static str], factors: &[&'static str], life: &str) -> Page {
    let mut page = Page::new();
    page.text(40.0, 60.0, 8.0, life);
    page.ruled(
        &edges(40.0, 80.0, 5),
        &edges(100.0, 14.0, 2),
        &plain(0, &[&NAMES, &["25", "100", "6.3x11", "180", "TDA101"]]),
    );
    page.text(40.0, 190.0, 8.0, "Frequency correction factor for ripple current");
    page.ruled(&edges(40.0, 80.0, 4), &edges(200.0, 14.0, 2), &plain(0, &[frequencies, factors]));
    page
}

#[test]
fn a_last_frequency_with_a_word_behind_it_is_one_and_an_unread_one_ends_the_table() {
    let source = one(vec![with_multipliers(
        &["Frequency (Hz)", "120", "1 k", "100 k to"],
        &["Factor", "0.75", "0.90", "1.00"],
        "TDA",
    )]);
    assert!(source.table.rows.iter().any(|row| row.cells.iter().any(|cell| cell == "120:0.75;1000:0.9;100000:1")));
    let unread = ["Frequency (Hz)", "120", "1 k", "10 k", "1 octave 5"];
    let mut page = with_multipliers(&unread[..4], &["Factor", "0.75", "0.90", "0.95"], "TDA");
    page.ruled(&[360.0, 440.0], &edges(200.0, 14.0, 2), &plain(0, &[&["x 100 k"], &["1.00"]]));
    let source = one(vec![page]);
    assert!(notes(&source).contains("cannot be read"), "{}", notes(&source));
}

#[test]
fn every_endurance_of_a_line_and_of_a_table_by_diameters_is_offered() {
    let life = "Endurance: 105 \u{b0}C, rated voltage 2000 / 5000 hours";
    let frequencies = ["Frequency (Hz)", "120", "1 k", "100 k"];
    let import = one(vec![with_multipliers(&frequencies, &["Factor", "0.75", "0.90", "1.00"], life)]).parts();
    assert_eq!(choices(&import, "which endurance"), ["2000 h @ 105 \u{b0}C", "5000 h @ 105 \u{b0}C"]);
    let mut page = with_multipliers(&frequencies, &["Factor", "0.75", "0.90", "1.00"], "TDA");
    let rows: [&[&str]; 3] = [&["Diameter", "Endurance at 105 \u{b0}C"], &["8", "4000 hours"], &["10", "6000 hours"]];
    page.ruled(&edges(40.0, 120.0, 2), &edges(300.0, 14.0, 3), &plain(0, &rows));
    let import = one(vec![page]).parts();
    assert_eq!(choices(&import, "which endurance"), ["4000 h @ 105 \u{b0}C", "6000 h @ 105 \u{b0}C"]);
}

#[test]
fn a_form_is_no_list_and_is_not_called_a_page_without_tables() {
    let mut page = Page::new();
    let rows: [&[&str]; 3] = [&["Series", "TKA"], &["Case size", "8x11"], &["Load life", "2000 hrs"]];
    page.ruled(&edges(40.0, 120.0, 2), &edges(100.0, 14.0, 3), &plain(0, &rows));
    let error = sources(vec![page], &Printed::default()).unwrap_err().to_string();
    assert!(error.contains("table") && !error.contains("no table was found"), "{error}");
}

#[test]
fn an_endurance_of_a_footnote_is_offered_for_the_rows_with_its_mark() {
    let mut page = Page::new();
    page.text(40.0, 60.0, 8.0, "Endurance: 2000 hours at 105 \u{b0}C");
    let rows: [&[&str]; 3] =
        [&NAMES, &["25", "100", "6.3x11", "180", "TDA101"], &["25", "*220", "8x11.5", "250", "TDA221"]];
    page.ruled(&edges(40.0, 80.0, 5), &edges(100.0, 14.0, 3), &plain(0, &rows));
    page.text(40.0, 180.0, 8.0, "* : endurance 3000 hours at 105 \u{b0}C");
    let mut source = one(vec![page]);
    assert_eq!(choices(&source.parts(), "which endurance")[0], "each row that of its footnote mark or diameter");
    assert!(source.parts().parts.iter().all(|(_, part)| part.can.endurance_h.is_none()));
    let by_mark = answer(&source.parts().report, "which endurance", "footnote mark");
    by_mark.apply(&mut source.mapping).unwrap();
    let import = source.parts();
    let lives: Vec<_> = ["TDA101", "TDA221"].map(|number| part(&import, number).can.endurance_h).into();
    assert_eq!(lives, [Some(2000.0), Some(3000.0)]);
}
