//! The candidate catalogue with canonical headers, written.

use std::io;

use super::entry;
use super::notation::{neutral_text, number};
use crate::domain::schema::{self, Kind};
use crate::domain::{Part, TRADE_NUMBERS};

/// What stands before the figures of a part, and what behind them.
const BEFORE: [&str; 3] = ["part_number", "maker", "series"];
const BEHIND: [&str; 12] = [
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
    "datasheet",
    "read_from",
];

/// Words and tables that stand behind the figure they belong to.
const BELONGS: [(&str, &[&str]); 2] =
    [("endurance_h", &["endurance_basis", "life_basis"]), ("f100k", &["ripple_freq_factors", "ripple_temp_factors"])];

/// The canonical headers in their order: the figures as the schema has them.
fn header() -> impl Iterator<Item = &'static str> {
    let own = schema::of_part().map(|field| field.path);
    let own = own.filter(|name| BELONGS.iter().all(|(_, moved)| !moved.contains(name))).flat_map(|name| {
        let behind = BELONGS.iter().filter(move |(of, _)| *of == name).flat_map(|(_, moved)| moved.iter().copied());
        std::iter::once(name).chain(behind)
    });
    BEFORE.into_iter().chain(own).chain(BEHIND)
}

/// Writes parts as a catalogue that [`super::parts`] reads; what is unknown stays empty.
///
/// # Errors
/// When `out` cannot be written.
pub fn write<'a>(out: impl io::Write, parts: impl IntoIterator<Item = &'a Part>) -> csv::Result<()> {
    let mut writer = csv::Writer::from_writer(out);
    writer.write_record(header())?;
    for part in parts {
        writer.write_record(header().map(|column| cell(part, column)))?;
    }
    writer.flush()?;
    Ok(())
}

fn cell(part: &Part, column: &str) -> String {
    let text = |text: &str| neutral_text(text);
    match column {
        "part_number" => text(&part.part_number),
        "maker" => text(&part.maker),
        "series" => text(&part.series),
        "supplier" => text(&part.supplier),
        "supplier_part_number" => text(&part.supplier_part_number),
        "datasheet" => text(&part.datasheet),
        "read_from" => text(&part.read_from),
        "currency" => text(&part.currency),
        "status" => part.status.map_or("", <&str>::from).to_owned(),
        "price_breaks" => part.price_breaks.as_ref().map(ToString::to_string).unwrap_or_default(),
        _ => {
            let can = schema::of_part().find(|field| field.path == column);
            let trade = || TRADE_NUMBERS.iter().zip(part.trade.numbers()).find(|(field, _)| field.name == column);
            match can {
                Some(field) if !matches!(field.kind, Kind::Number(..)) => {
                    entry::show(field, &part.can).unwrap_or_default()
                }
                Some(field) => number(field.figure(&part.can)),
                None => number(trade().and_then(|(_, value)| value)),
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::{demo, parts};

    #[test]
    fn a_written_catalogue_reads_back_to_the_same_parts() {
        let catalog = demo::parts().unwrap().catalog;
        let all: Vec<Part> = catalog.ids().map(|id| catalog.part(id)).collect();
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
