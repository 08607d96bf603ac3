//! A board on the screen, the same for every view that shows one: the camera, the photo under it, rings around cans.

pub(crate) mod camera;
pub(crate) mod homography;
pub(crate) mod photo;

use egui::{Painter, Pos2, Rect, Stroke, Vec2, vec2};

use crate::app::state::scene::Scene;
use crate::app::widgets::{shapes, theme};
use crate::files::board_drawing::{self, Page};
use crate::sizing::{BoardMap, CanOnMap, Footprint};
use camera::Camera;

/// A can is never harder to hit than this, points.
const LEAST_TARGET: f32 = 9.0;

/// The board without its cans: its outline and, where it shows this side, the photo.
pub(crate) fn ground(
    painter: &Painter,
    camera: &Camera,
    scene: &Scene,
    map: &BoardMap,
    page: &Page,
    texture: &mut photo::Texture,
) -> Vec<egui::Shape> {
    let Some(board) = scene.board() else { return Vec::new() };
    let tokens = theme::of(painter.ctx().theme());
    let outline: Vec<_> = board_drawing::ground(board, page).into_iter().collect();
    let mut below = shapes::painted(painter, &outline, tokens);
    if let Some(picture) = photo::of(scene).filter(|_| photo::side(board) == map.side) {
        let opacity = board.photo_opacity_pct.unwrap_or(photo::OPACITY_PCT);
        let texture = texture.of(painter.ctx(), picture);
        below.extend(photo::draw(camera, photo::corners_mm(board, picture), opacity, texture));
    }
    below
}

/// What of the screen a click on a can has to hit.
pub(crate) fn target_of(camera: &Camera, can: &CanOnMap) -> Rect {
    let [width, height] = can.body().footprint.size_mm().map(|mm| camera.length(mm).max(LEAST_TARGET * 2.0));
    let (sin, cos) = can.body().rotation_deg.to_radians().sin_cos();
    #[expect(clippy::cast_possible_truncation, reason = "shares of a side")]
    let (sin, cos) = (sin.abs() as f32, cos.abs() as f32);
    let size = if matches!(can.body().footprint, Footprint::Round { .. }) {
        Vec2::splat(width)
    } else {
        vec2(width * cos + height * sin, width * sin + height * cos)
    };
    Rect::from_center_size(camera.at(can.centre_mm), size).intersect(camera.rect)
}

/// The can at a point of the screen, the smallest where several lie over each other.
pub(crate) fn hit<'a>(map: &'a BoardMap, camera: &Camera, at: Pos2) -> Option<&'a CanOnMap> {
    let within = |can: &&CanOnMap| {
        let reach = camera.length(can.body().footprint.size_mm().into_iter().fold(0.0, f64::max) / 2.0);
        camera.at(can.centre_mm).distance(at) <= reach.max(LEAST_TARGET)
    };
    map.largest_first.iter().rev().map(|&at| &map.cans[at]).find(within)
}

/// A ring around a can.
pub(crate) fn ring(painter: &Painter, camera: &Camera, can: &CanOnMap, stroke: Stroke) {
    /// Between the body and the ring, points.
    const ROOM: f32 = 5.0;
    match can.body().footprint {
        Footprint::Round { diameter_mm } => {
            let original_mm = can.original.map_or(0.0, |original| original.size_mm()[1]);
            let radius = camera.length(diameter_mm.max(original_mm) / 2.0) + ROOM;
            painter.circle_stroke(camera.at(can.centre_mm), radius, stroke);
        }
        Footprint::Lying { length_mm, diameter_mm } => {
            let more_mm = 2.0 * f64::from(ROOM) / camera.scale;
            let larger = Footprint::Lying { length_mm: length_mm + more_mm, diameter_mm: diameter_mm + more_mm };
            let corners = can.placed(larger).corners_mm().map(|corner| camera.at(corner));
            painter.add(egui::Shape::closed_line(corners.to_vec(), stroke));
        }
    }
}
