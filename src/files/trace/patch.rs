//! A part of a photo at a scale of its own, and how strongly its edges lie around a point.

use crate::files::photo::Photo;

/// A gradient from here on counts fully, steps of 255 to a pixel of the patch: a highlight is no better an edge than a sleeve.
const CAP: f32 = 10.0;
/// Pixels of the photo looked at for one of the patch, at most so many each way.
const SAMPLES_MAX: f64 = 4.0;
/// Longest side of a patch, pixels of its own.
const SIDE_MAX: f64 = 2000.0;

/// A rectangle of a photo, reduced or enlarged.
pub(super) struct Patch {
    /// Width and height, pixels of the patch.
    pub(super) size: [usize; 2],
    /// Its upper left corner in the photo.
    corner_px: [f64; 2],
    /// Pixels of the photo to one of the patch.
    pub(super) step_px: f64,
    /// Lightness and two differences of colour, 0 to 255.
    colour: Vec<[f32; 3]>,
    /// Strength of the edge, 0 to 1, times cosine and sine of twice the direction across it: opposite directions are one.
    pub(super) edge: Vec<[f32; 2]>,
}

/// What rays from a point meet at each whole radius.
pub(super) struct Rings {
    /// Mean strength of edges along the circle less that of edges across it, -1 to 1.
    pub(super) edge: Vec<f32>,
    /// Mean lightness, 0 to 255.
    pub(super) light: Vec<f32>,
}

/// Cosine and sine of so many directions, and of twice the angle.
pub(super) fn rays(count: u16) -> Vec<[f32; 4]> {
    let angle = |n: u16| (f32::from(n) + 0.5) / f32::from(count) * std::f32::consts::TAU;
    (0..count).map(angle).map(|a| [a.cos(), a.sin(), (2.0 * a).cos(), (2.0 * a).sin()]).collect()
}

/// The mean colour of a square of the photo: red, green, blue. What lies outside repeats the edge of the photo.
fn mean(photo: &Photo, [left, top]: [f64; 2], step_px: f64) -> [f32; 3] {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "within the photo")]
    let at = |v: f64, count: usize| (v.max(0.0) as usize).min(count - 1);
    let pixel = |x: usize, y: usize| {
        let from = (y * photo.width_px + x) * 4;
        [photo.rgba[from], photo.rgba[from + 1], photo.rgba[from + 2]].map(f32::from)
    };
    if step_px <= 1.0 {
        // Between four pixels.
        let [x, y] = [left, top].map(|v| v + step_px / 2.0 - 0.5);
        let [x0, x1] = [x, x + 1.0].map(|v| at(v, photo.width_px));
        let [y0, y1] = [y, y + 1.0].map(|v| at(v, photo.height_px));
        #[expect(clippy::cast_possible_truncation, reason = "shares of a pixel")]
        let [fx, fy] = [x, y].map(|v| (v - v.floor()) as f32);
        let corners = [pixel(x0, y0), pixel(x1, y0), pixel(x0, y1), pixel(x1, y1)];
        let weights = [(1.0 - fx) * (1.0 - fy), fx * (1.0 - fy), (1.0 - fx) * fy, fx * fy];
        return std::array::from_fn(|n| corners.iter().zip(weights).map(|(colour, weight)| colour[n] * weight).sum());
    }
    let (mut sum, mut count) = ([0.0; 3], 0.0);
    let each = step_px.ceil().min(SAMPLES_MAX);
    let step = step_px / each;
    let mut y = step / 2.0;
    while y < step_px {
        let row = at(top + y, photo.height_px);
        let mut x = step / 2.0;
        while x < step_px {
            let colour = pixel(at(left + x, photo.width_px), row);
            sum = std::array::from_fn(|n| sum[n] + colour[n]);
            count += 1.0;
            x += step;
        }
        y += step;
    }
    sum.map(|v: f32| v / count)
}

impl Patch {
    /// The square of a photo around a point.
    pub(super) fn around(photo: &Photo, centre_px: [f64; 2], half_px: f64, step_px: f64) -> Self {
        let side = (2.0 * half_px / step_px).ceil().clamp(8.0, SIDE_MAX);
        Self::new(photo, centre_px.map(|at| at - side * step_px / 2.0), [side, side], step_px)
    }

    /// The whole photo.
    pub(super) fn whole(photo: &Photo, step_px: f64) -> Self {
        let size = [photo.width_px, photo.height_px].map(|side| (side as f64 / step_px).ceil().clamp(8.0, SIDE_MAX));
        Self::new(photo, [0.0, 0.0], size, step_px)
    }

    /// `photo` has at least one pixel.
    fn new(photo: &Photo, corner_px: [f64; 2], size: [f64; 2], step_px: f64) -> Self {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped")]
        let [width, height] = size.map(|side| side as usize);
        let mut colour = Vec::with_capacity(width * height);
        for y in 0..height {
            let top = corner_px[1] + y as f64 * step_px;
            for x in 0..width {
                let [r, g, b] = mean(photo, [corner_px[0] + x as f64 * step_px, top], step_px);
                colour.push([0.3 * r + 0.5 * g + 0.2 * b, 0.7 * (r - g), 0.25 * (r + g - 2.0 * b)]);
            }
        }
        let edge = edges(&colour, width, height);
        Self { size: [width, height], corner_px, step_px, colour, edge }
    }

    /// A place of the photo in the patch.
    pub(super) fn inside(&self, [x_px, y_px]: [f64; 2]) -> [f32; 2] {
        #[expect(clippy::cast_possible_truncation, reason = "pixels of a patch")]
        let at = |v: f64, corner: f64| ((v - corner) / self.step_px) as f32;
        [at(x_px, self.corner_px[0]), at(y_px, self.corner_px[1])]
    }

    /// A place of the patch in the photo.
    pub(super) fn outside(&self, [x, y]: [f32; 2]) -> [f64; 2] {
        [f64::from(x) * self.step_px + self.corner_px[0], f64::from(y) * self.step_px + self.corner_px[1]]
    }

    /// The pixel at a place, unless it lies outside.
    pub(super) fn pixel(&self, x: f32, y: f32) -> Option<usize> {
        if x < 0.0 || y < 0.0 {
            return None;
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "not negative")]
        let (x, y) = (x as usize, y as usize);
        (x < self.size[0] && y < self.size[1]).then_some(y * self.size[0] + x)
    }

    /// Lightness at a place, 0 to 255.
    pub(super) fn light(&self, x: f32, y: f32) -> Option<f32> {
        self.pixel(x, y).map(|at| self.colour[at][0])
    }

    /// What rays from a point meet at the radii `from` to `to`; nothing at smaller ones.
    pub(super) fn rings(&self, [x, y]: [f32; 2], [from, to]: [usize; 2], rays: &[[f32; 4]]) -> Rings {
        let mut rings = Rings { edge: vec![0.0; to + 1], light: vec![0.0; to + 1] };
        for radius in from..=to {
            let (mut edge, mut light, mut met) = (0.0, 0.0, 0.0);
            for &[cos, sin, cos2, sin2] in rays {
                let Some(at) = self.pixel(x + radius as f32 * cos, y + radius as f32 * sin) else { continue };
                let [along, across] = self.edge[at];
                edge += along * cos2 + across * sin2;
                light += self.colour[at][0];
                met += 1.0;
            }
            rings.edge[radius] = edge / rays.len() as f32;
            rings.light[radius] = light / f32::max(met, 1.0);
        }
        rings
    }
}

/// Strength and direction of the edge at each pixel, over lightness and colour together (structure tensor).
fn edges(colour: &[[f32; 3]], width: usize, height: usize) -> Vec<[f32; 2]> {
    let mut edge = vec![[0.0; 2]; width * height];
    for y in 1..height - 1 {
        for x in 1..width - 1 {
            let at = y * width + x;
            let (up, down) = (at - width, at + width);
            let [mut xx, mut xy, mut yy] = [0.0_f32; 3];
            for channel in [0, 1, 2] {
                let v = |at: usize| colour[at][channel];
                let dx = 2.0 * (v(at + 1) - v(at - 1)) + v(up + 1) - v(up - 1) + v(down + 1) - v(down - 1);
                let dy = 2.0 * (v(down) - v(up)) + v(down - 1) - v(up - 1) + v(down + 1) - v(up + 1);
                xx += dx * dx;
                xy += dx * dy;
                yy += dy * dy;
            }
            let total = xx + yy;
            // The sums are eight times the gradient.
            let strength = (total.sqrt() / 8.0 / CAP).min(1.0) / total.max(1e-6);
            edge[at] = [strength * (xx - yy), strength * 2.0 * xy];
        }
    }
    edge
}
