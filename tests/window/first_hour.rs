//! Two people's first hour: from their own files to something they can use, with the clicks and keys it takes. Every file is
//! invented.

use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};
use refarad::app::Window;
use refarad::domain::Policy;
use tempfile::TempDir;

use crate::harness::Bench;

/// A person at a window that counts what it costs them.
struct Person {
    bench: Bench,
    folder: TempDir,
    clicks: usize,
    keys: usize,
}

impl Person {
    fn sits_down() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let mut window = Window::at_start();
        window.remember_mappings_in(folder.path().join("mappings"));
        Self { bench: Bench::with(window), folder, clicks: 0, keys: 0 }
    }

    fn has(&self, name: &str, content: &[u8]) -> String {
        let path = self.folder.path().join(name);
        std::fs::write(&path, content).unwrap();
        path.display().to_string()
    }

    fn clicks(&mut self, name: &str) {
        self.bench.click_exactly(name);
        self.clicks += 1;
    }

    fn types(&mut self, field: &str, text: &str) {
        self.bench.type_into(field, text);
        self.keys += text.chars().count() + 1;
    }

    fn enters(&mut self, field: &str, text: &str) {
        self.bench.enter(field, text);
        self.keys += text.chars().count() + 1;
    }

    fn presses(&mut self, modifiers: Modifiers, key: Key) {
        self.bench.press_with(modifiers, key);
        self.keys += 1;
    }

    fn chooses(&mut self, menu: &str, entry: &str) {
        self.bench.menu(menu, entry);
        self.clicks += 2;
    }

    fn tells(&self, what: &str) {
        println!("{what}: {} clicks, {} keys", self.clicks, self.keys);
    }
}

const BOM: &str = "Designator,Qty,Value,Voltage,Footprint,Description
\"C1, C2\",2,470uF,35V,CP_Radial_D10.0mm_P5.00mm,aluminium electrolytic 105C
C3,1,100u,25V,CP_Radial_D6.3mm_P2.50mm,aluminium electrolytic
R1,1,10k,,R_0805,resistor
";

const PLACEMENT: &str = "Ref,PosX (mm),PosY (mm),Rot,Side
C1,20.0,30.0,90,top
C2,36.0,30.0,90,top
C3,52.5,14.0,0,top
";

const PARTS: &str =
    "part_number,maker,series,technology,mounting,capacitance_uf,tolerance_pct,rated_v,temp_min_c,temp_max_c,\
endurance_h,endurance_basis,ripple_a,ripple_hz,esr_mohm,esr_hz,diameter_mm,height_mm,pitch_mm,status,unit_price,currency
SERAC-35-470,Halvenbeck,Serac,wet,radial,470,20,35,-40,105,5000,ripple,1.4,100000,45,100000,10,20,5,active,0.38,EUR
SERAC-25-100,Halvenbeck,Serac,wet,radial,100,20,25,-40,105,5000,ripple,0.34,100000,180,100000,6.3,11,2.5,active,0.12,EUR
";

/// The six questions, as far as this person knows the answers.
fn answers_six_questions(person: &mut Person) {
    person.types("Ambient", "45");
    person.types("Lowest ambient", "0");
    person.types("Hours a year", "3000");
    person.types("Interval", "8");
    person.types("Units", "3");
    person.types("Spares", "10");
    person.types("Currency", "EUR");
}

const PATH: &str = "Path of the list (a text table, a workbook or a data sheet); several with ; between them";

#[test]
fn a_new_job_takes_in_none_of_the_lists_of_the_one_before() {
    let mut person = Person::sits_down();
    for name in ["first.csv", "second.csv"] {
        let list = person.has(name, BOM.as_bytes());
        person.presses(Modifiers::COMMAND, Key::Num6);
        person.clicks("From a list…");
        person.enters(PATH, &list);
    }
    // The question about the job before has the keyboard; its first answer keeps everything.
    person.presses(Modifiers::NONE, Key::Tab);
    person.presses(Modifiers::NONE, Key::Enter);
    assert!(person.bench.says("second.csv") && !person.bench.says("first.csv"));
}

#[test]
fn lists_of_two_boards_begin_a_job_of_two_boards_and_what_was_left_is_told_beside_the_questions() {
    let mut person = Person::sits_down();
    let other =
        "Reference;Value;Remarks\nC1;47uF 35V;electrolytic\nC2;22uF 50V;electrolytic\nK1;Relay 24V DC;print relay\n";
    let lists = [("fan.csv", BOM), ("pump.csv", other), ("serac.csv", PARTS)];
    let lists = lists.map(|(name, text)| person.has(name, text.as_bytes()));
    person.clicks("From a list…");
    person.enters(PATH, &lists.join("; "));
    person.bench.assert_says("3 positions onto fan and 2 onto pump");
    person.presses(Modifiers::NONE, Key::Enter);
    person.bench.assert_says("What holds for the whole job");
    person.bench.assert_says("1 row of other parts was left (relay in pump.csv)");
    let boards = person.bench.job().boards.iter().map(|board| (board.name.as_str(), board.positions.len()));
    assert_eq!(boards.collect::<Vec<_>>(), [("fan", 3), ("pump", 2)]);
}

#[test]
fn from_three_lists_to_a_purchase_list() {
    let mut person = Person::sits_down();
    let lists = [("fan.csv", BOM), ("placement.csv", PLACEMENT), ("serac.csv", PARTS)];
    let lists = lists.map(|(name, text)| person.has(name, text.as_bytes()));
    person.clicks("From a list…");
    person.enters(PATH, &lists.join("; "));
    // The lists are there at once, and what imports them has the keyboard; what holds for the job is asked then.
    person.presses(Modifiers::NONE, Key::Enter);
    answers_six_questions(&mut person);
    person.clicks("Continue to the board");
    let job = person.bench.job();
    assert_eq!((job.positions().count(), job.catalogs.len(), job.units), (3, 1, Some(3.0)));
    // In one line of a card, however narrow.
    person.bench.assert_says("life, stock unknown");
    assert_eq!(job.conditions.phases.as_ref().map(Vec::len), Some(1));
    person.presses(Modifiers::COMMAND, Key::Num2);
    // What the old cans were rated for at ripple and the room over them have to be said; everything else is there.
    person.bench.assert_says("needs: ripple");
    person.presses(Modifiers::COMMAND, Key::A);
    person.presses(Modifiers::COMMAND, Key::E);
    person.enters("Current", "0.2");
    person.enters("Frequency", "100k");
    person.enters("Max. component height", "25");
    person.presses(Modifiers::COMMAND, Key::Enter);
    let picks: Vec<_> = person.bench.job().positions().map(|(_, position)| position.pick.clone()).collect();
    assert_eq!(picks, [Some("SERAC-35-470"), Some("SERAC-35-470"), Some("SERAC-25-100")].map(|p| p.map(str::to_owned)));
    person.chooses("Export", "Export purchase list");
    let out = person.folder.path().join("purchase.csv");
    person.enters("Path of the list (*.csv)", &out.display().to_string());
    let written = std::fs::read_to_string(out).unwrap();
    assert!(written.contains("SERAC-35-470,Halvenbeck") && written.contains("SERAC-25-100,Halvenbeck"), "{written}");
    person.tells("own job from three lists to a purchase list");
}

/// As a spreadsheet exports it: designators under "Bezeichnung", kinds under "Bauteil", prices with a comma.
const REBUILD: &str = "Stückliste Kuppelantrieb;;;;;;;
Pos.;Menge;Bezeichnung;Wert;Bauform;Bauteil;Hersteller;Bestell-Nr.;Preis/St.
1;2;C1, C2;470µF/35V;radial 10x20 RM5;Elko;;;0,42
2;1;C3;100µF/25V;radial 6,3x11 RM2,5;Elko;;;0,18
3;1;C20;0,22µF/275V~;RM15;Folienkondensator X2;Ardon;ARD-220-X2;0,78
4;2;K1, K2;24V/8A 2xUM;Print;Relais;Yarrowfell;YF-2U-24;4,10
5;1;F1;T 4A;5x20;Feinsicherung;Brundeval;BRV-T4;0,22
6;1;VR1;S14K275;Scheibe;Varistor;Ostravik;OST-14-275;0,61
7;1;M1;60x60x25 24V=;;Lüfter;Keldscar;KEL-60;11,90
8;1;BAT1;3,6V Lithium;1/2 AA;Pufferbatterie;Talus;TAL-36-12;5,60
9;8;R1..R8;10k;0207;Widerstand;;;0,02
";

#[test]
fn from_a_list_with_relays_to_an_order_with_them() {
    let mut person = Person::sits_down();
    let lists = [("kuppel.csv", REBUILD), ("serac.csv", PARTS)];
    let lists = lists.map(|(name, text)| person.has(name, text.as_bytes()));
    person.clicks("From a list…");
    person.enters(PATH, &lists.join("; "));
    person.bench.press_button("All kinds");
    person.clicks += 1;
    person.presses(Modifiers::COMMAND, Key::Enter);
    answers_six_questions(&mut person);
    person.presses(Modifiers::COMMAND, Key::Enter);
    let board = &person.bench.job().boards[0];
    assert_eq!((board.positions.len(), board.other_parts.len()), (3, 7));
    let relay = &board.other_parts[1];
    let said = (relay.part_number(), relay.replacement.unit_price, relay.replacement.maker.as_deref());
    assert_eq!(said, (Some("YF-2U-24"), Some(4.1), Some("Yarrowfell")));
    person.chooses("Export", "Export purchase list");
    let out = person.folder.path().join("purchase.csv");
    person.enters("Path of the list (*.csv)", &out.display().to_string());
    let written = std::fs::read_to_string(out).unwrap();
    for part in ["ARD-220-X2", "YF-2U-24", "BRV-T4", "OST-14-275", "KEL-60", "TAL-36-12"] {
        assert!(written.contains(part), "{part}: {written}");
    }
    person.tells("a list with relays, fuse, fan, varistor and battery to an order with them");
}

#[test]
fn from_a_photo_to_a_worksheet() {
    let mut person = Person::sits_down();
    let mut png = std::io::Cursor::new(Vec::new());
    image::RgbImage::from_pixel(80, 50, image::Rgb([20, 90, 50])).write_to(&mut png, image::ImageFormat::Png).unwrap();
    let photo = person.has("board.png", png.get_ref());
    person.clicks("From a photo…");
    person.enters("Path of the photo (*.png, *.jpg)", &photo);
    answers_six_questions(&mut person);
    person.clicks("Continue to the board");
    assert_eq!(person.bench.job().boards[0].photo.as_deref(), Some("board.png"));
    person.clicks("Add position");
    person.enters("Capacitance", "470 µF");
    person.enters("Rated voltage", "35 V");
    assert_eq!(person.bench.job().boards[0].positions.len(), 1);
    person.chooses("Export", "Export worksheet");
    let out = person.folder.path().join("bench.html");
    person.enters("Path of the worksheet (*.html)", &out.display().to_string());
    let written = std::fs::read_to_string(out).unwrap();
    assert!(written.contains("C1") && written.contains("470"), "{written}");
    // The photo was chosen before the job had a file; it lies beside it once it has one.
    person.presses(Modifiers::COMMAND, Key::S);
    let job = person.folder.path().join("own").join("job.json");
    std::fs::create_dir(job.parent().unwrap()).unwrap();
    person.enters("Path of the job file (*.json)", &job.display().to_string());
    assert!(job.with_file_name("board.png").exists());
    person.tells("own job from a photo to a worksheet");
}

#[test]
fn from_a_photo_to_a_traced_can_by_keys_alone() {
    let mut person = Person::sits_down();
    let mut png = std::io::Cursor::new(Vec::new());
    image::RgbImage::from_pixel(80, 50, image::Rgb([20, 90, 50])).write_to(&mut png, image::ImageFormat::Png).unwrap();
    let photo = person.has("board.png", png.get_ref());
    person.presses(Modifiers::NONE, Key::Tab);
    person.presses(Modifiers::NONE, Key::Enter);
    person.enters("Path of the photo (*.png, *.jpg)", &photo);
    person.presses(Modifiers::COMMAND, Key::Enter);
    assert_eq!(person.bench.focused(), "Trace the cans");
    person.presses(Modifiers::NONE, Key::Enter);
    // The photo has no scale yet: its width is asked, and has the keyboard.
    person.bench.harness.event(egui::Event::Text("120".into()));
    person.bench.settle();
    person.presses(Modifiers::NONE, Key::Enter);
    let corners = person.bench.job().boards[0].photo_corners_mm.unwrap();
    assert!((corners[1][0] - corners[0][0] - 120.0).abs() < 1e-6, "{corners:?}");
    // A circle in the middle, to be moved by the arrows; then it is a position.
    for key in [Key::Enter, Key::ArrowRight, Key::Plus, Key::Enter] {
        person.presses(Modifiers::NONE, key);
    }
    let positions = &person.bench.job().boards[0].positions;
    assert_eq!(positions.len(), 1);
    assert_eq!(positions[0].original.can.diameter_mm, Some(10.5));
    person.tells("from a photo to a traced can");
}

#[test]
fn the_demo_says_all_along_that_it_is_invented() {
    let mut person = Person::sits_down();
    person.clicks("Open the demo");
    person.bench.assert_says("everything in it is invented and cannot be bought");
    person.presses(Modifiers::COMMAND, Key::Num4);
    person.bench.assert_says("everything in it is invented and cannot be bought");
    person.clicks("Start my own…");
    person.bench.assert_says("My own board");
}

#[test]
fn a_list_brought_while_the_demo_is_open_begins_a_job_of_ones_own() {
    let mut person = Person::sits_down();
    person.clicks("Open the demo");
    let demo = person.bench.job().clone();
    person.has("fan.csv", BOM.as_bytes());
    person.bench.drop_files([person.folder.path().join("fan.csv")]);
    person.bench.assert_says("3 positions onto fan");
    assert_ne!(*person.bench.job(), demo, "it is a job of one's own");
    person.clicks("Import now");
    person.clicks("Skip");
    person.bench.assert_says("C1 on the board");
    assert_eq!((person.bench.job().boards.len(), person.bench.job().invented), (1, None));
}

#[test]
fn invented_parts_say_so_and_go_on_no_order_of_ones_own_without_a_question() {
    let mut person = Person::sits_down();
    // The comment of the list is kept through its import as parts of a stranger.
    let parts = format!(
        "# Invented: for trying things out\n{}",
        PARTS.replace("part_number", "Type").replace("capacitance_uf", "Cap (uF)")
    );
    let lists = [("fan.csv", BOM), ("parts.csv", parts.as_str())];
    let lists = lists.map(|(name, text)| person.has(name, text.as_bytes()));
    person.clicks("From a list…");
    let path = "Path of the list (a text table, a workbook or a data sheet); several with ; between them";
    person.enters(path, &lists.join("; "));
    person.clicks("Import now");
    answers_six_questions(&mut person);
    person.clicks("Continue to the board");
    person.presses(Modifiers::COMMAND, Key::Num2);
    let rows = person.bench.candidate_rows();
    assert!(rows.iter().any(|row| row.starts_with("SERAC-35-470, ") && row.contains("invented")), "{rows:?}");
    person.bench.click("SERAC-35-470");
    person.presses(Modifiers::NONE, Key::Enter);
    person.enters("Your reason, kept as the note of the position", "on the shelf");
    assert_eq!(person.bench.job().boards[0].positions[0].note.as_deref(), Some("SERAC-35-470: on the shelf"));
    person.chooses("Export", "Export purchase list");
    person.bench.assert_says("Parts of this order are invented");
    person.clicks("Cancel");
    person.chooses("Export", "Export purchase list");
    person.clicks("Write it all the same");
    let out = person.folder.path().join("purchase.csv");
    person.enters("Path of the list (*.csv)", &out.display().to_string());
    assert!(std::fs::read_to_string(out).unwrap().contains("invented: cannot be bought"));
}

#[test]
fn enter_goes_from_question_to_question_and_from_the_last_one_on_and_with_ctrl_from_any() {
    let mut person = Person::sits_down();
    person.clicks("Empty");
    for (field, text) in [
        ("Name of the job", "own"),
        ("Ambient", "45"),
        ("Lowest ambient", ""),
        ("Hours a year", "3000"),
        ("Interval", ""),
        ("Units", "3"),
        ("Spares", ""),
        ("Currency", "EUR"),
        ("Voltage below 160 V", "70"),
        ("Voltage from 160 V", ""),
        ("Ripple", "75 %"),
        ("Life margin", ""),
    ] {
        let at = person.bench.harness.get_by_role_and_label(egui::accesskit::Role::TextInput, field);
        assert!(at.accesskit_node().is_focused(), "{field}");
        at.type_text(text);
        person.bench.settle();
        person.presses(Modifiers::NONE, Key::Enter);
    }
    let job = person.bench.job();
    let known = (job.name.as_str(), job.hours_per_year, job.units, job.currency.as_deref());
    assert_eq!(known, ("own", Some(3000.0), Some(3.0), Some("EUR")));
    let Policy { voltage_use_max_wet_lv, ripple_use_max, life_margin, .. } = job.policy;
    assert_eq!((voltage_use_max_wet_lv, ripple_use_max, life_margin), (0.7, 0.75, 1.25));
    let mut person = Person::sits_down();
    person.clicks("Empty");
    person.types("Ambient", "warm");
    person.presses(Modifiers::COMMAND, Key::Enter);
    person.bench.assert_says("Not accepted: ");
    assert_eq!(person.bench.focused(), "Create the job");
    person.types("Units", "7");
    person.types("Ambient", "45");
    person.presses(Modifiers::NONE, Key::Tab);
    person.presses(Modifiers::COMMAND, Key::Enter);
    assert_eq!(person.bench.job().units, Some(7.0));
}

#[test]
fn going_back_from_a_new_job_keeps_what_was_answered() {
    let mut person = Person::sits_down();
    person.clicks("Empty");
    answers_six_questions(&mut person);
    person.clicks("Back");
    person.clicks("Empty");
    assert_eq!((person.bench.text_of("Ambient"), person.bench.text_of("Units")), ("45".to_owned(), "3".to_owned()));
}
