//! What holds for every position of a board or a job that does not say otherwise.

use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

use super::Extra;
use super::position::Phase;

/// Ambient of a whole board or job; each position takes from it the fields it lacks.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Conditions {
    /// Duty; absent or empty = unknown.
    pub phases: Option<Vec<Phase>>,
    /// Lowest ambient, also while switched off, °C.
    pub ambient_min_c: Option<f64>,
    /// Air speed at the cans, ft/min; counts only where the phases come from here too.
    pub airflow_lfm: Option<f64>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

impl Conditions {
    /// Whether nothing is said.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}
