//! The line at the bottom: what is going on, what was said last, what was assumed and rejected.

use std::sync::Arc;
use std::time::Duration;

use eframe::egui::{self, Align, Layout, ProgressBar, RichText, Ui};

use super::action::Action;
use super::command::Command;
use super::session::Session;
use super::theme;
use super::wording;
use super::worker::Progress;

/// Work shorter than this is not worth a word.
const WORTH_SAYING: Duration = Duration::from_millis(200);

/// From this width on the figures assumed are named, points.
const ROOM_FOR_NAMES: f32 = 900.0;

/// Draws the line; hands back the work the person wants stopped.
pub(crate) fn show(
    ui: &mut Ui,
    session: &Session,
    busy: impl Iterator<Item = Arc<Progress>>,
    out: &mut Vec<Action>,
) -> Option<Arc<Progress>> {
    let tokens = theme::tokens(ui);
    let mut unwanted = None;
    ui.horizontal(|ui| {
        let long = busy.min_by_key(|progress| progress.since);
        if let Some(progress) = &long {
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
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let rejected = session.rejected.len();
            if rejected > 0
                && ui
                    .link(format!("{rejected} not used"))
                    .on_hover_text("What the catalogues held that could not be used, and why.")
                    .clicked()
            {
                out.push(Action::Run(Command::Messages));
            }
            ui.colored_label(tokens.weak, wording::count(session.market.catalog().len(), "part", "parts"));
            let assumed = assumed(session);
            if !assumed.is_empty() {
                let hover = format!(
                    "Figures the selected candidate's data do not give, taken from tables of usual values:\n{}.\nClick for the list.",
                    assumed.join(", ")
                );
                let words = match ui.available_width() {
                    width if width > ROOM_FOR_NAMES => format!("assumed: {}", assumed.join(", ")),
                    _ => format!("{} assumed", assumed.len()),
                };
                if ui.link(RichText::new(words).color(tokens.weak)).on_hover_text(hover).clicked() {
                    out.push(Action::Run(Command::Messages));
                }
            }
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                let last = session.messages.last().map_or("Ready.", String::as_str);
                ui.add(egui::Label::new(last).truncate());
            });
        });
    });
    unwanted
}

/// The names of what was assumed for the candidate in question, in words.
pub(super) fn assumed(session: &Session) -> Vec<&'static str> {
    let scene = session.scene();
    let evaluation = scene.candidate().and_then(|candidate| scene.evaluation(candidate));
    evaluation.map(|e| e.assumed.words().collect()).unwrap_or_default()
}
