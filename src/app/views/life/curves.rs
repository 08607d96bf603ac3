//! The curves the plots draw: the candidate in question, the chosen, the pinned, the hovered and the original, each worked out once.

use std::sync::Arc;

use crate::app::state::{Candidate, Scene, Session};
use crate::domain::{Can, Job, PositionId, Variant};
use crate::sizing::PositionContext;
use crate::sizing::curves::{Axis, Curve, CurvePoint, CurveSet, curve_set, steps};

const STEPS: u32 = 110;

#[derive(Debug, Clone, PartialEq)]
struct Key {
    position: PositionId,
    shown: Vec<Candidate>,
    second: Axis,
    variant: Variant,
}

#[derive(Debug, Default)]
pub(crate) struct Curves {
    key: Option<(Arc<Job>, Key)>,
    /// Whose they are, in the order drawn.
    pub shown: Vec<Candidate>,
    /// Against the ambient, and against the condition of the second plot; under other conditions where those are looked at.
    pub sets: Option<[CurveSet; 2]>,
    /// The life of each with the load profile as entered.
    pub entered: Vec<CurvePoint>,
}

impl Curves {
    /// Works out what is not there yet: a few hundred lives, well under a millisecond.
    pub(super) fn provide(&mut self, session: &Session, second: Axis, variant: &Variant) {
        let scene = session.scene();
        let Some((id, _)) = scene.position() else {
            *self = Self::default();
            return;
        };
        let key = Key { position: id, shown: shown(&scene), second, variant: variant.clone() };
        let known = self.key.as_ref();
        if known.is_some_and(|(job, known)| Arc::ptr_eq(job, session.job()) && *known == key) {
            return;
        }
        let Some(place) = scene.place() else { return };
        let cans: Vec<(String, Can)> =
            key.shown.iter().filter_map(|&shown| Some((scene.name(shown).to_owned(), scene.can(shown)?))).collect();
        let varied = variant.applied(scene.job);
        let Some(under) = PositionContext::new(&varied, scene.catalog, id) else { return };
        self.entered = curve_set(place, second, &[], &cans).curves.into_iter().map(|curve| curve.at_duty).collect();
        self.sets = Some([Axis::Ambient, second].map(|axis| set(&under, axis, &cans)));
        self.shown.clone_from(&key.shown);
        self.key = Some((session.job().clone(), key));
    }
}

fn set(place: &PositionContext, axis: Axis, cans: &[(String, Can)]) -> CurveSet {
    let all: Vec<&Can> = cans.iter().map(|(_, can)| can).collect();
    let (low, high) = axis.usual_range(place, &all);
    // Whole degrees, so that a reading stands at a round figure.
    let xs = match axis {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "category temperatures")]
        Axis::Ambient => steps(low, high.round(), (high.round() - low).clamp(1.0, 400.0) as u32),
        _ => steps(low, high, STEPS),
    };
    curve_set(place, axis, &xs, cans)
}

/// The candidate in question, the chosen part, the pinned, the hovered, the original; each once.
fn shown(scene: &Scene) -> Vec<Candidate> {
    let mut shown: Vec<Candidate> = Vec::new();
    let selection = scene.selection;
    let wanted = scene.candidate().into_iter().chain(scene.chosen()).chain(selection.pinned.iter().copied());
    for candidate in wanted.chain(selection.hovered).chain([Candidate::Original]) {
        if !shown.contains(&candidate) {
            shown.push(candidate);
        }
    }
    shown
}

/// The point of a curve nearest to a value of its axis.
pub(super) fn nearest(curve: &Curve, x: f64) -> Option<&CurvePoint> {
    curve.points.iter().min_by(|a, b| (a.x - x).abs().total_cmp(&(b.x - x).abs()))
}

pub(super) fn unit(axis: Axis) -> &'static str {
    match axis {
        Axis::Ambient => "°C",
        Axis::Ripple => "×",
        Axis::Voltage => "V",
        Axis::Hours => "h a year",
    }
}
