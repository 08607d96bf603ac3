//! Two parallel cans replaced by one, or one can by two, where the space allows.

use super::catalog_index::CatalogIndex;
use super::checks::limits::window;
use super::free_spot::{Spot, free_spot};
use super::parallel::sum_lines;
use super::position_context::PositionContext;
use super::rank::Ranked;
use super::size::size_position;
use crate::domain::{Assumed, Can, Check, Job, PositionId, RippleLine};
use crate::physics::body;

/// Which way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exchange {
    /// One can in the place of several parallel ones; the other places stay empty.
    OneForAll,
    /// Two equal cans in the place of one.
    TwoForOne,
}

/// A substitution that holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposal {
    /// Which way.
    pub exchange: Exchange,
    /// The positions it concerns.
    pub positions: Vec<PositionId>,
    /// The position the (first) can goes to.
    pub at: PositionId,
    /// Where the second can goes, for two in the place of one.
    pub second: Option<Spot>,
    /// The part, checked with the ripple, capacitance and ESR it then has.
    pub part: Ranked,
    /// Capacitance together, µF.
    pub total_uf: Option<f64>,
    /// ESR together at the position's frequency, mΩ.
    pub total_esr_mohm: Option<f64>,
    /// Ripple of each can, A rms as entered and shared.
    pub each_a: f64,
    /// Price of the pieces at one place (one or two), when few are bought.
    pub price: Option<f64>,
    /// What to see to, a sentence.
    pub note: String,
    /// Figures that came from default tables, limits included.
    pub assumed: Assumed,
}

/// What came of a search: proposals, best first, or why there is none.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Proposals {
    /// The proposals.
    pub found: Vec<Proposal>,
    /// What stood in the way, a sentence each.
    pub obstacles: Vec<String>,
}

/// One can for all of a parallel group, tried at each of its places, at most `most` for each.
///
/// The can has to carry the sum of the ripple entered, with the sum of the capacitances as original, within the parallel of the ESR limits, in
/// the room of the place it goes to; the other places are taken as empty.
pub fn one_for_all(job: &Job, catalog_index: &CatalogIndex, members: &[PositionId], most: usize) -> Proposals {
    let mut proposals = Proposals::default();
    let Some((job, merged)) = merged(job, catalog_index, members, &mut proposals.obstacles) else { return proposals };
    for &at in members {
        let mut changed = job.clone();
        for &other in members.iter().filter(|&&id| id != at) {
            if let Some(position) = changed.position_mut(other) {
                // An empty place is nobody's neighbour.
                (position.x_mm, position.y_mm) = (None, None);
            }
        }
        let Some(sized) = size_position(&changed, catalog_index, at) else { continue };
        let best = sized.best.iter().filter(|part| part.evaluation.verdict.usable()).take(most);
        proposals.found.extend(best.map(|part| {
            let can = catalog_index.catalog().can(part.id);
            Proposal {
                exchange: Exchange::OneForAll,
                positions: members.to_vec(),
                at,
                second: None,
                part: *part,
                total_uf: can.capacitance_uf,
                total_esr_mohm: part.evaluation.figures.esr_mohm,
                each_a: merged.total_a,
                price: part.price,
                note: format!("At {}; the other places stay empty. {}", job.name_of(at.into()), fit_note(part)),
                assumed: part.evaluation.assumed.with(merged.assumed),
            }
        }));
    }
    if proposals.found.is_empty() && proposals.obstacles.is_empty() {
        proposals.obstacles.push("No part of the catalogue carries all of it in the room of one place.".into());
    }
    proposals
}

/// Two equal cans for the one at `id`, at most `most` proposals: the first in its place, the second on a free spot of the board beside it, each
/// with half the capacitance and half the ripple.
pub fn two_for_one(job: &Job, catalog_index: &CatalogIndex, id: PositionId, most: usize) -> Proposals {
    let mut proposals = Proposals::default();
    let Some((changed, halved)) = halved(job, catalog_index, id, &mut proposals.obstacles) else { return proposals };
    let Some(sized) = size_position(&changed, catalog_index, id) else { return proposals };
    let board = &job.boards[id.board];
    let mut nowhere = 0;
    for part in sized.best.iter().filter(|part| part.evaluation.verdict.usable()) {
        let can = catalog_index.catalog().can(part.id);
        let Some(diameter_mm) = body::of(&can).diameter_max_mm else { continue };
        let spot = match free_spot(board, id.index, diameter_mm, job.policy.can_gap_mm, catalog_index.catalog()) {
            Ok(Some(spot)) => spot,
            Ok(None) => {
                nowhere += 1;
                continue;
            }
            Err(missing) => {
                proposals.obstacles.push(missing);
                return proposals;
            }
        };
        proposals.found.push(Proposal {
            exchange: Exchange::TwoForOne,
            positions: vec![id],
            at: id,
            second: Some(spot),
            part: *part,
            total_uf: can.capacitance_uf.map(|micro_f| 2.0 * micro_f),
            total_esr_mohm: part.evaluation.figures.esr_mohm.map(|mohm| mohm / 2.0),
            each_a: halved.total_a,
            price: part.price.map(|price| 2.0 * price),
            note: format!(
                "The second one fits at {:.1}, {:.1} mm, {:.1} mm away: new holes and short, thick connections to the first. {}",
                spot.x_mm,
                spot.y_mm,
                spot.distance_mm,
                fit_note(part)
            ),
            assumed: part.evaluation.assumed.with(halved.assumed),
        });
        if proposals.found.len() == most {
            break;
        }
    }
    if proposals.found.is_empty() {
        proposals.obstacles.push(if nowhere > 0 {
            "The map shows no free spot beside the place for a second can.".into()
        } else {
            "No part of the catalogue holds with half of the ripple and half of the capacitance.".into()
        });
    }
    proposals
}

/// The job with a proposal carried out: its part picked with the ripple and the needs it then has, the original kept as it is. The other places of a group
/// go; the second can of two becomes a position of its own in one parallel group with the first.
///
/// `None` when the proposal no longer belongs to the job.
pub fn applied(job: &Job, catalog_index: &CatalogIndex, proposal: &Proposal) -> Option<Job> {
    let mut nothing = Vec::new();
    let (changed, _) = match proposal.exchange {
        Exchange::OneForAll => merged(job, catalog_index, &proposal.positions, &mut nothing)?,
        Exchange::TwoForOne => halved(job, catalog_index, proposal.at, &mut nothing)?,
    };
    let worked_out = changed.position(proposal.at)?;
    let can = catalog_index.catalog().can(proposal.part.id);
    let mut new = job.clone();
    let names = proposal.positions.iter().map(|&id| job.name_of(id.into())).collect::<Vec<_>>().join(", ");
    let position = new.position_mut(proposal.at)?;
    position.stress.ripple.clone_from(&worked_out.stress.ripple);
    position.stress.ripple_from = None;
    position.needs = worked_out.needs.clone();
    if position.needs.capacitance_min_uf.is_none() && position.needs.capacitance_max_uf.is_none() {
        let window = window(position.role?);
        let to_replace_uf = worked_out.original.can.capacitance_uf?;
        let inside = |(low, high): (f64, f64)| {
            let uf = can.capacitance_uf.unwrap_or_default();
            uf >= low * to_replace_uf && uf <= high * to_replace_uf
        };
        let (low, high) = if inside(window.pass) { window.pass } else { window.marginal };
        position.needs.capacitance_min_uf = Some(low * to_replace_uf);
        position.needs.capacitance_max_uf = Some(high * to_replace_uf);
    }
    position.pick = Some(catalog_index.catalog().part_number(proposal.part.id).to_owned());
    let remark = match proposal.exchange {
        Exchange::OneForAll => format!("one can for {names}; the other places stay empty"),
        Exchange::TwoForOne => format!("one of two cans for {names}"),
    };
    let note = position.note.take().filter(|note| !note.is_empty());
    position.note = Some(note.map_or_else(|| remark.clone(), |note| format!("{note}; {remark}")));
    match (proposal.exchange, proposal.second) {
        (Exchange::OneForAll, _) => {
            position.parallel_group = None;
            let mut others: Vec<PositionId> =
                proposal.positions.iter().copied().filter(|&id| id != proposal.at).collect();
            others.sort_unstable();
            for other in others.into_iter().rev() {
                new.boards.get_mut(other.board)?.positions.remove(other.index);
            }
        }
        (Exchange::TwoForOne, Some(spot)) => {
            let group = position.parallel_group.get_or_insert_with(|| position.reference.clone()).clone();
            let mut second = position.clone();
            (second.x_mm, second.y_mm) = (Some(spot.x_mm), Some(spot.y_mm));
            (second.measured, second.note, second.parallel_group) = (None, Some(remark), Some(group));
            let board = new.boards.get_mut(proposal.at.board)?;
            let taken = |name: &str| board.positions.iter().any(|other| other.reference == name);
            second.reference =
                ('B'..='Z').map(|letter| format!("{}{letter}", second.reference)).find(|name| !taken(name))?;
            board.positions.push(second);
        }
        (Exchange::TwoForOne, None) => return None,
    }
    Some(new)
}

fn fit_note(part: &Ranked) -> String {
    let outcome = part.evaluation.outcome(Check::Fit);
    format!("Fit: {} ({}).", outcome.word(), part.evaluation.fit_fault.word())
}

/// What the changed position carries.
struct Changed {
    total_a: f64,
    assumed: Assumed,
}

/// The job with the needs of all members at each of them.
fn merged(
    job: &Job,
    catalog_index: &CatalogIndex,
    members: &[PositionId],
    obstacles: &mut Vec<String>,
) -> Option<(Job, Changed)> {
    let contexts: Vec<PositionContext> =
        members.iter().filter_map(|&id| PositionContext::new(job, catalog_index.catalog(), id)).collect();
    if contexts.len() < 2 || contexts.len() < members.len() {
        obstacles.push("Expected at least two positions of the job.".into());
        return None;
    }
    if contexts.iter().any(|context| context.lines().is_none()) {
        obstacles.push("The ripple of a position is not known.".into());
        return None;
    }
    let total = sum_lines(contexts.iter().filter_map(|context| context.lines()));
    let sum = |of: &dyn Fn(&PositionContext) -> Option<f64>| contexts.iter().map(of).sum::<Option<f64>>();
    let Some(original_uf) = sum(&|context| context.position.original.can.capacitance_uf) else {
        obstacles.push("The capacitance of an original is not known.".into());
        return None;
    };
    let same_hz = contexts.windows(2).all(|pair| pair[0].esr_hz == pair[1].esr_hz);
    let conductance = |of: &dyn Fn(&PositionContext) -> Option<f64>| {
        same_hz.then(|| sum(&|context| Some(of(context)?.recip()))).flatten().map(f64::recip)
    };
    let esr_max_mohm = conductance(&|context| context.esr_max.mohm);
    let assumed = contexts.iter().fold(Assumed::default(), |all, context| all.with(context.esr_max.assumed));
    let mut changed = job.clone();
    for &id in members {
        let position = changed.position_mut(id)?;
        position.stress.ripple = Some(super::circuit::ripple_lines(&total));
        let needs = &mut position.needs;
        needs.capacitance_min_uf = sum(&|context| context.position.needs.capacitance_min_uf);
        needs.capacitance_max_uf = sum(&|context| context.position.needs.capacitance_max_uf);
        needs.leakage_max_ua = sum(&|context| context.position.needs.leakage_max_ua).or(needs.leakage_max_ua);
        needs.esr_min_mohm = conductance(&|context| context.position.needs.esr_min_mohm);
        needs.esr_cold_max_mohm = conductance(&|context| context.position.needs.esr_cold_max_mohm);
        needs.esr_max_mohm = esr_max_mohm;
        forget_pick(position, original_uf, esr_max_mohm.is_none());
    }
    Some((changed, Changed { total_a: crate::physics::spectrum::rms_a(&total), assumed }))
}

/// The job with half of the needs at the position.
fn halved(
    job: &Job,
    catalog_index: &CatalogIndex,
    id: PositionId,
    obstacles: &mut Vec<String>,
) -> Option<(Job, Changed)> {
    let context = PositionContext::new(job, catalog_index.catalog(), id)?;
    let (Some(lines), Some(original_uf)) = (context.lines(), context.position.original.can.capacitance_uf) else {
        obstacles.push("The ripple or the capacitance of the original is not known.".into());
        return None;
    };
    let half: Vec<RippleLine> = lines.iter().map(|&(hz, a)| RippleLine::of(hz, a / 2.0)).collect();
    let total_a = lines.iter().map(|(_, a)| (a / 2.0).powi(2)).sum::<f64>().sqrt();
    let (esr_max_mohm, assumed) = (context.esr_max.mohm.map(|mohm| 2.0 * mohm), context.esr_max.assumed);
    let mut changed = job.clone();
    let position = changed.position_mut(id)?;
    position.stress.ripple = Some(half);
    let needs = &mut position.needs;
    let scale = |value: &mut Option<f64>, factor: f64| *value = value.map(|value| value * factor);
    scale(&mut needs.capacitance_min_uf, 0.5);
    scale(&mut needs.capacitance_max_uf, 0.5);
    scale(&mut needs.leakage_max_ua, 0.5);
    scale(&mut needs.esr_min_mohm, 2.0);
    scale(&mut needs.esr_cold_max_mohm, 2.0);
    needs.esr_max_mohm = esr_max_mohm;
    forget_pick(position, original_uf / 2.0, esr_max_mohm.is_none());
    Some((changed, Changed { total_a, assumed }))
}

/// The original as the capacitance to be replaced; its own body still gives the room. Where the ESR limit is not known, it may not be taken from the
/// unchanged figures of the original either.
fn forget_pick(position: &mut crate::domain::Position, original_uf: f64, esr_unknown: bool) {
    position.pick = None;
    position.parallel_group = None;
    let original: &mut Can = &mut position.original.can;
    original.capacitance_uf = Some(original_uf);
    if esr_unknown {
        (original.esr_mohm, original.esr_hz, original.tan_delta, original.rated_v) = (None, None, None, None);
    }
}
