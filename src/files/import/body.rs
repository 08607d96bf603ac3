//! The dimensions of a row: from columns of their own, from sizes, and from texts.

use super::columns::Prepared;
use super::field::Field;
use super::figures::Reader;
use super::report::{Choice, Contradiction, Setting};
use super::settle::{Trouble, open};
use crate::domain::Can;
use crate::files::cell::body::Size;
use crate::files::cell::text::{self, Found};
use crate::files::cell::unit::Unit;
use crate::files::cell::{Column, Reading, length, size};

/// A dimension: its field, where a size has it, and how far two figures may be apart, mm.
type Dimension = (Field, fn(&Size) -> Option<f64>, f64);

/// Whether the possible sizes differ in nothing but the lead spacing (`CP_Radial_D10.0mm_P5.00mm_P7.50mm`).
fn only_pitch_open(options: &[Size]) -> bool {
    options.len() > 1
        && options.iter().all(|size| Size { pitch_mm: None, ..*size } == Size { pitch_mm: None, ..options[0] })
}

/// No can is thinner, mm (common practice, no source).
const THINNEST_MM: f64 = 2.0;

impl<'a> Reader<'a> {
    /// A diameter below that of any can is asked about: it may be that of the leads, or in another unit.
    fn ask_thin(&self, row: &'a [String], can: &mut Can, trouble: &mut Trouble) {
        let Some(mm) = can.diameter_mm.take_if(|mm| *mm < THINNEST_MM) else { return };
        let column = self.cells(row).find(|(column, _)| matches!(column.field, Field::Diameter | Field::Size));
        let Some((column, cell)) = column else { return };
        let name = &column.header;
        let mut choices = vec![
            Choice { label: "the leads".into(), setting: Setting::Means(name.clone(), Field::LeadDiameter) },
            Choice { label: "do not use it".into(), setting: Setting::Ignore(name.clone()) },
        ];
        choices.extend([Unit::Inch, Unit::Centimetre].map(|unit| Choice {
            label: format!("it is in {}", unit.symbol()),
            setting: Setting::Unit(name.clone(), unit),
        }));
        let what = format!("no can is {mm} mm thick: whose diameter is it?");
        trouble.open.push((name.clone(), Field::Diameter, what, cell.to_owned(), choices));
    }

    /// Dimensions; whether a written size has a diameter.
    pub(super) fn body(
        &self,
        row: &'a [String],
        texts: &[(&'a Prepared, &'a str, Found)],
        line: usize,
        can: &mut Can,
        trouble: &mut Trouble,
    ) -> bool {
        let mut sizes: Vec<(&Prepared, &str, Size)> = Vec::new();
        for (column, cell) in
            self.cells(row).filter(|(column, _)| matches!(column.field, Field::Size | Field::Footprint))
        {
            let own = column.field == Field::Size;
            let found = match size::read(cell, &column.column) {
                Reading::Bad { reason } => match text::find(cell, &column.column).size {
                    Reading::Nothing | Reading::Bad { .. } if own => Reading::Bad { reason },
                    in_text => in_text,
                },
                reading => reading,
            };
            match found {
                Reading::Value(size) => sizes.push((column, cell, size)),
                Reading::Ambiguous { options, .. } if only_pitch_open(&options) => {
                    sizes.push((column, cell, Size { pitch_mm: None, ..options[0] }));
                    let reason = "made for several lead spacings: which one the board has stays unknown";
                    trouble.cells.push((Field::Pitch, cell.to_owned(), reason.to_owned()));
                }
                Reading::Ambiguous { what, options } if own || sizes.is_empty() => {
                    trouble.open.push(open(column, cell, &what, &options, size::print));
                }
                Reading::Bad { reason } if own => trouble.cells.push((Field::Size, cell.to_owned(), reason)),
                _ => {}
            }
        }
        for (column, cell, found) in texts.iter().filter(|(column, ..)| column.field != Field::Size) {
            match &found.size {
                Reading::Value(size) => sizes.push((column, cell, *size)),
                Reading::Ambiguous { what, options } if sizes.is_empty() => {
                    trouble.open.push(open(column, cell, what, options, size::print));
                }
                _ => {}
            }
        }
        // A size that was open and that another cell has settled is no question.
        if sizes.iter().any(|(.., size)| size.diameter_mm.is_some() && size.height_mm.is_some()) {
            trouble.open.retain(|(_, field, ..)| !matches!(field, Field::Size | Field::Footprint));
        }
        let millimetres = |cell: &str, column: &Column| match length::read(cell, column) {
            Reading::Value(mm) if mm <= 0.0 => Reading::Bad { reason: "a dimension is above zero".to_owned() },
            reading => reading,
        };
        let dimensions: [Dimension; 4] = [
            (Field::Diameter, |size| size.diameter_mm, 0.35),
            (Field::Height, |size| size.height_mm, 1.0),
            (Field::Pitch, |size| size.pitch_mm, 0.3),
            (Field::LeadDiameter, |size| size.lead_d_mm, 0.15),
        ];
        let mut read = [None; 4];
        let mut origins = Vec::new();
        for (slot, (field, of, apart_mm)) in read.iter_mut().zip(dimensions) {
            let own = self.one(row, trouble, line, field, millimetres);
            let mut values = own.map(|mm| (field.label().to_owned(), mm)).into_iter().chain(
                sizes.iter().filter_map(|(column, cell, size)| Some((format!("{}: {cell}", column.header), of(size)?))),
            );
            let Some((first_place, first)) = values.next() else { continue };
            *slot = Some(first);
            if own.is_none() {
                origins.push((field, first_place.clone()));
            }
            if let Some((place, other)) = values.find(|(_, other)| (other - first).abs() > apart_mm) {
                *slot = None;
                trouble.contradictions.push(Contradiction {
                    line: line as u64,
                    field: field.label().to_owned(),
                    first: format!("{first} mm ({first_place})"),
                    second: format!("{other} mm ({place})"),
                    done: "neither is used".to_owned(),
                });
            }
        }
        [can.diameter_mm, can.height_mm, can.pitch_mm, can.lead_d_mm] = read;
        self.ask_thin(row, can, trouble);
        trouble.origins.extend(origins);
        can.diameter_max_mm = self.one(row, trouble, line, Field::DiameterMax, millimetres);
        can.height_max_mm = self.one(row, trouble, line, Field::HeightMax, millimetres);
        let by_column = self.cells(row).any(|(column, _)| column.field == Field::Diameter);
        sizes.iter().any(|(.., size)| size.diameter_mm.is_some()) || (by_column && can.diameter_mm.is_some())
    }
}
