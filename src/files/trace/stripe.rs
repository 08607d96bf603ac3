//! The stripe that marks the negative side, on the sleeve of a can or on the metal of a surface-mounted one.

use super::Circle;
use super::patch::{Patch, rays};
use crate::files::photo::Photo;

/// Directions looked at.
const SECTORS: u16 = 72;
/// Radius of the can, pixels of the patch.
const RADIUS: f32 = 40.0;
/// Least difference of lightness between stripe and rest, steps of 255, and how much larger it is than what else varies.
const LEAST: [f32; 2] = [18.0, 0.9];

/// Direction from the centre of a can to its stripe, degrees from the right, clockwise as one looks at the photo (its y runs
/// down), 0 to 360; `None` where no part of the ring stands out.
///
/// The lightness of the ring by direction is compared with itself: the sector that differs most from the rest, measured against
/// what rest and sector vary by. On a sleeve (0.82 to 0.96 of the radius) a stripe spans 30 to 75 degrees and may be lighter or
/// darker, on bare metal (0.5 to 0.9) it is the dark segment of 80 to 140 degrees (common practice, no source).
pub fn stripe(photo: &Photo, circle: Circle, smd: bool) -> Option<f64> {
    let finite = [circle.x_px, circle.y_px, circle.r_px].iter().all(|v| v.is_finite() && v.abs() < 1e6);
    if !finite || circle.r_px < 3.0 || photo.width_px == 0 || photo.height_px == 0 {
        return None;
    }
    let (radii, widths, dark_only) =
        if smd { ([0.5, 0.9], [16, 20, 24, 28], true) } else { ([0.82, 0.96], [6, 8, 11, 15], false) };
    let step_px = circle.r_px / f64::from(RADIUS);
    let patch = Patch::around(photo, [circle.x_px, circle.y_px], circle.r_px * 1.05, step_px);
    let [x, y] = patch.inside([circle.x_px, circle.y_px]);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few pixels")]
    let [from, to] = radii.map(|share: f32| (share * RADIUS) as u16);
    let rays = rays(SECTORS);
    let light: Vec<f32> = rays
        .iter()
        .map(|[cos, sin, ..]| {
            let along = (from..=to).filter_map(|r| patch.light(x + f32::from(r) * cos, y + f32::from(r) * sin));
            let (sum, count) = along.fold((0.0, 0.0), |(sum, count), light| (sum + light, count + 1.0));
            sum / f32::max(count, 1.0)
        })
        .collect();
    let candidates = widths.iter().flat_map(|&width| (0..light.len()).map(move |first| (first, width)));
    let judged = candidates.filter_map(|(first, width)| {
        let turned = |n: usize| light[(first + n) % light.len()];
        // One sector on either side is neither: an edge is never sharp.
        let [inside, spread_in] = mean_and_spread((0..width).map(turned))?;
        let [rest, spread] = mean_and_spread((width + 1..light.len() - 1).map(turned))?;
        let difference = (inside - rest).abs();
        let right = difference >= LEAST[0] && (!dark_only || inside < rest);
        right.then_some((difference / (spread + spread_in + 8.0), first as f64 + width as f64 / 2.0))
    });
    let (strength, middle) = judged.max_by(|a, b| a.0.total_cmp(&b.0))?;
    (strength >= LEAST[1]).then_some((middle * 360.0 / f64::from(SECTORS)).rem_euclid(360.0))
}

fn mean_and_spread(values: impl Iterator<Item = f32> + Clone) -> Option<[f32; 2]> {
    let (sum, count) = values.clone().fold((0.0, 0.0_f32), |(sum, count), v| (sum + v, count + 1.0));
    let mean = sum / count;
    let spread = (values.map(|v| (v - mean).powi(2)).sum::<f32>() / count).sqrt();
    (count > 0.0).then_some([mean, spread])
}
