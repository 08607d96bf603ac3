//! A named question "what if": the whole job a few kelvin warmer, with more ripple, more hours, another interval.

use super::style::figure;
use super::written::records;

records! {
    /// A change of the operating conditions of the whole job, kept beside what was entered and never mixed into it.
    pub struct Variant {
        /// What the shop calls it.
        pub name: String,
        /// Added to every ambient, the lowest ones too, K; absent = 0.
        pub ambient_shift_k: Option<f64>,
        /// Factor on every ripple current, over the scale of each phase; absent = 1.
        pub ripple_factor: Option<f64>,
        /// Energised hours in a year; absent = those of the job.
        pub hours_per_year: Option<f64>,
        /// Years until the next rebuild; absent = those of the job.
        pub interval_years: Option<f64>,
    }
}

impl Variant {
    /// Whether it changes nothing.
    pub fn is_as_entered(&self) -> bool {
        self.ambient_shift_k.unwrap_or(0.0) == 0.0
            && self.ripple_factor.unwrap_or(1.0) == 1.0
            && self.hours_per_year.is_none()
            && self.interval_years.is_none()
    }

    /// In a few words: `+8 K, ripple × 1.2`.
    pub fn in_words(&self) -> String {
        let shift = self.ambient_shift_k.filter(|&shift| shift != 0.0).map(|shift_k| {
            let sign = if shift_k < 0.0 { "−" } else { "+" };
            format!("{sign}{} K", figure(shift_k.abs()))
        });
        let ripple = self.ripple_factor.filter(|&factor| factor != 1.0).map(|f| format!("ripple × {}", figure(f)));
        let hours = self.hours_per_year.map(|hours| format!("{} h a year", figure(hours)));
        let years = self.interval_years.map(|years| format!("{} years", figure(years)));
        [shift, ripple, hours, years].into_iter().flatten().collect::<Vec<_>>().join(", ")
    }
}
