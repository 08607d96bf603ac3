//! Entries of a position that contradict each other.

use crate::domain::{Position, Technology};

/// Entries of a position that contradict each other: the path of the field to look at, and what is wrong. The checks take the
/// worse figure.
pub fn contradictions(position: &Position) -> Vec<(&'static str, String)> {
    let (stress, needs, can) = (&position.stress, &position.needs, &position.original.can);
    // A non-polar part is judged by the size of a voltage, either way.
    let size = |v: f64| if can.technology == Some(Technology::NonPolar) { v.abs() } else { v };
    let peak_v = stress.dc_v.map(|dc_v| size(dc_v) + stress.ripple_peak_v.unwrap_or(0.0));
    let coolest = stress.phases.iter().flatten().filter_map(|phase| phase.ambient_c).reduce(f64::min);
    let pairs = [
        (
            "stress.transient_v",
            peak_v,
            stress.transient_v.map(size),
            "the highest transient is below the peak of the operation",
        ),
        ("stress.min_v", stress.min_v, stress.dc_v, "the lowest voltage is above the operating voltage"),
        (
            "stress.ambient_min_c",
            stress.ambient_min_c,
            coolest,
            "the lowest ambient is above that of the coolest phase",
        ),
        (
            "needs.capacitance_min_uf",
            needs.capacitance_min_uf,
            needs.capacitance_max_uf,
            "the minimum capacitance is above the maximum",
        ),
        ("needs.esr_min_mohm", needs.esr_min_mohm, needs.esr_max_mohm, "the minimum ESR is above the maximum"),
        ("original.temp_min_c", can.temp_min_c, can.temp_max_c, "the lower category temperature is above the upper"),
        ("original.surge_v", can.rated_v, can.surge_v, "the surge voltage is below the rated voltage"),
        ("original.diameter_max_mm", can.diameter_mm, can.diameter_max_mm, "the largest diameter is below the nominal"),
        ("original.height_max_mm", can.height_mm, can.height_max_mm, "the largest height is below the nominal"),
    ];
    let wrong = |(path, less, more, words): (&'static str, Option<f64>, Option<f64>, &str)| {
        let (less, more) = less.zip(more)?;
        (less > more + 1e-9 * less.abs()).then(|| (path, format!("{words}; the worse figure counts")))
    };
    pairs.into_iter().filter_map(wrong).collect()
}
