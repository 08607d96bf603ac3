//! Other parts and test points on the map of a board: a small shape and a letter for each kind, never colour alone.

use super::board_page::Page;
use super::drawing::{Ink, Line, Shape};
use crate::domain::{Board, OtherKind, Side};

/// Half the side of a part on the board, mm, and the least on the page, points: their bodies are not entered.
const HALF_MM: f64 = 3.5;
const HALF_LEAST: f64 = 7.0;
/// Half the height of a test point, points.
const POINT: f64 = 6.0;

/// One thing to be drawn.
pub struct Spot<'a> {
    /// Its index in its list of the board.
    pub index: usize,
    /// Centre, mm.
    pub centre_mm: [f64; 2],
    /// What it is called.
    pub reference: &'a str,
    /// What kind of part; `None` for a test point.
    pub part: Option<Option<OtherKind>>,
}

impl Spot<'_> {
    /// Half its height on the page.
    pub fn half(&self, page: &Page) -> f64 {
        match self.part {
            Some(_) => (HALF_MM * page.scale).max(HALF_LEAST * page.point),
            None => POINT * page.point,
        }
    }
}

/// What is placed on a side of a board: other parts, then test points.
pub fn spots(board: &Board, side: Side) -> impl Iterator<Item = Spot<'_>> {
    let here = move |on: Option<Side>| on.unwrap_or_default() == side;
    let parts =
        board.other_parts.iter().enumerate().filter(move |(_, part)| here(part.side)).filter_map(|(index, part)| {
            let centre_mm = [part.x_mm?, part.y_mm?];
            Some(Spot { index, centre_mm, reference: &part.reference, part: Some(part.kind) })
        });
    let points = board.test_points.iter().enumerate().filter(move |(_, at)| here(at.side)).filter_map(|(index, at)| {
        Some(Spot { index, centre_mm: [at.x_mm?, at.y_mm?], reference: &at.reference, part: None })
    });
    parts.chain(points)
}

/// The letter of a kind, and the corners of its shape around the centre, in halves of its side, anticlockwise.
fn form(kind: Option<OtherKind>) -> (&'static str, &'static [[f64; 2]]) {
    const SQUARE: &[[f64; 2]] = &[[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]];
    const LONG: &[[f64; 2]] = &[[-1.5, -0.7], [1.5, -0.7], [1.5, 0.7], [-1.5, 0.7]];
    const OCTAGON: &[[f64; 2]] = &[
        [-0.45, -1.1],
        [0.45, -1.1],
        [1.1, -0.45],
        [1.1, 0.45],
        [0.45, 1.1],
        [-0.45, 1.1],
        [-1.1, 0.45],
        [-1.1, -0.45],
    ];
    const HEXAGON: &[[f64; 2]] = &[[-0.7, -1.0], [0.7, -1.0], [1.3, 0.0], [0.7, 1.0], [-0.7, 1.0], [-1.3, 0.0]];
    const TRAPEZOID: &[[f64; 2]] = &[[-1.4, -0.8], [1.4, -0.8], [1.0, 0.8], [-1.0, 0.8]];
    const LEANING: &[[f64; 2]] = &[[-1.3, -0.8], [0.8, -0.8], [1.3, 0.8], [-0.8, 0.8]];
    const KITE: &[[f64; 2]] = &[[0.0, -1.3], [1.2, 0.0], [0.0, 1.3], [-1.2, 0.0]];
    match kind {
        Some(OtherKind::Relay) => ("K", SQUARE),
        Some(OtherKind::Fuse) => ("F", LONG),
        Some(OtherKind::Varistor) => ("V", OCTAGON),
        Some(OtherKind::Fan) => ("M", OCTAGON),
        Some(OtherKind::Battery) => ("B", LONG),
        Some(OtherKind::Optocoupler) => ("U", HEXAGON),
        Some(OtherKind::FilmCapacitor) => ("C", LONG),
        Some(OtherKind::Connector) => ("X", TRAPEZOID),
        Some(OtherKind::ThermalMaterial) => ("T", LEANING),
        Some(OtherKind::Consumable) => ("N", KITE),
        Some(OtherKind::Other) => ("P", KITE),
        None => ("?", KITE),
    }
}

/// Draws a part or a test point without its words.
pub fn draw(out: &mut Vec<Shape>, page: &Page, spot: &Spot) {
    let (at, half) = (page.at(spot.centre_mm), spot.half(page));
    let line = Line { ink: Ink::Text, width: 1.5 * page.point, dashes: None };
    let Some(kind) = spot.part else {
        out.push(Shape::Circle { at, radius: half, fill: Some((Ink::Paper, 0.9)), line: Some(line) });
        for [x, y] in [[1.0, 0.0], [0.0, 1.0]] {
            let points = [-1.5, 1.5].map(|to| [at[0] + x * half * to, at[1] + y * half * to]).to_vec();
            out.push(Shape::Path { points, line });
        }
        return;
    };
    let (_, corners) = form(kind);
    let points = corners.iter().map(|[x, y]| [at[0] + x * half, at[1] + y * half]).collect();
    out.push(Shape::Polygon { points, fill: Some((Ink::Paper, 0.9)), line: Some(line) });
}

/// The letter of a part, the middle of its upper edge and its size.
pub fn letter(page: &Page, spot: &Spot) -> Option<(&'static str, [f64; 2], f64)> {
    let ([x, y], size) = (page.at(spot.centre_mm), (spot.half(page) * 1.2).min(16.0 * page.point));
    Some((form(spot.part?).0, [x, y - size * 0.6], size))
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use strum::VariantArray;

    use super::*;

    #[test]
    fn every_kind_has_a_look_of_its_own() {
        let looks: HashSet<String> =
            OtherKind::VARIANTS.iter().map(|&kind| format!("{:?}", form(Some(kind)))).collect();
        assert_eq!(looks.len(), OtherKind::VARIANTS.len());
    }
}
