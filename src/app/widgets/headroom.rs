//! Headroom as a small bar with its number.

use egui::{Align2, Color32, FontId, Painter, Rect, Stroke, StrokeKind, pos2, vec2};

use crate::app::widgets::{px, theme::Tokens, theme::space, wording::UNKNOWN, wording::percent};
use crate::domain::Outcome;

/// The least margin as a share of its limit: a bar from the left for what is to spare, from the right for what is lacking,
/// and the number at the right edge of `rect`.
pub(crate) fn paint_headroom(
    painter: &Painter,
    rect: Rect,
    share: Option<f64>,
    ink: Color32,
    tokens: &Tokens,
    font: &FontId,
) {
    let frame = Align2::LEFT_CENTER.anchor_size(rect.left_center(), space::BAR.into());
    painter.rect_stroke(frame, 1.0, Stroke::new(1.0, tokens.line), StrokeKind::Inside);
    if let Some(share) = share {
        let width = frame.width() * px(share.abs().min(1.0));
        let lacking = share < 0.0;
        let look = tokens.outcome(if lacking { Outcome::Fail } else { Outcome::Pass });
        let from = if lacking { frame.right() - width } else { frame.left() };
        painter.rect_filled(Rect::from_min_size(pos2(from, frame.top()), vec2(width, frame.height())), 1.0, look.fill);
    }
    let text = share.map_or_else(|| UNKNOWN.to_owned(), percent);
    let colour = if share.is_some() { ink } else { tokens.weak };
    painter.text(rect.right_center(), Align2::RIGHT_CENTER, text, font.clone(), colour);
}
