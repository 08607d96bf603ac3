//! Ripple from the circuit: a form, the spectrum it gives, and a button to use it.

use egui::{Grid, RichText, Ui};

use super::{context::PanelContext, context::remark, spectrum};
use crate::app::widgets::{listed, theme};
use crate::domain::{Bounds, Outcome, RippleLine, style::counted};
use crate::sizing::circuit::{Absent, CircuitEntry, CircuitKind, CircuitRipple, Field};
use crate::sizing::{reasons::figure, ripple_origin};

pub(super) fn show(ui: &mut Ui, desk: &mut PanelContext) {
    entered(ui, desk);
    let kind = desk.forms.circuit.kind;
    let entries = CircuitKind::ALL.into_iter().map(|other| (other, other == kind, other.data().label.to_owned()));
    let width = ui.available_width() - 12.0;
    if let Some(chosen) = listed(ui, ("Circuit", ""), width, entries) {
        desk.forms.circuit = CircuitEntry::new(chosen);
    }
    let kind = desk.forms.circuit.kind;
    Grid::new("circuit form").num_columns(3).spacing([8.0, 3.0]).show(ui, |ui| {
        for field in kind.data().fields {
            row(ui, desk, field);
        }
    });
    desk.refusals(ui);
    let of_form = |asked: &Option<CircuitEntry>| asked.as_ref() == Some(&desk.forms.circuit);
    let found = desk.answers.filter(|answers| of_form(&answers.question.circuit)).and_then(|a| a.circuit.clone());
    match found {
        _ if desk.forms.circuit.figures.is_empty() => {
            ui.weak("Enter what is on the bench; what may stay empty says so.");
        }
        None => drop(ui.weak("Being worked out…")),
        Some(Err(fault)) => {
            let ink = theme::tokens(ui).outcome(Outcome::Unknown).ink;
            ui.label(RichText::new(format!("No spectrum yet: {fault}.")).color(ink));
        }
        Some(Ok(ripple)) => found_ripple(ui, desk, &ripple),
    }
    ui.add_space(2.0);
    remark(ui, format!("Formula: {}", kind.data().formula));
    remark(ui, format!("Source: {}", kind.data().source));
    for caution in kind.cautions() {
        remark(ui, caution);
    }
}

/// The ripple the position has now.
fn entered(ui: &mut Ui, desk: &PanelContext) {
    let Some((_, position)) = desk.scene.position() else { return };
    match &position.stress.ripple {
        None => drop(ui.weak("The ripple of this position is not known.")),
        Some(lines) if lines.is_empty() => drop(ui.weak("Entered: no ripple.")),
        Some(lines) => drop(ui.weak(format!("Ripple: {}.", spoken(lines)))),
    }
    if let Some(sentence) = ripple_origin::sentence(&position.stress) {
        ui.weak(sentence);
    }
}

fn spoken(lines: &[RippleLine]) -> String {
    /// Lines told; a spectrum may have many.
    const TOLD: usize = 6;
    let known = |value: Option<f64>| value.map_or_else(|| "unknown".into(), figure);
    let told = lines.iter().take(TOLD);
    let words: Vec<String> = told.map(|line| format!("{} A at {} Hz", known(line.a), known(line.hz))).collect();
    let more = lines.len().saturating_sub(TOLD);
    let more = if more > 0 { format!(" and {more} more lines") } else { String::new() };
    format!("{}{more}", words.join(", "))
}

fn row(ui: &mut Ui, desk: &mut PanelContext, field: &Field) {
    let weak = theme::tokens(ui).weak;
    ui.label(field.label).on_hover_text(field.hint);
    let mut value = desk.forms.circuit.get(field.key);
    if desk.entry(ui, (field.label, ""), &mut value, (field.unit, Bounds::Signed), 70.0) {
        desk.forms.circuit.set(field.key, value);
    }
    let unit = field.unit.symbol();
    let absent = match field.absent {
        _ if value.is_some() => unit.to_owned(),
        Absent::Required => unit.to_owned(),
        Absent::Assumed(usual) => format!("{} {unit} if empty (assumed)", figure(usual)),
        Absent::Derived => format!("{unit} derived if empty"),
        Absent::OneOf => format!("{unit} this or another"),
    };
    ui.label(RichText::new(absent.trim()).color(weak));
    ui.end_row();
}

fn found_ripple(ui: &mut Ui, desk: &mut PanelContext, ripple: &CircuitRipple) {
    let lines = counted(ripple.ripple.lines.len(), "line", "lines");
    ui.label(format!("{} A rms in {lines}:", figure(ripple.ripple.rms_a)));
    spectrum::show(ui, "lines of the circuit", &ripple.ripple.lines);
    for step in &ripple.steps {
        remark(ui, format!("{} {} {}", step.label, figure(step.value), step.unit));
    }
    if !ripple.assumed.is_empty() {
        remark(ui, format!("Assumed or derived: {}.", ripple.assumed.join(", ")));
    }
    let button = ui.button("Use this spectrum").on_hover_text(
        "Makes it the ripple of this position, as one change that can be undone; what was entered is kept with it.",
    );
    if button.clicked() {
        let lines = ripple.ripple_lines();
        let origin = desk.forms.circuit.origin(ripple);
        desk.use_ripple("ripple from the circuit", lines, origin);
    }
}
