//! Where one begins: a job of one's own, a job that exists, the demo.

mod new_job;
mod recent;

use std::path::PathBuf;

use egui::{Context, Key, Modifiers, RichText, ScrollArea, Ui, vec2};

use crate::app::actions::command::Command;
use crate::app::actions::{Action, LiveScene};
use crate::app::state::selection::View;
use crate::app::state::session::Session;
use crate::app::state::settings::Settings;
use crate::app::widgets;
use crate::app::widgets::theme;
use crate::app::work::worker::{AnyWorker, Worker};
use crate::domain::Job;
pub(crate) use new_job::{Draft, Origin};
use recent::Recent;

/// What the start remembers.
#[derive(Default)]
pub(crate) struct StartState {
    /// A new job that is being filled in.
    pub(crate) draft: Option<Draft>,
    /// Answers of a new job the person went back from.
    left: Option<Draft>,
    /// What holds for the job is asked once its lists are imported.
    pub(crate) conditions_due: bool,
    /// A new job that is filled in, until unsaved work is seen to.
    pub(crate) ready: Option<Box<Job>>,
    /// The page has given the keyboard to its first button since it was come to.
    began: bool,
    recent: Vec<Recent>,
    /// The files the recent jobs were read from, in order.
    asked: Vec<PathBuf>,
    reading: Worker<Vec<Recent>>,
}

impl StartState {
    /// The work on other threads.
    pub(crate) fn work(&self) -> [&dyn AnyWorker; 1] {
        [&self.reading]
    }

    /// Begins to fill in a new job.
    pub(crate) fn begin(&mut self, origin: Origin) -> &mut Draft {
        let left = self.draft.take().or_else(|| self.left.take());
        self.draft.insert(left.map_or_else(|| Draft::new(origin), |left| left.again(origin)))
    }

    /// Takes the key that goes on from the questions before it picks parts.
    pub(crate) fn take_keys(&mut self, ctx: &Context) {
        if let Some(draft) = self.draft.as_mut().filter(|draft| draft.origin != Origin::List) {
            draft.goes_on = ctx.input_mut(|input| input.consume_key(Modifiers::COMMAND, Key::Enter));
        }
    }

    /// Adds a file to the new job of this origin, which is begun if need be.
    pub(crate) fn add(&mut self, origin: Origin, path: PathBuf) {
        if self.draft.as_ref().is_none_or(|draft| draft.origin != origin) {
            self.begin(origin);
        }
        self.draft.get_or_insert_with(|| Draft::new(origin)).add(path);
    }

    /// The job of the lists that were brought, which begins without questions.
    pub(crate) fn of_lists(&self) -> Option<Job> {
        self.draft.as_ref().filter(|draft| draft.origin == Origin::List)?.job().ok()
    }

    /// A new job is not begun after all.
    pub(crate) fn give_up(&mut self) {
        self.ready = None;
        self.draft.take_if(|draft| draft.origin == Origin::List);
    }

    /// Takes what was read of the recent jobs, and asks for it while the start is shown.
    pub(crate) fn poll(&mut self, session: &mut Session, recent: &[PathBuf]) {
        if let Some(read) = session.arrived(self.reading.take()) {
            self.recent = read;
        }
        if session.selection.view != View::Start {
            // Positions are picked meanwhile: read anew when it is shown again.
            self.asked.clear();
            self.began = false;
            return;
        }
        if self.asked != recent {
            self.asked = recent.to_vec();
            let paths = self.asked.clone();
            self.reading
                .request("Reading the recent jobs", move |_| paths.iter().map(|path| Recent::read(path)).collect());
        }
    }
}

/// Width of the page where the window has room for it, and of a card, points.
const WIDTH: f32 = 1140.0;
const CARD: f32 = 250.0;
/// Between cards, points.
const GAP: f32 = 14.0;

/// Draws the start.
pub(crate) fn show(ui: &mut Ui, scene: &LiveScene, settings: &Settings, state: &mut StartState) {
    if let Some(draft) = state.draft.as_mut().filter(|draft| draft.origin != Origin::List) {
        state.began = false;
        if new_job::show(ui, scene.job, draft, scene) {
            state.left = state.draft.take().filter(|draft| draft.origin != Origin::Imported);
        }
        return;
    }
    centred(ui, WIDTH, |ui| page(ui, scene, settings, state));
}

/// Draws a page in the middle of the window, at most so wide.
fn centred(ui: &mut Ui, most: f32, page: impl FnOnce(&mut Ui)) {
    ScrollArea::vertical().id_salt("start").auto_shrink([false, false]).show(ui, |ui| {
        let width = (ui.available_width() - 24.0).min(most);
        let side = (ui.available_width() - width) / 2.0;
        ui.add_space((ui.available_height() * 0.03).clamp(4.0, 40.0));
        ui.horizontal_top(|ui| {
            ui.add_space(side);
            ui.vertical(|ui| {
                ui.set_width(width);
                page(ui);
                widgets::follow_focus(ui);
            });
        });
    });
}

fn page(ui: &mut Ui, scene: &LiveScene, settings: &Settings, state: &mut StartState) {
    // Whoever comes here by keys begins with what most people want, not with the bar: a first job, or the one that is open.
    let begins = !state.began && ui.memory(|memory| memory.focused().is_none());
    state.began |= begins;
    let head = |ui: &mut Ui| {
        ui.label(RichText::new("Refarad").size(f32::from(margin(ui) + 10)));
        ui.weak("Replacements for electrolytic capacitors, proven to last until the next rebuild.");
    };
    if is_short(ui) {
        ui.horizontal_wrapped(head)
    } else {
        ui.vertical(head)
    };
    if !scene.job.boards.is_empty() {
        ui.horizontal(|ui| {
            let name = if scene.job.name.is_empty() { "the job" } else { scene.job.name.as_str() };
            ui.label("Open now:");
            let back = ui.button(format!("Back to {name}"));
            if begins {
                back.request_focus();
            }
            if back.clicked() {
                scene.push(Action::Show(View::Board));
            }
        });
    }
    ui.add_space(f32::from(margin(ui) - 4));
    // Side by side, or the first one over the two others: all that can be done is to be seen at once.
    let (all, three) = (ui.available_width(), ui.available_width() >= 3.0 * CARD);
    let width = (all - if three { 2.0 * GAP } else { GAP }) / if three { 3.0 } else { 2.0 };
    let first = begins && scene.job.boards.is_empty();
    ui.spacing_mut().item_spacing = vec2(GAP, 10.0);
    let own = |ui: &mut Ui| {
        card(
            ui,
            (if three { width } else { all }, first),
            "My own board",
            "From its bill of materials, its placement file and a component catalogue; from a photo; or from nothing.",
            &[
                (Command::NewFromList, "From a list…"),
                (Command::NewFromPhoto, "From a photo…"),
                (Command::NewJob, "Empty"),
            ],
            scene,
        );
    };
    let others = |ui: &mut Ui| {
        card(
            ui,
            (width, first),
            "Open a job",
            "A job file (*.json) with its catalogue beside it. Files can also be dropped here.",
            &[(Command::Open, "Open…")],
            scene,
        );
        card(
            ui,
            (width, first),
            "Look at the demo (invented)",
            "The control cabinet of an observatory dome. Its makers and parts are invented and cannot be bought.",
            &[(Command::OpenDemo, "Open the demo")],
            scene,
        );
    };
    ui.horizontal_top(|ui| {
        own(ui);
        if three {
            others(ui);
        }
    });
    if !three {
        ui.horizontal_top(|ui| others(ui));
    }
    ui.add_space(16.0);
    ui.horizontal(|ui| {
        ui.label(RichText::new("Continue").size(17.0));
        let mut reopen = settings.reopen_last;
        let hover = "At the next start the job worked on last is open at once.";
        if ui.checkbox(&mut reopen, "Open the last job at the start").on_hover_text(hover).changed() {
            scene.push(Action::ReopenLast(reopen));
        }
    });
    if settings.recent.is_empty() {
        ui.weak("Jobs that were opened or saved are listed here.");
    }
    ui.spacing_mut().item_spacing.y = 8.0;
    for recent in &state.recent {
        recent::show(ui, recent, scene);
    }
}

fn is_short(ui: &Ui) -> bool {
    ui.ctx().content_rect().height() < theme::space::SHORT
}

/// Around what stands in a card, points: less in a short window.
fn margin(ui: &Ui) -> i8 {
    if is_short(ui) { theme::space::PANEL } else { 16 }
}

fn card(
    ui: &mut Ui,
    (width, begins): (f32, bool),
    title: &str,
    text: &str,
    commands: &[(Command, &str)],
    scene: &LiveScene,
) {
    let tokens = theme::tokens(ui);
    let frame = egui::Frame::new()
        .fill(tokens.panel)
        .stroke(egui::Stroke::new(1.0, tokens.line))
        .corner_radius(8)
        .inner_margin(margin(ui));
    frame.show(ui, |ui| {
        ui.vertical(|ui| {
            // Without the margin and the line around it.
            ui.set_width(width - 2.0 * f32::from(margin(ui) + 1));
            // As high as those beside it.
            ui.set_min_height(if width > 2.0 * CARD { 0.0 } else { 96.0 });
            ui.spacing_mut().item_spacing = vec2(8.0, 6.0);
            ui.label(RichText::new(title).size(17.0));
            ui.weak(text);
            ui.add_space(4.0);
            ui.horizontal_wrapped(|ui| {
                for (command, label) in commands {
                    let usual = *command == Command::NewFromList;
                    let button = if usual { widgets::primary(ui, label) } else { ui.button(*label) };
                    if usual && begins {
                        button.request_focus();
                    }
                    if button.on_hover_text(command.info().hover).clicked() {
                        scene.push(Action::Run(*command));
                    }
                }
            });
        });
    });
}
