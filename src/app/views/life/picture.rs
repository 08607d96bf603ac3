//! A picture of what is seen: cut out of the window's own pixels and written as PNG.

use egui::{ColorImage, Rect};
use image::{ExtendedColorType, ImageEncoder, codecs::png::PngEncoder};

/// The part of `image` that lies in `area` (points); `None` when nothing of it does.
pub(crate) fn cut(image: &ColorImage, area: Rect, pixels_per_point: f32) -> Option<ColorImage> {
    let [width, height] = image.size;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the image")]
    let pixel = |points: f32, most: usize| ((points * pixels_per_point).max(0.0).round() as usize).min(most);
    let (left, right) = (pixel(area.left(), width), pixel(area.right(), width));
    let (top, bottom) = (pixel(area.top(), height), pixel(area.bottom(), height));
    let inside = left < right && top < bottom;
    inside.then(|| image.region_by_pixels([left, top], [right - left, bottom - top]))
}

/// The bytes of a PNG file.
///
/// # Errors
/// In words, when the picture cannot be encoded.
pub(crate) fn encode(image: &ColorImage) -> Result<Vec<u8>, String> {
    let mut bytes = Vec::new();
    let side = |pixels: usize| u32::try_from(pixels).map_err(|_| "the picture is too large".to_owned());
    let (width, height) = (side(image.size[0])?, side(image.size[1])?);
    // A window is opaque, so the alpha channel says nothing.
    let rgb: Vec<u8> = image.pixels.iter().flat_map(|pixel| [pixel.r(), pixel.g(), pixel.b()]).collect();
    let encoder = PngEncoder::new(&mut bytes);
    encoder.write_image(&rgb, width, height, ExtendedColorType::Rgb8).map_err(|error| error.to_string())?;
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::{Color32, pos2};

    #[test]
    fn a_picture_is_cut_at_the_points_given_and_reads_back_pixel_by_pixel() {
        let mut image = ColorImage::filled([20, 10], Color32::BLACK);
        image.pixels[4 * 20 + 6] = Color32::from_rgb(10, 200, 30);
        let area = Rect::from_min_max(pos2(3.0, 2.0), pos2(6.0, 40.0));
        let cut = cut(&image, area, 2.0).unwrap();
        assert_eq!(cut.size, [6, 6]);
        let read = image::load_from_memory(&encode(&cut).unwrap()).unwrap().to_rgb8();
        assert_eq!((read.width(), read.height()), (6, 6));
        assert_eq!(read.get_pixel(0, 0).0, [10, 200, 30]);
        assert_eq!(read.get_pixel(1, 0).0, [0, 0, 0]);
    }

    #[test]
    fn nothing_is_cut_outside_the_picture() {
        let image = ColorImage::filled([4, 4], Color32::BLACK);
        assert!(cut(&image, Rect::NOTHING, 1.0).is_none());
        assert!(cut(&image, Rect::from_min_max(pos2(9.0, 9.0), pos2(12.0, 12.0)), 1.0).is_none());
    }
}
