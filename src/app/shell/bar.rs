//! The bar on top: menus, views and the job in its first line; boards, how long the board lasts, what is settled and what is
//! still open in the second.

use std::path::PathBuf;

use egui::{Align, Layout, MenuBar, Ui};

use crate::app::actions::{Action, Command, LiveScene, Menu};
use crate::app::state::{Scene, Session, View};
use crate::app::views::VIEWS;
use crate::app::widgets::{self, theme, wording, wording::width};
use crate::domain::Outcome;

/// From this width on the menus stand side by side, points.
const MENUS_FROM: f32 = 760.0;

/// Draws the bar.
pub(crate) fn show(ui: &mut Ui, scene: &LiveScene, recent: &[PathBuf]) {
    ui.spacing_mut().item_spacing.y = 3.0;
    MenuBar::new().ui(ui, |ui| {
        if ui.available_width() >= MENUS_FROM {
            menus(ui, scene, recent);
        } else {
            ui.menu_button("Menu", |ui| menus(ui, scene, recent));
        }
        ui.add_space(6.0);
        for (view, command) in VIEWS {
            let info = command.info();
            let tab = ui.selectable_label(scene.selection.view == view, info.label).on_hover_text(info.hover);
            if tab.clicked() {
                scene.push(Action::Show(view));
            }
        }
        if scene.selection.view != View::Start {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| job_name(ui, scene.session));
        }
    });
    // The bench has a line of its own: of the unit, not of the job.
    if matches!(scene.selection.view, View::Start | View::Bench) {
        return;
    }
    ui.horizontal(|ui| {
        ui.set_min_height(ui.spacing().interact_size.y);
        board(ui, scene);
    });
}

fn menus(ui: &mut Ui, scene: &LiveScene, recent: &[PathBuf]) {
    for (menu, name) in Menu::ALL {
        ui.menu_button(name, |ui| {
            ui.set_min_width(220.0);
            if menu == Menu::Job && !recent.is_empty() {
                ui.menu_button("Recent jobs", |ui| recent_jobs(ui, recent, scene));
            }
            for command in Command::of_menu(menu) {
                if command.begins_group() {
                    ui.separator();
                }
                widgets::menu_item(ui, scene, command, &label(scene.session, command));
            }
        });
    }
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

fn recent_jobs(ui: &mut Ui, recent: &[PathBuf], scene: &LiveScene) {
    for path in recent {
        let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
        let folder = path.parent().unwrap_or(path).display();
        if ui.button(format!("{name} in {folder}")).clicked() {
            scene.push(Action::TakeFile(path.clone()));
            ui.close();
        }
    }
}

fn job_name(ui: &mut Ui, session: &Session) {
    let tokens = theme::tokens(ui);
    if session.is_dirty() {
        ui.weak("not saved");
    }
    if session.newer {
        ui.colored_label(tokens.outcome(Outcome::Marginal).ink, "read only: of a later version").on_hover_text(
            "The file was written by a later version of the program. It can be looked at and tried out; saved under \
             another name it keeps every field, also those this version does not know.",
        );
    }
    let file = session.path.as_ref().map_or_else(|| "not in a file yet".to_owned(), |path| path.display().to_string());
    let name = session.job().name.as_str();
    let name = if name.is_empty() { "Job without a name" } else { name };
    // Where there is no room for it the title of the window tells it.
    if width(ui, name) < ui.available_width() {
        ui.strong(name).on_hover_text(file);
    }
}

/// What a board says of itself beside its name: how many of its positions are settled.
fn tally(scene: &Scene, at: usize) -> String {
    let board = &scene.job.boards[at];
    format!("{} {}/{}", board.name, scene.sizing.settled(at), board.positions.len())
}

/// The second line. What matters most keeps its room: the next open position, the count, then how long the board lasts.
fn board(ui: &mut Ui, scene: &LiveScene) {
    let Some(board) = scene.board() else {
        ui.label("The job has no board yet.");
        return;
    };
    let gap = ui.spacing().item_spacing.x;
    let padding = 2.0 * ui.spacing().button_padding.x;
    let at = scene.selection.board;
    let settled = format!("{} of {} settled", scene.sizing.settled(at), board.positions.len());
    let next = Command::NextOpen.info().label;
    let right = width(ui, &settled) + width(ui, next) + padding + gap + 1.0;
    let lasts = scene.board_sized().map(|sized| &sized.as_chosen);
    let lasts = lasts
        .map(|interval| if scene.fresh { wording::intervals(scene, interval) } else { vec!["checking…".into(); 3] });
    let shortest = lasts.iter().flatten().last().map_or(0.0, |words| width(ui, words)) + gap;
    let tallies: Vec<String> = (0..scene.job.boards.len()).map(|at| tally(scene, at)).collect();
    let pills: f32 = tallies.iter().map(|words| width(ui, words) + padding + gap).sum();
    let apart = pills + right + shortest < ui.available_width();
    let hover = "Shows this board; how many of its positions have a picked part that may be used.";
    scene.extend(widgets::pills(ui, "Board", &tallies, Some(at), (apart, hover)).map(Action::SelectBoard));
    let room = ui.available_width() - right - gap;
    if let (Some(lasts), Some(sized)) = (lasts, scene.board_sized())
        && let Some(words) = lasts.iter().find(|words| width(ui, words) < room)
    {
        let hover = format!(
            "With the chosen parts the board {}.\nWith the original parts, new, it {}.\nA board lasts as long as its \
             shortest-lived position: years(board) = min years(position).\nClick to go to the position that limits it.",
            sized.as_chosen.told(scene.job),
            sized.as_built.told(scene.job)
        );
        if ui.link(words).on_hover_text(hover).clicked() {
            scene.push(Action::Run(Command::Limiting));
        }
    }
    ui.add_space((ui.available_width() - right).max(0.0));
    ui.label(settled).on_hover_text("Settled: a part is picked, and it may be used.");
    widgets::button(ui, scene, Command::NextOpen);
}
