//! What every panel works with, and how it words what it says.

use std::path::PathBuf;
use std::sync::Arc;

use egui::{RichText, Ui};

use crate::app::actions::action::Action;
use crate::app::state::edit::Edit;
use crate::app::state::scene::Scene;
use crate::app::views::life::answers::Answers;
use crate::app::views::life::entry::{Entries, Entry, Typed};
use crate::app::views::life::panels::limits::AllBoards;
use crate::app::views::life::panels::record::RecordForm;
use crate::app::widgets::Ticks;
use crate::app::widgets::theme;
use crate::domain::schema;
use crate::domain::{Assumed, Position};
use crate::files::temperature_log::{LogAnswers, TemperatureLog};
use crate::sizing::board_plan::PlanScope;
use crate::sizing::circuit::{CircuitEntry, CircuitKind};

/// Phases a temperature log is cut into at first.
const USUAL_PHASES: usize = 4;

/// Years the cost of rebuilds is added up over at first: two intervals of the usual length.
const USUAL_HORIZON_YEARS: f64 = 20.0;

/// What is being filled in.
pub(crate) struct Forms {
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
    /// The largest charging current, A.
    pub inrush_a: Option<f64>,
    /// The power a reservoir has to hold up, W.
    pub hold_w: Option<f64>,
    /// The voltage it may fall to, V.
    pub hold_to_v: Option<f64>,
    /// The temperature log read last.
    pub log: Option<(PathBuf, Arc<TemperatureLog>)>,
    /// What was said about it, until it is read again by that.
    pub log_answers: Option<LogAnswers>,
    /// Title of the panel that is to be opened and shown, once.
    pub reveal: Option<&'static str>,
    /// Phases it is cut into.
    pub log_phases: usize,
    /// Years the cost of rebuilds is added up over.
    pub horizon_years: Option<f64>,
    /// What the plan may take, whatever the board.
    pub scope: PlanScope,
    /// What is ticked of the picks for the target, and of the cheapest.
    pub ticks: [Ticks; 2],
    /// The limits of all boards.
    pub all_boards: AllBoards,
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
            inrush_a: None,
            hold_w: None,
            hold_to_v: None,
            log: None,
            log_answers: None,
            reveal: None,
            log_phases: USUAL_PHASES,
            horizon_years: Some(USUAL_HORIZON_YEARS),
            scope: PlanScope::default(),
            ticks: Default::default(),
            all_boards: AllBoards::default(),
            over_horizon: false,
        }
    }
}

impl Forms {
    /// Empties what belongs to one position; the circuit is filled in as it was for this one.
    pub(crate) fn start_anew(&mut self, position: Option<&Position>) {
        self.entries.clear();
        let origin = position.and_then(|position| position.stress.ripple_from.as_ref());
        match origin.and_then(CircuitEntry::of_origin) {
            Some(entry) => self.circuit = entry,
            None => self.circuit.figures.clear(),
        }
        (self.case_rise_k, self.case_hz) = (None, None);
        (self.bleeder_ohm, self.balancing_ohm) = (None, None);
        (self.inrush_a, self.hold_w, self.hold_to_v) = (None, None, None);
        self.date_code.clear();
    }
}

/// What a panel works with.
pub(super) struct PanelContext<'a> {
    pub scene: &'a Scene<'a>,
    /// `None` while they are worked out.
    pub answers: Option<&'a Answers>,
    pub forms: &'a mut Forms,
    pub out: &'a mut Vec<Action>,
}

impl PanelContext<'_> {
    /// Says that the figures are on their way; `None` then.
    pub(super) fn answers(&self, ui: &mut Ui) -> Option<&Answers> {
        if self.answers.is_none() {
            ui.weak("Being worked out…");
        }
        self.answers
    }

    /// Changes the selected position as one undoable step.
    pub(super) fn edit(&mut self, field: &str, change: impl FnOnce(&mut Position)) {
        let Some((id, position)) = self.scene.position() else { return };
        let mut position = position.clone();
        change(&mut position);
        self.out.push(Action::Edit(Edit::Positions { changed: vec![(id, position)], field: field.into() }));
        self.out.push(Action::EndEntry);
    }

    /// A figure to be typed over; the new value once it was entered.
    pub(super) fn entry(
        &mut self,
        ui: &mut Ui,
        name: &str,
        value: Option<f64>,
        unit: &str,
        width: f32,
    ) -> Option<Typed> {
        self.forms.entries.show(ui, &Entry { name, value, unit, field: None, width })
    }

    /// The same for a field of the schema.
    pub(super) fn field(
        &mut self,
        ui: &mut Ui,
        name: &str,
        path: &str,
        value: Option<f64>,
        width: f32,
    ) -> Option<Typed> {
        let field = schema::find(path);
        let unit = match field.map(|field| field.kind) {
            Some(schema::Kind::Number(unit, _)) => unit.symbol(),
            _ => "",
        };
        self.forms.entries.show(ui, &Entry { name, value, unit, field, width })
    }
}

/// A remark smaller than the text around it, for sources and cautions.
pub(super) fn remark(ui: &mut Ui, text: impl Into<String>) {
    let colour = theme::tokens(ui).weak;
    ui.label(RichText::new(text).color(colour).size(12.0));
}

/// The same as a sentence.
pub(super) fn assumed_sentence(figures: Assumed) -> String {
    format!("{}.", capital(&assumed(figures)))
}

/// A text with its first letter large.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// The figures that came from default tables, in words.
pub(crate) fn assumed(assumed: Assumed) -> String {
    let names: Vec<&str> = assumed.words().collect();
    if names.is_empty() { "nothing assumed".into() } else { format!("assumed: {}", names.join(", ")) }
}
