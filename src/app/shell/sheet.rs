//! Lists laid over the window: every command with its keys; messages and what was rejected.

use egui::{self, Context, Grid, Id, Modal, ScrollArea, Ui};

use crate::app::actions::{Command, LiveScene, Menu};
use crate::app::shell::catalogs;
use crate::app::state::Overlay;
use crate::app::widgets::{self, wording::width};

/// Width of a sheet where the window has room for it, points.
const WIDTH: f32 = 1160.0;

/// Draws a sheet; `true` when it is to be closed.
pub(crate) fn show(ctx: &Context, overlay: Overlay, scene: &LiveScene) -> bool {
    let mut closed = false;
    let height = (ctx.content_rect().height() - 160.0).max(120.0);
    let shown = Modal::new(Id::unique("sheet")).show(ctx, |ui| {
        ui.set_width((ctx.content_rect().width() - 60.0).min(WIDTH));
        ui.horizontal(|ui| {
            ui.heading(match overlay {
                Overlay::Keys => "Keyboard shortcuts",
                Overlay::Messages => "Messages",
                Overlay::Catalogs => "Catalogues",
            });
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                closed = ui.button("Close").clicked();
            });
        });
        ui.separator();
        ScrollArea::vertical().max_height(height).min_scrolled_height(height).auto_shrink([false, true]).show(
            ui,
            |ui| {
                match overlay {
                    Overlay::Keys => keys(ui),
                    Overlay::Messages => messages(ui, scene),
                    Overlay::Catalogs => catalogs::show(ui, scene),
                }
                widgets::scroll_by_keys(ui);
            },
        );
    });
    closed || shown.should_close()
}

/// From this width on name, keys and meaning of a command stand side by side, points.
const COLUMNS_WIDTH: f32 = 960.0;

fn keys(ui: &mut Ui) {
    let name_width = Command::all().map(|command| width(ui, command.info().label)).fold(0.0, f32::max);
    for (menu, name) in Menu::ALL {
        ui.strong(name);
        if ui.available_width() < COLUMNS_WIDTH {
            for command in Command::of_menu(menu) {
                let info = command.info();
                ui.horizontal_wrapped(|ui| {
                    ui.label(info.label);
                    ui.strong(pressed(ui, command));
                });
                ui.weak(info.hover);
                ui.add_space(3.0);
            }
            ui.add_space(6.0);
            continue;
        }
        // As wide in every menu as the longest name, so that the columns of all of them stand below each other.
        Grid::new(("keys", name)).num_columns(3).min_col_width(name_width).spacing([18.0, 3.0]).show(ui, |ui| {
            for command in Command::of_menu(menu) {
                let info = command.info();
                ui.label(info.label);
                ui.label(pressed(ui, command));
                ui.weak(info.hover);
                ui.end_row();
            }
        });
        ui.add_space(6.0);
    }
}

/// The keys of a command, or where else it is found.
fn pressed(ui: &Ui, command: Command) -> String {
    let keys: Vec<String> = command.info().keys.iter().map(|keys| ui.ctx().format_shortcut(keys)).collect();
    if keys.is_empty() { "menu".to_owned() } else { keys.join(" or ") }
}

fn messages(ui: &mut Ui, scene: &LiveScene) {
    let session = scene.session;
    if session.messages.is_empty() && session.rejected.is_empty() {
        ui.label("Nothing was said yet, and nothing was rejected.");
    }
    for message in session.messages.iter().rev() {
        ui.label(message);
    }
    let assumed = crate::app::shell::status::assumed(scene);
    if !assumed.is_empty() {
        let candidate = scene.candidate().map_or("", |candidate| scene.name(candidate));
        ui.add_space(6.0);
        ui.strong(format!("Assumed for {candidate}, from tables of usual values"));
        for words in assumed {
            ui.label(words);
        }
    }
    if session.rejected.is_empty() {
        return;
    }
    ui.add_space(6.0);
    ui.strong(format!("Not used: {} cells or rows of the catalogue", session.rejected.len()));
    for row in &session.rejected {
        let file = row.file.file_name().unwrap_or(row.file.as_os_str()).to_string_lossy();
        ui.label(format!("{file}, line {}, {}: \"{}\": {}", row.line, row.field, row.value, row.reason));
    }
}
