//! The photo under the map: where it lies, how it is drawn, how it is set right.

use std::sync::Arc;

use egui::{Color32, ColorImage, Context, Mesh, Shape, TextureHandle, TextureId, TextureOptions, pos2};

use crate::app::state::scene::Scene;
use crate::app::widgets::map::camera::Camera;
use crate::app::widgets::px;
use crate::domain::{Board, Side};
use crate::files::homography::Homography;
use crate::files::photo::Photo;

/// How strongly a photo shows where nothing is said, percent.
pub(crate) const OPACITY_PCT: f64 = 60.0;

/// Width a photo gets before it is calibrated on a board without an outline, mm.
const WIDTH_MM: f64 = 160.0;

/// The photo as the graphics system has it.
#[derive(Default)]
pub(crate) struct Texture(Option<(Arc<Photo>, TextureHandle)>);

impl std::fmt::Debug for Texture {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:?}", self.0.as_ref().map(|(photo, _)| photo))
    }
}

impl Texture {
    /// The texture of `photo`; handed over once.
    pub(crate) fn of(&mut self, ctx: &Context, photo: &Arc<Photo>) -> TextureId {
        match &self.0 {
            Some((known, handle)) if Arc::ptr_eq(known, photo) => handle.id(),
            _ => {
                let handle = load(ctx, photo);
                let id = handle.id();
                self.0 = Some((photo.clone(), handle));
                id
            }
        }
    }
}

/// Hands a photo to the graphics system.
pub(crate) fn load(ctx: &Context, photo: &Photo) -> TextureHandle {
    let image = ColorImage::from_rgba_unmultiplied([photo.width_px, photo.height_px], &photo.rgba);
    ctx.load_texture("board photo", image, TextureOptions::LINEAR)
}

/// The photo of the board, when it could be read.
pub(crate) fn of<'a>(scene: &Scene<'a>) -> Option<&'a Arc<Photo>> {
    scene.photo?.as_ref().ok()
}

/// The side of the board a photo shows.
pub(crate) fn side(board: &Board) -> Side {
    board.photo_side.unwrap_or_default()
}

/// Where the corners of the picture lie: as calibrated, else over the outline as well as its shape allows.
pub(crate) fn corners_mm(board: &Board, photo: &Photo) -> [[f64; 2]; 4] {
    board.photo_corners_mm.unwrap_or_else(|| {
        let width_mm = board.outline_mm.map_or(WIDTH_MM, |outline| outline[0]);
        let height_mm = width_mm * photo.height_px as f64 / (photo.width_px as f64).max(1.0);
        let [left, right] = if side(board) == Side::Top { [0.0, width_mm] } else { [width_mm, 0.0] };
        [[left, height_mm], [right, height_mm], [right, 0.0], [left, 0.0]]
    })
}

/// The photo as a mesh of small squares, since the graphics system knows no perspective.
pub(crate) fn draw(camera: &Camera, corners_mm: [[f64; 2]; 4], opacity_pct: f64, texture: TextureId) -> Option<Shape> {
    const STEPS: u16 = 24;
    const UNIT: [[f64; 2]; 4] = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];
    let flat = Homography::through(UNIT, corners_mm)?;
    let tint = Color32::WHITE.gamma_multiply(px((opacity_pct / 100.0).clamp(0.0, 1.0)));
    let mut mesh = Mesh::with_texture(texture);
    for row in 0..=STEPS {
        for column in 0..=STEPS {
            let [u, v] = [column, row].map(|n| f64::from(n) / f64::from(STEPS));
            let at_mm = flat.at([u, v])?;
            let uv = pos2(px(u), px(v));
            mesh.vertices.push(egui::epaint::Vertex { pos: camera.at(at_mm), uv, color: tint });
        }
    }
    let width = u32::from(STEPS) + 1;
    for row in 0..u32::from(STEPS) {
        for column in 0..u32::from(STEPS) {
            let at = row * width + column;
            mesh.add_triangle(at, at + 1, at + width);
            mesh.add_triangle(at + 1, at + width + 1, at + width);
        }
    }
    Some(Shape::mesh(mesh))
}

/// The corners after two points were found to be `distance_mm` apart; the first point stays. `None` when they are the same.
pub(crate) fn calibrated(corners: [[f64; 2]; 4], [a, b]: [[f64; 2]; 2], distance_mm: f64) -> Option<[[f64; 2]; 4]> {
    let found_mm = (b[0] - a[0]).hypot(b[1] - a[1]);
    let factor = distance_mm / found_mm;
    (found_mm > 0.01 && factor.is_finite() && factor > 1e-4)
        .then(|| corners.map(|[x, y]| [a[0] + (x - a[0]) * factor, a[1] + (y - a[1]) * factor]))
}

/// The corners after the whole picture was moved.
pub(crate) fn moved(corners: [[f64; 2]; 4], by: [f64; 2]) -> [[f64; 2]; 4] {
    corners.map(|[x, y]| [x + by[0], y + by[1]])
}

/// The corners after the board's corners were found in the picture (lower left first, then anticlockwise as one looks at
/// it): they come to lie on the outline. `None` when they cannot be corners of a board, or would mirror the picture.
pub(crate) fn straightened(
    corners: [[f64; 2]; 4],
    found: [[f64; 2]; 4],
    [width_mm, height_mm]: [f64; 2],
    side: Side,
) -> Option<[[f64; 2]; 4]> {
    let [left, right] = if side == Side::Top { [0.0, width_mm] } else { [width_mm, 0.0] };
    let flat = Homography::through(found, [[left, 0.0], [right, 0.0], [right, height_mm], [left, height_mm]])?;
    let moved = corners.map(|corner| flat.at(corner));
    let [a, b, c, d] = moved;
    let laid = [a?, b?, c?, d?];
    // Clicked the other way round, the picture would lie on its face.
    let as_seen = area(laid).is_sign_negative() == (side == Side::Top);
    as_seen.then_some(laid)
}

/// The area inside corners, positive where they go round anticlockwise.
fn area(corners: [[f64; 2]; 4]) -> f64 {
    let [a, b, c, d] = corners;
    let crossed = |[x1, y1]: [f64; 2], [x2, y2]: [f64; 2]| x1 * y2 - x2 * y1;
    (crossed(a, b) + crossed(b, c) + crossed(c, d) + crossed(d, a)) / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    const CORNERS: [[f64; 2]; 4] = [[0.0, 100.0], [160.0, 100.0], [160.0, 0.0], [0.0, 0.0]];

    #[test]
    fn two_points_and_their_distance_set_the_scale_about_the_first() {
        let set = calibrated(CORNERS, [[10.0, 10.0], [60.0, 10.0]], 25.0).unwrap();
        assert_eq!(set[2], [85.0, 5.0]);
        assert_eq!(calibrated(CORNERS, [[1.0, 1.0], [1.0, 1.0]], 25.0), None);
    }

    #[test]
    fn the_corners_found_in_an_askew_picture_come_to_lie_on_the_outline() {
        let found = [[12.0, 9.0], [140.0, 15.0], [130.0, 88.0], [20.0, 80.0]];
        let set = straightened(CORNERS, found, [120.0, 80.0], Side::Top).unwrap();
        // The same picture, laid down anew: what was seen at a corner is now at the board's corner.
        let again = Homography::through(CORNERS, set).unwrap();
        let [x, y] = again.at(found[2]).unwrap();
        assert!((x - 120.0).abs() < 1e-6 && (y - 80.0).abs() < 1e-6);
        assert_eq!(straightened(CORNERS, [[1.0, 1.0]; 4], [120.0, 80.0], Side::Top), None);
    }

    #[test]
    fn corners_clicked_clockwise_would_mirror_the_picture_and_are_refused() {
        let anticlockwise = [[12.0, 9.0], [140.0, 15.0], [130.0, 88.0], [20.0, 80.0]];
        let clockwise = [3, 2, 1, 0].map(|at: usize| anticlockwise[at]);
        assert_eq!(straightened(CORNERS, clockwise, [120.0, 80.0], Side::Top), None);
        // From below, where the board is seen mirrored, so are its corners in board coordinates.
        let mirrored = |corners: [[f64; 2]; 4]| corners.map(|[x, y]| [160.0 - x, y]);
        let below = mirrored(CORNERS);
        assert!(straightened(below, mirrored(anticlockwise), [120.0, 80.0], Side::Bottom).is_some());
        assert_eq!(straightened(below, mirrored(clockwise), [120.0, 80.0], Side::Bottom), None);
    }
}
