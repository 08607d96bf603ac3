//! Tools as pictures of our own, named for who rests on them and for who cannot see them.

use egui::{Pos2, Response, Role, Sense, Shape, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, pos2};

use crate::app::widgets::theme;

/// Lines of a picture in a square from -1 to 1, y downwards.
pub(crate) type Icon = &'static [&'static [(f32, f32)]];

/// An arrow.
pub(crate) const SELECT: Icon =
    &[&[(-0.5, -0.8), (-0.5, 0.6), (-0.12, 0.25), (0.12, 0.8), (0.36, 0.68), (0.12, 0.18), (0.55, 0.15), (-0.5, -0.8)]];
/// A can between four arrow heads.
pub(crate) const PLACE: Icon = &[
    &[(-0.8, 0.0), (0.8, 0.0)],
    &[(0.0, -0.8), (0.0, 0.8)],
    &[(-0.5, -0.25), (-0.8, 0.0), (-0.5, 0.25)],
    &[(0.5, -0.25), (0.8, 0.0), (0.5, 0.25)],
    &[(-0.25, -0.5), (0.0, -0.8), (0.25, -0.5)],
    &[(-0.25, 0.5), (0.0, 0.8), (0.25, 0.5)],
];
/// A picture: a frame, hills, the sun.
pub(crate) const PHOTO: Icon = &[
    &[(-0.8, -0.6), (0.8, -0.6), (0.8, 0.6), (-0.8, 0.6), (-0.8, -0.6)],
    &[(-0.8, 0.4), (-0.25, -0.1), (0.1, 0.3), (0.4, 0.0), (0.8, 0.4)],
    &[(0.3, -0.35), (0.5, -0.35), (0.5, -0.2), (0.3, -0.2), (0.3, -0.35)],
];
/// A circle drawn from its middle.
pub(crate) const TRACE: Icon = &[
    &[
        (0.75, 0.0),
        (0.53, 0.53),
        (0.0, 0.75),
        (-0.53, 0.53),
        (-0.75, 0.0),
        (-0.53, -0.53),
        (0.0, -0.75),
        (0.53, -0.53),
        (0.75, 0.0),
    ],
    &[(0.0, 0.0), (0.53, -0.53)],
    &[(-0.15, 0.0), (0.15, 0.0)],
    &[(0.0, -0.15), (0.0, 0.15)],
];
/// A ruler.
pub(crate) const SIZE: Icon = &[
    &[(-0.85, -0.35), (0.85, -0.35), (0.85, 0.35), (-0.85, 0.35), (-0.85, -0.35)],
    &[(-0.5, -0.35), (-0.5, 0.0)],
    &[(-0.15, -0.35), (-0.15, 0.1)],
    &[(0.2, -0.35), (0.2, 0.0)],
    &[(0.55, -0.35), (0.55, 0.1)],
];
/// Four corners.
pub(crate) const FIT: Icon = &[
    &[(-0.75, -0.3), (-0.75, -0.75), (-0.3, -0.75)],
    &[(0.3, -0.75), (0.75, -0.75), (0.75, -0.3)],
    &[(0.75, 0.3), (0.75, 0.75), (0.3, 0.75)],
    &[(-0.3, 0.75), (-0.75, 0.75), (-0.75, 0.3)],
];
/// Into a tray.
pub(crate) const EXPORT: Icon = &[
    &[(0.0, -0.8), (0.0, 0.3)],
    &[(-0.35, -0.05), (0.0, 0.3), (0.35, -0.05)],
    &[(-0.75, 0.2), (-0.75, 0.75), (0.75, 0.75), (0.75, 0.2)],
];
/// Two sheets, one behind the other.
pub(crate) const SIDES: Icon = &[
    &[(-0.8, -0.75), (0.4, -0.75), (0.4, 0.25), (-0.8, 0.25), (-0.8, -0.75)],
    &[(0.4, -0.3), (0.8, -0.3), (0.8, 0.75), (-0.4, 0.75), (-0.4, 0.25)],
];
/// A can seen from the side, bulged.
pub(crate) const OLD_PART: Icon = &[
    &[(-0.45, 0.6), (-0.45, -0.45), (0.0, -0.8), (0.45, -0.45), (0.45, 0.6), (-0.45, 0.6)],
    &[(-0.45, -0.4), (0.45, -0.4)],
    &[(-0.2, 0.6), (-0.2, 0.9)],
    &[(0.2, 0.6), (0.2, 0.9)],
];
/// A list of cards at the right edge.
pub(crate) const CARDS: Icon = &[
    &[(-0.8, -0.7), (0.8, -0.7), (0.8, 0.7), (-0.8, 0.7), (-0.8, -0.7)],
    &[(0.2, -0.7), (0.2, 0.7)],
    &[(0.2, -0.2), (0.8, -0.2)],
    &[(0.2, 0.25), (0.8, 0.25)],
];

/// A button with a picture, square, as high as controls are here; `selected` tools are in use.
pub(crate) fn icon_button(ui: &mut Ui, icon: Icon, name: &str, hover: &str, selected: bool) -> Response {
    let (rect, response) = ui.allocate_exact_size(Vec2::splat(ui.spacing().interact_size.y), Sense::click());
    response.widget_info(|| WidgetInfo::selected(Role::Button, ui.is_enabled(), selected, name));
    let tokens = theme::tokens(ui);
    let style = ui.style().interact(&response);
    let (fill, ink) = if selected { (tokens.selected, tokens.selected_text) } else { (style.bg_fill, tokens.text) };
    ui.painter().rect(rect, 4.0, fill, style.bg_stroke, StrokeKind::Inside);
    let half = rect.width() * 0.32;
    for line in icon {
        let points: Vec<Pos2> =
            line.iter().map(|&(x, y)| pos2(rect.center().x + x * half, rect.center().y + y * half)).collect();
        ui.painter().add(Shape::line(points, Stroke::new(1.4, ink)));
    }
    response.on_hover_ui(|ui| {
        ui.set_max_width(320.0);
        ui.strong(name);
        ui.label(hover);
    })
}
