//! The same search for the other parts to which a person gave alternatives: they share no line with the electrolytics, so it is a problem of its own.

use std::sync::atomic::AtomicBool;

use super::problem;
use crate::domain::{Catalog, Job, OtherId, OtherPart, Place};
use crate::sizing::asked::{self, JobCurrency};
use crate::sizing::few_lines::{self, Limits, Problem};
use crate::sizing::other_parts::{stated, stating};
use crate::sizing::purchase::pieces;

/// Which of its part numbers another part gets.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OtherPick {
    /// Which part.
    pub other: OtherId,
    /// What goes in now.
    pub now: String,
    /// What goes in by the order.
    pub then: String,
}

/// The other parts in the order of few lines.
#[derive(Debug, Clone, PartialEq)]
pub struct OtherOrder {
    /// Those that get another part number.
    pub changes: Vec<OtherPick>,
    /// What the parts that are compared and their lines cost by the order, currency of the job.
    pub total: f64,
    /// The same as they are now; `None` where one of those has no price that compares.
    pub now: Option<f64>,
    /// Other parts none of whose numbers may be used and has a comparable price.
    pub left_out: Vec<OtherId>,
}

impl OtherOrder {
    /// The job with the changes made.
    pub fn applied(&self, job: &Job) -> Job {
        let mut job = job.clone();
        for pick in &self.changes {
            let list = match pick.other.board {
                Some(board) => job.boards.get_mut(board).map(|board| &mut board.other_parts),
                None => Some(&mut job.other_parts),
            };
            if let Some(part) = list.and_then(|list| list.get_mut(pick.other.index)) {
                part.taken = Some(pick.then.clone()).filter(|then| part.own_number() != Some(then));
            }
        }
        job
    }
}

/// The cheapest choice among the part numbers of all other parts, those without alternatives with their only one; `None` where nobody gave
/// alternatives, or the search ends before it finds any.
pub(super) fn others(
    job: &Job,
    catalog: &Catalog,
    currency: &JobCurrency,
    limits: Limits,
    cancel: &AtomicBool,
) -> Option<OtherOrder> {
    let all: Vec<(OtherId, &OtherPart)> =
        job.all_other_parts().filter(|(_, part)| part.part_number().is_some()).collect();
    if all.iter().all(|(_, part)| part.alternatives.is_none()) {
        return None;
    }
    let mut numbers: Vec<&str> = all.iter().flat_map(|(_, part)| part.numbers().chain(part.part_number())).collect();
    numbers.sort_unstable();
    numbers.dedup();
    let part = |number: &&str| {
        let sources = stating(job, &[], number);
        let own = sources.iter().map(|part| stated(currency, part)).collect();
        let offers = asked::offers(job, currency, catalog, catalog.find(number), number, own);
        let maker = sources.iter().find_map(|part| part.replacement.maker.clone());
        problem::part(job, number, maker, &offers)
    };
    let parts: Vec<few_lines::Part> = numbers.iter().map(part).collect();
    let at = |number: &str| numbers.binary_search(&number).ok();
    let (mut ids, mut positions, mut left_out) = (Vec::new(), Vec::new(), Vec::new());
    for &(id, part) in &all {
        let passing: Vec<usize> = part.numbers().filter_map(at).filter(|&at| parts[at].usable()).collect();
        match pieces(job, Place::Other(id)).filter(|&pieces| pieces > 0 && !passing.is_empty()) {
            Some(pieces) => {
                ids.push((id, part.part_number()?));
                positions.push(few_lines::Position { pieces, passing });
            }
            None => left_out.push(id),
        }
    }
    let mut problem = Problem { positions, parts, ..problem::empty_problem(job) };
    let cost = |problem: &Problem| {
        let choice = few_lines::solve(problem, limits, cancel, &mut |_| ()).ok()?.choice?;
        Some((choice.objective(), choice.picks))
    };
    let (total, picks) = cost(&problem)?;
    for ((_, now), position) in ids.iter().zip(&mut problem.positions) {
        position.passing = at(now).into_iter().collect();
    }
    let changes = ids.iter().zip(&picks).filter(|((_, now), pick)| *now != numbers[**pick]);
    let changes =
        changes.map(|(&(other, now), &pick)| OtherPick { other, now: now.into(), then: numbers[pick].into() });
    Some(OtherOrder { changes: changes.collect(), total, now: cost(&problem).map(|(cost, _)| cost), left_out })
}
