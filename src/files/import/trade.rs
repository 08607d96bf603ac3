//! Terms of sale of one row: stock, price, minimum, pack.

use super::field::Field;
use super::figures::Reader;
use super::settle::Trouble;
use crate::domain::{Bounds, PairTable, Part};
use crate::files::cell::{Reading, number, price};

/// Reads the terms of sale; what cannot be read is listed and left unknown.
pub(super) fn read<'a>(reader: &Reader<'a>, cells: &'a [String], part: &mut Part, trouble: &mut Trouble, line: usize) {
    for (field, slot) in [
        (Field::Stock, &mut part.trade.stock),
        (Field::LeadTime, &mut part.trade.lead_time_d),
        (Field::Moq, &mut part.trade.moq),
        (Field::Pack, &mut part.trade.pack),
    ] {
        *slot = reader
            .one(cells, trouble, line, field, number::read)
            .filter(|value| Bounds::NotNegative.complaint(*value).is_none());
    }
    part.trade.moq = part.trade.moq.filter(|moq| *moq > 0.0);
    part.trade.pack = part.trade.pack.filter(|pack| *pack > 0.0);
    for column in reader.columns.of_field(Field::Price) {
        let Some(cell) = cells.get(column.at) else { continue };
        match price::read(cell, &column.column) {
            Reading::Value(found) => {
                part.trade.unit_price = Some(found.amount);
                if let Some(currency) = found.currency.filter(|_| part.currency.is_empty()) {
                    part.currency = currency;
                }
            }
            Reading::Bad { reason } => trouble.cells.push((Field::Price, cell.clone(), reason)),
            Reading::Ambiguous { what, .. } => trouble.cells.push((Field::Price, cell.clone(), what)),
            Reading::Nothing => {}
        }
    }
    for column in reader.columns.of_field(Field::PriceBreaks) {
        let Some(cell) = cells.get(column.at) else { continue };
        match price::read_breaks(cell, &column.column) {
            Reading::Value(breaks) => {
                part.price_breaks =
                    PairTable::new(breaks.iter().map(|step| (step.from_qty as f64, step.unit_price)).collect());
            }
            Reading::Bad { reason } => trouble.cells.push((Field::PriceBreaks, cell.clone(), reason)),
            Reading::Ambiguous { what, .. } => trouble.cells.push((Field::PriceBreaks, cell.clone(), what)),
            Reading::Nothing => {}
        }
    }
}
