//! The fields of a unit at the bench and of what is done at its positions; the record of the units holds the same.

use super::{Absent, Access, Bounds, Field, Kind, Section, Text, Unit, name, number};
use crate::domain::{PositionRecord, UnitAtBench};
use Absent::Nothing;

const LINE: Kind = Kind::Text(Text::Line);

/// The fields of a unit at the bench.
pub static UNIT: &[Field<UnitAtBench>] = &[
    of_unit("bench.serial", LINE, name!(serial), "Serial number", "Number of the unit.").absent(Nothing("empty")),
    of_unit(
        "bench.date",
        Kind::Text(Text::Date),
        Access::Text(
            |unit| unit.date.map(|date| date.to_string()),
            |unit, text| unit.date = text.and_then(|text| text.parse().ok()),
        ),
        "Day",
        "Day of the rebuild, such as 2026-10-02.",
    )
    .absent(Absent::Derived("today (assumed)")),
    of_unit("bench.technician", LINE, name!(technician), "Technician", "Who does the rebuild.")
        .absent(Nothing("empty")),
    of_unit(
        "bench.esr_hz",
        Kind::Number(Unit::Hertz, Bounds::Positive),
        number!(esr_hz),
        "ESR meter",
        "Frequency every ESR of the unit is measured at; without it an ESR compares with nothing.",
    ),
    of_unit("bench.unit_type", LINE, name!(unit_type), "Type of unit", "Name of its type of unit.")
        .absent(Nothing("the first type")),
    of_unit("bench.note", Kind::Text(Text::Note), name!(note), "Remark", "What the next technician should know.")
        .absent(Nothing("empty")),
];

/// The fields of what is done at a position of a unit.
pub static POSITION_RECORD: &[Field<PositionRecord>] = &[
    record(
        "bench.positions.board",
        LINE,
        name!(board),
        "Board",
        "Board of the position, of several of the kind by its number.",
    )
    .absent(Nothing("empty")),
    record("bench.positions.ref", LINE, name!(reference), "Reference", "Reference designator of the position.")
        .absent(Nothing("empty")),
    measured(
        "bench.positions.before.capacitance_uf",
        Unit::Microfarad,
        number!(before.capacitance_uf),
        "Old: capacitance",
        "Capacitance of the old part, measured out of circuit.",
    ),
    measured(
        "bench.positions.before.esr_mohm",
        Unit::Milliohm,
        number!(before.esr_mohm),
        "Old: ESR",
        "ESR of the old part.",
    ),
    measured(
        "bench.positions.before.esr_hz",
        Unit::Hertz,
        number!(before.esr_hz),
        "Old: frequency of the ESR",
        "Frequency of this ESR, where it is another than that of the unit.",
    ),
    measured(
        "bench.positions.after.capacitance_uf",
        Unit::Microfarad,
        number!(after.capacitance_uf),
        "New: capacitance",
        "Capacitance of the new part before it goes in.",
    ),
    measured(
        "bench.positions.after.esr_mohm",
        Unit::Milliohm,
        number!(after.esr_mohm),
        "New: ESR",
        "ESR of the new part before it goes in.",
    ),
    measured(
        "bench.positions.after.esr_hz",
        Unit::Hertz,
        number!(after.esr_hz),
        "New: frequency of the ESR",
        "Frequency of this ESR, where it is another than that of the unit.",
    ),
    record(
        "bench.positions.part_number",
        LINE,
        name!(part_number),
        "Part fitted",
        "The part that goes in; the chosen one where nothing is entered.",
    )
    .absent(Absent::Derived("the chosen part")),
    record("bench.positions.lot", LINE, name!(lot), "Lot", "Lot of the new part."),
    record("bench.positions.date_code", LINE, name!(date_code), "Date code", "Date code of the new part."),
    record(
        "bench.positions.finding",
        Kind::Text(Text::Note),
        name!(finding),
        "Finding",
        "What was seen: a lifted vent, a stain, a hot spot.",
    )
    .absent(Nothing("empty")),
    record(
        "bench.positions.kind",
        LINE,
        name!(kind),
        "Kind",
        "What it is where it is no electrolytic: the kind of another part, or test_point.",
    )
    .absent(Nothing("an electrolytic")),
    record(
        "bench.positions.measured_before",
        LINE,
        name!(measured_before),
        "Measured before",
        "What was measured on another part before, with its unit.",
    )
    .absent(Nothing("not measured")),
    record(
        "bench.positions.measured_after",
        LINE,
        name!(measured_after),
        "Measured after",
        "What was measured on another part after, or found at a test point, with its unit.",
    )
    .absent(Nothing("not measured")),
    record(
        "bench.positions.done",
        Kind::Flag,
        Access::Flag(|at| at.is_done(), |at, on| at.done = on.then_some(true)),
        "Done",
        "Whether the new part is in, or the test point was measured.",
    )
    .absent(Nothing("nobody said")),
    life("bench.positions.life_h", number!(life_h), "Life", "Life the calculation gave the new part."),
    life("bench.positions.life_low_h", number!(life_low_h), "Shortest life", "Shortest life of the published laws."),
    life("bench.positions.life_high_h", number!(life_high_h), "Longest life", "Longest life of the published laws."),
];

const fn of_unit(
    path: &'static str,
    kind: Kind,
    access: Access<UnitAtBench>,
    label: &'static str,
    meaning: &'static str,
) -> Field<UnitAtBench> {
    Field::new(Section::Elsewhere, path, kind, access, label, meaning)
}

const fn record(
    path: &'static str,
    kind: Kind,
    access: Access<PositionRecord>,
    label: &'static str,
    meaning: &'static str,
) -> Field<PositionRecord> {
    Field::new(Section::Elsewhere, path, kind, access, label, meaning)
}

const fn measured(
    path: &'static str,
    unit: Unit,
    access: Access<PositionRecord>,
    label: &'static str,
    meaning: &'static str,
) -> Field<PositionRecord> {
    let bounds = if matches!(unit, Unit::Hertz) { Bounds::Positive } else { Bounds::NotNegative };
    record(path, Kind::Number(unit, bounds), access, label, meaning).absent(Nothing("not measured"))
}

const fn life(
    path: &'static str,
    access: Access<PositionRecord>,
    label: &'static str,
    meaning: &'static str,
) -> Field<PositionRecord> {
    record(path, Kind::Number(Unit::Hour, Bounds::NotNegative), access, label, meaning)
}
