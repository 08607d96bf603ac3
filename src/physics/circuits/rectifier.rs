//! Full-wave mains rectifier with reservoir, integrated to its periodic state.
//!
//! The source is a sine behind `source_ohm` (winding, wiring, inrush resistor, all seen from the reservoir's side), the diodes are one
//! of [`Diodes`], the reservoir is an ideal capacitor with its ESR, the load one of [`Load`]. Neither leakage inductance nor the
//! flat-topped mains of a real building are in here; both lower the ripple, so the result errs towards more heat.

use std::f64::consts::{PI, SQRT_2};

use super::LISTED;
use crate::physics::range::{non_negative, positive};
use crate::physics::spectrum::{Line, Ripple};

/// Steps over one half wave. The implicit Euler rule is of first order; halving the step moves the rms of the reference cases by
/// less than 0.02 %.
const STEPS: u32 = 8192;

/// Half waves tried before the search for the periodic state is given up.
const TRIES: u32 = 200;

/// Thermal voltage of a junction at 27 C, the usual reference temperature of circuit simulation.
const THERMAL_V: f64 = 0.025_865;

/// What the reservoir feeds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Load {
    /// A constant current in A (linear regulator, motor).
    Current(f64),
    /// A resistance in ohm.
    Resistor(f64),
    /// A constant power in W (switching supply): the current rises as the voltage falls.
    Power(f64),
}

/// The diodes, each of them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Diodes {
    /// A constant forward voltage in V each, 0 for none.
    Drop(f64),
    /// Junction with series resistance: `V = N Vt ln(I/IS + 1) + I R` at 27 C.
    Junction {
        /// Saturation current IS in A.
        saturation_a: f64,
        /// Emission coefficient N.
        ideality: f64,
        /// Series resistance in ohm.
        series_ohm: f64,
    },
}

/// A full-wave rectifier and its reservoir.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rectifier {
    /// Open-circuit voltage of the source in V rms (one half winding for a centre tap).
    pub source_v: f64,
    /// Line frequency in Hz.
    pub line_hz: f64,
    /// Resistance of the source in ohm, 0 for an ideal source.
    pub source_ohm: f64,
    /// Diode behaviour.
    pub diodes: Diodes,
    /// Diodes that conduct in series: 2 in a bridge, 1 with a centre tap.
    pub diodes_in_path: u8,
    /// Capacitance in F.
    pub capacitance_f: f64,
    /// ESR in ohm at twice the line frequency, 0 for none.
    pub esr_ohm: f64,
    /// What is fed.
    pub load: Load,
}

/// The periodic state.
#[derive(Debug, Clone, PartialEq)]
pub struct Reservoir {
    /// Current of the capacitor.
    pub ripple: Ripple,
    /// Largest charging current of the capacitor in A.
    pub peak_a: f64,
    /// Least voltage at the capacitor's terminals in V.
    pub valley_v: f64,
    /// Largest voltage at the capacitor's terminals in V.
    pub peak_v: f64,
    /// Mean voltage at the capacitor's terminals in V.
    pub mean_v: f64,
    /// Current of the source in A rms.
    pub source_rms_a: f64,
}

/// One instant: capacitor current, source current, terminal voltage.
#[derive(Clone, Copy)]
struct Instant {
    capacitor_a: f64,
    source_a: f64,
    terminal_v: f64,
}

/// Integrates `rectifier` to its periodic state.
///
/// Within 0.5 % of ngspice on the reference cases (24 V, 230 V; lossless and junction diodes). `None` if a figure is out of range, or if
/// the load (constant current or power) pulls the capacitor to zero between two peaks of the source.
///
/// ```
/// use refarad::physics::circuits::rectifier::{Diodes, Load, Rectifier, reservoir};
/// // Our ngspice netlist 02: 230 V 50 Hz, 1 ohm, 220 µF with 0.3 ohm, 500 ohm: 1.589 A.
/// let state = reservoir(&Rectifier {
///     source_v: 230.0, line_hz: 50.0, source_ohm: 1.0, diodes: Diodes::Drop(0.0), diodes_in_path: 2,
///     capacitance_f: 220e-6, esr_ohm: 0.3, load: Load::Resistor(500.0),
/// }).unwrap();
/// assert!((state.ripple.rms_a / 1.58941 - 1.0).abs() < 5e-3);
/// ```
pub fn reservoir(rectifier: &Rectifier) -> Option<Reservoir> {
    let circuit = Checked::new(rectifier)?;
    let start_v = circuit.periodic_start_v()?;
    let mut wave = Vec::with_capacity(STEPS as usize);
    circuit.half_wave(start_v, |instant| wave.push(instant))?;
    summary(&wave, 2.0 * rectifier.line_hz)
}

/// A rectifier whose figures are in range, with the step worked out.
struct Checked<'a> {
    given: &'a Rectifier,
    peak_v: f64,
    /// Series resistance of source and diodes, and the constant part of the diodes' drop.
    series_ohm: f64,
    drop_v: f64,
    /// Slope voltage and saturation current of the junctions in series, if they are modelled.
    junction: Option<(f64, f64)>,
    /// Rise of the capacitor's voltage per A in one step, and with the ESR on top.
    step_ohm: f64,
    node_ohm: f64,
}

impl<'a> Checked<'a> {
    fn new(given: &'a Rectifier) -> Option<Self> {
        let line_hz = positive(given.line_hz)?;
        let source_ohm = non_negative(given.source_ohm)?;
        match given.load {
            Load::Current(load) | Load::Power(load) => non_negative(load)?,
            Load::Resistor(load) => positive(load)?,
        };
        let count = f64::from(given.diodes_in_path);
        let (series_ohm, drop_v, junction) = match given.diodes {
            Diodes::Drop(each_v) => (source_ohm, count * non_negative(each_v)?, None),
            Diodes::Junction { saturation_a, ideality, series_ohm } => (
                source_ohm + count * non_negative(series_ohm)?,
                0.0,
                (count > 0.0).then_some((count * positive(ideality)? * THERMAL_V, positive(saturation_a)?)),
            ),
        };
        let step_ohm = 1.0 / (2.0 * line_hz * f64::from(STEPS) * positive(given.capacitance_f)?);
        Some(Self {
            given,
            peak_v: SQRT_2 * positive(given.source_v)?,
            series_ohm,
            drop_v,
            junction,
            step_ohm,
            node_ohm: step_ohm + non_negative(given.esr_ohm)?,
        })
    }

    /// Voltage inside the capacitor at the zero crossing that comes back after one half wave.
    ///
    /// One half wave maps this voltage to the next; the map rises with slope below 1, so it is followed down from the source's peak with
    /// secant steps, and a secant step that collapses is replaced by a plain one.
    fn periodic_start_v(&self) -> Option<f64> {
        let mut at = positive(self.peak_v - self.drop_v)?;
        let mut next = self.half_wave(at, |_| ())?;
        for _ in 0..TRIES {
            let moved = next - at;
            if moved.abs() <= 1e-10 * self.peak_v {
                return Some(next);
            }
            let after = self.half_wave(next, |_| ())?;
            let slope = (after - next) / moved;
            let jump = if slope < 1.0 { after + (after - next) * slope / (1.0 - slope) } else { after };
            let guess = if jump > 0.0 && jump <= self.peak_v { jump } else { after };
            (at, next) = match self.half_wave(guess, |_| ()) {
                Some(then) => (guess, then),
                None => (next, after),
            };
        }
        None
    }

    /// Follows one half wave from `inner_v` inside the capacitor and returns that voltage at its end; `None` if the output collapses.
    fn half_wave(&self, mut inner_v: f64, mut see: impl FnMut(Instant)) -> Option<f64> {
        for step in 1..=STEPS {
            let phase = PI * f64::from(step) / f64::from(STEPS);
            let source_a = self.source_a(self.peak_v * phase.sin() - self.drop_v, inner_v)?;
            let (terminal_v, _) = self.terminal(inner_v, source_a)?;
            let capacitor_a = (terminal_v - inner_v) / self.node_ohm;
            inner_v += capacitor_a * self.step_ohm;
            see(Instant { capacitor_a, source_a, terminal_v });
        }
        Some(inner_v)
    }

    /// Voltage at the capacitor's terminals at the end of a step that began with `inner_v` inside it and carries `source_a`, and its
    /// slope over `source_a`.
    fn terminal(&self, inner_v: f64, source_a: f64) -> Option<(f64, f64)> {
        let open_v = inner_v + self.node_ohm * source_a;
        let (volt, slope) = match self.given.load {
            Load::Current(load_a) => (open_v - self.node_ohm * load_a, self.node_ohm),
            Load::Resistor(load_ohm) => {
                let share = load_ohm / (load_ohm + self.node_ohm);
                (open_v * share, self.node_ohm * share)
            }
            Load::Power(load_w) => {
                let root = open_v.mul_add(open_v, -4.0 * self.node_ohm * load_w);
                if root <= 0.0 {
                    return None;
                }
                let root = root.sqrt();
                (0.5 * (open_v + root), 0.5 * self.node_ohm * (1.0 + open_v / root))
            }
        };
        (volt > 0.0).then_some((volt, slope))
    }

    /// Current the source drives at the end of a step, 0 while the diodes block. Newton's rule on the loop voltage, which falls with the
    /// current; with junctions the unknown is the logarithm of the current, which keeps the rule stable.
    fn source_a(&self, drive_v: f64, inner_v: f64) -> Option<f64> {
        let (blocked_v, slope) = self.terminal(inner_v, 0.0)?;
        if drive_v <= blocked_v {
            return Some(0.0);
        }
        let scale = drive_v - blocked_v;
        let Some((slope_v, saturation_a)) = self.junction else {
            let mut current = 0.0;
            for _ in 0..50 {
                let (node_v, node_slope) = self.terminal(inner_v, current)?;
                let open_v = drive_v - self.series_ohm * current - node_v;
                current = (current + open_v / (self.series_ohm + node_slope)).max(0.0);
                if open_v.abs() <= 1e-12 * self.peak_v {
                    break;
                }
            }
            return Some(current);
        };
        let mut log = (scale / slope_v).min((scale / (self.series_ohm + slope) / saturation_a).ln_1p());
        for _ in 0..100 {
            let current = saturation_a * log.exp_m1();
            let (node_v, node_slope) = self.terminal(inner_v, current)?;
            let open_v = drive_v - slope_v * log - self.series_ohm * current - node_v;
            let fall = slope_v + (self.series_ohm + node_slope) * saturation_a * log.exp();
            log = (log + open_v / fall).max(0.0);
            if open_v.abs() <= 1e-12 * self.peak_v {
                break;
            }
        }
        Some(saturation_a * log.exp_m1())
    }
}

/// Figures and lines of one half wave, the repetition of which has the frequency `ripple_hz`.
fn summary(wave: &[Instant], ripple_hz: f64) -> Option<Reservoir> {
    let count = f64::from(STEPS);
    let mean = |of: fn(&Instant) -> f64| wave.iter().map(of).sum::<f64>() / count;
    let largest = |of: fn(&Instant) -> f64| wave.iter().map(of).fold(f64::MIN, f64::max);
    let rms_a = mean(|instant| instant.capacitor_a * instant.capacitor_a).sqrt();
    let lines = (1..=LISTED)
        .map(|k| {
            let turn = 2.0 * PI * f64::from(k) / count;
            let (mut re, mut im, mut angle) = (0.0, 0.0, 0.0_f64);
            for instant in wave {
                angle += turn;
                re += instant.capacitor_a * angle.cos();
                im += instant.capacitor_a * angle.sin();
            }
            Line { hz: f64::from(k) * ripple_hz, a: SQRT_2 * f64::hypot(re, im) / count }
        })
        .collect();
    Some(Reservoir {
        ripple: Ripple::completed(lines, f64::from(LISTED + 1) * ripple_hz, rms_a)?,
        peak_a: largest(|instant| instant.capacitor_a),
        valley_v: -largest(|instant| -instant.terminal_v),
        peak_v: largest(|instant| instant.terminal_v),
        mean_v: mean(|instant| instant.terminal_v),
        source_rms_a: mean(|instant| instant.source_a * instant.source_a).sqrt(),
    })
}
