//! The map itself: drawing it, and what pointer and keys do on it.

use std::sync::Arc;

use egui::{
    Align2, CursorIcon, EventFilter, FontFamily, FontId, Key, Modifiers, PointerButton, Pos2, Rect, Response, Role,
    Sense, Stroke, StrokeKind, Ui, WidgetInfo, vec2,
};

use crate::app::actions::{Action, LiveScene};
use crate::app::state::scene::Scene;
use crate::app::views::board::place::{next_unlocated, put, shift, tenth};
use crate::app::views::board::state::{BoardState, Drag, Tool};
use crate::app::views::board::{fit, neighbour, others, tools};
use crate::app::widgets::map::camera::{Camera, Moved};
use crate::app::widgets::map::{FOOT, foot, ground, hit, photo, ring, target_of, told as told_cans};
use crate::app::widgets::theme;
use crate::app::widgets::wording::original;
use crate::app::widgets::{self, map_focus_id, map_takes_enter, shapes};
use crate::domain::{Board, PositionId, Side};
use crate::files::board_colours;
use crate::files::board_drawing::Drawing;
use crate::files::board_words::{gap_words, violation_words};
use crate::sizing::{BoardMap, CanOnMap, Source};

/// Height of a line that is said over the map, points.
const NOTE: f32 = 38.0;

pub(super) fn show(ui: &mut Ui, scene: &LiveScene, state: &mut BoardState, map: &Arc<BoardMap>) {
    let Some(board) = scene.board() else { return };
    let tokens = theme::tokens(ui);
    let size = ui.available_size().max(vec2(80.0, 80.0));
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let canvas = ui.interact(rect, map_focus_id(), Sense::click_and_drag());
    let side = if map.side == Side::Top { "top" } else { "bottom" };
    let name = format!("Map of {}, {side} side, {} cans", board.name, map.cans.len());
    canvas.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, &name));
    let seen = rect.with_max_y(rect.bottom() - FOOT);
    let inside = seen.with_min_x(seen.left() + tools::width(seen.height()));
    let mut camera = if let Some(camera) = state.camera {
        camera.within(inside)
    } else {
        // Over cans in a grid it is said that they stand in one: there is room for that above them.
        let note = if map.in_grid > 0 { NOTE.min(inside.height() / 8.0) } else { 0.0 };
        let below = inside.with_min_y(inside.top() + note);
        let extent_mm = with_photo(scene, board, map);
        let mut camera = Camera { rect: inside, ..Camera::fit(below, extent_mm, map.side == Side::Bottom) };
        camera.pan(vec2(0.0, note / 2.0));
        camera
    };
    map_takes_enter(ui.ctx(), state.tool == Tool::Trace);
    let moved = camera.follow(ui, &canvas);
    // While cans are put and traced the map they add to stays as it is seen.
    let still = matches!(state.tool, Tool::Place | Tool::MovePhoto) || is_traced(scene, state);
    if moved.is_some() || still || state.camera.is_some() {
        state.camera = Some(camera);
    }
    if moved == Some(Moved::Panned) {
        state.drag = Some(Drag::Map);
    }
    keys(ui, &canvas, scene, state, map, &camera);

    ui.painter().rect_filled(rect, 0.0, tokens.base);
    let painter = ui.painter().with_clip_rect(seen.intersect(ui.clip_rect()));
    // The map is filled in when it is known what lies over it: words keep clear of that.
    let below = painter.add(egui::Shape::Noop);
    let hovered = canvas.hover_pos().and_then(|at| hit(map, &camera, at)).map(|can| can.id);
    for can in told_cans(map, &camera) {
        target(ui, scene, state, &camera, map, can);
    }
    let page = camera.page(theme::growth(ui), seen);
    others::targets(ui, scene, (board, map.side), (&camera, &page), state.tool == Tool::Select);
    pointer(ui, &canvas, scene, state, map, &camera);
    let mut taken = vec![tools::show(ui, seen, scene, state, board, map)];
    taken.extend(tools::notes(ui, &camera, scene, state, board, map));
    let from = if map.side == Side::Bottom { "seen from below; " } else { "" };
    let note = format!("{from}filled: new part; dashed: original; bar: negative side");
    foot(ui, rect.with_min_y(seen.bottom()), &camera, state.colours.legend(map), &note);

    let first: Vec<PositionId> = scene.selection.position.into_iter().collect();
    let picture = photo::of(scene).filter(|_| photo::side(board) == map.side);
    let drawing = Drawing {
        board,
        map,
        catalog: scene.catalog,
        colours: state.colours,
        underestimated: state.suffered.ids(),
        first: &first,
        all_references: false,
        over_photo: picture.is_some(),
        width: &|text, size| shapes::width(&painter, text, size),
    };
    let mut shapes = ground(&painter, &camera, scene, map, &page, &mut state.texture);
    let edges = |rect: &Rect| [rect.left(), rect.top(), rect.right(), rect.bottom()].map(f64::from);
    let mut over = Vec::new();
    let mut taken: Vec<[f64; 4]> = taken.iter().map(edges).collect();
    taken.extend(fit::on_map(&mut over, scene, map, &page, drawing.width));
    shapes.extend(state.drawn.painted(&painter, map, &drawing, page, taken));
    shapes.extend(shapes::painted(&painter, &over, tokens));
    painter.set(below, egui::Shape::Vec(shapes));
    rings(&painter, &camera, scene, map, hovered, tokens);
    overlay(&painter, &camera, state, &canvas, tokens);
    let cursor = match (state.drag, state.tool) {
        (Some(Drag::Map), _) => CursorIcon::Grabbing,
        (_, Tool::Select) if hovered.is_some() => CursorIcon::PointingHand,
        (_, Tool::Select) => CursorIcon::Default,
        (_, Tool::MovePhoto) => CursorIcon::Move,
        _ => CursorIcon::Crosshair,
    };
    canvas.on_hover_cursor(cursor);
}

/// The map, and the whole of a photo whose scale nobody set yet: left, bottom, right, top, mm.
fn with_photo(scene: &Scene, board: &Board, map: &BoardMap) -> [f64; 4] {
    let unscaled = |_: &_| board.photo_corners_mm.is_none() && photo::side(board) == map.side;
    let corners_mm = photo::of(scene).filter(unscaled).map(|picture| photo::corners_mm(board, picture));
    corners_mm.into_iter().flatten().fold(map.extent_mm, |[left, bottom, right, top], [x, y]| {
        [left.min(x), bottom.min(y), right.max(x), top.max(y)]
    })
}

/// What the keys do while the map has them.
fn keys(ui: &Ui, canvas: &Response, scene: &LiveScene, state: &mut BoardState, map: &BoardMap, camera: &Camera) {
    const ARROWS: [(Key, [f64; 2]); 4] = [
        (Key::ArrowLeft, [-1.0, 0.0]),
        (Key::ArrowRight, [1.0, 0.0]),
        (Key::ArrowUp, [0.0, 1.0]),
        (Key::ArrowDown, [0.0, -1.0]),
    ];
    let ends = state.tool != Tool::Select && ui.input(|input| input.key_pressed(Key::Escape));
    // Escape in a field or a menu is theirs: they have lost the keyboard by now.
    let typing = ui.ctx().text_edit_focused() || egui::Popup::is_any_open(ui.ctx());
    let typing = std::mem::replace(&mut state.typing, typing);
    if !canvas.has_focus() {
        if ends && !typing {
            state.take(Tool::Select);
        }
        return;
    }
    let filter = EventFilter {
        horizontal_arrows: true,
        vertical_arrows: true,
        escape: state.tool != Tool::Select,
        ..EventFilter::default()
    };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(canvas.id, filter));
    let pressed = |modifiers, key| ui.input_mut(|input| input.consume_key(modifiers, key));
    if state.tool == Tool::Trace {
        use Key::{ArrowDown, ArrowLeft, ArrowRight, ArrowUp, Enter, Equals, Escape, Minus, N, Plus, Space};
        for key in [ArrowLeft, ArrowRight, ArrowUp, ArrowDown, Enter, Space, N, Plus, Equals, Minus, Escape] {
            let is_pressed = |modifiers| ui.input(|input| input.key_pressed(key) && input.modifiers == modifiers);
            let fine = is_pressed(Modifiers::SHIFT);
            if (fine || is_pressed(Modifiers::NONE)) && state.trace.key(scene, camera, key, fine) {
                pressed(if fine { Modifiers::SHIFT } else { Modifiers::NONE }, key);
            }
        }
    }
    for (key, [x, y]) in ARROWS {
        // Left on the screen is right on the board when it is seen from below.
        let direction = [if camera.mirrored { -x } else { x }, y];
        let fine = pressed(Modifiers::SHIFT, key);
        if !fine && !pressed(Modifiers::NONE, key) {
            continue;
        }
        let Some((id, position)) = scene.position() else { continue };
        if state.tool == Tool::Place {
            let step_mm = if fine { 0.1 } else { 1.0 };
            if let Some((x_mm, y_mm)) = position.centre_mm() {
                let at = [x_mm + direction[0] * step_mm, y_mm + direction[1] * step_mm];
                shift(scene, map, id, at);
            }
        } else if let Some(to) = neighbour::towards(map, id, direction) {
            scene.push(Action::Select(to));
        }
    }
    let mut camera = *camera;
    for (key, factor) in [(Key::Plus, 1.25), (Key::Equals, 1.25), (Key::Minus, 0.8)] {
        if pressed(Modifiers::NONE, key) {
            camera.zoom(camera.rect.center(), factor);
            state.camera = Some(camera);
        }
    }
    if pressed(Modifiers::NONE, Key::F) {
        state.camera = None;
    }
    if state.tool != Tool::Select && pressed(Modifiers::NONE, Key::Escape) {
        state.take(Tool::Select);
    }
}

/// Makes a can something to click, to hover and to hear of.
fn target(ui: &Ui, scene: &LiveScene, state: &BoardState, camera: &Camera, map: &BoardMap, can: &CanOnMap) {
    let rect = target_of(camera, can);
    let selecting = state.tool == Tool::Select;
    let response = ui.interact(rect, ui.scope_id().with(can.id), if selecting { Sense::CLICK } else { Sense::hover() });
    let selected = scene.selection.position == Some(can.id);
    // In words only for who hears or points: of hundreds of cans in every frame that would be most of its time.
    let told = || {
        let suffered = state.suffered.ids().contains(&can.id);
        let more = if suffered { "; stress underestimated: the old part wore more than predicted" } else { "" };
        told(scene, map, can) + more
    };
    response.widget_info(|| {
        let name = format!("{} on the board: {}, {}; {}", can.reference, can.verdict.word(), can.state_words(), told());
        WidgetInfo::selected(Role::Button, true, selected, name)
    });
    if response.clicked() {
        ui.memory_mut(|memory| memory.request_focus(map_focus_id()));
        if ui.input(|input| input.modifiers.command || input.modifiers.shift) {
            let mut marked = marked(scene);
            match marked.iter().position(|&id| id == can.id) {
                Some(at) => drop(marked.remove(at)),
                None => marked.push(can.id),
            }
            scene.push(Action::Mark(marked));
        } else {
            scene.push(Action::Select(can.id));
        }
    }
    if state.tool == Tool::Trace {
        return;
    }
    if widgets::context_menu(&response, scene, ("can", can.id), &widgets::OF_POSITION) && !scene.selection.has(can.id) {
        scene.push(Action::Select(can.id));
    }
    response.on_hover_ui(|ui| {
        ui.strong(format!("{}: {}", can.reference, can.state_words()));
        for line in told().split("; ") {
            ui.label(line);
        }
    });
}

/// What is marked; the selected position where nothing is.
fn marked(scene: &Scene) -> Vec<PositionId> {
    let here = |id: &PositionId| id.board == scene.selection.board;
    let several = scene.selection.marked.iter().copied().filter(here).collect::<Vec<_>>();
    if several.is_empty() { scene.selection.position.into_iter().filter(here).collect() } else { several }
}

/// What hovering a can tells: the old part, the new one, the nearest neighbour, what is left of the old part.
fn told(scene: &Scene, map: &BoardMap, can: &CanOnMap) -> String {
    let Some(position) = scene.job.position(can.id) else { return String::new() };
    let chosen = scene.sizing.position(can.id).and_then(|sized| sized.choice.part);
    let new = match (chosen, can.source) {
        (Some(part), Source::Pick) => format!("new {} picked", scene.catalog.part_number(part.id)),
        (Some(part), _) => format!("new {} proposed", scene.catalog.part_number(part.id)),
        (None, _) => "no new part".to_owned(),
    };
    let place = match (can.located, can.nearest) {
        (false, _) => "not located yet".to_owned(),
        (true, Some((other, gap_mm))) => format!("{} to {}", gap_words(gap_mm), scene.reference(other)),
        (true, None) => "no neighbour of known size".to_owned(),
    };
    let wanted = if map.is_short(can) { format!(", {} mm wanted", scene.job.policy.can_gap_mm) } else { String::new() };
    let (_, condition) = board_colours::condition_outcome(can.condition);
    let polarity = if can.polarised && can.rotation_deg.is_none() { "; direction of the leads not given" } else { "" };
    let over = map.violations(can.id).map(violation_words).fold(String::new(), |all, words| format!("{all}; {words}"));
    let traced = position.traced_from.as_ref().map_or_else(String::new, |from| format!("; traced on {from}"));
    format!("old {}, condition {condition}; {new}; {place}{wanted}{over}{polarity}{traced}", original(position))
}

/// Rings what is selected, marked or hovered.
fn rings(
    painter: &egui::Painter,
    camera: &Camera,
    scene: &Scene,
    map: &BoardMap,
    hovered: Option<PositionId>,
    tokens: &theme::Tokens,
) {
    let selected = scene.selection.position;
    let marked = scene.selection.marked.iter().filter(|id| Some(**id) != selected).map(|&id| (id, 1.5, tokens.focus));
    let hovered = hovered.filter(|id| Some(*id) != selected).map(|id| (id, 1.0, tokens.weak));
    for (id, width, colour) in marked.chain(hovered).chain(selected.map(|id| (id, 3.0, tokens.focus))) {
        if let Some(can) = map.can(id) {
            ring(painter, camera, can, Stroke::new(width, colour));
        }
    }
}

/// Clicks and drags with the first button.
fn pointer(ui: &Ui, canvas: &Response, scene: &LiveScene, state: &mut BoardState, map: &BoardMap, camera: &Camera) {
    let at = canvas.interact_pointer_pos();
    if canvas.drag_started_by(PointerButton::Primary)
        && let Some(origin) = ui.input(|input| input.pointer.press_origin())
    {
        ui.memory_mut(|memory| memory.request_focus(map_focus_id()));
        state.drag = Some(begin(scene, state, map, camera, origin));
        scene.push(Action::EndEntry);
    }
    if canvas.dragged_by(PointerButton::Primary)
        && let Some(at) = at
    {
        drag(scene, state, map, camera.mm(at));
    }
    if canvas.drag_stopped() {
        if let (Some(Drag::Band(from)), Some(at)) = (state.drag, at) {
            let more = ui.input(|input| input.modifiers.command || input.modifiers.shift);
            scene.push(Action::Mark(banded(scene, map, from, camera.mm(at), more)));
        }
        if let Some(Drag::Circle(grip)) = state.drag {
            state.trace.release(scene, grip);
        }
        state.drag = None;
        scene.push(Action::EndEntry);
    }
    if canvas.clicked_by(PointerButton::Primary)
        && let Some(at) = at
    {
        ui.memory_mut(|memory| memory.request_focus(map_focus_id()));
        click(scene, state, map, camera, camera.mm(at));
    }
}

/// Whether cans are being traced: on a photo whose scale is known.
fn is_traced(scene: &Scene, state: &BoardState) -> bool {
    let calibrated = || scene.board().is_some_and(|board| board.photo_corners_mm.is_some());
    state.tool == Tool::Trace && photo::of(scene).is_some() && calibrated()
}

fn begin(scene: &Scene, state: &BoardState, map: &BoardMap, camera: &Camera, origin: Pos2) -> Drag {
    let from = camera.mm(origin);
    match state.tool {
        Tool::Trace if is_traced(scene, state) => Drag::Circle(state.trace.grip(camera, from)),
        Tool::Place => hit(map, camera, origin)
            .map_or(Drag::Map, |can| Drag::Can(can.id, [from[0] - can.centre_mm[0], from[1] - can.centre_mm[1]])),
        Tool::MovePhoto => Drag::Photo(from),
        Tool::Select => Drag::Band(from),
        Tool::Calibrate | Tool::Straighten | Tool::Trace => Drag::Map,
    }
}

fn drag(scene: &LiveScene, state: &mut BoardState, map: &BoardMap, now: [f64; 2]) {
    match state.drag {
        Some(Drag::Circle(grip)) => state.trace.drag(grip, now),
        Some(Drag::Can(id, hold)) => shift(scene, map, id, [now[0] - hold[0], now[1] - hold[1]]),
        Some(Drag::Photo(from)) => {
            if let (Some(board), Some(picture)) = (scene.board(), photo::of(scene)) {
                let corners = photo::moved(photo::corners_mm(board, picture), [now[0] - from[0], now[1] - from[1]]);
                tools::edit_board(scene, "photo place", |board| board.photo_corners_mm = Some(corners));
                state.drag = Some(Drag::Photo(now));
            }
        }
        _ => {}
    }
}

fn click(scene: &LiveScene, state: &mut BoardState, map: &BoardMap, camera: &Camera, at: [f64; 2]) {
    match state.tool {
        Tool::MovePhoto => {}
        Tool::Trace => state.trace.click(scene, at),
        // Of a great many cans not each is a target of its own.
        Tool::Select => scene.extend(hit(map, camera, camera.at(at)).map(|can| Action::Select(can.id))),
        Tool::Place if others::put(scene, map.side, at) => {}
        Tool::Place => {
            let Some((id, position)) = scene.position().filter(|(id, _)| id.board == scene.selection.board) else {
                scene.push(Action::Say("Select the position to be placed first.".into()));
                return;
            };
            scene.push(Action::EndEntry);
            put(scene, &[(id, at)], map.side);
            scene.push(Action::EndEntry);
            if position.centre_mm().is_none()
                && let Some(next) = next_unlocated(scene, id)
            {
                scene.push(Action::Select(next));
            }
        }
        Tool::Calibrate => {
            if state.clicks.len() >= 2 {
                state.clicks.clear();
            }
            state.clicks.push(at);
            if let [a, b] = state.clicks[..] {
                state.distance_mm = tenth((b[0] - a[0]).hypot(b[1] - a[1]));
                state.distance_is_asked = true;
            }
        }
        Tool::Straighten => {
            state.clicks.push(at);
            if let [a, b, c, d] = state.clicks[..] {
                let done = straighten(scene, [a, b, c, d]);
                state.take(if done { Tool::Select } else { Tool::Straighten });
                state.camera = state.camera.filter(|_| !done);
            }
        }
    }
}

/// Whether the four points could be used.
fn straighten(scene: &LiveScene, found: [[f64; 2]; 4]) -> bool {
    let (Some(board), Some(picture)) = (scene.board(), photo::of(scene)) else { return true };
    let Some(outline) = board.outline_mm else { return true };
    let corners = photo::corners_mm(board, picture);
    let Some(corners) = photo::straightened(corners, found, outline, photo::side(board)) else {
        let words = "These four points cannot be the corners of the board, or the photo would lie on its face: click them \
                     again, from the lower left on anticlockwise.";
        scene.push(Action::Say(words.into()));
        return false;
    };
    tools::edit_board_once(scene, "straightened photo", |board| board.photo_corners_mm = Some(corners));
    true
}

/// The cans whose centres lie in a rectangle, in the order of the list; with those marked before when `more` are wanted.
fn banded(scene: &Scene, map: &BoardMap, a: [f64; 2], b: [f64; 2], more: bool) -> Vec<PositionId> {
    let between = |v: f64, a: f64, b: f64| v >= a.min(b) && v <= a.max(b);
    let inside = map.cans.iter().filter(|can| {
        let [x, y] = can.centre_mm;
        between(x, a[0], b[0]) && between(y, a[1], b[1])
    });
    let mut ids: Vec<PositionId> = inside.map(|can| can.id).collect();
    if more {
        ids.extend(marked(scene));
        ids.sort_unstable();
        ids.dedup();
    }
    ids
}

/// What is being done: the rectangle, the points clicked.
fn overlay(painter: &egui::Painter, camera: &Camera, state: &BoardState, canvas: &Response, tokens: &theme::Tokens) {
    let stroke = Stroke::new(1.5, tokens.focus);
    if let (Some(Drag::Band(from)), Some(at)) = (state.drag, canvas.interact_pointer_pos()) {
        let band = Rect::from_two_pos(camera.at(from), at);
        painter.rect(band, 0.0, tokens.focus.gamma_multiply(0.12), stroke, StrokeKind::Middle);
    }
    state.trace.draw(painter, camera, tokens);
    let points: Vec<Pos2> = state.clicks.iter().map(|&click| camera.at(click)).collect();
    for pair in points.windows(2) {
        painter.line_segment([pair[0], pair[1]], stroke);
    }
    for (n, &point) in points.iter().enumerate() {
        painter.circle_stroke(point, 6.0, stroke);
        painter.line_segment([point - vec2(9.0, 0.0), point + vec2(9.0, 0.0)], stroke);
        painter.line_segment([point - vec2(0.0, 9.0), point + vec2(0.0, 9.0)], stroke);
        let font = FontId::new(12.0, FontFamily::Proportional);
        painter.text(point + vec2(8.0, -8.0), Align2::LEFT_BOTTOM, (n + 1).to_string(), font, tokens.focus);
    }
}
