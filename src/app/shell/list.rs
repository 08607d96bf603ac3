//! The list of positions on the left: reference, what was there, what is chosen, how it fares.

use egui::text::{LayoutJob, TextWrapping};
use egui::{Align, Align2, Color32, FontId, Painter, Pos2, Rect, ScrollArea, Sense, TextStyle, Ui, pos2, vec2};

use crate::app::actions::action::Action;
use crate::app::state::scene::Scene;
use crate::app::state::selection::{List, Reveal};
use crate::app::widgets::theme::{self, space};
use crate::app::widgets::wording::original;
use crate::app::widgets::{self, Row};
use crate::domain::{Outcome, Position, PositionId};
use crate::sizing::{PositionSizing, Source};

/// Draws the list.
pub(crate) fn show(ui: &mut Ui, scene: &Scene, reveal: Option<Reveal>, out: &mut Vec<Action>) {
    if scene.job.positions().next().is_none() {
        ui.strong("No positions yet");
        ui.label("Open a job (menu Job), paste rows from a spreadsheet, or add a position (menu Change).");
        return;
    }
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 1.0;
        for (at, board) in scene.job.boards.iter().enumerate() {
            ui.add_space(if at == 0 { 0.0 } else { 8.0 });
            ui.strong(board.name.as_str());
            for (index, position) in board.positions.iter().enumerate() {
                let id = PositionId { board: at, index };
                let selected = scene.selection.position == Some(id);
                let marked = scene.selection.marked.contains(&id);
                let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), space::POSITION_ROW), Sense::hover());
                if let Some(reveal) = reveal.filter(|_| selected) {
                    ui.scroll_to_rect(rect, (reveal == Reveal::AtTop).then_some(Align::TOP));
                }
                if ui.is_rect_visible(rect) {
                    one(ui, rect, scene, id, position, (selected, marked), out);
                }
            }
        }
    });
}

fn one(
    ui: &Ui,
    rect: Rect,
    scene: &Scene,
    id: PositionId,
    position: &Position,
    (selected, marked): (bool, bool),
    out: &mut Vec<Action>,
) {
    let tokens = theme::tokens(ui);
    let sized = scene.sizing.position(id);
    let verdict = sized.map_or(Outcome::Unknown, |sized| sized.choice.verdict);
    let original = original(position);
    let (part, source) = chosen(scene, position, sized);
    let also = if marked { "; marked" } else { "" };
    let name = format!("{}, {original}; {part} {source}; {}{also}", position.reference, verdict.word());
    let index = id.board << 32 | id.index;
    let response = widgets::row(ui, rect, &Row { list: List::Positions, index, selected, name: &name });
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    if selected || marked {
        painter.rect_filled(rect, 3.0, tokens.selected);
        if marked {
            let bar = Rect::from_min_size(rect.min, vec2(3.0, rect.height()));
            painter.rect_filled(bar, 0.0, tokens.focus);
        }
    } else if response.hovered() {
        painter.rect_filled(rect, 3.0, tokens.control);
    }
    let mark = Rect::from_center_size(pos2(rect.left() + 14.0, rect.top() + 13.0), vec2(space::MARK, space::MARK));
    widgets::paint_mark(&painter, mark, verdict, tokens);
    let strong = if selected || marked { tokens.selected_text } else { tokens.text };
    let (indent, edge) = (rect.left() + 28.0, rect.right() - 8.0);
    let line = |y: f32, from: f32, text: &str, style: TextStyle, to: f32, colour| {
        shortened(&painter, pos2(from, rect.top() + y), to - from, text, style.resolve(ui.style()), colour)
    };
    let reference = line(13.0, indent, &position.reference, TextStyle::Body, edge, strong);
    line(13.0, (indent + 44.0).max(reference + 8.0), &original, TextStyle::Body, edge, strong);
    let font = TextStyle::Small.resolve(ui.style());
    let source = painter.text(pos2(edge, rect.top() + 31.0), Align2::RIGHT_CENTER, source, font, tokens.weak);
    line(31.0, indent, &part, TextStyle::Small, source.left() - 6.0, tokens.weak);
    if selected {
        widgets::outline_focus(ui, rect, &response);
    }
    let clicked = response.clicked();
    response.on_hover_text(name);
    if clicked {
        let held = ui.input(|input| input.modifiers);
        out.push(match (held.command, held.shift) {
            (true, _) => Action::ToggleMark(id),
            (_, true) => Action::MarkTo(id),
            _ => Action::Select(id),
        });
    }
}

/// One line of text from `at` (its middle), cut with an ellipsis where it would be wider than `width`; returns where it ends.
fn shortened(painter: &Painter, at: Pos2, width: f32, text: &str, font: FontId, colour: Color32) -> f32 {
    let mut job = LayoutJob::simple_singleline(text.to_owned(), font, colour);
    job.wrap = TextWrapping::truncate_at_width(width.max(0.0));
    let galley = painter.layout_job(job);
    let rect = Align2::LEFT_CENTER.anchor_size(at, galley.size());
    painter.galley(rect.min, galley, colour);
    rect.right()
}

/// The chosen part and where the choice comes from.
fn chosen(scene: &Scene, position: &Position, sized: Option<&PositionSizing>) -> (String, &'static str) {
    let Some(sized) = sized else { return ("being checked".to_owned(), "") };
    match (&sized.choice.part, &position.pick) {
        (Some(part), _) => {
            let source = if sized.choice.source == Source::Pick { "picked" } else { "proposed" };
            (scene.catalog.part_number(part.id).to_owned(), source)
        }
        (None, Some(pick)) => (format!("{pick} is not in the catalogue"), "picked"),
        (None, None) => ("no part holds".to_owned(), ""),
    }
}
