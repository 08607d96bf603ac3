//! Life curves as CSV: a row per part and value, then the part's life in each phase and under the whole duty.

use std::io;

use super::neutral_text;
use super::notation::computed;
use crate::sizing::curves::{Curve, CurvePoint, CurveSet};

/// Writes the curves of one position.
///
/// `kind` is `curve`, `phase` (if that phase lasted for ever) or `duty` (as entered; its value of the axis is empty). `assumed`
/// names the figures that came from default tables.
///
/// # Errors
/// When `out` cannot be written.
pub fn write(out: impl io::Write, board: &str, reference: &str, set: &CurveSet) -> csv::Result<()> {
    let mut writer = csv::Writer::from_writer(out);
    writer.write_record([
        "board",
        "ref",
        "part_number",
        "kind",
        "phase",
        set.axis.column(),
        "life_uncapped_h",
        "years",
        "years_low",
        "years_high",
        "target_years",
        "assumed",
    ])?;
    for curve in &set.curves {
        let mut row = |kind: &str, phase: &str, x: Option<f64>, point: &CurvePoint| {
            writer.write_record([
                neutral_text(board),
                neutral_text(reference),
                neutral_text(&curve.name),
                kind.into(),
                neutral_text(phase),
                computed(x),
                computed(point.life_uncapped_h),
                computed(point.years),
                computed(point.low_years),
                computed(point.high_years),
                computed(set.target_years),
                curve.assumed.list(),
            ])
        };
        rows(set, curve, &mut row)?;
    }
    Ok(writer.flush()?)
}

fn rows(
    set: &CurveSet,
    curve: &Curve,
    row: &mut impl FnMut(&str, &str, Option<f64>, &CurvePoint) -> csv::Result<()>,
) -> csv::Result<()> {
    for point in &curve.points {
        row("curve", "", Some(point.x), point)?;
    }
    for (at, point) in curve.in_phases.iter().enumerate() {
        // Marks that carry a share are the phases, in the same order.
        let name = set.marks.get(at).filter(|mark| mark.share.is_some()).map(|mark| mark.name.clone());
        row("phase", &name.unwrap_or_else(|| format!("phase {}", at + 1)), Some(point.x), point)?;
    }
    row("duty", "", None, &curve.at_duty)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{Catalog, PositionId};
    use crate::files::demo;
    use crate::sizing::PositionContext;
    use crate::sizing::curves::{Axis, curve_set, steps};

    #[test]
    fn every_point_phase_and_the_duty_stand_in_the_file() {
        let job = demo::job().unwrap().job;
        let place = PositionContext::new(&job, &Catalog::default(), PositionId::default()).unwrap();
        let can = job.boards[0].positions[0].original.can.clone();
        let set = curve_set(&place, Axis::Ambient, &steps(40.0, 85.0, 9), &[("=old".into(), can)]);
        let mut out = Vec::new();
        write(&mut out, "Supply", "C1", &set).unwrap();
        let text = String::from_utf8(out).unwrap();
        let lines: Vec<&str> = text.lines().collect();
        assert!(lines[0].contains(",ambient_c,"));
        assert_eq!(lines.len(), 1 + 10 + 3 + 1);
        assert!(lines[1].starts_with("Supply,C1,'=old,curve,,40,"));
        assert!(lines[11].contains(",phase,\"night, tracking\",43,"), "{}", lines[11]);
        assert!(lines[14].contains(",duty,,,"));
    }
}
