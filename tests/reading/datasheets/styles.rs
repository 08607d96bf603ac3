//! Sheets in the styles of many makers, each with several difficulties of real ones, their figures compared cell by cell.

use pdf_writer::types::TextRenderingMode;
use refarad::files::datasheet::Printed;
use refarad::files::import::Source;
use refarad::files::import::parts::PartsImport;

use super::typeset::{Cell, Page, edges, plain};
use super::{answer, notes, one, sources};

/// A figure that is to stay unknown.
const NONE: f64 = -1.0;

/// Capacitance (µF), rated voltage, diameter, height (mm), ripple (A) and its frequency, ESR (mΩ), tan δ of each part by its number.
fn read(import: &PartsImport) -> Vec<(String, [f64; 8])> {
    let figures = |(_, part): &(u64, refarad::domain::Part)| {
        let can = &part.can;
        let all = [
            can.capacitance_uf,
            can.rated_v,
            can.diameter_mm,
            can.height_mm,
            can.ripple_a,
            can.ripple_hz,
            can.esr_mohm,
            can.tan_delta,
        ];
        (part.part_number.clone(), all.map(|figure| figure.unwrap_or(NONE)))
    };
    let mut all: Vec<_> = import.parts.iter().map(figures).collect();
    all.sort_by(|a, b| a.partial_cmp(b).unwrap());
    all
}

fn same(import: &PartsImport, expected: &[(&str, [f64; 8])]) {
    let expected: Vec<_> = expected.iter().map(|(number, figures)| ((*number).to_owned(), *figures)).collect();
    assert_eq!(read(import), expected, "{:?}", import.report);
}

/// The figures alone, for tables without part numbers.
fn same_figures(import: &PartsImport, expected: &[[f64; 8]]) {
    let mut figures: Vec<[f64; 8]> = read(import).into_iter().map(|(_, figures)| figures).collect();
    figures.sort_by(|a, b| a.partial_cmp(b).unwrap());
    assert_eq!(figures, expected, "{:?}", import.report);
}

fn take(source: &mut Source, what: &str, label: &str) {
    answer(&source.parts().report, what, label).apply(&mut source.mapping).unwrap();
}

fn endurances(import: &PartsImport) -> Vec<Option<f64>> {
    import.parts.iter().map(|(_, part)| part.can.endurance_h).collect()
}

#[test]
fn lines_across_only_voltages_between_the_rows_and_two_ratings() {
    let mut page = Page::new();
    let xs = [40.0, 80.0, 140.0, 190.0, 240.0, 300.0, 360.0];
    page.text(40.0, 80.0, 9.0, "TR4 useful life 5000 h at");
    page.text(40.0, 91.0, 9.0, "105 \u{b0}C with rated ripple current");
    page.line((38.0, 110.0), (470.0, 110.0)).line((38.0, 166.0), (470.0, 166.0)).line((38.0, 290.0), (470.0, 290.0));
    // Names in the middle of their height: their lines do not stand on one line with their neighbours'.
    for (at, lines) in [
        vec!["CR", "100 Hz", "\u{b5}F"],
        vec!["Dimensions", "d x l", "mm"],
        vec!["ESR max", "100 Hz", "m\u{3a9}"],
        vec!["Z max", "10 kHz", "m\u{3a9}"],
        vec!["IAC,max", "100 Hz", "60 \u{b0}C", "A"],
        vec!["IAC,R", "100 Hz", "105 \u{b0}C", "A"],
        vec!["Ordering code", "(composition below)"],
    ]
    .into_iter()
    .enumerate()
    {
        let top = 138.0 - 5.0 * (lines.len() as f32 - 1.0);
        for (line, text) in (0_u16..).zip(lines) {
            // The letters of this font have no ohm sign.
            let text = text.replace('\u{3a9}', "Ohm");
            page.text(xs[at], top + 10.0 * f32::from(line), 8.0, &text);
        }
    }
    page.text(40.0, 180.0, 8.0, "VR = 200 V DC");
    page.columns(
        &xs,
        194.0,
        &[
            &["220", "22 x 25", "410", "580", "2.40", "1.02", "B430A2227M00#"],
            &["330", "22 x 30", "270", "390", "3.10", "1.31", "B430A2337M00#"],
            &["470", "22 x 35", "190", "270", "3.86", "1.63", "B430A2477M00#"],
        ],
    );
    page.text(40.0, 232.0, 8.0, "VR = 250 V DC");
    page.columns(
        &xs,
        246.0,
        &[
            &["180", "22 x 25", "500", "710", "2.16", "0.91", "B430A2187M01#"],
            &["270", "22 x 30", "330", "470", "2.81", "1.19", "B430A2277M01#"],
        ],
    );
    let mut source = one(vec![page]);
    take(&mut source, "which endurance", "5000 h");
    let import = source.parts();
    same(
        &import,
        &[
            ("B430A2187M01#", [180.0, 250.0, 22.0, 25.0, 0.91, 100.0, 500.0, NONE]),
            ("B430A2227M00#", [220.0, 200.0, 22.0, 25.0, 1.02, 100.0, 410.0, NONE]),
            ("B430A2277M01#", [270.0, 250.0, 22.0, 30.0, 1.19, 100.0, 330.0, NONE]),
            ("B430A2337M00#", [330.0, 200.0, 22.0, 30.0, 1.31, 100.0, 270.0, NONE]),
            ("B430A2477M00#", [470.0, 200.0, 22.0, 35.0, 1.63, 100.0, 190.0, NONE]),
        ],
    );
    assert_eq!(endurances(&import), [Some(5000.0); 5]);
}

#[test]
fn banner_rows_raised_digits_two_impedances_and_endurance_by_diameter() {
    let mut page = Page::new();
    page.text(40.0, 70.0, 8.0, "Endurance: 105 \u{b0}C 5000 h (\u{d8}D 5 to 6.3: 2000 h), rated ripple applied");
    let xs = [40.0, 90.0, 160.0, 220.0, 280.0, 380.0, 500.0];
    let mut cells = vec![
        Cell((0, 1), (0, 2), "Cap.\n(\u{b5}F)"),
        Cell((1, 2), (0, 2), "Size\n\u{d8}D x L (mm)"),
        Cell((2, 4), (0, 1), "Impedance (Ohm max) 100 kHz"),
        Cell((2, 3), (1, 2), "20 \u{b0}C"),
        Cell((3, 4), (1, 2), "-10 \u{b0}C"),
        Cell((4, 5), (0, 2), "Ripple current\n(mArms/105 \u{b0}C,\n100 kHz)"),
        Cell((5, 6), (0, 2), "Part No."),
        Cell((0, 6), (2, 3), "25 V (1E)"),
        Cell((0, 6), (6, 7), "35 V (1V)"),
    ];
    cells.extend(plain(
        3,
        &[
            &["47", "5\u{d8} x 11L", "0.58", "1.8", "210", "KLZ1E470*5X11"],
            &["820^1)", "10\u{d8} x 20L", "0.046", "0.14", "1400^*", "KLZ1E821*10X20"],
            &["330^2", "10\u{d8} x 16L", "0.060", "0.18", "1210", "KLZ1E331*10X16"],
        ],
    ));
    cells.extend(plain(7, &[&["47", "6.3\u{d8} x 11L", "0.22", "0.87", "340", "KLZ1V470*6X11"]]));
    page.ruled(&xs, &[100.0, 126.0, 150.0, 166.0, 182.0, 198.0, 214.0, 230.0, 246.0], &cells);
    page.text(40.0, 262.0, 7.0, "1) On request. * At 85 \u{b0}C. 2 Non-standard.");
    let mut source = one(vec![page]);
    take(&mut source, "which endurance", "diameter");
    let import = source.parts();
    same(
        &import,
        &[
            ("KLZ1E331*10X16", [330.0, 25.0, 10.0, 16.0, 1.21, 1e5, 60.0, NONE]),
            ("KLZ1E470*5X11", [47.0, 25.0, 5.0, 11.0, 0.21, 1e5, 580.0, NONE]),
            // Its current holds at another temperature than the column says.
            ("KLZ1E821*10X20", [820.0, 25.0, 10.0, 20.0, NONE, NONE, 46.0, NONE]),
            ("KLZ1V470*6X11", [47.0, 35.0, 6.3, 11.0, 0.34, 1e5, 220.0, NONE]),
        ],
    );
    let told = import.report.rejected.iter().any(|row| row.value.contains("1400 under another condition: At 85"));
    assert!(told, "{:?}", import.report.rejected);
    assert_eq!(endurances(&import), [Some(2000.0), Some(5000.0), Some(5000.0), Some(2000.0)]);
}

#[test]
fn three_figures_in_each_cell_named_by_a_line_below_the_table() {
    let mut page = Page::new();
    let cells = plain(
        0,
        &[
            &["\u{b5}F \\ V", "16", "25", "35"],
            &["100", "5x11\n0.60\n180", "6.3x11\n0.25\n290", "6.3x11\n0.26\n300"],
            &["220", "6.3x11\n0.24\n280", "8x11.5\n0.117\n555", "8x11.5\n0.118\n560"],
            &["470", "8x11.5\n0.116\n550", "10x12.5\n0.085\n760", "-"],
        ],
    );
    page.ruled(&edges(40.0, 90.0, 4), &[100.0, 116.0, 152.0, 188.0, 224.0], &cells);
    page.text(40.0, 240.0, 7.0, "Case size \u{d8}DxL (mm) / Impedance (Ohm, 20 \u{b0}C, 100 kHz) / Ripple current (mArms, 105 \u{b0}C, 100 kHz)");
    same_figures(
        &one(vec![page]).parts(),
        &[
            [100.0, 16.0, 5.0, 11.0, 0.18, 1e5, 600.0, NONE],
            [100.0, 25.0, 6.3, 11.0, 0.29, 1e5, 250.0, NONE],
            [100.0, 35.0, 6.3, 11.0, 0.3, 1e5, 260.0, NONE],
            [220.0, 16.0, 6.3, 11.0, 0.28, 1e5, 240.0, NONE],
            [220.0, 25.0, 8.0, 11.5, 0.555, 1e5, 117.0, NONE],
            [220.0, 35.0, 8.0, 11.5, 0.56, 1e5, 118.0, NONE],
            [470.0, 16.0, 8.0, 11.5, 0.55, 1e5, 116.0, NONE],
            [470.0, 25.0, 10.0, 12.5, 0.76, 1e5, 85.0, NONE],
        ],
    );
}

#[test]
fn unnamed_halves_of_voltage_columns_with_codes_beside_capacitances() {
    let mut page = Page::new();
    page.text(40.0, 80.0, 8.0, "Rated ripple current (mArms) at 105 \u{b0}C 100 kHz");
    let mut cells =
        vec![Cell((0, 1), (0, 2), "Cap.\n(\u{b5}F)"), Cell((1, 2), (0, 1), "V"), Cell((1, 2), (1, 2), "Code")];
    for (at, (volts, code)) in [("16", "1C"), ("25", "1E"), ("50", "1H")].into_iter().enumerate() {
        let columns = (2 + 2 * at, 4 + 2 * at);
        cells.extend([Cell(columns, (0, 1), volts), Cell(columns, (1, 2), code)]);
    }
    cells.extend(plain(
        2,
        &[
            &["33", "330", "", "", "5 x 11", "105", "5 x 11", "130"],
            &["100", "101", "5 x 11", "160", "6.3 x 11", "230", "8 x 11.5", "370"],
            &["470", "471", "8 x 11.5", "500", "10 x 12.5", "690", "12.5 x 20", "1190"],
        ],
    ));
    page.ruled(&edges(40.0, 60.0, 8), &edges(100.0, 16.0, 5), &cells);
    page.text(300.0, 196.0, 7.0, "Case size \u{d8}D x L (mm)");
    same_figures(
        &one(vec![page]).parts(),
        &[
            [33.0, 25.0, 5.0, 11.0, 0.105, 1e5, NONE, NONE],
            [33.0, 50.0, 5.0, 11.0, 0.13, 1e5, NONE, NONE],
            [100.0, 16.0, 5.0, 11.0, 0.16, 1e5, NONE, NONE],
            [100.0, 25.0, 6.3, 11.0, 0.23, 1e5, NONE, NONE],
            [100.0, 50.0, 8.0, 11.5, 0.37, 1e5, NONE, NONE],
            [470.0, 16.0, 8.0, 11.5, 0.5, 1e5, NONE, NONE],
            [470.0, 25.0, 10.0, 12.5, 0.69, 1e5, NONE, NONE],
            [470.0, 50.0, 12.5, 20.0, 1.19, 1e5, NONE, NONE],
        ],
    );
}

#[test]
fn rows_of_sizes_and_of_currents_in_turn_and_units_alone_under_voltages() {
    let kinds: [&'static str; 2] = ["\u{d8}DxL (mm)", "Ripple mArms 120 Hz 85 \u{b0}C"];
    let mut page = Page::new();
    let mut cells = plain(0, &[&["Cap (\u{b5}F)", "Item", "10 V", "16 V"]]);
    cells.extend([Cell((0, 1), (1, 3), "47"), Cell((0, 1), (3, 5), "100")]);
    for (row, [a, b]) in (1..).zip([["5x11", "5x11"], ["70", "80"], ["5x11", "6.3x11"], ["110", "130"]]) {
        cells.extend(
            [(1, kinds[(row - 1) % 2]), (2, a), (3, b)].map(|(at, text)| Cell((at, at + 1), (row, row + 1), text)),
        );
    }
    page.ruled(&[40.0, 90.0, 230.0, 290.0, 350.0], &edges(100.0, 16.0, 5), &cells);
    let expected = [
        [47.0, 10.0, 5.0, 11.0, 0.07, 120.0, NONE, NONE],
        [47.0, 16.0, 5.0, 11.0, 0.08, 120.0, NONE, NONE],
        [100.0, 10.0, 5.0, 11.0, 0.11, 120.0, NONE, NONE],
        [100.0, 16.0, 6.3, 11.0, 0.13, 120.0, NONE, NONE],
    ];
    same_figures(&one(vec![page]).parts(), &expected);
    let mut page = Page::new();
    page.text(40.0, 80.0, 8.0, "Ripple current (mArms) at 85 \u{b0}C, 120 Hz; case size \u{d8}D x L (mm)");
    let mut cells = vec![Cell((0, 1), (0, 2), "\u{b5}F / V"), Cell((1, 3), (0, 1), "10"), Cell((3, 5), (0, 1), "16")];
    cells.extend((1..).zip(["\u{d8}DxL", "mA", "\u{d8}DxL", "mA"]).map(|(at, name)| Cell((at, at + 1), (1, 2), name)));
    cells.extend(plain(2, &[&["47", "5x11", "70", "5x11", "80^1"], &["100", "5x11", "110", "6.3x11", "130"]]));
    page.ruled(&edges(40.0, 70.0, 5), &edges(100.0, 16.0, 4), &cells);
    same_figures(&one(vec![page]).parts(), &expected);
}

#[test]
fn a_landscape_table_on_an_upright_page_and_a_part_number_in_two_lines() {
    let mut page = Page::new();
    let rows = [
        [
            "WV (V)",
            "Cap (\u{b5}F)",
            "Size D x L (mm)",
            "Ripple (A) 120 Hz 105 \u{b0}C",
            "Ripple (A) 20 kHz 105 \u{b0}C",
            "ESR (Ohm) 120 Hz",
            "tan d",
            "Part number",
        ],
        ["400", "68", "22x25", "0.52", "0.78", "2.93", "0.15", "LXS2G680|MELZ25"],
        ["400", "220", "25x40", "1.17", "1.75", "0.905", "0.15", "LXS2G221|MELA40"],
        ["450", "82", "22x30", "0.59", "0.88", "3.24", "0.20", "LXS2W820|MELZ30"],
    ];
    let (tops, sides) = (edges(780.0, -85.0, 8), edges(80.0, 30.0, 4));
    for x in &sides {
        page.line((*x, 780.0), (*x, 100.0));
    }
    for y in &tops {
        page.line((80.0, *y), (200.0, *y));
    }
    for (row, texts) in rows.iter().enumerate() {
        for (column, text) in texts.iter().enumerate() {
            let (first, second) = text.split_once('|').unwrap_or((text, ""));
            let base = sides[row] + if second.is_empty() { 18.0 } else { 13.0 };
            page.upwards(base, tops[column] - 3.0, first);
            if !second.is_empty() {
                page.upwards(base + 10.0, tops[column] - 3.0, second);
            }
        }
    }
    let source = one(vec![page]);
    same(
        &source.parts(),
        &[
            ("LXS2G221MELA40", [220.0, 400.0, 25.0, 40.0, 1.17, 120.0, 905.0, 0.15]),
            ("LXS2G680MELZ25", [68.0, 400.0, 22.0, 25.0, 0.52, 120.0, 2930.0, 0.15]),
            ("LXS2W820MELZ30", [82.0, 450.0, 22.0, 30.0, 0.59, 120.0, 3240.0, 0.2]),
        ],
    );
    let factors = &source.parts().parts[0].1.can.ripple_freq_factors;
    assert_eq!(*factors, "120:1;20000:1.5".parse().ok());
}

#[test]
fn upright_lines_only_with_labels_in_the_middle_of_their_rows_and_a_label_over_a_page_end() {
    let xs = [40.0, 90.0, 140.0, 210.0, 300.0, 400.0];
    let names: [&'static str; 5] =
        ["Rated volt. (V)", "Cap. (\u{b5}F)", "Size \u{d8}DxL (mm)", "Ripple (mA) 105 \u{b0}C 120 Hz", "Part number"];
    let mut page = Page::new();
    let rows: [&[&'static str]; 3] = [
        &names,
        &["16", "47\n100\n220", "5x11\n6.3x11\n8x11.5", "60\n110\n190", "QV1C470M\nQV1C101M\nQV1C221M"],
        &["25", "47\n100\n220", "5x11\n6.3x11\n8x11.5", "70\n130\n230", "QV1E470M\nQV1E101M\nQV1E221M"],
    ];
    page.ruled(&xs, &[100.0, 116.0, 152.0, 188.0], &plain(0, &rows));
    // The label of 25 V goes on, blank; then the figures fall without a label, which proves nothing.
    let after = |cells: [[&'static str; 4]; 2]| {
        let mut page = Page::new();
        let mut all = plain(0, &[&names]);
        all.push(Cell((0, 1), (1, 3), ""));
        for (row, texts) in (1..).zip(cells) {
            all.extend((1..).zip(texts).map(|(at, text)| Cell((at, at + 1), (row, row + 1), text)));
        }
        page.ruled(&xs, &edges(60.0, 16.0, 3), &all);
        page
    };
    let second = after([["330", "10x12.5", "300", "QV1E331M"], ["470", "10x16", "390", "QV1E471M"]]);
    let third = after([["22", "5x11", "50", "QV1V220M"], ["33", "5x11", "60", "QV1V330M"]]);
    let source = one(vec![page, second, third]);
    let import = source.parts();
    same(
        &import,
        &[
            ("QV1C101M", [100.0, 16.0, 6.3, 11.0, 0.11, 120.0, NONE, NONE]),
            ("QV1C221M", [220.0, 16.0, 8.0, 11.5, 0.19, 120.0, NONE, NONE]),
            ("QV1C470M", [47.0, 16.0, 5.0, 11.0, 0.06, 120.0, NONE, NONE]),
            ("QV1E101M", [100.0, 25.0, 6.3, 11.0, 0.13, 120.0, NONE, NONE]),
            ("QV1E221M", [220.0, 25.0, 8.0, 11.5, 0.23, 120.0, NONE, NONE]),
            ("QV1E331M", [330.0, 25.0, 10.0, 12.5, 0.3, 120.0, NONE, NONE]),
            ("QV1E470M", [47.0, 25.0, 5.0, 11.0, 0.07, 120.0, NONE, NONE]),
            ("QV1E471M", [470.0, 25.0, 10.0, 16.0, 0.39, 120.0, NONE, NONE]),
        ],
    );
    assert!(notes(&source).contains("page 2: Rated volt. (V) of the first 2 rows is blank"), "{}", notes(&source));
    assert_eq!(import.report.rejected.iter().filter(|row| row.reason.contains("rated voltage")).count(), 2);
}

#[test]
fn inches_beside_millimetres_and_multipliers_under_ranges_of_capacitance() {
    let mut page = Page::new();
    let mut cells = vec![
        Cell((0, 1), (0, 2), "Cap\n(\u{b5}F)"),
        Cell((1, 2), (0, 2), "Catalog\nPart Number"),
        Cell((2, 4), (0, 1), "Max Ripple @ 85 \u{b0}C"),
        Cell((2, 3), (1, 2), "120 Hz (A)"),
        Cell((3, 4), (1, 2), "20 kHz (A)"),
        Cell((4, 6), (0, 1), "Case Size"),
        Cell((4, 5), (1, 2), "Inches D x L"),
        Cell((5, 6), (1, 2), "Millimeters D x L"),
        Cell((0, 6), (2, 3), "16 Vdc (20 Vdc Surge)"),
        Cell((0, 6), (4, 5), "25 Vdc (32 Vdc Surge)"),
    ];
    cells.extend(plain(3, &[&["8200", "38X822M016", "3.02", "3.47", "0.866 x 0.984", "22 x 25"]]));
    cells.extend(plain(5, &[&["390", "38X391M025", "0.73", "0.84", "0.394 x 0.787", "10 x 20"]]));
    page.ruled(&edges(40.0, 85.0, 6), &edges(100.0, 16.0, 6), &cells);
    page.text(40.0, 230.0, 8.0, "Ripple multipliers");
    let rows: [&[&'static str]; 5] = [
        &["Frequency (Hz)", "47 to 470 \u{b5}F", "560 to 10000 \u{b5}F"],
        &["50", "0.75", "0.80"],
        &["120", "1.00", "1.00"],
        &["1 k", "1.35", "1.20"],
        &["10K-100K", "1.50", "1.30"],
    ];
    page.ruled(&edges(40.0, 100.0, 3), &edges(240.0, 16.0, 5), &plain(0, &rows));
    let mut source = one(vec![page]);
    take(&mut source, "multipliers", "yes");
    let import = source.parts();
    same(
        &import,
        &[
            ("38X391M025", [390.0, 25.0, 10.0, 20.0, 0.73, 120.0, NONE, NONE]),
            ("38X822M016", [8200.0, 16.0, 22.0, 25.0, 3.02, 120.0, NONE, NONE]),
        ],
    );
    let surge: Vec<_> = import.parts.iter().map(|(_, part)| part.can.surge_v).collect();
    assert_eq!(surge, [Some(20.0), Some(32.0)]);
}

#[test]
fn a_small_digit_at_a_figure_never_joins_it() {
    for (lift, text) in [(3.0, "1"), (0.0, "1"), (-1.5, "1"), (3.0, "1)")] {
        let mut page = Page::new();
        let names: [&'static str; 5] = ["V", "\u{b5}F", "DxL mm", "Ripple mA 105 \u{b0}C 120 Hz", "Part No."];
        let rows: [&[&'static str]; 3] =
            [&names, &["25", "", "8x11.5", "290", "VT1E821"], &["25", "470", "8x11.5", "250", "VT1E471"]];
        page.ruled(&edges(40.0, 90.0, 5), &edges(100.0, 16.0, 3), &plain(0, &rows));
        page.mode(TextRenderingMode::Fill).text(160.0, 127.0, 8.0, "820").text(173.6, 127.0 - lift, 5.0, text);
        let source = one(vec![page]);
        let import = source.parts();
        let uf = import
            .parts
            .iter()
            .find(|(_, part)| part.part_number == "VT1E821")
            .map(|(_, part)| part.can.capacitance_uf);
        assert!(uf.is_none() || uf == Some(Some(820.0)), "{uf:?} with the mark {lift} points up");
        assert!(notes(&source).contains("1 row has footnote marks"), "{}", notes(&source));
    }
}

#[test]
fn two_part_numbers_that_begin_alike_are_not_one() {
    let mut page = Page::new();
    let names: [&'static str; 4] = ["V", "\u{b5}F", "DxL mm", "Part No."];
    page.ruled(
        &edges(40.0, 90.0, 4),
        &[100.0, 116.0, 144.0, 160.0],
        &plain(0, &[&names, &["25", "100", "8x11.5", "PAB1E101\nPAC1E101"], &["25", "220", "8x11.5", "PAB1E221"]]),
    );
    let all = sources(vec![page], &Printed::default()).unwrap();
    let numbers: Vec<String> = all[0].parts().parts.iter().map(|(_, part)| part.part_number.clone()).collect();
    assert!(!numbers.contains(&"PAB1E101PAC1E101".to_owned()), "{numbers:?}");
}

#[test]
fn an_answer_about_a_cell_of_two_lines_can_be_given_as_it_is_printed() {
    use refarad::files::import::Answer;
    for cell in ["13x26\n16x20", "1/2\" x 1\"", "a\\b", "x = 5"] {
        let asked = Answer::at(["cells", "Size (mm) \\ V", cell], "D13mm H26mm");
        assert_eq!(Answer::parse(&asked.to_string()), Ok(asked), "{cell}");
    }
    // As a person may type it: a backslash that escapes nothing stands for itself.
    let typed = Answer::parse(r#"columns."µF \ V".unit = "uF""#);
    assert_eq!(typed, Ok(Answer::at(["columns", r"µF \ V", "unit"], "uF")));
}
