//! When the window itself stumbles: the work is kept first, then the person is told and asked how to go on.

use std::panic::{AssertUnwindSafe, catch_unwind};

use egui::{CentralPanel, Ui, ViewportCommand};

use crate::app::Window;
use crate::app::actions::dialogs::Question;
use crate::app::work::worker::said_by;

/// What went wrong, and whether the work could be kept.
pub(crate) struct PanicRecovery {
    said: String,
    kept: Result<(), String>,
}

impl Window {
    /// Draws the window; should that go wrong, keeps the work and says so.
    pub(crate) fn draw_safely(&mut self, ui: &mut Ui) {
        if self.mishap.is_some() {
            self.show_mishap(ui);
            return;
        }
        if let Err(panic) = catch_unwind(AssertUnwindSafe(|| self.draw(ui))) {
            let kept = self.keep.keep_in_distress(&self.session);
            self.mishap = Some(PanicRecovery { said: said_by(panic.as_ref()).to_owned(), kept });
            ui.ctx().request_repaint();
        }
    }

    fn show_mishap(&mut self, ui: &mut Ui) {
        let Some(mishap) = &self.mishap else { return };
        let (mut back, mut undo, mut save, mut close) = (false, false, false, false);
        let undoable = self.session.history.undo_label().map(str::to_owned);
        CentralPanel::default_margins().show(ui, |ui| {
            ui.heading("Something went wrong in the program");
            ui.label("The window could not be drawn. The job itself is as you left it.");
            ui.label(match &mishap.kept {
                Ok(()) => "It was kept in a recovery file just now, and is offered at the next start.".to_owned(),
                Err(error) => format!("It could not be kept in a recovery file ({error}). Save it before you close."),
            });
            ui.add_space(8.0);
            back = ui.button("Go back to the job").clicked();
            if let Some(label) = &undoable {
                undo = ui.button(format!("Take back “{label}” and go on")).clicked();
            }
            save = ui.button("Save under another name…").clicked();
            close = ui.button("Close the program").clicked();
            ui.add_space(8.0);
            ui.label("If it happens again, please report what you did and this sentence:");
            ui.monospace(&mishap.said);
        });
        if undo {
            self.session.history.undo();
        }
        if back || undo {
            self.mishap = None;
            ui.ctx().request_repaint();
        }
        if save {
            self.dialogs.ask(Question::SaveAs { then: None });
        }
        if close {
            ui.ctx().send_viewport_cmd(ViewportCommand::Close);
        }
        let ctx = ui.ctx().clone();
        // Should this stumble, too, the buttons above still work.
        let _ = catch_unwind(AssertUnwindSafe(|| {
            self.dialogs.show(&ctx, &[]);
            self.poll_workers();
        }));
    }
}

/// A text without the path of the person's home: `~` stands for it.
fn without_home(text: &str, home: Option<&std::path::Path>) -> String {
    match home.and_then(std::path::Path::to_str).filter(|home| home.len() > 1) {
        Some(home) => text.replace(home, "~"),
        None => text.to_owned(),
    }
}

/// From now on what goes wrong is told on standard error in a line without personal paths.
pub(crate) fn report_without_personal_paths() {
    std::panic::set_hook(Box::new(|panic| {
        let home = directories::BaseDirs::new();
        let told = without_home(&panic.to_string(), home.as_ref().map(directories::BaseDirs::home_dir));
        eprintln!("refarad: {told}");
    }));
}

#[cfg(test)]
#[path = "../../../tests/window/inside/panic_recovery.rs"]
mod tests;
