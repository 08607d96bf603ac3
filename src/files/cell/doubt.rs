//! The question that a cell leaves open.

/// What a person has to decide about a cell; as words the question itself.
#[derive(Debug, Clone, PartialEq, Eq, strum::Display)]
pub enum Doubt {
    /// Whether the dot or the comma is the decimal mark.
    #[strum(to_string = "decimal mark or thousands mark")]
    DecimalMark,
    /// Which of two lengths is the diameter and which the height.
    #[strum(to_string = "which of the two dimensions is the diameter")]
    SizeOrder,
    /// What a figure without a unit is meant in, which holds for its column; the question in words.
    #[strum(to_string = "{0}")]
    Unit(String),
    /// Whether `MF` is the microfarad or the millifarad.
    #[strum(to_string = "MF means microfarad in old lists and millifarad in others")]
    MicroOrMilli,
    /// Whether a letter behind a figure makes a voltage of it.
    #[strum(to_string = "are these codes of voltages, such as 1C for 16 V and 1E for 25 V?")]
    VoltageCodes,
    /// Whether `M` and `G` stand for units of capacitance.
    #[strum(to_string = "are M and G the microfarad and the millifarad, as in old Czech lists?")]
    CzechLetters,
    /// Which of its meanings this very cell has; the question in words.
    #[strum(to_string = "{0}")]
    Cell(String),
}

impl Doubt {
    /// The unit of a figure that has none.
    pub(super) fn unit_of(name: &str) -> Self {
        Self::Unit(format!("unit of a bare {name}"))
    }
}

impl From<&str> for Doubt {
    fn from(question: &str) -> Self {
        Self::Cell(question.to_owned())
    }
}
