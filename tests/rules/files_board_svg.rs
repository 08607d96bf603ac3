//! The drawing of a board: to scale, from the right side, with what is wrong with it.

use refarad::domain::{Board, Can, Catalog, Job, Mounting, Original, Position, PositionId, Side};
use refarad::files::board_colours::Colours;
use refarad::files::board_drawing::Drawing;
use refarad::files::board_page::Page;
use refarad::files::board_svg::{SHEET_WIDTH_MM, document, for_sheet};
use refarad::files::drawing::{Anchor, Shape};
use refarad::sizing::{BoardMap, CanState, Need, Sizing};

fn at(reference: &str, x_mm: f64, mounting: Mounting) -> Position {
    let can =
        Can { diameter_max_mm: Some(10.0), height_max_mm: Some(30.0), mounting: Some(mounting), ..Can::default() };
    Position {
        reference: reference.into(),
        x_mm: Some(x_mm),
        y_mm: Some(20.0),
        rotation_deg: Some(90.0),
        original: Original { can, ..Original::default() },
        ..Position::default()
    }
}

fn svg(positions: Vec<Position>, side: Side) -> String {
    let board = Board { name: "A & B".into(), outline_mm: Some([120.0, 80.0]), positions, ..Board::default() };
    let job = Job { boards: vec![board], ..Job::default() };
    document(&job, &Catalog::default(), &Sizing::default(), 0, side, Colours::NewPart, &[]).unwrap()
}

#[test]
fn the_drawing_is_to_scale_and_names_are_escaped() {
    let drawing = svg(vec![at("<C1>", 30.0, Mounting::Radial)], Side::Top);
    assert!(drawing.contains("width=\"150.00mm\" height=\"103.00mm\" viewBox=\"0 0 150.00 103.00\""));
    // 5 mm of margin; y counts from the top.
    assert!(drawing.contains("<circle cx=\"35.00\" cy=\"65.00\" r=\"5.00\" fill=\"none\""), "{drawing}");
    assert!(drawing.contains("A &amp; B, top") && drawing.contains(">&lt;C1&gt;</text>"));
}

#[test]
fn an_axial_can_lies_along_its_rotation() {
    let drawing = svg(vec![at("C1", 30.0, Mounting::Axial)], Side::Top);
    assert!(drawing.contains("<polygon points=\"40.00,80.00 40.00,50.00 30.00,50.00 30.00,80.00\""), "{drawing}");
}

#[test]
fn the_bottom_is_seen_from_below() {
    let below = Position { side: Some(Side::Bottom), ..at("C1", 30.0, Mounting::Radial) };
    let drawing = svg(vec![below], Side::Bottom);
    assert!(drawing.contains("cx=\"95.00\" cy=\"65.00\""), "{drawing}");
    assert!(drawing.contains("bottom seen from below"));
}

#[test]
fn a_gap_that_falls_short_is_drawn_with_its_figure() {
    let drawing = svg(vec![at("C1", 30.0, Mounting::Radial), at("C2", 40.4, Mounting::Radial)], Side::Top);
    assert!(drawing.contains(">gap 0.4 mm</text>"));
    let drawing = svg(vec![at("C1", 30.0, Mounting::Radial), at("C2", 38.0, Mounting::Radial)], Side::Top);
    assert!(drawing.contains(">overlap 2 mm</text>"));
}
#[test]
fn a_can_over_a_keep_out_says_so_on_both_drawings() {
    let positions = vec![at("C1", 30.0, Mounting::Radial)];
    let keepouts_mm = vec![[33.0, 0.0, 20.0, 60.0]];
    let board = Board { outline_mm: Some([120.0, 80.0]), keepouts_mm, positions, ..Board::default() };
    let job = Job { boards: vec![board], ..Job::default() };
    let (catalog, sizing) = (Catalog::default(), Sizing::default());
    let drawing = document(&job, &catalog, &sizing, 0, Side::Top, Colours::NewPart, &[]).unwrap();
    assert!(drawing.contains(">over a keep-out by 2 mm</text>"), "{drawing}");
    let sheet = for_sheet(&job, &catalog, &sizing, (0, Side::Top), [SHEET_WIDTH_MM, 106.0], None).unwrap();
    assert!(sheet.contains(">over a keep-out by 2 mm</text>"), "{sheet}");
}

#[test]
fn a_reference_stands_in_no_other_can_and_farther_off_it_is_joined_to_its_own() {
    let mut positions: Vec<Position> = (0..25)
        .map(|n| Position {
            y_mm: Some(10.0 + 11.0 * f64::from(n / 5)),
            ..at(&format!("C{n}"), 10.0 + 11.0 * f64::from(n % 5), Mounting::Radial)
        })
        .collect();
    positions.push(at("C99", 105.0, Mounting::Radial));
    let board = Board { outline_mm: Some([120.0, 80.0]), positions, ..Board::default() };
    let job = Job { boards: vec![board.clone()], ..Job::default() };
    let catalog = Catalog::default();
    let map = BoardMap::new(&job, &catalog, &Sizing::default(), 0, Side::Top).unwrap();
    let page = Page {
        at_mm: [0.0, 80.0],
        origin: [0.0, 0.0],
        scale: 3.0,
        mirrored: false,
        point: 1.0,
        sight: [0.0, 0.0, 360.0, 240.0],
    };
    let inner = PositionId { board: 0, index: 12 };
    let drawing = Drawing {
        board: &board,
        map: &map,
        catalog: &catalog,
        colours: Colours::NewPart,
        underestimated: &[],
        first: &[inner],
        all_references: false,
        over_photo: false,
        width: &|text, size| text.len() as f64 * size * 0.6,
    };
    let shapes = drawing.shapes(&page, Vec::new());
    let mut written = Vec::new();
    for shape in &shapes {
        let Shape::Text { at: [x, y], anchor, size, text, .. } = shape else { continue };
        let Some(own) = map.cans.iter().find(|can| can.reference == *text) else { continue };
        let (half, height) = (text.len() as f64 * size * 0.3, size * 1.25);
        let (middle_x, middle_y) = match anchor {
            Anchor::Top => (*x, y + height / 2.0),
            Anchor::Bottom => (*x, y - height / 2.0),
            Anchor::Left => (x + half, *y),
            Anchor::Right => (x - half, *y),
        };
        for other in map.cans.iter().filter(|can| can.id != own.id) {
            let [cx, cy] = page.at(other.centre_mm);
            let off = ((cx - middle_x).abs() - half).max(0.0).hypot(((cy - middle_y).abs() - height / 2.0).max(0.0));
            assert!(off >= 15.0, "{text} stands in {}", other.reference);
        }
        let joined = shapes.iter().any(
            |shape| matches!(shape, Shape::Path { points, .. } if points[..] == [page.at(own.centre_mm), [*x, *y]]),
        );
        written.push((text.as_str(), joined));
    }
    assert!(written.contains(&("C12", true)) && written.contains(&("C99", false)), "{written:?}");
    assert!(!written.iter().any(|(name, _)| *name == "C6"), "there is no room: {written:?}");
}

/// What is written on a drawing of these positions at a scale, and where; `first` comes before the others.
fn written(positions: Vec<Position>, scale: f64, first: &[PositionId]) -> Vec<(String, Anchor)> {
    let board = Board { outline_mm: Some([120.0, 80.0]), positions, ..Board::default() };
    let job = Job { boards: vec![board.clone()], ..Job::default() };
    let catalog = Catalog::default();
    let mut map = BoardMap::new(&job, &catalog, &Sizing::default(), 0, Side::Top).unwrap();
    for can in &mut map.cans {
        (can.state, can.needs) = (CanState::NotEnoughKnown, vec![Need::Ripple, Need::Height]);
    }
    let sight = [0.0, 0.0, 120.0 * scale, 80.0 * scale];
    let page = Page { at_mm: [0.0, 80.0], origin: [0.0, 0.0], scale, mirrored: false, point: 1.0, sight };
    let drawing = Drawing {
        board: &board,
        map: &map,
        catalog: &catalog,
        colours: Colours::NewPart,
        underestimated: &[],
        first,
        all_references: false,
        over_photo: false,
        width: &|text, size| text.chars().count() as f64 * size * 0.45,
    };
    let text = |shape| match shape {
        Shape::Text { text, anchor, .. } => Some((text, anchor)),
        _ => None,
    };
    drawing.shapes(&page, Vec::new()).into_iter().filter_map(text).collect()
}

#[test]
fn words_in_a_can_keep_clear_of_the_bar_of_its_polarity_and_begin_with_what_they_are() {
    let words = |across: f64| {
        let all = written(vec![at("C1", 30.0, Mounting::Radial)], across / 10.0, &[]);
        all.into_iter().map(|(text, _)| text).collect::<Vec<_>>()
    };
    assert_eq!(words(240.0), ["C1", "needs: ripple", "height"]);
    // The second need would stand on the bar.
    assert_eq!(words(88.0), ["C1", "needs: ripple"]);
    // The first has no room: the second alone would say nothing.
    assert_eq!(words(76.0), ["C1"]);
}

#[test]
fn a_reference_keeps_clear_of_the_ring_around_what_is_selected() {
    let above = Position { y_mm: Some(38.0), ..at("C2", 30.0, Mounting::Radial) };
    let positions = vec![at("C1", 30.0, Mounting::Radial), above];
    let anchor = |first: &[PositionId]| {
        let all = written(positions.clone(), 3.0, first);
        all.into_iter().find(|(text, _)| text == "C2").map(|(_, anchor)| anchor)
    };
    assert_eq!(anchor(&[]), Some(Anchor::Top));
    assert_eq!(anchor(&[PositionId { board: 0, index: 0 }]), Some(Anchor::Bottom));
}
