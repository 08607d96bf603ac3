//! The line at the bottom: what is going on, what was said last, what was assumed and rejected.

use std::sync::Arc;
use std::time::Duration;

use egui::{self, Align, Layout, ProgressBar, RichText, Ui};

use crate::app::actions::{Action, Command, LiveScene};
use crate::app::state::{Scene, View};
use crate::app::views::changes;
use crate::app::views::changes::ChangesState;
use crate::app::widgets::{theme, wording, wording::width};
use crate::app::work::Progress;
use crate::domain::Outcome;
use crate::sizing::assumed::assumed_words;

/// Work shorter than this is not worth a word.
const WORTH_SAYING: Duration = Duration::from_millis(200);

/// Draws the line; hands back the work the person wants stopped.
pub(crate) fn show(
    ui: &mut Ui,
    scene: &LiveScene,
    changes: &mut ChangesState,
    busy: Option<&Arc<Progress>>,
) -> Option<Arc<Progress>> {
    let session = scene.session;
    let mut unwanted = None;
    ui.horizontal(|ui| {
        if let Some(progress) = busy {
            let waited = progress.since.elapsed();
            if waited >= WORTH_SAYING {
                ui.label(format!("{}…", progress.what));
                ui.add(ProgressBar::new(progress.share()).desired_width(120.0).animate(progress.share() <= 0.0));
                if ui.button("Stop").clicked() {
                    unwanted = Some(progress.clone());
                }
            } else {
                ui.ctx().request_repaint_after(WORTH_SAYING.saturating_sub(waited));
            }
        }
        let last = session.news();
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let rejected = session.rejected.len();
            if rejected > 0
                && ui
                    .link(format!("{rejected} not used"))
                    .on_hover_text("What the catalogues held that could not be used, and why.")
                    .clicked()
            {
                scene.push(Action::Run(Command::Messages));
            }
            // At the start nothing of the job is shown that this could be said of.
            let at_start = session.selection.view == View::Start;
            if !at_start {
                ui.weak(wording::count(session.catalog_index.catalog().len(), "part", "parts"));
                changes::link(ui, changes);
            }
            let assumed = if at_start { Vec::new() } else { assumed(scene) };
            if !assumed.is_empty() {
                let hover = format!(
                    "Figures the selected candidate's data do not give, taken from tables of usual values:\n{}.\nClick for the list.",
                    assumed.join(", ")
                );
                // What was said last comes first; the figures are named where both fit.
                let named = format!("assumed: {}", assumed.join(", "));
                let both_fit = width(ui, &named) + width(ui, &last) + 3.0 * ui.spacing().item_spacing.x
                    <= ui.available_width();
                let words = if both_fit { named } else { format!("{} assumed", assumed.len()) };
                if ui.link(RichText::new(words).weak()).on_hover_text(hover).clicked() {
                    scene.push(Action::Run(Command::Messages));
                }
            }
            if !at_start {
                needs(ui, scene);
            }
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                ui.add(egui::Label::new(last).truncate());
            });
        });
    });
    unwanted
}

/// What the selected position needs before a part can be judged.
fn needs(ui: &mut Ui, scene: &LiveScene) {
    let Some((id, position)) = scene.position() else { return };
    let first = scene.sized().and_then(|sized| sized.needs.first());
    let (Some(words), Some(need)) = (scene.needs(id), first) else { return };
    let ink = theme::tokens(ui).outcome(Outcome::Unknown).ink;
    let link = ui.link(RichText::new(format!("{} {words}", position.reference)).color(ink));
    if link.on_hover_text("Opens the editor where it is entered.").clicked() {
        scene.push(Action::EditField(need.path()));
    }
}

/// What was assumed for the selected candidate, with its value, in words.
pub(crate) fn assumed(scene: &Scene) -> Vec<String> {
    let words = || {
        let candidate = scene.candidate()?;
        let (evaluation, can, place) = (scene.evaluation(candidate)?, scene.can(candidate)?, scene.place()?);
        Some(assumed_words(place, &can, &evaluation))
    };
    words().unwrap_or_default()
}
