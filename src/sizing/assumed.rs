//! The figures a result leans on that nobody gave, each with the value taken for it, and what is to be measured first.

use super::checks::USUAL_TOLERANCE_PCT;
use super::contexts::Contexts;
use super::evaluation::Evaluation;
use super::position_context::PositionContext;
use super::reasons::figure;
use super::size::Sizing;
use crate::domain::{Assumed, Can, Catalog, Job, Outcome, PositionId};
use crate::physics::esr::{Ladder, usual_tan_delta};
use crate::physics::heat::{air_multiplier, default_rated_rise_k};
use crate::physics::voltage::usual_surge_v;
use crate::physics::{body, leakage};

/// One figure that was taken because nobody gave it.
#[derive(Debug, Clone, PartialEq)]
pub struct AssumedFigure {
    /// Which.
    pub which: Assumed,
    /// Its name in files.
    pub name: &'static str,
    /// Its name in words.
    pub words: &'static str,
    /// What was taken, with its unit; empty where it is a whole table.
    pub value: String,
}

impl AssumedFigure {
    /// Name and value in words: `operating voltage 128 V`.
    pub fn sentence(&self) -> String {
        format!("{} {}", self.words, self.taken()).trim_end().to_owned()
    }

    /// What was taken where the words do not say it, as `wet technology` does.
    pub fn taken(&self) -> &str {
        const SAID: Assumed = Assumed::TECHNOLOGY.with(Assumed::MOUNTING).with(Assumed::ENDURANCE_BASIS);
        if SAID.contains(self.which) { "" } else { &self.value }
    }
}

/// Every figure of `which` with the value taken for it.
pub fn assumed_figures(
    context: &PositionContext,
    can: &Can,
    evaluation: &Evaluation,
    which: Assumed,
) -> Vec<AssumedFigure> {
    let voltages = context.electrical.on(context.policy, can);
    let value = |one: Assumed| value(context, can, evaluation, &voltages, one).unwrap_or_default();
    let all = which.each().zip(which.names().zip(which.words()));
    all.map(|(which, (name, words))| AssumedFigure { which, name, words, value: value(which) }).collect()
}

/// The figures of a result as files carry them: `dc_v=128 V;ripple=1.2 A at 120 Hz`.
pub fn assumed_values(context: &PositionContext, can: &Can, evaluation: &Evaluation) -> String {
    let figures = assumed_figures(context, can, evaluation, evaluation.assumed);
    let one = |figure: &AssumedFigure| match figure.value.as_str() {
        "" => format!("{}=usual table", figure.name),
        value => format!("{}={value}", figure.name),
    };
    figures.iter().map(one).collect::<Vec<_>>().join(";")
}

/// The figures of a result in words.
pub fn assumed_words(context: &PositionContext, can: &Can, evaluation: &Evaluation) -> Vec<String> {
    let figures = assumed_figures(context, can, evaluation, evaluation.assumed);
    figures.iter().map(AssumedFigure::sentence).collect()
}

fn value(
    context: &PositionContext,
    can: &Can,
    evaluation: &Evaluation,
    voltages: &super::voltages::Voltages,
    which: Assumed,
) -> Option<String> {
    let in_unit = |value: Option<f64>, unit: &str| Some(format!("{} {unit}", figure(value?)));
    let technology = can.technology_or_wet();
    let body = body::of(can);
    let own = voltages.assumed.contains(which) || which == Assumed::RIPPLE && context.electrical.ripple.assumed;
    if Assumed::STRESS.contains(which) && !own {
        return Some("of another can of the string".to_owned());
    }
    Some(match which {
        Assumed::TECHNOLOGY => "liquid electrolyte".to_owned(),
        Assumed::MOUNTING => "radial".to_owned(),
        Assumed::ENDURANCE_BASIS => "voltage only".to_owned(),
        Assumed::CORE_RISE => in_unit(can.temp_max_c.map(|t| default_rated_rise_k(technology, t)), "K")?,
        Assumed::SURGE => in_unit(can.rated_v.map(|rated_v| usual_surge_v(technology, rated_v).sure_v), "V")?,
        Assumed::TAN_DELTA => {
            let ladder = if context.esr_max.from_ladder { Ladder::Limit } else { Ladder::Part };
            figure(usual_tan_delta(ladder, can.rated_v?, can.capacitance_uf?))
        }
        Assumed::ESR_LIMIT => in_unit(context.esr_max.mohm, "mΩ")?,
        Assumed::LEAKAGE => {
            let usual = || Some(leakage::usual_ua(technology, can.capacitance_uf?, can.rated_v?));
            in_unit(evaluation.figures.leakage_ua.or_else(usual), "µA")?
        }
        Assumed::DIAMETER_MAX => in_unit(body.diameter_max_mm, "mm")?,
        Assumed::HEIGHT_MAX => in_unit(body.height_max_mm, "mm")?,
        Assumed::RIPPLE_ORIGIN => context.position.stress.ripple_from.as_ref()?.assumed.join(", "),
        Assumed::RIPPLE => {
            let lines = context.lines()?.iter().map(|&(hz, a)| format!("{} A at {} Hz", figure(a), figure(hz)));
            lines.collect::<Vec<_>>().join(" + ")
        }
        Assumed::RIPPLE_PEAK => in_unit(voltages.ripple_peak_v, "V")?,
        Assumed::DC => format!("up to {} V peak", figure(voltages.swing_v?)),
        Assumed::TRANSIENT => in_unit(voltages.peak_v, "V")?,
        Assumed::MIN => in_unit(voltages.lowest_v, "V")?,
        Assumed::Z_RATIO => {
            let factor = evaluation.figures.esr_cold_mohm? / evaluation.figures.esr_mohm?;
            format!("{} times at {} °C", figure(factor), figure(context.ambient.min_c?))
        }
        Assumed::AIRFLOW => {
            format!("{} times the current", figure(air_multiplier(context.ambient.airflow_lfm, can.diameter_mm).0))
        }
        Assumed::TOLERANCE => format!("{USUAL_TOLERANCE_PCT} %"),
        _ => return None,
    })
}

/// A stress that nobody measured and a chosen part leans on.
#[derive(Debug, Clone, PartialEq)]
pub struct ToMeasure {
    /// Where.
    pub id: PositionId,
    /// What, with the value taken for it.
    pub figure: AssumedFigure,
    /// What the parts of the position cost, currency of the job: bought in vain if it is wrong.
    pub cost: Option<f64>,
}

/// What each stress can do when it was taken wrong, worst first.
pub const CONSEQUENCES: [(Assumed, &str); 5] = [
    (Assumed::DC, "over its rated voltage the part leaks, vents or bursts"),
    (Assumed::MIN, "reversed, a polar part vents or bursts"),
    (Assumed::TRANSIENT, "above its surge voltage the part fails early"),
    (Assumed::RIPPLE, "with more ripple the part runs hotter and wears out before the interval"),
    (Assumed::RIPPLE_PEAK, "a higher peak comes closer to the rated voltage"),
];

/// What is to be measured before a pass on assumed stress is a pass, dearest consequence first: by what the parts of the position
/// cost, of one position by what a wrong figure does.
pub fn to_measure(job: &Job, catalog: &Catalog, sizing: &Sizing) -> Vec<ToMeasure> {
    let (places, mut all) = (Contexts::new(job, catalog), Vec::new());
    for sized in &sizing.positions {
        let Some(part) = sized.choice.part.filter(|part| part.evaluation.verdict != Outcome::Fail) else { continue };
        if !part.evaluation.on_assumed_stress() {
            continue;
        }
        let Some(context) = places.at(sized.id) else { continue };
        let cost = context.cost_of_need(catalog, part.id);
        for (which, _) in CONSEQUENCES.into_iter().filter(|of| part.evaluation.assumed.contains(of.0)) {
            let figures = assumed_figures(&context, &catalog.can(part.id), &part.evaluation, which);
            all.extend(figures.into_iter().map(|figure| ToMeasure { id: sized.id, figure, cost }));
        }
    }
    all.sort_by(|a, b| b.cost.unwrap_or(-1.0).total_cmp(&a.cost.unwrap_or(-1.0)));
    all
}
