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

use crate::app::actions::action::Action;
use crate::app::state::scene::Scene;
use crate::app::views::life::answers::Answers;
use crate::app::widgets::explain;

use context::{Forms, PanelContext};

struct Heading {
    title: &'static str,
    explained: &'static str,
    open: bool,
    draw: fn(&mut Ui, &mut PanelContext),
}

/// Titles of the panels that open by themselves on what was read.
pub(super) const OSCILLOSCOPE: &str = "Ripple from an oscilloscope";
pub(super) const TEMPERATURE_LOG: &str = "Temperature log";

const PANELS: [Heading; 12] = [
    Heading { title: "Load profile", explained: "duty", open: true, draw: duty::show },
    Heading { title: "Spread", explained: "spread", open: true, draw: spread::show },
    Heading { title: "Board and interval", explained: "board and interval", open: true, draw: interval::show },
    Heading { title: "Thermal cross-check", explained: "heat balance", open: false, draw: heat::show },
    Heading {
        title: "Ripple from the circuit",
        explained: "ripple from the circuit",
        open: false,
        draw: circuit::show,
    },
    Heading { title: OSCILLOSCOPE, explained: "ripple from a record", open: false, draw: record::show },
    Heading { title: TEMPERATURE_LOG, explained: "temperature log", open: false, draw: log::show },
    Heading { title: "Parallel and series", explained: "parallel and series", open: false, draw: group::show },
    Heading { title: "Old part", explained: "old part", open: false, draw: old_part::show },
    Heading { title: "Stored energy and discharge", explained: "stored energy", open: false, draw: energy::show },
    Heading { title: "Inrush and hold-up", explained: "inrush", open: false, draw: inrush::show },
    Heading { title: "Shelf and re-forming", explained: "re-forming", open: false, draw: shelf::show },
];

/// Draws every panel.
pub(super) fn show(ui: &mut Ui, scene: &Scene, answers: Option<&Answers>, forms: &mut Forms, out: &mut Vec<Action>) {
    // What does not wrap is cut off: a panel never pushes the plots aside.
    ui.set_max_width(ui.available_width());
    ui.spacing_mut().item_spacing.y = 4.0;
    let reveal = forms.reveal.take();
    let mut desk = PanelContext { scene, answers, forms, out, refused: Vec::new() };
    defence::show(ui, &mut desk);
    for Heading { title, explained, open, draw } in &PANELS {
        let header = CollapsingHeader::new(RichText::new(*title).strong()).id_salt(*title).default_open(*open);
        let header = header.open((reveal == Some(title)).then_some(true));
        let shown = header.show_unindented(ui, |ui| draw(ui, &mut desk));
        if reveal == Some(title) {
            shown.header_response.scroll_to_me(Some(Align::TOP));
        }
        explain::on(shown.header_response, explained);
    }
}
