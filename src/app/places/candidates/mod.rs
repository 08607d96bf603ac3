//! The parts that come into question for the selected position: a table, and the reasons of the selected one.

mod columns;
mod detail;

use eframe::egui::{self, Align, Panel, Sense, Ui, vec2};
use egui_extras::{TableBuilder, TableRow};

use super::Step;
use crate::app::action::Action;
use crate::app::scene::Scene;
use crate::app::selection::{Candidate, List};
use crate::app::theme::{self, space};
use crate::app::widgets::{self, Row};
use columns::{COLUMNS, Entry};

/// What the table remembers.
#[derive(Debug, Default)]
pub(crate) struct State {
    /// Scrolls to the selected row when next drawn.
    reveal: bool,
}

/// The candidates in the order they are shown: the original first, then the best.
fn order<'a>(scene: &Scene<'a>) -> impl Iterator<Item = Candidate> + use<'a> {
    let rows = scene.candidates.map_or(&[][..], |candidates| &candidates.rows);
    std::iter::once(Candidate::Original).chain(rows.iter().map(|row| Candidate::Part(row.id)))
}

/// The candidate a move leads to, in the order shown.
pub(crate) fn step(state: &mut State, scene: &Scene, step: Step) -> Option<Candidate> {
    state.reveal = true;
    let from = scene.candidate();
    let at = from.and_then(|from| order(scene).position(|candidate| candidate == from));
    let len = scene.candidates.map_or(0, |candidates| candidates.rows.len()) + 1;
    order(scene).nth(step.from(at, len)?)
}

/// Draws the place.
pub(crate) fn show(ui: &mut Ui, scene: &Scene, state: &mut State, out: &mut Vec<Action>) {
    if scene.position().is_none() {
        ui.label("Select a position on the left; its candidates are then listed here.");
        return;
    }
    let frame = egui::Frame::new().inner_margin(egui::Margin { top: space::PANEL, ..egui::Margin::ZERO });
    Panel::bottom("candidate detail").frame(frame).resizable(true).default_size(236.0).show(ui, |ui| {
        egui::ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| detail::show(ui, scene));
    });
    caption(ui, scene);
    egui::ScrollArea::horizontal().auto_shrink([false, false]).show(ui, |ui| table(ui, scene, state, out));
    state.reveal = false;
}

fn caption(ui: &mut Ui, scene: &Scene) {
    let tokens = theme::tokens(ui);
    let text = match scene.candidates {
        None => "The candidates are being checked.".to_owned(),
        Some(candidates) if candidates.rows.is_empty() => format!(
            "None of {} parts comes into question: all are ruled out by capacitance, working voltage, mounting or body.",
            candidates.ruled_out
        ),
        Some(candidates) => format!(
            "{} candidates, best first; {} other parts are ruled out by capacitance, working voltage, mounting or body.",
            candidates.rows.len(),
            candidates.ruled_out
        ),
    };
    ui.colored_label(tokens.weak, text);
}

fn table(ui: &mut Ui, scene: &Scene, state: &State, out: &mut Vec<Action>) {
    let tokens = theme::tokens(ui);
    let selected = scene.candidate();
    let count = scene.candidates.map_or(0, |candidates| candidates.rows.len()) + 1;
    ui.spacing_mut().item_spacing = vec2(4.0, 0.0);
    let mut builder = TableBuilder::new(ui)
        .id_salt("candidates")
        .striped(true)
        // Cells can be clicked but are no stops for the Tab key: that is the selected row's part.
        .sense(Sense::CLICK)
        .auto_shrink([false, false])
        .min_scrolled_height(0.0);
    for column in COLUMNS {
        builder = builder.column(egui_extras::Column::exact(column.width).clip(true));
    }
    if state.reveal
        && let Some(at) = selected.and_then(|selected| order(scene).position(|candidate| candidate == selected))
    {
        builder = builder.scroll_to_row(at, None::<Align>);
    }
    builder
        .header(space::ROW, |mut header| {
            for column in COLUMNS {
                header.col(|ui| {
                    let label = egui::Label::new(egui::RichText::new(column.heading).color(tokens.weak));
                    columns::aligned(ui, column, |ui| ui.add(label).on_hover_text(column.hover));
                });
            }
        })
        .body(|body| {
            body.rows(space::ROW, count, |mut row| {
                if let Some(candidate) = nth(scene, row.index()) {
                    line(&mut row, scene, candidate, selected == Some(candidate), out);
                }
            });
        });
}

fn nth(scene: &Scene, index: usize) -> Option<Candidate> {
    match index.checked_sub(1) {
        None => Some(Candidate::Original),
        Some(at) => scene.candidates?.rows.get(at).map(|row| Candidate::Part(row.id)),
    }
}

fn line(row: &mut TableRow, scene: &Scene, candidate: Candidate, selected: bool, out: &mut Vec<Action>) {
    let Some(entry) = Entry::new(scene, candidate) else { return };
    row.set_selected(selected);
    let index = row.index();
    let name = entry.spoken();
    let mut first = None;
    for column in COLUMNS {
        let (_, cell) = row.col(|ui| {
            if first.is_none() {
                let whole = ui.max_rect().with_max_x(ui.clip_rect().right().max(ui.max_rect().right()));
                let response = widgets::row(ui, whole, &Row { list: List::Candidates, index, selected, name: &name });
                widgets::outline_focus(ui, ui.max_rect(), &response);
                first = Some(response);
            }
            columns::aligned(ui, column, |ui| (column.cell)(ui, &entry));
        });
        if cell.clicked() {
            out.push(Action::SelectCandidate(candidate));
        }
        if cell.double_clicked() && !matches!(candidate, Candidate::Original) {
            out.push(Action::Run(crate::app::command::Command::Pick));
        }
        if cell.hovered() {
            out.push(Action::Hover(candidate));
        }
    }
    if first.is_some_and(|response| response.clicked()) {
        out.push(Action::SelectCandidate(candidate));
    }
}
