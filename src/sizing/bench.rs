//! A unit at the bench: the job as this unit was found, and what a position keeps of what several units measured.

use std::collections::HashMap;

use super::old_part::{condition, wear};
use super::reasons::figure;
use crate::domain::{
    BoardOfUnit, Can, Catalog, Date, Job, Measured, Position, PositionRecord, Reading, UnitAtBench, boards_of_unit,
};

/// The job as the unit was found, on one of its boards: what was measured on its old parts stands at the positions, and where an
/// earlier rebuild is known the part it put in, with its age and its first capacitance, stands for the original.
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
#[path = "../../tests/within/bench.rs"]
mod tests;
