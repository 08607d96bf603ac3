//! Figures in words, as the window writes them.

use crate::domain::{Outcome, Position};
use crate::sizing::Interval;
use crate::sizing::reasons::figure;

use crate::app::state::scene::Scene;

/// Shown where a figure is not known.
pub(crate) const UNKNOWN: &str = "unknown";

/// A share as percent without decimals: `76 %`.
pub(crate) fn percent(share: f64) -> String {
    format!("{:.0} %", share * 100.0)
}

/// A figure with its unit, or that it is not known.
pub(crate) fn with_unit(value: Option<f64>, unit: &str) -> String {
    value.map_or_else(|| UNKNOWN.to_owned(), |value| format!("{} {unit}", figure(value)))
}

/// How a part fares, after its name in a sentence.
pub(crate) fn verdict(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Pass => "passes",
        Outcome::Marginal => "is marginal",
        Outcome::Unknown => "is unknown",
        Outcome::Fail => "fails",
    }
}

/// `1 part`, `2 parts`.
pub(crate) fn count(number: usize, one: &str, more: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { more })
}

/// How long a board lasts and what limits it: `lasts 8.3 years, limited by C7; 2 positions unknown`.
pub(crate) fn interval(scene: &Scene, interval: &Interval) -> String {
    let unknown = match interval.unknown.as_slice() {
        [] => String::new(),
        [one] => format!("; {} not known", scene.reference(*one)),
        more => format!("; {} positions not known", more.len()),
    };
    match (interval.years, interval.limiting) {
        (Some(years), Some(limiting)) => {
            let at_most = if unknown.is_empty() { "" } else { "at most " };
            format!("lasts {at_most}{} years, limited by {}{unknown}", figure(years), scene.reference(limiting))
        }
        _ if interval.unknown.is_empty() => "has no positions yet".to_owned(),
        _ => "life not known".to_owned() + &unknown,
    }
}

/// What is printed on the original, else its figures.
pub(crate) fn original(position: &Position) -> String {
    let can = &position.original.can;
    let figures = || format!("{}, {}", with_unit(can.capacitance_uf, "µF"), with_unit(can.rated_v, "V"));
    position.original.label.clone().unwrap_or_else(figures)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_unknown_figure_is_called_so_and_never_zero() {
        assert_eq!(with_unit(None, "mΩ"), "unknown");
        assert_eq!(with_unit(Some(0.0), "mΩ"), "0 mΩ");
        assert_eq!(percent(0.756), "76 %");
    }
}
