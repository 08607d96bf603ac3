//! What several sheets of the purchase draw alike: links to positions, money, figures at the right edge.

use egui::{Align, Layout, Response, RichText, TextStyle, Ui, vec2};

use crate::app::actions::action::Action;
use crate::app::widgets::explain;
use crate::app::widgets::theme;
use crate::app::widgets::wording;
use crate::domain::style;
use crate::domain::{Job, Place};

/// Positions and other parts in words; each a link that selects it.
pub(super) fn place_links(ui: &mut Ui, job: &Job, places: &[Place], out: &mut Vec<Action>) {
    for &place in places.iter().filter(|&&place| !job.name_of(place).is_empty()) {
        if ui.link(job.full_name(place)).on_hover_text("Selects it.").clicked() {
            out.push(match place {
                Place::Position(id) => Action::Select(id),
                Place::Other(id) => Action::SelectOther(id),
            });
        }
    }
}

/// Money with its currency; unknown where it is not known.
pub(super) fn money(amount: Option<f64>, currency: &str) -> String {
    match amount {
        Some(amount) if currency.is_empty() => format!("{}, currency unknown", style::money(amount)),
        Some(amount) => format!("{} {currency}", style::money(amount)),
        None => wording::UNKNOWN.to_owned(),
    }
}

/// A figure, or the heading above one, at the right edge of a cell of a grid.
pub(super) fn right(ui: &mut Ui, width: f32, text: impl Into<RichText>) -> Response {
    let size = vec2(width, ui.text_style_height(&TextStyle::Body));
    let cell = ui.allocate_ui_with_layout(size, Layout::right_to_left(Align::Center), |ui| {
        ui.set_min_width(width);
        ui.label(text.into())
    });
    cell.inner
}

/// The heading above figures, which explains itself.
pub(super) fn right_column(ui: &mut Ui, width: f32, text: &str, explained: &str) {
    let colour = theme::tokens(ui).weak;
    explain::titled(right(ui, width, RichText::new(text).color(colour)), text, explained);
}

pub(super) fn weak(ui: &mut Ui, text: impl Into<String>) {
    let colour = theme::tokens(ui).weak;
    ui.label(RichText::new(text).color(colour));
}
