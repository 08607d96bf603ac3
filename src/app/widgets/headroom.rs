//! Headroom as a small bar with its number.

use eframe::egui::{self, Rect, Response, Role, Sense, Stroke, Ui, WidgetInfo, vec2};

use crate::app::theme::{self, space};
use crate::app::wording::{UNKNOWN, percent};
use crate::domain::Outcome;

/// The least margin as a share of its limit: a bar from the left for what is to spare, from the right for what is lacking,
/// and the number beside it.
pub(crate) fn headroom(ui: &mut Ui, share: Option<f64>) -> Response {
    let tokens = theme::tokens(ui);
    let text = share.map_or_else(|| UNKNOWN.to_owned(), percent);
    let response = ui
        .horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = 6.0;
            let (rect, _) = ui.allocate_exact_size(space::BAR.into(), Sense::hover());
            ui.painter().rect_stroke(rect, 1.0, Stroke::new(1.0, tokens.line), egui::StrokeKind::Inside);
            if let Some(share) = share {
                #[expect(clippy::cast_possible_truncation, reason = "a share of a few pixels")]
                let width = rect.width() * share.abs().min(1.0) as f32;
                let lacking = share < 0.0;
                let look = tokens.outcome(if lacking { Outcome::Fail } else { Outcome::Pass });
                let from = if lacking { rect.right() - width } else { rect.left() };
                let bar = Rect::from_min_size(egui::pos2(from, rect.top()), vec2(width, rect.height()));
                ui.painter().rect_filled(bar, 1.0, look.fill);
            }
            let colour = if share.is_some() { ui.visuals().text_color() } else { tokens.weak };
            let (rect, _) = ui.allocate_exact_size(vec2(46.0, ui.available_height()), Sense::hover());
            let font = egui::TextStyle::Body.resolve(ui.style());
            ui.painter().text(rect.right_center(), egui::Align2::RIGHT_CENTER, &text, font, colour);
        })
        .response;
    response.widget_info(|| WidgetInfo::labeled(Role::Meter, true, format!("headroom {text}")));
    response
}
