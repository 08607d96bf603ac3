//! What lies over the map: the tools at its edge, what to do with the one in hand, what was found, and the foot with scale and
//! marks. Nothing of it moves the map.

use egui::{self, Align, DragValue, Frame, Layout, Rect, Response, Ui, UiBuilder, vec2};

use crate::app::actions::command::Command;
use crate::app::actions::{Action, LiveScene};
use crate::app::state::edit::Edit;
use crate::app::state::scene::Scene;
use crate::app::state::selection::EditorSheet;
use crate::app::views::board::place::tenth;
use crate::app::views::board::state::{BoardState, CARDS_FROM, Tool};
use crate::app::views::board::{others, trace};
use crate::app::widgets::explain;
use crate::app::widgets::icon::{self, icon_button};
use crate::app::widgets::map::camera::Camera;
use crate::app::widgets::map::photo;
use crate::app::widgets::theme::{self, space};
use crate::app::widgets::wording;
use crate::app::widgets::{self, map_focus_id};
use crate::domain::{Board, Outcome, Side};
use crate::files::board_colours::Colours;
use crate::files::board_words::{keepout_violations, short_gaps};
use crate::sizing::BoardMap;

/// Between two tools, and between them and the edge, points.
const GAP: f32 = 4.0;
/// How many tools there are.
const TOOLS: f32 = 10.0;

/// A side of a tool, as large as all of them have room for below each other in so much height, and in how many columns: where one
/// would make them too small to hit, in two.
fn side(height: f32) -> (f32, f32) {
    let side = |rows: f32| ((height - GAP) / rows - GAP).min(space::TOOL);
    if side(TOOLS) >= space::TOOL_LEAST { (side(TOOLS), 1.0) } else { (side(TOOLS / 2.0).max(space::TOOL_LEAST), 2.0) }
}

/// Width the tools take at the left edge, points.
pub(super) fn width(height: f32) -> f32 {
    let (side, columns) = side(height);
    columns * (side + GAP) + GAP
}

/// Draws the tools at the left edge of what is seen of the map; returns where.
pub(super) fn show(
    ui: &mut Ui,
    seen: Rect,
    scene: &LiveScene,
    state: &mut BoardState,
    board: &Board,
    map: &BoardMap,
) -> Rect {
    let area = Rect::from_min_size(seen.min, vec2(width(seen.height()), seen.height())).shrink(GAP);
    let rows = Layout::left_to_right(Align::Min).with_main_wrap(true);
    // A rounded sum must not wrap earlier.
    ui.scope_builder(UiBuilder::new().max_rect(area.with_max_x(area.right() + 1.0)).layout(rows), |ui| {
        ui.spacing_mut().item_spacing = vec2(GAP, GAP);
        ui.spacing_mut().interact_size.y = side(seen.height()).0;
        let choice = |ui: &mut Ui, state: &mut BoardState, tool, icon, name, hover| {
            if icon_button(ui, icon, name, hover, state.tool == tool).clicked() {
                state.take(tool);
            }
        };
        let select = "Click a can to select it; drag a rectangle around several. The wheel zooms, dragging with the right \
                      button moves the map.";
        choice(ui, state, Tool::Select, icon::SELECT, "Select", select);
        let place = "Click where the selected position sits; drag any can to move it (arrow keys: 1 mm, with Shift 0.1 mm).";
        choice(ui, state, Tool::Place, icon::PLACE, "Place parts", place);
        let hover = "Puts a photo under the map and sets it right.";
        widgets::menu(&icon_button(ui, icon::PHOTO, "Photo", hover, false), |ui| photo_menu(ui, scene, board, state));
        let traced = "On the photo: press in the middle of a can and drag to its rim; place and diameter become those of a position.";
        choice(ui, state, Tool::Trace, icon::TRACE, "Trace cans", traced);
        let hover = "Width and depth of the board, height of the lid, in its editor.";
        let edited = scene.selection.editor == Some(EditorSheet::Board);
        if icon_button(ui, icon::SIZE, "Board size", hover, edited).clicked() {
            scene.push(Action::Run(Command::EditBoard));
        }
        if icon_button(ui, icon::FIT, "Zoom to fit", "Shows the whole board (F).", false).clicked() {
            state.camera = None;
        }
        sides(ui, scene, state, map);
        let hover = "What is left of the old parts, by what was measured on them, instead of how the new ones do.";
        let old = state.colours == Colours::OldPart;
        if explain::on(icon_button(ui, icon::OLD_PART, "Old parts", hover, old), "colours").clicked() {
            state.colours = if old { Colours::NewPart } else { Colours::OldPart };
        }
        let cards = state.cards.unwrap_or(ui.ctx().content_rect().width() > CARDS_FROM * 1.2);
        if icon_button(ui, icon::CARDS, "Cards", "The best parts as pictures beside the map.", cards).clicked() {
            state.cards = Some(!cards);
        }
        if icon_button(ui, icon::EXPORT, "Export…", Command::ExportMap.info().hover, false).clicked() {
            scene.push(Action::Run(Command::ExportMap));
        }
    });
    area
}

/// The other side of the board, with how many cans it has.
fn sides(ui: &mut Ui, scene: &Scene, state: &mut BoardState, map: &BoardMap) {
    let there = scene.board().map_or(0, |board| board.positions.len()).saturating_sub(map.cans.len());
    let (other, name, hover) = match state.side {
        Side::Top => (Side::Bottom, "Bottom", "Shows the other side, seen from below."),
        Side::Bottom => (Side::Top, "Top", "Shows the side of the parts."),
    };
    if icon_button(ui, icon::SIDES, &format!("{name} ({there})"), hover, other == Side::Top).clicked() {
        state.show_side(other);
    }
}

/// Draws what is to be said into the upper part of the map, or the lower one where it would lie over what is traced; returns where.
pub(super) fn notes(
    ui: &mut Ui,
    camera: &Camera,
    scene: &LiveScene,
    state: &mut BoardState,
    board: &Board,
    map: &BoardMap,
) -> Option<Rect> {
    let tokens = theme::tokens(ui);
    let mut area = camera.rect.shrink(6.0);
    if state.tool == Tool::Trace && state.trace.is_high(camera) {
        area.min.y = area.min.y.max(area.max.y - state.trace.panel_height - 12.0);
    }
    let below = ui.painter().add(egui::Shape::Noop);
    let shown = ui.scope_builder(UiBuilder::new().max_rect(area.shrink2(vec2(8.0, 4.0))), |ui| {
        underestimated(ui, scene, state);
        findings(ui, scene, map);
        hints(ui, scene, board, state, map);
        ui.min_rect()
    });
    let rect = shown.inner;
    state.trace.panel_height = rect.height();
    (rect.height() > 4.0).then(|| {
        let ground = rect.expand2(vec2(8.0, 4.0));
        let frame = Frame::new().fill(tokens.panel.gamma_multiply(0.94)).stroke((1.0, tokens.line)).corner_radius(4);
        ui.painter().set(below, frame.paint(ground));
        ground
    })
}

/// Where the old parts say that the stress entered is too low.
fn underestimated(ui: &mut Ui, scene: &LiveScene, state: &BoardState) {
    if state.colours != Colours::OldPart {
        return;
    }
    let ids = state.suffered.ids();
    if ids.is_empty() {
        let words = "No old part wore more than the laws predicted for its age, as far as it was measured.";
        ui.label(words).on_hover_text(
            "By measured capacitance and ESR, age, hours and load profile; see the old part's panel in the Life view.",
        );
        return;
    }
    ui.horizontal_wrapped(|ui| {
        widgets::mark(ui, Outcome::Fail, "stress underestimated");
        ui.label("Stress underestimated at").on_hover_text(
            "These old parts wore more than every law predicted for their age, or more than twice as much as the others of \
             the board: ambient or ripple are higher than entered. Measure them before trusting the new part.",
        );
        for &id in ids {
            if widgets::link(ui, scene.reference(id)).on_hover_text("Selects this position.").clicked() {
                scene.push(Action::Select(id));
            }
        }
        ui.label("(marked on the map): measure ambient and ripple there before trusting the new part.");
    });
}

/// Changes the selected board.
pub(super) fn edit_board(scene: &LiveScene, field: &str, change: impl FnOnce(&mut Board)) {
    let Some(board) = scene.board() else { return };
    scene.push(Action::Edit(Edit::board(scene.selection.board, board, field, change)));
}

/// The same as an undo step of its own.
pub(super) fn edit_board_once(scene: &LiveScene, field: &str, change: impl FnOnce(&mut Board)) {
    let Some(board) = scene.board() else { return };
    scene.extend(Action::once(Edit::board(scene.selection.board, board, field, change)));
}

fn photo_menu(ui: &mut Ui, scene: &LiveScene, board: &Board, state: &mut BoardState) {
    ui.set_min_width(230.0);
    let named = board.photo.is_some();
    let label = if named { "Another photo…" } else { "Choose a photo…" };
    if ui.button(label).on_hover_text(Command::UsePhoto.info().hover).clicked() {
        scene.push(Action::Run(Command::UsePhoto));
        ui.close();
    }
    let shown = photo::of(scene).is_some();
    let why = match scene.photo {
        Some(Err(message)) => message.as_str(),
        _ if named => "The photo is not read yet; a job must be saved before its photo is found.",
        _ => "There is no photo yet.",
    };
    let mut tool = |ui: &mut Ui, tool: Tool, name: &str, hover: &str, refused: Option<&str>| {
        let refused = if shown { refused } else { Some(why) };
        let button = ui.add_enabled(refused.is_none(), egui::Button::new(name)).on_hover_text(hover);
        if button.clicked() {
            state.take(tool);
            state.show_side(photo::side(board));
            ui.close();
        }
        button.on_disabled_hover_text(refused.unwrap_or_default());
    };
    tool(ui, Tool::Calibrate, "Calibrate scale", "Click two points whose distance you know, then enter it.", None);
    tool(ui, Tool::MovePhoto, "Move photo", "Drag the photo to where it belongs.", None);
    let outline = board.outline_mm.is_none().then_some("Enter the width and depth of the board first (Board size).");
    let hover = "For a picture taken at an angle: click the four corners of the board in it.";
    tool(ui, Tool::Straighten, "Correct perspective", hover, outline);
    if !named {
        return;
    }
    ui.horizontal(|ui| {
        let label = ui.label("Opacity");
        let mut percent = board.photo_opacity_pct.unwrap_or(photo::OPACITY_PCT);
        let slider = egui::Slider::new(&mut percent, 0.0..=100.0).suffix(" %").fixed_decimals(0);
        let slider = ui.add(slider).labelled_by(label.id);
        entry(scene, &slider, "photo strength", |board| board.photo_opacity_pct = Some(percent));
    });
    let away = |ui: &mut Ui, name: &str, hover: &str, field: &str, change: fn(&mut Board)| {
        if ui.button(name).on_hover_text(hover).clicked() {
            edit_board_once(scene, field, change);
            ui.close();
        }
    };
    away(ui, "Reset alignment", "Forgets its scale, place and straightening.", "photo place", |board| {
        board.photo_corners_mm = None;
    });
    away(ui, "Remove photo", "The file stays where it is.", "photo", |board| {
        (board.photo, board.photo_corners_mm, board.photo_side, board.photo_opacity_pct) = (None, None, None, None);
    });
}

/// A length in millimetres under its name; 0 stands for one that is not known.
pub(super) fn length(ui: &mut Ui, name: &str, value: &mut f64, most: f64) -> Response {
    let label = ui.label(name);
    let unknown = *value <= 0.0;
    let suffix = if unknown { "" } else { " mm" };
    let drag = DragValue::new(value).range(0.0..=most).speed(0.2).max_decimals(2).suffix(suffix);
    let drag = drag.custom_formatter(move |v, _| if unknown && v <= 0.0 { "unknown".into() } else { v.to_string() });
    ui.add(drag).labelled_by(label.id)
}

/// Passes a changed figure on, and says when the entry is finished.
pub(super) fn entry(scene: &LiveScene, response: &Response, field: &str, change: impl FnOnce(&mut Board)) {
    if response.changed() {
        edit_board(scene, field, change);
    }
    if response.drag_stopped() || response.lost_focus() {
        scene.push(Action::EndEntry);
    }
}

/// One finding: the first places, how many more there are, and on hover so many as anybody reads.
fn finding<I: Iterator<Item = String>>(
    ui: &mut Ui,
    (outcome, explained): (Outcome, &str),
    head: &str,
    count: usize,
    words: impl Fn() -> I,
    tail: &str,
) {
    const SHOWN: usize = 3;
    const ON_HOVER: usize = 40;
    if count == 0 {
        return;
    }
    let more = if count > SHOWN { format!(" and {} more", count - SHOWN) } else { String::new() };
    let first: Vec<String> = words().take(SHOWN).collect();
    ui.horizontal_wrapped(|ui| {
        widgets::mark(ui, outcome, outcome.word());
        let line = ui.add(egui::Label::new(format!("{head}{}{more}{tail}", first.join("; "))).wrap());
        let line = line.on_hover_ui(|ui| _ = ui.label(words().take(ON_HOVER).collect::<Vec<_>>().join("\n")));
        explain::on(line, explained);
    });
}

/// Neighbours that are too close, bodies where none may stand, and how many positions are marked.
fn findings(ui: &mut Ui, scene: &Scene, map: &BoardMap) {
    let wanted_mm = scene.job.policy.can_gap_mm;
    let worst = if map.short_gaps.iter().any(|gap| gap.gap_mm < 0.0) { Outcome::Fail } else { Outcome::Marginal };
    let tail = format!(" ({wanted_mm} mm wanted)");
    finding(ui, (worst, "gap"), "too close: ", map.short_gaps.len(), || short_gaps(map, scene.job), &tail);
    let over = map.keepout_violations.len();
    let words = || keepout_violations(map, scene.job);
    finding(ui, (Outcome::Fail, "keep-out"), "must stay free: ", over, words, "");
    let marked = &scene.selection.marked;
    let selected = scene.selection.position.filter(|id| !marked.contains(id));
    let several = marked.len() + usize::from(selected.is_some());
    if several > 1 {
        ui.label(format!("{several} positions selected"));
    }
}

/// What to do with the tool in hand, and what the map cannot show.
fn hints(ui: &mut Ui, scene: &LiveScene, board: &Board, state: &mut BoardState, map: &BoardMap) {
    let tokens = theme::tokens(ui);
    let selected = scene.position().map(|(_, position)| position.reference.as_str());
    match state.tool {
        Tool::Place => {
            let what = others::called(scene, board).or(selected).unwrap_or("the selected position");
            ui.label(format!("Click where {what} sits, or drag any can. Esc ends."));
        }
        Tool::Calibrate => calibrate(ui, scene, board, state),
        Tool::Trace => trace::panel(ui, scene, board, state),
        Tool::MovePhoto => drop(ui.label("Drag the photo to where it belongs. Esc ends.")),
        Tool::Straighten => {
            let corner = ["lower left", "lower right", "upper right", "upper left"];
            let next = corner[state.clicks.len().min(3)];
            ui.label(format!(
                "Click the {next} corner of the board in the photo ({} of 4). Esc ends.",
                state.clicks.len() + 1
            ));
        }
        Tool::Select => {}
    }
    if map.cans.is_empty() && !matches!(state.tool, Tool::Trace | Tool::Calibrate) {
        let other = if map.side == Side::Top { "bottom" } else { "top" };
        if map.behind.is_empty() {
            nothing_yet(ui, scene, board, state);
        } else {
            ui.label(format!("No cans on this side; those of the {other} side are outlined."));
        }
    }
    state.offered = state.offered.filter(|_| board.positions.is_empty());
    if map.in_grid == 0 {
        return;
    }
    let all = map.in_grid == map.cans.len();
    ui.horizontal_wrapped(|ui| {
        let words = if all {
            "No coordinates on this side: the positions stand in a grid, not where they sit. Sizes are true.".to_owned()
        } else {
            let positions = wording::count(map.in_grid, "position is", "positions are");
            format!("{positions} not located yet and drawn below the board.")
        };
        ui.colored_label(tokens.text, words);
        if state.tool != Tool::Place && ui.button("Place them").clicked() {
            state.take(Tool::Place);
            if let Some(can) = map.cans.iter().find(|can| !can.located)
                && scene.position().is_none_or(|(_, position)| position.centre_mm().is_some())
            {
                scene.push(Action::Select(can.id));
            }
        }
    });
}

/// How the first positions come onto a board. The keyboard is on the way most people want, once.
fn nothing_yet(ui: &mut Ui, scene: &LiveScene, board: &Board, state: &mut BoardState) {
    ui.horizontal_wrapped(|ui| {
        ui.label("No positions on this board yet.");
        if photo::of(scene).is_some() {
            let trace = widgets::primary(ui, "Trace the cans").on_hover_text("On the photo, one after another.");
            let here = Some(scene.selection.board);
            if state.offered != here && ui.memory(|memory| memory.focused().is_none()) {
                state.offered = here;
                trace.request_focus();
            }
            if trace.clicked() {
                // Without a scale sizes cannot be measured in it.
                state.take(if board.photo_corners_mm.is_none() { Tool::Calibrate } else { Tool::Trace });
                state.show_side(photo::side(board));
                ui.memory_mut(|memory| memory.request_focus(map_focus_id()));
            }
        }
        for command in [Command::ImportList, Command::UsePhoto, Command::AddPosition] {
            widgets::button(ui, scene, command);
        }
        ui.weak("or paste rows of a spreadsheet (Ctrl+V).");
    });
}

fn calibrate(ui: &mut Ui, scene: &LiveScene, board: &Board, state: &mut BoardState) {
    let corners = photo::of(scene).map(|picture| photo::corners_mm(board, picture));
    let ([a, b], asked) = match (&state.clicks[..], corners) {
        (&[a, b], _) => ([a, b], "The two points are apart by"),
        ([_], _) => return drop(ui.label("Click the second point. Esc ends.")),
        (_, Some([left, right, ..])) => {
            ui.label("Click two points of the photo whose distance you know, or enter its width. Esc ends.");
            if state.distance_mm <= 0.0 {
                state.distance_mm = tenth((right[0] - left[0]).hypot(right[1] - left[1]));
                state.distance_is_asked = true;
            }
            ([left, right], "The whole photo shows a width of")
        }
        _ => return,
    };
    ui.horizontal(|ui| {
        let label = ui.label(asked);
        let drag = DragValue::new(&mut state.distance_mm).range(0.1..=2000.0).speed(0.1).max_decimals(2).suffix(" mm");
        // Not in the frame of the click: it would count as one beside the field.
        let clicked = ui.input(|input| input.pointer.any_click());
        if clicked {
            ui.ctx().request_repaint();
        } else if std::mem::take(&mut state.distance_is_asked) {
            // Before it is drawn: a field that gains the keyboard has all of its text selected.
            let id = ui.next_auto_id();
            ui.memory_mut(|memory| memory.request_focus(id));
        }
        ui.spacing_mut().interact_size.x = 90.0;
        let field = ui.add(drag).labelled_by(label.id);
        let entered = field.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter));
        if ui.button("Set the scale").clicked() || entered {
            match corners.and_then(|corners| photo::calibrated(corners, [a, b], state.distance_mm)) {
                Some(corners) => {
                    edit_board_once(scene, "photo scale", |board| board.photo_corners_mm = Some(corners));
                    // A board without cans gets them next.
                    state.take(if board.positions.is_empty() { Tool::Trace } else { Tool::Select });
                    ui.memory_mut(|memory| memory.request_focus(map_focus_id()));
                    // The photo has another size: it is shown whole.
                    state.camera = None;
                }
                None => scene.push(Action::Say("The two points are the same; click two that are apart.".into())),
            }
        }
    });
    if board.photo_corners_mm.is_none() {
        ui.weak("The figure shown is assumed: the photo has no scale yet.");
    }
}
