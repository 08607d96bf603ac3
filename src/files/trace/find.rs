//! Where cans may be: proposals to be looked at, nothing more.

use super::patch::Patch;
use super::snap::Search;
use super::{Circle, Known};
use crate::files::photo::Photo;

/// Radii looked for where the scale is not known, of the shorter side of the photo.
const SHARES: [f64; 2] = [1.0 / 45.0, 1.0 / 5.0];
/// Radius at which circles are looked for, pixels of the patch, and how much larger the next one is.
const RADIUS: f64 = 11.0;
const RATIO: f64 = 1.3;
/// An edge votes from this strength on.
const EDGE: f32 = 0.5;
/// Circles judged at each size, and proposed at most.
const JUDGED: usize = 30;
const PROPOSED: usize = 40;
/// What a circle has to reach: a rim or a disc seen all round reaches 1 of 1.8 without the other.
const LEAST: [f32; 2] = [0.95, 0.62];

/// Circles of a photo that look like cans, the likeliest first; at most forty, none over another. With screws, holes and inductors
/// among them and cans missing (of the cans in photos of boards about half, own trials): to be confirmed one by one.
///
/// Each strong edge votes for the points a radius away on both sides of it (Hough transform with gradients); where many meet, the
/// circle is judged as [`super::snap`] does.
pub fn find(photo: &Photo, known: &Known) -> Vec<Circle> {
    let short_px = photo.width_px.min(photo.height_px) as f64;
    if short_px < 8.0 {
        return Vec::new();
    }
    let [least_px, most_px] = known.r_px.unwrap_or(SHARES.map(|share| share * short_px));
    let [least_px, most_px] = [least_px.max(4.0), most_px.min(short_px / 2.0)];
    let search = Search::free(known.smd, [least_px, most_px]);
    let least = LEAST[usize::from(known.smd)];
    let mut found: Vec<(f32, Circle)> = Vec::new();
    let mut r_px = least_px.max(short_px / 200.0);
    while r_px <= most_px {
        for circle in voted(photo, r_px) {
            let (score, circle) = search.judge(photo, circle);
            let inside = circle.x_px >= 0.0 && circle.y_px >= 0.0;
            let inside = inside && circle.x_px < photo.width_px as f64 && circle.y_px < photo.height_px as f64;
            if score >= least && inside {
                found.push((score, circle));
            }
        }
        r_px *= RATIO;
    }
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut kept: Vec<Circle> = Vec::new();
    for (_, circle) in found {
        let over = |other: &Circle| circle.distance_px(other) < 0.75 * circle.r_px.max(other.r_px);
        if kept.len() < PROPOSED && !kept.iter().any(over) {
            kept.push(circle);
        }
    }
    kept
}

/// Circles of about this radius for which many edges vote.
fn voted(photo: &Photo, r_px: f64) -> Vec<Circle> {
    let patch = Patch::whole(photo, r_px / RADIUS);
    let [width, height] = patch.size;
    let mut votes = vec![0.0_f32; width * height];
    for (at, &[u, v]) in patch.edge.iter().enumerate() {
        let strength = u.hypot(v);
        if strength < EDGE {
            continue;
        }
        // Half the doubled angle: across the edge, in one direction or the other.
        let angle = v.atan2(u) / 2.0;
        let (x, y) = ((at % width) as f32 + 0.5, (at / width) as f32 + 0.5);
        for r in [-12.5, -11.0, -9.7_f32, 9.7, 11.0, 12.5] {
            if let Some(to) = patch.pixel(x + r * angle.cos(), y + r * angle.sin()) {
                votes[to] += strength;
            }
        }
    }
    let row = |x: usize, y: usize| votes[y * width + x - 1..=y * width + x + 1].iter().sum::<f32>();
    let mut peaks: Vec<(f32, usize, usize)> = Vec::new();
    for y in 1..height - 1 {
        for x in 1..width - 1 {
            // A third of the circumference, at least.
            let total = row(x, y - 1) + row(x, y) + row(x, y + 1);
            if total > 22.0 {
                peaks.push((total, x, y));
            }
        }
    }
    peaks.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut kept: Vec<(usize, usize)> = Vec::new();
    for (_, x, y) in peaks {
        if !kept.iter().any(|&(a, b)| a.abs_diff(x).max(b.abs_diff(y)) <= 5) {
            kept.push((x, y));
        }
        if kept.len() == JUDGED {
            break;
        }
    }
    let circle = |(x, y): (usize, usize)| {
        let [x_px, y_px] = patch.outside([x as f32 + 0.5, y as f32 + 0.5]);
        Circle { x_px, y_px, r_px }
    };
    kept.into_iter().map(circle).collect()
}
