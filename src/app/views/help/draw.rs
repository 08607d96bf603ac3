//! Draws blocks of the guide.

use egui::text::{LayoutJob, TextFormat};
use egui::{
    Align, Color32, Frame, Label, Layout, Margin, Response, RichText, Role, Stroke, TextStyle, Ui, WidgetInfo, vec2,
};

use super::guide::{Block, Line, Look};
use crate::app::widgets::theme;

/// Between the columns of a table, points.
const GAP: f32 = 14.0;
/// Narrower than this a column of words cannot be read, points.
const COLUMN_MIN: f32 = 48.0;

/// A heading, also to who cannot see it; what it is about stands below it.
pub(super) fn heading(ui: &mut Ui, text: &str, size: f32) -> Response {
    let response = ui.label(RichText::new(text).size(size).strong());
    response.widget_info(|| WidgetInfo::labeled(Role::Heading, true, text));
    response
}

/// Draws one block; `words` (lower case) are marked wherever they occur. The response of a heading is for scrolling to it.
pub(super) fn block(ui: &mut Ui, block: &Block, words: &[String], scroll_to: Option<&str>) {
    match block {
        Block::Heading(text) => {
            ui.add_space(6.0);
            let response = heading(ui, text, 16.0);
            if scroll_to == Some(text) {
                response.scroll_to_me(Some(Align::TOP));
            }
        }
        Block::Paragraph(line) => {
            ui.add(Label::new(job(ui, line, words, false)).wrap());
        }
        Block::List(items) => items.iter().for_each(|(mark, line)| item(ui, mark, line, words)),
        Block::Table(rows) => table(ui, rows, words),
        Block::Code(text) => {
            let tokens = theme::tokens(ui);
            Frame::new().fill(tokens.panel).inner_margin(Margin::symmetric(10, 6)).show(ui, |ui| {
                ui.monospace(text);
            });
        }
    }
    ui.add_space(6.0);
}

fn item(ui: &mut Ui, mark: &str, line: &Line, words: &[String]) {
    ui.horizontal_top(|ui| {
        ui.add_space(8.0);
        ui.allocate_ui_with_layout(vec2(18.0, 0.0), Layout::left_to_right(Align::TOP), |ui| {
            ui.set_min_width(18.0);
            ui.label(mark);
        });
        ui.add(Label::new(job(ui, line, words, false)).wrap());
    });
}

fn table(ui: &mut Ui, rows: &[Vec<Line>], words: &[String]) {
    let tokens = theme::tokens(ui);
    let widths = widths(ui, rows);
    for (at, row) in rows.iter().enumerate() {
        let fill = if at % 2 == 0 { tokens.base } else { tokens.stripe };
        Frame::new().fill(fill).inner_margin(Margin::symmetric(4, 2)).show(ui, |ui| {
            ui.horizontal_top(|ui| {
                ui.spacing_mut().item_spacing.x = GAP;
                for (cell, &width) in row.iter().zip(&widths) {
                    ui.allocate_ui_with_layout(vec2(width, 0.0), Layout::top_down(Align::LEFT), |ui| {
                        ui.set_width(width);
                        // A label without text would be a control without a name.
                        if !cell.is_empty() {
                            ui.add(Label::new(job(ui, cell, words, at == 0)).wrap());
                        }
                    });
                }
            });
        });
    }
}

/// Widths of the columns: as wide as their text where there is room, else the widest give way.
fn widths(ui: &Ui, rows: &[Vec<Line>]) -> Vec<f32> {
    let columns = rows.first().map_or(0, Vec::len);
    let natural = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column));
        let width = |line: &Line| ui.painter().layout_job(job(ui, line, &[], true)).size().x.ceil() + 1.0;
        cells.map(width).fold(COLUMN_MIN, f32::max)
    };
    let natural: Vec<f32> = (0..columns).map(natural).collect();
    let room = ui.available_width() - 8.0 - GAP * columns.saturating_sub(1) as f32;
    shared(&natural, room)
}

/// Shares `room` so that columns narrower than an equal share keep their width and the others divide the rest.
fn shared(natural: &[f32], room: f32) -> Vec<f32> {
    let mut order: Vec<usize> = (0..natural.len()).collect();
    order.sort_by(|&a, &b| natural[a].total_cmp(&natural[b]));
    let mut widths = natural.to_vec();
    let mut left = room;
    for (done, &column) in order.iter().enumerate() {
        let share = left / (order.len() - done) as f32;
        widths[column] = natural[column].min(share).max(COLUMN_MIN);
        left -= widths[column];
    }
    widths
}

fn job(ui: &Ui, line: &Line, words: &[String], head: bool) -> LayoutJob {
    let tokens = theme::tokens(ui);
    let body = TextStyle::Body.resolve(ui.style());
    let mut job = LayoutJob::default();
    for (look, text) in line {
        let mut format = TextFormat { font_id: body.clone(), color: tokens.text, ..TextFormat::default() };
        match look {
            Look::Plain => {}
            // There is no bold font.
            Look::Bold => format.underline = Stroke::new(1.0, tokens.weak),
            Look::Italic => format.italics = true,
            Look::Code => {
                format.font_id = TextStyle::Monospace.resolve(ui.style());
                format.background = tokens.control;
            }
        }
        if head {
            format.color = tokens.weak;
        }
        append(&mut job, text, words, &format, tokens.selected, tokens.selected_text);
    }
    job
}

/// Adds a run with the searched words marked. ASCII letters match in either case.
fn append(job: &mut LayoutJob, text: &str, words: &[String], format: &TextFormat, background: Color32, color: Color32) {
    let lower = text.to_ascii_lowercase();
    let mut rest = 0;
    while rest < text.len() {
        let next = words.iter().filter(|word| !word.is_empty());
        let next = next.filter_map(|word| Some((rest + lower[rest..].find(word.as_str())?, word.len()))).min();
        let Some((start, len)) = next else { break };
        job.append(&text[rest..start], 0.0, format.clone());
        job.append(&text[start..start + len], 0.0, TextFormat { background, color, ..format.clone() });
        rest = start + len;
    }
    job.append(&text[rest..], 0.0, format.clone());
}

#[cfg(test)]
#[path = "../../../../tests/window/inside/draw.rs"]
mod tests;
