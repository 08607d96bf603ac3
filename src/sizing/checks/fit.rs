//! Whether the body, the leads and the neighbours agree with the room there is.

use super::limits::{AXIAL_SPAN_MM, pitch_tolerance_mm};
use crate::domain::{Assumed, Can, Check, Mounting, Outcome};
use crate::physics::body::{self, Body};
use crate::sizing::compare::{at_least, at_most};
use crate::sizing::evaluation::{Evaluation, FitFault, graded};
use crate::sizing::footprint::Placed;
use crate::sizing::position_context::PositionContext;

/// The worst of mounting, diameter, height, pitch, lead and neighbours; names the first of the worst.
pub(super) fn check(context: &PositionContext, can: &Can, evaluation: &mut Evaluation) {
    let body = body::of(can);
    let room = &context.room;
    let figures = &mut evaluation.figures;
    figures.diameter_slack_mm = room.diameter_max_mm.zip(body.diameter_max_mm).map(|(limit, own)| limit - own);
    figures.height_slack_mm = room.height_max_mm.zip(body.height_max_mm).map(|(limit, own)| limit - own);
    figures.pitch_error_mm =
        can.mounting.and(room.hole_pitch_mm).zip(can.pitch_mm).map(|(hole, own)| (own - hole).abs());
    let shadow = context.shadow(can, &body);
    figures.gap_mm = shadow.and_then(|shadow| context.neighbours.nearest(&shadow)).map(|(_, gap_mm)| gap_mm);
    let parts = [
        (FitFault::Mounting, mounting(context, can)),
        (FitFault::Diameter, diameter(context, can, &body)),
        (FitFault::Height, height(context, &body)),
        (FitFault::Pitch, pitch(context, can)),
        (FitFault::Lead, lead(context, can)),
        (FitFault::Neighbour, neighbours(context, shadow.as_ref())),
    ];
    let mut worst = (FitFault::None, Outcome::Pass);
    for part in parts {
        if part.1 > worst.1 {
            worst = part;
        }
    }
    evaluation.fit_fault = worst.0;
    evaluation.set(Check::Fit, worst.1);
    evaluation.assumed.insert_if(can.mounting.is_none(), Assumed::MOUNTING);
    evaluation.assumed.insert_if(body.diameter_assumed, Assumed::DIAMETER_MAX);
    evaluation.assumed.insert_if(body.height_assumed, Assumed::HEIGHT_MAX);
}

/// The original's kind passes, an accepted other kind is marginal. The part's kind missing, or the original's where none is
/// accepted: unknown.
fn mounting(context: &PositionContext, can: &Can) -> Outcome {
    let Some(own) = can.mounting else { return Outcome::Unknown };
    let accepted = context.position.space.accepts.iter().flatten().any(|&kind| kind == own);
    match context.position.original.can.mounting {
        Some(original) => graded(own == original, accepted),
        None if accepted => Outcome::Marginal,
        None => Outcome::Unknown,
    }
}

fn diameter(context: &PositionContext, can: &Can, body: &Body) -> Outcome {
    let (Some(limit_mm), Some(largest_mm)) = (context.room.diameter_max_mm, body.diameter_max_mm) else {
        return Outcome::Unknown;
    };
    if at_most(largest_mm, limit_mm) {
        return Outcome::Pass;
    }
    can.diameter_mm.map_or(Outcome::Unknown, |nominal_mm| graded(false, at_most(nominal_mm, limit_mm)))
}

/// Body and vent clearance under the lid. Too high without the vent clearance fails even where the clearance is unknown.
fn height(context: &PositionContext, body: &Body) -> Outcome {
    let (Some(limit_mm), Some(largest_mm)) = (context.room.height_max_mm, body.height_max_mm) else {
        return Outcome::Unknown;
    };
    if !at_most(largest_mm, limit_mm) {
        return Outcome::Fail;
    }
    body.vent_mm.map_or(Outcome::Unknown, |vent_mm| graded(at_most(largest_mm + vent_mm, limit_mm), true))
}

fn pitch(context: &PositionContext, can: &Can) -> Outcome {
    /// Differences of can diameter the pads take (from memory), mm.
    const PAD_PASS_MM: f64 = 0.3;
    const PAD_MARGINAL_MM: f64 = 1.7;
    let room = &context.room;
    let error_mm = || Some((can.pitch_mm? - room.hole_pitch_mm?).abs());
    let outcome = || {
        let mounting = can.mounting?;
        if let Some(tolerance_mm) = pitch_tolerance_mm(mounting) {
            let error_mm = error_mm()?;
            let formed = mounting == Mounting::Radial && at_most(error_mm, room.pitch_reach_mm);
            return Some(graded(at_most(error_mm, tolerance_mm), formed));
        }
        Some(match mounting {
            Mounting::Radial | Mounting::SnapIn | Mounting::Screw => Outcome::Unknown,
            Mounting::Axial => {
                let length_mm = body::lying_length_mm(can)?;
                graded(at_least(room.hole_pitch_mm?, length_mm + AXIAL_SPAN_MM), false)
            }
            Mounting::Smd => {
                let difference_mm = (can.diameter_mm? - context.position.original.can.diameter_mm?).abs();
                graded(at_most(difference_mm, PAD_PASS_MM), at_most(difference_mm, PAD_MARGINAL_MM))
            }
        })
    };
    outcome().unwrap_or(Outcome::Unknown)
}

/// Lead in its hole, where the hole is given (IPC-2222 levels B and C as quoted).
fn lead(context: &PositionContext, can: &Can) -> Outcome {
    const LEAD_TOLERANCE_MM: f64 = 0.05;
    const LEVEL_B_MM: f64 = 0.20;
    let Some(hole_mm) = context.position.space.hole_mm.filter(|_| can.mounting != Some(Mounting::Smd)) else {
        return Outcome::Pass;
    };
    can.lead_d_mm.map_or(Outcome::Unknown, |lead_mm| {
        let largest_mm = lead_mm + LEAD_TOLERANCE_MM;
        // Level C and a tight hole are both marginal, so the hole only has to take the largest lead.
        graded(at_most(largest_mm + LEVEL_B_MM, hole_mm), at_most(largest_mm, hole_mm))
    })
}

/// Gap to every located neighbour on the same side, between the shadows the map draws; a body that is not known leaves it
/// unknown unless another neighbour already collides.
fn neighbours(context: &PositionContext, shadow: Option<&Placed>) -> Outcome {
    let neighbours = &context.neighbours;
    let Some(own) = shadow else {
        return if neighbours.is_empty() { Outcome::Pass } else { Outcome::Unknown };
    };
    let of_gap = |(_, gap_mm)| graded(at_least(gap_mm, context.policy.can_gap_mm), at_least(gap_mm, 0.0));
    let known = neighbours.nearest(own).map_or(Outcome::Pass, of_gap);
    if neighbours.has_unknown() { known.max(Outcome::Unknown) } else { known }
}
