//! Where the places of a board lie on a drawing.

use super::drawing::{Ink, Line, Shape};

/// From millimetres on the board (y up) to units of the drawing (y down).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Page {
    /// What lies at `origin`, mm.
    pub at_mm: [f64; 2],
    /// Where it lies, units.
    pub origin: [f64; 2],
    /// Units for a millimetre.
    pub scale: f64,
    /// Whether the board is seen from below: left and right change places.
    pub mirrored: bool,
    /// Units for a point of letters and lines.
    pub point: f64,
    /// Left, top, right and bottom of what is seen, units.
    pub sight: [f64; 4],
}

impl Page {
    /// A place on the page.
    pub fn at(&self, [x_mm, y_mm]: [f64; 2]) -> [f64; 2] {
        let x = (x_mm - self.at_mm[0]) * self.scale * if self.mirrored { -1.0 } else { 1.0 };
        [self.origin[0] + x, self.origin[1] - (y_mm - self.at_mm[1]) * self.scale]
    }

    /// Whether something that reaches so far around a point is seen.
    pub(super) fn sees(&self, [x, y]: [f64; 2], reach: f64) -> bool {
        let [left, top, right, bottom] = self.sight;
        x + reach >= left && x - reach <= right && y + reach >= top && y - reach <= bottom
    }

    pub(super) fn line(&self, ink: Ink, points: f64) -> Line {
        Line { ink, width: points * self.point, dashes: None }
    }

    pub(super) fn dashed(&self, ink: Ink, points: f64, dashes: [f64; 2]) -> Line {
        Line { dashes: Some(dashes.map(|length| length * self.point)), ..self.line(ink, points) }
    }

    /// A rectangle of the board between two opposite corners: its corners on the page.
    pub(super) fn area(&self, [ax, ay]: [f64; 2], [bx, by]: [f64; 2]) -> Vec<[f64; 2]> {
        [[ax, ay], [bx, ay], [bx, by], [ax, by]].map(|corner| self.at(corner)).to_vec()
    }
}

/// Slanting lines within a rectangle.
pub(super) fn hatch(out: &mut Vec<Shape>, page: &Page, corners: &[[f64; 2]]) {
    let step = 9.0 * page.point;
    let bound = |k: usize, side: fn(f64, f64) -> f64| corners.iter().map(|c| c[k]).reduce(side).unwrap_or_default();
    // A keep-out larger than what is seen is cut to it, so the number of lines stays small.
    let (left, right) = (bound(0, f64::min).max(page.sight[0]), bound(0, f64::max).min(page.sight[2]));
    let (top, bottom) = (bound(1, f64::min).max(page.sight[1]), bound(1, f64::max).min(page.sight[3]));
    let (width, height) = (right - left, bottom - top);
    let line = page.line(Ink::Line, 1.0);
    let mut along = step;
    while along < width + height {
        let from = if along <= height { [left, top + along] } else { [left + along - height, bottom] };
        let to = if along <= width { [left + along, top] } else { [right, top + along - width] };
        out.push(Shape::Path { points: vec![from, to], line });
        along += step;
    }
}
