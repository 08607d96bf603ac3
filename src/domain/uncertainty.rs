//! How far the inputs of the life may be off.

use super::written::records;

records! {
    /// How far the inputs of the life may be off. A field that is absent while others are given is filled from common practice and
    /// shown as assumed.
    pub struct Uncertainty {
        /// Standard deviation of the ambient, K.
        pub ambient_sigma_k: Option<f64>,
        /// Relative standard deviation of the ripple; 0.2 is 20 %.
        pub ripple_sigma_rel: Option<f64>,
        /// Relative standard deviation of the endurance of a part.
        pub endurance_sigma_rel: Option<f64>,
        /// How many lives are drawn.
        pub samples: Option<u32>,
        /// Start of the random sequence: the same seed gives the same figures.
        pub seed: Option<u64>,
    }
}
