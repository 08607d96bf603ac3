//! Values for every row of a file, where the row itself says nothing.

use super::mapping::EveryRow;
use crate::domain::{CAN_NUMBERS, Can, Part};

/// Values for every row, where the row itself says nothing.
pub(super) fn complete(part: &mut Part, every: &EveryRow) {
    for (own, all) in [
        (&mut part.maker, &every.maker),
        (&mut part.series, &every.series),
        (&mut part.supplier, &every.supplier),
        (&mut part.currency, &every.currency),
    ] {
        if let (true, Some(text)) = (own.is_empty(), all) {
            own.clone_from(text);
        }
    }
    part.can.endurance_basis = part.can.endurance_basis.or(every.endurance_basis);
    complete_numbers(&mut part.can, every);
}

/// Numbers for every row, where the row itself says nothing.
pub(super) fn complete_numbers(can: &mut Can, every: &EveryRow) {
    let (ripple, esr) = (can.ripple_a.is_some(), can.esr_mohm.is_some());
    for (value, field) in can.numbers_mut().into_iter().zip(CAN_NUMBERS) {
        // A frequency without its figure would say nothing.
        let useful = match field.name {
            "ripple_hz" => ripple,
            "esr_hz" => esr,
            _ => true,
        };
        if useful && value.is_none() {
            *value = every.numbers.get(field.name).copied();
        }
    }
}

/// Whether a part has a figure of the catalogue's columns.
pub(super) fn has_number(can: &Can, name: &str) -> bool {
    can.numbers().into_iter().zip(CAN_NUMBERS).any(|(value, field)| field.name == name && value.is_some())
}
