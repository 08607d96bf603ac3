//! A figure with its unit, and whether it comes from a table of usual values.

use egui::{Response, RichText, Ui};

use crate::app::widgets::wording::with_unit;

/// The words of a [`figure`].
pub(crate) fn figure_text(value: Option<f64>, unit: &str, assumed: bool) -> String {
    with_unit(value, unit) + if assumed && value.is_some() { " assumed" } else { "" }
}

/// A figure with its unit; `None` is shown as unknown, never as zero, what is `assumed` in italics.
pub(crate) fn figure(ui: &mut Ui, value: Option<f64>, unit: &str, assumed: bool) -> Response {
    let text = figure_text(value, unit, assumed);
    match value {
        None => ui.weak(text),
        Some(_) if assumed => {
            ui.label(RichText::new(text).italics()).on_hover_text("Not given: taken from the table of usual values.")
        }
        Some(_) => ui.label(text),
    }
}
