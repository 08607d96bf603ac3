//! Whether the body, the leads and the neighbours agree with the room there is.

use super::graded;
use crate::domain::{Assumed, Can, Check, Mounting, Outcome};
use crate::physics::body::{self, Body};
use crate::sizing::compare::{at_least, at_most};
use crate::sizing::evaluation::{Evaluation, FitFault};
use crate::sizing::place::Place;

/// The worst of mounting, diameter, height, pitch, lead and neighbours; names the first of the worst.
pub(super) fn check(place: &Place, can: &Can, evaluation: &mut Evaluation) {
    let body = body::of(can);
    let room = &place.room;
    let figures = &mut evaluation.figures;
    figures.diameter_slack_mm = room.diameter_max_mm.zip(body.diameter_max_mm).map(|(limit, own)| limit - own);
    figures.height_slack_mm = room.height_max_mm.zip(body.height_max_mm).map(|(limit, own)| limit - own);
    figures.pitch_error_mm =
        can.mounting.and(room.hole_pitch_mm).zip(can.pitch_mm).map(|(hole, own)| (own - hole).abs());
    figures.gap_mm = smallest_gap_mm(place, &body);
    let parts = [
        (FitFault::Mounting, mounting(place, can)),
        (FitFault::Diameter, diameter(place, can, &body)),
        (FitFault::Height, height(place, &body)),
        (FitFault::Pitch, pitch(place, can)),
        (FitFault::Lead, lead(place, can)),
        (FitFault::Neighbour, neighbours(place, &body)),
    ];
    let mut worst = (FitFault::None, Outcome::Pass);
    for part in parts {
        if part.1 > worst.1 {
            worst = part;
        }
    }
    evaluation.fit_fault = worst.0;
    evaluation.set(Check::Fit, worst.1);
    if can.mounting.is_none() {
        evaluation.assumed.insert(Assumed::MOUNTING);
    }
    if body.diameter_assumed {
        evaluation.assumed.insert(Assumed::DIAMETER_MAX);
    }
    if body.height_assumed {
        evaluation.assumed.insert(Assumed::HEIGHT_MAX);
    }
}

/// The original's kind passes, an accepted other kind is marginal. Either kind missing: unknown.
fn mounting(place: &Place, can: &Can) -> Outcome {
    let (Some(own), Some(original)) = (can.mounting, place.position.original.can.mounting) else {
        return Outcome::Unknown;
    };
    let accepted = place.position.space.accepts.iter().flatten().any(|&kind| kind == own);
    graded(own == original, accepted)
}

fn diameter(place: &Place, can: &Can, body: &Body) -> Outcome {
    let (Some(limit_mm), Some(largest_mm)) = (place.room.diameter_max_mm, body.diameter_max_mm) else {
        return Outcome::Unknown;
    };
    if at_most(largest_mm, limit_mm) {
        return Outcome::Pass;
    }
    can.diameter_mm.map_or(Outcome::Unknown, |nominal_mm| graded(false, at_most(nominal_mm, limit_mm)))
}

/// Body and vent clearance under the lid. Too high without the vent clearance fails even where the clearance is unknown.
fn height(place: &Place, body: &Body) -> Outcome {
    let (Some(limit_mm), Some(largest_mm)) = (place.room.height_max_mm, body.height_max_mm) else {
        return Outcome::Unknown;
    };
    if !at_most(largest_mm, limit_mm) {
        return Outcome::Fail;
    }
    body.vent_mm.map_or(Outcome::Unknown, |vent_mm| graded(at_most(largest_mm + vent_mm, limit_mm), true))
}

fn pitch(place: &Place, can: &Can) -> Outcome {
    /// Pitch tolerance of radial parts (published, Panasonic SU data sheet), mm.
    const RADIAL_TOLERANCE_MM: f64 = 0.5;
    /// Stiff terminals cannot be formed (common practice, no source), mm.
    const STIFF_TOLERANCE_MM: f64 = 0.3;
    /// Least length of hole span over the body of an axial part (KiCad axial footprints, open data), mm.
    const AXIAL_SPAN_MM: f64 = 3.0;
    /// Differences of can diameter the pads take (from memory), mm.
    const PAD_PASS_MM: f64 = 0.3;
    const PAD_MARGINAL_MM: f64 = 1.7;
    let room = &place.room;
    let error_mm = || Some((can.pitch_mm? - room.hole_pitch_mm?).abs());
    let outcome = || {
        Some(match can.mounting? {
            Mounting::Radial => {
                let error_mm = error_mm()?;
                graded(at_most(error_mm, RADIAL_TOLERANCE_MM), at_most(error_mm, room.pitch_reach_mm))
            }
            Mounting::SnapIn | Mounting::Screw => graded(at_most(error_mm()?, STIFF_TOLERANCE_MM), false),
            Mounting::Axial => graded(at_least(room.hole_pitch_mm?, can.height_mm? + AXIAL_SPAN_MM), false),
            Mounting::Smd => {
                let difference_mm = (can.diameter_mm? - place.position.original.can.diameter_mm?).abs();
                graded(at_most(difference_mm, PAD_PASS_MM), at_most(difference_mm, PAD_MARGINAL_MM))
            }
        })
    };
    outcome().unwrap_or(Outcome::Unknown)
}

/// Lead in its hole, where the hole is given (IPC-2222 levels B and C as quoted).
fn lead(place: &Place, can: &Can) -> Outcome {
    const LEAD_TOLERANCE_MM: f64 = 0.05;
    const LEVEL_B_MM: f64 = 0.20;
    let Some(hole_mm) = place.position.space.hole_mm.filter(|_| can.mounting != Some(Mounting::Smd)) else {
        return Outcome::Pass;
    };
    can.lead_d_mm.map_or(Outcome::Unknown, |lead_mm| {
        let largest_mm = lead_mm + LEAD_TOLERANCE_MM;
        // Level C and a tight hole are both marginal, so the hole only has to take the largest lead.
        graded(at_most(largest_mm + LEVEL_B_MM, hole_mm), at_most(largest_mm, hole_mm))
    })
}

fn gap_mm(centre_distance_mm: f64, own_mm: f64, other_mm: f64) -> f64 {
    centre_distance_mm - f64::midpoint(own_mm, other_mm)
}

fn smallest_gap_mm(place: &Place, body: &Body) -> Option<f64> {
    let own_mm = body.diameter_max_mm?;
    let gap = |n: &crate::sizing::place::Neighbour| Some(gap_mm(n.centre_distance_mm, own_mm, n.diameter_max_mm?));
    place.neighbours.iter().filter_map(gap).reduce(f64::min)
}

/// Gap to every located neighbour on the same side; a body that is not known leaves it unknown unless another neighbour
/// already collides.
fn neighbours(place: &Place, body: &Body) -> Outcome {
    let one = |n: &crate::sizing::place::Neighbour| {
        let (Some(own_mm), Some(other_mm)) = (body.diameter_max_mm, n.diameter_max_mm) else {
            return Outcome::Unknown;
        };
        let gap_mm = gap_mm(n.centre_distance_mm, own_mm, other_mm);
        graded(at_least(gap_mm, place.policy.can_gap_mm), at_least(gap_mm, 0.0))
    };
    place.neighbours.iter().map(one).max().unwrap_or_default()
}
