//! What is done to one unit while it is rebuilt: what was measured before and after, and what went in.

use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

use super::Date;
use super::written::records;

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

impl Reading {
    /// The reading with its frequency where one was set once for the whole unit.
    #[must_use]
    pub fn at_hz(&self, esr_hz: Option<f64>) -> Self {
        let esr_hz = self.esr_hz.or(esr_hz).filter(|_| self.esr_mohm.is_some());
        Self { esr_hz, ..self.clone() }
    }
}

records! {
    /// What was done at one position.
    pub struct PositionRecord {
        /// Board, and which of several of the kind, as `Servo 2`.
        pub board: String,
        /// Reference designator.
        #[serde(rename = "ref")]
        pub reference: String,
        /// Part fitted; empty when unknown.
        #[serde(skip_serializing_if = "String::is_empty")]
        pub part_number: String,
        /// Lot of the part; empty when unknown.
        #[serde(skip_serializing_if = "String::is_empty")]
        pub lot: String,
        /// Date code of the part; empty when unknown.
        #[serde(skip_serializing_if = "String::is_empty")]
        pub date_code: String,
        /// The old part, before.
        pub before: Reading,
        /// The new part, after.
        pub after: Reading,
        /// What was seen; empty when nothing was.
        #[serde(skip_serializing_if = "String::is_empty")]
        pub finding: String,
        /// What it is where it is no electrolytic: the kind of another part, or `test_point`; empty for an electrolytic.
        #[serde(skip_serializing_if = "String::is_empty")]
        pub kind: String,
        /// What was measured on another part before, with its unit; empty when nothing was.
        #[serde(skip_serializing_if = "String::is_empty")]
        pub measured_before: String,
        /// What was measured after, or found at a test point, with its unit; empty when nothing was.
        #[serde(skip_serializing_if = "String::is_empty")]
        pub measured_after: String,
        /// Whether it was done; absent = nobody said.
        pub done: Option<bool>,
        /// Life the new part was given by the calculation, h.
        pub life_h: Option<f64>,
        /// Shortest life of the published laws, h.
        pub life_low_h: Option<f64>,
        /// Longest life of the published laws, h.
        pub life_high_h: Option<f64>,
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

records! {
    /// A unit at the bench: what was measured and fitted so far, until its rebuild is added to the record.
    pub struct UnitAtBench {
        /// Serial number; empty until somebody enters it.
        pub serial: String,
        /// Day of the rebuild; absent = the day it is added to the record.
        pub date: Option<Date>,
        /// Who does it; empty when unknown.
        #[serde(skip_serializing_if = "String::is_empty")]
        pub technician: String,
        /// Remark.
        #[serde(skip_serializing_if = "String::is_empty")]
        pub note: String,
        /// Name of its type of unit; empty = the first type.
        #[serde(skip_serializing_if = "String::is_empty")]
        pub unit_type: String,
        /// Frequency every ESR is measured at, Hz; absent = unknown.
        pub esr_hz: Option<f64>,
        /// What was done at each position; positions where nothing was done yet are left out.
        pub positions: Vec<PositionRecord>,
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
