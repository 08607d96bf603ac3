//! The photo of a board as a sheet shows it: laid flat, upright as the map, light enough to write on.

use image::{ExtendedColorType, ImageEncoder, codecs::jpeg::JpegEncoder};
use rayon::prelude::*;

use super::homography::Homography;
use super::photo::Photo;
use crate::domain::{Board, Side};

/// Pixels on the longer side: 6 to a millimetre of paper.
const LONG_PX: f64 = 1100.0;
/// Share of white: lines and letters over the photo stay the darkest.
const WHITE: f32 = 0.45;

/// The part of a photo that covers `extent_mm` (left, bottom, right, top) of its board as the bytes of a JPEG file; seen from below
/// where it shows the bottom. `None` where nobody set its scale.
pub fn jpeg(photo: &Photo, board: &Board, [left, bottom, right, top]: [f64; 4]) -> Option<Vec<u8>> {
    let [w, h] = [photo.width_px as f64, photo.height_px as f64];
    let to_px = Homography::through(board.photo_corners_mm?, [[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]])?;
    let step_mm = (right - left).max(top - bottom) / LONG_PX;
    if !(step_mm.is_finite() && step_mm > 0.0) {
        return None;
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a thousand at most")]
    let [wide, high] = [right - left, top - bottom].map(|mm| ((mm / step_mm) as u32).max(1));
    let below = board.photo_side == Some(Side::Bottom);
    // What no photo covers is white.
    let mut pixels = vec![u8::MAX; wide as usize * high as usize * 3];
    pixels.par_chunks_exact_mut(wide as usize * 3).zip(0..high).for_each(|(line, row)| {
        let y_mm = top - (f64::from(row) + 0.5) * step_mm;
        for (to, column) in line.chunks_exact_mut(3).zip(0..wide) {
            let across = (f64::from(column) + 0.5) * step_mm;
            let x_mm = if below { right - across } else { left + across };
            if let Some(colour) = to_px.at([x_mm, y_mm]).and_then(|at| pixel(photo, at)) {
                to.copy_from_slice(&colour.map(whiter));
            }
        }
    });
    let mut bytes = Vec::new();
    let encoder = JpegEncoder::new_with_quality(&mut bytes, 70);
    encoder.write_image(&pixels, wide, high, ExtendedColorType::Rgb8).ok()?;
    Some(bytes)
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 255")]
fn whiter(colour: u8) -> u8 {
    let colour = f32::from(colour);
    (colour + (255.0 - colour) * WHITE) as u8
}

fn pixel(photo: &Photo, [x, y]: [f64; 2]) -> Option<[u8; 3]> {
    if x < 0.0 || y < 0.0 {
        return None;
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "not negative")]
    let (x, y) = (x as usize, y as usize);
    let inside = x < photo.width_px && y < photo.height_px;
    let from = (y.min(photo.height_px) * photo.width_px + x) * 4;
    photo.rgba.get(from..from + 3).filter(|_| inside)?.try_into().ok()
}

/// Bytes in the letters of a page (RFC 4648, base 64).
pub fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let [a, b, c] = [0, 1, 2].map(|n| three.get(n).copied().unwrap_or_default());
        let bits = u32::from_be_bytes([0, a, b, c]);
        for n in 0..4 {
            let letter = LETTERS[(bits >> (18 - 6 * n)) as usize & 63];
            text.push(if n > three.len() { '=' } else { char::from(letter) });
        }
    }
    text
}

#[cfg(test)]
#[path = "../../tests/within/flat_photo.rs"]
mod tests;
