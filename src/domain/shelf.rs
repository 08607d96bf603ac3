//! Stock that lies in the shop already.

use super::written::records;

records! {
    /// Pieces of a part already in the shop.
    pub struct ShelfStock {
        /// The maker's part number.
        pub part_number: String,
        /// Pieces; absent = unknown, counted as none.
        pub qty: Option<f64>,
        /// Date code on the parts, as `2319` (year and week) or `2023-05`.
        pub date_code: Option<String>,
    }
}
