//! The board of the unit: a click on a can selects it; done, condition of the old part and what is still to do are told by fill,
//! outline, mark and word.

use egui::{Role, Sense, Shape, Stroke, Ui, WidgetInfo, vec2};

use super::state::{BenchState, FIRST, Prepared, Sheet};
use crate::app::actions::{Action, LiveScene};
use crate::app::widgets::map::{FOOT, foot, ground, hit, photo, ring, target_of, told};
use crate::app::widgets::{map::camera::Camera, shapes, theme};
use crate::domain::{PositionId, Side};
use crate::files::{board_colours::Colours, board_drawing::Drawing};

pub(super) fn show(ui: &mut Ui, scene: &LiveScene, state: &mut BenchState, prepared: &Prepared) {
    let Some(board) = scene.board() else { return };
    let (tokens, map) = (theme::tokens(ui), &prepared.map);
    let size = ui.available_size().max(vec2(80.0, 80.0));
    let (rect, canvas) = ui.allocate_exact_size(size, Sense::CLICK | Sense::DRAG);
    let name = format!("Map of {} of the unit, {} cans", prepared.board.name, map.cans.len());
    canvas.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, &name));
    let seen = rect.with_max_y(rect.bottom() - FOOT);
    let mut camera = match state.camera {
        Some(camera) => camera.within(seen),
        None => Camera::fit(seen, map.extent_mm, map.side == Side::Bottom),
    };
    if camera.follow(ui, &canvas).is_some() || state.camera.is_some() {
        state.camera = Some(camera);
    }
    ui.painter().rect_filled(rect, 0.0, tokens.base);
    let painter = ui.painter().with_clip_rect(seen.intersect(ui.clip_rect()));
    let below = painter.add(Shape::Noop);
    let selected = scene.selection.position;
    let mut chosen: Option<PositionId> = None;
    if let Some(at) = canvas.interact_pointer_pos().filter(|_| canvas.clicked()) {
        chosen = hit(map, &camera, at).map(|can| can.id);
    }
    for can in told(map, &camera) {
        let area = target_of(&camera, can);
        let response = ui.interact(area, ui.scope_id().with(can.id), Sense::CLICK);
        let (_, _, word) = Colours::Unit.of(can);
        let words = format!("{} on the board: {word}", can.reference);
        response.widget_info(|| WidgetInfo::selected(Role::Button, true, selected == Some(can.id), &words));
        if response.clicked() {
            // Of several that lie over each other the smallest is meant.
            let at = response.interact_pointer_pos().and_then(|at| hit(map, &camera, at));
            chosen = Some(at.map_or(can.id, |can| can.id));
        }
        response.on_hover_text(words);
    }
    if let Some(id) = chosen {
        scene.push(Action::Select(id));
        state.sheet = Sheet::Can;
        state.keyboard_to = Some(FIRST);
    }
    let page = camera.page(theme::growth(ui), seen);
    let first: Vec<PositionId> = selected.into_iter().collect();
    let over_photo = photo::of(scene).is_some_and(|_| photo::side(board) == map.side);
    let drawing = Drawing {
        board,
        map,
        catalog: scene.catalog,
        colours: Colours::Unit,
        underestimated: &[],
        first: &first,
        all_references: false,
        over_photo,
        width: &|text, size| shapes::width(&painter, text, size),
    };
    let mut drawn = ground(&painter, &camera, scene, map, &page, &mut state.texture);
    drawn.extend(state.drawn.painted(&painter, map, &drawing, page, Vec::new()));
    painter.set(below, Shape::Vec(drawn));
    if let Some(can) = selected.and_then(|id| map.can(id)) {
        ring(&painter, &camera, can, Stroke::new(4.0, tokens.focus));
    }
    let note = if map.side == Side::Bottom { "seen from below; bar: negative side" } else { "bar: negative side" };
    foot(ui, rect.with_min_y(seen.bottom()), &camera, Colours::Unit.legend(map), note);
}
