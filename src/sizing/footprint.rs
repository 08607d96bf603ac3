//! The shadow a body throws on its board, and the gap between two of them.

use crate::domain::{Can, Mounting};
use crate::physics::body::{self, Body};

/// A body seen from above, as large as it may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Footprint {
    /// A standing.
    Round {
        /// Largest diameter, mm.
        diameter_mm: f64,
    },
    /// An axial can, lying along the direction of its leads.
    Lying {
        /// Largest length, mm.
        length_mm: f64,
        /// Largest diameter, mm.
        diameter_mm: f64,
    },
}

impl Footprint {
    /// The shadow of `can`; `None` where a figure is missing.
    pub fn of(can: &Can) -> Option<Self> {
        Self::of_body(can, &body::of(can))
    }

    /// The same where the largest body is at hand.
    pub(super) fn of_body(can: &Can, body: &Body) -> Option<Self> {
        let diameter_mm = body.diameter_max_mm?;
        if can.mounting != Some(Mounting::Axial) {
            return Some(Self::Round { diameter_mm });
        }
        Some(Self::Lying { length_mm: body::lying_length_mm(can)?, diameter_mm })
    }

    /// Width and height of the shadow, mm, its leads along the first.
    pub fn size_mm(self) -> [f64; 2] {
        match self {
            Self::Round { diameter_mm } => [diameter_mm, diameter_mm],
            Self::Lying { length_mm, diameter_mm } => [length_mm, diameter_mm],
        }
    }
}

/// A shadow at its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placed {
    /// The shadow.
    pub footprint: Footprint,
    /// Its centre, mm.
    pub centre_mm: [f64; 2],
    /// Direction from the negative to the positive lead, degrees anticlockwise from the x axis.
    pub rotation_deg: f64,
}

impl Placed {
    /// The shadow of `can` with its centre at a place and its leads in a direction; `None` where its body is not known.
    pub fn of(can: &Can, centre_mm: [f64; 2], rotation_deg: Option<f64>) -> Option<Self> {
        Footprint::of(can).map(|footprint| Self::at(footprint, centre_mm, rotation_deg))
    }

    /// A shadow at a place; without a direction its leads lie along the x axis.
    pub fn at(footprint: Footprint, centre_mm: [f64; 2], rotation_deg: Option<f64>) -> Self {
        Self { footprint, centre_mm, rotation_deg: rotation_deg.unwrap_or(0.0) }
    }

    /// The same for measuring a gap: a lying body without a direction lies nobody knows how.
    pub(super) fn measured(footprint: Footprint, centre_mm: [f64; 2], rotation_deg: Option<f64>) -> Option<Self> {
        let known = rotation_deg.is_some() || matches!(footprint, Footprint::Round { .. });
        known.then(|| Self::at(footprint, centre_mm, rotation_deg))
    }

    /// Distance from the centre to the farthest point of the shadow, mm.
    pub(super) fn reach_mm(&self) -> f64 {
        match self.footprint {
            Footprint::Round { diameter_mm } => diameter_mm / 2.0,
            Footprint::Lying { length_mm, diameter_mm } => length_mm.hypot(diameter_mm) / 2.0,
        }
    }

    /// The gap to another body, mm; negative where they overlap.
    pub fn gap_mm(&self, other: &Self) -> f64 {
        match (self.footprint, other.footprint) {
            // By far the most, and worth no points.
            (Footprint::Round { diameter_mm: a }, Footprint::Round { diameter_mm: b }) => {
                length(between(self.centre_mm, other.centre_mm)) - f64::midpoint(a, b)
            }
            _ => self.gap(other).0,
        }
    }

    /// The gap to another body, mm, and the two points between which it lies; negative where they overlap.
    pub fn gap(&self, other: &Self) -> (f64, [[f64; 2]; 2]) {
        match (self.footprint, other.footprint) {
            (Footprint::Round { diameter_mm: a }, Footprint::Round { diameter_mm: b }) => {
                let towards = unit(between(self.centre_mm, other.centre_mm));
                let from = along(self.centre_mm, towards, a / 2.0);
                let to = along(other.centre_mm, towards, -b / 2.0);
                (self.gap_mm(other), [from, to])
            }
            (Footprint::Lying { .. }, Footprint::Round { diameter_mm }) => {
                let (distance_mm, on_self) = self.distance_to(other.centre_mm);
                let towards = unit(between(other.centre_mm, on_self));
                (distance_mm - diameter_mm / 2.0, [on_self, along(other.centre_mm, towards, diameter_mm / 2.0)])
            }
            (Footprint::Round { .. }, Footprint::Lying { .. }) => {
                let (gap_mm, [a, b]) = other.gap(self);
                (gap_mm, [b, a])
            }
            (Footprint::Lying { .. }, Footprint::Lying { .. }) => self.gap_of_rectangles(other),
        }
    }

    /// The four corners of a lying body, or of the square around a standing one, mm.
    pub fn corners_mm(&self) -> [[f64; 2]; 4] {
        let [width_mm, height_mm] = self.footprint.size_mm();
        let (right, up) = self.axes();
        [(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)]
            .map(|(x, y)| along(along(self.centre_mm, right, x * width_mm), up, y * height_mm))
    }

    /// The directions along and across the leads.
    pub fn axes(&self) -> ([f64; 2], [f64; 2]) {
        let (sin, cos) = self.rotation_deg.to_radians().sin_cos();
        ([cos, sin], [-sin, cos])
    }

    /// The distance from a rectangle to a point, negative inside, and the nearest point on its edge.
    fn distance_to(&self, point: [f64; 2]) -> (f64, [f64; 2]) {
        let [half_w, half_h] = self.footprint.size_mm().map(|side| side / 2.0);
        let (right, up) = self.axes();
        let offset = between(self.centre_mm, point);
        let (x, y) = (dot(offset, right), dot(offset, up));
        let (over_x, over_y) = (x.abs() - half_w, y.abs() - half_h);
        let (near_x, near_y) = if over_x <= 0.0 && over_y <= 0.0 {
            if over_x > over_y { (half_w.copysign(x), y) } else { (x, half_h.copysign(y)) }
        } else {
            (x.clamp(-half_w, half_w), y.clamp(-half_h, half_h))
        };
        let distance_mm =
            if over_x <= 0.0 && over_y <= 0.0 { over_x.max(over_y) } else { (x - near_x).hypot(y - near_y) };
        (distance_mm, along(along(self.centre_mm, right, near_x), up, near_y))
    }

    fn gap_of_rectangles(&self, other: &Self) -> (f64, [[f64; 2]; 2]) {
        let (a, b) = (self.corners_mm(), other.corners_mm());
        let spread = |corners: [[f64; 2]; 4], axis: [f64; 2]| {
            let on_axis = corners.map(|corner| dot(corner, axis));
            (on_axis.into_iter().fold(f64::MAX, f64::min), on_axis.into_iter().fold(f64::MIN, f64::max))
        };
        let separation = |axis: [f64; 2]| {
            let ((a_low, a_high), (b_low, b_high)) = (spread(a, axis), spread(b, axis));
            (b_low - a_high).max(a_low - b_high)
        };
        let axes = [self.axes().0, self.axes().1, other.axes().0, other.axes().1];
        let overlap_mm = axes.into_iter().map(separation).fold(f64::MIN, f64::max);
        if overlap_mm <= 0.0 {
            return (overlap_mm, [self.centre_mm, other.centre_mm]);
        }
        // Apart from each other, the shortest way starts at a corner of one of them.
        let from_a = a.into_iter().map(|corner| (corner, other.distance_to(corner))).map(|(c, (mm, p))| (mm, [c, p]));
        let from_b = b.into_iter().map(|corner| (corner, self.distance_to(corner))).map(|(c, (mm, p))| (mm, [p, c]));
        let shortest = from_a.chain(from_b).min_by(|a, b| a.0.total_cmp(&b.0));
        shortest.unwrap_or((overlap_mm, [self.centre_mm, other.centre_mm]))
    }
}

fn between(from: [f64; 2], to: [f64; 2]) -> [f64; 2] {
    [to[0] - from[0], to[1] - from[1]]
}

fn along(from: [f64; 2], direction: [f64; 2], by: f64) -> [f64; 2] {
    [from[0] + direction[0] * by, from[1] + direction[1] * by]
}

fn dot(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

fn length(v: [f64; 2]) -> f64 {
    v[0].hypot(v[1])
}

/// To the right where there is no direction.
fn unit(v: [f64; 2]) -> [f64; 2] {
    let length = length(v);
    if length > 0.0 { [v[0] / length, v[1] / length] } else { [1.0, 0.0] }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn round(x: f64, y: f64, diameter_mm: f64) -> Placed {
        Placed { footprint: Footprint::Round { diameter_mm }, centre_mm: [x, y], rotation_deg: 0.0 }
    }

    fn lying(x: f64, y: f64, rotation_deg: f64) -> Placed {
        let footprint = Footprint::Lying { length_mm: 30.0, diameter_mm: 10.0 };
        Placed { footprint, centre_mm: [x, y], rotation_deg }
    }

    fn gap(a: Placed, b: Placed) -> f64 {
        let (gap_mm, [from, to]) = a.gap(&b);
        let (back_mm, [back_from, back_to]) = b.gap(&a);
        assert!((gap_mm - back_mm).abs() < 1e-9, "the gap is the same from both sides");
        if gap_mm > 0.0 {
            assert!((length(between(from, to)) - gap_mm).abs() < 1e-9, "it lies between the two points");
            assert!(length(between(from, back_to)) < 1e-9 || length(between(back_from, back_to)) - gap_mm < 1e-9);
        }
        gap_mm
    }

    #[test]
    fn standing_cans_are_apart_by_their_radii() {
        assert!((gap(round(0.0, 0.0, 10.0), round(30.0, 40.0, 20.0)) - 35.0).abs() < 1e-9);
        assert!((gap(round(0.0, 0.0, 10.0), round(6.0, 0.0, 10.0)) + 4.0).abs() < 1e-9);
    }

    #[test]
    fn a_lying_can_keeps_its_length_and_thickness_apart() {
        assert!((gap(lying(0.0, 0.0, 0.0), round(0.0, 12.0, 10.0)) - 2.0).abs() < 1e-9);
        assert!((gap(lying(0.0, 0.0, 90.0), round(0.0, 22.0, 10.0)) - 2.0).abs() < 1e-9);
        assert!(gap(lying(0.0, 0.0, 0.0), round(12.0, 0.0, 4.0)) < 0.0, "a can within its outline overlaps");
    }

    #[test]
    fn two_lying_cans_are_measured_between_their_edges() {
        assert!((gap(lying(0.0, 0.0, 0.0), lying(0.0, 11.0, 0.0)) - 1.0).abs() < 1e-9);
        assert!((gap(lying(0.0, 0.0, 0.0), lying(0.0, 21.0, 90.0)) - 1.0).abs() < 1e-9);
        assert!(gap(lying(0.0, 0.0, 0.0), lying(5.0, 3.0, 45.0)) < 0.0);
        // Corner to corner: 3 and 4 mm apart.
        assert!((gap(lying(0.0, 0.0, 0.0), lying(33.0, 14.0, 0.0)) - 5.0).abs() < 1e-9);
    }
}
