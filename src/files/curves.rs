//! Life curves as CSV: a row per part and value, then the part's life in each phase and under the whole duty.

use std::io;

use super::columns::{Cell, Column, csv, text};
use crate::sizing::curves::{Curve, CurvePoint, CurveSet};

/// What stands in a row: of which curve, its kind, the phase, and the value of the axis with the point there.
struct Row<'a> {
    board: &'a str,
    reference: &'a str,
    set: &'a CurveSet,
    curve: &'a Curve,
    kind: &'static str,
    phase: String,
    x: Option<f64>,
    point: &'a CurvePoint,
}

/// Writes the curves of one position.
///
/// `kind` is `curve`, `phase` (if that phase lasted for ever) or `duty` (as entered; its value of the axis is empty). `assumed`
/// names the figures that came from default tables.
///
/// # Errors
/// When `out` cannot be written.
pub fn write(out: impl io::Write, board: &str, reference: &str, set: &CurveSet) -> csv::Result<()> {
    let columns: [Column<Row>; 12] = [
        ("board", |row| text(row.board)),
        ("ref", |row| text(row.reference)),
        ("part_number", |row| text(&row.curve.name)),
        ("kind", |row| text(row.kind)),
        ("phase", |row| text(&row.phase)),
        (set.axis.column(), |row| Cell::Computed(row.x)),
        ("life_uncapped_h", |row| Cell::Computed(row.point.life_uncapped_h)),
        ("years", |row| Cell::Computed(row.point.years)),
        ("years_low", |row| Cell::Computed(row.point.low_years)),
        ("years_high", |row| Cell::Computed(row.point.high_years)),
        ("target_years", |row| Cell::Computed(row.set.target_years)),
        ("assumed", |row| text(row.curve.assumed.list())),
    ];
    let rows = set.curves.iter().flat_map(|curve| {
        let row = move |kind, phase: String, x, point| Row { board, reference, set, curve, kind, phase, x, point };
        let points = curve.points.iter().map(move |point| row("curve", String::new(), Some(point.x), point));
        let in_phases = curve.in_phases.iter().enumerate().map(move |(at, point)| {
            // Marks that carry a share are the phases, in the same order.
            let name = set.marks.get(at).filter(|mark| mark.share.is_some()).map(|mark| mark.name.clone());
            row("phase", name.unwrap_or_else(|| format!("phase {}", at + 1)), Some(point.x), point)
        });
        points.chain(in_phases).chain(std::iter::once(row("duty", String::new(), None, &curve.at_duty)))
    });
    csv(out, &columns, rows)
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
