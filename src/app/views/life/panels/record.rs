//! Ripple from an oscilloscope's record: channel and scale, what the record is, rms and lines, and a button to use them.

use std::sync::Arc;

use egui::{Grid, Stroke, Ui, pos2, vec2};

use super::{context::PanelContext, context::remark, spectrum};
use crate::app::actions::Command;
use crate::app::state::Same;
use crate::app::widgets::{self, theme};
use crate::domain::{Bounds, Unit, style::hertz};
use crate::files::oscilloscope::{Channel, Record, Sampled, remarks};
use crate::physics::waveform::Analysis;
use crate::sizing::{circuit::ripple_lines, reasons::figure, ripple_origin};

/// Columns of the drawing of the record.
const COLUMNS: usize = 240;
const HEIGHT: f32 = 52.0;

/// A record and how it is to be read.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct RecordForm {
    record: Same<Record>,
    /// Name of its file.
    name: String,
    /// The channel of the current; `None` while a person has to say which.
    channel: Option<usize>,
    /// Time between two samples where the record asks for it, s.
    step_s: Option<f64>,
    /// Current that makes one volt at the input, A.
    a_per_v: Option<f64>,
    /// Factor on what the oscilloscope wrote; `None` counts as 1.
    probe: Option<f64>,
    /// Frequency whose periods are counted, Hz; `None` takes the slowest component.
    fundamental_hz: Option<f64>,
    /// Lowest and highest sample of each column of the drawing.
    envelope: Arc<Vec<(f64, f64)>>,
}

impl RecordForm {
    /// A record just read.
    pub(crate) fn new(name: String, record: Record) -> Self {
        let channel = record.only_channel();
        let mut form = Self {
            record: Same(Arc::new(record)),
            name,
            channel: None,
            step_s: None,
            a_per_v: None,
            probe: None,
            fundamental_hz: None,
            envelope: Arc::default(),
        };
        form.choose(channel);
        form
    }

    fn choose(&mut self, channel: Option<usize>) {
        self.channel = channel;
        self.envelope = Arc::new(self.channel().map(|channel| channel.envelope(COLUMNS)).unwrap_or_default());
    }

    fn channel(&self) -> Option<&Channel> {
        self.record.channels.get(self.channel?)
    }

    fn a_per_unit(&self) -> Option<f64> {
        self.channel()?.a_per_unit(self.a_per_v, self.probe.unwrap_or(1.0))
    }

    /// What the record says; `None` while its scale is not known.
    pub(crate) fn analyse(&self) -> Option<Result<Analysis, String>> {
        let (channel, a_per_unit) = (self.channel?, self.a_per_unit()?);
        let stepped = self.step_s.filter(|_| self.record.step_asked.is_some()).map(|step_s| {
            let mut record = Record::clone(&self.record);
            record.set_step(step_s);
            record
        });
        let record = stepped.as_ref().unwrap_or(&self.record);
        if record.step_asked.is_some() {
            return None;
        }
        let found = record.analyse(channel, a_per_unit, self.fundamental_hz);
        Some(found.map_err(|error| error.to_string()))
    }
}

pub(super) fn show(ui: &mut Ui, desk: &mut PanelContext) {
    widgets::button(ui, desk.scene, Command::ReadScopeRecord);
    let Some(mut form) = desk.forms.record.clone() else {
        ui.weak("A CSV file with times, or a sample interval, and one or more channels. Dropping it on the window here reads it, too.");
        return;
    };
    settings(ui, desk, &mut form);
    desk.refusals(ui);
    for note in &form.record.notes {
        remark(ui, note.as_str());
    }
    trace(ui, &form);
    desk.forms.record = Some(form.clone());
    if form.channel.is_none() {
        ui.weak("Choose the channel of the current: nothing in the file says which one it is.");
        return;
    }
    if let Some(why) = form.record.step_asked.as_ref().filter(|_| form.step_s.is_none()) {
        ui.weak(format!("The time between two samples is not known: {why}. Enter it."));
        return;
    }
    if form.a_per_unit().is_none() {
        ui.weak("The scale is not known: enter how many A make 1 V (a clamp of 100 mV/A: 10; a shunt of 0.1 Ω: 10).");
        return;
    }
    let asked = desk.answers.filter(|answers| answers.question.record.as_ref() == Some(&form));
    match asked.and_then(|answers| answers.record.clone()) {
        None => drop(ui.weak("Being worked out…")),
        Some(Err(error)) => drop(ui.weak(format!("No spectrum: {error}."))),
        Some(Ok(analysis)) => found(ui, desk, &form, &analysis),
    }
    remark(
        ui,
        "A probe in a live circuit: isolate, discharge and verify before connecting it; use one rated for the voltage. Local codes and licensed practice decide.",
    );
}

fn settings(ui: &mut Ui, desk: &mut PanelContext, form: &mut RecordForm) {
    let record = form.record.clone();
    ui.label(format!("{}: {} samples.", form.name, record.time_s.len()));
    Grid::new("record").num_columns(3).spacing([8.0, 3.0]).show(ui, |ui| {
        let title = |channel: &Channel| {
            let unit = if channel.unit.is_empty() { "no unit" } else { &channel.unit };
            if channel.name.contains(unit) { channel.name.clone() } else { format!("{} ({unit})", channel.name) }
        };
        let channels = record.channels.iter().enumerate();
        let entries = channels.map(|(at, channel)| (at, Some(at) == form.channel, title(channel)));
        if let Some(chosen) = widgets::listed(ui, ("Channel", ""), 150.0, entries) {
            form.choose(Some(chosen));
        }
        ui.label("");
        ui.end_row();
        let scaled = !matches!(form.channel().map(Channel::sampled), Some(Sampled::Current(_)));
        let probe = if form.probe.is_none() { "1 if empty (assumed)" } else { "" };
        let lowest = if form.fundamental_hz.is_none() { "Hz found if empty" } else { "Hz" };
        let rows = [
            (
                record.step_asked.is_some(),
                "time step",
                "Time between two samples, as the oscilloscope was set.",
                &mut form.step_s,
                Unit::Second,
                "s",
            ),
            (
                scaled,
                "A for 1 V",
                "Current that makes one volt at the input: 10 for a clamp of 100 mV/A or a shunt of 0.1 Ω.",
                &mut form.a_per_v,
                Unit::Ampere,
                "A",
            ),
            (
                true,
                "probe factor",
                "Multiplies what the oscilloscope wrote: 10 where a 10:1 probe was not set on it.",
                &mut form.probe,
                Unit::Number,
                probe,
            ),
            (
                true,
                "lowest frequency",
                "Whole periods of it are taken; without it those of the slowest component with at least 1 % of the power.",
                &mut form.fundamental_hz,
                Unit::Hertz,
                lowest,
            ),
        ];
        for (_, name, hover, value, unit, beside) in rows.into_iter().filter(|row| row.0) {
            ui.label(name).on_hover_text(hover);
            desk.entry(ui, (name, ""), value, (unit, Bounds::Positive), 70.0);
            ui.weak(beside);
            ui.end_row();
        }
    });
}

/// The record as a strip of its lowest and highest values.
fn trace(ui: &mut Ui, form: &RecordForm) {
    let (low, high) = form
        .envelope
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at.0), high.max(at.1)));
    if low >= high || form.envelope.is_empty() {
        return;
    }
    let tokens = theme::tokens(ui);
    let unit = form.channel().map(|channel| channel.unit.clone()).unwrap_or_default();
    let name = format!("the record from {} to {} {unit}", figure(low), figure(high));
    let (rect, _) = widgets::picture(ui, vec2(ui.available_width(), HEIGHT), name.trim());
    let painter = ui.painter();
    painter.rect_filled(rect, 2.0, tokens.panel);
    let y = |value: f64| rect.bottom() - 2.0 - (rect.height() - 4.0) * widgets::px((value - low) / (high - low));
    let step = rect.width() / form.envelope.len() as f32;
    let mut before = None;
    for (at, &(low, high)) in form.envelope.iter().enumerate() {
        let x = rect.left() + step * (at as f32 + 0.5);
        let (bottom, top) = (pos2(x, y(low)), pos2(x, y(high)));
        let stroke = Stroke::new(1.2, tokens.series[0]);
        if let Some(before) = before {
            painter.line_segment([before, bottom], stroke);
        }
        painter.line_segment([bottom, top], stroke);
        before = Some(top);
    }
}

/// A time in the unit that suits it.
fn duration(time_s: f64) -> String {
    let (factor, unit) = match time_s {
        s if s >= 1.0 => (1.0, "s"),
        s if s >= 1e-3 => (1e3, "ms"),
        s if s >= 1e-6 => (1e6, "µs"),
        _ => (1e9, "ns"),
    };
    format!("{} {unit}", figure(time_s * factor))
}

fn found(ui: &mut Ui, desk: &mut PanelContext, form: &RecordForm, analysis: &Analysis) {
    let whole = match analysis.periods {
        Some((hz, count)) => format!("{count} whole periods of {}", hertz(hz)),
        None => "no whole periods".to_owned(),
    };
    ui.label(format!(
        "{} A rms over {}, {whole}; a sample every {}; Hann's window.",
        figure(analysis.ripple.rms_a),
        duration(analysis.length_s),
        duration(analysis.step_s)
    ));
    spectrum::show(ui, "lines of the record", &analysis.ripple.lines);
    for text in remarks(analysis) {
        remark(ui, text);
    }
    let button = ui
        .button("Use this record")
        .on_hover_text("Makes its lines the ripple of this position, as one change that can be undone; file, channel and scale are kept with it.");
    if button.clicked()
        && let (Some(channel), Some(a_per_unit)) = (form.channel(), form.a_per_unit())
    {
        let lines = ripple_lines(&analysis.ripple.lines);
        let mut origin = ripple_origin::of_record(&form.name, &channel.name, a_per_unit, analysis);
        if form.probe.is_none() {
            origin.assumed.push("probe_factor".into());
        }
        desk.use_ripple("ripple from an oscilloscope", lines, origin);
    }
}
