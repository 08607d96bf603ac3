//! What every panel works with, and how it words what it says.

use std::path::PathBuf;
use std::sync::Arc;

use egui::{RichText, Ui};

use super::{limits::AllBoards, record::RecordForm};
use crate::app::actions::{Action, LiveScene};
use crate::app::state::Edit;
use crate::app::views::life::answers::Answers;
use crate::app::widgets::drafts::Drafts;
use crate::app::widgets::entry::{self, Basis, Entry, Widths};
use crate::app::widgets::{Ticks, theme, wording::capital};
use crate::domain::{Assumed, Bounds, Outcome, Position, RippleLine, RippleOrigin, Unit, schema, schema::Kind};
use crate::files::{self, temperature_log::LogAnswers, temperature_log::TemperatureLog};
use crate::sizing::{board_plan::PlanScope, circuit::CircuitEntry, circuit::CircuitKind, reasons::figure};

/// Phases a temperature log is cut into at first.
const USUAL_PHASES: usize = 4;

/// Years the cost of rebuilds is added up over at first: two intervals of the usual length.
const USUAL_HORIZON_YEARS: f64 = 20.0;

/// What is being filled in of one position.
#[derive(Default)]
pub(crate) struct OfPosition {
    /// Figures being typed.
    pub drafts: Drafts,
    /// A measured rise of the case, K.
    pub case_rise_k: Option<f64>,
    /// The frequency most of that ripple has, Hz; `None` takes the heaviest line entered.
    pub case_hz: Option<f64>,
    /// A balancing resistor across each can of a string, Ω.
    pub balancing_ohm: Option<f64>,
    /// A date code somebody reads off a part.
    pub date_code: String,
    /// A discharge resistor, Ω.
    pub bleeder_ohm: Option<f64>,
    /// The largest charging current, A.
    pub inrush_a: Option<f64>,
    /// The power a reservoir has to hold up, W.
    pub hold_w: Option<f64>,
    /// The voltage it may fall to, V.
    pub hold_to_v: Option<f64>,
}

/// What is being filled in.
pub(crate) struct Forms {
    /// Of the position at hand.
    pub here: OfPosition,
    /// The circuit and what was found on the bench.
    pub circuit: CircuitEntry,
    /// The oscilloscope's record read last.
    pub record: Option<RecordForm>,
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
    pub all_boards: AllBoards,
    /// Whether the figures of the phases are fields.
    pub changes_phases: bool,
    /// Whether the curve of the interval shows the cost over the horizon instead of that of one rebuild's parts.
    pub over_horizon: bool,
}

impl Default for Forms {
    fn default() -> Self {
        Self {
            here: OfPosition::default(),
            circuit: CircuitEntry::new(CircuitKind::MainsRectifier),
            record: None,
            log: None,
            log_answers: None,
            reveal: None,
            log_phases: USUAL_PHASES,
            horizon_years: Some(USUAL_HORIZON_YEARS),
            scope: PlanScope::default(),
            ticks: Default::default(),
            all_boards: AllBoards::default(),
            changes_phases: false,
            over_horizon: false,
        }
    }
}

impl Forms {
    /// Empties what belongs to one position; the circuit is filled in as it was for this one.
    pub(crate) fn start_anew(&mut self, position: Option<&Position>) {
        self.here = OfPosition::default();
        let origin = position.and_then(|position| position.stress.ripple_from.as_ref());
        match origin.and_then(CircuitEntry::of_origin) {
            Some(entry) => self.circuit = entry,
            None => self.circuit.figures.clear(),
        }
    }
}

pub(super) struct PanelContext<'a, 'j> {
    pub scene: &'a LiveScene<'j>,
    /// `None` while they are worked out.
    pub answers: Option<&'a Answers>,
    pub forms: &'a mut Forms,
    /// What was refused in the fields drawn since that was told last.
    pub refused: Vec<String>,
}

impl PanelContext<'_, '_> {
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
        self.scene.push(Action::Edit(Edit::Positions { changed: vec![(id, position)], field: field.into() }));
        self.scene.push(Action::EndEntry);
    }

    /// Makes a ripple found otherwise that of the position, with where it came from.
    pub(super) fn use_ripple(&mut self, what: &str, lines: Vec<RippleLine>, origin: RippleOrigin) {
        self.edit(what, |position| (position.stress.ripple, position.stress.ripple_from) = (Some(lines), Some(origin)));
    }

    /// A figure to be typed over in place, `name` telling it from others; `true` once another one was entered.
    pub(super) fn entry(
        &mut self,
        ui: &mut Ui,
        (name, path): (&str, &str),
        value: &mut Option<f64>,
        (unit, bounds): (Unit, Bounds),
        width: f32,
    ) -> bool {
        // The unit stands beside it, or over it.
        let text = value.map_or_else(String::new, |value| match unit {
            Unit::Share => files::entry::print(unit, value),
            _ => written(value),
        });
        let field = Entry { name: path, key: name, label: Some(name), text, basis: Basis::Unknown, symbol: "" };
        let widths = Widths { label: 0.0, entry: width, fills: false, over: false };
        let mut entered = *value;
        let drafts = &mut self.forms.here.drafts;
        let refused = self.scene.typing(drafts, || {
            entry::line(ui, &field, widths, self.scene, |typed| {
                entered = files::entry::read(unit, bounds, typed)?;
                Ok(())
            })
        });
        let done = !drafts.holds(name) && entered != *value;
        self.refused.extend(refused.map(|reason| format!("{name}: {reason}")));
        *value = if done { entered } else { *value };
        done
    }

    /// The same for a field of the schema.
    pub(super) fn field(&mut self, ui: &mut Ui, name: &str, path: &str, value: &mut Option<f64>, width: f32) -> bool {
        let Some(Kind::Number(unit, bounds)) = schema::find(path).map(|field| field.kind) else { return false };
        self.entry(ui, (name, path), value, (unit, bounds), width)
    }

    /// The same for a figure of the forms.
    pub(super) fn figure(
        &mut self,
        ui: &mut Ui,
        name: &str,
        of: fn(&mut Forms) -> &mut Option<f64>,
        kind: (Unit, Bounds),
        width: f32,
    ) {
        let mut value = *of(self.forms);
        self.entry(ui, (name, ""), &mut value, kind, width);
        *of(self.forms) = value;
    }

    /// Tells what was refused in the fields above.
    pub(super) fn refusals(&mut self, ui: &mut Ui) {
        let ink = theme::tokens(ui).outcome(Outcome::Fail).ink;
        self.refused.drain(..).for_each(|reason| _ = ui.colored_label(ink, format!("Refused: {reason}")));
    }
}

/// As many digits as were entered, but no rounding dust.
fn written(value: f64) -> String {
    let short = format!("{value:.6}");
    let short = short.trim_end_matches('0').trim_end_matches('.');
    if value != 0.0 && (value.abs() < 1e-3 || value.abs() >= 1e9) { figure(value) } else { short.to_owned() }
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

/// The figures that came from default tables, in words.
pub(crate) fn assumed(assumed: Assumed) -> String {
    let names: Vec<&str> = assumed.words().collect();
    if names.is_empty() { "nothing assumed".into() } else { format!("assumed: {}", names.join(", ")) }
}
