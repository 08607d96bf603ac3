//! A unit at the bench: the job as this unit was found, and what a position keeps of what several units measured.

use std::collections::HashMap;

use super::old_part::{condition, wear};
use super::reasons::figure;
use crate::domain::{
    BoardOfUnit, Can, Catalog, Date, Job, Measured, Position, PositionRecord, Reading, UnitAtBench, boards_of_unit,
};

/// The job as the unit was found, on one of its boards: what was measured on its old parts stands at the positions, and where an
/// earlier rebuild is known the part it put in, with its age and its first capacitance, stands for the original.
#[must_use]
pub fn as_found(
    job: &Job,
    catalog: &Catalog,
    unit: &UnitAtBench,
    of: &BoardOfUnit,
    earlier: Option<(Date, &[PositionRecord])>,
) -> Job {
    let mut job = job.clone();
    let here = |record: &&PositionRecord| record.board == of.name;
    let by_reference = |records: &[PositionRecord]| -> HashMap<String, PositionRecord> {
        records.iter().filter(here).map(|record| (record.reference.clone(), record.clone())).collect()
    };
    let now = by_reference(&unit.positions);
    let then = earlier.map(|(date, records)| (date, by_reference(records)));
    for position in job.boards.get_mut(of.board).into_iter().flat_map(|board| &mut board.positions) {
        if let Some((date, record)) = then.as_ref().and_then(|(date, all)| Some((date, all.get(&position.reference)?)))
            && !record.part_number.is_empty()
        {
            let known = catalog.find(&record.part_number).map(|id| catalog.can(id));
            let can = &mut position.original.can;
            *can = known.unwrap_or(Can { mounting: can.mounting, ..Can::default() });
            can.capacitance_uf = record.after.capacitance_uf.or(can.capacitance_uf);
            position.original.made_year = Some(date.fractional_year());
            position.original.label = Some(record.part_number.clone());
        }
        position.measured = now.get(&position.reference).and_then(|record| measured(unit, record));
    }
    job
}

/// What a unit says of an old part; `None` where nothing was measured and nothing seen.
fn measured(unit: &UnitAtBench, record: &PositionRecord) -> Option<Measured> {
    let Reading { capacitance_uf, esr_mohm, esr_hz, leakage_ua } = record.before.at_hz(unit.esr_hz);
    let text = |text: &str| Some(text.trim().to_owned()).filter(|text| !text.is_empty());
    // The condition of a part does not follow from its leakage; that it was measured, and how much, is kept.
    let leaks = leakage_ua.map(|leak| format!("leakage {} µA", figure(leak)));
    let note: Vec<String> = text(&record.finding).into_iter().chain(leaks).collect();
    let said = Measured { capacitance_uf, esr_mohm, esr_hz, note: text(&note.join("; ")), ..Measured::default() };
    (said != Measured::default()).then(|| Measured {
        unit: text(&unit.serial),
        date: unit.date.or_else(Date::today).map(|date| date.to_string()),
        ..said
    })
}

/// What a position of the job keeps as measured on its old part: of the units at the bench, and of what it held from elsewhere, the
/// most worn; of equally worn ones the first.
#[must_use]
pub fn kept(job: &Job, position: &Position, board: usize, units: &[UnitAtBench]) -> Option<Measured> {
    let at_bench = units.iter().flat_map(|unit| {
        let here = boards_of_unit(job, &unit.type_in(job)).into_iter().filter(|of| of.board == board);
        here.filter_map(|of| measured(unit, unit.at(&of.name, &position.reference)?)).collect::<Vec<_>>()
    });
    let of_unit_here = |measured: &&Measured| {
        units.iter().any(|unit| measured.unit.as_deref().unwrap_or_default() == unit.serial.trim())
    };
    let from_elsewhere = position.measured.iter().filter(|held| !of_unit_here(held)).cloned();
    let worn = |measured: &Measured| {
        let with = Position { measured: Some(measured.clone()), ..position.clone() };
        let assessment = condition(&with).0;
        (assessment.condition, wear(&assessment).unwrap_or(-1.0))
    };
    at_bench.chain(from_elsewhere).fold(None, |most: Option<Measured>, next| match most {
        Some(most) if worn(&most) >= worn(&next) => Some(most),
        _ => Some(next),
    })
}

#[cfg(test)]
mod tests {
    use super::super::testing::{job_of, position};
    use super::*;
    use crate::physics::condition::Condition;

    fn unit(serial: &str, capacitance_uf: f64) -> UnitAtBench {
        let mut unit = UnitAtBench { serial: serial.into(), ..UnitAtBench::default() };
        unit.change("", "C1", |at| at.before.capacitance_uf = Some(capacitance_uf));
        unit
    }

    fn job() -> Job {
        let mut job = job_of(vec![Position { reference: "C1".into(), ..position() }]);
        job.boards[0].name = String::new();
        job
    }

    #[test]
    fn leakage_alone_counts_as_measured() {
        let mut leaking = UnitAtBench { serial: "A".into(), ..UnitAtBench::default() };
        leaking.change("", "C1", |at| (at.before.leakage_ua, at.finding) = (Some(850.0), "warm".into()));
        let job = job();
        let kept = kept(&job, &job.boards[0].positions[0], 0, &[leaking]).unwrap();
        assert_eq!((kept.unit.as_deref(), kept.note.as_deref()), (Some("A"), Some("warm; leakage 850 µA")));
    }

    #[test]
    fn a_position_keeps_the_most_worn_of_its_units_and_a_correction_takes_its_place() {
        let job = job();
        let position = &job.boards[0].positions[0];
        let nominal_uf = position.original.can.capacitance_uf.unwrap();
        let of = |shares: [f64; 2]| [unit("D1", shares[0] * nominal_uf), unit("D2", shares[1] * nominal_uf)];
        let kept_of = |shares| kept(&job, position, 0, &of(shares)).unwrap().unit.unwrap();
        assert_eq!([kept_of([0.7, 0.95]), kept_of([0.98, 0.95])], ["D1", "D2"]);
        let before =
            Measured { capacitance_uf: Some(0.5 * nominal_uf), unit: Some("D9".into()), ..Measured::default() };
        let held = |serial: &str| Position {
            measured: Some(Measured { unit: Some(serial.into()), ..before.clone() }),
            ..position.clone()
        };
        assert_eq!(
            kept(&job, &held("D9"), 0, &of([0.7, 0.9])).unwrap().unit.as_deref(),
            Some("D9"),
            "of a unit elsewhere"
        );
        assert_eq!(kept(&job, &held("D1"), 0, &of([0.7, 0.9])).unwrap().capacitance_uf, Some(0.7 * nominal_uf));
        assert_eq!(kept(&job, position, 0, &[]), None);
    }

    #[test]
    fn a_unit_that_was_rebuilt_before_is_judged_by_the_part_that_went_in_then() {
        let job = job();
        let of = BoardOfUnit { board: 0, name: String::new() };
        let then = PositionRecord {
            part_number: "NOT-IN-THE-CATALOGUE".into(),
            after: Reading { capacitance_uf: Some(200.0), ..Reading::default() },
            ..PositionRecord::of("", "C1")
        };
        let date: Date = "2016-07-01".parse().unwrap();
        let found = as_found(&job, &Catalog::default(), &unit("D1", 150.0), &of, Some((date, &[then])));
        let position = &found.boards[0].positions[0];
        let (assessment, _) = condition(position);
        assert_eq!((assessment.capacitance_share, assessment.condition), (Some(0.75), Condition::WornOut));
        assert!((position.original.made_year.unwrap() - 2016.5).abs() < 0.01);
        assert_eq!(position.measured.as_ref().unwrap().unit.as_deref(), Some("D1"));
        assert_eq!(as_found(&job, &Catalog::default(), &UnitAtBench::default(), &of, None), job);
    }
}
