//! A board from above as a drawing to scale: outline, holes, old and new bodies, polarity, references.

use super::html::escape;
use crate::domain::{Board, Can, Catalog, Mounting, Position, Side, Technology};
use crate::physics::body;
use crate::sizing::reasons::figure;
use crate::sizing::{PositionSizing, Sizing};

/// Largest drawing on paper, mm: fits A4 and Letter in landscape below a heading.
const PAPER_MM: (f64, f64) = (255.0, 148.0);
/// A drawing is not blown up further than this.
const SCALE_MAX: f64 = 2.5;
/// Height of letters on paper, mm.
const LETTER_MM: f64 = 3.6;
/// Free border around the drawing, mm on the board.
const BORDER_MM: f64 = 2.0;

/// The drawing of board number `at`; `None` when no position was located.
pub(super) fn svg(board: &Board, at: usize, catalog: &Catalog, sizing: &Sizing) -> Option<String> {
    let sized = |index: usize| sizing.positions.iter().find(|p| p.id.board == at && p.id.index == index);
    let placed: Vec<Placed> =
        board.positions.iter().enumerate().filter_map(|(n, p)| Placed::new(p, sized(n), catalog)).collect();
    if placed.is_empty() {
        return None;
    }
    let (left, bottom, right, top) = extent(board, &placed);
    let (width, height) = (right - left, top - bottom);
    let scale = (PAPER_MM.0 / width).min(PAPER_MM.1 / height).min(SCALE_MAX);
    let letter = LETTER_MM / scale;
    let bar_height = letter * 2.4;
    // Coordinates stay those of the board; the group turns y upwards.
    let mut shapes = String::new();
    if let Some([w, h]) = board.outline_mm {
        shapes.push_str(&format!(
            r##"<rect x="0" y="0" width="{w}" height="{h}" fill="#fff" stroke="#000" stroke-width="{}"/>"##,
            0.5 / scale
        ));
    }
    for [x, y, w, h] in &board.keepouts_mm {
        shapes.push_str(&format!(
            r##"<rect x="{x}" y="{y}" width="{w}" height="{h}" fill="#eee" stroke="#999" stroke-width="{0}" stroke-dasharray="{1} {1}"/>"##,
            0.25 / scale,
            1.5 / scale
        ));
    }
    for [x, y, d] in &board.holes_mm {
        shapes.push_str(&format!(
            r##"<circle cx="{x}" cy="{y}" r="{}" fill="none" stroke="#777" stroke-width="{}"/>"##,
            d / 2.0,
            0.3 / scale
        ));
    }
    for can in &placed {
        shapes.push_str(&can.shapes(scale));
    }
    let mut texts = String::new();
    for can in &placed {
        texts.push_str(&can.label(top, letter));
    }
    let paper = (width * scale, height.mul_add(scale, bar_height * scale));
    let bar_mm = [50.0, 20.0, 10.0, 5.0, 1.0].into_iter().find(|bar| *bar <= width * 0.4).unwrap_or(1.0);
    let bar_y = height + bar_height * 0.55;
    Some(format!(
        r##"<svg xmlns="http://www.w3.org/2000/svg" width="{:.2}mm" height="{:.2}mm" viewBox="{left} 0 {width} {}" role="img" aria-label="Map of {}"><g transform="matrix(1 0 0 -1 0 {top})">{shapes}</g>{texts}<path d="M{left} {bar_y} h{bar_mm}" stroke="#000" stroke-width="{}"/><text x="{}" y="{}" font-size="{letter}" font-family="Liberation Sans, Arial, sans-serif">{bar_mm} mm on the board; drawn {} times its size, seen from the component side</text></svg>"##,
        paper.0,
        paper.1,
        height + bar_height,
        escape(&board.name),
        0.9 / scale,
        left + bar_mm + letter * 0.6,
        bar_y + letter * 0.35,
        figure(scale),
    ))
}

/// Left, bottom, right, top of everything drawn, mm.
fn extent(board: &Board, placed: &[Placed]) -> (f64, f64, f64, f64) {
    let outline = board.outline_mm.map(|[w, h]| (0.0, 0.0, w, h));
    let bodies = placed.iter().map(|can| {
        let reach = can.reach_mm();
        (can.x - reach, can.y - reach, can.x + reach, can.y + reach)
    });
    let union =
        |a: (f64, f64, f64, f64), b: (f64, f64, f64, f64)| (a.0.min(b.0), a.1.min(b.1), a.2.max(b.2), a.3.max(b.3));
    let (left, bottom, right, top) = outline.into_iter().chain(bodies).reduce(union).unwrap_or((0.0, 0.0, 1.0, 1.0));
    (left - BORDER_MM, bottom - BORDER_MM, right + BORDER_MM, top + BORDER_MM)
}

/// Length along the leads and width, mm; equal for a standing can.
type Footprint = (f64, f64);

struct Placed<'a> {
    position: &'a Position,
    x: f64,
    y: f64,
    old: Option<Footprint>,
    new: Option<Footprint>,
    polar: bool,
}

impl<'a> Placed<'a> {
    fn new(position: &'a Position, sized: Option<&PositionSizing>, catalog: &Catalog) -> Option<Self> {
        let (x, y) = position.centre_mm()?;
        let chosen = sized.and_then(|sized| sized.choice.part).map(|part| catalog.can(part.id));
        let shown = chosen.as_ref().unwrap_or(&position.original.can);
        Some(Self {
            position,
            x,
            y,
            old: footprint(&position.original.can),
            new: chosen.as_ref().and_then(footprint),
            polar: shown.technology != Some(Technology::NonPolar),
        })
    }

    fn shown(&self) -> Footprint {
        self.new.or(self.old).unwrap_or((4.0, 4.0))
    }

    fn reach_mm(&self) -> f64 {
        [self.old, self.new].into_iter().flatten().map(|(length, width)| length.max(width) / 2.0).fold(2.0, f64::max)
    }

    /// Body, old outline and polarity, in board coordinates; the stripe marks the negative side as on the can.
    fn shapes(&self, scale: f64) -> String {
        let turn = self.position.rotation_deg.unwrap_or(0.0);
        let other_side = self.position.side == Some(Side::Bottom);
        let fill = if self.new.is_some() { "#d8d8d8" } else { "#fff" };
        let dash = if other_side { format!(r#" stroke-dasharray="{0} {0}""#, 1.2 / scale) } else { String::new() };
        let thick = 0.45 / scale;
        let mut inside =
            outline(self.shown(), &format!(r##"fill="{fill}" stroke="#000" stroke-width="{thick}"{dash}"##));
        if self.polar && self.position.rotation_deg.is_some() {
            let (length, width) = self.shown();
            let half = length / 2.0;
            // A chord at 70 % of the radius on a round can, a band on a lying one.
            let chord = if (length - width).abs() < 1e-9 { half * 0.714 } else { width / 2.0 };
            let at = -half * 0.7;
            inside.push_str(&format!(
                r##"<path d="M{at} {} V{chord}" stroke="#000" stroke-width="{}"/>"##,
                -chord,
                1.1 / scale
            ));
            let arm = (half * 0.22).min(1.6 / scale);
            let plus = half * 0.68;
            inside.push_str(&format!(
                r##"<path d="M{} 0 h{} M{plus} {} v{}" stroke="#000" stroke-width="{}"/>"##,
                plus - arm,
                2.0 * arm,
                -arm,
                2.0 * arm,
                0.5 / scale
            ));
        }
        if let (Some(old), Some(_)) = (self.old, self.new) {
            inside.push_str(&outline(
                old,
                &format!(
                    r##"fill="none" stroke="#000" stroke-width="{}" stroke-dasharray="{1} {1}""##,
                    0.25 / scale,
                    0.8 / scale
                ),
            ));
        }
        format!(r#"<g transform="translate({} {}) rotate({turn})">{inside}</g>"#, self.x, self.y)
    }

    /// The reference: on the body where there is room, else above it. `top` turns y downwards.
    fn label(&self, top: f64, letter: f64) -> String {
        let text = &self.position.reference;
        let (length, width) = self.shown();
        let text_width = text.chars().count() as f64 * letter * 0.62;
        // Stripe and + take the outer part of the body.
        let fits = length * 0.55 > text_width && width > letter * 1.6;
        let y = top - self.y + if fits { letter * 0.36 } else { -(self.reach_mm() + letter * 0.25) };
        format!(
            r##"<text x="{}" y="{y}" font-size="{letter}" font-weight="bold" text-anchor="middle" font-family="Liberation Sans, Arial, sans-serif" stroke="#fff" stroke-width="{}" paint-order="stroke">{}</text>"##,
            self.x,
            letter * 0.22,
            escape(text)
        )
    }
}

/// The largest body seen from above.
fn footprint(can: &Can) -> Option<Footprint> {
    let width = body::of(can).diameter_max_mm?;
    let length = if can.mounting == Some(Mounting::Axial) { can.height_max_mm.or(can.height_mm)? } else { width };
    Some((length, width))
}

fn outline((length, width): Footprint, style: &str) -> String {
    if (length - width).abs() < 1e-9 {
        return format!(r#"<circle r="{}" {style}/>"#, width / 2.0);
    }
    format!(r#"<rect x="{}" y="{}" width="{length}" height="{width}" {style}/>"#, -length / 2.0, -width / 2.0)
}
