//! The figures on the way from the ripple to the life of one part at one position, so that somebody can do the sum again by hand.

use super::checks::Change;
use super::duty::{DutyDamage, damage_by_phase};
use super::heat_opinion::{HeatOpinions, opinions};
use super::position_context::PositionContext;
use super::rank::Ranked;
use super::reasons::{check_name, reason};
use super::size::PositionSizing;
use crate::domain::{Can, Catalog, Outcome, style};
use crate::physics::esr;
use crate::physics::frequency::Multipliers;
use crate::physics::heat::AmbientFactors;
use crate::physics::life::Life;

/// One line of the ripple spectrum.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RippleStep {
    /// Frequency, Hz.
    pub hz: f64,
    /// Current, A rms.
    pub a: f64,
    /// Multiplier of the part at that frequency over that at its rating frequency.
    pub factor: f64,
    /// ESR at that frequency, mΩ; `None` where it is not known.
    pub esr_mohm: Option<f64>,
}

/// Everything on the way to a life.
#[derive(Debug, Clone, PartialEq)]
pub struct Workings {
    /// The ripple spectrum.
    pub lines: Vec<RippleStep>,
    /// Multipliers of the part over the frequency, Hz and factor; empty where every line is at the rating frequency and no table is known.
    pub by_frequency: Vec<(f64, f64)>,
    /// Multipliers of the part over the ambient, °C and factor.
    pub by_ambient: Vec<(f64, f64)>,
    /// Equivalent current at the rating frequency for ripple scale 1, A rms.
    pub equivalent_a: f64,
    /// Core temperature rise at rated ripple, K.
    pub rated_rise_k: f64,
    /// The same during the endurance test: 0 for a test without ripple.
    pub test_rise_k: f64,
    /// Factor on the life for operation below the rated voltage; 1 unless the policy credits it.
    pub voltage_factor: f64,
    /// Factor of moving air on the current the can stands.
    pub air: f64,
    /// What each phase does.
    pub duty: DutyDamage,
    /// Multiplier of the rated current at the ambient of each phase.
    pub ambient_factors: Vec<f64>,
    /// Life over all phases with the band of the published laws, h, before the cap.
    pub life: Life,
    /// Core temperature rise by law and by heat balance.
    pub heat: Option<HeatOpinions>,
}

/// The workings of `can` at a position; `None` where a figure the life needs is missing.
pub fn workings(context: &PositionContext, can: &Can) -> Option<Workings> {
    let (under, _) = context.under_duty(can)?;
    let phases = context.duty()?;
    let rated_hz = can.ripple_hz?;
    let multipliers = Multipliers::of(can);
    let factor = |hz: f64| {
        if hz == rated_hz {
            return Some(1.0);
        }
        multipliers.as_ref().map(|multipliers| multipliers.at(hz) / multipliers.at(rated_hz))
    };
    let step = |&(hz, a): &(f64, f64)| {
        Some(RippleStep { hz, a, factor: factor(hz)?, esr_mohm: esr::at_hz(can, hz).map(|found| found.mohm) })
    };
    let ambient = AmbientFactors::of(can)?;
    Some(Workings {
        lines: context.lines()?.iter().map(step).collect::<Option<_>>()?,
        by_frequency: multipliers.as_ref().map(|table| table.points().to_vec()).unwrap_or_default(),
        by_ambient: ambient.points().to_vec(),
        equivalent_a: under.rise.equivalent_a,
        rated_rise_k: under.rise.rated_rise_k,
        test_rise_k: under.test_rise_k(),
        voltage_factor: under.conditions.voltage_factor,
        air: under.rise.air,
        duty: damage_by_phase(context, can)?,
        ambient_factors: phases.iter().map(|phase| ambient.at(phase.ambient_c)).collect(),
        life: under.life(phases, Change::NONE)?,
        heat: opinions(context, can),
    })
}

/// A part that was not taken.
#[derive(Debug, Clone, PartialEq)]
pub struct Alternative {
    /// The part.
    pub part_number: String,
    /// The verdict on it.
    pub verdict: Outcome,
    /// Why it was not taken, in words.
    pub why: String,
}

/// The best parts beside the chosen one, and why not they: the check that decides against them, or what their need costs.
pub fn alternatives(
    context: &PositionContext,
    catalog: &Catalog,
    sized: &PositionSizing,
    most: usize,
) -> Vec<Alternative> {
    let chosen = sized.choice.part;
    let others =
        sized.best.iter().filter(|part| chosen.is_none_or(|chosen| chosen.id != part.id) && part.excess.is_none());
    let money = |cost: f64| format!("{} {}", style::money(cost), context.market.currency()).trim_end().to_owned();
    let cost = |part: &Ranked| context.cost_of_need(catalog, part.id);
    let passes_too = |part: &Ranked| match (cost(part), chosen.as_ref().and_then(cost), part.price) {
        (Some(its), Some(own), _) => format!("{} against {}", money(its), money(own)),
        (Some(its), None, _) => money(its),
        (None, _, Some(price)) => {
            let price = format!("{} {}", style::price(price), catalog.currency(part.id));
            format!("{} each, which cannot be compared: no rate or usable offer", price.trim())
        }
        (None, _, None) => "price unknown".to_owned(),
    };
    let why = |part: &Ranked| {
        let Some(check) = part.evaluation.decisive() else {
            return format!("passes too, {}", passes_too(part));
        };
        format!("{} {}", check_name(check), reason(context, &catalog.can(part.id), &part.evaluation, check))
    };
    let told = others.take(most).map(|part| Alternative {
        part_number: catalog.part_number(part.id).to_owned(),
        verdict: part.evaluation.verdict,
        why: why(part),
    });
    told.collect()
}
