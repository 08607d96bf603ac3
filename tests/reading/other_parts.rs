//! Relays, fuses and the like of a board's parts list: counted always, taken in where their kinds are wanted, placed like the rest.

use refarad::domain::{Board, OtherKind};
use refarad::files::import::Target;
use refarad::files::import::gather::{Given, gather};

use crate::{aside, positions, source};

const LIST: &str = "Ref,Qty,Value,Description,Manufacturer,MPN
\"C1, C2\",2,470uF 35V,Electrolytic radial,Talus,TALUS-35-470U
C3,1,100n 275V,Film capacitor X2,Ardon,ARDON-X-100N
\"K1, K2\",2,24V,Relay 2 CO,Yarrowfell,CAIRN-24
F1,1,T2A,Fuse 5x20,Brundeval,BRIN-2A
RV1,1,275V,Varistor,Ostravik,OST-275
RV2,1,10k,Trimmer,,
U4,1,,Optocoupler 4 pin,Torrelume,TORR-4P
U5,1,,Op amp,,
R7,1,100R,Resistor at the relay,,
F9,1,T9A,Fuse DNP,,
";

#[test]
fn they_are_counted_and_set_aside_until_somebody_wants_them() {
    use OtherKind::{FilmCapacitor, Fuse, Optocoupler, Other, Relay, Varistor};
    let import = positions(LIST);
    let found: Vec<(OtherKind, usize)> = import.report.others.iter().map(|(kind, rows)| (*kind, *rows)).collect();
    assert_eq!(found, [(Relay, 1), (Fuse, 1), (Varistor, 1), (Optocoupler, 1), (FilmCapacitor, 1), (Other, 1)]);
    assert!(import.others.is_empty());
    assert_eq!((import.positions.len(), aside(&import.report, "not a capacitor")), (2, 8));
}

#[test]
fn a_czech_list_with_prices_gives_parts_one_can_order() {
    let text = "Označení;Počet;Název;Hodnota;Pouzdro;Výrobce;Objednací číslo;Cena/ks (Kč)
C1,C2;2;Kondenzátor elektrolytický;2200uF/35V;RM7,5 16x31,5;;;24,50
C3-C5;3;Kondenzátor elektrolytický;470uF/25V;RM5 10x16;;;7,90
RE1,RE2;2;Relé;24V 8A 2P;DPS;Yarrowfell;YF-2P-24;98,00
PO1;1;Pojistka trubičková;T2A;5x20;Brundeval;BRV-T2;4,50
V1;1;Ventilátor;60x60x25 24V;;Keldscar;KEL-60;289,00
OPT1;1;Optočlen;4pin;DIP4;Torrelume;TOR-4;8,90
R1-R10;10;Rezistor;10k;0207;;;0,50
";
    let mut list = source("zdroj.csv", text.as_bytes(), None);
    list.mapping.other_parts = vec![OtherKind::Relay, OtherKind::Fuse, OtherKind::Fan, OtherKind::Optocoupler];
    let gathered = gather(&[Given::of(&list, &list.mapping)], Board::default(), 0, &|_| true).unwrap();
    let board = gathered.board.unwrap();
    let sold = board.other_parts.iter().map(|part| {
        let new = &part.replacement;
        (part.reference.as_str(), part.part_number(), new.unit_price, new.currency.as_deref())
    });
    let expected = [
        ("RE1", "YF-2P-24", 98.0),
        ("RE2", "YF-2P-24", 98.0),
        ("PO1", "BRV-T2", 4.5),
        ("V1", "KEL-60", 289.0),
        ("OPT1", "TOR-4", 8.9),
    ];
    let expected = expected.map(|(name, part, price)| (name, Some(part), Some(price), Some("CZK")));
    assert_eq!(sold.collect::<Vec<_>>(), expected);
    assert_eq!(board.positions.len(), 5);
}

#[test]
fn wanted_kinds_go_onto_the_board_with_their_numbers_and_a_placement_file_places_them() {
    let mut list = source("board.csv", LIST.as_bytes(), Some(Target::Positions));
    list.mapping.other_parts = vec![OtherKind::Relay, OtherKind::Fuse, OtherKind::FilmCapacitor];
    let places = source(
        "places.csv",
        b"Ref,X(mm),Y(mm),Side\nC1,10,20,top\nC2,30,20,top\nK1,50,40,bottom\nF1,60,10,top\n",
        Some(Target::Placement),
    );
    let given: Vec<Given> = [&list, &places].iter().map(|s| Given::of(s, &s.mapping)).collect();
    let gathered = gather(&given, Board::default(), usize::MAX, &|_| true).unwrap();
    let board = gathered.board.unwrap();
    let names: Vec<&str> = board.other_parts.iter().map(|part| part.reference.as_str()).collect();
    assert_eq!((names, gathered.others), (vec!["C3", "K1", "K2", "F1"], 4));
    let relay = &board.other_parts[1];
    assert_eq!((relay.part_number(), relay.replacement.maker.as_deref()), (Some("CAIRN-24"), Some("Yarrowfell")));
    assert_eq!(relay.original.label.as_deref(), Some("24V Relay 2 CO"));
    assert_eq!((relay.x_mm, relay.y_mm, relay.side), (Some(50.0), Some(40.0), Some(refarad::domain::Side::Bottom)));
    // Every row is kept or skipped, none twice.
    let report = &gathered.files[0].report;
    assert_eq!(report.kept + report.set_aside_rows() + report.refused, report.rows);
    // The same list once more adds nothing.
    let again = gather(&given[..1], board.clone(), usize::MAX, &|_| true).unwrap();
    assert_eq!((again.others, again.board.unwrap().other_parts), (0, board.other_parts));
}

#[test]
fn a_job_keeps_them_on_boards_and_in_the_unit_with_fields_it_does_not_know_and_names_what_is_wrong() {
    let text = r#"{"format":"refarad-job","version":1,
        "other_parts":[{"ref":"M1","kind":"fan","interval_years":8,"colour":"grey","replacement":{"maker":"Keldscar","era":2}}],
        "test_points":[{"ref":"TP9","expected_low":4.9,"unit":"V","mood":"calm"}],
        "unit_types":[{"name":"old","units":2,"boards":["B"],"years":"1996"}],
        "boards":[{"name":"B","other_parts":[{"ref":"K1","original":{"coil_ohm":640,"tag":1}}],"positions":[{"ref":"C1","potted":true}]}]}"#;
    let read = |text: &str| refarad::files::job::from_slice(text.as_bytes(), "a.json".as_ref());
    let job = read(text).unwrap().job;
    assert_eq!(
        (job.other_parts[0].interval_years, job.boards[0].other_parts[0].original.coil_ohm),
        (Some(8.0), Some(640.0))
    );
    let again = refarad::files::job::to_text(&job);
    for kept in ["colour", "era", "mood", "1996", "tag", "potted"] {
        assert!(again.contains(kept), "{kept}");
    }
    assert_eq!(read(&again).unwrap().job, job);
    for (good, bad, field) in [
        ("\"coil_ohm\":640", "\"coil_ohm\":-1", "boards[0].other_parts[0] (K1): original.coil_ohm"),
        ("\"kind\":\"fan\"", "\"kind\":\"hero\"", "other_parts[0] (M1): kind"),
        ("\"units\":2", "\"units\":2.5", "unit_types[0].units"),
        ("\"expected_low\":4.9", "\"expected_low\":\"low\"", "test_points[0] (TP9): expected_low"),
    ] {
        let message = read(&text.replace(good, bad)).unwrap_err().to_string();
        assert!(message.contains(field), "{message}");
    }
    // A file from before has none of the lists, and is written without them.
    let before = read(r#"{"format":"refarad-job","version":1,"units":3,"boards":[]}"#).unwrap().job;
    let written = refarad::files::job::to_text(&before);
    assert!(["other_parts", "test_points", "unit_types"].iter().all(|name| !written.contains(name)));
}

#[test]
fn the_call_takes_in_the_kinds_it_names_and_refuses_a_kind_there_is_none_of() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("list.csv"), LIST).unwrap();
    for (kinds, expected) in [("relay,fuse", Ok(3)), ("all", Ok(7)), ("relais", Err("film_capacitor"))] {
        let words = ["read", "list.csv", "--other-parts", kinds, "--out", "job.json", "--overwrite"];
        let output = crate::calls::run(&folder, &words);
        let said = String::from_utf8_lossy(&output.stderr);
        match expected {
            Ok(count) => {
                let job = refarad::files::job::read(&folder.path().join("job.json")).unwrap().job;
                assert_eq!(job.boards[0].other_parts.len(), count, "{kinds}: {said}");
            }
            Err(part) => assert!(output.status.code() == Some(2) && said.contains(part), "{said}"),
        }
    }
}
