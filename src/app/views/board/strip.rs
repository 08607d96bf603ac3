//! Beside the map: the selected position from the side, and the best parts for it.

use egui::{
    Align2, Color32, FontFamily, FontId, Painter, Pos2, Rect, Role, ScrollArea, Sense, Shape, Stroke, StrokeKind, Ui,
    WidgetInfo, pos2, vec2,
};

use crate::app::actions::action::Action;
use crate::app::actions::command::Command;
use crate::app::state::scene::Scene;
use crate::app::state::selection::Candidate;
use crate::app::widgets;
use crate::app::widgets::explain;
use crate::app::widgets::theme::{self, Tokens, space};
use crate::app::widgets::wording::with_unit;
use crate::domain::Outcome;
use crate::physics::body::{self, Body};
use crate::sizing::reasons::figure;

/// Height of the view from the side, points.
const HEIGHT: f32 = 200.0;

/// Draws the strip.
pub(super) fn show(ui: &mut Ui, scene: &Scene, out: &mut Vec<Action>) {
    let Some((_, position)) = scene.position() else {
        ui.label("Select a can on the map: its height, vent space and lid are then shown here.");
        return;
    };
    let Some(candidate) = scene.selection.hovered.or_else(|| scene.candidate()) else { return };
    let Some(can) = scene.can(candidate) else { return };
    explain::heading(ui, format!("{} from the side", position.reference), "side view");
    let side = Side {
        new: body::of(&can),
        original: body::of(&position.original.can),
        room_mm: scene.place().and_then(|place| place.room_mm().1),
        lid_mm: scene.board().and_then(|board| board.lid_mm),
    };
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), HEIGHT), Sense::hover());
    let words = side.words();
    let spoken = format!("{} from the side: {}", position.reference, words.join("; "));
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &spoken));
    side.draw(&ui.painter().with_clip_rect(rect.intersect(ui.clip_rect())), rect, theme::tokens(ui));
    ui.label(scene.name(candidate));
    for line in words {
        ui.label(line);
    }
    ui.add_space(6.0);
    best(ui, scene, out);
}

/// The best parts for the position: hovering one shows it on the map.
fn best(ui: &mut Ui, scene: &Scene, out: &mut Vec<Action>) {
    let Some(sized) = scene.sized() else { return };
    if sized.best.is_empty() {
        ui.label("No part comes into question here.");
        return;
    }
    explain::heading(ui, "Best parts", "best parts");
    let tokens = theme::tokens(ui);
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 1.0;
        for ranked in &sized.best {
            let candidate = Candidate::Part(ranked.id);
            let verdict = ranked.evaluation.verdict;
            let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), space::ROW), Sense::hover());
            if !ui.is_rect_visible(rect) {
                continue;
            }
            let response = ui.interact(rect, ui.scope_id().with(("best", ranked.id)), Sense::click());
            let selected = scene.candidate() == Some(candidate);
            let part = scene.name(candidate);
            let name = format!("{part} on the map: {}", verdict.word());
            response.widget_info(|| WidgetInfo::selected(Role::Button, true, selected, &name));
            if selected {
                ui.painter().rect_filled(rect, 3.0, tokens.selected);
            } else if response.hovered() {
                ui.painter().rect_filled(rect, 3.0, tokens.control);
            }
            let mark = Rect::from_center_size(rect.left_center() + vec2(11.0, 0.0), vec2(space::MARK, space::MARK));
            widgets::paint_mark(ui.painter(), mark, verdict, tokens);
            let ink = if selected { tokens.selected_text } else { tokens.text };
            let font = FontId::new(13.0, FontFamily::Proportional);
            let chosen = scene.chosen() == Some(candidate);
            ui.painter().text(rect.left_center() + vec2(24.0, 0.0), Align2::LEFT_CENTER, part, font, ink);
            if chosen {
                let font = FontId::new(12.0, FontFamily::Proportional);
                let (_, position) = scene.position().unzip();
                let word = if position.is_some_and(|p| p.pick.is_some()) { "picked" } else { "proposed" };
                ui.painter().text(rect.right_center() - vec2(10.0, 0.0), Align2::RIGHT_CENTER, word, font, tokens.weak);
            }
            widgets::outline_focus(ui, rect, &response);
            if response.hovered() || response.has_focus() {
                out.push(Action::Hover(candidate));
            }
            if response.clicked() {
                out.push(Action::SelectCandidate(candidate));
            }
            if response.double_clicked() {
                out.push(Action::Run(Command::Pick));
            }
        }
    });
}

/// Heights at one position, mm.
struct Side {
    new: Body,
    original: Body,
    room_mm: Option<f64>,
    lid_mm: Option<f64>,
}

impl Side {
    /// What the drawing shows, in words.
    fn words(&self) -> Vec<String> {
        let height = self.new.height_max_mm;
        let vent = match self.new.vent_mm {
            Some(0.0) => "no vent space needed".to_owned(),
            vent => format!("vent space {}", with_unit(vent, "mm")),
        };
        let lid = self.lid_mm.map_or_else(String::new, |lid_mm| format!(", lid {} mm", figure(lid_mm)));
        let mut lines = vec![
            format!("height {}, {vent}", with_unit(height, "mm")),
            format!("room {}{lid}", with_unit(self.room_mm, "mm")),
        ];
        if let (Some(height_mm), Some(vent_mm), Some(room_mm)) = (height, self.new.vent_mm, self.room_mm) {
            lines.push(spare(height_mm, vent_mm, room_mm));
        }
        lines
    }

    fn outcome(&self) -> Outcome {
        match (self.new.height_max_mm, self.new.vent_mm, self.room_mm) {
            (Some(height), _, Some(room)) if height > room + 1e-9 => Outcome::Fail,
            (Some(height), Some(vent), Some(room)) if height + vent > room + 1e-9 => Outcome::Marginal,
            (Some(_), Some(_), Some(_)) => Outcome::Pass,
            _ => Outcome::Unknown,
        }
    }

    fn draw(&self, painter: &Painter, rect: Rect, tokens: &Tokens) {
        const FOOT: f32 = 16.0;
        const NOTES: f32 = 86.0;
        let tops = [self.new.height_max_mm.zip(self.new.vent_mm).map(|(h, v)| h + v), self.original.height_max_mm];
        let most = tops.into_iter().chain([self.room_mm, self.lid_mm]).flatten().fold(10.0, f64::max) * 1.06;
        let wide = [self.new.diameter_max_mm, self.original.diameter_max_mm].into_iter().flatten().fold(5.0, f64::max);
        let (high_points, wide_points) = (rect.height() - FOOT - 4.0, rect.width() - NOTES - 16.0);
        let scale = (f64::from(high_points) / most).min(f64::from(wide_points) / (wide * 1.15));
        #[expect(clippy::cast_possible_truncation, reason = "points on a screen")]
        let length = |mm: f64| (mm * scale) as f32;
        let ground = rect.bottom() - FOOT;
        let centre = rect.left() + (rect.width() - NOTES) / 2.0;
        let right = rect.right() - NOTES;
        let block = |from_mm: f64, to_mm: f64, width_mm: f64| {
            let half = length(width_mm) / 2.0;
            Rect::from_min_max(
                pos2(centre - half, ground - length(to_mm)),
                pos2(centre + half, ground - length(from_mm)),
            )
        };
        let board = Rect::from_min_max(pos2(rect.left(), ground), pos2(right, ground + 5.0));
        painter.rect_filled(board, 0.0, tokens.line);
        let look = tokens.outcome(self.outcome());
        let mut notes: Vec<(f32, String, Color32)> = Vec::new();
        let width_mm = self.new.diameter_max_mm.unwrap_or(5.0);
        if let Some(height_mm) = self.new.height_max_mm {
            let body = block(0.0, height_mm, width_mm);
            painter.rect(body, 2.0, look.fill.gamma_multiply(0.30), Stroke::new(1.5, look.ink), StrokeKind::Inside);
            notes.push((body.top(), format!("body {} mm", figure(height_mm)), look.ink));
            if let Some(vent_mm) = self.new.vent_mm.filter(|&vent| vent > 0.0) {
                let vent = block(height_mm, height_mm + vent_mm, width_mm);
                vent_arrows(painter, vent, tokens);
                notes.push((vent.top(), format!("vent to {} mm", figure(height_mm + vent_mm)), tokens.weak));
            }
        }
        if let (Some(height_mm), Some(diameter_mm)) = (self.original.height_max_mm, self.original.diameter_max_mm) {
            let body = block(0.0, height_mm, diameter_mm);
            let path = [body.left_bottom(), body.left_top(), body.right_top(), body.right_bottom()];
            painter.extend(Shape::dashed_line(&path, Stroke::new(1.25, tokens.text), 4.0, 3.0));
        }
        for (level_mm, name, ink, width) in
            [(self.room_mm, "room", tokens.text, 1.5), (self.lid_mm, "lid", tokens.text, 3.0)]
        {
            let Some(level_mm) = level_mm else { continue };
            let y = ground - length(level_mm);
            painter.hline(rect.left()..=right, y, Stroke::new(width, ink));
            notes.push((y, format!("{name} {} mm", figure(level_mm)), ink));
        }
        place_notes(painter, notes, right + 6.0, rect);
    }
}

/// How much of the room is left, or how much is missing.
fn spare(height_mm: f64, vent_mm: f64, room_mm: f64) -> String {
    let left_mm = room_mm - height_mm - vent_mm;
    if room_mm - height_mm < -1e-9 {
        format!("{} mm too high", figure(height_mm - room_mm))
    } else if left_mm < -1e-9 {
        format!("fits, but {} mm of its vent space is missing", figure(-left_mm))
    } else {
        let left_mm = (left_mm * 100.0).round() / 100.0;
        format!("fits with {} mm to spare", figure(left_mm))
    }
}

fn vent_arrows(painter: &Painter, area: Rect, tokens: &Tokens) {
    let path: Vec<Pos2> = vec![area.left_bottom(), area.left_top(), area.right_top(), area.right_bottom()];
    painter.extend(Shape::dashed_line(&path, Stroke::new(1.0, tokens.weak), 2.0, 3.0));
    let tip = pos2(area.center().x, area.top() + 1.0);
    let stroke = Stroke::new(1.0, tokens.weak);
    painter.line_segment([area.center_bottom(), tip], stroke);
    for side in [-1.0, 1.0] {
        painter.line_segment([tip, tip + vec2(side * 3.0, 4.0)], stroke);
    }
}

/// Writes the notes beside their levels, apart from each other.
fn place_notes(painter: &Painter, mut notes: Vec<(f32, String, Color32)>, x: f32, rect: Rect) {
    const LINE: f32 = 15.0;
    notes.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut lowest = rect.bottom() - LINE;
    let font = FontId::new(12.0, FontFamily::Proportional);
    let mut placed = Vec::new();
    for (level, text, ink) in notes {
        let y = level.min(lowest);
        lowest = y - LINE;
        placed.push((y, text, ink));
    }
    let over = (rect.top() + LINE / 2.0 - placed.last().map_or(f32::MAX, |p| p.0)).max(0.0);
    for (y, text, ink) in placed {
        painter.text(pos2(x, y + over), Align2::LEFT_CENTER, text, font.clone(), ink);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_left_over_is_told_apart_from_what_is_missing() {
        assert_eq!(spare(32.0, 3.0, 36.0), "fits with 1 mm to spare");
        assert_eq!(spare(34.0, 3.0, 36.0), "fits, but 1 mm of its vent space is missing");
        assert_eq!(spare(38.0, 3.0, 36.0), "2 mm too high");
    }
}
