//! What the engineer has to answer for, a panel for each: collapsing, in the order one is asked.

mod circuit;
pub(super) mod context;
mod defence;
mod duty;
mod energy;
mod group;
mod heat;
mod inrush;
mod interval;
pub(super) mod limits;
mod log;
mod old_part;
pub(super) mod record;
mod shelf;
mod spectrum;
mod spread;

use egui::{Align, CollapsingHeader, RichText, Ui};

use crate::app::actions::LiveScene;
use crate::app::views::life::answers::Answers;
use crate::app::widgets::explain;

use context::{Forms, PanelContext};

/// Its title, the name its explanation goes by, whether it is open at first, and what draws it.
type Heading = (&'static str, &'static str, bool, fn(&mut Ui, &mut PanelContext));

/// Titles of the panels that open by themselves on what was read.
pub(super) const OSCILLOSCOPE: &str = "Ripple from an oscilloscope";
pub(super) const TEMPERATURE_LOG: &str = "Temperature log";

const PANELS: [Heading; 13] = [
    ("Load profile", "duty", true, duty::show),
    ("Spread", "spread", true, spread::show),
    ("Board and interval", "board and interval", true, interval::show),
    ("Interval plan", "interval plan", false, interval::plan),
    ("Thermal cross-check", "heat balance", false, heat::show),
    ("Ripple from the circuit", "ripple from the circuit", false, circuit::show),
    (OSCILLOSCOPE, "ripple from a record", false, record::show),
    (TEMPERATURE_LOG, "temperature log", false, log::show),
    ("Parallel and series", "parallel and series", false, group::show),
    ("Old part", "old part", false, old_part::show),
    ("Stored energy and discharge", "stored energy", false, energy::show),
    ("Inrush and hold-up", "inrush", false, inrush::show),
    ("Shelf and re-forming", "re-forming", false, shelf::show),
];

/// Draws every panel.
pub(super) fn show(ui: &mut Ui, scene: &LiveScene, answers: Option<&Answers>, forms: &mut Forms) {
    // What does not wrap is cut off: a panel never pushes the plots aside.
    ui.set_max_width(ui.available_width());
    ui.spacing_mut().item_spacing.y = 4.0;
    let reveal = forms.reveal.take();
    let mut desk = PanelContext { scene, answers, forms, refused: Vec::new() };
    defence::show(ui, &mut desk);
    for (title, explained, open, draw) in &PANELS {
        let header = CollapsingHeader::new(RichText::new(*title).strong()).id_salt(*title).default_open(*open);
        let header = header.open((reveal == Some(title)).then_some(true));
        let shown = header.show_unindented(ui, |ui| draw(ui, &mut desk));
        if reveal == Some(title) {
            shown.header_response.scroll_to_me(Some(Align::TOP));
        }
        explain::on(shown.header_response, explained);
    }
}
