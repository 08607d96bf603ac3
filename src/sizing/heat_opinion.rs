//! Two opinions on the heat: the rated-ripple law and a heat balance, forwards from the ripple and backwards from a measured rise.

use super::checks::Supply;
use super::position_context::PositionContext;
use super::reasons::figure;
use crate::domain::{Assumed, Can};
use crate::physics::frequency::Multipliers;
use crate::physics::heat::{RisePerWatt, air_multiplier, core_to_case_ratio, default_rated_rise_k, rise_per_watt};
use crate::physics::reverse::{power_w, ripple_from_power_a, ripple_from_rated_rise_a, scale_of_shape};
use crate::physics::spectrum::Line;
use crate::physics::{esr, frequency};

/// Core rise by both laws in the phase with the largest ripple usage.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatOpinions {
    /// By the rated-ripple law, which the checks use, K.
    pub law_rise_k: f64,
    /// By the heat balance, K; `None` where the ESR or the body is not known.
    pub balance_rise_k: Option<f64>,
    /// Heat made in the can by the balance, W.
    pub loss_w: Option<f64>,
    /// Factor on every ripple line in that phase.
    pub scale: f64,
    /// Rise of the core over the air for a watt in still air, K/W; `None` where the body is not known.
    pub core_k_per_w: Option<f64>,
    /// Figures that came from default tables, of either.
    pub assumed: Assumed,
}

/// From this difference on the two opinions are far apart, K: by the 10 K rule a factor of 1.4 on the life (common practice, no
/// source).
pub const FAR_APART_K: f64 = 5.0;

impl HeatOpinions {
    /// By how much the heat balance is hotter than the law, K; `None` where there is no balance.
    pub fn balance_above_law_k(&self) -> Option<f64> {
        Some(self.balance_rise_k? - self.law_rise_k)
    }

    /// The difference when the two are far apart, in words: `12 K hotter`.
    pub fn far_apart(&self) -> Option<String> {
        let difference_k = self.balance_above_law_k().filter(|difference_k| difference_k.abs() >= FAR_APART_K)?;
        let word = if difference_k > 0.0 { "hotter" } else { "cooler" };
        Some(format!("{} K {word}", figure(difference_k.abs())))
    }

    /// A sentence on the difference.
    pub fn sentence(&self) -> String {
        /// Below this no thermometer tells them apart.
        const ALIKE_K: f64 = 1.0;
        let law = format!("rated-ripple law {} K", figure(self.law_rise_k));
        let (Some(balance_k), Some(loss_w)) = (self.balance_rise_k, self.loss_w) else {
            return format!("Core rise by the {law}; no cross-check: ESR or body not known.");
        };
        let both =
            format!("Core rise by the {law}, by the heat balance {} K ({} W)", figure(balance_k), figure(loss_w));
        let difference_k = balance_k - self.law_rise_k;
        if difference_k.abs() < ALIKE_K {
            return format!("{both}: alike.");
        }
        let cost = (difference_k / 10.0).exp2();
        let assumed_esr =
            self.assumed.contains(Assumed::TAN_DELTA) || self.assumed.contains(Assumed::FREQUENCY_MULTIPLIERS);
        let doubt = if assumed_esr { " Part of the balance rests on assumed ESR." } else { "" };
        if difference_k > 0.0 {
            format!(
                "{both}: the balance is {} K hotter, which by the 10 K rule would divide the life by {}; measure the case.{doubt}",
                figure(difference_k),
                figure(cost)
            )
        } else {
            format!(
                "{both}: the balance is {} K cooler; the law errs to the careful side.{doubt}",
                figure(-difference_k)
            )
        }
    }
}

/// Both opinions for `can` at `place`; `None` where the rated-ripple law itself has no answer. Moving air divides both alike.
pub fn opinions(context: &PositionContext, can: &Can) -> Option<HeatOpinions> {
    let evaluation = context.evaluate(can, Supply::default());
    let figures = evaluation.figures;
    let law_rise_k = figures.core_rise_k?;
    // The scale of the worst phase, from the current the check found there.
    let scale_a = figures.ripple_eq_a?;
    let lines = context.lines()?;
    let at_one_a = equivalent_a(can, lines)?;
    let scale = if at_one_a > 0.0 { scale_a / at_one_a } else { 0.0 };
    let mut assumed = Assumed::default();
    assumed.insert_if(can.core_rise_k.is_none(), Assumed::CORE_RISE);
    let aged = measured_over_sheet(context, can);
    let mut loss = |(hz, a): &(f64, f64)| {
        let found = esr::at_hz(can, *hz)?;
        assumed.insert_if(aged.is_none(), found.assumed);
        Some((a * scale).powi(2) * found.mohm * 1e-3 * aged.unwrap_or(1.0))
    };
    // The sum of nothing is -0.
    let loss_w = lines.iter().map(&mut loss).sum::<Option<f64>>().map(|watt| watt + 0.0);
    let (air, large) = air_multiplier(context.ambient.airflow_lfm, can.diameter_mm);
    assumed.insert_if(large, Assumed::AIRFLOW);
    let core_k_per_w = per_watt(can).map(|rise| rise.core_k);
    let balance_rise_k = loss_w.zip(core_k_per_w).map(|(watt, kelvin)| watt * kelvin / (air * air));
    Some(HeatOpinions { law_rise_k, balance_rise_k, loss_w, scale, core_k_per_w, assumed })
}

/// Measured ESR of the old part over that of its sheet; `None` for another part, or where nobody measured it.
fn measured_over_sheet(context: &PositionContext, can: &Can) -> Option<f64> {
    let measured = context.position.measured.as_ref().filter(|_| *can == context.position.original.can)?;
    Some(measured.esr_mohm? / esr::at_hz(can, measured.esr_hz?)?.mohm)
}

fn per_watt(can: &Can) -> Option<RisePerWatt> {
    Some(rise_per_watt(can.diameter_mm?, can.height_mm?, can.mounting))
}

fn equivalent_a(can: &Can, lines: &[(f64, f64)]) -> Option<f64> {
    frequency::equivalent_current_a(Multipliers::of(can).as_ref(), can.ripple_hz?, lines)
}

/// The ripple that would explain a measured rise of the case, by both laws. Each `None` where its figures are missing.
#[derive(Debug, Clone, PartialEq)]
pub struct Explained {
    /// Equivalent ripple at the rating's frequency by the rated-ripple law, A rms.
    pub by_law_a: Option<f64>,
    /// Heat by the balance, W.
    pub power_w: Option<f64>,
    /// Ripple at [`esr_hz`](Self::esr_hz) by the heat balance, A rms.
    pub by_balance_a: Option<f64>,
    /// Frequency the balance was asked at, Hz.
    pub esr_hz: f64,
    /// The ESR measured there, mΩ; `None` where that of the data sheet counts.
    pub esr_mohm: Option<f64>,
    /// Factor on the ripple as entered that would make this heat by the balance; `None` where none was entered.
    pub scale_of_entered: Option<f64>,
    /// Figures that came from default tables.
    pub assumed: Assumed,
}

/// What to see to before believing a measured rise.
pub const MEASURING_CAUTIONS: [&str; 4] = [
    "Measure at the side of the case, settled for an hour or more, against the air beside the can.",
    "Heat from neighbours and sinks reads as ripple here, so the answer is an upper one.",
    "Use the ESR of the old part as it is now: an aged part is hotter at the same ripple.",
    "The circuit is live: keep clear, use an insulated probe or a camera, and follow local codes and licensed practice.",
];

/// Backwards from a case rise in K measured on `can` at `place`; `esr_hz` is the frequency most of the ripple has. `esr_mohm` is the ESR
/// measured there on the old part; without it that of the data sheet is taken.
///
/// `None` when the rise is no number or negative.
pub fn explain_rise(
    context: &PositionContext,
    can: &Can,
    case_rise_k: f64,
    esr_hz: f64,
    esr_mohm: Option<f64>,
) -> Option<Explained> {
    if !(case_rise_k >= 0.0 && case_rise_k.is_finite() && esr_hz > 0.0 && esr_hz.is_finite()) {
        return None;
    }
    let mut assumed = Assumed::default();
    let (air, large) = air_multiplier(context.ambient.airflow_lfm, can.diameter_mm);
    assumed.insert_if(large, Assumed::AIRFLOW);
    let rated_rise_k = can.core_rise_k.or_else(|| {
        assumed.insert(Assumed::CORE_RISE);
        Some(default_rated_rise_k(can.technology_or_wet(), can.temp_max_c?))
    });
    let by_law = || {
        ripple_from_rated_rise_a(case_rise_k, core_to_case_ratio(can.diameter_mm?), air, can.ripple_a?, rated_rise_k?)
    };
    let by_law_a = by_law();
    let power = per_watt(can).and_then(|rise| power_w(case_rise_k, rise.case_k.recip(), air));
    let sheet = |hz: f64| esr::at_hz(can, hz);
    // A measured ESR scales the part's curve.
    let factor = match (esr_mohm, sheet(esr_hz)) {
        (Some(measured), Some(sheet)) => measured / sheet.mohm,
        _ => 1.0,
    };
    let esr_ohm = esr_mohm.map(|mohm| mohm * 1e-3).or_else(|| {
        let found = sheet(esr_hz)?;
        assumed.insert(found.assumed);
        Some(found.mohm * 1e-3)
    });
    let entered = context.lines().filter(|_| !context.electrical.ripple.assumed);
    let shape: Option<Vec<Line>> = entered.map(|lines| lines.iter().map(|&(hz, a)| Line { hz, a }).collect());
    Some(Explained {
        by_law_a,
        power_w: power,
        by_balance_a: power.zip(esr_ohm).and_then(|(power, esr)| ripple_from_power_a(power, esr)),
        esr_hz,
        esr_mohm,
        scale_of_entered: power
            .zip(shape)
            .and_then(|(power, shape)| scale_of_shape(power, &shape, |hz| Some(sheet(hz)?.mohm * 1e-3 * factor))),
        assumed,
    })
}
