//! Cans in parallel: which share of the ripple each carries, and whether it stands that.

use std::collections::HashMap;

use super::contexts::Contexts;
use super::evaluation::Evaluation;
use super::fitted::Fitted;
use super::position_context::PositionContext;
use crate::domain::{Assumed, Catalog, Job, PositionId};
use crate::physics::esr;
use crate::physics::groups::parallel_split;
use crate::physics::spectrum::{Line, rms_a};

/// One can of a group.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// Where it sits.
    pub id: PositionId,
    /// What sits there.
    pub fitted: Fitted,
    /// What it carries, A rms; `None` while the split is unknown.
    pub carried_a: Option<f64>,
    /// What was entered for its position, A rms.
    pub entered_a: Option<f64>,
    /// The checks with what it carries; with what was entered while the split is unknown.
    pub evaluation: Evaluation,
}

/// Cans that work in parallel.
#[derive(Debug, Clone, PartialEq)]
pub struct ParallelGroup {
    /// The name they share.
    pub name: String,
    /// The cans.
    pub members: Vec<Member>,
    /// Capacitance together, µF.
    pub capacitance_uf: Option<f64>,
    /// ESR figures that came from default tables.
    pub assumed: Assumed,
    /// What is missing for the split; `None` when it is known.
    pub unknown: Option<String>,
}

/// A sentence for everybody who reads a split.
pub const SPLIT_CAUTION: &str = "The ripple of the group is the sum of what was entered for its positions. Leads and tracks are left out: above some 100 kHz the nearer can takes more.";

/// The parallel groups of a job with at least two cans, board by board in the order of their first position.
///
/// `fitted` says what sits at a position. The group carries the sum of the ripple entered for its positions, line by line; each can
/// takes its share by admittance (published circuit theory), with its own ESR at that frequency.
pub fn groups(job: &Job, catalog: &Catalog, fitted: impl Fn(PositionId) -> Option<Fitted>) -> Vec<ParallelGroup> {
    let places = Contexts::new(job, catalog);
    by_name(job, |position| position.parallel_group.as_deref())
        .into_iter()
        .filter_map(|(name, ids)| group(&places, catalog, name, &ids, &fitted))
        .collect()
}

/// Name and positions of every group of at least two that `name_of` finds.
pub(super) fn by_name(
    job: &Job,
    name_of: impl Fn(&crate::domain::Position) -> Option<&str>,
) -> Vec<(String, Vec<PositionId>)> {
    let mut found: Vec<(String, Vec<PositionId>)> = Vec::new();
    let mut at: HashMap<(usize, &str), usize> = HashMap::new();
    for (id, position) in job.positions() {
        let Some(name) = name_of(position).filter(|name| !name.trim().is_empty()) else { continue };
        let group = *at.entry((id.board, name)).or_insert_with(|| {
            found.push((name.to_owned(), Vec::new()));
            found.len() - 1
        });
        found[group].1.push(id);
    }
    found.retain(|(_, ids)| ids.len() > 1);
    found
}

fn group(
    places: &Contexts,
    catalog: &Catalog,
    name: String,
    ids: &[PositionId],
    fitted: impl Fn(PositionId) -> Option<Fitted>,
) -> Option<ParallelGroup> {
    let contexts: Vec<(PositionId, PositionContext, Fitted)> =
        ids.iter().map(|&id| Some((id, places.at(id)?, fitted(id)?))).collect::<Option<_>>()?;
    let mut assumed = Assumed::default();
    let split = split(&contexts, &mut assumed);
    let unknown = split.as_ref().err().cloned();
    let shares = split.unwrap_or_default();
    let members = contexts.iter().enumerate().map(|(at, (id, context, fitted))| {
        let carried = shares.get(at);
        let shared = carried.map(|lines| lines.iter().map(|line| (line.hz, line.a)).collect());
        let context = shared.map_or_else(|| context.clone(), |lines| context.with_lines(lines));
        Member {
            id: *id,
            carried_a: carried.map(|lines| rms_a(lines)),
            entered_a: contexts[at]
                .1
                .lines()
                .map(|lines| rms_a(&lines.iter().map(|&(hz, a)| Line { hz, a }).collect::<Vec<_>>())),
            evaluation: context.evaluate(&fitted.can, fitted.supply(&context, catalog)),
            fitted: fitted.clone(),
        }
    });
    Some(ParallelGroup {
        name,
        members: members.collect(),
        capacitance_uf: contexts.iter().map(|(_, _, fitted)| fitted.can.capacitance_uf).sum(),
        assumed,
        unknown,
    })
}

/// The lines of each can, or what is missing.
fn split(contexts: &[(PositionId, PositionContext, Fitted)], assumed: &mut Assumed) -> Result<Vec<Vec<Line>>, String> {
    let reference = |context: &PositionContext| context.position.reference.clone();
    if let Some((_, context, _)) = contexts.iter().find(|(_, context, _)| context.lines().is_none()) {
        return Err(format!("the ripple of {} is not known", reference(context)));
    }
    let total = sum_lines(contexts.iter().filter_map(|(_, context, _)| context.lines()));
    let capacitances_f: Vec<f64> =
        contexts.iter().filter_map(|(_, _, fitted)| fitted.can.capacitance_uf).map(|micro_f| micro_f * 1e-6).collect();
    if capacitances_f.len() < contexts.len() {
        return Err("the capacitance of a can is not known".into());
    }
    for line in &total {
        for (_, context, fitted) in contexts {
            let found = esr::at_hz(&fitted.can, line.hz);
            let found = found.ok_or_else(|| {
                format!("the ESR of {} at {} ({} Hz) is not known", fitted.name, reference(context), line.hz)
            })?;
            assumed.insert(found.assumed);
        }
    }
    let esr_ohm = |at: usize, hz: f64| Some(esr::at_hz(&contexts.get(at)?.2.can, hz)?.mohm * 1e-3);
    Ok(parallel_split(&total, &capacitances_f, esr_ohm).ok_or("a figure is out of range")?)
}

/// The lines of several spectra, currents of one frequency added.
pub(super) fn sum_lines<'a>(spectra: impl Iterator<Item = &'a [(f64, f64)]>) -> Vec<Line> {
    let mut total: Vec<Line> = Vec::new();
    let mut at: HashMap<u64, usize> = HashMap::new();
    for &(hz, a) in spectra.flatten() {
        let line = *at.entry(hz.to_bits()).or_insert_with(|| {
            total.push(Line { hz, a: 0.0 });
            total.len() - 1
        });
        total[line].a += a;
    }
    total
}
