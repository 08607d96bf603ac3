//! Where a ripple came from, kept with its position so that somebody can check it later.

use super::circuit::{CircuitEntry, CircuitKind, CircuitRipple};
use super::reasons::figure;
use crate::domain::{RippleLine, RippleOrigin, Stress};
use crate::physics::waveform::Analysis;

/// `method` of a ripple worked out from a circuit.
pub const CIRCUIT: &str = "circuit";
/// `method` of a ripple read off an oscilloscope's record.
pub const OSCILLOSCOPE: &str = "oscilloscope";
/// `method` of a ripple that explains a measured rise of the case.
pub const CASE_RISE: &str = "case_rise";

/// Relative difference of two rms values that is only rounding.
const ROUNDING: f64 = 1e-6;

impl CircuitEntry {
    /// What was entered, as a position keeps it.
    pub fn origin(&self, found: &CircuitRipple) -> RippleOrigin {
        let key_of = |label: &&str| self.kind.data().fields.iter().find(|field| field.label == *label);
        RippleOrigin {
            method: Some(CIRCUIT.into()),
            circuit: Some(self.kind.word().into()),
            figures: self.figures.iter().map(|&(key, value)| (key.to_owned(), value)).collect(),
            assumed: found.assumed.iter().filter_map(key_of).map(|field| field.key.to_owned()).collect(),
            rms_a: Some(found.ripple.rms_a),
            ..RippleOrigin::default()
        }
    }

    /// The form as it was filled in; `None` where the ripple did not come from a circuit this version knows. Figures the circuit does not have
    /// are left out.
    pub fn of_origin(origin: &RippleOrigin) -> Option<Self> {
        let key = origin.circuit.as_deref()?;
        let kind = CircuitKind::ALL.into_iter().find(|kind| kind.word() == key)?;
        let mut entry = Self::new(kind);
        for (key, &value) in &origin.figures {
            entry.set(key, Some(value));
        }
        Some(entry)
    }
}

/// The origin of a ripple read off a record: `a_per_unit` as entered, the channel and the file it is in.
pub fn of_record(file: &str, channel: &str, a_per_unit: f64, analysis: &Analysis) -> RippleOrigin {
    let figures = [
        ("a_per_unit", a_per_unit),
        ("length_s", analysis.length_s),
        ("step_s", analysis.step_s),
        ("mean_a", analysis.mean_a),
    ];
    let periods = analysis.periods.map(|(hz, _)| ("fundamental_hz", hz));
    RippleOrigin {
        method: Some(OSCILLOSCOPE.into()),
        file: Some(file.to_owned()),
        channel: Some(channel.to_owned()),
        figures: figures.into_iter().chain(periods).map(|(key, value)| (key.to_owned(), value)).collect(),
        rms_a: Some(analysis.ripple.rms_a),
        ..RippleOrigin::default()
    }
}

/// The origin of a ripple that explains a rise of the case in K; with the ESR where one was measured, mΩ.
pub fn of_case_rise(
    case_rise_k: f64,
    esr_hz: f64,
    esr_mohm: Option<f64>,
    lines: &[RippleLine],
    assumed: &[&str],
) -> RippleOrigin {
    let figures = [("case_rise_k", Some(case_rise_k)), ("esr_hz", Some(esr_hz)), ("esr_mohm", esr_mohm)];
    RippleOrigin {
        method: Some(CASE_RISE.into()),
        figures: figures.into_iter().filter_map(|(key, value)| Some((key.to_owned(), value?))).collect(),
        assumed: assumed.iter().map(|&name| name.to_owned()).collect(),
        rms_a: rms_a(lines),
        ..RippleOrigin::default()
    }
}

/// Whether the ripple of a position is still the one its origin gave; `None` where it has no origin, or one without an rms.
pub fn still_holds(stress: &Stress) -> Option<bool> {
    let then = stress.ripple_from.as_ref()?.rms_a?;
    let now = stress.ripple.as_deref().and_then(rms_a);
    Some(now.is_some_and(|now| (now - then).abs() <= ROUNDING * then.abs()))
}

/// Whether the ripple leans on figures nobody entered.
pub(super) fn leans_on_assumed(stress: &Stress) -> bool {
    stress.ripple_from.as_ref().is_some_and(|origin| !origin.assumed.is_empty()) && still_holds(stress) != Some(false)
}

fn rms_a(lines: &[RippleLine]) -> Option<f64> {
    lines.iter().map(|line| line.a.map(|a| a * a)).sum::<Option<f64>>().map(f64::sqrt)
}

/// The origin of a position's ripple in a sentence; `None` where it was typed in.
pub fn sentence(stress: &Stress) -> Option<String> {
    let origin = stress.ripple_from.as_ref()?;
    let circuit = CircuitEntry::of_origin(origin);
    let from = match (origin.method.as_deref(), &circuit) {
        (_, Some(entry)) => format!("Worked out from the circuit: {}", entry.kind.data().label),
        (Some(OSCILLOSCOPE), _) => {
            let known = |text: &Option<String>| text.clone().unwrap_or_else(|| "unknown".into());
            format!("Read off an oscilloscope's record: {}, {}", known(&origin.file), known(&origin.channel))
        }
        (Some(CASE_RISE), _) => "Worked out backwards from a measured rise of the case".to_owned(),
        (other, _) => format!("From {}, which this version does not know", other.unwrap_or("elsewhere")),
    };
    let label = |key: &str| match circuit.as_ref().and_then(|c| c.kind.data().fields.iter().find(|f| f.key == key)) {
        Some(field) => (field.label.to_owned(), field.unit.symbol()),
        None => (key.to_owned(), ""),
    };
    let mut parts: Vec<String> = origin
        .figures
        .iter()
        .map(|(key, value)| {
            let (label, unit) = label(key);
            format!("{label} {} {unit}", figure(*value)).trim_end().to_owned()
        })
        .collect();
    parts.extend(origin.assumed.iter().map(|key| format!("{} assumed", label(key).0)));
    let changed = match still_holds(stress) {
        Some(false) => " The ripple was changed since.",
        _ => "",
    };
    let parts = if parts.is_empty() { String::new() } else { format!(" ({})", parts.join(", ")) };
    Some(format!("{from}{parts}.{changed}"))
}

#[cfg(test)]
#[path = "../../tests/within/ripple_origin.rs"]
mod tests;
