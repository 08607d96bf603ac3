//! What several sheets of the purchase draw alike: links to positions, money, figures at the right edge.

use egui::{RichText, Ui};

use crate::app::actions::{Action, LiveScene};
pub(super) use crate::app::widgets::right;
use crate::app::widgets::{self, explain, theme, wording};
use crate::domain::{Job, Place, style};

/// Positions and other parts in words; each a link that selects it.
pub(super) fn place_links(ui: &mut Ui, job: &Job, places: &[Place], scene: &LiveScene) {
    for &place in places.iter().filter(|&&place| !job.name_of(place).is_empty()) {
        if widgets::link(ui, job.full_name(place)).on_hover_text("Selects it.").clicked() {
            scene.push(Action::select_place(place));
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

/// The heading above figures, which explains itself.
pub(super) fn right_column(ui: &mut Ui, width: f32, text: &str, explained: &str) {
    let colour = theme::tokens(ui).weak;
    explain::titled(right(ui, width, RichText::new(text).color(colour)), text, explained);
}
