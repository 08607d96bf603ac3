//! The board from above, in millimetres.

use eframe::egui::{self, Align2, Pos2, Rect, Sense, Stroke, StrokeKind, TextStyle, Ui, pos2, vec2};

use crate::app::action::Action;
use crate::app::scene::Scene;
use crate::app::snapshot::can_of;
use crate::app::{selection::Candidate, theme, widgets};
use crate::domain::{Board, Outcome, Position, PositionId};
use crate::physics::body;

/// What the map remembers.
#[derive(Debug, Default)]
pub(crate) struct State {}

/// Drawn where a body is not known, mm.
const UNKNOWN_BODY_MM: f64 = 5.0;

/// From millimetres on the board (y up) to points on the screen (y down).
struct Scale {
    origin: Pos2,
    points_per_mm: f64,
}

impl Scale {
    fn fit(rect: Rect, extent_mm: [f64; 2]) -> Self {
        let fit = |points: f32, mm: f64| f64::from(points) / mm.max(1.0);
        let points_per_mm = fit(rect.width(), extent_mm[0]).min(fit(rect.height(), extent_mm[1]));
        let mut scale = Self { origin: rect.left_bottom(), points_per_mm };
        let spare = rect.size() - vec2(scale.length(extent_mm[0]), scale.length(extent_mm[1]));
        scale.origin += vec2(spare.x / 2.0, -spare.y / 2.0);
        scale
    }

    #[expect(clippy::cast_possible_truncation, reason = "points on a screen")]
    fn length(&self, mm: f64) -> f32 {
        (mm * self.points_per_mm) as f32
    }

    fn at(&self, x_mm: f64, y_mm: f64) -> Pos2 {
        pos2(self.origin.x + self.length(x_mm), self.origin.y - self.length(y_mm))
    }
}

/// Draws the place.
pub(crate) fn show(ui: &mut Ui, scene: &Scene, _state: &mut State, out: &mut Vec<Action>) {
    let tokens = theme::tokens(ui);
    let Some(board) = scene.board() else {
        ui.label("The job has no board yet.");
        return;
    };
    let located = board.positions.iter().filter(|p| p.centre_mm().is_some()).count();
    if located < board.positions.len() {
        let missing = board.positions.len() - located;
        ui.colored_label(tokens.weak, format!("{missing} positions have no coordinates and are only in the list."));
    }
    let (rect, _) = ui.allocate_exact_size(ui.available_size(), Sense::hover());
    let scale = Scale::fit(rect.shrink(12.0), extent_mm(board));
    if let Some([width_mm, height_mm]) = board.outline_mm {
        let outline = Rect::from_two_pos(scale.at(0.0, 0.0), scale.at(width_mm, height_mm));
        ui.painter().rect(outline, 2.0, tokens.panel, Stroke::new(1.5, tokens.weak), StrokeKind::Middle);
    }
    for &[x_mm, y_mm, diameter_mm] in &board.holes_mm {
        ui.painter().circle(
            scale.at(x_mm, y_mm),
            scale.length(diameter_mm / 2.0),
            tokens.base,
            Stroke::new(1.0, tokens.weak),
        );
    }
    for &[x_mm, y_mm, width_mm, height_mm] in &board.keepouts_mm {
        let area = Rect::from_two_pos(scale.at(x_mm, y_mm), scale.at(x_mm + width_mm, y_mm + height_mm));
        ui.painter().rect(area, 0.0, tokens.stripe, Stroke::new(1.0, tokens.line), StrokeKind::Middle);
    }
    for (index, position) in board.positions.iter().enumerate() {
        let id = PositionId { board: scene.selection.board, index };
        if let Some((x_mm, y_mm)) = position.centre_mm() {
            can(ui, scene, &scale, id, position, scale.at(x_mm, y_mm), out);
        }
    }
}

/// The outline, or where there is none, what holds every position.
fn extent_mm(board: &Board) -> [f64; 2] {
    let reach =
        |pick: fn(&Position) -> Option<f64>| board.positions.iter().filter_map(pick).fold(10.0, f64::max) + 15.0;
    board.outline_mm.unwrap_or_else(|| [reach(|p| p.x_mm), reach(|p| p.y_mm)])
}

fn can(
    ui: &Ui,
    scene: &Scene,
    scale: &Scale,
    id: PositionId,
    position: &Position,
    centre: Pos2,
    out: &mut Vec<Action>,
) {
    let tokens = theme::tokens(ui);
    let sized = scene.sizing.position(id);
    let verdict = sized.map_or(Outcome::Unknown, |sized| sized.choice.verdict);
    let diameter_mm = |candidate| body::of(&can_of(candidate, position, scene.catalog)).diameter_max_mm;
    let original = diameter_mm(Candidate::Original).unwrap_or(UNKNOWN_BODY_MM);
    let chosen = sized.and_then(|s| s.choice.part).and_then(|part| diameter_mm(Candidate::Part(part.id)));
    let radius = scale.length(original.max(chosen.unwrap_or(0.0)) / 2.0).max(8.0);
    let rect = Rect::from_center_size(centre, vec2(radius, radius) * 2.0);
    let response = ui.interact(rect, ui.scope_id().with(id), Sense::click());
    let selected = scene.selection.position == Some(id);
    let name = format!("{} on the board: {}", position.reference, verdict.word());
    response.widget_info(|| egui::WidgetInfo::selected(egui::Role::Button, true, selected, &name));
    let painter = ui.painter();
    if let Some(chosen_mm) = chosen {
        painter.circle(centre, scale.length(chosen_mm / 2.0), tokens.control, Stroke::new(1.0, tokens.weak));
    }
    painter.circle_stroke(centre, scale.length(original / 2.0), Stroke::new(1.0, tokens.weak));
    if selected || response.has_focus() {
        painter.circle_stroke(centre, radius + 3.0, Stroke::new(theme::space::FOCUS, tokens.focus));
    }
    let mark = Rect::from_center_size(centre, vec2(theme::space::MARK, theme::space::MARK));
    widgets::paint_mark(painter, mark, verdict, tokens);
    let font = TextStyle::Small.resolve(ui.style());
    painter.text(centre + vec2(0.0, radius + 4.0), Align2::CENTER_TOP, &position.reference, font, tokens.text);
    if response.on_hover_text(name).clicked() {
        out.push(Action::Select(id));
    }
}
