//! What every few-lines problem of a job has, be it of its electrolytics or of its other parts.

use crate::domain::Job;
use crate::sizing::asked::{self, Asked};
use crate::sizing::few_lines::{self, Demand, Problem};
use crate::sizing::shelf;

/// What of the job counts in every problem.
pub(super) fn empty_problem(job: &Job) -> Problem {
    let (spare_pct, line_cost) = (job.spare_pct.unwrap_or(0.0), job.line_cost.unwrap_or(0.0));
    Problem { spare_pct, line_cost, ..Problem::default() }
}

/// A part number with what the job says of it and the offers that count.
pub(super) fn part(job: &Job, number: &str, maker: Option<String>, asked: &[Asked]) -> few_lines::Part {
    let named = |list: &[String]| list.iter().any(|wanted| wanted.trim() == number);
    let offers = asked::counting(job, number, asked).iter().filter_map(|asked| asked.priced.clone().ok());
    few_lines::Part {
        maker,
        offers: offers.collect(),
        shelf_qty: shelf::qty(job, number),
        demand: match (named(&job.never_use), named(&job.must_use)) {
            (true, _) => Demand::Never,
            (false, true) => Demand::Must,
            (false, false) => Demand::Free,
        },
    }
}
