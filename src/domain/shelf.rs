//! Stock that lies in the shop already.

use serde::{Deserialize, Serialize};

use super::Extra;

/// Pieces of a part already in the shop.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct ShelfStock {
    /// The maker's part number.
    pub part_number: String,
    /// Pieces; absent = unknown, counted as none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub qty: Option<f64>,
    /// Date code on the parts, as `2319` (year and week) or `2023-05`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub date_code: Option<String>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}
