//! Outcomes as marks: a shape for each, so that they can be told apart without colour.

use egui::{
    self, Align2, Color32, Painter, Rect, Response, Role, Sense, Shape, Stroke, TextStyle, Ui, Vec2, WidgetInfo, vec2,
};

use crate::app::widgets::theme::{self, Tokens, space};
use crate::domain::Outcome;

/// Draws the mark of an outcome into a square: pass a filled disc with a tick, marginal an upright triangle half filled,
/// unknown an empty diamond with a dot, fail a cross in a square.
pub(crate) fn paint_mark(painter: &Painter, rect: Rect, outcome: Outcome, tokens: &Tokens) {
    let look = tokens.outcome(outcome);
    let centre = rect.center();
    let r = rect.width().min(rect.height()) / 2.0;
    let thin = Stroke::new((r * 0.22).max(1.0), look.ink);
    let thick = Stroke::new((r * 0.32).max(1.5), look.ink);
    let at = |x: f32, y: f32| centre + vec2(x, y) * r;
    match outcome {
        Outcome::Pass => {
            painter.circle(centre, r * 0.92, look.fill, thin);
            let tick = Stroke::new((r * 0.32).max(1.5), tokens.base);
            painter.add(Shape::line(vec![at(-0.45, 0.02), at(-0.12, 0.38), at(0.48, -0.36)], tick));
        }
        Outcome::Marginal => {
            let triangle = vec![at(0.0, -0.92), at(0.98, 0.8), at(-0.98, 0.8)];
            painter.add(Shape::closed_line(triangle, thin));
            let lower_half = vec![at(0.52, 0.0), at(0.98, 0.8), at(-0.98, 0.8), at(-0.52, 0.0)];
            painter.add(Shape::convex_polygon(lower_half, look.fill, Stroke::NONE));
        }
        Outcome::Unknown => {
            let diamond = vec![at(0.0, -1.0), at(1.0, 0.0), at(0.0, 1.0), at(-1.0, 0.0)];
            painter.add(Shape::closed_line(diamond, thin));
            painter.circle_filled(centre, r * 0.24, look.ink);
        }
        Outcome::Fail => {
            painter.rect_stroke(
                Rect::from_center_size(centre, Vec2::splat(r * 1.8)),
                1.0,
                thin,
                egui::StrokeKind::Inside,
            );
            painter.line_segment([at(-0.5, -0.5), at(0.5, 0.5)], thick);
            painter.line_segment([at(-0.5, 0.5), at(0.5, -0.5)], thick);
        }
    }
}

/// The mark alone, named for screen readers: `ripple marginal`.
pub(crate) fn mark(ui: &mut Ui, outcome: Outcome, name: &str) -> Response {
    let (rect, response) = ui.allocate_exact_size(Vec2::splat(space::MARK), Sense::hover());
    if ui.is_rect_visible(rect) {
        paint_mark(ui.painter(), rect, outcome, theme::tokens(ui));
    }
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, name));
    response
}

/// The mark with its word.
pub(crate) fn outcome(ui: &mut Ui, outcome: Outcome) -> Response {
    let ink = theme::tokens(ui).outcome(outcome).ink;
    marked(ui, outcome, outcome.word(), ink)
}

/// Between a mark and its text, points.
const GAP: f32 = 5.0;

/// How much room an [`outcome`] takes, points.
pub(crate) fn outcome_width(ui: &Ui, outcome: Outcome) -> f32 {
    let font = TextStyle::Body.resolve(ui.style());
    let text = ui.painter().layout_no_wrap(outcome.word().to_owned(), font, Color32::PLACEHOLDER);
    space::MARK + GAP + text.size().x
}

/// The mark with a text, which never parts from it at the end of a line: `11 pass`.
pub(crate) fn marked(ui: &mut Ui, outcome: Outcome, text: &str, ink: Color32) -> Response {
    let tokens = theme::tokens(ui);
    let galley = ui.painter().layout_no_wrap(text.to_owned(), TextStyle::Body.resolve(ui.style()), ink);
    let size = vec2(space::MARK + GAP + galley.size().x, galley.size().y.max(space::MARK));
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    if ui.is_rect_visible(rect) {
        let square = Align2::LEFT_CENTER.anchor_size(rect.left_center(), Vec2::splat(space::MARK));
        paint_mark(ui.painter(), square, outcome, tokens);
        let text = Align2::RIGHT_CENTER.anchor_size(rect.right_center(), galley.size());
        ui.painter().galley(text.min, galley, ink);
    }
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, text));
    response
}
