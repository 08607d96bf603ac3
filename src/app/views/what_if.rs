//! One line above board and life: the whole job under other conditions, before and after, without touching what was entered.

use std::sync::Arc;

use egui::{DragValue, RichText, Ui};

use crate::app::actions::LiveScene;
use crate::app::state::{Same, Scene, Session, Snapshot, View};
use crate::app::widgets::wording::{UNKNOWN, count, verdict};
use crate::app::widgets::{self, asked::change_job, theme};
use crate::app::work::{AnyWorker, Worker};
use crate::domain::{Job, Outcome, Variant};
use crate::sizing::{reasons::figure, what_if::WhatIf, what_if::what_if};

/// What was asked and what came out.
type Answer = (Arc<Snapshot>, Variant, WhatIf);

/// What the line remembers.
#[derive(Default)]
pub(crate) struct WhatIfState {
    variant: Variant,
    asked: Option<(Same<Snapshot>, Variant)>,
    answer: Option<Answer>,
    answering: Worker<Answer>,
}

impl WhatIfState {
    /// Whether other conditions than those entered are looked at.
    pub(crate) fn is_asked(&self) -> bool {
        !self.variant.is_as_entered()
    }

    /// The conditions looked at.
    pub(crate) fn variant(&self) -> &Variant {
        &self.variant
    }

    /// The work on another thread.
    pub(crate) fn work(&self) -> [&dyn AnyWorker; 1] {
        [&self.answering]
    }

    /// Takes what came out, and asks for what is missing.
    pub(crate) fn poll(&mut self, session: &mut Session) {
        if let Some(answer) = session.arrived(self.answering.take()) {
            self.answer = Some(answer);
        }
        let seen = matches!(session.selection.view, View::Board | View::Life);
        if !session.is_fresh() || !seen || self.variant.is_as_entered() {
            return;
        }
        let (snapshot, variant) = (session.snapshot.clone(), self.variant.clone());
        let asked = Some((Same(snapshot.clone()), variant.clone()));
        if self.asked == asked {
            return;
        }
        self.asked = asked;
        self.answering.request("Working out what if", move |_| {
            let Snapshot { job, catalog_index, sizing } = &*snapshot;
            let found = what_if(job, catalog_index, sizing, &variant);
            (snapshot, variant, found)
        });
    }
}

const HOVER: &str =
    "The whole job under other conditions, with the parts as they are chosen. What was entered stays as it is.";

/// Draws what stands in the line; where it is `folded`, the entries behind a button.
pub(crate) fn show(ui: &mut Ui, scene: &LiveScene, state: &mut WhatIfState, folded: bool) {
    if !folded {
        ui.weak("What if").on_hover_text(HOVER);
    }
    widgets::folded(ui, folded, ("What if…", HOVER), |ui| {
        entries(ui, scene.job, &mut state.variant);
        kept(ui, scene.job, &mut state.variant, scene);
    });
    if state.variant.is_as_entered() {
        if !folded {
            ui.weak("as entered");
        }
        return;
    }
    if ui.button("As entered").on_hover_text("Back to the conditions as they were entered.").clicked() {
        state.variant = Variant::default();
        return;
    }
    let known = scene.job.variants.iter().any(|kept| same(kept, &state.variant));
    let keep = ui.add_enabled(!known, egui::Button::new("Keep as variant"));
    if keep.on_hover_text("Keeps these conditions in the job, to look at them again.").clicked() {
        let kept = Variant { name: state.variant.in_words(), ..state.variant.clone() };
        change_job(scene, "variants", |job| job.variants.push(kept));
    }
    match state.answer.as_ref().filter(|answer| scene.fresh && answer.1 == state.variant) {
        Some((_, _, found)) => outcome(ui, scene, found),
        None => drop(ui.weak("being worked out…")),
    }
}

/// Whether two variants ask the same, whatever they are called.
fn same(a: &Variant, b: &Variant) -> bool {
    Variant { name: String::new(), ..a.clone() } == Variant { name: String::new(), ..b.clone() }
}

fn entries(ui: &mut Ui, job: &Job, variant: &mut Variant) {
    let mut shift_k = variant.ambient_shift_k.unwrap_or(0.0);
    let sign = if shift_k > 0.0 { "+" } else { "" };
    let drag = DragValue::new(&mut shift_k).range(-60.0..=60.0).speed(0.2).max_decimals(1).suffix(" K").prefix(sign);
    if named(ui, "ambient", "What if: ambient shift", drag) {
        variant.ambient_shift_k = (shift_k != 0.0).then_some(shift_k);
    }
    let mut factor = variant.ripple_factor.unwrap_or(1.0);
    let drag = DragValue::new(&mut factor).range(0.0..=5.0).speed(0.01).max_decimals(2).prefix("× ");
    if named(ui, "ripple", "What if: ripple factor", drag) {
        variant.ripple_factor = (factor != 1.0).then_some(factor);
    }
    let given = job.hours_per_year.unwrap_or(0.0);
    let mut hours = variant.hours_per_year.unwrap_or(given);
    let drag = DragValue::new(&mut hours).range(0.0..=8784.0).speed(10.0).max_decimals(0).suffix(" h/a");
    if named(ui, "hours", "What if: hours per year", drag) {
        variant.hours_per_year = (hours != given && hours > 0.0).then_some(hours);
    }
    let given = job.interval_years.unwrap_or(0.0);
    let mut years = variant.interval_years.unwrap_or(given);
    let drag = DragValue::new(&mut years).range(0.0..=60.0).speed(0.05).max_decimals(1).suffix(" years");
    if named(ui, "interval", "What if: interval", drag) {
        variant.interval_years = (years != given && years > 0.0).then_some(years);
    }
}

fn named(ui: &mut Ui, label: &str, name: &str, drag: DragValue) -> bool {
    ui.label(label);
    widgets::named(ui.add(drag), name).changed()
}

/// The variants kept in the job: one click looks at one again.
fn kept(ui: &mut Ui, job: &Job, variant: &mut Variant, scene: &LiveScene) {
    if job.variants.is_empty() {
        return;
    }
    ui.menu_button("Variants", |ui| {
        for (at, kept) in job.variants.iter().enumerate() {
            ui.horizontal(|ui| {
                let name = if kept.name.is_empty() { kept.in_words() } else { kept.name.clone() };
                if ui.button(name.as_str()).clicked() {
                    *variant = Variant { name: String::new(), ..kept.clone() };
                    ui.close();
                }
                if widgets::named(ui.small_button("Remove"), format!("Remove variant {name}")).clicked() {
                    change_job(scene, "variants", |job| drop(job.variants.remove(at)));
                }
            });
        }
    });
}

/// Before and after for each board, and how many positions change their verdict.
fn outcome(ui: &mut Ui, scene: &Scene, found: &WhatIf) {
    let tokens = theme::tokens(ui);
    let years = |years: Option<f64>| years.map_or_else(|| UNKNOWN.to_owned(), figure);
    for (board, (before, after)) in scene.job.boards.iter().zip(&found.boards) {
        ui.label(format!("{} {} to", board.name, years(before.years)));
        let text = RichText::new(format!("{} years", years(after.years))).strong();
        let limiting = after.limiting.map_or_else(String::new, |id| format!(" ({})", scene.job.name_of(id)));
        let shorter = after.years < before.years;
        ui.label(if shorter { text.color(tokens.outcome(Outcome::Fail).ink) } else { text });
        ui.label(limiting);
    }
    let changed = count(found.changed.len(), "position changes verdict", "positions change verdict");
    let each = found.changed.iter().map(|(id, before, after)| {
        let name = scene.job.full_name((*id).into());
        format!("{name}: {} as entered, then it {}", before.word(), verdict(*after))
    });
    let hover = each.take(30).collect::<Vec<_>>().join("\n");
    let ink = if found.worse() > 0 { tokens.outcome(Outcome::Fail).ink } else { tokens.text };
    ui.label(RichText::new(changed).color(ink)).on_hover_text(hover);
}
