//! The dimensions of a part's body and leads.

/// What a size cell or a footprint name says about a part.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Size {
    /// Can diameter, mm.
    pub diameter_mm: Option<f64>,
    /// Height of the body above the board; for lying bodies their length.
    pub height_mm: Option<f64>,
    /// Lead spacing, mm.
    pub pitch_mm: Option<f64>,
    /// Lead diameter, mm.
    pub lead_d_mm: Option<f64>,
    /// Longest side of a rectangular base, such as the base plate of an SMD can, which is wider than its diameter.
    pub base_mm: Option<f64>,
}
