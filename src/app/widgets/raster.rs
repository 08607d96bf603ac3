//! Shapes into pixels without a graphics card: triangles, one after another, over each other.

use std::collections::HashMap;

use egui::epaint::{ImageDelta, Primitive, Vertex};
use egui::{Color32, ColorImage, Context, ImageData, Mesh, Painter, Pos2, RawInput, Rect, TextureId, Theme, Vec2};
use image::{ExtendedColorType, ImageEncoder, codecs::png::PngEncoder};

use crate::app::widgets::theme;

/// Pixels to a point.
const DENSITY: f32 = 2.0;

/// Draws into an area of `size` points, light, two pixels to a point; returns the bytes of a PNG file.
///
/// # Errors
/// In words, when the picture cannot be encoded.
pub(crate) fn png(size: Vec2, mut draw: impl FnMut(&Painter)) -> Result<Vec<u8>, String> {
    let ctx = Context::default();
    theme::apply(&ctx);
    ctx.set_theme(Theme::Light);
    let screen = Rect::from_min_size(Pos2::ZERO, size);
    let mut input = RawInput { screen_rect: Some(screen), max_texture_side: Some(8192), ..RawInput::default() };
    input.viewports.entry(input.viewport_id).or_default().native_pixels_per_point = Some(DENSITY);
    let mut output = ctx.run_ui(input, |ui| draw(&Painter::new(ui.ctx().clone(), ui.layer_id(), screen)));
    let mut textures = HashMap::new();
    for (id, deltas) in std::mem::take(&mut output.textures_delta.set) {
        for delta in deltas {
            update(&mut textures, id, delta);
        }
    }
    // Nothing is drawn after this, so nothing has to be freed one by one.
    output.textures_delta.clear();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few thousand pixels")]
    let [width, height] = [size.x, size.y].map(|side| (side * DENSITY).ceil() as usize);
    let mut picture = ColorImage::filled([width, height], Color32::WHITE);
    for clipped in ctx.tessellate(std::mem::take(&mut output.shapes), DENSITY) {
        if let Primitive::Mesh(mesh) = &clipped.primitive
            && let Some(texture) = textures.get(&mesh.texture_id)
        {
            fill(&mut picture, mesh, texture, clipped.clip_rect);
        }
    }
    encode(&picture)
}

fn encode(picture: &ColorImage) -> Result<Vec<u8>, String> {
    let side = |pixels: usize| u32::try_from(pixels).map_err(|_| "the picture is too large".to_owned());
    let (width, height) = (side(picture.size[0])?, side(picture.size[1])?);
    let rgb: Vec<u8> = picture.pixels.iter().flat_map(|pixel| [pixel.r(), pixel.g(), pixel.b()]).collect();
    let mut bytes = Vec::new();
    let encoder = PngEncoder::new(&mut bytes);
    encoder.write_image(&rgb, width, height, ExtendedColorType::Rgb8).map_err(|error| error.to_string())?;
    Ok(bytes)
}

fn update(textures: &mut HashMap<TextureId, ColorImage>, id: TextureId, delta: ImageDelta) {
    let ImageData::Color(image) = delta.image;
    match (delta.pos, textures.get_mut(&id)) {
        (Some([x, y]), Some(whole)) => {
            for row in 0..image.size[1] {
                let to = (y + row) * whole.size[0] + x;
                let from = row * image.size[0];
                whole.pixels[to..to + image.size[0]].copy_from_slice(&image.pixels[from..from + image.size[0]]);
            }
        }
        _ => drop(textures.insert(id, ColorImage::clone(&image))),
    }
}

fn fill(picture: &mut ColorImage, mesh: &Mesh, texture: &ColorImage, clip: Rect) {
    for corners in mesh.indices.chunks_exact(3) {
        let [a, b, c] = [0, 1, 2].map(|n| mesh.vertices[corners[n] as usize]);
        triangle(picture, [a, b, c], texture, clip);
    }
}

/// Twice the signed area of a triangle.
fn area(a: Pos2, b: Pos2, c: Pos2) -> f32 {
    (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "pixels within the picture")]
fn triangle(picture: &mut ColorImage, corners: [Vertex; 3], texture: &ColorImage, clip: Rect) {
    let [a, mut b, mut c] = corners.map(|v| Vertex { pos: (v.pos.to_vec2() * DENSITY).to_pos2(), ..v });
    if area(a.pos, b.pos, c.pos) < 0.0 {
        (b, c) = (c, b);
    }
    let whole = area(a.pos, b.pos, c.pos);
    let clip = Rect::from_min_max((clip.min.to_vec2() * DENSITY).to_pos2(), (clip.max.to_vec2() * DENSITY).to_pos2());
    let bounds = Rect::from_points(&[a.pos, b.pos, c.pos]).intersect(clip);
    // Written so that a triangle without area or with a figure that is not a number is left out.
    let solid = whole > 0.0 && bounds.is_positive() && bounds.is_finite();
    if !solid {
        return;
    }
    let [width, height] = picture.size;
    let (left, right) = (bounds.left().max(0.0) as usize, (bounds.right().ceil() as usize).min(width));
    let (top, bottom) = (bounds.top().max(0.0) as usize, (bounds.bottom().ceil() as usize).min(height));
    // A pixel on an edge belongs to the triangle on one side of it only.
    let counts = |weight: f32, from: Pos2, to: Pos2| {
        weight > 0.0 || (weight == 0.0 && (to.y < from.y || (to.y == from.y && to.x > from.x)))
    };
    for y in top..bottom {
        for x in left..right {
            let at = Pos2::new(x as f32 + 0.5, y as f32 + 0.5);
            let (wa, wb, wc) = (area(b.pos, c.pos, at), area(c.pos, a.pos, at), area(a.pos, b.pos, at));
            let inside = counts(wa, b.pos, c.pos) && counts(wb, c.pos, a.pos) && counts(wc, a.pos, b.pos);
            if !inside || !clip.contains(at) {
                continue;
            }
            let weights = [wa / whole, wb / whole, wc / whole];
            let mix = |of: fn(&Vertex) -> f32| of(&a) * weights[0] + of(&b) * weights[1] + of(&c) * weights[2];
            let tint: [f32; 4] = std::array::from_fn(|n| {
                f32::from(a.color[n]) * weights[0]
                    + f32::from(b.color[n]) * weights[1]
                    + f32::from(c.color[n]) * weights[2]
            });
            let texel = sample(texture, mix(|v| v.uv.x), mix(|v| v.uv.y));
            let pixel = &mut picture.pixels[y * width + x];
            *pixel = over(*pixel, std::array::from_fn(|n| tint[n] * texel[n] / 255.0));
        }
    }
}

/// A colour of the texture between its pixels, 0 to 255, opacity multiplied in.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the texture")]
fn sample(texture: &ColorImage, u: f32, v: f32) -> [f32; 4] {
    let [width, height] = texture.size;
    let (x, y) = ((u * width as f32 - 0.5).max(0.0), (v * height as f32 - 0.5).max(0.0));
    let (x0, y0) = ((x as usize).min(width - 1), (y as usize).min(height - 1));
    let (x1, y1) = ((x0 + 1).min(width - 1), (y0 + 1).min(height - 1));
    let (fx, fy) = ((x - x0 as f32).clamp(0.0, 1.0), (y - y0 as f32).clamp(0.0, 1.0));
    let at = |x: usize, y: usize| texture.pixels[y * width + x].to_array().map(f32::from);
    let (upper, lower) = ([at(x0, y0), at(x1, y0)], [at(x0, y1), at(x1, y1)]);
    let across = |row: &[[f32; 4]; 2], n: usize| row[0][n] * (1.0 - fx) + row[1][n] * fx;
    std::array::from_fn(|n| across(&upper, n) * (1.0 - fy) + across(&lower, n) * fy)
}

/// One colour over another, opacity multiplied in.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to a byte")]
fn over(below: Color32, above: [f32; 4]) -> Color32 {
    let rest = 1.0 - above[3] / 255.0;
    let mixed = |n: usize| (above[n] + f32::from(below[n]) * rest).round().clamp(0.0, 255.0) as u8;
    Color32::from_rgba_premultiplied(mixed(0), mixed(1), mixed(2), 255)
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::{CornerRadius, pos2, vec2};

    #[test]
    fn what_is_drawn_is_in_the_picture_at_its_place() {
        let red = Color32::from_rgb(200, 10, 20);
        let bytes = png(vec2(40.0, 20.0), |painter| {
            painter.rect_filled(painter.clip_rect(), CornerRadius::ZERO, Color32::WHITE);
            let square = Rect::from_min_max(pos2(10.0, 5.0), pos2(20.0, 15.0));
            painter.rect_filled(square, CornerRadius::ZERO, red);
            painter.rect_filled(square.translate(vec2(15.0, 0.0)), CornerRadius::ZERO, red.gamma_multiply(0.5));
        })
        .unwrap();
        let picture = image::load_from_memory(&bytes).unwrap().to_rgb8();
        assert_eq!((picture.width(), picture.height()), (80, 40));
        assert_eq!(picture.get_pixel(30, 20).0, [200, 10, 20]);
        assert_eq!(picture.get_pixel(10, 20).0, [255, 255, 255]);
        // Half of it over white, to a rounding.
        let half = picture.get_pixel(60, 20).0;
        assert!(half[0].abs_diff(228) <= 1 && half[1].abs_diff(133) <= 1, "{half:?}");
    }

    #[test]
    fn text_leaves_ink() {
        let bytes = png(vec2(60.0, 30.0), |painter| {
            let font = egui::FontId::proportional(16.0);
            painter.text(pos2(30.0, 15.0), egui::Align2::CENTER_CENTER, "C17", font, Color32::BLACK);
        })
        .unwrap();
        let picture = image::load_from_memory(&bytes).unwrap().to_luma8();
        let dark = picture.pixels().filter(|pixel| pixel.0[0] < 96).count();
        assert!((40..2000).contains(&dark), "{dark} dark pixels");
    }
}
