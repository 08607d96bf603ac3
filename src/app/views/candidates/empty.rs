//! What to say when no part may be used here, and what could be done about it.

use crate::app::state::Candidates;
use crate::app::widgets::wording::with_unit;
use crate::domain::Check;
use crate::sizing::{PositionContext, PrefilterReason, reasons::check_name};

/// One cause: how many parts it stops, how many it alone stops, and what could be relaxed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Cause {
    /// What stops them.
    pub what: &'static str,
    pub parts: usize,
    /// How many of them nothing else stops.
    pub alone: usize,
    /// What to look at.
    pub advice: String,
}

/// Why parts are ruled out at a glance; the cause that stops most parts alone first.
pub(crate) fn at_a_glance(candidates: &Candidates, place: &PositionContext) -> Vec<Cause> {
    let Some(ruled_out) = candidates.ruled_out_by else { return Vec::new() };
    let (diameter_mm, height_mm) = place.room_mm();
    let causes = PrefilterReason::ALL.into_iter().enumerate().map(|(at, cause)| {
        let (what, advice) = match cause {
            PrefilterReason::Capacitance => {
                ("capacitance", "enter the minimum and maximum capacitance the circuit takes".to_owned())
            }
            PrefilterReason::Voltage => {
                ("operating voltage", "check the operating voltage and the ripple peak entered".to_owned())
            }
            PrefilterReason::Mounting => ("mounting", "accept another mounting".to_owned()),
            PrefilterReason::Diameter => {
                ("diameter", format!("measure the room beside the can, now {}", with_unit(diameter_mm, "mm")))
            }
            PrefilterReason::Height => {
                ("height", format!("measure the room above the board, now {}", with_unit(height_mm, "mm")))
            }
        };
        Cause { what, parts: ruled_out.by[at], alone: ruled_out.only_by[at], advice }
    });
    sorted(causes)
}

/// Why the others fail; the check that fails most parts alone first.
pub(crate) fn by_checks(candidates: &Candidates, place: &PositionContext) -> Vec<Cause> {
    let causes = Check::ALL.into_iter().zip(candidates.failing).map(|(check, (parts, alone))| {
        let advice = match check {
            Check::Voltage => "check operating voltage, transient and reverse voltage".to_owned(),
            Check::Ripple => "measure ripple and ambient again, or share the ripple among several cans".to_owned(),
            Check::Life => {
                format!("a target below {}, a cooler place, less ripple", with_unit(place.target_years(), "years"))
            }
            Check::Esr => format!("the ESR limit, now {}", with_unit(place.esr_limit().1, "mΩ")),
            Check::Capacitance => "enter the minimum and maximum capacitance the circuit takes".to_owned(),
            Check::Fit => "room, lead spacing, forming of leads, gap to the neighbours".to_owned(),
            Check::Temperature => "the coldest and hottest ambient".to_owned(),
            Check::Leakage => "the leakage limit".to_owned(),
            Check::Supply => "another source: these parts are no longer made".to_owned(),
        };
        Cause { what: check_name(check), parts, alone, advice }
    });
    sorted(causes)
}

/// Why nobody can say of the others whether they may be used; the check that is the only one open most often first.
pub(crate) fn by_unknown(candidates: &Candidates) -> Vec<Cause> {
    let causes = Check::ALL.into_iter().zip(candidates.unknown).map(|(check, (parts, alone))| {
        let figures = match check {
            Check::Voltage => "rated voltage",
            Check::Ripple => "rated ripple with its frequency, upper temperature",
            Check::Life => "endurance, upper temperature, rated ripple",
            Check::Esr => "ESR with its frequency, or the dissipation factor",
            Check::Capacitance => "capacitance and tolerance",
            Check::Fit => "mounting, diameter, height, lead spacing",
            Check::Temperature => "lower and upper temperature",
            Check::Leakage => "leakage current",
            Check::Supply => "whether it is still made, stock",
        };
        let advice = format!("import the catalogue again with what it lacks ({figures}) under “Values for all rows”");
        Cause { what: check_name(check), parts, alone, advice }
    });
    sorted(causes)
}

fn sorted(causes: impl Iterator<Item = Cause>) -> Vec<Cause> {
    let mut causes: Vec<Cause> = causes.filter(|cause| cause.parts > 0).collect();
    causes.sort_by_key(|cause| std::cmp::Reverse((cause.alone, cause.parts)));
    causes
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_cause_that_stands_alone_in_the_way_comes_first() {
        let cause = |what, parts, alone| Cause { what, parts, alone, advice: String::new() };
        let causes = sorted([cause("a", 9, 0), cause("b", 0, 0), cause("c", 3, 2)].into_iter());
        assert_eq!(causes.iter().map(|c| c.what).collect::<Vec<_>>(), ["c", "a"]);
    }
}
