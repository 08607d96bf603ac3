//! From a rough circle to the rim of the can.

use super::patch::{Patch, Rings, rays};
use super::{Circle, Known};
use crate::files::photo::Photo;

/// Radius at which a can is looked for, pixels of the patch: the letters on its sleeve are smoothed away there.
const SEARCH: f64 = 16.0;
/// Radius at which what was found is judged: every candidate at the same one, so that large and small compare.
const JUDGE: f64 = 22.0;
/// Candidates judged.
const JUDGED: usize = 8;
/// How far the centre may lie from that of the start, radii.
const REACH: f64 = 0.75;
/// Radii looked at, of the start's, where the scale is not known.
const RADII: [f64; 2] = [0.5, 2.1];
/// What the inner circle counts beside the rim.
const INNER: f32 = 0.8;
/// Where the sleeve ends and the bare disc begins, radii.
const DISC: [f32; 2] = [0.60, 0.80];
/// What a disc lighter than the sleeve around it counts, at most, and the difference from which it does.
const LIGHTER: [f32; 2] = [0.2, 80.0];
/// What a start counts: so much is lost by a circle half a radius away, and by one about a third larger or smaller.
const START: f64 = 0.025;

/// The circle of a can near a rough one; the rough one where the photo shows nothing at all.
///
/// The score of a circle is the mean over rays from its centre of the strength of edges, capped, that lie along the circle less
/// those that lie across it (cosine of twice the angle; whether light or dark is inside does not matter). A can with a sleeve shows
/// two circles, of which the inner one, around the bare disc, is the stronger: the pair is scored, with what the disc is lighter.
/// A weak prior keeps to the start. First around the start at a coarse scale, then the best few each at a scale of its own.
/// Right within a tenth of the diameter in more than nine of ten trials on photos of boards from starts a quarter of the diameter off
/// (own trials, November 2026).
pub fn snap(photo: &Photo, start: Circle, known: &Known) -> Circle {
    let finite = [start.x_px, start.y_px, start.r_px].iter().all(|v| v.is_finite() && v.abs() < 1e6);
    if !finite || start.r_px <= 0.0 || photo.width_px == 0 || photo.height_px == 0 {
        return start;
    }
    let search = Search::new(start, known);
    let found = search.candidates(photo);
    let judged = found.into_iter().map(|circle| search.judge(photo, circle));
    judged.max_by(|a, b| a.0.total_cmp(&b.0)).map_or(start, |(_, circle)| circle)
}

/// Where and what is looked for.
pub(super) struct Search {
    start: Circle,
    /// Radius that is most likely, pixels.
    usual_px: f64,
    radii_px: [f64; 2],
    is_ranged: bool,
    smd: bool,
    /// Whether a start counts.
    is_free: bool,
}

impl Search {
    fn new(start: Circle, known: &Known) -> Self {
        let r = start.r_px;
        let ranged = known.r_px.filter(|[lo, hi]| *lo > 0.0 && lo <= hi && hi.is_finite());
        let (usual_px, radii_px) = match ranged {
            Some([lo, hi]) => ((lo * hi).sqrt().clamp(r / 1.6, r * 1.6).clamp(lo, hi), [lo, hi]),
            None => (r, RADII.map(|factor| factor * r)),
        };
        Self { start, usual_px, radii_px, is_ranged: ranged.is_some(), smd: known.smd, is_free: false }
    }

    /// What is judged without a start: only how much a circle looks like a can.
    pub(super) fn free(smd: bool, radii_px: [f64; 2]) -> Self {
        let start = Circle { x_px: 0.0, y_px: 0.0, r_px: radii_px[0] };
        Self { start, usual_px: start.r_px, radii_px, is_ranged: true, smd, is_free: true }
    }

    /// What a circle loses by being away from the start.
    fn away(&self, [x_px, y_px]: [f64; 2], r_px: f64) -> f32 {
        if self.is_free {
            return 0.0;
        }
        let off = (x_px - self.start.x_px).hypot(y_px - self.start.y_px) / (0.5 * (self.usual_px + r_px));
        let size = (r_px / self.usual_px).ln() / 0.3;
        // A known scale says more than the hand.
        let of_size = if self.is_ranged { 0.3 } else { 1.0 };
        #[expect(clippy::cast_possible_truncation, reason = "a score")]
        let lost = (START * ((off / 0.5).powi(2) + of_size * size.powi(2))) as f32;
        lost
    }

    /// The best circles at a coarse scale that are not one.
    fn candidates(&self, photo: &Photo) -> Vec<Circle> {
        let step_px = self.usual_px / SEARCH;
        let [least, most] = self.radii_px.map(|r| (r / step_px).clamp(4.0, SEARCH * 2.6));
        let half_px = (REACH * SEARCH + most + 3.0) * step_px;
        let patch = Patch::around(photo, [self.start.x_px, self.start.y_px], half_px, step_px);
        let [x0, y0] = patch.inside([self.start.x_px, self.start.y_px]);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped")]
        let (least, most, reach) = (least as usize, most.ceil() as usize, (REACH * SEARCH) as i16);
        let rays = rays(32);
        let mut found: Vec<(f32, [f32; 2], f32)> = Vec::new();
        for dy in (-reach..=reach).step_by(2) {
            for dx in (-reach..=reach).step_by(2).filter(|dx| dx * dx + dy * dy <= reach * reach) {
                let at = [x0 + f32::from(dx), y0 + f32::from(dy)];
                let rings = patch.rings(at, [1, most], &rays);
                let of = |r: usize| score(&rings, r, self.smd) - self.away(patch.outside(at), r as f64 * step_px);
                let scores: Vec<f32> = (least..=most).map(of).collect();
                for (n, &score) in scores.iter().enumerate() {
                    let beside = |m: Option<usize>| m.and_then(|m| scores.get(m)).is_none_or(|other| score >= *other);
                    if beside(n.checked_sub(1)) && beside(Some(n + 1)) {
                        found.push((score, at, (least + n) as f32));
                    }
                }
            }
        }
        found.sort_by(|a, b| b.0.total_cmp(&a.0));
        let mut kept: Vec<([f32; 2], f32)> = Vec::new();
        for (_, at, r) in found {
            let same = |(other, r2): &([f32; 2], f32)| {
                (at[0] - other[0]).hypot(at[1] - other[1]) <= 0.12 * r2 && (r - r2).abs() <= 0.08 * r2
            };
            if !kept.iter().any(same) {
                kept.push((at, r));
            }
            if kept.len() == JUDGED {
                break;
            }
        }
        let circle = |(at, r): ([f32; 2], f32)| {
            let [x_px, y_px] = patch.outside(at);
            Circle { x_px, y_px, r_px: f64::from(r) * step_px }
        };
        kept.into_iter().map(circle).collect()
    }

    /// How much a circle looks like a can, after it was moved to where it does most; at its own scale.
    pub(super) fn judge(&self, photo: &Photo, circle: Circle) -> (f32, Circle) {
        const ROOM: f64 = 0.12;
        let step_px = circle.r_px / JUDGE;
        let half_px = (JUDGE * (1.0 + 2.0 * ROOM) + 3.0) * step_px;
        let patch = Patch::around(photo, [circle.x_px, circle.y_px], half_px, step_px);
        let rays = rays(64);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few pixels")]
        let [least, most] = [JUDGE * (1.0 - ROOM), JUDGE * (1.0 + ROOM)].map(|r| r as usize);
        let best = |at: [f32; 2]| {
            let rings = patch.rings(at, [1, most], &rays);
            let within = |r: &usize| {
                let r_px = *r as f64 * step_px;
                !self.is_ranged || (r_px >= self.radii_px[0] * 0.97 && r_px <= self.radii_px[1] * 1.03)
            };
            let of = |r: usize| (score(&rings, r, self.smd) - self.away(patch.outside(at), r as f64 * step_px), r);
            (least..=most).filter(within).map(of).max_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((f32::MIN, least))
        };
        let mut at = patch.inside([circle.x_px, circle.y_px]);
        let mut found = best(at);
        for step in [2.0, 1.0] {
            for _ in 0..3 {
                let before = at;
                for [dx, dy] in [[step, 0.0], [-step, 0.0], [0.0, step], [0.0, -step]] {
                    let there = [at[0] + dx, at[1] + dy];
                    let other = best(there);
                    if other.0 > found.0 {
                        (found, at) = (other, there);
                    }
                }
                if at == before {
                    break;
                }
            }
        }
        let [x_px, y_px] = patch.outside(at);
        (found.0, Circle { x_px, y_px, r_px: found.1 as f64 * step_px })
    }
}

/// How much the rings around a point look like a can of this radius.
fn score(rings: &Rings, r: usize, smd: bool) -> f32 {
    let rim = rings.edge[r];
    if smd {
        return rim;
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of a small radius")]
    let [from, to] = DISC.map(|share| ((r as f32 * share).round() as usize).max(1));
    let inner = (from..=to).max_by(|&a, &b| rings.edge[a].total_cmp(&rings.edge[b])).unwrap_or(from);
    // Of the disc the outer rings have the larger area.
    let disc = (1..inner).fold([0.0, 0.0], |[sum, area], r| [sum + rings.light[r] * r as f32, area + r as f32]);
    let sleeve = rings.light.get(inner + 1..r).unwrap_or_default();
    let lighter = if sleeve.is_empty() || disc[1] == 0.0 {
        0.0
    } else {
        disc[0] / disc[1] - sleeve.iter().sum::<f32>() / sleeve.len() as f32
    };
    rim + INNER * rings.edge[inner] + LIGHTER[0] * (lighter / LIGHTER[1]).clamp(-1.0, 1.0)
}
