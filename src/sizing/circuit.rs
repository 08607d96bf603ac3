//! Ripple from the circuit, when nobody measured it: what is on the bench in, a spectrum with its formula, source and cautions out.

use super::circuit_kinds::{Figures, KINDS};
use crate::domain::{RippleLine, words};
use crate::physics::spectrum::{Line, Ripple};

pub use super::circuit_kinds::{Absent, Field, KindData, Step};

words! {
    /// Where the capacitor sits, in the order of a list to choose from; its word stands in job files.
    pub enum CircuitKind {
        /// Reservoir behind a mains rectifier.
        MainsRectifier,
        /// Input of a buck stage.
        BuckInput,
        /// Output of a buck stage.
        BuckOutput,
        /// Output of a boost stage.
        BoostOutput,
        /// Input of a flyback stage.
        FlybackInput,
        /// Output of a flyback stage in continuous conduction.
        FlybackOutput,
        /// Output of a resonant or centre-tapped stage: full-wave rectified sine.
        RectifiedSine,
        /// Storage capacitor behind a power factor stage.
        PfcStorage,
        /// Link of a three-phase inverter.
        InverterLink,
    }
}

impl CircuitKind {
    /// Its form, formula and source.
    pub fn data(self) -> &'static KindData {
        &KINDS[self as usize]
    }

    /// What the idealisation leaves out and what to do before measuring, a sentence each.
    pub fn cautions(self) -> impl Iterator<Item = &'static str> {
        COMMON_CAUTIONS.into_iter().chain(self.data().cautions.iter().copied())
    }
}

const COMMON_CAUTIONS: [&str; 3] = [
    "The capacitor is taken to carry the whole alternating current; others at the same node, the source and the load take a share. Measure where it matters.",
    "Switches and diodes change over at once and without ringing here; real ones add a little at high frequency.",
    "Live circuits at mains or link voltage: isolate, discharge and verify with a meter before connecting a probe; local codes and licensed practice decide.",
];

/// A circuit and what was found on the bench.
#[derive(Debug, Clone, PartialEq)]
pub struct CircuitEntry {
    /// Which circuit.
    pub kind: CircuitKind,
    /// Figures by field key; fields that are empty are not in it.
    pub figures: Vec<(&'static str, f64)>,
}

/// Why there is no spectrum.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum CircuitFault {
    /// Fields that have to be filled.
    #[error("not entered: {}", .0.join(", "))]
    Missing(Vec<&'static str>),
    /// A value that cannot be.
    #[error("{} {} {unit}: expected {} to {} {unit}", .0.label, .1, .0.min, .0.max, unit = .0.unit.symbol())]
    OutOfRange(&'static Field, f64),
    /// Not exactly one of the alternatives.
    #[error("expected exactly one of {}", .0.join(", "))]
    NotOne(Vec<&'static str>),
    /// The figures contradict each other or the formula does not hold there.
    #[error("{0}")]
    Impossible(&'static str),
}

/// The ripple of a circuit.
#[derive(Debug, Clone, PartialEq)]
pub struct CircuitRipple {
    /// Rms and lines.
    pub ripple: Ripple,
    /// Figures worked out on the way: duty, inductor ripple, valley voltage.
    pub steps: Vec<Step>,
    /// Labels of the fields nobody filled in that were assumed or derived.
    pub assumed: Vec<&'static str>,
}

impl CircuitRipple {
    /// The lines as a position carries them.
    pub fn ripple_lines(&self) -> Vec<RippleLine> {
        ripple_lines(&self.ripple.lines)
    }
}

/// Lines as a position carries them.
pub fn ripple_lines(lines: &[Line]) -> Vec<RippleLine> {
    lines.iter().map(|line| RippleLine::of(line.hz, line.a)).collect()
}

impl CircuitEntry {
    /// An empty form.
    pub fn new(kind: CircuitKind) -> Self {
        Self { kind, figures: Vec::new() }
    }

    /// The figure of a field, if it was filled in.
    pub fn get(&self, key: &str) -> Option<f64> {
        self.figures.iter().find(|(known, _)| *known == key).map(|&(_, value)| value)
    }

    /// Fills in a field, or empties it. Keys the circuit does not have are ignored.
    pub fn set(&mut self, key: &str, value: Option<f64>) {
        let Some(field) = self.kind.data().fields.iter().find(|field| field.key == key) else { return };
        self.figures.retain(|(known, _)| *known != field.key);
        self.figures.extend(value.map(|value| (field.key, value)));
    }

    /// The spectrum of this circuit.
    ///
    /// # Errors
    /// When a field is missing, out of its range, or the figures contradict each other.
    pub fn ripple(&self) -> Result<CircuitRipple, CircuitFault> {
        let mut missing = Vec::new();
        let mut assumed = Vec::new();
        let mut alternatives = (Vec::new(), 0);
        for field in self.kind.data().fields {
            match (self.get(field.key), field.absent) {
                (Some(value), absent) => {
                    // Written so that NaN fails.
                    if !(field.min..=field.max).contains(&value) {
                        return Err(CircuitFault::OutOfRange(field, value));
                    }
                    if absent == Absent::OneOf {
                        alternatives.0.push(field.label);
                        alternatives.1 += 1;
                    }
                }
                (None, Absent::Required) => missing.push(field.label),
                (None, Absent::Assumed(_) | Absent::Derived) => assumed.push(field.label),
                (None, Absent::OneOf) => alternatives.0.push(field.label),
            }
        }
        if !missing.is_empty() {
            return Err(CircuitFault::Missing(missing));
        }
        if !alternatives.0.is_empty() && alternatives.1 != 1 {
            return Err(CircuitFault::NotOne(alternatives.0));
        }
        let figures = Figures { fields: self.kind.data().fields, given: &self.figures };
        let mut steps = Vec::new();
        let data = self.kind.data();
        let ripple = (data.ripple)(&figures, &mut steps).ok_or(CircuitFault::Impossible(data.impossible))?;
        Ok(CircuitRipple { ripple, steps, assumed })
    }
}
