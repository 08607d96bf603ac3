//! Drawings on the screen: shapes in the colours of the theme.

use egui::epaint::TextShape;
use egui::{Align2, Color32, FontFamily, FontId, Painter, Pos2, Rect, Shape as Painted, Stroke, pos2, vec2};

use crate::app::widgets::{px, raster, theme::LIGHT, theme::Tokens};
use crate::files::drawing::{Anchor, Ink, Line, Mark, Shape, mark};

/// Corners of the polygon a circle is drawn as where it is dashed.
const ROUND_CORNERS: u16 = 72;

pub(crate) fn colour(ink: Ink, tokens: &Tokens) -> Color32 {
    match ink {
        Ink::Text => tokens.text,
        Ink::Weak => tokens.weak,
        Ink::Line => tokens.line,
        Ink::Paper => tokens.base,
        Ink::Board => tokens.panel,
        Ink::Of(outcome) => tokens.outcome(outcome).ink,
        Ink::Fill(outcome) => tokens.outcome(outcome).fill,
        Ink::Series(at) => tokens.series[at % tokens.series.len()],
        Ink::Target => tokens.target,
        Ink::Focus => tokens.focus,
    }
}

/// The mark of an outcome or a state in the middle of a square.
pub(crate) fn paint_mark(painter: &Painter, rect: Rect, shown: impl Into<Mark>, tokens: &Tokens) {
    let mut shapes = Vec::new();
    let [x, y] = [rect.center().x, rect.center().y].map(f64::from);
    mark(&mut shapes, [x, y], f64::from(rect.width().min(rect.height()) / 2.0), shown.into());
    painter.extend(painted(painter, &shapes, tokens));
}

/// A drawing in the light colours as the bytes of a PNG file; `draw` is told how wide a text is.
///
/// # Errors
/// In words, when the picture cannot be encoded.
pub(crate) fn png(size: [f64; 2], draw: impl Fn(&dyn Fn(&str, f64) -> f64) -> Vec<Shape>) -> Result<Vec<u8>, String> {
    let [across, down] = size.map(px);
    raster::png(vec2(across, down), |painter| {
        painter.rect_filled(painter.clip_rect(), 0.0, LIGHT.base);
        let shapes = draw(&|text, size| width(painter, text, size));
        painter.extend(painted(painter, &shapes, &LIGHT));
    })
}

/// Width of a text of a size, points.
pub(crate) fn width(painter: &Painter, text: &str, size: f64) -> f64 {
    f64::from(painter.layout_no_wrap(text.to_owned(), font(size), Color32::PLACEHOLDER).size().x)
}

fn font(size: f64) -> FontId {
    FontId::new(px(size), FontFamily::Proportional)
}

/// Shapes as the screen takes them.
pub(crate) fn painted(painter: &Painter, shapes: &[Shape], tokens: &Tokens) -> Vec<Painted> {
    let at = |[x, y]: [f64; 2]| pos2(px(x), px(y));
    let filled = |fill: &Option<(Ink, f64)>| {
        fill.map_or(Color32::TRANSPARENT, |(ink, opacity)| colour(ink, tokens).gamma_multiply(px(opacity)))
    };
    let stroke = |line: &Line| Stroke::new(px(line.width), colour(line.ink, tokens));
    let edge = |out: &mut Vec<Painted>, mut path: Vec<Pos2>, line: &Line, closed: bool| {
        if closed {
            path.push(path[0]);
        }
        match line.dashes {
            Some([on, off]) => out.extend(Painted::dashed_line(&path, stroke(line), px(on), px(off))),
            None => out.push(Painted::line(path, stroke(line))),
        }
    };
    let mut out = Vec::with_capacity(shapes.len());
    for shape in shapes {
        match shape {
            Shape::Circle { at: centre, radius, fill, line } => {
                let (centre, radius) = (at(*centre), px(*radius));
                let solid = line.filter(|line| line.dashes.is_none()).map_or(Stroke::NONE, |line| stroke(&line));
                out.push(Painted::Circle(egui::epaint::CircleShape {
                    center: centre,
                    radius,
                    fill: filled(fill),
                    stroke: solid,
                }));
                if let Some(line) = line.filter(|line| line.dashes.is_some()) {
                    let step = std::f32::consts::TAU / f32::from(ROUND_CORNERS);
                    let corner = |n| centre + egui::Vec2::angled(f32::from(n) * step) * radius;
                    edge(&mut out, (0..=ROUND_CORNERS).map(corner).collect(), &line, false);
                }
            }
            Shape::Polygon { points, fill, line } => {
                let path: Vec<Pos2> = points.iter().map(|&point| at(point)).collect();
                if fill.is_some() {
                    out.push(Painted::convex_polygon(path.clone(), filled(fill), Stroke::NONE));
                }
                if let Some(line) = line {
                    edge(&mut out, path, line, true);
                }
            }
            Shape::Band { upper, lower, fill: (ink, opacity) } => {
                // Triangles without soft edges: those would show as seams.
                let mut mesh = egui::Mesh::default();
                let fill = colour(*ink, tokens).gamma_multiply(px(*opacity));
                for (n, (&up, &down)) in (0u32..).zip(upper.iter().zip(lower)) {
                    mesh.colored_vertex(at(up), fill);
                    mesh.colored_vertex(at(down), fill);
                    if n > 0 {
                        mesh.add_triangle(2 * n - 2, 2 * n - 1, 2 * n);
                        mesh.add_triangle(2 * n - 1, 2 * n, 2 * n + 1);
                    }
                }
                out.push(Painted::mesh(mesh));
            }
            Shape::Path { points, line } => edge(&mut out, points.iter().map(|&p| at(p)).collect(), line, false),
            Shape::Text { at: place, anchor, size, text, ink, on_ground } => {
                let ink = colour(*ink, tokens);
                let galley = painter.layout_no_wrap(text.clone(), font(*size), ink);
                let anchor = match anchor {
                    Anchor::Top => Align2::CENTER_TOP,
                    Anchor::Bottom => Align2::CENTER_BOTTOM,
                    Anchor::Left => Align2::LEFT_CENTER,
                    Anchor::Right => Align2::RIGHT_CENTER,
                };
                let rect = anchor.anchor_size(at(*place), galley.size());
                if *on_ground {
                    let ground = tokens.panel.gamma_multiply(0.8);
                    out.push(Painted::rect_filled(rect.expand2(vec2(2.0, 0.0)), 3.0, ground));
                }
                out.push(TextShape::new(rect.min, galley, ink).into());
            }
            Shape::Name(_) => {}
        }
    }
    out
}
