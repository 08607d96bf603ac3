//! What the checks use where a field of a position is left empty.

use super::PositionContext;
use crate::domain::schema::{self, Absent};
use crate::physics::{body, esr, heat, leakage, voltage};

/// What stands in for an empty field.
#[derive(Debug, Clone, PartialEq)]
pub enum DefaultValue {
    /// A figure, in the unit of the field.
    Figure(f64),
    /// Something in words: `wet`, `no limit`.
    Words(&'static str),
}

/// What the checks use for the empty field `name` (its path in the job file); `None` where they know nothing.
pub fn default_value(context: &PositionContext, name: &str) -> Option<DefaultValue> {
    use DefaultValue::{Figure, Words};
    let position = context.position;
    let can = &position.original.can;
    let technology = can.technology_or_wet();
    let voltages = || context.electrical.on(context.policy, can);
    let figure = match name {
        "needs.capacitance_min_uf" | "needs.capacitance_max_uf" => {
            return position.role.and(can.capacitance_uf).map(|_| Words("by role"));
        }
        "original.f50" | "original.f120" | "original.f300" | "original.f1k" | "original.f10k" | "original.f100k" => {
            let own = can.own_multipliers().next().is_some();
            return Some(Words(if own { "from the others" } else { "usual table" }));
        }
        "original.ripple_temp_factors" => return can.temp_max_c.map(|_| Words("usual table")),
        "original.surge_v" => can.rated_v.map(|rated_v| voltage::usual_surge_v(technology, rated_v).sure_v),
        "original.core_rise_k" => can.temp_max_c.map(|t| heat::default_rated_rise_k(technology, t)),
        "original.esr_mohm" => esr::at_hz(can, can.esr_hz.unwrap_or(context.esr_limit().0)).map(|esr| esr.mohm),
        "original.tan_delta" if can.esr_mohm.is_none() => {
            can.rated_v.zip(can.capacitance_uf).map(|(v, uf)| esr::usual_tan_delta(esr::Ladder::Limit, v, uf))
        }
        "original.leakage_ua" => {
            can.rated_v.zip(can.capacitance_uf).map(|(v, uf)| leakage::usual_ua(technology, uf, v))
        }
        "original.diameter_max_mm" => body::of(can).diameter_max_mm,
        "original.height_max_mm" => body::of(can).height_max_mm,
        "stress.ripple.a" if position.stress.ripple.is_none() => can.ripple_a,
        "stress.ripple.hz" if position.stress.ripple.is_none() => can.ripple_hz,
        "stress.phases.ambient_c" => context.ambient.max_c,
        "stress.ambient_min_c" => context.ambient.min_c,
        "stress.dc_v" => voltages().swing_v,
        "stress.ripple_peak_v" => voltages().ripple_peak_v,
        "stress.transient_v" => voltages().peak_v,
        "stress.min_v" => voltages().lowest_v,
        "stress.airflow_lfm" => Some(context.ambient.airflow_lfm),
        "needs.esr_max_mohm" => context.esr_limit().1,
        "needs.esr_hz" => Some(context.esr_limit().0),
        "needs.life_h" => context.target_h,
        "space.diameter_max_mm" => context.room_mm().0,
        "space.height_max_mm" => context.room_mm().1,
        "space.pitch_mm" => can.pitch_mm,
        "space.pitch_reach_mm" => Some(context.policy.pitch_reach_mm),
        _ => {
            return match schema::find(name)?.absent {
                Absent::Assumed(words) => Some(Words(words)),
                _ => None,
            };
        }
    };
    figure.map(Figure)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{Catalog, Job, PositionId};
    use crate::files::demo;

    #[test]
    fn an_empty_surge_voltage_stands_at_the_published_share_of_the_rated_voltage() {
        // IEC 60384-1 as quoted: 1.10 U_R above 315 V.
        let mut job = demo::job().unwrap().job;
        let id = PositionId { board: 0, index: 0 };
        job.position_mut(id).unwrap().original.can.surge_v = None;
        let place = PositionContext::new(&job, &Catalog::default(), id).unwrap();
        let found = default_value(&place, "original.surge_v");
        assert_eq!(found, Some(DefaultValue::Figure(1.10 * 400.0)));
    }

    #[test]
    fn the_original_s_rated_voltage_stands_in_for_the_working_voltage() {
        let mut job = demo::job().unwrap().job;
        let id = PositionId { board: 0, index: 0 };
        job.position_mut(id).unwrap().stress.dc_v = None;
        let found =
            |job: &Job| default_value(&PositionContext::new(job, &Catalog::default(), id).unwrap(), "stress.dc_v");
        // At 400 V the policy for 160 V and above counts.
        assert_eq!(found(&job), Some(DefaultValue::Figure(400.0 * job.policy.voltage_use_max_wet_hv)));
        job.position_mut(id).unwrap().original.can.rated_v = None;
        assert_eq!(found(&job), None);
    }
}
