//! The list of positions on the left: reference, what was there, what is chosen, how it fares.

use egui::{
    Align, Align2, Button, Label, Layout, Rect, RichText, ScrollArea, Sense, TextStyle, Ui, UiBuilder, pos2, vec2,
};

use crate::app::actions::{Action, LiveScene};
use crate::app::state::{EditorSheet, List, Reveal, Scene};
use crate::app::widgets::wording::{original, other_part, width};
use crate::app::widgets::{self, Row, cells, theme, theme::space};
use crate::domain::{Board, OtherId, OtherPart, Outcome, Position, PositionId};
use crate::sizing::{CanState, PositionSizing, Source, needs::names, reasons::figure};

/// Draws the list.
pub(crate) fn show(ui: &mut Ui, scene: &LiveScene, reveal: Option<Reveal>) {
    if scene.job.positions().next().is_none() && scene.job.all_other_parts().next().is_none() {
        ui.weak("No positions yet");
        return;
    }
    let (row, head) = (space::POSITION_ROW + 1.0, 26.0);
    let boards = &scene.job.boards;
    let height = |board: &Board| head + row * board.positions.len() as f32 + others_height(board.other_parts.len());
    let selected = scene.selection.position;
    ScrollArea::vertical().auto_shrink([false, false]).show_viewport(ui, |ui, seen| {
        let origin = ui.max_rect().min;
        let width = ui.available_width();
        let place = |y: f32, height: f32| Rect::from_min_size(origin + vec2(0.0, y), vec2(width, height));
        let whole = boards.iter().map(height).sum::<f32>() + others_height(scene.job.other_parts.len());
        let whole = place(0.0, whole);
        ui.allocate_rect(whole, Sense::hover());
        let mut top = 0.0;
        // Only what is in sight is drawn: a board may have ten thousand positions.
        for (at, board) in boards.iter().enumerate() {
            if let (Some(reveal), Some(id)) = (reveal, selected.filter(|id| id.board == at)) {
                let rect = place(top + head + id.index as f32 * row, space::POSITION_ROW);
                ui.scroll_to_rect(rect, (reveal == Reveal::AtTop).then_some(Align::TOP));
            }
            let name = place(top + 2.0, head - 4.0);
            if ui.is_rect_visible(name) {
                let area = UiBuilder::new().max_rect(name).layout(Layout::left_to_right(Align::Center));
                ui.scope_builder(area, |ui| ui.add(Label::new(RichText::new(board.name.as_str()).strong()).truncate()));
            }
            let first = ((seen.min.y - top - head) / row).floor().max(0.0);
            let last = ((seen.max.y - top - head) / row).ceil().max(0.0);
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "rows in sight, counted from 0"
            )]
            let rows = (first as usize)..(last as usize).min(board.positions.len());
            for index in rows {
                let id = PositionId { board: at, index };
                let marked = scene.selection.marked.contains(&id);
                let rect = place(top + head + index as f32 * row, space::POSITION_ROW);
                one(ui, rect, scene, id, &board.positions[index], (selected == Some(id), marked));
            }
            let of_board = top + head + row * board.positions.len() as f32;
            others(ui, scene, (Some(at), &board.other_parts), of_board, place);
            top += height(board);
        }
        others(ui, scene, (None, &scene.job.other_parts), top, place);
    });
}

/// Height of a row of another part.
const OTHER_ROW: f32 = 22.0;

/// Height of a list of other parts with its heading.
fn others_height(count: usize) -> f32 {
    if count == 0 { 0.0 } else { (count + 1) as f32 * OTHER_ROW + 4.0 }
}

/// The other parts of a board, or with `None` of the unit, under a heading that counts them.
fn others(
    ui: &mut Ui,
    scene: &LiveScene,
    (board, parts): (Option<usize>, &[OtherPart]),
    top: f32,
    place: impl Fn(f32, f32) -> Rect,
) {
    let mut line = |at: usize, add: &mut dyn FnMut(&mut Ui)| {
        let rect = place(top + at as f32 * OTHER_ROW, OTHER_ROW);
        if ui.is_rect_visible(rect) {
            let area = UiBuilder::new().max_rect(rect).layout(Layout::left_to_right(Align::Center));
            ui.scope_builder(area, add);
        }
    };
    if parts.is_empty() {
        return;
    }
    line(0, &mut |ui| {
        let of = if board.is_none() { "On no board" } else { "Other parts" };
        let named = parts.iter().filter(|part| part.part_number().is_some()).count();
        let text = if ui.available_width() < WIDE {
            format!("{of} {named}/{}", parts.len())
        } else {
            format!("{of}: {named} of {} with a part", parts.len())
        };
        ui.add(Label::new(RichText::new(text).small().weak()).truncate());
    });
    for (index, part) in parts.iter().enumerate() {
        line(index + 1, &mut |ui| {
            let id = OtherId { board, index };
            let shown = scene.selection.other == Some(id) && scene.selection.editor == Some(EditorSheet::Others);
            let (told, name) = (other_part(part), &part.reference);
            let room = ui.available_width() - 2.0 * ui.spacing().button_padding.x;
            // As much as has room: nothing is cut.
            let texts = [told.clone(), format!("{name} {}", part.kind_word()), name.clone()];
            let text = texts.into_iter().find(|text| width(ui, text) < room).unwrap_or_else(|| name.clone());
            let row = widgets::named(ui.add(Button::selectable(shown, text).truncate()), told.as_str());
            if row.on_hover_text(told).clicked() {
                scene.push(Action::SelectOther(id));
            }
        });
    }
}

fn one(ui: &Ui, rect: Rect, scene: &LiveScene, id: PositionId, position: &Position, (selected, marked): (bool, bool)) {
    let tokens = theme::tokens(ui);
    let sized = scene.sizing.position(id);
    let verdict = sized.map_or(Outcome::Unknown, |sized| sized.choice.verdict);
    let original = original(position);
    let (part, source) = chosen(scene, position, sized);
    let also = if marked { "; marked" } else { "" };
    let name = format!("{}, {original}; {part} {source}; {}{also}", position.reference, verdict.word());
    let needs = scene.needs(id);
    let told = needs.as_ref().filter(|_| !source.is_empty()).map(|needs| format!("; {needs}"));
    let name = name + &told.unwrap_or_default();
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
    let state = sized.map_or(CanState::Open, |sized| CanState::of(&sized.choice));
    let mark = Rect::from_center_size(pos2(rect.left() + 12.0, rect.top() + 13.0), vec2(space::MARK, space::MARK));
    widgets::paint_mark(&painter, mark, state, tokens);
    let strong = if selected || marked { tokens.selected_text } else { tokens.text };
    let (indent, edge) = (rect.left() + 24.0, rect.right() - 6.0);
    let line = |y: f32, from: f32, text: &str, style: TextStyle, to: f32, colour| {
        let room = Rect::from_x_y_ranges(from..=to, rect.top() + y..=rect.top() + y);
        cells::words(&painter, room, text, &style.resolve(ui.style()), colour)
    };
    let reference = line(13.0, indent, &position.reference, TextStyle::Body, edge, strong);
    if rect.width() < WIDE {
        let (words, ink) = match needs {
            // The mark says that something is needed; what it is counts.
            Some(_) => {
                (sized.map_or_else(String::new, |sized| names(&sized.needs)), tokens.outcome(Outcome::Unknown).ink)
            }
            None => (value(position), tokens.weak),
        };
        line(31.0, rect.left() + 6.0, &words, TextStyle::Small, rect.right() - 2.0, ink);
    } else {
        line(13.0, (indent + 44.0).max(reference + 8.0), &original, TextStyle::Body, edge, strong);
        let font = TextStyle::Small.resolve(ui.style());
        let source = painter.text(pos2(edge, rect.top() + 31.0), Align2::RIGHT_CENTER, source, font, tokens.weak);
        line(31.0, indent, &part, TextStyle::Small, source.left() - 6.0, tokens.weak);
    }
    // What is marked together stays so under the menu of one of them.
    if widgets::context_menu(&response, scene, ("row", id), &widgets::OF_POSITION) && !scene.selection.has(id) {
        scene.push(Action::Select(id));
    }
    let clicked = response.clicked();
    response.on_hover_text(name);
    if clicked {
        let held = ui.input(|input| input.modifiers);
        scene.push(match (held.command, held.shift) {
            (true, _) => Action::ToggleMark(id),
            (_, true) => Action::MarkTo(id),
            _ => Action::Select(id),
        });
    }
}

/// From this width on a row also names the part, points.
const WIDE: f32 = 210.0;

/// Value of the original, as short as it can be: `220 µF 400 V`.
fn value(position: &Position) -> String {
    let can = &position.original.can;
    let uf = can
        .capacitance_uf
        .map(|uf| if uf >= 1e4 { format!("{} mF", figure(uf / 1e3)) } else { format!("{} µF", figure(uf)) });
    let volt = can.rated_v.map(|volt| format!("{} V", figure(volt)));
    let known: Vec<String> = uf.into_iter().chain(volt).collect();
    if known.is_empty() { "value unknown".to_owned() } else { known.join(" ") }
}

/// The chosen part and where the choice comes from.
fn chosen(scene: &Scene, position: &Position, sized: Option<&PositionSizing>) -> (String, &'static str) {
    let Some(sized) = sized else { return ("being checked".to_owned(), "") };
    match (&sized.choice.part, &position.pick) {
        (Some(part), _) => {
            let source = if sized.choice.source == Source::Pick { "picked" } else { "proposed" };
            (scene.catalog.told(scene.job, part.id), source)
        }
        (None, Some(pick)) => (format!("{pick} is not in the catalogue"), "picked"),
        (None, None) => {
            let needs = scene.needs(sized.id).filter(|_| sized.choice.verdict == Outcome::Unknown);
            (needs.unwrap_or_else(|| sized.choice.instead_of_a_part().to_owned()), "")
        }
    }
}
