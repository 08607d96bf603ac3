//! What changed since the job was saved, where something did: said once, a link in the line at the bottom, and behind it the list to go through.

use std::sync::Arc;

use egui::{RichText, ScrollArea, Ui};

use crate::app::actions::{Action, LiveScene};
use crate::app::state::{Session, Snapshot};
use crate::app::widgets::{theme, wording::count};
use crate::app::work::{AnyWorker, Worker};
use crate::domain::Outcome;
use crate::sizing::CatalogIndex;
use crate::sizing::changed::{Changed, Records, State, changed};

/// Height of the list at most, points.
const LIST_HEIGHT: f32 = 168.0;

#[derive(Default)]
pub(crate) struct ChangesState {
    asked: Option<(Arc<Records>, Arc<CatalogIndex>)>,
    found: Vec<Changed>,
    open: bool,
    working: Worker<Vec<Changed>>,
}

impl ChangesState {
    /// The work on another thread.
    pub(crate) fn work(&self) -> [&dyn AnyWorker; 1] {
        [&self.working]
    }

    /// Compares once for each record and each catalogue: what is changed in the window afterwards is no news.
    pub(crate) fn poll(&mut self, session: &mut Session) {
        if let Some(mut found) = session.arrived(self.working.take()) {
            // Verdicts and parts that are gone first.
            found.sort_by_key(|changed| !changed.grave);
            self.found = found;
            if !self.found.is_empty() {
                session.say(self.told());
            }
        }
        let (old, parts) = (session.as_saved.clone(), session.catalog_index.clone());
        let known =
            self.asked.as_ref().is_some_and(|asked| Arc::ptr_eq(&asked.0, &old) && Arc::ptr_eq(&asked.1, &parts));
        if !session.is_fresh() || known {
            return;
        }
        self.found.clear();
        self.asked = Some((old.clone(), parts.clone()));
        // A record of nothing is none; a catalogue of nothing is one that is still to come.
        if old.is_empty() || parts.catalog().is_empty() {
            return self.working.cancel();
        }
        let snapshot = session.snapshot.clone();
        self.working.request("Comparing with what was saved", move |_| {
            let Snapshot { job, catalog_index, sizing } = &*snapshot;
            changed(&old, State { job, catalog_index, sizing })
        });
    }

    /// Whether somebody asked for the list.
    pub(crate) fn is_open(&self) -> bool {
        self.open && !self.found.is_empty()
    }

    fn told(&self) -> String {
        let told = count(self.found.len(), "position has changed", "positions have changed");
        let grave = match self.found.iter().filter(|changed| changed.grave).count() {
            0 => "no verdict among them".to_owned(),
            some => count(some, "other verdict or part that is gone", "other verdicts or parts that are gone"),
        };
        format!("Since the job was saved the parts of {told}: {grave}.")
    }
}

/// The link that opens the list; nothing else in the window moves when there is news.
pub(crate) fn link(ui: &mut Ui, state: &mut ChangesState) {
    if state.found.is_empty() {
        return;
    }
    let ink = theme::tokens(ui).outcome(if state.found[0].grave { Outcome::Fail } else { Outcome::Marginal }).ink;
    let text = RichText::new(format!("{} changed since saved", state.found.len())).color(ink);
    state.open ^= ui.link(text).on_hover_text(format!("{} Opens the list.", state.told())).clicked();
}

/// Draws the list.
pub(crate) fn show(ui: &mut Ui, scene: &LiveScene, state: &mut ChangesState) {
    ui.horizontal_wrapped(|ui| {
        ui.label(state.told()).on_hover_text("Price, stock, status, figures and verdict, then and now.");
        state.open ^= ui.button("Hide list").clicked();
        if ui.button("Dismiss").on_hover_text("Until catalogue or offers change again.").clicked() {
            state.found.clear();
        }
    });
    ScrollArea::vertical().id_salt("changes").max_height(LIST_HEIGHT).auto_shrink([false, true]).show(ui, |ui| {
        for changed in &state.found {
            ui.horizontal_wrapped(|ui| {
                let board = scene.job.boards.get(changed.position.board).map_or("", |board| board.name.as_str());
                let name = format!("{board} {}", scene.reference(changed.position));
                let selected = scene.selection.position == Some(changed.position);
                let link = ui.selectable_label(selected, RichText::new(name).strong());
                if link.on_hover_text("Selects this position.").clicked() {
                    scene.push(Action::Select(changed.position));
                }
                if !changed.part_number.is_empty() {
                    ui.label(changed.part_number.as_str());
                }
                let text = RichText::new(changed.clauses.join("; "));
                ui.label(if changed.grave { text } else { text.weak() });
            });
        }
    });
}
