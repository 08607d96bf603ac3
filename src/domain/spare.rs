//! A capacitor on the shelf.

use serde::{Deserialize, Serialize};

use super::Extra;
use super::can::Technology;

/// A capacitor on the shelf: new stock or a spare.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Spare {
    /// Its part number; its figures are looked up in the catalogue.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub part_number: Option<String>,
    /// What is printed on it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub label: Option<String>,
    /// What fills it; absent = as the catalogue says, else unknown.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub technology: Option<Technology>,
    /// Rated voltage, V dc; absent = as the catalogue says.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rated_v: Option<f64>,
    /// Date code as printed: `2341` (year and week), `2023-41`, `2023-10` or `2023`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub date_code: Option<String>,
    /// Pieces.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub quantity: Option<f64>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}
