//! Lists of strangers: what a file is, what its columns mean, what becomes of its rows; taken in as one step.
//!
//! | module | what |
//! |---|---|
//! | `state` | the files at hand, what was found in them and what the person says about them |
//! | `actions` | what the person asks for: importing, mappings, lists of what is rejected |
//! | `reading` | work for other threads: opening files, reading them by their mapping |
//! | `files` | which file is shown, how it is laid out |
//! | `columns` | the leading rows, over each column its meaning |
//! | `every_row` | what holds for every row |
//! | `answers` | open questions |
//! | `memory` | which lines are listed, which rows are compared |
//! | `outcome` | what is kept and what is not, and why |
//! | `page` | the page of a data sheet beside its table |
//! | `compare` | rows of a data sheet beside what is printed |
//! | `intake` | where it goes, and taking it in |

mod actions;
mod answers;
mod columns;
mod compare;
mod every_row;
mod files;
mod intake;
mod memory;
mod outcome;
mod page;
mod reading;
mod state;

use egui::{self, Panel, ScrollArea, Ui};

use crate::app::actions::{Command, LiveScene};
use crate::app::widgets::{self, theme};

use reading::LEADING;
pub(crate) use state::ImportState;

/// Draws the place.
pub(crate) fn show(ui: &mut Ui, scene: &LiveScene, state: &mut ImportState) {
    if state.is_empty() {
        empty(ui, scene, state);
        return;
    }
    files::show(ui, state, scene);
    ui.separator();
    if let Some(reason) = state.refused() {
        if page::is_printed(state) {
            // Where no list was found a box drawn on the page may say where it is.
            beside_page(ui, state);
            ui.label(reason);
        } else {
            broken(ui, &reason);
        }
        return;
    }
    if let Some(names) = state.which_sheet() {
        files::which_sheet(ui, state, &names);
        return;
    }
    if state.sheet().is_none() {
        return;
    }
    if ui.available_width() < BESIDE && !state.comparison.is_open() && !page::is_printed(state) {
        below(ui, scene, state);
        return;
    }
    let frame = egui::Frame::new().inner_margin(egui::Margin { left: 10, ..egui::Margin::ZERO });
    Panel::right("import outcome").frame(frame).size_range(330.0..=560.0).default_size(372.0).show(ui, |ui| {
        let keyboard = intake::show(ui, scene, state);
        ui.separator();
        ScrollArea::vertical().id_salt("import outcome").auto_shrink([false, false]).show(ui, |ui| {
            answers::show(ui, state, keyboard, scene);
            outcome::show(ui, state, scene);
            widgets::follow_focus(ui);
        });
    });
    // What is wider than the room left of the outcome must not make that room wider.
    egui::CentralPanel::no_frame().show(ui, |ui| {
        ui.set_max_width(ui.available_width());
        if state.comparison.is_open() {
            compare::show(ui, state);
            return;
        }
        if page::is_printed(state) {
            beside_page(ui, state);
        }
        left(ui, state, scene);
    });
}

/// Width from which the outcome stands beside the table, points.
const BESIDE: f32 = 760.0;

/// Where there is no room side by side, everything below one another.
fn below(ui: &mut Ui, scene: &LiveScene, state: &mut ImportState) {
    ScrollArea::vertical().id_salt("import below").auto_shrink([false, false]).show(ui, |ui| {
        let keyboard = intake::show(ui, scene, state);
        ui.separator();
        answers::show(ui, state, keyboard, scene);
        files::layout(ui, state, scene);
        columns::show(ui, state, columns::LEADING_BELOW);
        let every = egui::vec2(ui.available_width(), every_row::height(ui, state));
        ui.allocate_ui(every, |ui| every_row::show(ui, scene, state));
        ui.separator();
        outcome::show(ui, state, scene);
        widgets::follow_focus(ui);
    });
}

/// The page of a data sheet at the left of everything else.
fn beside_page(ui: &mut Ui, state: &mut ImportState) {
    Panel::left("import page").size_range(240.0..=900.0).default_size(380.0).show(ui, |ui| page::show(ui, state));
}

/// Layout, columns and what holds for every row.
fn left(ui: &mut Ui, state: &mut ImportState, scene: &LiveScene) {
    files::layout(ui, state, scene);
    ui.add_space(4.0);
    let every = every_row::height(ui, state);
    Panel::bottom("import every row")
        .frame(egui::Frame::new())
        .show_separator_line(true)
        .exact_size(every)
        .show(ui, |ui| every_row::show(ui, scene, state));
    columns::show(ui, state, LEADING);
}

/// A file that is no table.
fn broken(ui: &mut Ui, reason: &str) {
    let ink = theme::tokens(ui).outcome(crate::domain::Outcome::Fail).ink;
    ui.add_space(8.0);
    ui.set_max_width(680.0_f32.min(ui.available_width()));
    ui.colored_label(ink, "This file cannot be read as a table.");
    ui.label(reason);
    ui.add_space(8.0);
    ui.label("What to do: open it in the program it comes from and save or export it as CSV (comma, semicolon or tab, any encoding) or as a workbook, then open that here; or copy the rows there and paste them here. The other files are not touched; close this one with the cross beside its name.");
}

fn empty(ui: &mut Ui, scene: &LiveScene, state: &mut ImportState) {
    ScrollArea::vertical().id_salt("import empty").auto_shrink([false, false]).show(ui, |ui| {
        ui.set_max_width(760.0_f32.min(ui.available_width()));
        if state.done.is_some() {
            intake::done(ui, scene, state);
            ui.add_space(12.0);
            ui.separator();
        }
        ui.add_space(8.0);
        ui.heading("Import a file");
        ui.add_space(4.0);
        ui.label("Open a file, drop one or several on the window, or copy a table in a spreadsheet and paste it here (Ctrl+V). Headers, units and notations may be anybody's; nothing is changed until you import it, and undo takes it back in one step.");
        ui.add_space(8.0);
        widgets::button(ui, scene, Command::ImportList);
        ui.add_space(10.0);
        for (what, text) in [
            ("Bill of materials (BOM)", "designators with value, voltage and footprint become positions of a new board, or of the selected board."),
            ("Placement file (centroid)", "x, y, rotation and side, in mm, mil or inch, place the positions; what one of the two lists lacks is named."),
            ("Component catalogue", "a distributor's export, a maker's list or a series table typed off a data sheet becomes a catalogue. What its columns do not say (series, endurance, frequency of the ripple current) you say once for every row."),
        ] {
            ui.strong(what);
            ui.label(text);
            ui.add_space(6.0);
        }
        ui.label("Tables may be text (CSV, tab-separated, fixed width, Markdown), workbooks (.xlsx, .xls, .ods) or data sheets (.pdf).");
    });
}
