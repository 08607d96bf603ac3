//! Figures as every sheet has them: at the right edge of their column.

use egui::{Align, Layout, Response, RichText, TextStyle, Ui, vec2};

/// A figure, or the heading above one, at the right edge of a cell of a grid.
pub(crate) fn right(ui: &mut Ui, width: f32, text: impl Into<RichText>) -> Response {
    let size = vec2(width, ui.text_style_height(&TextStyle::Body));
    let cell = ui.allocate_ui_with_layout(size, Layout::right_to_left(Align::Center), |ui| {
        ui.set_min_width(width);
        ui.label(text.into())
    });
    cell.inner
}
