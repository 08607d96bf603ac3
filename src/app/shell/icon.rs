//! The icon: a can from above on a board, with its scored vent and the dark segment of the negative side.

use image::{ExtendedColorType, ImageEncoder, codecs::png::PngEncoder};

const BOARD: [f32; 3] = [34.0, 86.0, 74.0];
const RIM: [f32; 3] = [110.0, 120.0, 130.0];
const TOP: [f32; 3] = [214.0, 220.0, 226.0];
const NEGATIVE: [f32; 3] = [28.0, 38.0, 52.0];
const VENT: [f32; 3] = [132.0, 142.0, 152.0];

/// The icon as `side` rows of `side` pixels, four bytes each: red, green, blue, opacity.
pub fn rgba(side: u32) -> Vec<u8> {
    let mut pixels = Vec::with_capacity(side as usize * side as usize * 4);
    for y in 0..side {
        for x in 0..side {
            let at = |n: u32| (n as f32 + 0.5) / side as f32 - 0.5;
            pixels.extend(pixel(at(x), at(y), 1.0 / side as f32));
        }
    }
    pixels
}

/// The icon as a PNG file; `None` when it cannot be packed.
pub fn png(side: u32) -> Option<Vec<u8>> {
    let mut file = Vec::new();
    PngEncoder::new(&mut file).write_image(&rgba(side), side, side, ExtendedColorType::Rgba8).ok()?;
    Some(file)
}

/// Colour at a point, the middle of the icon being (0, 0) and its edges half a unit away; `soft` is the width of an edge.
fn pixel(x: f32, y: f32, soft: f32) -> [u8; 4] {
    // How much of the pixel lies inside a shape whose edge is `outside` away.
    let cover = |outside: f32| (0.5 - outside / soft).clamp(0.0, 1.0);
    let radius = x.hypot(y);
    let mut colour = BOARD;
    let mut paint = |over: [f32; 3], share: f32| {
        for (below, above) in colour.iter_mut().zip(over) {
            *below += (above - *below) * share;
        }
    };
    paint(RIM, cover(radius - 0.40));
    let top = cover(radius - 0.36);
    paint(TOP, top);
    paint(NEGATIVE, top.min(cover(0.20 - x)));
    // Three scores from the centre, a third of a turn apart.
    let score = [90.0_f32, 210.0, 330.0].map(|degrees| {
        let (sin, cos) = degrees.to_radians().sin_cos();
        let along = (x * cos + y * sin).clamp(0.0, 0.17);
        (x - along * cos).hypot(y - along * sin) - 0.018
    });
    paint(VENT, top.min(cover(score.into_iter().fold(f32::MAX, f32::min))));
    // A square with round corners.
    let corner = (x.abs() - 0.36).max(0.0).hypot((y.abs() - 0.36).max(0.0)) - 0.12;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and 255")]
    let byte = |value: f32| value.round().clamp(0.0, 255.0) as u8;
    let [red, green, blue] = colour.map(byte);
    [red, green, blue, byte(255.0 * cover(corner))]
}

#[cfg(test)]
#[path = "../../../tests/window/inside/icon.rs"]
mod tests;
