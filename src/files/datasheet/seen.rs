//! Which glyphs of a page are seen: those whose shape, drawn by itself, shows in the picture of the page in its own paint.

use std::rc::Rc;

use hayro::kurbo::{Affine, BezPath};
use hayro::vello_cpu::color::palette::css::{BLACK, WHITE};
use hayro::vello_cpu::{Pixmap, RasterizerSettings, RenderContext, Resources, TargetInit};

use super::page::{Rect, UNKNOWN_SIGN};
use super::words::Letter;

/// A glyph as drawn.
pub(super) struct Drawn {
    pub(super) letter: Letter,
    /// Around its outline; around its advance where it has none.
    pub(super) ink: Rect,
    /// Red, green, blue and opacity; `None` for patterns, outlines only and shapes with paints of their own.
    pub(super) paint: Option<[f32; 4]>,
    /// Its shape and where that is drawn, to compare.
    pub(super) shape: Option<(Rc<BezPath>, Affine)>,
}

pub(super) fn flushed(mut context: RenderContext) -> Pixmap {
    context.flush();
    let mut pixmap = Pixmap::new(context.width(), context.height());
    let settings = RasterizerSettings { target_init: TargetInit::Clear(WHITE), ..Default::default() };
    context.render_with(&mut pixmap, &mut Resources::default(), settings);
    pixmap
}

/// The glyphs that are seen. One that is not between two of its line that are stays, as a sign nobody can read: a figure that lost its point
/// would be another figure.
pub(super) fn seen(glyphs: Vec<Drawn>, shown: &[bool]) -> Vec<Letter> {
    let joins = |Drawn { letter: a, .. }: &Drawn, Drawn { letter: b, .. }: &Drawn| {
        let (dx, dy) = (b.from.0 - a.to.0, b.from.1 - a.to.1);
        dx.hypot(dy) <= 0.3 * a.size.max(b.size)
    };
    let beside = |at: usize| {
        let before = at.checked_sub(1).filter(|&before| shown[before] && joins(&glyphs[before], &glyphs[at]));
        let behind = (at + 1 < glyphs.len() && shown[at + 1] && joins(&glyphs[at], &glyphs[at + 1])).then_some(at + 1);
        let written = |at: usize| !glyphs[at].letter.text.trim().is_empty();
        before.is_some_and(written) || behind.is_some_and(written)
    };
    let lost: Vec<bool> = (0..glyphs.len()).map(|at| !shown[at] && beside(at)).collect();
    let kept = glyphs.into_iter().zip(shown.iter().zip(lost)).filter(|(_, (shown, lost))| **shown || *lost);
    let legible = |letter, lost: bool| if lost { Letter { text: UNKNOWN_SIGN.to_string(), ..letter } } else { letter };
    kept.map(|(glyph, (_, lost))| legible(glyph.letter, lost)).collect()
}

/// Whether a glyph's shape shows in the picture, in its own paint.
pub(super) fn is_seen(glyph: &Drawn, picture: &Pixmap, mask: &Pixmap, mask_at: (u16, u16), scale: f64) -> bool {
    /// Least difference from the ground, of 1 for black on white.
    const CONTRAST: f32 = 0.06;
    /// Least share of the shape's paint that shows.
    const SHARE: f32 = 0.4;
    if glyph.letter.text.trim().is_empty() {
        return true;
    }
    #[expect(clippy::cast_possible_truncation, reason = "a scale of a few pixels per point")]
    let scale = scale as f32;
    let Some(pixels) = pixels_of(glyph.ink, picture, mask, mask_at, scale) else { return false };
    let ground: Vec<&([f32; 3], f32)> = pixels.iter().filter(|(_, cover)| *cover < 0.02).collect();
    let ground = [0, 1, 2].map(|channel| {
        let mut values: Vec<f32> = ground.iter().map(|(colour, _)| colour[channel]).collect();
        values.sort_by(f32::total_cmp);
        values.get(values.len() / 2).copied().unwrap_or(1.0)
    });
    let from_ground = |colour: &[f32; 3]| [0, 1, 2].map(|channel| colour[channel] - ground[channel]);
    let length = |d: &[f32; 3]| (d.iter().map(|v| v * v).sum::<f32>() / 3.0).sqrt();
    if glyph.shape.is_none() {
        return pixels.iter().any(|(colour, _)| length(&from_ground(colour)) >= CONTRAST);
    }
    let covers: f32 = pixels.iter().map(|(_, cover)| cover * cover).sum();
    if covers < 0.01 {
        return false;
    }
    // The colour of the shape by least squares over how much of each pixel it covers.
    let shown = [0, 1, 2]
        .map(|channel| pixels.iter().map(|(colour, cover)| cover * from_ground(colour)[channel]).sum::<f32>() / covers);
    let Some([red, green, blue, opacity]) = glyph.paint else { return length(&shown) >= CONTRAST };
    let own = from_ground(&[red, green, blue]);
    let along = shown.iter().zip(own).map(|(a, b)| a * b).sum::<f32>() / (3.0 * length(&own).max(1e-6).powi(2));
    length(&own) * opacity >= CONTRAST && along >= SHARE * opacity.min(1.0) && along * length(&own) >= CONTRAST * 0.7
}

/// The pixels around a rectangle of the page: left, top, right, bottom; `None` when it lies beside the picture.
fn pixel_box(ink: Rect, picture: (u16, u16), scale: f32) -> Option<[u16; 4]> {
    const AROUND_PX: f32 = 2.0;
    const SIDE_PX_MAX: u16 = 200;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the picture")]
    let end = |at: f32, most: u16| at.clamp(0.0, f32::from(most)) as u16;
    let (x0, x1) = (end(ink.x0 * scale - AROUND_PX, picture.0), end(ink.x1 * scale + AROUND_PX + 1.0, picture.0));
    let (y0, y1) = (end(ink.y0 * scale - AROUND_PX, picture.1), end(ink.y1 * scale + AROUND_PX + 1.0, picture.1));
    let most = |from: u16, to: u16| to.min(from.saturating_add(SIDE_PX_MAX));
    (x0 < x1 && y0 < y1).then(|| [x0, y0, most(x0, x1), most(y0, y1)])
}

/// A glyph's shape drawn alone, and the pixel of the page its picture begins at.
pub(super) fn own_mask(glyph: &Drawn, scale: f64) -> Option<(Pixmap, (u16, u16))> {
    let (path, transform) = glyph.shape.as_ref()?;
    #[expect(clippy::cast_possible_truncation, reason = "a scale of a few pixels per point")]
    let [x0, y0, x1, y1] = pixel_box(glyph.ink, (u16::MAX, u16::MAX), scale as f32)?;
    let mut context = RenderContext::new(x1 - x0, y1 - y0);
    context.set_paint(BLACK);
    let to_corner = Affine::translate((-f64::from(x0), -f64::from(y0)));
    context.set_transform(to_corner * Affine::scale(scale) * *transform);
    context.fill_path(path);
    Some((flushed(context), (x0, y0)))
}

/// Colours of the picture and share covered by the shapes of a mask, around a rectangle; `None` when it lies beside the page.
fn pixels_of(
    ink: Rect,
    picture: &Pixmap,
    mask: &Pixmap,
    mask_at: (u16, u16),
    scale: f32,
) -> Option<Vec<([f32; 3], f32)>> {
    let [x0, y0, x1, y1] = pixel_box(ink, (picture.width(), picture.height()), scale)?;
    let share = |byte: u8| f32::from(byte) / 255.0;
    let mut pixels = Vec::new();
    for y in y0..y1 {
        for x in x0..x1 {
            let at = (x.checked_sub(mask_at.0), y.checked_sub(mask_at.1));
            let (Some(mask_x), Some(mask_y)) = at else { continue };
            if mask_x < mask.width() && mask_y < mask.height() {
                let (seen, drawn) = (picture.sample(x, y), mask.sample(mask_x, mask_y));
                pixels.push(([share(seen.r), share(seen.g), share(seen.b)], 1.0 - share(drawn.r)));
            }
        }
    }
    Some(pixels)
}
