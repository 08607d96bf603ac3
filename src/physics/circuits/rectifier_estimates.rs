//! Closed forms for the reservoir behind an ideal source: second opinions beside the integration, never in its place.
//!
//! They know no source resistance, and read 42 % high at 24 V with 0.2 ohm (ngspice-checked). Both start from the instant the
//! source's voltage rises past the falling capacitor, found exactly.

use std::f64::consts::{PI, SQRT_2};

use crate::physics::range::{non_negative, positive};

/// Conduction of a full-wave rectifier with ideal source and diodes, constant load current.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conduction {
    /// Time from the start of conduction to the source's peak, in s.
    pub before_peak_s: f64,
    /// Time from the peak to the end of conduction, where the source falls as fast as the load empties the capacitor, in s.
    pub after_peak_s: f64,
    /// Capacitor voltage where conduction starts, in V.
    pub valley_v: f64,
    /// Half the line period in s.
    half_wave_s: f64,
    peak_v: f64,
    output_a: f64,
    capacitance_f: f64,
    line_rad_s: f64,
}

impl Conduction {
    /// Finds the conduction interval for `source_v` (rms), `line_hz`, `capacitance_f` in F and the mean load `output_a`.
    ///
    /// `None` if a figure is out of range or the capacitor is too small to carry the load from one peak to the next.
    #[must_use]
    pub fn new(source_v: f64, line_hz: f64, capacitance_f: f64, output_a: f64) -> Option<Self> {
        let peak_v = SQRT_2 * positive(source_v)?;
        let line_rad_s = 2.0 * PI * positive(line_hz)?;
        let half_wave_s = PI / line_rad_s;
        let capacitance_f = positive(capacitance_f)?;
        let output_a = positive(output_a)?;
        let sine = output_a / (line_rad_s * capacitance_f * peak_v);
        if sine >= 1.0 {
            return None;
        }
        let after_peak_s = sine.asin() / line_rad_s;
        let released_v = peak_v * (line_rad_s * after_peak_s).cos();
        // how far the source is above the capacitor `before` seconds ahead of the next peak: falls with `before`
        let lead = |before: f64| {
            peak_v * (line_rad_s * before).cos()
                - (released_v - output_a * (half_wave_s - before - after_peak_s) / capacitance_f)
        };
        let (mut low, mut high) = (0.0, half_wave_s / 2.0);
        if lead(low) < 0.0 || lead(high) > 0.0 {
            return None;
        }
        for _ in 0..100 {
            let middle = 0.5 * (low + high);
            if lead(middle) > 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        Some(Self {
            before_peak_s: low,
            after_peak_s,
            valley_v: peak_v * (line_rad_s * low).cos(),
            half_wave_s,
            peak_v,
            output_a,
            capacitance_f,
            line_rad_s,
        })
    }

    /// Ripple in A rms with the charging current as the cosine segment `w C Vpk cos` before the peak, the load for the rest
    /// (derived; 0.1 % above the integration with an ideal source).
    #[must_use]
    pub fn sine_segment_rms_a(&self) -> f64 {
        let amplitude_a = self.line_rad_s * self.capacitance_f * self.peak_v;
        let t = self.before_peak_s;
        let charging =
            amplitude_a * amplitude_a * (t / 2.0 - (2.0 * self.line_rad_s * t).sin() / (4.0 * self.line_rad_s));
        self.with_discharge(charging)
    }

    /// Ripple in A rms with a rectangular charging pulse of the same charge (common practice, no source; about 11 % below the
    /// integration with an ideal source).
    #[must_use]
    pub fn rectangular_rms_a(&self) -> f64 {
        let pulse_a = self.capacitance_f * (self.peak_v - self.valley_v) / self.before_peak_s;
        self.with_discharge(pulse_a * pulse_a * self.before_peak_s)
    }

    fn with_discharge(&self, charging_a2s: f64) -> f64 {
        let discharging = self.output_a * self.output_a * (self.half_wave_s - self.before_peak_s);
        ((charging_a2s + discharging) / self.half_wave_s).sqrt()
    }
}

/// Least reservoir voltage in V under constant power: `sqrt(2 Vac^2 - 2 P (1/(2f) - tc)/(eta C))` (published, Power Integrations
/// AN-17 p. 8). `conduction_s` is the diodes' conduction time per half wave, `efficiency` that of the stage fed (0 to 1].
///
/// `None` out of range, or where the capacitor runs empty before the next peak.
#[must_use]
pub fn constant_power_valley_v(
    source_v: f64,
    line_hz: f64,
    output_w: f64,
    efficiency: f64,
    capacitance_f: f64,
    conduction_s: f64,
) -> Option<f64> {
    let efficiency = positive(efficiency).filter(|&share| share <= 1.0)?;
    let discharge_s = non_negative(1.0 / (2.0 * positive(line_hz)?) - non_negative(conduction_s)?)?;
    let source_v = positive(source_v)?;
    let spent_v2 = 2.0 * non_negative(output_w)? * discharge_s / (efficiency * positive(capacitance_f)?);
    positive(2.0 * source_v * source_v - spent_v2).map(f64::sqrt)
}

/// Peak of the line in V, the highest the reservoir can reach without load: `Vac sqrt2`.
#[must_use]
pub fn line_peak_v(source_v: f64) -> Option<f64> {
    Some(SQRT_2 * positive(source_v)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_capacitor_too_small_for_its_load_has_no_conduction_interval() {
        assert!(Conduction::new(24.0, 50.0, 1e-6, 2.0).is_none());
        assert!(Conduction::new(24.0, 50.0, 4700e-6, 0.0).is_none());
        assert!(constant_power_valley_v(85.0, 60.0, 150.0, 0.8, 33e-6, 0.0).is_none());
    }

    #[test]
    fn a_lighter_load_conducts_for_less_time_and_sags_less() {
        let heavy = Conduction::new(24.0, 50.0, 4700e-6, 2.0).unwrap();
        let light = Conduction::new(24.0, 50.0, 4700e-6, 0.5).unwrap();
        assert!(light.before_peak_s < heavy.before_peak_s && light.valley_v > heavy.valley_v);
        assert!(light.after_peak_s < heavy.after_peak_s);
    }
}
