//! A named question "what if": the whole job a few kelvin warmer, with more ripple, more hours, another interval.

use super::schema::Absent::Nothing;
use super::schema::fields;
use super::style::figure;

fields! {
    /// A question "what if" kept in the job.
    pub VARIANT: Variant;
    /// A change of the operating conditions of the whole job, kept beside what was entered and never mixed into it.
    struct Variant "variants." [] {
        name name (Line) Elsewhere, Nothing("empty"), "Name of the variant", "What the shop calls the variant.";
        number ambient_shift_k (Kelvin Signed) Elsewhere, Nothing("0"), "Ambient shift",
            "Added to every ambient of the job, the lowest ones too.";
        number ripple_factor (Number NotNegative) Elsewhere, Nothing("1"), "Ripple factor",
            "Factor on every ripple current, over the scale of each phase.";
        number hours_per_year (Hour HoursOfYear) Elsewhere, Nothing("those of the job"), "Energised hours per year",
            "Hours in a year with power on.";
        number interval_years (Year Positive) Elsewhere, Nothing("those of the job"), "Service interval",
            "Years until the next scheduled rebuild.";
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
