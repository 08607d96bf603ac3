//! What holds for every position of a board or a job that does not say otherwise.

use super::position::Phase;
use super::written::records;

records! {
    /// Ambient of a whole board or job; each position takes from it the fields it lacks.
    pub struct Conditions {
        /// Duty; absent or empty = unknown.
        pub phases: Option<Vec<Phase>>,
        /// Lowest ambient, also while switched off, °C.
        pub ambient_min_c: Option<f64>,
        /// Air speed at the cans, ft/min; counts only where the phases come from here too.
        pub airflow_lfm: Option<f64>,
    }
}

impl Conditions {
    /// Whether nothing is said.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}
