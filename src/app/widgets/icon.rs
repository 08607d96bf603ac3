//! Tools as pictures of our own, named for who rests on them and for who cannot see them.

use egui::{Pos2, Response, Role, Sense, Shape, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, vec2};

use crate::app::widgets::theme;

/// Lines of a picture in a square from -10 to 10, y downwards: the corners of each, the next line after a comma.
pub(crate) type Icon = &'static str;

/// An arrow.
pub(crate) const SELECT: Icon = "-5 -8 -5 6 -1.2 2.5 1.2 8 3.6 6.8 1.2 1.8 5.5 1.5 -5 -8";
/// A can between four arrow heads.
pub(crate) const PLACE: Icon =
    "-8 0 8 0, 0 -8 0 8, -5 -2.5 -8 0 -5 2.5, 5 -2.5 8 0 5 2.5, -2.5 -5 0 -8 2.5 -5, -2.5 5 0 8 2.5 5";
/// A picture: a frame, hills, the sun.
pub(crate) const PHOTO: Icon = "-8 -6 8 -6 8 6 -8 6 -8 -6, -8 4 -2.5 -1 1 3 4 0 8 4, 3 -3.5 5 -3.5 5 -2 3 -2 3 -3.5";
/// A circle drawn from its middle.
pub(crate) const TRACE: Icon =
    "7.5 0 5.3 5.3 0 7.5 -5.3 5.3 -7.5 0 -5.3 -5.3 0 -7.5 5.3 -5.3 7.5 0, 0 0 5.3 -5.3, -1.5 0 1.5 0, 0 -1.5 0 1.5";
/// A ruler.
pub(crate) const SIZE: Icon =
    "-8.5 -3.5 8.5 -3.5 8.5 3.5 -8.5 3.5 -8.5 -3.5, -5 -3.5 -5 0, -1.5 -3.5 -1.5 1, 2 -3.5 2 0, 5.5 -3.5 5.5 1";
/// Four corners.
pub(crate) const FIT: Icon =
    "-7.5 -3 -7.5 -7.5 -3 -7.5, 3 -7.5 7.5 -7.5 7.5 -3, 7.5 3 7.5 7.5 3 7.5, -3 7.5 -7.5 7.5 -7.5 3";
/// Into a tray.
pub(crate) const EXPORT: Icon = "0 -8 0 3, -3.5 -0.5 0 3 3.5 -0.5, -7.5 2 -7.5 7.5 7.5 7.5 7.5 2";
/// Two sheets, one behind the other.
pub(crate) const SIDES: Icon = "-8 -7.5 4 -7.5 4 2.5 -8 2.5 -8 -7.5, 4 -3 8 -3 8 7.5 -4 7.5 -4 2.5";
/// A can seen from the side, bulged.
pub(crate) const OLD_PART: Icon = "-4.5 6 -4.5 -4.5 0 -8 4.5 -4.5 4.5 6 -4.5 6, -4.5 -4 4.5 -4, -2 6 -2 9, 2 6 2 9";
/// A list of cards at the right edge.
pub(crate) const CARDS: Icon = "-8 -7 8 -7 8 7 -8 7 -8 -7, 2 -7 2 7, 2 -2 8 -2, 2 2.5 8 2.5";

/// A button with a picture, square, as high as controls are here; `selected` tools are in use.
pub(crate) fn icon_button(ui: &mut Ui, icon: Icon, name: &str, hover: &str, selected: bool) -> Response {
    let (rect, response) = ui.allocate_exact_size(Vec2::splat(ui.spacing().interact_size.y), Sense::click());
    response.widget_info(|| WidgetInfo::selected(Role::Button, ui.is_enabled(), selected, name));
    let tokens = theme::tokens(ui);
    let style = ui.style().interact(&response);
    let (fill, ink) = if selected { (tokens.selected, tokens.selected_text) } else { (style.bg_fill, tokens.text) };
    ui.painter().rect(rect, 4.0, fill, style.bg_stroke, StrokeKind::Inside);
    let unit = rect.width() * 0.032;
    for line in icon.split(',') {
        let mut numbers = line.split_whitespace().filter_map(|number| number.parse::<f32>().ok());
        let corner = || Some(rect.center() + unit * vec2(numbers.next()?, numbers.next()?));
        let corners: Vec<Pos2> = std::iter::from_fn(corner).collect();
        ui.painter().add(Shape::line(corners, Stroke::new(1.4, ink)));
    }
    response.on_hover_ui(|ui| {
        ui.set_max_width(320.0);
        ui.strong(name);
        ui.label(hover);
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_line_of_a_picture_is_of_whole_corners_in_its_square() {
        for icon in [SELECT, PLACE, PHOTO, TRACE, SIZE, FIT, EXPORT, SIDES, OLD_PART, CARDS] {
            for line in icon.split(',') {
                let numbers: Vec<f32> = line.split_whitespace().map(|number| number.parse().unwrap()).collect();
                assert!(numbers.len() >= 4 && numbers.len().is_multiple_of(2), "{line}");
                assert!(numbers.iter().all(|number| number.abs() <= 10.0), "{line}");
            }
        }
    }
}
