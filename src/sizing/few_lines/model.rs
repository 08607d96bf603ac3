//! From prices and demands to what the search works on: cost tables over whole numbers.

use std::collections::BTreeMap;

use super::problem::{Choice, ChosenLine, Demand, FewLinesError, Part, Problem};
use crate::sizing::quantities::{BestOffer, QuantityError, best_offer, pieces_needed};

/// A part, or several that serve the same positions, with the cost of everything it may serve.
#[derive(Debug, Clone)]
pub(super) struct Facility {
    /// Parts it stands for and the cost of each by weight (see [`Facility::cost`]).
    pub(super) members: Vec<Member>,
    /// Cost by weight served, the least over the members; index 0 is 0.0 (not used).
    pub(super) cost: Vec<f64>,
    /// Positions it can serve, ascending.
    pub(super) positions: Vec<usize>,
    /// The largest sets of positions it may serve together, each ascending. One set unless a
    /// second source is required: then one per alternative, and any use must lie within one of them.
    pub(super) families: Vec<Vec<usize>>,
    /// It must be used.
    pub(super) must: bool,
}

#[derive(Debug, Clone)]
pub(super) struct Member {
    pub(super) part: usize,
    pub(super) cost: Vec<f64>,
}

impl Facility {
    /// True if the positions (ascending) may all be served together.
    pub(super) fn allows(&self, served: &[usize]) -> bool {
        self.families.iter().any(|family| served.iter().all(|position| family.binary_search(position).is_ok()))
    }
}

/// The problem as the search sees it.
#[derive(Debug, Clone)]
pub(super) struct Model {
    /// Pieces of each position in units of their greatest common divisor.
    pub(super) weights: Vec<usize>,
    pub(super) facilities: Vec<Facility>,
    /// The facilities that can serve each position.
    pub(super) serving: Vec<Vec<usize>>,
}

impl Model {
    pub(super) fn new(weights: Vec<usize>, facilities: Vec<Facility>) -> Self {
        let mut serving = vec![Vec::new(); weights.len()];
        for (index, facility) in facilities.iter().enumerate() {
            for &position in &facility.positions {
                serving[position].push(index);
            }
        }
        Self { weights, facilities, serving }
    }

    /// The part at each position, from the facility at each position.
    pub(super) fn picks(&self, facility_of: &[usize]) -> Vec<usize> {
        let mut weight = vec![0; self.facilities.len()];
        for (position, &facility) in facility_of.iter().enumerate() {
            weight[facility] += self.weights[position];
        }
        let cheapest = |facility: usize| {
            let at = |member: &Member| member.cost[weight[facility]];
            self.facilities[facility]
                .members
                .iter()
                .min_by(|a, b| at(a).total_cmp(&at(b)))
                .map_or(usize::MAX, |member| member.part)
        };
        facility_of.iter().map(|&f| cheapest(f)).collect()
    }
}

/// Checks a problem and builds the cost tables.
pub(super) fn build(problem: &Problem) -> Result<Model, FewLinesError> {
    check(problem)?;
    let unit = problem.positions.iter().fold(0, |unit, position| gcd(unit, position.pieces));
    let weights: Vec<usize> =
        problem.positions.iter().map(|p| usize::try_from(p.pieces / unit).unwrap_or(usize::MAX)).collect();
    let passing = passing_positions(problem);
    let priced: Vec<bool> = problem.parts.iter().map(Part::usable).collect();

    let mut facilities = Vec::new();
    for (part, item) in problem.parts.iter().enumerate() {
        let families = if priced[part] { families(problem, &passing, &priced, part) } else { Vec::new() };
        if families.is_empty() {
            if item.demand == Demand::Must {
                return Err(FewLinesError::MustUse(part));
            }
            continue;
        }
        let mut positions: Vec<usize> = families.iter().flatten().copied().collect();
        positions.sort_unstable();
        positions.dedup();
        let most = positions.iter().map(|p| weights[*p]).sum();
        let cost = cost_table(problem, part, unit, most)?;
        facilities.push(Facility {
            members: vec![Member { part, cost: cost.clone() }],
            cost,
            positions,
            families,
            must: item.demand == Demand::Must,
        });
    }
    let model = Model::new(weights, facilities);
    let bare: Vec<usize> = (0..model.serving.len()).filter(|p| model.serving[*p].is_empty()).collect();
    if bare.is_empty() { Ok(model) } else { Err(FewLinesError::NoPart(bare)) }
}

fn check(problem: &Problem) -> Result<(), FewLinesError> {
    if problem.positions.is_empty() {
        return Err(FewLinesError::NoPositions);
    }
    let worth = problem.preference.as_ref().map_or(0.0, |p| p.worth_per_line);
    for cost in [problem.line_cost, worth] {
        if !cost.is_finite() || cost < 0.0 {
            return Err(FewLinesError::Cost(cost));
        }
    }
    for (index, position) in problem.positions.iter().enumerate() {
        if position.pieces == 0 {
            return Err(FewLinesError::NoPieces(index));
        }
        if let Some(&part) = position.passing.iter().find(|p| **p >= problem.parts.len()) {
            return Err(FewLinesError::UnknownPart { position: index, part });
        }
    }
    Ok(())
}

fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

/// For each part the positions where it passes, ascending.
fn passing_positions(problem: &Problem) -> Vec<Vec<usize>> {
    let mut passing = vec![Vec::new(); problem.parts.len()];
    for (index, position) in problem.positions.iter().enumerate() {
        for &part in &position.passing {
            if passing[part].last() != Some(&index) {
                passing[part].push(index);
            }
        }
    }
    passing
}

fn other_maker(a: &Part, b: &Part) -> bool {
    matches!((&a.maker, &b.maker), (Some(a), Some(b)) if a != b)
}

/// The largest sets of positions a part may serve together; empty if it may serve none.
fn families(problem: &Problem, passing: &[Vec<usize>], priced: &[bool], part: usize) -> Vec<Vec<usize>> {
    let own = &passing[part];
    if own.is_empty() {
        return Vec::new();
    }
    if !problem.second_source {
        return vec![own.clone()];
    }
    let mut shared: Vec<Vec<usize>> = (0..problem.parts.len())
        .filter(|&other| priced[other] && other_maker(&problem.parts[part], &problem.parts[other]))
        .map(|other| intersection(own, &passing[other]))
        .filter(|set| !set.is_empty())
        .collect();
    shared.sort_by(|a, b| b.len().cmp(&a.len()).then_with(|| a.cmp(b)));
    let mut largest: Vec<Vec<usize>> = Vec::new();
    for set in shared {
        if !largest.iter().any(|kept| is_subset(&set, kept)) {
            largest.push(set);
        }
    }
    largest
}

fn intersection(a: &[usize], b: &[usize]) -> Vec<usize> {
    a.iter().copied().filter(|position| b.binary_search(position).is_ok()).collect()
}

/// Both ascending.
pub(super) fn is_subset(small: &[usize], large: &[usize]) -> bool {
    small.len() <= large.len() && small.iter().all(|p| large.binary_search(p).is_ok())
}

fn cost_table(problem: &Problem, part: usize, unit: u64, most: usize) -> Result<Vec<f64>, FewLinesError> {
    let mut table = vec![0.0];
    for weight in 1..=most {
        let (best, handling, preference) = line(problem, part, weight as u64 * unit)?;
        table.push(best.total_job + handling + preference);
    }
    Ok(table)
}

/// The best offer of a part for so many pieces (without spares), what the line costs in handling, and what it counts for the preference of
/// makers.
fn line(problem: &Problem, part: usize, pieces: u64) -> Result<(BestOffer, f64, f64), FewLinesError> {
    let item = &problem.parts[part];
    let need = pieces_needed(pieces, problem.spare_pct)?;
    let best = best_offer(need, item.shelf_qty, &item.offers).ok_or(FewLinesError::Quantity(QuantityError::TooMany))?;
    let ordered = best.line.proposed.qty > 0;
    let preferred = |makers: &[String]| item.maker.as_ref().is_some_and(|m| makers.contains(m));
    let preference = problem
        .preference
        .as_ref()
        .filter(|preference| ordered && !preferred(&preference.makers))
        .map_or(0.0, |preference| preference.worth_per_line);
    let handling = if ordered { problem.line_cost } else { 0.0 };
    Ok((best, handling, preference))
}

/// Prices given picks by the same rules, to compare the picks as they are with the proposal. The
/// picks need not meet the demands and need not pass.
///
/// # Errors
/// [`FewLinesError::NoPart`] for positions whose pick has no usable price or is missing,
/// [`FewLinesError::UnknownPart`], [`FewLinesError::Quantity`].
pub fn price(problem: &Problem, picks: &[usize]) -> Result<Choice, FewLinesError> {
    check(problem)?;
    let missing: Vec<usize> = (picks.len()..problem.positions.len()).collect();
    if !missing.is_empty() {
        return Err(FewLinesError::NoPart(missing));
    }
    let picks = &picks[..problem.positions.len()];
    let mut served: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (position, &part) in picks.iter().enumerate() {
        if part >= problem.parts.len() {
            return Err(FewLinesError::UnknownPart { position, part });
        }
        served.entry(part).or_default().push(position);
    }
    let passing = passing_positions(problem);
    let mut choice = Choice { picks: picks.to_vec(), ..Choice::default() };
    for (part, positions) in served {
        if best_offer(1, 0, &problem.parts[part].offers).is_none() {
            return Err(FewLinesError::NoPart(positions));
        }
        let pieces = positions.iter().map(|p| problem.positions[*p].pieces).sum();
        let (best, handling, preference) = line(problem, part, pieces)?;
        choice.parts_cost += best.total_job;
        choice.lines_cost += handling;
        choice.preference_cost += preference;
        let alternative = (0..problem.parts.len()).find(|&other| {
            other_maker(&problem.parts[part], &problem.parts[other])
                && is_subset(&positions, &passing[other])
                && problem.parts[other].usable()
        });
        choice.lines.push(ChosenLine { part, positions, best, alternative });
    }
    Ok(choice)
}
