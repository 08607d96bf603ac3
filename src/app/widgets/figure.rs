//! A figure with its unit, and what it rests on.

use egui::{Response, RichText, Ui};

use crate::app::widgets::wording::UNKNOWN;
use crate::sizing::reasons;

/// What a figure rests on.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) enum Standing {
    /// Entered by a person or printed in a data sheet.
    #[default]
    Given,
    /// From a table of defaults: shown in italics with the word.
    Assumed,
}

/// The words of a [`figure`].
pub(crate) fn figure_text(value: Option<f64>, unit: &str, default_value: Standing) -> String {
    match (value, default_value) {
        (None, _) => UNKNOWN.to_owned(),
        (Some(value), Standing::Given) => format!("{} {unit}", reasons::figure(value)),
        (Some(value), Standing::Assumed) => format!("{} {unit} assumed", reasons::figure(value)),
    }
}

/// A figure with its unit; `None` is shown as unknown, never as zero.
pub(crate) fn figure(ui: &mut Ui, value: Option<f64>, unit: &str, default_value: Standing) -> Response {
    let text = figure_text(value, unit, default_value);
    match default_value {
        _ if value.is_none() => ui.weak(text),
        Standing::Given => ui.label(text),
        Standing::Assumed => {
            ui.label(RichText::new(text).italics()).on_hover_text("Not given: taken from the table of usual values.")
        }
    }
}
