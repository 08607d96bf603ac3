//! What the engineer has to answer for, a panel for each: collapsing, in the order one is asked.

mod circuit;
mod defence;
mod duty;
mod energy;
mod group;
mod heat;
mod interval;
mod log;
mod old_part;
mod spread;

use std::sync::Arc;

use eframe::egui::{CollapsingHeader, RichText, Ui};

use super::answers::Answers;
use super::entry::{Entries, Entry, Typed};
use crate::app::action::Action;
use crate::app::edit::Edit;
use crate::app::scene::Scene;
use crate::app::theme;
use crate::domain::{Assumed, Position};
use crate::files::temperature_log::TemperatureLog;
use crate::sizing::circuit::CircuitEntry;

/// What is being filled in.
pub(super) struct Forms {
    /// Figures being typed.
    pub entries: Entries,
    /// The circuit and what was found on the bench.
    pub circuit: CircuitEntry,
    /// A measured rise of the case, K.
    pub case_rise_k: Option<f64>,
    /// A discharge resistor, Ω.
    pub bleeder_ohm: Option<f64>,
    /// The temperature log read last.
    pub log: Option<Arc<TemperatureLog>>,
    /// Phases it is cut into.
    pub log_phases: usize,
    /// Years the cost of rebuilds is added up over.
    pub horizon_years: Option<f64>,
    /// Whether the plan may take parts that fail nothing but the target life.
    pub short_lived: bool,
}

impl Forms {
    /// Empties what belongs to one position.
    pub(super) fn start_anew(&mut self) {
        self.entries.clear();
        self.circuit.figures.clear();
        self.case_rise_k = None;
        self.bleeder_ohm = None;
    }
}

/// What a panel works with.
struct Desk<'a> {
    scene: &'a Scene<'a>,
    /// `None` while they are worked out.
    answers: Option<&'a Answers>,
    forms: &'a mut Forms,
    out: &'a mut Vec<Action>,
}

struct Heading {
    title: &'static str,
    hover: &'static str,
    open: bool,
    draw: fn(&mut Ui, &mut Desk),
}

const PANELS: [Heading; 9] = [
    Heading {
        title: "Duty",
        hover: "Phases of ambient and ripple with their shares. The life uses up by linear damage: 1/L = sum of share/L of each phase (published, Cosel technical information).",
        open: true,
        draw: duty::show,
    },
    Heading {
        title: "Spread",
        hover: "How far the years may spread when ambient, ripple and endurance are not known exactly: seeded sampling of the life law. One in ten lasts less than P10, half less than P50, nine in ten less than P90.",
        open: true,
        draw: spread::show,
    },
    Heading {
        title: "Board and interval",
        hover: "A board lasts as long as its shortest-lived position. Years against cost: the cheapest picks for every interval worth having (exact, derived).",
        open: true,
        draw: interval::show,
    },
    Heading {
        title: "Second opinion on heat",
        hover: "The rated-ripple law (rise = rated rise × (I/I rated)²) beside a heat balance (I²·ESR over surface), and backwards from a measured rise of the case.",
        open: false,
        draw: heat::show,
    },
    Heading {
        title: "Ripple from the circuit",
        hover: "When nobody measured the ripple: pick the circuit, enter what is on the bench, get the spectrum with its formula, source and cautions.",
        open: false,
        draw: circuit::show,
    },
    Heading {
        title: "Temperature log",
        hover: "A logger's file of time and temperature, cut into phases whose damage by the 10 K rule is that of the log (derived).",
        open: false,
        draw: log::show,
    },
    Heading {
        title: "Parallel and series",
        hover: "Parallel cans share the ripple by admittance (circuit theory); a series string shares its voltage by leakage and balancing resistors.",
        open: false,
        draw: group::show,
    },
    Heading {
        title: "Old part",
        hover: "Condition by what was measured (worn out below 80 % of capacitance or above twice the ESR limit: makers' endurance limits; common practice, no source) beside what the laws predicted for its age.",
        open: false,
        draw: old_part::show,
    },
    Heading {
        title: "Stored energy and discharge",
        hover: "E = C·U²/2; time to 60 V through a resistor t = R·C·ln(U/60 V). Published thresholds are named with their documents.",
        open: false,
        draw: energy::show,
    },
];

/// Draws every panel.
pub(super) fn show(ui: &mut Ui, scene: &Scene, answers: Option<&Answers>, forms: &mut Forms, out: &mut Vec<Action>) {
    // What does not wrap is cut off: a panel never pushes the plots aside.
    ui.set_max_width(ui.available_width());
    ui.spacing_mut().item_spacing.y = 4.0;
    let mut desk = Desk { scene, answers, forms, out };
    defence::show(ui, &mut desk);
    for Heading { title, hover, open, draw } in &PANELS {
        let header = CollapsingHeader::new(RichText::new(*title).strong()).id_salt(*title).default_open(*open);
        let shown = header.show_unindented(ui, |ui| draw(ui, &mut desk));
        shown.header_response.on_hover_text(*hover);
    }
}

impl Desk<'_> {
    /// Says that the figures are on their way; `None` then.
    fn answers(&self, ui: &mut Ui) -> Option<&Answers> {
        if self.answers.is_none() {
            weak(ui, "Being worked out…");
        }
        self.answers
    }

    /// Changes the selected position as one undoable step.
    fn edit(&mut self, field: &str, change: impl FnOnce(&mut Position)) {
        let Some((id, position)) = self.scene.position() else { return };
        let mut position = position.clone();
        change(&mut position);
        self.out.push(Action::Edit(Edit::Positions { changed: vec![(id, position)], field: field.into() }));
        self.out.push(Action::EndEntry);
    }

    /// A figure to be typed over; the new value once it was entered.
    fn entry(&mut self, ui: &mut Ui, name: &str, value: Option<f64>, unit: &str, width: f32) -> Option<Typed> {
        self.forms.entries.show(ui, &Entry { name, value, unit, width })
    }
}

fn weak(ui: &mut Ui, text: impl Into<String>) {
    let colour = theme::tokens(ui).weak;
    ui.label(RichText::new(text).color(colour));
}

/// A remark smaller than the text around it, for sources and cautions.
fn remark(ui: &mut Ui, text: impl Into<String>) {
    let colour = theme::tokens(ui).weak;
    ui.label(RichText::new(text).color(colour).size(12.0));
}

/// The same as a sentence.
fn assumed_sentence(figures: Assumed) -> String {
    format!("{}.", capital(&assumed(figures)))
}

/// A text with its first letter large.
fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// The figures that came from default tables, in words.
fn assumed(assumed: Assumed) -> String {
    let names: Vec<&str> = assumed.words().collect();
    if names.is_empty() { "nothing assumed".into() } else { format!("assumed: {}", names.join(", ")) }
}
