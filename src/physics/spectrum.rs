//! A ripple current as a list of lines: what every circuit, group and oscilloscope record comes down to.

use super::range::{finite, non_negative, positive};

/// One line of a ripple spectrum.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// Frequency in Hz, above zero.
    pub hz: f64,
    /// Current in A rms, not negative.
    pub a: f64,
}

/// The current through a capacitor: its true rms and the lines that make it up.
///
/// The lines' root sum of squares equals `rms_a`, so that a check made with the lines never sees less heat
/// than one made with the rms.
#[derive(Debug, Clone, PartialEq)]
pub struct Ripple {
    /// Current in A rms, all frequencies but zero.
    pub rms_a: f64,
    /// Lines by rising frequency.
    pub lines: Vec<Line>,
}

/// Root sum of squares of the lines, in A. Lines of different frequency do not add any other way.
///
/// ```
/// use refarad::physics::spectrum::{Line, rms_a};
/// // By hand: 3 and 4 A make 5 A.
/// assert_eq!(rms_a(&[Line { hz: 100.0, a: 3.0 }, Line { hz: 1e5, a: 4.0 }]), 5.0);
/// ```
pub fn rms_a(lines: &[Line]) -> f64 {
    lines.iter().map(|line| line.a * line.a).sum::<f64>().sqrt()
}

/// Size of the impedance of a capacitor, ohm: `sqrt(ESR^2 + 1 / (2 pi f C)^2)` (circuit theory; inductance left out).
///
/// ```
/// // By hand: 470 uF at 100 Hz is 3.386 ohm; with 0.395 ohm of ESR 3.409 ohm.
/// let ohm = refarad::physics::spectrum::impedance_ohm(0.395, 470e-6, 100.0);
/// assert!((ohm - 3.409).abs() < 0.001);
/// ```
pub fn impedance_ohm(esr_ohm: f64, capacitance_f: f64, hz: f64) -> f64 {
    esr_ohm.hypot(1.0 / (std::f64::consts::TAU * hz * capacitance_f))
}

impl Ripple {
    /// A current of one frequency: `None` unless `hz` > 0 and `a` >= 0.
    ///
    /// ```
    /// // By definition.
    /// assert_eq!(refarad::physics::spectrum::Ripple::single(100.0, 1.5).unwrap().rms_a, 1.5);
    /// ```
    pub fn single(hz: f64, a: f64) -> Option<Self> {
        let line = Line { hz: positive(hz)?, a: non_negative(a)? };
        Some(Self { rms_a: line.a, lines: vec![line] })
    }

    /// The first harmonics of `fundamental_hz` (`harmonics_a[0]` is the fundamental, A rms), completed to `rms_a`.
    ///
    /// What the listed harmonics leave over is put into one more line at the first harmonic not listed. That is the
    /// lowest frequency the rest contains; wet capacitors bear high frequencies better than low ones, so the lumped
    /// line errs towards more heat. Harmonics that are zero by symmetry are left out, rounding in the closed form
    /// aside (below 1e-9 of the rms).
    ///
    /// `None` if a figure is out of range, or if the harmonics alone carry more than `rms_a` by over 0.1 %: then
    /// the two do not belong together.
    ///
    /// ```
    /// // By hand: 3 A of 5 A in the fundamental leave 4 A, put at the second harmonic.
    /// let ripple = refarad::physics::spectrum::Ripple::harmonic(100.0, &[3.0], 5.0).unwrap();
    /// assert!((ripple.lines[1].hz - 200.0).abs() < 1e-9 && (ripple.lines[1].a - 4.0).abs() < 1e-12);
    /// ```
    pub fn harmonic(fundamental_hz: f64, harmonics_a: &[f64], rms_a: f64) -> Option<Self> {
        let fundamental_hz = positive(fundamental_hz)?;
        let rms_a = non_negative(rms_a)?;
        let mut lines = Vec::with_capacity(harmonics_a.len() + 1);
        let mut hz = 0.0;
        for &a in harmonics_a {
            hz += fundamental_hz;
            let a = non_negative(a)?;
            if a > 1e-9 * rms_a {
                lines.push(Line { hz, a });
            }
        }
        Self::completed(lines, hz + fundamental_hz, rms_a)
    }

    /// `lines` completed to `rms_a` by a line at `rest_hz`; see [`Ripple::harmonic`] for what is refused.
    ///
    /// ```
    /// use refarad::physics::spectrum::{Line, Ripple};
    /// // By hand: 3 A listed of 5 A leave 4 A for the rest.
    /// let ripple = Ripple::completed(vec![Line { hz: 100.0, a: 3.0 }], 1e4, 5.0).unwrap();
    /// assert!((ripple.lines[1].a - 4.0).abs() < 1e-12);
    /// ```
    pub fn completed(mut lines: Vec<Line>, rest_hz: f64, rms_a: f64) -> Option<Self> {
        let rms_a = non_negative(rms_a)?;
        let listed = finite(self::rms_a(&lines))?;
        let rest_sq = (rms_a - listed) * (rms_a + listed);
        if listed > rms_a * 1.001 {
            return None;
        }
        if rest_sq > 1e-12 * rms_a * rms_a {
            lines.push(Line { hz: positive(rest_hz)?, a: rest_sq.sqrt() });
        } else if listed > 0.0 {
            let scale = rms_a / listed;
            for line in &mut lines {
                line.a *= scale;
            }
        }
        Some(Self { rms_a, lines })
    }

    /// Two currents through the same capacitor whose frequencies differ: the lines side by side, the rms by root
    /// sum of squares.
    ///
    /// ```
    /// use refarad::physics::spectrum::Ripple;
    /// // By hand: 3 and 4 A of different frequency make 5 A.
    /// let both = Ripple::single(65e3, 4.0).unwrap().and(Ripple::single(100.0, 3.0).unwrap());
    /// assert_eq!((both.rms_a, both.lines[0].hz, both.lines[1].hz), (5.0, 100.0, 65e3));
    /// ```
    #[must_use]
    pub fn and(mut self, other: Self) -> Self {
        self.rms_a = self.rms_a.hypot(other.rms_a);
        self.lines.extend(other.lines);
        self.lines.sort_by(|left, right| left.hz.total_cmp(&right.hz));
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_the_harmonics_leave_over_goes_into_one_line_above_them() {
        let ripple = Ripple::harmonic(100.0, &[3.0, 0.0, 0.0], 5.0).unwrap();
        assert_eq!(ripple.lines.len(), 2);
        assert_eq!(ripple.lines[0], Line { hz: 100.0, a: 3.0 });
        assert!((ripple.lines[1].hz - 400.0).abs() < 1e-9 && (ripple.lines[1].a - 4.0).abs() < 1e-12);
        assert!((rms_a(&ripple.lines) - 5.0).abs() < 1e-12);
    }

    #[test]
    fn harmonics_that_carry_more_than_the_whole_are_refused() {
        assert_eq!(Ripple::harmonic(100.0, &[3.0, 4.0], 4.9), None);
        let rounded = Ripple::harmonic(100.0, &[3.0, 4.0], 4.999_999).unwrap();
        assert!((rms_a(&rounded.lines) - 4.999_999).abs() < 1e-12);
    }

    #[test]
    fn no_current_is_a_spectrum_without_lines_not_a_failure() {
        let none = Ripple::harmonic(100.0, &[0.0, 0.0], 0.0).unwrap();
        assert!(none.lines.is_empty() && none.rms_a == 0.0);
        assert_eq!(Ripple::harmonic(0.0, &[1.0], 1.0), None);
        assert_eq!(Ripple::single(f64::NAN, 1.0), None);
    }
}
