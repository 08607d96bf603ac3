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
mod record;
mod shelf;
mod spectrum;
mod spread;

use std::path::PathBuf;
use std::sync::Arc;

use egui::{CollapsingHeader, RichText, Ui};

use crate::app::actions::action::Action;
use crate::app::state::edit::Edit;
use crate::app::state::scene::Scene;
use crate::app::views::life::answers::Answers;
use crate::app::views::life::entry::{Entries, Entry, Typed};
use crate::app::widgets::explain;
use crate::app::widgets::theme;
use crate::domain::{Assumed, Position};
use crate::files::temperature_log::TemperatureLog;
use crate::sizing::circuit::{CircuitEntry, CircuitKind};
pub(super) use record::RecordForm;

/// Phases a temperature log is cut into at first.
const USUAL_PHASES: usize = 4;

/// Years the cost of rebuilds is added up over at first: two intervals of the usual length.
const USUAL_HORIZON_YEARS: f64 = 20.0;

/// What is being filled in.
pub(super) struct Forms {
    /// Figures being typed.
    pub entries: Entries,
    /// The circuit and what was found on the bench.
    pub circuit: CircuitEntry,
    /// A measured rise of the case, K.
    pub case_rise_k: Option<f64>,
    /// The frequency most of that ripple has, Hz; `None` takes the heaviest line entered.
    pub case_hz: Option<f64>,
    /// A balancing resistor across each can of a string, Ω.
    pub balancing_ohm: Option<f64>,
    /// A date code somebody reads off a part.
    pub date_code: String,
    /// The oscilloscope's record read last.
    pub record: Option<RecordForm>,
    /// A discharge resistor, Ω.
    pub bleeder_ohm: Option<f64>,
    /// The temperature log read last.
    pub log: Option<(PathBuf, Arc<TemperatureLog>)>,
    /// Another column of it that is wanted.
    pub log_column: Option<String>,
    /// Phases it is cut into.
    pub log_phases: usize,
    /// Years the cost of rebuilds is added up over.
    pub horizon_years: Option<f64>,
    /// Whether the plan may take parts that fail nothing but the target life.
    pub short_lived: bool,
    /// Whether the curve of the interval shows the cost over the horizon instead of that of one rebuild's parts.
    pub over_horizon: bool,
}

impl Default for Forms {
    fn default() -> Self {
        Self {
            entries: Entries::default(),
            circuit: CircuitEntry::new(CircuitKind::MainsRectifier),
            case_rise_k: None,
            case_hz: None,
            balancing_ohm: None,
            date_code: String::new(),
            record: None,
            bleeder_ohm: None,
            log: None,
            log_column: None,
            log_phases: USUAL_PHASES,
            horizon_years: Some(USUAL_HORIZON_YEARS),
            short_lived: false,
            over_horizon: false,
        }
    }
}

impl Forms {
    /// Empties what belongs to one position; the circuit is filled in as it was for this one.
    pub(super) fn start_anew(&mut self, position: Option<&Position>) {
        self.entries.clear();
        let origin = position.and_then(|position| position.stress.ripple_from.as_ref());
        match origin.and_then(CircuitEntry::of_origin) {
            Some(entry) => self.circuit = entry,
            None => self.circuit.figures.clear(),
        }
        (self.case_rise_k, self.case_hz) = (None, None);
        (self.bleeder_ohm, self.balancing_ohm) = (None, None);
        self.date_code.clear();
    }
}

/// What a panel works with.
struct PanelContext<'a> {
    scene: &'a Scene<'a>,
    /// `None` while they are worked out.
    answers: Option<&'a Answers>,
    forms: &'a mut Forms,
    out: &'a mut Vec<Action>,
}

struct Heading {
    title: &'static str,
    explained: &'static str,
    open: bool,
    draw: fn(&mut Ui, &mut PanelContext),
}

const PANELS: [Heading; 11] = [
    Heading { title: "Duty", explained: "duty", open: true, draw: duty::show },
    Heading { title: "Spread", explained: "spread", open: true, draw: spread::show },
    Heading { title: "Board and interval", explained: "board and interval", open: true, draw: interval::show },
    Heading { title: "Second opinion on heat", explained: "heat balance", open: false, draw: heat::show },
    Heading {
        title: "Ripple from the circuit",
        explained: "ripple from the circuit",
        open: false,
        draw: circuit::show,
    },
    Heading {
        title: "Ripple from an oscilloscope",
        explained: "ripple from a record",
        open: false,
        draw: record::show,
    },
    Heading { title: "Temperature log", explained: "temperature log", open: false, draw: log::show },
    Heading { title: "Parallel and series", explained: "parallel and series", open: false, draw: group::show },
    Heading { title: "Old part", explained: "old part", open: false, draw: old_part::show },
    Heading { title: "Stored energy and discharge", explained: "stored energy", open: false, draw: energy::show },
    Heading { title: "Shelf and re-forming", explained: "re-forming", open: false, draw: shelf::show },
];

/// Draws every panel.
pub(super) fn show(ui: &mut Ui, scene: &Scene, answers: Option<&Answers>, forms: &mut Forms, out: &mut Vec<Action>) {
    // What does not wrap is cut off: a panel never pushes the plots aside.
    ui.set_max_width(ui.available_width());
    ui.spacing_mut().item_spacing.y = 4.0;
    let mut desk = PanelContext { scene, answers, forms, out };
    defence::show(ui, &mut desk);
    for Heading { title, explained, open, draw } in &PANELS {
        let header = CollapsingHeader::new(RichText::new(*title).strong()).id_salt(*title).default_open(*open);
        let shown = header.show_unindented(ui, |ui| draw(ui, &mut desk));
        explain::on(shown.header_response, explained);
    }
}

impl PanelContext<'_> {
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
pub(super) fn assumed(assumed: Assumed) -> String {
    let names: Vec<&str> = assumed.words().collect();
    if names.is_empty() { "nothing assumed".into() } else { format!("assumed: {}", names.join(", ")) }
}
