//! A figure with its unit, and what it rests on.

use eframe::egui::{Response, RichText, Ui};

use crate::app::theme;
use crate::app::wording::UNKNOWN;
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

/// A figure with its unit; `None` is shown as unknown, never as zero.
pub(crate) fn figure(ui: &mut Ui, value: Option<f64>, unit: &str, standing: Standing) -> Response {
    let tokens = theme::tokens(ui);
    let Some(value) = value else { return ui.colored_label(tokens.weak, UNKNOWN) };
    let text = format!("{} {unit}", reasons::figure(value));
    match standing {
        Standing::Given => ui.label(text),
        Standing::Assumed => ui
            .label(RichText::new(format!("{text} assumed")).italics())
            .on_hover_text("Not given: taken from the table of usual values."),
    }
}
