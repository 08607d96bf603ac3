//! From millimetres on the board (y up) to points on the screen (y down), and back.

use egui::{Align2, FontFamily, FontId, Painter, PointerButton, Pos2, Rect, Response, Stroke, Ui, Vec2, pos2, vec2};

use crate::app::widgets::px;
use crate::app::widgets::theme::Tokens;
use crate::files::board_page::Page;

/// Least and largest scale, points for a millimetre.
const SCALES: std::ops::RangeInclusive<f64> = 0.2..=200.0;

/// What part of the board is seen, how large.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Camera {
    /// Where on the screen.
    pub rect: Rect,
    /// What lies in the middle of it, mm.
    pub centre_mm: [f64; 2],
    /// Points for a millimetre.
    pub scale: f64,
    /// Whether the board is seen from below: left and right change places.
    pub mirrored: bool,
}

/// What the pointer did to a camera.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Moved {
    /// Came closer or went away.
    Zoomed,
    /// Went aside.
    Panned,
}

impl Camera {
    /// Shows all of an area (left, bottom, right, top in mm) with some room around it.
    pub(crate) fn fit(rect: Rect, [left, bottom, right, top]: [f64; 4], mirrored: bool) -> Self {
        const ROOM: f32 = 14.0;
        let inside = rect.shrink(ROOM).size().max(vec2(1.0, 1.0));
        let (width, height) = ((right - left).max(1.0), (top - bottom).max(1.0));
        let scale = (f64::from(inside.x) / width).min(f64::from(inside.y) / height);
        let centre_mm = [(left + right) / 2.0, (bottom + top) / 2.0];
        Self { rect, centre_mm, scale: scale.clamp(*SCALES.start(), *SCALES.end()), mirrored }
    }

    /// The same view in another place on the screen: what was seen stays in sight.
    pub(crate) fn within(self, rect: Rect) -> Self {
        let by = rect.size() / self.rect.size().max(vec2(1.0, 1.0));
        let scale = self.scale * f64::from(by.x.min(by.y));
        Self { rect, scale: scale.clamp(*SCALES.start(), *SCALES.end()), ..self }
    }

    fn sign(&self) -> f64 {
        if self.mirrored { -1.0 } else { 1.0 }
    }

    /// A length on the screen, points.
    pub(crate) fn length(&self, mm: f64) -> f32 {
        px(mm * self.scale)
    }

    /// A place on the screen.
    pub(crate) fn at(&self, [x_mm, y_mm]: [f64; 2]) -> Pos2 {
        let centre = self.rect.center();
        let x = self.length((x_mm - self.centre_mm[0]) * self.sign());
        pos2(centre.x + x, centre.y - self.length(y_mm - self.centre_mm[1]))
    }

    /// A place on the board, mm.
    pub(crate) fn mm(&self, at: Pos2) -> [f64; 2] {
        let offset = at - self.rect.center();
        let x = f64::from(offset.x) / self.scale * self.sign();
        [self.centre_mm[0] + x, self.centre_mm[1] - f64::from(offset.y) / self.scale]
    }

    /// The same for drawings: `point` is the size of a point of letters and lines, `sight` what is seen.
    pub(crate) fn page(&self, point: f64, sight: Rect) -> Page {
        let [x, y] = [self.rect.center().x, self.rect.center().y].map(f64::from);
        Page {
            at_mm: self.centre_mm,
            origin: [x, y],
            scale: self.scale,
            mirrored: self.mirrored,
            point,
            sight: [sight.left(), sight.top(), sight.right(), sight.bottom()].map(f64::from),
        }
    }

    /// Zooms so that what lies under `at` stays there.
    pub(crate) fn zoom(&mut self, at: Pos2, factor: f64) {
        let before = self.mm(at);
        self.scale = (self.scale * factor).clamp(*SCALES.start(), *SCALES.end());
        let after = self.mm(at);
        self.centre_mm[0] += before[0] - after[0];
        self.centre_mm[1] += before[1] - after[1];
    }

    /// Zooms by wheel and pinch, pans with the second or third button; what it did.
    pub(crate) fn follow(&mut self, ui: &Ui, canvas: &Response) -> Option<Moved> {
        let mut moved = None;
        if let Some(at) = canvas.hover_pos().filter(|_| canvas.contains_pointer()) {
            let (wheel, pinch) = ui.input(|input| (input.smooth_scroll_delta().y, input.zoom_delta()));
            let factor = f64::from(pinch) * (f64::from(wheel) / 240.0).exp();
            if (factor - 1.0).abs() > 1e-6 {
                self.zoom(at, factor);
                moved = Some(Moved::Zoomed);
            }
        }
        if canvas.dragged_by(PointerButton::Secondary) || canvas.dragged_by(PointerButton::Middle) {
            self.pan(canvas.drag_delta());
            moved = Some(Moved::Panned);
        }
        moved
    }

    /// Moves what is seen along with the pointer.
    pub(crate) fn pan(&mut self, by: Vec2) {
        self.centre_mm[0] -= f64::from(by.x) / self.scale * self.sign();
        self.centre_mm[1] += f64::from(by.y) / self.scale;
    }
}

/// A line of a round length, for the scale.
pub(crate) fn scale_bar(painter: &Painter, camera: &Camera, at: Pos2, tokens: &Tokens) -> Rect {
    let mm = [1.0, 5.0, 10.0, 50.0, 100.0].into_iter().find(|&mm| camera.length(mm) >= 36.0).unwrap_or(100.0);
    let end = at + vec2(camera.length(mm), 0.0);
    let stroke = Stroke::new(1.5, tokens.weak);
    painter.line_segment([at, end], stroke);
    for tip in [at, end] {
        painter.line_segment([tip - vec2(0.0, 4.0), tip + vec2(0.0, 4.0)], stroke);
    }
    let font = FontId::new(12.0, FontFamily::Proportional);
    painter
        .text(end + vec2(6.0, 0.0), Align2::LEFT_CENTER, format!("{mm} mm"), font, tokens.weak)
        .union(Rect::from_two_pos(at, end))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn camera(mirrored: bool) -> Camera {
        Camera::fit(Rect::from_min_size(pos2(100.0, 50.0), vec2(800.0, 600.0)), [0.0, 0.0, 160.0, 100.0], mirrored)
    }

    #[test]
    fn the_board_is_seen_whole_and_upright() {
        let camera = camera(false);
        let (low, high) = (camera.at([0.0, 0.0]), camera.at([160.0, 100.0]));
        assert!(low.x < high.x && low.y > high.y);
        assert!(camera.rect.contains(low) && camera.rect.contains(high));
        assert!(camera.at([0.0, 0.0]).x > camera.at([160.0, 0.0]).x || !camera.mirrored);
    }

    #[test]
    fn points_and_millimetres_lead_back_to_each_other_on_both_sides() {
        for mirrored in [false, true] {
            let camera = camera(mirrored);
            let [x, y] = camera.mm(camera.at([12.5, 70.0]));
            assert!((x - 12.5).abs() < 1e-3 && (y - 70.0).abs() < 1e-3);
        }
        assert!(camera(true).at([0.0, 0.0]).x > camera(true).at([160.0, 0.0]).x);
    }

    #[test]
    fn zooming_keeps_what_is_under_the_pointer() {
        for mirrored in [false, true] {
            let mut camera = camera(mirrored);
            let at = pos2(300.0, 200.0);
            let before = camera.mm(at);
            camera.zoom(at, 3.0);
            let after = camera.mm(at);
            assert!((before[0] - after[0]).abs() < 1e-6 && (before[1] - after[1]).abs() < 1e-6);
        }
    }
}
