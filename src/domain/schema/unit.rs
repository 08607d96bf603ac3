//! The fields of a unit at the bench and of what is done at its positions; the record of the units holds the same.

use super::{Absent, Access, Kind, Text, fields};
use crate::domain::{PositionRecord, UnitAtBench};
use Absent::{Derived, Nothing, Unknown};

const DAY: Access<UnitAtBench> = Access::Text(
    |unit| unit.date.map(|date| date.to_string()),
    |unit, text| unit.date = text.and_then(|text| text.parse().ok()),
);
const DONE: Access<PositionRecord> = Access::Flag(|at| at.is_done(), |at, on| at.done = on.then_some(true));

fields! {
    /// The fields of a unit at the bench.
    pub UNIT: UnitAtBench;
    "bench." [] {
        name serial (Line) Elsewhere, Nothing("empty"), "Serial number", "Number of the unit.";
        by date (Kind::Text(Text::Date), DAY) Elsewhere, Derived("today (assumed)"), "Day",
            "Day of the rebuild, such as 2026-10-02.";
        name technician (Line) Elsewhere, Nothing("empty"), "Technician", "Who does the rebuild.";
        number esr_hz (Hertz Positive) Elsewhere, Unknown, "ESR meter",
            "Frequency every ESR of the unit is measured at; without it an ESR compares with nothing.";
        name unit_type (Line) Elsewhere, Nothing("the first type"), "Type of unit", "Name of its type of unit.";
        name note (Note) Elsewhere, Nothing("empty"), "Remark", "What the next technician should know.";
    }
}

fields! {
    /// The fields of what is done at a position of a unit.
    pub POSITION_RECORD: PositionRecord;
    "bench.positions." [] {
        name board (Line) Elsewhere, Nothing("empty"), "Board",
            "Board of the position, of several of the kind by its number.";
        name reference as "bench.positions.ref" (Line) Elsewhere, Nothing("empty"), "Reference",
            "Reference designator of the position.";
        number before.capacitance_uf (Microfarad NotNegative) Elsewhere, Nothing("not measured"), "Old: capacitance",
            "Capacitance of the old part, measured out of circuit.";
        number before.esr_mohm (Milliohm NotNegative) Elsewhere, Nothing("not measured"), "Old: ESR",
            "ESR of the old part.";
        number before.esr_hz (Hertz Positive) Elsewhere, Nothing("not measured"), "Old: frequency of the ESR",
            "Frequency of this ESR, where it is another than that of the unit.";
        number before.leakage_ua (Microampere NotNegative) Elsewhere, Nothing("not measured"), "Old: leakage",
            "Leakage current of the old part at its rated voltage.";
        number after.capacitance_uf (Microfarad NotNegative) Elsewhere, Nothing("not measured"), "New: capacitance",
            "Capacitance of the new part before it goes in.";
        number after.esr_mohm (Milliohm NotNegative) Elsewhere, Nothing("not measured"), "New: ESR",
            "ESR of the new part before it goes in.";
        number after.esr_hz (Hertz Positive) Elsewhere, Nothing("not measured"), "New: frequency of the ESR",
            "Frequency of this ESR, where it is another than that of the unit.";
        number after.leakage_ua (Microampere NotNegative) Elsewhere, Nothing("not measured"), "New: leakage",
            "Leakage current of the new part at its rated voltage, after re-forming where it was stored for long.";
        name part_number (Line) Elsewhere, Derived("the chosen part"), "Part fitted",
            "The part that goes in; the chosen one where nothing is entered.";
        name lot (Line) Elsewhere, Unknown, "Lot", "Lot of the new part.";
        name date_code (Line) Elsewhere, Unknown, "Date code", "Date code of the new part.";
        name finding (Note) Elsewhere, Nothing("empty"), "Finding",
            "What was seen: a lifted vent, a stain, a hot spot.";
        name kind (Line) Elsewhere, Nothing("an electrolytic"), "Kind",
            "What it is where it is no electrolytic: the kind of another part, or test_point.";
        name measured_before (Line) Elsewhere, Nothing("not measured"), "Measured before",
            "What was measured on another part before, with its unit.";
        name measured_after (Line) Elsewhere, Nothing("not measured"), "Measured after",
            "What was measured on another part after, or found at a test point, with its unit.";
        by done (Kind::Flag, DONE) Elsewhere, Nothing("nobody said"), "Done",
            "Whether the new part is in, or the test point was measured.";
        number life_h (Hour NotNegative) Elsewhere, Unknown, "Life", "Life the calculation gave the new part.";
        number life_low_h (Hour NotNegative) Elsewhere, Unknown, "Shortest life", "Shortest life of the published laws.";
        number life_high_h (Hour NotNegative) Elsewhere, Unknown, "Longest life", "Longest life of the published laws.";
    }
}
