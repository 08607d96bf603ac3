//! Other parts and test points on the map: clicking, hovering and placing them.

use egui::{Rect, Role, Sense, Ui, WidgetInfo, vec2};

use crate::app::actions::{Action, LiveScene};
use crate::app::state::scene::Scene;
use crate::app::state::selection::EditorSheet;
use crate::app::views::board::place::tenth;
use crate::app::views::board::tools;
use crate::app::widgets::map::camera::Camera;
use crate::app::widgets::wording::other_part;
use crate::app::widgets::{map_focus_id, theme};
use crate::domain::{Board, OtherId, Side};
use crate::files::board_others::{Spot, spots};
use crate::files::board_page::Page;

/// Makes each something to click, to hover and to hear of; `selecting` while clicks select.
pub(super) fn targets(
    ui: &Ui,
    scene: &LiveScene,
    (board, side): (&Board, Side),
    (camera, page): (&Camera, &Page),
    selecting: bool,
) {
    for spot in spots(board, side) {
        #[expect(clippy::cast_possible_truncation, reason = "points of the screen")]
        let half = spot.half(page) as f32 * 1.2;
        let rect = Rect::from_center_size(camera.at(spot.centre_mm), vec2(half, half) * 2.0).intersect(camera.rect);
        if !rect.is_positive() {
            continue;
        }
        let id = ui.scope_id().with(("other on map", spot.part.is_some(), spot.index));
        let response = ui.interact(rect, id, if selecting { Sense::CLICK } else { Sense::hover() });
        let (told, here) = (told(board, &spot), OtherId { board: Some(scene.selection.board), index: spot.index });
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("{told} on the board")));
        if response.clicked() {
            ui.memory_mut(|memory| memory.request_focus(map_focus_id()));
            scene.push(if spot.part.is_some() { Action::SelectOther(here) } else { Action::SelectTestPoint(here) });
        }
        let shown = if spot.part.is_some() { scene.selection.other } else { scene.selection.test_point };
        if shown == Some(here) && scene.selection.editor == Some(EditorSheet::Others) {
            let ring = egui::Stroke::new(3.0, theme::tokens(ui).focus);
            ui.painter().rect_stroke(rect, 3.0, ring, egui::StrokeKind::Inside);
        }
        response.on_hover_text(told);
    }
}

fn told(board: &Board, spot: &Spot) -> String {
    if spot.part.is_some() {
        return board.other_parts.get(spot.index).map_or_else(String::new, other_part);
    }
    let Some(point) = board.test_points.get(spot.index) else { return String::new() };
    let measure = point.measure.as_deref().unwrap_or("what to measure is not entered");
    format!("{}, test point: {measure}, expected {}", spot.reference, point.expected())
}

/// The other part or the test point in the editor, as its index on this board; `None` where the editor shows none of it.
fn in_hand(scene: &Scene) -> Option<(Option<usize>, Option<usize>)> {
    let selection = scene.selection;
    let here = |id: Option<OtherId>| id.filter(|id| id.board == Some(selection.board)).map(|id| id.index);
    let both = (here(selection.other), here(selection.test_point));
    (selection.editor == Some(EditorSheet::Others) && both != (None, None)).then_some(both)
}

/// What it is called.
pub(super) fn called<'a>(scene: &Scene, board: &'a Board) -> Option<&'a str> {
    let (part, point) = in_hand(scene)?;
    let part = part.and_then(|at| Some(board.other_parts.get(at)?.reference.as_str()));
    part.or_else(|| Some(board.test_points.get(point?)?.reference.as_str()))
}

/// Puts it at a place; `false` where there is none.
pub(super) fn put(scene: &LiveScene, side: Side, [x, y]: [f64; 2]) -> bool {
    let Some((part, point)) = in_hand(scene) else { return false };
    let set = |board: &mut Board| {
        let place = (Some(tenth(x)), Some(tenth(y)), Some(side));
        if let Some(part) = part.and_then(|at| board.other_parts.get_mut(at)) {
            (part.x_mm, part.y_mm, part.side) = place;
        } else if let Some(point) = point.and_then(|at| board.test_points.get_mut(at)) {
            (point.x_mm, point.y_mm, point.side) = place;
        }
    };
    tools::edit_board_once(scene, "place of another part", set);
    true
}
