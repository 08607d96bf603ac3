//! The bar on top: menus, the job, the board, its positions by outcome, how long it lasts and what limits it.

use std::path::PathBuf;

use egui::{Align, ComboBox, Layout, MenuBar, Ui};

use crate::app::actions::action::Action;
use crate::app::actions::command::{Command, Menu};
use crate::app::state::scene::Scene;
use crate::app::state::session::Session;
use crate::app::widgets;
use crate::app::widgets::explain;
use crate::app::widgets::theme;
use crate::app::widgets::wording;
use crate::domain::Outcome;

/// From this width on the choice of the board has its name before it, points.
const NAMED_FROM: f32 = 700.0;

/// Draws the bar.
pub(crate) fn show(
    ui: &mut Ui,
    session: &Session,
    scene: &Scene,
    recent: &[PathBuf],
    refusal: &dyn Fn(Command) -> Option<String>,
    out: &mut Vec<Action>,
) {
    MenuBar::new().ui(ui, |ui| {
        for (menu, name) in Menu::ALL {
            ui.menu_button(name, |ui| {
                ui.set_min_width(220.0);
                if menu == Menu::Job && !recent.is_empty() {
                    ui.menu_button("Recent jobs", |ui| recent_jobs(ui, recent, out));
                }
                for command in Command::of_menu(menu) {
                    let refused = refusal(command);
                    widgets::menu_item(ui, command, &label(session, command), refused.as_deref(), out);
                }
            });
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| job_name(ui, session));
    });
    ui.add_space(2.0);
    ui.horizontal_wrapped(|ui| board(ui, scene, out));
}

/// Undo and redo say what they would do.
fn label(session: &Session, command: Command) -> String {
    let name = command.info().label;
    let what = match command {
        Command::Undo => session.history.undo_label(),
        Command::Redo => session.history.redo_label(),
        _ => None,
    };
    what.map_or_else(|| name.to_owned(), |what| format!("{name}: {what}"))
}

fn recent_jobs(ui: &mut Ui, recent: &[PathBuf], out: &mut Vec<Action>) {
    for path in recent {
        let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
        let folder = path.parent().unwrap_or(path).display();
        if ui.button(format!("{name} in {folder}")).clicked() {
            out.push(Action::TakeFile(path.clone()));
            ui.close();
        }
    }
}

fn job_name(ui: &mut Ui, session: &Session) {
    let tokens = theme::tokens(ui);
    if session.is_dirty() {
        ui.colored_label(tokens.weak, "not saved");
    }
    if session.newer {
        ui.colored_label(tokens.outcome(Outcome::Marginal).ink, "read only: of a later version").on_hover_text(
            "The file was written by a later version of the program. It can be looked at and tried out; saved under \
             another name it keeps every field, also those this version does not know.",
        );
    }
    let file = session.path.as_ref().map_or_else(|| "not in a file yet".to_owned(), |path| path.display().to_string());
    let name = session.job().name.as_str();
    ui.strong(if name.is_empty() { "Job without a name" } else { name }).on_hover_text(file);
}

fn board(ui: &mut Ui, scene: &Scene, out: &mut Vec<Action>) {
    let Some(board) = scene.board() else {
        ui.label("The job has no board yet.");
        return;
    };
    // In a narrow window its place is wanted for what follows.
    let roomy = ui.available_width() >= NAMED_FROM;
    let label = roomy.then(|| ui.label("Board"));
    let gap = if roomy { 8.0 } else { 0.0 };
    let list =
        ComboBox::from_id_salt("board").width(if roomy { 100.0 } else { 70.0 }).selected_text(board.name.as_str());
    let boards = scene.job.boards.iter().enumerate();
    let entries = boards.map(|(at, other)| (at, at == scene.selection.board, other.name.clone()));
    let (response, chosen) = widgets::choice(ui, list, entries);
    out.extend(chosen.map(Action::SelectBoard));
    if let Some(label) = label {
        response.labelled_by(label.id);
    } else {
        ui.ctx().accesskit_node_builder(response.id, |node| node.set_label("Board"));
    }
    ui.add_space(gap);
    for outcome in Outcome::ALL {
        let count = scene.count(outcome);
        if count > 0 {
            let ink = theme::tokens(ui).text;
            let tally = widgets::marked(ui, outcome, &format!("{count} {}", outcome.word()), ink);
            explain::on(tally, outcome.word());
        }
    }
    ui.add_space(gap);
    if !scene.fresh {
        ui.label("checking…");
    }
    let Some(sized) = scene.board_sized() else { return };
    let words = wording::interval(scene, &sized.as_chosen);
    let hover = format!(
        "With the chosen parts the board {words}.\nWith the original parts, new, it {}.\nA board lasts as long as its shortest-lived position: years(board) = min years(position).\nClick to go to the position that limits it.",
        wording::interval(scene, &sized.as_built)
    );
    if ui.link(format!("{} {words}", board.name)).on_hover_text(hover).clicked() {
        out.push(Action::Run(Command::Limiting));
    }
}
