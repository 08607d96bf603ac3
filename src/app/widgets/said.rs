//! What is drawn and told alike everywhere: figures at the right edge of their column, names for who cannot see, room for drawings.

use egui::{
    Align, Layout, Rect, Response, RichText, Role, Sense, TextStyle, TextWrapMode, Ui, Vec2, WidgetInfo, WidgetText,
    vec2,
};

/// A figure, or the heading above one, at the right edge of a cell of a grid.
pub(crate) fn right(ui: &mut Ui, width: f32, text: impl Into<RichText>) -> Response {
    let size = vec2(width, ui.text_style_height(&TextStyle::Body));
    let cell = ui.allocate_ui_with_layout(size, Layout::right_to_left(Align::Center), |ui| {
        ui.set_min_width(width);
        ui.label(text.into())
    });
    cell.inner
}

/// A control under a name of its own, where what is written on it does not tell it from others.
pub(crate) fn named(response: Response, name: impl Into<String>) -> Response {
    response.ctx.accesskit_node_builder(response.id, |node| node.set_label(name));
    response
}

/// A link in one piece: broken over two lines it would be two stops of the Tab key, the second one without a name.
pub(crate) fn link(ui: &mut Ui, text: impl Into<WidgetText>) -> Response {
    let before = ui.style_mut().wrap_mode.replace(TextWrapMode::Extend);
    let link = ui.link(text);
    ui.style_mut().wrap_mode = before;
    link
}

/// Room for a drawing, which `name` tells in words.
pub(crate) fn picture(ui: &mut Ui, size: Vec2, name: &str) -> (Rect, Response) {
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, name));
    (rect, response)
}

/// Points of the screen from a figure.
#[expect(clippy::cast_possible_truncation, reason = "a screen has a few thousand points")]
pub(crate) fn px(points: f64) -> f32 {
    points as f32
}
