//! The candidate catalogue with canonical headers, written.

use std::io;

use super::notation::{neutral_text, number};
use crate::domain::{
    CAN_NUMBERS, EnduranceBasis, LifeBasis, Mounting, PairTable, Part, Status, TRADE_NUMBERS, Technology,
};

/// The canonical headers in their order.
const HEADER: [&str; 47] = [
    "part_number",
    "maker",
    "series",
    "technology",
    "mounting",
    "capacitance_uf",
    "tolerance_pct",
    "rated_v",
    "surge_v",
    "temp_min_c",
    "temp_max_c",
    "endurance_h",
    "endurance_basis",
    "life_basis",
    "core_rise_k",
    "ripple_a",
    "ripple_hz",
    "f50",
    "f120",
    "f300",
    "f1k",
    "f10k",
    "f100k",
    "ripple_freq_factors",
    "ripple_temp_factors",
    "esr_mohm",
    "esr_hz",
    "tan_delta",
    "z_ratio",
    "z_cold_c",
    "leakage_ua",
    "diameter_mm",
    "height_mm",
    "diameter_max_mm",
    "height_max_mm",
    "pitch_mm",
    "lead_d_mm",
    "status",
    "stock",
    "lead_time_d",
    "unit_price",
    "price_breaks",
    "currency",
    "moq",
    "pack",
    "supplier",
    "supplier_part_number",
];

/// Writes parts as a catalogue that [`super::parts`] reads; what is unknown stays empty.
///
/// # Errors
/// When `out` cannot be written.
pub fn write<'a>(out: impl io::Write, parts: impl IntoIterator<Item = &'a Part>) -> csv::Result<()> {
    let mut writer = csv::Writer::from_writer(out);
    writer.write_record(HEADER.iter().chain(&["datasheet"]))?;
    for part in parts {
        writer.write_record(HEADER.iter().chain(&["datasheet"]).map(|column| cell(part, column)))?;
    }
    writer.flush()?;
    Ok(())
}

fn cell(part: &Part, column: &str) -> String {
    let can = &part.can;
    let table = |table: &Option<PairTable>| table.as_ref().map(ToString::to_string).unwrap_or_default();
    let text = |text: &str| neutral_text(text);
    match column {
        "part_number" => text(&part.part_number),
        "maker" => text(&part.maker),
        "series" => text(&part.series),
        "supplier" => text(&part.supplier),
        "supplier_part_number" => text(&part.supplier_part_number),
        "datasheet" => text(&part.datasheet),
        "currency" => text(&part.currency),
        "technology" => word(can.technology, &Technology::NAMES),
        "mounting" => word(can.mounting, &Mounting::NAMES),
        "endurance_basis" => word(can.endurance_basis, &EnduranceBasis::NAMES),
        "life_basis" => word(can.life_basis, &LifeBasis::NAMES),
        "status" => word(part.status, &Status::NAMES),
        "ripple_freq_factors" => table(&can.ripple_freq_factors),
        "ripple_temp_factors" => table(&can.ripple_temp_factors),
        "price_breaks" => table(&part.price_breaks),
        _ => {
            let can = CAN_NUMBERS.iter().zip(part.can.numbers()).find(|(field, _)| field.name == column);
            let trade = || TRADE_NUMBERS.iter().zip(part.trade.numbers()).find(|(field, _)| field.name == column);
            number(can.or_else(trade).and_then(|(_, value)| value))
        }
    }
}

fn word<T: PartialEq + Copy>(value: Option<T>, names: &[(T, &str)]) -> String {
    let name = names.iter().find(|(of, _)| Some(*of) == value);
    name.map(|(_, name)| (*name).to_owned()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::{demo, parts};

    #[test]
    fn a_written_catalogue_reads_back_to_the_same_parts() {
        let catalog = demo::parts().unwrap().catalog;
        let mut all: Vec<Part> = catalog.ids().map(|id| catalog.part(id)).collect();
        all[0].can.life_basis = Some(LifeBasis::Useful);
        all[0].can.ripple_freq_factors = "100:1;1000:1.3".parse().ok();
        let mut bytes = Vec::new();
        write(&mut bytes, &all).unwrap();
        let again = parts::from_bytes(vec![("a.csv".into(), bytes)]).unwrap();
        assert!(again.rejected.is_empty() && again.notes.is_empty(), "{:?} {:?}", again.rejected.first(), again.notes);
        for (id, part) in again.catalog.ids().zip(&all) {
            assert_eq!(&again.catalog.part(id), part);
        }
        assert_eq!(again.catalog.len(), all.len());
    }
}
