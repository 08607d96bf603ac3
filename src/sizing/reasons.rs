//! Why a check came out as it did, in words with the numbers.

pub use crate::domain::style::figure;

use super::assumed::{AssumedFigure, assumed_figures};
use super::checks::wrong_polarity;
use super::evaluation::{Evaluation, FitFault};
use super::position_context::PositionContext;
use super::size::PositionSizing;
use crate::domain::style;
use crate::domain::{Assumed, Can, Catalog, Check, LifeBasis, Outcome, Technology};
use crate::physics::body;

/// A figure with its unit, or the word for not known.
pub(crate) fn known(value: Option<f64>, unit: &str) -> String {
    value.map_or_else(|| "unknown".to_owned(), |value| format!("{} {unit}", figure(value)))
}

/// Figures with their units, without those not known.
pub(crate) fn all_known(figures: &[(Option<f64>, &str)]) -> Vec<String> {
    figures.iter().filter_map(|(value, unit)| Some(format!("{} {unit}", figure((*value)?)))).collect()
}

/// The same where a sentence begins with it: the word for the outcome, unknown, may stand before it already.
fn given(value: Option<f64>, unit: &str) -> String {
    value.map_or_else(|| "no figure".to_owned(), |_| known(value, unit))
}

/// What a check is called in a sentence: its word, but for the abbreviation.
pub fn check_name(check: Check) -> &'static str {
    match check {
        Check::Esr => "ESR",
        Check::Supply => "availability",
        other => other.word(),
    }
}

/// Why the best of the parts looked at does not do, so that there is something to act on: part number, check and reason.
/// `None` where no part was looked at.
pub fn nearest(context: &PositionContext, catalog: &Catalog, sized: &PositionSizing) -> Option<String> {
    let best = sized.best.first()?;
    let worst = best.evaluation.verdict;
    let check = Check::ALL.into_iter().find(|&check| best.evaluation.outcome(check) == worst)?;
    let why = reason(context, &catalog.can(best.id), &best.evaluation, check);
    Some(format!("{}: {}: {why}", catalog.part_number(best.id), check_name(check)))
}

/// One sentence on why `check` came out as it did for `can` at `place`.
pub fn reason(context: &PositionContext, can: &Can, evaluation: &Evaluation, check: Check) -> String {
    let sentence = sentence(context, can, evaluation, check);
    let leaned = evaluation.assumed.and(Assumed::of_check(check));
    let assumed: Vec<String> =
        assumed_figures(context, can, evaluation, leaned).iter().map(AssumedFigure::sentence).collect();
    if assumed.is_empty() { sentence } else { format!("{sentence}; assumed: {}", assumed.join(", ")) }
}

/// The same without what it assumes, for where all that is told together.
pub fn sentence(context: &PositionContext, can: &Can, evaluation: &Evaluation, check: Check) -> String {
    match check {
        Check::Voltage => voltage(context, can, evaluation),
        Check::Ripple => ripple(context, can, evaluation),
        Check::Life => life(context, can, evaluation),
        Check::Esr => esr(context, can, evaluation),
        Check::Capacitance => capacitance(context, can),
        Check::Fit => fit(context, can, evaluation),
        Check::Temperature => temperature(context, can),
        Check::Leakage => match context.position.needs.leakage_max_ua {
            None => "no leakage limit set".into(),
            Some(max) => format!("leakage {}, allowed {} µA", known(evaluation.figures.leakage_ua, "µA"), figure(max)),
        },
        Check::Supply => supply(context, evaluation),
    }
}

/// Why a part fails by its polarity.
pub(super) const WRONG_POLARITY: &str = "polar, the original is bipolar";

fn voltage(context: &PositionContext, can: &Can, evaluation: &Evaluation) -> String {
    let stress = &context.position.stress;
    let voltages = context.electrical.on(context.policy, can);
    let polarity = if wrong_polarity(context, can) { format!("{WRONG_POLARITY}; ") } else { String::new() };
    let (peak, rated) = (known(evaluation.figures.peak_v, "V"), known(can.rated_v, "V"));
    let mut text = format!("{polarity}peak {peak} on {rated} rated");
    if let Some(usage) = evaluation.figures.voltage_usage {
        text.push_str(&format!(", used {} %", figure(usage * 100.0)));
    }
    if context.string.len() > 1 {
        text.push_str(&format!(", the worst share of a string of {}", context.string.len()));
        if context.position.needs.balance_kohm.is_none() {
            text.push_str("; balancing resistor not entered");
        }
    }
    if voltages.peak_v.is_none() {
        text.push_str(match stress.dc_v {
            Some(_) => "; neither ripple peak nor ripple known",
            None => "; neither operating voltage nor the original's rated voltage known",
        });
    }
    if let Some(entered_v) = stress.transient_v {
        let size_v = if can.technology == Some(Technology::NonPolar) { entered_v.abs() } else { entered_v };
        let above = voltages.transient_v.filter(|&counted_v| counted_v > size_v);
        let above = above.map_or_else(String::new, |v| format!(", but the peak is {} V", figure(v)));
        text.push_str(&format!("; transient {} V{above}", figure(entered_v)));
    }
    if let Some(lowest_v) = voltages.lowest_v.filter(|&lowest_v| lowest_v < 0.0) {
        text.push_str(&format!("; reversed to {} V", figure(lowest_v)));
    }
    if stress.min_v.zip(stress.dc_v).is_some_and(|(min_v, dc_v)| min_v > dc_v) {
        text.push_str("; the lowest voltage entered is above the operating voltage");
    }
    text
}

fn ripple(context: &PositionContext, can: &Can, evaluation: &Evaluation) -> String {
    let figures = &evaluation.figures;
    if let (Some(eq_a), Some(allowed_a), Some(usage), Some(ambient_c)) =
        (figures.ripple_eq_a, figures.ripple_allowed_a, figures.ripple_usage, figures.ripple_ambient_c)
    {
        let used =
            if usage.is_finite() { format!("used {} %", figure(usage * 100.0)) } else { "nothing is allowed".into() };
        let mut text =
            format!("{} A at {} °C, allowed {} A, {used}", figure(eq_a), figure(ambient_c), figure(allowed_a));
        if can.ripple_a.is_some_and(|rated_a| eq_a > rated_a) {
            text.push_str(&format!("; above the rated {}", known(can.ripple_a, "A")));
        }
        text
    } else {
        let missing: Vec<&str> = [
            (context.lines().is_none(), "ripple of the position and ripple rating of the original"),
            (context.duty().is_none(), "duty of the position"),
            (can.ripple_a.is_none(), "rated ripple"),
            (can.ripple_hz.is_none(), "frequency of the rating"),
            (can.temp_max_c.is_none(), "upper temperature"),
            (can.diameter_mm.is_none(), "diameter"),
        ]
        .into_iter()
        .filter_map(|(absent, name)| absent.then_some(name))
        .collect();
        format!("needs {}", missing.join(", "))
    }
}

fn life(context: &PositionContext, can: &Can, evaluation: &Evaluation) -> String {
    let figures = &evaluation.figures;
    let Some(life_h) = figures.life_h else {
        let cause = if can.endurance_h.is_none() { "no endurance given" } else { "ripple or duty not known" };
        return cause.to_owned();
    };
    let years = figures.calendar_years.map_or_else(String::new, |years| format!(" ({} years)", figure(years)));
    let target = context.target_h.map_or_else(|| "no target set".to_owned(), |h| format!("target {} h", figure(h)));
    let useful = can.life_basis == Some(LifeBasis::Useful);
    let useful = if useful && context.position.needs.end_of_life != Some(LifeBasis::Useful) {
        "; a useful life, which ends at more wear than an endurance"
    } else {
        ""
    };
    let band = match (figures.life_low_h, figures.life_high_h) {
        (Some(low), Some(high)) if low < high => format!("; other laws {} to {} h", figure(low), figure(high)),
        _ => String::new(),
    };
    let factor = if evaluation.outcome(Check::Life) == Outcome::Marginal {
        format!(", {} times wanted for a pass", figure(context.policy.life_margin))
    } else {
        String::new()
    };
    format!("{} h{years}, {target}{factor}{band}{useful}", figure(life_h))
}

fn esr(context: &PositionContext, can: &Can, evaluation: &Evaluation) -> String {
    let (hz, max) = context.esr_limit();
    let mut text =
        format!("{} at {}, allowed {}", given(evaluation.figures.esr_mohm, "mΩ"), style::hertz(hz), known(max, "mΩ"));
    if let Some(min) = context.position.needs.esr_min_mohm {
        text.push_str(&format!(", at least {} mΩ", figure(min)));
    }
    if let Some(cold) = evaluation.figures.esr_cold_mohm {
        // Where it is checked it is among what the check assumes.
        let checked = evaluation.assumed.contains(Assumed::Z_RATIO);
        let assumed = if context.cold_esr_is_assumed(can) && !checked { " (assumed)" } else { "" };
        text.push_str(&format!("; {} mΩ in the cold{assumed}", figure(cold)));
    }
    if let Some(cold_max) = context.position.needs.esr_cold_max_mohm {
        text.push_str(&format!(", allowed {} mΩ", figure(cold_max)));
    }
    text
}

fn capacitance(context: &PositionContext, can: &Can) -> String {
    let (low, high) = context.capacitance_range_uf();
    let original = context.position.original.can.capacitance_uf;
    let usable = match (low > 0.0, high.is_finite()) {
        (false, false) => "no limits known".to_owned(),
        (true, false) => format!("usable from {} µF", figure(low)),
        (false, true) => format!("usable up to {} µF", figure(high)),
        (true, true) => format!("usable {} to {} µF", figure(low), figure(high)),
    };
    format!("{}, original {}, {usable}", given(can.capacitance_uf, "µF"), known(original, "µF"))
}

fn fit(context: &PositionContext, can: &Can, evaluation: &Evaluation) -> String {
    let figures = &evaluation.figures;
    let slack = |value: Option<f64>, what: &str| match value {
        None => format!("{what} unknown"),
        Some(mm) if mm < 0.0 => format!("{what} {} mm too large", figure(-mm)),
        Some(mm) => format!("{what} {} mm to spare", figure(mm)),
    };
    let deciding = match (evaluation.fit_fault, evaluation.outcome(Check::Fit)) {
        (FitFault::None, _) => String::new(),
        (fault, Outcome::Unknown) => format!("{} unknown; ", fault.word()),
        (FitFault::Height, Outcome::Marginal) => "vent space short; ".into(),
        (FitFault::Pitch, Outcome::Marginal) => "leads to be formed; ".into(),
        (fault, Outcome::Marginal) => format!("{} tight; ", fault.word()),
        (fault, _) => format!("{} does not fit; ", fault.word()),
    };
    let mut text = format!(
        "{deciding}{}, {}",
        slack(figures.diameter_slack_mm, "diameter"),
        slack(figures.height_slack_mm, "height")
    );
    if let Some(error_mm) = figures.pitch_error_mm.filter(|&mm| mm > 0.0) {
        text.push_str(&format!(", pitch {} mm off", figure(error_mm)));
    }
    let shadow = context.shadow(can, &body::of(can));
    if let Some((nearest, gap_mm)) = shadow.as_ref().and_then(|shadow| context.neighbours.nearest(shadow)) {
        text.push_str(&format!(", {} mm gap to {nearest}", figure(gap_mm)));
    }
    text
}

fn temperature(context: &PositionContext, can: &Can) -> String {
    let range = |low: Option<f64>, high: Option<f64>| format!("{} to {}", known(low, "°C"), known(high, "°C"));
    format!(
        "ambient {}, part {}",
        range(context.ambient.min_c, context.ambient.max_c),
        range(can.temp_min_c, can.temp_max_c)
    )
}

fn supply(context: &PositionContext, evaluation: &Evaluation) -> String {
    let need = figure(context.need_qty);
    match evaluation.outcome(Check::Supply) {
        Outcome::Pass => format!("in production, {need} needed"),
        Outcome::Marginal => format!("not for new designs, or shelf and stock below the {need} needed"),
        Outcome::Unknown => "nobody says whether it is still made; ask before ordering".into(),
        Outcome::Fail => "no longer made".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{Job, Position};
    use crate::files::load::load_demo;
    use crate::sizing::{Contexts, Supply};

    /// Every reason against a part at every position of a job, with the word for its outcome before it.
    fn told(job: &Job, catalog: &Catalog, cans: &[Can]) -> Vec<String> {
        let places = Contexts::new(job, catalog);
        let mut all = Vec::new();
        for place in job.positions().filter_map(|(id, _)| places.at(id)) {
            for can in cans {
                let evaluation = place.evaluate(can, Supply::default());
                all.extend(Check::ALL.map(|check| {
                    let word = evaluation.outcome(check).word();
                    format!("{}, {word}: {}", check_name(check), reason(&place, can, &evaluation, check))
                }));
            }
        }
        all
    }

    #[test]
    fn no_reason_says_a_second_time_that_something_is_unknown() {
        let loaded = load_demo().unwrap();
        let catalog = loaded.catalog_index.catalog();
        let some = catalog.by_number().iter().step_by(16);
        let cans: Vec<Can> = some.map(|&id| catalog.can(id)).chain([Can::default()]).collect();
        let mut all = told(&loaded.job, catalog, &cans);
        let mut bare = loaded.job.clone();
        bare.boards[0].positions = vec![Position::default()];
        bare.boards.truncate(1);
        all.extend(told(&bare, catalog, &cans));
        for check in [Check::Ripple, Check::Life, Check::Esr, Check::Capacitance, Check::Fit, Check::Supply] {
            let unknown = format!("{}, unknown: ", check_name(check));
            assert!(all.iter().any(|told| told.starts_with(&unknown)), "{unknown}");
        }
        for told in all {
            let twice = ["unknown: unknown", "unknown: not known"].iter().any(|words| told.contains(words));
            let again = told.split_once("unknown: ").is_some_and(|(_, why)| why.contains("unknown: "));
            assert!(!twice && !again, "{told}");
        }
    }
}
