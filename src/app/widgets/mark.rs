//! Outcomes as marks: a shape for each, so that they can be told apart without colour.

use egui::{Align2, Color32, Response, Role, Sense, TextStyle, Ui, Vec2, WidgetInfo, vec2};

use crate::app::widgets::{paint_mark, theme, theme::space};
use crate::domain::Outcome;
use crate::files::drawing::Mark;

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

/// The mark with a text, which never parts from it at the end of a line: `11 pass`.
pub(crate) fn marked(ui: &mut Ui, shown: impl Into<Mark>, text: &str, ink: Color32) -> Response {
    let tokens = theme::tokens(ui);
    let galley = ui.painter().layout_no_wrap(text.to_owned(), TextStyle::Body.resolve(ui.style()), ink);
    let size = vec2(space::MARK + GAP + galley.size().x, galley.size().y.max(space::MARK));
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    if ui.is_rect_visible(rect) {
        let square = Align2::LEFT_CENTER.anchor_size(rect.left_center(), Vec2::splat(space::MARK));
        paint_mark(ui.painter(), square, shown, tokens);
        let text = Align2::RIGHT_CENTER.anchor_size(rect.right_center(), galley.size());
        ui.painter().galley(text.min, galley, ink);
    }
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, text));
    response
}
