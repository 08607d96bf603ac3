//! The technician's view: one unit at a time, can by can, what was measured before and after, what went in, until it is done and
//! stands in the record of the units.

mod form;
mod map;
mod past;
mod records;
mod shared;
mod sheet;
mod state;

use egui::{CentralPanel, Frame, Margin, Panel, RichText, Ui, vec2};

use crate::app::actions::{Action, BenchAction, Command, LiveScene};
use crate::app::state::Scene;
use crate::app::widgets::{self, theme, wording::width};
use shared::name;
pub(crate) use state::BenchState;
use state::{FIRST, Prepared, SERIAL, Sheet};

/// What a gloved finger hits, points; less in a window that is short because everything in it is enlarged.
const TARGET: f32 = 44.0;
const TARGET_SHORT: f32 = 32.0;

/// Draws the view.
pub(crate) fn show(ui: &mut Ui, scene: &LiveScene, state: &mut BenchState) {
    let short = ui.ctx().content_rect().height() <= theme::space::SHORT;
    let growth = theme::grow(ui);
    ui.spacing_mut().interact_size.y = if short { TARGET_SHORT } else { TARGET * growth };
    ui.spacing_mut().button_padding = vec2(12.0, if short { 3.0 } else { 8.0 });
    let Some(prepared) = state.prepared.clone() else {
        ui.label("The bench is being prepared.");
        return;
    };
    strip(ui, scene, state, &prepared);
    if prepared.board.board != scene.selection.board {
        // The board that was selected is not in a unit of this type.
        scene.push(Action::SelectBoard(prepared.board.board));
        ui.ctx().request_repaint();
        return;
    }
    if state.sheet == Sheet::Records {
        widgets::begin_here(ui.ctx());
        records::show(ui, scene, &mut state.selected);
        return;
    }
    keys(ui, scene, state, &prepared);
    let room = ui.available_width();
    let frame = Frame::new().inner_margin(Margin { left: 10, right: 4, top: 4, bottom: 6 });
    let panel =
        Panel::right("bench form").frame(frame).resizable(false).exact_size((room * 0.34).clamp(270.0, 520.0 * growth));
    panel.show(ui, |ui| {
        tabs(ui, scene, state, &prepared);
        if state.sheet == Sheet::Unit {
            sheet::show(ui, scene, state, &prepared);
        } else {
            form::show(ui, scene, state, &prepared);
        }
    });
    CentralPanel::no_frame().show(ui, |ui| map::show(ui, scene, state, &prepared));
}

/// Units, boards, how far it is, and the way on.
fn strip(ui: &mut Ui, scene: &LiveScene, state: &mut BenchState, prepared: &Prepared) {
    let units: Vec<String> = scene.job.bench.iter().map(|unit| name(Some(unit))).collect();
    let boards: Vec<String> =
        prepared.progress.iter().map(|(of, done, all)| format!("{} {done}/{all}", of.name)).collect();
    let total = |count: fn(&(crate::domain::BoardOfUnit, usize, usize)) -> usize| -> usize {
        prepared.progress.iter().map(count).sum()
    };
    let done = format!("{} of {} done", total(|p| p.1), total(|p| p.2));
    let records = format!("Service records ({})", scene.records.records.len());
    let gap = ui.spacing().item_spacing.x;
    let padding = 2.0 * ui.spacing().button_padding.x + gap;
    let wide = |ui: &Ui, words: &[String]| -> f32 { words.iter().map(|words| width(ui, words) + padding).sum() };
    let ends = [records.clone(), "New unit".to_owned(), "Next".to_owned(), done.clone()];
    let rest = ui.available_width() - wide(ui, &ends) - 2.0 * gap;
    // What has no room side by side is folded into a list.
    let apart = wide(ui, &units) + wide(ui, &boards) < rest;
    ui.horizontal_wrapped(|ui| {
        let working = state.sheet != Sheet::Records;
        if !units.is_empty() {
            let (now, looks) =
                (Some(state.unit).filter(|_| working || !apart), (apart, "Shows this unit at the bench."));
            let chosen = widgets::pills(ui, "Unit at the bench", &units, now, looks);
            chosen.into_iter().for_each(|at| state.show_unit(at));
        }
        if ui.button("New unit").on_hover_text("Puts another unit on the bench.").clicked() {
            scene.push(Action::Bench(BenchAction::NewUnit));
        }
        let hover = "What was done to each serial number, when it is due, and how its parts wore.";
        if ui.selectable_label(!working, records).on_hover_text(hover).clicked() {
            state.sheet = if working { Sheet::Records } else { Sheet::Can };
        }
        if apart {
            ui.separator();
        }
        let (now, hover) = (
            Some(state.copy).filter(|_| working || !apart),
            "Shows this board of the unit; how many of its positions are done.",
        );
        let chosen = widgets::pills(ui, "Board of the unit", &boards, now, (apart, hover));
        chosen.into_iter().for_each(|at| state.show_board(at, prepared, scene));
        if working {
            let next = width(ui, "Next") + padding;
            if width(ui, &done) + gap + next <= ui.available_size_before_wrap().x {
                ui.label(done).on_hover_text("Positions of the unit where the new part is in.");
            }
            let hover = "Goes to the next can that is not done (N).";
            if ui.button("Next").on_hover_text(hover).clicked() {
                scene.push(Action::Run(Command::NextOpen));
            }
        }
    });
}

/// Whether the panel shows the can or the unit.
fn tabs(ui: &mut Ui, scene: &Scene, state: &mut BenchState, prepared: &Prepared) {
    let can = scene.position().map_or("No can".to_owned(), |(_, position)| position.reference.clone());
    ui.horizontal(|ui| {
        for (sheet, words, hover) in [
            (Sheet::Can, can, "What is measured and fitted at this can."),
            (
                Sheet::Unit,
                name(prepared.unit.as_ref()),
                "Serial number, day, who, and adding the rebuild to the record.",
            ),
        ] {
            if ui.selectable_label(state.sheet == sheet, RichText::new(words).heading()).on_hover_text(hover).clicked()
            {
                state.sheet = sheet;
            }
        }
    });
}

/// Enter leads into the first field; up and down a page from can to can while something is typed, since the arrows belong to the
/// field.
fn keys(ui: &Ui, scene: &LiveScene, state: &mut BenchState, prepared: &Prepared) {
    let Some((id, _)) = scene.position() else { return };
    if ui.memory(egui::Memory::focused).is_none() && ui.input(|input| input.key_pressed(egui::Key::Enter)) {
        (state.sheet, state.keyboard_to) = (Sheet::Can, Some(FIRST));
    }
    if widgets::tab_begins(ui.ctx()) {
        state.keyboard_to = Some(if state.sheet == Sheet::Unit { SERIAL } else { FIRST });
    }
    let pressed = |key| ui.input_mut(|input| input.consume_key(egui::Modifiers::NONE, key));
    let step = isize::from(pressed(egui::Key::PageDown)) - isize::from(pressed(egui::Key::PageUp));
    let cans = &prepared.map.cans;
    let here = cans.iter().position(|can| can.id == id);
    if let Some(to) = here.and_then(|at| at.checked_add_signed(step)).and_then(|at| cans.get(at)).filter(|_| step != 0)
    {
        scene.push(Action::Select(to.id));
    }
}
