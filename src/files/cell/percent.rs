//! Percentages.

use super::scan::{Join, only_quantities};
use super::unit::Unit;
use super::{Column, Doubt, Reading, choose, decide};

/// Reads a percentage. A bare number is percent or a share of one as the column says, else it is asked.
pub fn read(text: &str, column: &Column) -> Reading<f64> {
    decide(text, column, |text, decimal| {
        let quantities = match only_quantities(text, decimal, Join::Never) {
            Ok(quantities) => quantities,
            Err(reading) => return reading,
        };
        let [quantity] = quantities.as_slice() else {
            return Reading::bad(format!("`{text}` holds more than a percentage"));
        };
        let (Some(percent), Some(of_share)) = (quantity.number.value(), quantity.number.shifted(2)) else {
            return Reading::bad(format!("`{text}` is out of range"));
        };
        match quantity.unit.or(column.unit) {
            Some(Unit::Percent) => Reading::Value(percent),
            Some(Unit::Ratio) => Reading::Value(of_share),
            Some(_) if quantity.unit.is_some() => Reading::bad(format!("`{text}` is not a percentage")),
            _ => choose(Doubt::Unit("percent or a share of one".to_owned()), vec![percent, of_share]),
        }
    })
}
