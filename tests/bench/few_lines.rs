//! The search for the order of few lines, within its usual limits.

use std::sync::atomic::AtomicBool;
use std::time::Instant;

use divan::black_box;
use refarad::sizing::few_lines::{Demand, Ended, Limits, Part, Position, Problem, solve};
use refarad::sizing::quantities::{Offer, PriceBreak, Terms};

use crate::catalogue::Steps;

/// A part as a position asks for it: which capacitance, voltage and body it has, counted from the least.
type Kind = [usize; 3];

/// How many there are of each.
const KINDS: Kind = [21, 15, 9];

/// An invented order: every part has two offers with three price breaks, some of them a minimum and packs. A position takes `width`
/// neighbouring capacitances, voltages up to six above its own and bodies up to its own.
fn problem(positions: usize, parts: usize, width: usize) -> Problem {
    let mut steps = Steps(61_249);
    let kinds: Vec<Kind> = (0..parts).map(|_| KINDS.map(|count| steps.next(count))).collect();
    let offer = |steps: &mut Steps, [capacitance, voltage, body]: Kind| {
        let price = 0.1 + 0.02 * (capacitance + voltage + 3 * body) as f64 + 0.001 * steps.next(300) as f64;
        let breaks = [(1, 1.0), (25, 0.8), (100, 0.6)].map(|(from_qty, share)| PriceBreak {
            from_qty,
            // In thousandths, as prices are printed.
            unit_price: (price * share * 1e3).round() / 1e3,
        });
        let terms = Terms::new(breaks.into(), Some(steps.pick(&[1, 1, 5, 10])), Some(steps.pick(&[1, 1, 5])));
        Offer { terms: terms.unwrap(), rate_to_job: Some(1.0), stock_qty: None, lead_time_d: None }
    };
    let part = |&kind: &Kind| Part {
        maker: None,
        offers: vec![offer(&mut steps, kind), offer(&mut steps, kind)],
        shelf_qty: 0,
        demand: Demand::Free,
    };
    let parts: Vec<Part> = kinds.iter().map(part).collect();
    let mut positions_made = Vec::new();
    while positions_made.len() < positions {
        let [least, voltage, body] = [KINDS[0] + 1 - width, KINDS[1] - 4, KINDS[2]].map(|count| steps.next(count));
        let passes = |kind: &Kind| {
            (least..least + width).contains(&kind[0]) && (voltage..=voltage + 6).contains(&kind[1]) && kind[2] <= body
        };
        let passing: Vec<usize> = (0..kinds.len()).filter(|&at| passes(&kinds[at])).collect();
        if !passing.is_empty() {
            positions_made.push(Position { pieces: 4 * steps.pick(&[1, 1, 1, 2]), passing });
        }
    }
    Problem {
        positions: positions_made,
        parts,
        spare_pct: 10.0,
        line_cost: 8.0,
        second_source: false,
        preference: None,
    }
}

/// Prints how long the search takes and how much cheaper an order could still be, and how both grow.
pub(crate) fn print() {
    for (positions, parts, width) in
        [(60, 250, 2), (60, 250, 4), (150, 500, 2), (150, 500, 4), (300, 1000, 2), (300, 1000, 4), (300, 1000, 8)]
    {
        let problem = problem(positions, parts, width);
        let passing = problem.positions.iter().map(|position| position.passing.len()).sum::<usize>() / positions;
        let begun = Instant::now();
        let found = solve(black_box(&problem), Limits::default(), &AtomicBool::new(false), &mut |_| ()).unwrap();
        let lines = found.choice.as_ref().map_or(0, |choice| choice.lines.len());
        println!(
            "few lines, {positions} positions, {passing} of {parts} parts pass at each: {lines} lines, {} in {:.1} s, gap {:.2} % \
             (wanted: 1 % in 10 s), {} branches",
            if found.ended == Ended::Proven { "proven" } else { "not proven" },
            begun.elapsed().as_secs_f64(),
            100.0 * found.gap().unwrap_or(1.0),
            found.nodes
        );
    }
}
