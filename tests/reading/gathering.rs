//! Several files of one board, and what is given for every position. Every list here is hand-made.

use std::path::Path;

use refarad::domain::{Board, Position, Role};
use refarad::files::import::every_position::ForEvery;
use refarad::files::import::gather::gather;
use refarad::files::import::{Gathered, Given, Source};
use refarad::files::table::Options;

fn source(name: &str, text: &str) -> Source {
    Source::from_bytes(Path::new(name), text.as_bytes(), None, &Options::default()).unwrap()
}

fn gathered(sources: &[Source], board: Board) -> Gathered {
    let given: Vec<Given> = sources.iter().map(|s| Given::of(s, &s.mapping)).collect();
    gather(&given, board, 10, &|_| true).unwrap()
}

#[test]
fn a_list_and_a_placement_in_any_order_become_one_board() {
    let placement = source("b.csv", "Designator,Mid X,Mid Y,Layer,Rotation\nC1,10mm,20mm,Top,90\nC9,1mm,2mm,Top,0\n");
    let list = source("a.csv", "Reference,Value,Description\nC1,470uF 35V,electrolytic\nC2,100uF 25V,electrolytic\n");
    let out = gathered(&[placement, list], Board::default());
    let board = out.board.unwrap();
    assert_eq!((out.added, board.positions.len()), (2, 2));
    assert_eq!(board.positions[0].x_mm, Some(10.0));
    assert_eq!(
        (out.files[0].without_position.join(" "), out.files[0].without_place.join(" ")),
        ("C9".into(), "C2".into())
    );
}

#[test]
fn positions_that_are_there_are_completed_and_their_own_figures_stay() {
    let first = source("a.csv", "Reference,Value,Description\nC1,470uF,electrolytic\n");
    let board = gathered(&[first], Board::default()).board.unwrap();
    let second = source("b.csv", "Reference,Value,Description\nC1,330uF 35V,electrolytic\nC2,47uF 16V,electrolytic\n");
    let out = gathered(&[second], board);
    let board = out.board.unwrap();
    assert_eq!((out.added, out.completed), (1, 1));
    let can = &board.positions[0].original.can;
    assert_eq!((can.capacitance_uf, can.rated_v), (Some(470.0), Some(35.0)));
    assert_eq!(out.files[0].report.contradictions.len(), 1);
}

#[test]
fn what_a_later_list_measured_completes_a_position() {
    let board =
        gathered(&[source("a.csv", "Ref,Value,Type\nC1,470uF 25V,electrolytic\n")], Board::default()).board.unwrap();
    let second = source("b.csv", "Ref,Value,Remark\nC1,470uF 25V electrolytic,measured 380 µF\n");
    let out = gathered(&[second], board);
    let position = &out.board.unwrap().positions[0];
    assert_eq!((out.completed, position.measured.as_ref().and_then(|of| of.capacitance_uf)), (1, Some(380.0)));
}

#[test]
fn of_a_part_in_two_files_the_later_is_used_and_the_earlier_listed() {
    let head = "part number,capacitance (uF),rated voltage (V),ripple current (mA)\n";
    let (a, b) =
        (source("a.csv", &format!("{head}X1,470,35,900\n")), source("b.csv", &format!("{head}X1,470,35,950\n")));
    let out = gathered(&[a, b], Board::default());
    assert_eq!(out.parts.len(), 1);
    assert_eq!(out.parts[0].1.can.ripple_a, Some(0.95));
    assert!(out.files[0].report.rejected.iter().any(|listed| listed.reason.contains("b.csv line 2")));
    assert!(out.board.is_none());
}

#[test]
fn reading_stops_when_it_is_no_longer_wanted() {
    let list = source("a.csv", "Reference,Value,Description\nC1,470uF,electrolytic\n");
    let given = [Given::of(&list, &list.mapping)];
    assert!(gather(&given, Board::default(), 10, &|_| false).is_none());
}

fn two_positions() -> Board {
    let known: Position = serde_json::from_str(r#"{"ref": "C1", "stress": {"dc_v": 12}}"#).unwrap();
    let open =
        Position { reference: "C2".into(), role: Some(Role::Decoupling), role_assumed: true, ..Position::default() };
    Board { positions: vec![known, open], ..Board::default() }
}

#[test]
fn a_figure_goes_where_none_is_and_what_is_said_stays() {
    let mut board = two_positions();
    for text in ["stress.dc_v = 24 V", "stress.phases=[{\"share\": 1, \"ambient_c\": 45}]", "role=output_filter"] {
        ForEvery::parse(text).unwrap().apply(&mut board).unwrap();
    }
    let dc_v: Vec<Option<f64>> = board.positions.iter().map(|position| position.stress.dc_v).collect();
    assert_eq!(dc_v, [Some(12.0), Some(24.0)]);
    assert_eq!((board.positions[1].role, board.positions[1].role_assumed), (Some(Role::OutputFilter), false));
    assert_eq!(board.positions[1].stress.phases.as_ref().map(Vec::len), Some(1));
}

#[test]
fn rows_of_figures_mean_the_same_as_the_list_in_a_job_file() {
    let filled = |texts: &[&str]| {
        let mut board = Board { positions: vec![Position::default()], ..Board::default() };
        texts.iter().for_each(|text| ForEvery::parse(text).unwrap().apply(&mut board).unwrap());
        board
    };
    let typed =
        filled(&["stress.ripple=100:0.4; 20 kHz:100 mA", "stress.phases=70 %:40;0.3:55", "space.accepts=smd, axial"]);
    let listed = filled(&[
        "stress.ripple=[{\"hz\": 100, \"a\": 0.4}, {\"hz\": 20000, \"a\": 0.1}]",
        "stress.phases=[{\"share\": 0.7, \"ambient_c\": 40}, {\"share\": 0.3, \"ambient_c\": 55}]",
        "space.accepts=[\"smd\", \"axial\"]",
    ]);
    assert_eq!(typed, listed);
    let unknown = ForEvery::parse("stress.ripple=1:2:3:4:5:6").unwrap_err();
    assert!(unknown.contains("expected rows of hz:a"), "{unknown}");
}

#[test]
fn what_cannot_be_meant_is_refused_in_words() {
    for text in [
        "stress.dc_v",
        "stress.dc_v=24 A",
        "=3",
        "stress.phases=warm",
        "stress.ripple=100:0.4;",
        "space.accepts=radial;glued",
        "role=something",
        "stress.ripple_peak_v=-200",
        "stress.phases=[{\"share\": -1}]",
        "needs=3",
    ] {
        assert!(ForEvery::parse(text).is_err(), "{text}");
    }
    let unknown = ForEvery::parse("original.rated=16").unwrap_err();
    assert!(unknown.contains("did you mean original.rated_v?"), "{unknown}");
}
