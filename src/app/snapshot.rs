//! What the worker found out: unchanging, shared, and marked with the job it was found out for.

use std::collections::HashMap;
use std::sync::Arc;

use super::selection::Candidate;
use crate::domain::{Can, Catalog, Job, Position, PositionId};
use crate::sizing::{self, LifePoint, Place, Sizing};

/// A sized job.
#[derive(Debug, Clone, Default)]
pub(crate) struct Snapshot {
    /// The job it was sized for.
    pub job: Arc<Job>,
    /// What came out.
    pub sizing: Sizing,
}

/// Ambients a life curve is drawn for, °C: a cool room to the highest category temperature in common use.
const CURVE_AMBIENTS_C: std::ops::RangeInclusive<i32> = 20..=125;

/// Life of candidates of one position against the ambient, each worked out once.
#[derive(Debug, Clone, Default)]
pub(crate) struct Curves {
    key: Option<(Arc<Job>, PositionId)>,
    of: HashMap<Candidate, Vec<LifePoint>>,
}

impl Curves {
    /// The curve of a candidate, once [`provide`](Self::provide) was asked for it. Empty for an unknown upper temperature.
    pub(crate) fn get(&self, candidate: Candidate) -> Option<&[LifePoint]> {
        self.of.get(&candidate).map(Vec::as_slice)
    }

    /// Works out the curves that are wanted and not there yet, for this job and position.
    pub(crate) fn provide(&mut self, job: &Arc<Job>, catalog: &Catalog, at: PositionId, wanted: &[Candidate]) {
        let same = self.key.as_ref().is_some_and(|(known, id)| Arc::ptr_eq(known, job) && *id == at);
        if !same {
            self.of.clear();
            self.key = Some((job.clone(), at));
        }
        let (Some(place), Some(position)) = (Place::new(job, catalog, at), job.position(at)) else { return };
        for &candidate in wanted {
            self.of.entry(candidate).or_insert_with(|| curve(&place, &can_of(candidate, position, catalog)));
        }
    }
}

/// The life laws hold up to the upper category temperature, so a curve ends there.
fn curve(place: &Place, can: &Can) -> Vec<LifePoint> {
    let Some(temp_max_c) = can.temp_max_c else { return Vec::new() };
    let ambients_c = CURVE_AMBIENTS_C.map(f64::from).filter(|&ambient_c| ambient_c <= temp_max_c);
    sizing::life_against_ambient(place, can, ambients_c)
}

/// The figures of a candidate.
pub(crate) fn can_of(candidate: Candidate, position: &Position, catalog: &Catalog) -> Can {
    match candidate {
        Candidate::Original => position.original.can.clone(),
        Candidate::Part(id) => catalog.can(id),
    }
}
