//! The candidate catalogue with canonical headers, written.

use std::io;

use super::parts::row::PartColumn;
use crate::domain::{Catalog, Part, schema};

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

/// The canonical headers of a list of offers.
const OF_OFFERS: [&str; 10] = [
    "part_number",
    "supplier",
    "supplier_part_number",
    "stock",
    "lead_time_d",
    "currency",
    "moq",
    "pack",
    "unit_price",
    "price_breaks",
];

/// Writes the terms of sale of parts as a list that [`super::offers`] reads; what is unknown stays empty.
///
/// # Errors
/// When `out` cannot be written.
pub fn write_offers<'a>(out: impl io::Write, parts: impl IntoIterator<Item = &'a Part>) -> csv::Result<()> {
    rows(out, &OF_OFFERS, parts)
}

/// Writes parts as a catalogue that [`super::parts`] reads; what is unknown stays empty. An `invented` catalogue says so above its
/// header row.
///
/// # Errors
/// When `out` cannot be written.
pub fn write<'a>(
    mut out: impl io::Write,
    parts: impl IntoIterator<Item = &'a Part>,
    invented: bool,
) -> csv::Result<()> {
    if invented {
        writeln!(out, "# Invented: these parts cannot be bought.")?;
    }
    rows(out, &header().collect::<Vec<_>>(), parts)
}

fn rows<'a>(out: impl io::Write, header: &[&str], parts: impl IntoIterator<Item = &'a Part>) -> csv::Result<()> {
    let mut writer = csv::Writer::from_writer(out);
    writer.write_record(header)?;
    let columns: Vec<PartColumn> = header.iter().filter_map(|name| PartColumn::of_header(name)).collect();
    for part in parts {
        writer.write_record(columns.iter().map(|column| column.cell(part)))?;
    }
    writer.flush()?;
    Ok(())
}

/// A whole catalogue as such a file.
pub(super) fn whole(catalog: &Catalog) -> io::Result<Vec<u8>> {
    let parts: Vec<Part> = catalog.ids().map(|id| catalog.part(id)).collect();
    let mut content = Vec::new();
    write(&mut content, &parts, catalog.ids().any(|id| catalog.is_invented(id))).map_err(io::Error::other)?;
    Ok(content)
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
        write(&mut bytes, &all, true).unwrap();
        let again = parts::from_bytes(vec![("a.csv".into(), bytes)]).unwrap();
        assert!(again.rejected.is_empty() && again.notes.is_empty(), "{:?} {:?}", again.rejected.first(), again.notes);
        for (id, part) in again.catalog.ids().zip(&all) {
            assert_eq!(&again.catalog.part(id), part);
        }
        assert_eq!(again.catalog.len(), all.len());
        assert!(again.catalog.ids().all(|id| again.catalog.is_invented(id)));
    }
}
