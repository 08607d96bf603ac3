//! Placement files. All files are hand-made.

use refarad::domain::{Board, Position, Side};
use refarad::files::import::placement::{FileGave, place};
use refarad::files::import::{Answer, Target};

use crate::{aside, source};

fn board(names: &[&str]) -> Board {
    let position = |name: &&str| Position { reference: (*name).into(), ..Position::default() };
    Board { name: "Supply".into(), positions: names.iter().map(position).collect(), ..Board::default() }
}

fn run(text: &str, board: &mut Board) -> FileGave {
    let file = source("place.csv", text.as_bytes(), Some(Target::Placement));
    place(&file.table, &file.mapping, &file.path, board)
}

fn at(board: &Board, name: &str) -> (Option<f64>, Option<f64>, Option<f64>, Option<Side>) {
    let position = board.positions.iter().find(|position| position.reference == name).unwrap();
    (position.x_mm, position.y_mm, position.rotation_deg, position.side)
}

#[test]
fn the_unit_comes_from_header_preamble_or_suffix() {
    let expected = (Some(25.4), Some(12.7), Some(90.0), Some(Side::Top));
    for text in [
        "Designator,Center-X(mil),Center-Y(mil),Rotation,Layer\nC1,1000,500,90,TopLayer\n",
        "Designator,Mid X mm,Mid Y mm,Rotation deg,Side\nC1,25.4,12.7,90,T\n",
        "Designator,Mid X,Mid Y,Rotation,Layer\nC1,25.4mm,12.7mm,90,Top\n",
        "Designator,Mid X,Mid Y,Rotation,Layer\nC1,1000mil,500mil,90.00,T\n",
        "Pick and place\nUnits used: mil\n\nDesignator,LocationX,LocationY,Rotation,Layer\nC1,1000,500,90,top\n",
        "### positions ###\n## Unit = mm, Angle = deg.\n## Side : All\n# Ref Val Package PosX PosY Rot Side\nC1 470uF CP_Elec_8x6.2 25.4000 12.7000 90.0000 top\n## End\n",
        "\"Designator\"\t\"Mid X\"\t\"Mid Y\"\t\"Layer\"\t\"Rotation\"\n\"C1\"\t\"25.4mm\"\t\"12.7mm\"\t\"T\"\t\"90\"\n",
    ] {
        let mut board = board(&["C1"]);
        let import = run(text, &mut board);
        assert_eq!(at(&board, "C1"), expected, "{text} {:?}", import.report);
        assert_eq!(import.placed, Some(1));
    }
}

#[test]
fn an_unstated_unit_is_asked_with_what_each_answer_would_mean() {
    let text = b"Designator,Mid X,Mid Y,Rotation,Layer\nC1,100,200,0,T\nC2,4100,3200,0,T\n";
    let mut file = source("place.csv", text, Some(Target::Placement));
    let mut board = board(&["C1", "C2"]);
    let import = place(&file.table, &file.mapping, &file.path, &mut board);
    assert_eq!((import.placed, at(&board, "C1").0), (Some(0), None));
    let question = &import.report.questions[0];
    assert!(
        question.choices.iter().any(|choice| choice.label.contains("mil: the parts cover 102 x 76 mm")),
        "{question:?}"
    );
    assert!(
        question.choices.iter().any(|choice| choice.label.starts_with("mm") && choice.label.contains("implausible"))
    );
    let mil = question.choices.iter().find(|choice| choice.label.starts_with("mil")).unwrap();
    mil.answer.apply(&mut file.mapping).unwrap();
    assert_eq!(place(&file.table, &file.mapping, &file.path, &mut board).placed, Some(2));
    assert_eq!(at(&board, "C2").0, Some(104.14));
}

#[test]
fn a_board_of_160_inches_is_implausible_and_said_so() {
    let text = b"Designator,X (inch),Y (inch),Rotation,Layer\nC1,1,2,0,T\nC2,161,32,0,T\n";
    let mut file = source("place.csv", text, Some(Target::Placement));
    let mut board = board(&["C1", "C2"]);
    let import = place(&file.table, &file.mapping, &file.path, &mut board);
    assert_eq!(import.placed, Some(0));
    assert!(import.report.questions[0].what.contains("implausible"));
    Answer::unit("X (inch)", refarad::files::cell::unit::Unit::Millimetre).apply(&mut file.mapping).unwrap();
    Answer::unit("Y (inch)", refarad::files::cell::unit::Unit::Millimetre).apply(&mut file.mapping).unwrap();
    assert_eq!(place(&file.table, &file.mapping, &file.path, &mut board).placed, Some(2));
}

#[test]
fn negative_coordinates_are_moved_mirrored_bottoms_turned_and_angles_made_equal() {
    let mut board = board(&["C1", "C2", "C3"]);
    let import = run(
        "Ref,PosX (mm),PosY (mm),Rot,Side\nC1,45.1,-30.2,270,top\nC2,65.1,-50.2,-90,top\nC3,-50.1,-40.2,180,bottom\n",
        &mut board,
    );
    assert_eq!(at(&board, "C1"), (Some(45.1), Some(25.0), Some(270.0), Some(Side::Top)));
    assert_eq!(at(&board, "C2"), (Some(65.1), Some(5.0), Some(270.0), Some(Side::Top)));
    assert_eq!(at(&board, "C3"), (Some(50.1), Some(15.0), Some(180.0), Some(Side::Bottom)));
    assert!(import.report.notes.iter().any(|note| note.contains("mirrored")));
    assert!(import.report.notes.iter().any(|note| note.contains("moved by 0.000 mm in x and 55.200 mm in y")));
}

#[test]
fn mismatches_are_listed_both_ways_and_panels_use_the_first_place() {
    let mut board = board(&["C1", "C9"]);
    let import = run(
        "Designator,Mid X,Mid Y,Rotation,Layer\nC1,1mm,2mm,0,T\nC1,51mm,2mm,0,T\nC77,3mm,4mm,0,T\nR5,5mm,4mm,0,T\nC?,5mm,4mm,0,T\n",
        &mut board,
    );
    assert_eq!(
        (import.without_position.as_slice(), import.without_place.as_slice()),
        (&["C77".to_string()][..], &["C9".to_string()][..])
    );
    assert_eq!(at(&board, "C1").0, Some(1.0));
    let reasons = ["repeated designator", "placed, but no position", "not a capacitor", "no designator"];
    assert_eq!(reasons.map(|reason| aside(&import.report, reason)), [1, 1, 1, 1]);
    assert!(import.report.rejected.iter().any(|row| row.value == "C9"));
}

#[test]
fn reference_and_pad_coordinates_are_decoys() {
    let mut board = board(&["C1"]);
    run(
        "Designator,Footprint,Mid X,Mid Y,Ref X,Ref Y,Pad X,Pad Y,Layer,Rotation\nC1,D10,10mm,20mm,1mm,2mm,3mm,4mm,T,0\n",
        &mut board,
    );
    assert_eq!((at(&board, "C1").0, at(&board, "C1").1), (Some(10.0), Some(20.0)));
}

#[test]
fn a_file_without_header_and_an_empty_one_are_read() {
    let mut board = board(&["C1", "C2"]);
    let file = source(
        "place.txt",
        b"C1 12.70 33.02 90 470uF E5-10,5\nC2 2.54 3.81 R270 100u E5-10,5\nR1 5.08 3.81 0 10k R0805\n",
        None,
    );
    assert_eq!(file.mapping.target, Target::Placement);
    let import = place(&file.table, &file.mapping, &file.path, &mut board);
    assert_eq!((import.placed, import.report.questions.len()), (Some(0), 1));
    let empty = run("Designator,Mid X,Mid Y,Layer,Rotation\n", &mut board);
    assert_eq!((empty.placed, empty.without_place.len(), empty.report.refused), (Some(0), 2, 0));
    assert!(empty.report.notes.iter().any(|note| note.contains("no rows")));
}
