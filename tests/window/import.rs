//! Lists of strangers in the window. Every list here is hand-made.

use std::path::PathBuf;

use egui::{Event, Key, Modifiers};
use egui_kittest::kittest::NodeT;
use refarad::app::Window;
use refarad::domain::{Job, Mounting, Role, Side};
use refarad::files::import::Mapping;
use refarad::files::{demo, load};
use tempfile::TempDir;

use crate::harness::Bench;

/// A folder with lists, and a window to drop them on.
struct PanelContext {
    bench: Bench,
    folder: TempDir,
}

impl PanelContext {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let mut loaded = load::load_demo().unwrap();
        // A job of one's own with the boards and parts of the demo.
        loaded.job.invented = None;
        let mut window = Window::holding(loaded, None);
        window.remember_mappings_in(folder.path().join("mappings"));
        Self { bench: Bench::with(window), folder }
    }

    /// The demo job saved in the folder.
    fn saved() -> Self {
        let folder = tempfile::tempdir().unwrap();
        demo::write_unless_there(folder.path(), false).unwrap();
        let path = folder.path().join("observatory.json");
        let mut loaded = load::load(&path, &[]).unwrap();
        loaded.job.invented = None;
        let mut window = Window::holding(loaded, Some(path));
        window.remember_mappings_in(folder.path().join("mappings"));
        Self { bench: Bench::with(window), folder }
    }

    fn write(&self, name: &str, text: &[u8]) -> PathBuf {
        let path = self.folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        path
    }

    fn drop(&mut self, names: &[&str]) {
        self.bench.drop_files(names.iter().map(|name| self.folder.path().join(name)));
    }

    fn drop_text(&mut self, name: &str, text: &str) {
        self.write(name, text.as_bytes());
        self.drop(&[name]);
    }

    /// Chooses an entry of a named choice.
    fn choose(&mut self, choice: &str, entry: &str) {
        // The table of columns is wider than the window: pressed wherever it stands.
        self.bench.press_button(choice);
        self.bench.press_button(entry);
    }

    fn take_in(&mut self) {
        self.bench.click_exactly("Import now");
    }

    fn undo(&mut self) {
        self.bench.press_with(Modifiers::COMMAND, Key::Z);
    }

    fn job(&self) -> &Job {
        self.bench.job()
    }

    /// Parts at hand, as the line at the bottom says.
    fn parts(&self) -> usize {
        (0..20_000).find(|count| self.bench.says_exactly(&format!("{count} parts"))).unwrap()
    }
}

const BOM: &str = "Designator,Quantity,Comment,Footprint,Description\n\
    \"C1, C2\",2,470uF 35V,CP_Radial_D10.0mm_P5.00mm,Electrolytic capacitor\n\
    C3,1,22uF 50V,CP_Radial_D5.0mm_P2.00mm,Electrolytic capacitor\n\
    C4,1,100nF 50V,C_0805,Ceramic capacitor X7R\n\
    R1,1,10k,R_0805,Resistor\n";

const PLACES: &str = "Designator,Mid X (mm),Mid Y (mm),Layer,Rotation\n\
    C1,10.5,20.25,Top,90\nC2,30,20,Top,270\nC7,50,20,Bottom,0\nR1,1,2,Top,0\n";

const SERIES: &str = "Cap (uF),WV (V dc),Size (mm),Rated ripple\n\
    470,35,10x16,900\n330,35,10x12.5,700\n1000,35,12.5x20,1400\n22,50,5x11,150\n";

#[test]
fn a_parts_list_becomes_a_board_in_one_step_and_undo_takes_it_back() {
    let mut desk = PanelContext::new();
    let start = desk.job().clone();
    desk.drop_text("audio.csv", BOM);
    desk.bench.assert_says("3 positions onto audio");
    desk.take_in();
    let board = desk.job().boards.last().unwrap();
    assert_eq!((board.name.as_str(), board.positions.len()), ("audio", 3));
    let c2 = &board.positions[1];
    assert_eq!((c2.original.can.capacitance_uf, c2.original.can.rated_v), (Some(470.0), Some(35.0)));
    assert_eq!(
        (c2.original.can.diameter_mm, c2.original.can.pitch_mm, c2.original.can.height_mm),
        (Some(10.0), Some(5.0), None)
    );
    assert_eq!((c2.role, c2.role_assumed), (Some(Role::Decoupling), true));
    desk.bench.assert_says("decoupling, assumed");
    desk.undo();
    assert_eq!(*desk.job(), start);
}

#[test]
fn the_roles_of_imported_positions_are_set_together() {
    let mut desk = PanelContext::new();
    desk.drop_text("audio.csv", BOM);
    desk.take_in();
    desk.bench.click("Set the role of 3 positions");
    desk.bench.assert_says("3 positions");
    desk.bench.enter("Operating voltage (DC)", "24 V");
    let board = desk.job().boards.last().unwrap();
    assert!(board.positions.iter().all(|position| position.stress.dc_v == Some(24.0)));
}

#[test]
fn what_is_not_ours_is_counted_by_kind_and_its_rows_are_listed() {
    let mut desk = PanelContext::new();
    desk.drop_text("audio.csv", BOM);
    desk.bench.assert_says("2 skipped");
    desk.bench.click("1 ceramic");
    desk.bench.assert_says("line 4, C4 | 1 | 100nF 50V");
    desk.bench.click("1 not a capacitor");
    desk.bench.assert_says("skipped: not a capacitor (R1)");
}

#[test]
fn a_row_taken_as_other_parts_says_so() {
    let mut panel = PanelContext::new();
    panel.drop_text(
        "relays.csv",
        "Ref,Qty,Value,Description\nC1,1,470uF 35V,Electrolytic radial\n\"K1, K2\",2,24V,Relay\n",
    );
    panel.bench.press_button("relay (1 row)");
    panel.bench.assert_says("K1, K2 as other parts");
}

#[test]
fn a_placement_places_the_board_its_parts_are_on_and_mismatches_are_named_both_ways() {
    let mut desk = PanelContext::new();
    desk.drop_text("audio.csv", BOM);
    desk.take_in();
    desk.drop_text("audio-pos.csv", PLACES);
    desk.bench.assert_says("2 positions placed");
    desk.bench.assert_says("1 placed here, but no position of the board");
    desk.bench.assert_says("1 positions of the board that this file does not place");
    let before = desk.job().clone();
    desk.take_in();
    assert_eq!(desk.job().boards.len(), before.boards.len());
    let c1 = desk.bench.position("audio", "C1");
    assert_eq!((c1.x_mm, c1.y_mm, c1.rotation_deg, c1.side), (Some(10.5), Some(20.25), Some(90.0), Some(Side::Top)));
    assert_eq!(desk.bench.position("audio", "C3").x_mm, None);
    desk.undo();
    assert_eq!(*desk.job(), before);
}

#[test]
fn a_typed_series_table_with_values_for_every_row_joins_the_catalogue_and_undo_takes_it_out() {
    let mut desk = PanelContext::new();
    let (start, parts) = (desk.job().clone(), desk.parts());
    desk.drop_text("HALDE series.csv", SERIES);
    // The unit and the frequency of the ripple current are said by nobody yet.
    desk.bench.assert_says("Open questions");
    desk.choose("Unit of Rated ripple", "mA");
    desk.choose("Frequency of Rated ripple", "100 kHz");
    desk.choose("Unit of Size (mm)", "mm");
    desk.bench.click("Values for all rows…");
    desk.bench.enter("Maker", "Invented Works");
    desk.bench.enter("Series", "HALDE");
    desk.choose("Technology", "liquid (non-solid) electrolyte");
    desk.choose("Mounting", "radial");
    desk.choose("Endurance basis", "ripple");
    desk.bench.enter("Endurance", "5000 h");
    desk.bench.enter("Upper category temperature", "105");
    desk.bench.enter("Multiplier at 120 Hz", "0.55");
    if desk.bench.says("the diameter comes first") {
        desk.bench.click("Answer Size (mm): the diameter comes first");
    }
    desk.take_in();
    assert_eq!(desk.parts(), parts + 4);
    assert_eq!(desk.job().catalogs.last().unwrap(), "HALDE series.csv");
    desk.undo();
    assert_eq!(desk.parts(), parts);
    assert_eq!(*desk.job(), start);
    desk.bench.press_with(Modifiers::COMMAND, Key::Y);
    assert_eq!(desk.parts(), parts + 4);
}

#[test]
fn a_catalogue_taken_into_a_saved_job_lies_beside_it() {
    let mut desk = PanelContext::saved();
    let parts = desk.parts();
    desk.drop_text("series.csv", &format!("{}\n", SERIES.replace("Rated ripple", "Rated ripple (mA 100kHz)")));
    desk.take_in();
    assert_eq!(desk.job().catalogs.last().unwrap(), "series (2).csv");
    assert_eq!(desk.parts(), parts + 4);
    desk.bench.press_with(Modifiers::COMMAND, Key::S);
    let path = desk.folder.path().join("observatory.json");
    let again = load::load(&path, &[]).unwrap();
    assert_eq!(again.catalog_index.catalog().len(), parts + 4);
    desk.undo();
    assert_eq!(desk.parts(), parts);
}

#[test]
fn a_question_is_answered_by_one_click() {
    let mut desk = PanelContext::new();
    desk.drop_text("places.csv", "Designator,Mid X,Mid Y,Layer,Rotation\nC1,1000,2000,Top,0\nC2,3000,2000,Top,0\n");
    desk.bench.assert_says("unit of the coordinates");
    desk.bench.click("Answer Mid X: mil");
    assert!(!desk.bench.says("unit of the coordinates"));
    desk.bench.assert_says("positions placed");
    // One step takes the answer back, and nothing of the job.
    let job = desk.job().clone();
    desk.undo();
    desk.bench.assert_says("unit of the coordinates");
    assert_eq!(*desk.job(), job);
    assert!(desk.bench.focused().starts_with("Answer "));
}

#[test]
fn a_column_taken_wrongly_is_corrected_and_the_outcome_follows() {
    let mut desk = PanelContext::new();
    desk.drop_text(
        "odd.csv",
        "Nummer,Wert S,uF,Remark\nHALDE470,35,470,aluminium electrolytic\nHALDE22,50,22,aluminium electrolytic\n",
    );
    desk.bench.assert_says("nothing to import yet");
    desk.choose("Meaning of Wert S", "rated voltage");
    desk.choose("Meaning of uF", "capacitance");
    desk.choose("Unit of uF", "uF");
    desk.choose("Meaning of Nummer", "part number");
    desk.bench.assert_says("2 parts into the catalogue");
    desk.bench.assert_says("set by you");
}

#[test]
fn the_detection_is_shown_and_overruled() {
    let mut desk = PanelContext::new();
    desk.write("list.csv", b"Designator;Value;Description\nC1;470\xB5F 35V;Electrolytic\n");
    desk.drop(&["list.csv"]);
    desk.bench.assert_says("Windows-1252");
    desk.bench.assert_says("semicolon");
    desk.bench.assert_says("1 position onto list");
    desk.choose("Separator", "comma");
    desk.bench.assert_says("comma (set)");
    assert!(!desk.bench.says("1 position onto list"));
    desk.choose("Separator", "as detected");
    desk.choose("Content", "component catalogue");
    desk.bench.assert_says("1 part into the catalogue");
}

#[test]
fn a_pasted_table_of_another_kind_opens_here() {
    let mut desk = PanelContext::new();
    let start = desk.job().clone();
    desk.bench.harness.event(Event::Paste(BOM.replace(',', "\t").replace("\"C1\t C2\"", "C1 C2")));
    desk.bench.settle();
    assert_eq!(*desk.job(), start);
    desk.bench.assert_says("pasted table");
    desk.bench.assert_says("3 positions onto pasted table");
    desk.bench.harness.event(Event::Paste(PLACES.to_owned()));
    desk.bench.settle();
    desk.bench.assert_says("2 positions placed");
    desk.take_in();
    assert_eq!(desk.bench.position("pasted table", "C2").rotation_deg, Some(270.0));
    desk.undo();
    assert_eq!(*desk.job(), start);
}

#[test]
fn what_was_corrected_is_remembered_for_the_same_headers() {
    let mut desk = PanelContext::new();
    let text = "Nummer,Wert S,uF,Remark\nHALDE470,35,470,aluminium electrolytic\n";
    desk.drop_text("odd.csv", text);
    desk.choose("Meaning of Wert S", "rated voltage");
    desk.choose("Meaning of uF", "capacitance");
    desk.choose("Unit of uF", "uF");
    desk.choose("Meaning of Nummer", "part number");
    desk.take_in();
    desk.drop_text("odd next year.csv", &text.replace("HALDE470", "HALDE479"));
    desk.bench.assert_says("Remembered from a file with the same headers");
    desk.bench.assert_says("1 part into the catalogue");
}

#[test]
fn a_mapping_is_saved_and_used_again() {
    let mut desk = PanelContext::new();
    let text = "Nummer,Wert S,uF,Remark\nHALDE470,35,470,aluminium electrolytic\n";
    desk.drop_text("odd.csv", text);
    desk.choose("Meaning of Wert S", "rated voltage");
    desk.choose("Meaning of uF", "capacitance");
    desk.choose("Unit of uF", "uF");
    desk.choose("Meaning of Nummer", "part number");
    let path = desk.folder.path().join("map.json");
    desk.bench.click_exactly("Save mapping…");
    desk.bench.type_into("Path of the mapping (*.json)", path.to_str().unwrap());
    desk.bench.click_exactly("Write here");
    assert!(Mapping::read(&path).unwrap().has(refarad::files::import::Field::RatedV));
    desk.bench.click_exactly("Back to the proposal");
    desk.bench.assert_says("nothing to import yet");
    desk.bench.click_exactly("Use a mapping…");
    desk.bench.type_into("Path of the mapping (*.json)", path.to_str().unwrap());
    desk.bench.click_exactly("Use this mapping");
    desk.bench.assert_says("1 part into the catalogue");
}

#[test]
fn a_broken_file_says_what_to_do_and_the_others_stay() {
    let mut desk = PanelContext::new();
    desk.write("audio.csv", BOM.as_bytes());
    desk.write("book.xlsx", b"PK\x03\x04\x14\x00\x06\x00rest of a workbook");
    desk.drop(&["audio.csv", "book.xlsx"]);
    desk.bench.assert_says("cannot be read as a table");
    desk.bench.assert_says("export it as CSV");
    desk.bench.click_exactly("Close book.xlsx");
    desk.bench.assert_says("3 positions onto audio");
}

#[test]
fn positions_go_onto_a_board_of_the_job_and_its_own_figures_stay() {
    let mut desk = PanelContext::new();
    let own = desk.bench.position("Supply", "C1").clone();
    desk.drop_text("more.csv", "Designator,Value,Description\nC1,1uF 6.3V,electrolytic\nC77,47uF 25V,electrolytic\n");
    desk.choose("Target board", "Supply");
    desk.bench.assert_says("that of the board stays");
    desk.take_in();
    assert_eq!(desk.bench.position("Supply", "C1").original.can.capacitance_uf, own.original.can.capacitance_uf);
    assert_eq!(desk.bench.position("Supply", "C77").original.can.rated_v, Some(25.0));
}

#[test]
fn what_is_not_used_is_saved_as_a_list() {
    let mut desk = PanelContext::new();
    desk.drop_text("audio.csv", BOM);
    desk.bench.click_exactly("Save as CSV…");
    let path = desk.folder.path().join("left.csv");
    desk.bench.type_into("Path of the table (*.csv)", path.to_str().unwrap());
    desk.bench.click_exactly("Write here");
    let text = std::fs::read_to_string(&path).unwrap();
    assert!(text.contains("not a capacitor (R1)") && text.contains("audio.csv,4,"), "{text}");
}

#[test]
fn the_demo_saved_with_an_import_opens_again() {
    let mut desk = PanelContext::new();
    desk.drop_text("series.csv", &SERIES.replace("Rated ripple", "Rated ripple (mA 100kHz)"));
    desk.take_in();
    let parts = desk.parts();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("own.json");
    desk.bench.press_with(Modifiers::COMMAND, Key::S);
    desk.bench.type_into("Path of the job file (*.json)", path.to_str().unwrap());
    desk.bench.click_exactly("Save here");
    assert_eq!(load::load(&path, &[]).unwrap().catalog_index.catalog().len(), parts);
}

/// A stranger's parts list, placement file and typed-off series table become a sized board without a file being edited.
#[test]
fn three_files_of_a_stranger_become_a_sized_board() {
    let mut desk = PanelContext::new();
    let series = "Cap (uF),WV (V dc),Size (mm),Lead spacing (mm),Rated ripple\n\
        470,35,10x16,5,900\n330,35,10x12.5,5,700\n1000,35,12.5x20,5,1400\n22,50,5x11,2,150\n";
    for (name, text) in [("amp.csv", BOM), ("amp-pos.csv", PLACES), ("series.csv", series)] {
        desk.write(name, text.as_bytes());
    }
    desk.drop(&["amp.csv", "amp-pos.csv", "series.csv"]);
    desk.choose("Unit of Rated ripple", "mA");
    desk.choose("Frequency of Rated ripple", "100 kHz");
    desk.bench.click("Values for all rows…");
    desk.bench.enter("Series", "HALDE");
    desk.choose("Technology", "liquid (non-solid) electrolyte");
    desk.choose("Mounting", "radial");
    desk.bench.enter("Endurance", "5000");
    desk.bench.enter("Upper category temperature", "105");
    desk.bench.enter("Lower category temperature", "-40");
    desk.bench.assert_says("4 parts into the catalogue, 3 positions onto amp, 2 positions placed");
    desk.take_in();
    let board = desk.job().boards.last().unwrap().clone();
    assert_eq!(board.positions[0].x_mm, Some(10.5));
    // What no list says is entered for all of them at once, in the editor.
    desk.bench.click("Set the role of 3 positions");
    desk.bench.press_button("Stress");
    for (field, text) in [
        ("Operating voltage (DC)", "20 V"),
        ("Ripple voltage (peak)", "0.5 V"),
        ("Highest transient", "24 V"),
        ("Lowest voltage", "0 V"),
    ] {
        desk.bench.enter(field, text);
    }
    desk.bench.press_button("Add a line");
    desk.bench.enter("Frequency, line 1", "100 kHz");
    desk.bench.enter("Current, line 1", "100 mA");
    desk.bench.press_button("Add a phase");
    desk.bench.enter("Ambient, phase 1", "45 °C");
    desk.bench.enter("Max. component height", "30 mm");
    let job = desk.job().clone();
    let board = job.boards.last().unwrap();
    assert!(board.positions.iter().all(|position| position.stress.dc_v == Some(20.0)));
    assert!(board.positions.iter().all(|position| position.original.can.mounting == Some(Mounting::Radial)));
    desk.bench.press_with(Modifiers::COMMAND, Key::Num2);
    desk.bench.type_into("Filter", "HALDE");
    let rows = desk.bench.candidate_rows();
    assert!(rows.iter().any(|row| row.starts_with("HALDE 470u") && row.contains("pass")), "{rows:?}");
    // Every position of the board has a part that passes.
    for (position, original) in [("C1", "470uF 35V"), ("C2", "470uF 35V"), ("C3", "22uF 50V")] {
        let begins = format!("{position}, {original}; ");
        let labels = desk.bench.harness.root().children_recursive().filter_map(|node| node.accesskit_node().label());
        let row = labels.filter(|label| label.starts_with(&begins)).collect::<Vec<_>>();
        assert!(row.iter().any(|label| label.contains(" proposed; pass")), "{begins}: {row:?}");
    }
}

#[test]
fn several_lists_are_opened_by_one_typed_line_and_each_says_its_open_questions() {
    let mut desk = PanelContext::new();
    let (a, b) = (desk.write("amp.csv", BOM.as_bytes()), desk.write("series.csv", SERIES.as_bytes()));
    desk.bench.press_with(Modifiers::COMMAND | Modifiers::SHIFT, Key::O);
    let line = format!("{};{}", a.display(), b.display());
    desk.bench
        .type_into("Path of the list (a text table, a workbook or a data sheet); several with ; between them", &line);
    desk.bench.click_exactly("Import these lists");
    desk.bench.assert_says("amp.csv");
    desk.bench.assert_says("series.csv (1 question)");
}

/// A workbook with two boards on sheets of their own.
fn two_boards() -> Vec<u8> {
    let mut book = rust_xlsxwriter::Workbook::new();
    for (name, voltage) in [("Servo", "35V"), ("Supply", "63V")] {
        let sheet = book.add_worksheet().set_name(name).unwrap();
        sheet.write_row(0, 0, ["Ref", "Value", "Voltage", "Type"]).unwrap();
        sheet.write_row(1, 0, ["C1, C2", "470u", voltage, "electrolytic"]).unwrap();
    }
    book.save_to_buffer().unwrap()
}

#[test]
fn a_workbook_of_two_boards_asks_which_sheet_is_meant_and_lets_it_be_changed() {
    refarad::files::child::use_program(env!("CARGO_BIN_EXE_refarad").into());
    let mut desk = PanelContext::new();
    desk.write("dome.xlsx", &two_boards());
    desk.drop(&["dome.xlsx"]);
    desk.bench.assert_says("Which sheet is the list?");
    desk.bench.click_exactly("Supply");
    desk.bench.assert_says("2 positions onto dome");
    desk.bench.assert_says("sheets of the workbook that are not read: Servo");
    desk.choose("Sheet", "Servo");
    desk.take_in();
    let board = desk.job().boards.last().unwrap();
    assert!(board.positions.iter().all(|position| position.original.can.rated_v == Some(35.0)));
}

#[test]
fn a_broken_workbook_is_refused_in_words() {
    refarad::files::child::use_program(env!("CARGO_BIN_EXE_refarad").into());
    let mut desk = PanelContext::new();
    desk.write("dome.xlsx", b"PK\x03\x04 and nothing more");
    desk.drop(&["dome.xlsx"]);
    desk.bench.assert_says("This file cannot be read as a table.");
    desk.bench.assert_says("the workbook is damaged");
}

/// A data sheet with one ruled list; the part numbers are invented.
#[cfg(feature = "pdf")]
fn printed_list() -> Vec<u8> {
    use crate::typeset::{Page, edges, file, plain};
    let mut page = Page::new();
    let rows: [&[&'static str]; 3] = [
        &["WV (V)", "Cap (\u{b5}F)", "Size DxL (mm)", "Ripple (mA, 120Hz)", "Part No."],
        &["16", "47", "5x11", "80", "TA1C470M"],
        &["16", "100", "6.3x11", "120", "TA1C101M"],
    ];
    page.ruled(&edges(40.0, 90.0, 5), &edges(100.0, 16.0, 3), &plain(0, &rows));
    file(vec![page])
}

#[cfg(feature = "pdf")]
#[test]
fn a_data_sheet_is_shown_beside_its_table_and_compared_before_it_is_imported() {
    refarad::files::child::use_program(env!("CARGO_BIN_EXE_refarad").into());
    let mut desk = PanelContext::new();
    desk.write("talus.pdf", &printed_list());
    desk.drop(&["talus.pdf"]);
    desk.bench.assert_says("Page 1 of 1");
    desk.bench.assert_says("2 parts into the catalogue");
    desk.bench.press_button("Show line 3 on its page");
    let before = desk.parts();
    desk.take_in();
    desk.bench.assert_says("Compare these rows, picked at random, with what is printed");
    desk.bench.assert_says("TA1C101M: 100 µF, 16 V, Ø 6.3 mm, height 11 mm, ripple 120 mA");
    assert_eq!(desk.parts(), before, "nothing is imported before it is compared");
    desk.bench.click_exactly("All rows agree");
    desk.take_in();
    assert_eq!(desk.parts(), before + 2);
}

#[test]
fn a_list_that_names_its_boards_becomes_a_board_for_each() {
    let mut desk = PanelContext::new();
    desk.write(
        "mill.csv",
        b"Board;Reference;Value;Voltage\nPower;C1;470uF;25V\nPower;C2;47uF;50V\nDrive;C1;220uF;200V\n",
    );
    desk.drop(&["mill.csv"]);
    let before = desk.job().boards.len();
    desk.bench.click("Answer Board: yes, each is a board of its own");
    desk.bench.assert_says("2 positions onto Power and 1 onto Drive");
    desk.bench.assert_says("mill.csv, Drive");
    desk.take_in();
    let boards = desk.job().boards[before..].iter().map(|board| (board.name.as_str(), board.positions.len()));
    assert_eq!(boards.collect::<Vec<_>>(), [("Power", 2), ("Drive", 1)]);
    assert!(!desk.bench.says("not used"), "a row of the other board is used there");
}

#[test]
fn from_opening_lists_to_the_imported_board_no_key_but_enter_is_needed() {
    let mut desk = PanelContext::new();
    desk.write("places.csv", b"Designator,Mid X,Mid Y,Layer,Rotation\nC1,1000,2000,Top,0\nC2,3000,2000,Top,0\n");
    desk.write("amp.csv", b"Designator,Cap,Volt,Ripple\nC1,470,35 V,1.2 A\nC2,100,35 V,\n");
    desk.drop(&["places.csv", "amp.csv"]);
    // One question after the other has the keyboard, on whichever list, then what imports them, then the way to the board.
    let mut keys = Vec::new();
    while keys.len() < 9 && keys.last().is_none_or(|last| last != "Show the board") {
        keys.push(desk.bench.focused());
        desk.bench.press(Key::Enter);
    }
    println!("by Enter alone: {keys:?}");
    let (answers, rest) = keys.split_at(keys.iter().position(|key| !key.starts_with("Answer ")).unwrap());
    assert!(answers.len() > 2, "{keys:?}");
    assert_eq!(rest, ["Import now", "Show the board"]);
    assert_eq!(desk.job().boards.last().unwrap().positions.len(), 2);
    assert!(desk.job().boards.last().unwrap().positions[1].x_mm.is_some());
    desk.bench.assert_says("C1 on the board");
}

#[test]
fn lists_are_imported_by_a_key_from_anywhere_and_what_is_reached_by_tab_is_in_sight() {
    let mut desk = PanelContext::new();
    let wide: String = (0..30).map(|at| format!(",Extra {at}")).collect();
    desk.drop_text("wide.csv", &format!("Designator,Value{wide}\nC1,470uF 35V{}\n", ",x".repeat(30)));
    let mut seen = 0;
    for _ in 0..90 {
        desk.bench.press(Key::Tab);
        let root = desk.bench.harness.root();
        let focused = root.children_recursive().find(|node| node.accesskit_node().is_focused());
        let Some(node) =
            focused.filter(|node| node.accesskit_node().label().is_some_and(|l| l.starts_with("Meaning of ")))
        else {
            continue;
        };
        let rect = node.rect();
        assert!(rect.left() >= 0.0 && rect.right() <= 910.0, "{:?} {rect:?}", node.accesskit_node().label());
        seen += 1;
    }
    assert!(seen > 25, "{seen}");
    let boards = desk.job().boards.len();
    desk.bench.press_with(Modifiers::COMMAND, Key::Enter);
    assert_eq!(desk.job().boards.len(), boards + 1);
}

#[test]
fn boards_of_a_list_imported_again_under_other_names_leave_no_row_as_skipped() {
    let mut desk = PanelContext::new();
    let list = "Board;Reference;Value;Voltage\nPower;C1;470uF;25V\nPower;C2;47uF;50V\nDrive;C1;220uF;200V\n";
    let before = desk.job().boards.len();
    for _ in 0..2 {
        desk.drop_text("mill.csv", list);
        if desk.bench.says("Answer Board: yes, each is a board of its own") {
            desk.bench.click("Answer Board: yes, each is a board of its own");
        }
        desk.bench.enter("the first called", "Mains");
        desk.take_in();
        assert!(!desk.bench.says("not used"), "{:?}", desk.bench.harness.root());
    }
    let boards = desk.job().boards[before..].iter().map(|board| board.name.as_str());
    assert_eq!(boards.collect::<Vec<_>>(), ["Mains", "Drive", "Mains (2)", "Drive (2)"]);
}

const POWER: &str = "Reference;Qty;Value;Rating;Remarks\n\
    C101,C102;2;1000uF;50V;electrolytic\nC103;1;470uF;35V;electrolytic\nC104;1;220uF;25V;electrolytic\n\
    K1,K2;2;Relay 24V DC 10A;;print relay\nF1;1;Fuse 3.15A T;;slow\n";
const DRIVE: &str = "Designator,Qty,Value,Voltage,Description\n\
    \"C101,C102\",2,470uF,63V,Elko 85C\nC103,1,47uF,35V,Elko\n";

#[test]
fn two_boards_with_the_same_designators_stay_two_boards_and_a_placement_completes_its_own() {
    let mut desk = PanelContext::new();
    let places = "Designator,Mid X (mm),Mid Y (mm),Layer,Rotation\n\
        C101,10,20,Top,0\nC102,30,20,Top,0\nC103,50,20,Top,0\n";
    for (name, text) in [("power.csv", POWER), ("drive.csv", DRIVE), ("pos.csv", places)] {
        desk.write(name, text.as_bytes());
    }
    let start = desk.job().clone();
    desk.drop(&["pos.csv", "power.csv", "drive.csv"]);
    desk.bench.assert_says("4 positions onto power and 3 onto drive, 3 positions placed");
    desk.take_in();
    let of = |desk: &PanelContext, board: &str, name: &str| {
        let position = desk.bench.position(board, name);
        (position.original.can.capacitance_uf, position.x_mm)
    };
    assert_eq!(desk.job().boards.len(), start.boards.len() + 2);
    assert_eq!(of(&desk, "power", "C101"), (Some(1000.0), None));
    assert_eq!(of(&desk, "drive", "C101"), (Some(470.0), Some(10.0)));
    assert_eq!(of(&desk, "drive", "C103"), (Some(47.0), Some(50.0)));
    // What no list says is entered for the cans of both boards together.
    desk.bench.click("Set the role of 7 positions");
    desk.bench.enter("Operating voltage (DC)", "24 V");
    let new = &desk.job().boards[start.boards.len()..];
    assert!(new.iter().flat_map(|board| &board.positions).all(|position| position.stress.dc_v == Some(24.0)));
    desk.undo();
    desk.undo();
    assert_eq!(*desk.job(), start);
    // Lists that are parts of one board are put onto one by choice; what they contradict each other in is said.
    desk.drop(&["power.csv", "drive.csv"]);
    desk.bench.assert_says("4 positions onto power and 3 onto drive");
    desk.choose("Target board", "one new board");
    desk.bench.assert_says("4 positions onto power");
    desk.bench.click_exactly("drive.csv");
    desk.bench.assert_says("that of the board stays");
    assert!(!desk.bench.says("onto drive"));
}

#[test]
fn other_parts_that_nobody_ticked_are_shown_first_and_told_after_importing() {
    let mut desk = PanelContext::new();
    desk.write("power.csv", POWER.as_bytes());
    let series = "Part number,Manufacturer,Series,Capacitance,Rated voltage,Size D x L (mm),Lead spacing (mm),Mounting,\
        Ripple 105C 100kHz (mA),ESR 100kHz (mOhm),Endurance (h),Max temp (C),Min temp (C)\n\
        TALUS-35-47,Halvenbeck,Talus,47uF,35V,6.3 x 11,2.5,radial,250,300,5000,105,-40\n\
        TALUS-25-220,Halvenbeck,Talus,220uF,25V,8 x 11.5,3.5,radial,640,87,5000,105,-40\n";
    desk.write("series.csv", series.as_bytes());
    desk.drop(&["power.csv", "series.csv"]);
    desk.bench.assert_says("Other parts to take in");
    desk.bench.assert_says("relay (1 row)");
    assert_eq!(desk.bench.focused(), "Import now");
    desk.bench.press(Key::Enter);
    let left = "2 rows of other parts were left (relay, fuse in power.csv)";
    assert!(desk.bench.says(left));
    // As it says: the same list onto its board, its kinds ticked.
    desk.drop(&["power.csv"]);
    desk.choose("Target board", "power");
    desk.bench.press_button("relay (1 row)");
    desk.bench.press_button("fuse (1 row)");
    desk.bench.assert_says("3 other parts onto power");
    desk.take_in();
    assert!(!desk.bench.says("were left"));
    let board = desk.job().boards.last().unwrap();
    assert_eq!((board.positions.len(), board.other_parts.len()), (4, 3));
}

#[test]
fn how_cans_are_fixed_is_offered_for_all_rows_that_do_not_say_it_and_keeps_nothing_out() {
    let mut desk = PanelContext::new();
    let list = "Ref;Value;Voltage;Remarks\nC1;470uF;35V;electrolytic\nC2;10uF;50V;electrolytic\n\
                C3;47uF;25V;electrolytic SMD\n";
    desk.drop_text("pump.csv", list);
    assert!(!desk.bench.says("Open questions"));
    desk.bench.assert_says("2 rows do not say how the can is fixed. All are:");
    desk.bench.press_button("All fixed alike: snap-in");
    assert!(!desk.bench.says("how the can is fixed"));
    desk.take_in();
    let mounting = |of: &str| desk.bench.position("pump", of).original.can.mounting;
    let expected = [Some(Mounting::SnapIn), Some(Mounting::SnapIn), Some(Mounting::Smd)];
    assert_eq!(["C1", "C2", "C3"].map(mounting), expected);
}

#[test]
fn prices_as_a_supplier_lists_them_become_offers_of_the_job() {
    const LIST: &str =
        "Hersteller-Nr;Lieferant;Bestand;Preis 1;Preis 100;Währung\nZZ-1;Halden Parts;40;0,42;0,35;EUR\n";
    let mut panel = PanelContext::saved();
    panel.drop_text("quote.csv", LIST);
    panel.bench.settle();
    assert!(panel.bench.says("1 offer of suppliers"), "what is imported is said");
    panel.take_in();
    panel.bench.settle();
    assert_eq!(panel.job().offers, ["quote.offers.csv"]);
    let written = std::fs::read_to_string(panel.folder.path().join("quote.offers.csv")).unwrap();
    assert!(written.contains("ZZ-1,Halden Parts,,40,,EUR,,,0.42,1:0.42;100:0.35"), "{written}");
    panel.undo();
    assert!(panel.job().offers.is_empty());

    // Headers that begin like ours, with a price in words of the supplier's own.
    panel.drop_text("other.csv", "Part number,Supplier,Price,In stock\nZZ-2,Werder,0.70,3\n");
    panel.bench.settle();
    panel.take_in();
    panel.bench.settle();
    let written = std::fs::read_to_string(panel.folder.path().join("other.offers.csv")).unwrap();
    assert!(written.contains("ZZ-2,Werder,,3,,,,,0.7,"), "{written}");

    // A job that is not saved has no folder to keep them in.
    let mut panel = PanelContext::new();
    panel.drop_text("quote.csv", LIST);
    panel.bench.settle();
    panel.take_in();
    panel.bench.settle();
    assert!(panel.bench.says("Save the job first: lists of offers are kept beside its file."));
    assert!(panel.job().offers.is_empty());
}
