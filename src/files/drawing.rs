//! A drawing as a list of shapes: made once, then put on the screen, into a vector file or into pixels.

use crate::domain::Outcome;
use crate::sizing::{CanState, Evaluation};

/// A colour by what it stands for; what it looks like is up to where it is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ink {
    /// Letters and what must stand out as they do.
    Text,
    /// Of less weight.
    Weak,
    /// Lines that stay in the background.
    Line,
    /// What is drawn on.
    Paper,
    /// The board.
    Board,
    /// Lines and letters in the colour of an outcome.
    Of(Outcome),
    /// Areas in the colour of an outcome.
    Fill(Outcome),
    /// A curve, by its place among up to twelve.
    Series(usize),
    /// What is to be reached.
    Target,
    /// Where one reads.
    Focus,
}

/// Colours of curves on white, dark enough for letters; which of them is which is told by dashes and words, too.
pub const SERIES: [u32; 12] = [
    0x00_66_A0, 0xA8_45_00, 0x00_6E_50, 0x9A_3F_74, 0x8A_5A_00, 0x33_44_AA, 0x6B_62_00, 0x7A_1F_1F, 0x00_5C_6B,
    0x5B_2A_86, 0x3D_5A_00, 0x8C_1D_6B,
];
/// The colour of what is to be reached, on white.
pub const TARGET: u32 = 0x7A_3E_8C;

/// A line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// Its colour.
    pub ink: Ink,
    /// Its width, units of the drawing.
    pub width: f64,
    /// Length of dashes and gaps, units of the drawing; `None`: in one go.
    pub dashes: Option<[f64; 2]>,
}

/// An area: its colour and how much of what is below is hidden, 0 to 1.
pub type Area = (Ink, f64);

/// Where the point given for a text lies in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// In the middle of the upper edge.
    Top,
    /// In the middle of the lower edge.
    Bottom,
    /// In the middle of the left edge.
    Left,
    /// In the middle of the right edge.
    Right,
}

/// One shape. x counts to the right and y downwards.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A circle.
    Circle {
        /// Centre.
        at: [f64; 2],
        /// Radius.
        radius: f64,
        /// What it is filled with.
        fill: Option<Area>,
        /// Its edge.
        line: Option<Line>,
    },
    /// A convex area.
    Polygon {
        /// Its corners.
        points: Vec<[f64; 2]>,
        /// What it is filled with.
        fill: Option<Area>,
        /// Its edge.
        line: Option<Line>,
    },
    /// What lies between two lines of as many points each.
    Band {
        /// The one.
        upper: Vec<[f64; 2]>,
        /// The other.
        lower: Vec<[f64; 2]>,
        /// What it is filled with.
        fill: Area,
    },
    /// A line from point to point.
    Path {
        /// The points.
        points: Vec<[f64; 2]>,
        /// How it is drawn.
        line: Line,
    },
    /// One line of text.
    Text {
        /// Where the anchor is.
        at: [f64; 2],
        /// Which part of the text lies there.
        anchor: Anchor,
        /// Height of the letters.
        size: f64,
        /// The text.
        text: String,
        /// Its colour.
        ink: Ink,
        /// Whether it needs a ground of its own to be read.
        on_ground: bool,
    },
    /// What follows, up to the next name, is called so where the drawing can tell it.
    Name(String),
}

/// A mark to be told apart by its shape alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// Pass a filled disc with a tick, marginal an upright triangle half filled, unknown an empty diamond with a dot, fail a cross
    /// in a square.
    Outcome(Outcome),
    /// A pass that rests on stress nobody has entered: an empty disc with a tick.
    PassAssumed,
    /// Proposed: an empty disc.
    Proposed,
    /// Not checked yet: a bar.
    Open,
}

impl From<Outcome> for Mark {
    fn from(outcome: Outcome) -> Self {
        Self::Outcome(outcome)
    }
}

impl From<&Evaluation> for Mark {
    fn from(evaluation: &Evaluation) -> Self {
        if evaluation.passes_on_assumed_stress() { Self::PassAssumed } else { Self::Outcome(evaluation.verdict) }
    }
}

impl From<CanState> for Mark {
    fn from(state: CanState) -> Self {
        match state {
            CanState::Proposed => Self::Proposed,
            CanState::OnAssumedStress => Self::PassAssumed,
            CanState::Open => Self::Open,
            other => Self::Outcome(other.outcome()),
        }
    }
}

/// Draws a mark around a point; `r` is half its side.
pub fn mark(out: &mut Vec<Shape>, centre: [f64; 2], r: f64, mark: Mark) {
    let at = |x: f64, y: f64| [centre[0] + x * r, centre[1] + y * r];
    let outcome = match mark {
        Mark::Outcome(outcome) => outcome,
        Mark::PassAssumed | Mark::Proposed => Outcome::Pass,
        Mark::Open => Outcome::Unknown,
    };
    let line = |share: f64, least: f64, ink| Line { ink, width: (r * share).max(least * r / 6.5), dashes: None };
    let thin = line(0.22, 1.0, Ink::Of(outcome));
    let thick = |ink| line(0.32, 1.5, ink);
    let area = Some((Ink::Fill(outcome), 1.0));
    let tick = |ink| Shape::Path { points: vec![at(-0.45, 0.02), at(-0.12, 0.38), at(0.48, -0.36)], line: thick(ink) };
    let disc = |fill| Shape::Circle { at: centre, radius: r * 0.92, fill, line: Some(thin) };
    let polygon = |points, fill, line| Shape::Polygon { points, fill, line };
    let path = |points| Shape::Path { points, line: thick(Ink::Of(outcome)) };
    match mark {
        Mark::Outcome(Outcome::Pass) => out.extend([disc(area), tick(Ink::Paper)]),
        Mark::PassAssumed => out.extend([disc(None), tick(Ink::Of(outcome))]),
        Mark::Proposed => {
            out.push(Shape::Circle { at: centre, radius: r * 0.78, fill: None, line: Some(thick(Ink::Of(outcome))) });
        }
        Mark::Outcome(Outcome::Marginal) => out.extend([
            polygon(vec![at(0.0, -0.92), at(0.98, 0.8), at(-0.98, 0.8)], None, Some(thin)),
            polygon(vec![at(0.52, 0.0), at(0.98, 0.8), at(-0.98, 0.8), at(-0.52, 0.0)], area, None),
        ]),
        Mark::Outcome(Outcome::Unknown) => {
            out.push(polygon(vec![at(0.0, -1.0), at(1.0, 0.0), at(0.0, 1.0), at(-1.0, 0.0)], None, Some(thin)));
            let dot = Some((Ink::Of(outcome), 1.0));
            out.push(Shape::Circle { at: centre, radius: r * 0.24, fill: dot, line: None });
        }
        Mark::Outcome(Outcome::Fail) => out.extend([
            polygon(vec![at(-0.85, -0.85), at(0.85, -0.85), at(0.85, 0.85), at(-0.85, 0.85)], None, Some(thin)),
            path(vec![at(-0.5, -0.5), at(0.5, 0.5)]),
            path(vec![at(-0.5, 0.5), at(0.5, -0.5)]),
        ]),
        Mark::Open => out.push(path(vec![at(-0.6, 0.0), at(0.6, 0.0)])),
    }
}

/// A length between two points: a line with an arrow head of length `tip` at each end.
pub fn dimension(out: &mut Vec<Shape>, [a, b]: [[f64; 2]; 2], tip: f64, line: Line) {
    let [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    let length = dx.hypot(dy).max(1e-9);
    let (ux, uy) = (dx / length, dy / length);
    out.push(Shape::Path { points: vec![a, b], line });
    for (end, towards) in [(a, 1.0), (b, -1.0)] {
        let side =
            |across: f64| [end[0] + (ux * towards - uy * across) * tip, end[1] + (uy * towards + ux * across) * tip];
        out.push(Shape::Path { points: vec![side(0.5), end, side(-0.5)], line });
    }
}
