//! What tables that are painted cell by cell have in common: the ground of a row, headings that sort, words and figures within a cell.

use egui::text::{LayoutJob, TextWrapping};
use egui::{
    Align2, Color32, FontId, Id, Painter, Rect, Response, Role, Sense, Shape, Stroke, TextStyle, Ui, WidgetInfo, pos2,
    vec2,
};

use crate::app::widgets::{theme, theme::Tokens};

/// The ground of a row: selected, under the pointer, or every second one.
pub(crate) fn ground(painter: &Painter, rect: Rect, (selected, hovered, striped): (bool, bool, bool), tokens: &Tokens) {
    let ground = match (selected, hovered) {
        (true, _) => tokens.selected,
        (_, true) => tokens.control,
        _ if striped => tokens.stripe,
        _ => return,
    };
    painter.rect_filled(rect, 0.0, ground);
}

/// One line of words from the left, cut with an ellipsis where it would be wider than `rect`; returns where it ends.
pub(crate) fn words(painter: &Painter, rect: Rect, text: impl Into<String>, font: &FontId, ink: Color32) -> f32 {
    let mut job = LayoutJob::simple_singleline(text.into(), font.clone(), ink);
    job.wrap = TextWrapping::truncate_at_width(rect.width().max(0.0));
    let galley = painter.layout_job(job);
    let drawn = Align2::LEFT_CENTER.align_size_within_rect(galley.size(), rect);
    painter.galley(drawn.min, galley, ink);
    drawn.right()
}

/// A figure at the right edge, in the first of the fonts it fits in: drawn smaller, never over its neighbour.
pub(crate) fn number(painter: &Painter, rect: Rect, text: &str, fonts: &[&FontId], ink: Color32) {
    let fits =
        |font: &&&FontId| painter.layout_no_wrap(text.to_owned(), (**font).clone(), ink).size().x <= rect.width();
    if let Some(font) = fonts.iter().find(fits).or(fonts.last()) {
        painter.text(rect.right_center(), Align2::RIGHT_CENTER, text, (*font).clone(), ink);
    }
}

pub(crate) struct Heading<'a> {
    /// Tells it from others.
    pub id: Id,
    /// What of it is seen.
    pub seen: Rect,
    /// Where its words stand.
    pub inside: Rect,
    pub text: &'a str,
    /// What a click does, without the order there is: `Sort by height`.
    pub does: &'a str,
    /// Whether figures stand below it, at the right edge.
    pub number: bool,
    /// Whether the largest stands first; `None` where something else is sorted by.
    pub descending: Option<bool>,
}

pub(crate) fn heading(ui: &Ui, heading: &Heading) -> Response {
    let tokens = theme::tokens(ui);
    let response = ui.interact(heading.seen, heading.id, Sense::click());
    let now = heading.descending.map_or("", |first| if first { ", now largest first" } else { ", now smallest first" });
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("{}{now}", heading.does)));
    let painter = ui.painter_at(heading.seen);
    if response.hovered() {
        painter.rect_filled(heading.seen, 2.0, tokens.control_hot);
    }
    let align = if heading.number { Align2::RIGHT_CENTER } else { Align2::LEFT_CENTER };
    let at = align.pos_in_rect(&heading.inside);
    let ink = if heading.descending.is_some() { tokens.text } else { tokens.weak };
    let text = painter.text(at, align, heading.text, TextStyle::Small.resolve(ui.style()), ink);
    if let Some(descending) = heading.descending {
        // A line with an arrow over the heading would be missed; a triangle beside it is not, where there is room for it.
        let x = if heading.number { text.left() - 5.0 } else { text.right() + 7.0 };
        let (middle, tip) = (pos2(x, at.y), if descending { 3.0 } else { -3.0 });
        let corners = vec![middle + vec2(-4.0, -tip), middle + vec2(4.0, -tip), middle + vec2(0.0, tip)];
        painter.add(Shape::convex_polygon(corners, tokens.text, Stroke::NONE));
    }
    response
}
