//! What is done to one unit while it is rebuilt: what was measured before and after, and what went in.

use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

use super::Date;
use super::schema::Absent::{Derived, Nothing, Unknown};
use super::schema::{Access, Kind, Text, fields};
use super::written::LeftOut;

/// One measurement of a part.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Reading {
    /// Capacitance, µF.
    pub capacitance_uf: Option<f64>,
    /// ESR at `esr_hz`, mΩ.
    pub esr_mohm: Option<f64>,
    /// Frequency of `esr_mohm`, Hz.
    pub esr_hz: Option<f64>,
    /// Leakage current at the rated voltage, µA.
    pub leakage_ua: Option<f64>,
}

impl LeftOut for Reading {}

impl Reading {
    /// The reading with its frequency where one was set once for the whole unit.
    #[must_use]
    pub fn at_hz(&self, esr_hz: Option<f64>) -> Self {
        let esr_hz = self.esr_hz.or(esr_hz).filter(|_| self.esr_mohm.is_some());
        Self { esr_hz, ..self.clone() }
    }
}

const DAY: Access<UnitAtBench> = Access::Text(
    |unit| unit.date.map(|date| date.to_string()),
    |unit, text| unit.date = text.and_then(|text| text.parse().ok()),
);
const DONE: Access<PositionRecord> = Access::Flag(|at| at.is_done(), |at, on| at.done = on.then_some(true));

fields! {
    /// The fields of what is done at a position of a unit.
    pub POSITION_RECORD: PositionRecord;
    /// What was done at one position.
    struct PositionRecord "bench.positions." [] {
        name board (Line) Elsewhere, Nothing("empty"), "Board",
            "Board of the position, of several of the kind by its number.";
        #[serde(rename = "ref")]
        name reference as "bench.positions.ref" (Line) Elsewhere, Nothing("empty"), "Reference",
            "Reference designator of the position.";
        name part_number (Line) Elsewhere, Derived("the chosen part"), "Part fitted",
            "The part that goes in; the chosen one where nothing is entered.";
        name lot (Line) Elsewhere, Unknown, "Lot", "Lot of the new part.";
        name date_code (Line) Elsewhere, Unknown, "Date code", "Date code of the new part.";
        special before [Reading] (Kind::Object) Elsewhere, Nothing("not measured"), "Old part",
            "What was measured on the old part.";
        special after [Reading] (Kind::Object) Elsewhere, Nothing("not measured"), "New part",
            "What was measured on the new part.";
        name finding (Note) Elsewhere, Nothing("empty"), "Finding",
            "What was seen: a lifted vent, a stain, a hot spot.";
        name kind (Line) Elsewhere, Nothing("an electrolytic"), "Kind",
            "What it is where it is no electrolytic: the kind of another part, or test_point.";
        name measured_before (Line) Elsewhere, Nothing("not measured"), "Measured before",
            "What was measured on another part before, with its unit.";
        name measured_after (Line) Elsewhere, Nothing("not measured"), "Measured after",
            "What was measured on another part after, or found at a test point, with its unit.";
        by done [Option<bool>] (Kind::Flag, DONE) Elsewhere, Nothing("nobody said"), "Done",
            "Whether the new part is in, or the test point was measured.";
        number life_h (Hour NotNegative) Elsewhere, Unknown, "Life", "Life the calculation gave the new part.";
        number life_low_h (Hour NotNegative) Elsewhere, Unknown, "Shortest life", "Shortest life of the published laws.";
        number life_high_h (Hour NotNegative) Elsewhere, Unknown, "Longest life", "Longest life of the published laws.";
    }
    "bench.positions.before." [.before] {
        number capacitance_uf (Microfarad NotNegative) Elsewhere, Nothing("not measured"), "Old: capacitance",
            "Capacitance of the old part, measured out of circuit.";
        number esr_mohm (Milliohm NotNegative) Elsewhere, Nothing("not measured"), "Old: ESR",
            "ESR of the old part.";
        number esr_hz (Hertz Positive) Elsewhere, Nothing("not measured"), "Old: frequency of the ESR",
            "Frequency of this ESR, where it is another than that of the unit.";
        number leakage_ua (Microampere NotNegative) Elsewhere, Nothing("not measured"), "Old: leakage",
            "Leakage current of the old part at its rated voltage.";
    }
    "bench.positions.after." [.after] {
        number capacitance_uf (Microfarad NotNegative) Elsewhere, Nothing("not measured"), "New: capacitance",
            "Capacitance of the new part before it goes in.";
        number esr_mohm (Milliohm NotNegative) Elsewhere, Nothing("not measured"), "New: ESR",
            "ESR of the new part before it goes in.";
        number esr_hz (Hertz Positive) Elsewhere, Nothing("not measured"), "New: frequency of the ESR",
            "Frequency of this ESR, where it is another than that of the unit.";
        number leakage_ua (Microampere NotNegative) Elsewhere, Nothing("not measured"), "New: leakage",
            "Leakage current of the new part at its rated voltage, after re-forming where it was stored for long.";
    }
}

impl PositionRecord {
    /// An empty record of a position.
    pub fn of(board: &str, reference: &str) -> Self {
        Self { board: board.to_owned(), reference: reference.to_owned(), ..Self::default() }
    }

    /// Whether it is of this position.
    pub fn is_of(&self, board: &str, reference: &str) -> bool {
        self.board == board && self.reference == reference
    }

    /// Whether somebody said that it was done.
    pub fn is_done(&self) -> bool {
        self.done == Some(true)
    }

    /// Whether it is done and nobody said which part went in.
    pub fn is_done_unnamed(&self) -> bool {
        self.is_done() && self.part_number.is_empty()
    }

    /// Whether nothing was entered.
    pub fn is_empty(&self) -> bool {
        *self == Self::of(&self.board, &self.reference)
    }

    /// Says which part was fitted. Another one than planned has no life that was calculated.
    pub fn fit(&mut self, part_number: &str) {
        if self.part_number != part_number {
            (self.life_h, self.life_low_h, self.life_high_h) = (None, None, None);
            part_number.clone_into(&mut self.part_number);
        }
    }
}

fields! {
    /// The fields of a unit at the bench.
    pub UNIT: UnitAtBench;
    /// A unit at the bench: what was measured and fitted so far, until its rebuild is added to the record.
    struct UnitAtBench "bench." [] {
        name serial (Line) Elsewhere, Nothing("empty"), "Serial number", "Number of the unit.";
        by date [Option<Date>] (Kind::Text(Text::Date), DAY) Elsewhere, Derived("today (assumed)"), "Day",
            "Day of the rebuild, such as 2026-10-02.";
        name technician (Line) Elsewhere, Nothing("empty"), "Technician", "Who does the rebuild.";
        name note (Note) Elsewhere, Nothing("empty"), "Remark", "What the next technician should know.";
        name unit_type (Line) Elsewhere, Nothing("the first type"), "Type of unit", "Name of its type of unit.";
        number esr_hz (Hertz Positive) Elsewhere, Unknown, "ESR meter",
            "Frequency every ESR of the unit is measured at; without it an ESR compares with nothing.";
        special positions [Vec<PositionRecord>] (Kind::Rows) Elsewhere, Nothing("none"), "Positions",
            "What was done at each position so far.";
    }
}

impl UnitAtBench {
    /// What was done at a position so far.
    pub fn at(&self, board: &str, reference: &str) -> Option<&PositionRecord> {
        self.positions.iter().find(|known| known.is_of(board, reference))
    }

    /// Changes what was done at a position; what is empty then is left out.
    pub fn change(&mut self, board: &str, reference: &str, change: impl FnOnce(&mut PositionRecord)) {
        let at = self.positions.iter().position(|known| known.is_of(board, reference)).unwrap_or_else(|| {
            self.positions.push(PositionRecord::of(board, reference));
            self.positions.len() - 1
        });
        change(&mut self.positions[at]);
        if self.positions[at].is_empty() {
            self.positions.remove(at);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_position_where_everything_is_taken_back_is_as_if_nothing_had_been_entered() {
        let mut unit = UnitAtBench::default();
        unit.change("Servo 2", "C1", |at| at.before.capacitance_uf = Some(3.0));
        unit.change("Servo 1", "C1", |at| at.done = Some(true));
        assert_eq!(unit.positions.len(), 2);
        assert_eq!(unit.at("Servo 2", "C1").unwrap().before.capacitance_uf, Some(3.0));
        unit.change("Servo 2", "C1", |at| at.before.capacitance_uf = None);
        assert_eq!((unit.positions.len(), unit.at("Servo 2", "C1")), (1, None));
    }

    #[test]
    fn a_reading_takes_the_frequency_of_its_unit_only_with_an_esr_and_without_one_of_its_own() {
        let reading = |esr_mohm, esr_hz| {
            Reading { capacitance_uf: Some(1.0), esr_mohm, esr_hz, ..Reading::default() }.at_hz(Some(120.0)).esr_hz
        };
        assert_eq!(
            (reading(Some(5.0), None), reading(Some(5.0), Some(1e5)), reading(None, None)),
            (Some(120.0), Some(1e5), None)
        );
    }
}
