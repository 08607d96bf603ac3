//! The shop's margins.

use serde::{Deserialize, Serialize};

use super::Extra;

/// Margins that decide between pass and marginal. The defaults are common practice, no source, unless said otherwise.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Policy {
    /// Largest share of the rated voltage for wet parts rated below 160 V.
    pub voltage_use_max_wet_lv: f64,
    /// Largest share of the rated voltage for wet parts rated 160 V or more.
    pub voltage_use_max_wet_hv: f64,
    /// Largest share of the rated voltage for hybrid and polymer parts.
    pub voltage_use_max_polymer: f64,
    /// Largest share of the allowed ripple current.
    pub ripple_use_max: f64,
    /// Life to be shown over the target.
    pub life_margin: f64,
    /// Whether working below the rated voltage counts as longer life (wet parts from 160 V).
    pub count_voltage_derating: bool,
    /// Longest calendar life believed, years (published, Beckhoff PS9011 manual).
    pub calendar_cap_years: f64,
    /// Free space between neighbouring cans, mm.
    pub can_gap_mm: f64,
    /// How far radial leads may be formed from the part's own pitch, mm.
    pub pitch_reach_mm: f64,
    #[serde(flatten)]
    /// Fields of a later version.
    pub extra: Extra,
}

impl Default for Policy {
    fn default() -> Self {
        Self {
            voltage_use_max_wet_lv: 0.80,
            voltage_use_max_wet_hv: 0.90,
            voltage_use_max_polymer: 0.80,
            ripple_use_max: 0.80,
            life_margin: 1.25,
            count_voltage_derating: false,
            calendar_cap_years: 15.0,
            can_gap_mm: 1.0,
            pitch_reach_mm: 2.5,
            extra: Extra::new(),
        }
    }
}
