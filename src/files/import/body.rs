//! The dimensions of a row: from columns of their own, from sizes, and from texts.

use super::answer::Answer;
use super::columns::Prepared;
use super::field::Field;
use super::figures::InRow;
use super::report::Choice;
use super::settle::open;
use crate::files::cell::body::Size;
use crate::files::cell::text;
use crate::files::cell::unit::Unit;
use crate::files::cell::{Reading, length, size};

/// A dimension: its field, where a size has it, and how far two figures may be apart, mm.
type Dimension = (Field, fn(&Size) -> Option<f64>, f64);

/// Whether the possible sizes differ in nothing but the lead spacing (`CP_Radial_D10.0mm_P5.00mm_P7.50mm`).
fn only_pitch_open(options: &[Size]) -> bool {
    options.len() > 1
        && options.iter().all(|size| Size { pitch_mm: None, ..*size } == Size { pitch_mm: None, ..options[0] })
}

/// Whether a can is wider than any that stands on two leads (common practice, no source).
fn is_wide(size: &Size) -> bool {
    size.diameter_mm.is_some_and(|mm| mm > 40.0)
}

/// No can is thinner, mm (common practice, no source).
const THINNEST_MM: f64 = 2.0;

impl<'a> InRow<'a> {
    /// A diameter below that of any can is asked about: it may be that of the leads, or in another unit.
    fn ask_thin(&mut self) {
        let Some(mm) = self.can.diameter_mm.take_if(|mm| *mm < THINNEST_MM) else { return };
        let column = self.cells(|field| matches!(field, Field::Diameter | Field::Size)).next();
        let Some((column, cell)) = column else { return };
        let name = &column.header;
        let mut choices = vec![
            Choice::new("the leads", Answer::means(name, Some(Field::LeadDiameter))),
            Choice::new("do not use it", Answer::means(name, None)),
        ];
        let unit = |unit: Unit| Choice::new(format!("it is in {}", unit.symbol()), Answer::unit(name, unit));
        choices.extend([Unit::Inch, Unit::Centimetre].map(unit));
        let what = format!("no can is {mm} mm thick: whose diameter is it?");
        self.trouble.open.push((name.clone(), Field::Diameter, what, cell.to_owned(), choices));
    }

    /// The sizes written in the row, with where they stand; an open one that another cell settles is no question.
    fn sizes(&mut self) -> Vec<(&'a Prepared, &'a str, Size)> {
        let mut sizes: Vec<(&Prepared, &str, Size)> = Vec::new();
        for (column, cell) in self.cells(|field| matches!(field, Field::Size | Field::Footprint)) {
            let own = column.field == Field::Size;
            let found = match size::read(cell, &column.column) {
                Reading::Bad { reason } => match text::find(cell, &column.column).size {
                    Reading::Nothing | Reading::Bad { .. } if own => Reading::Bad { reason },
                    // `CAPPR200-80X115`: figures of a name, in whatever steps.
                    in_text if !own && in_text.clone().possible().iter().any(is_wide) => Reading::Nothing,
                    in_text => in_text,
                },
                reading => reading,
            };
            match found {
                Reading::Value(size) => sizes.push((column, cell, size)),
                Reading::Ambiguous { options, .. } if only_pitch_open(&options) => {
                    sizes.push((column, cell, Size { pitch_mm: None, ..options[0] }));
                    let reason = "made for several lead spacings: which one the board has stays unknown";
                    self.trouble.leave(Field::Pitch, cell, reason);
                }
                Reading::Ambiguous { what, options } if own || sizes.is_empty() => {
                    self.trouble.open.push(open(column, cell, &what, &options, size::print));
                }
                Reading::Bad { reason } if own => self.trouble.leave(Field::Size, cell, &reason),
                _ => {}
            }
        }
        for (column, cell, found) in self.texts.iter().filter(|(column, ..)| column.field != Field::Size) {
            match &found.size {
                Reading::Value(size) => sizes.push((column, cell, *size)),
                Reading::Ambiguous { what, options } if sizes.is_empty() => {
                    self.trouble.open.push(open(column, cell, what, options, size::print));
                }
                _ => {}
            }
        }
        // Two figures at least, as in a name with a dimension in it.
        let dimensioned = |cell: &str| cell.chars().filter(char::is_ascii_digit).count() > 1;
        let mut named = self.cells(|field| field == Field::Footprint).filter(|(_, cell)| dimensioned(cell));
        self.sizeless = sizes.is_empty() && self.trouble.open.is_empty() && named.next().is_some();
        if sizes.iter().any(|(.., size)| size.diameter_mm.is_some() && size.height_mm.is_some()) {
            self.trouble.open.retain(|(_, field, ..)| !matches!(field, Field::Size | Field::Footprint));
        }
        sizes
    }

    /// Dimensions; whether a written size has a diameter.
    pub(super) fn body(&mut self) -> bool {
        let sizes = self.sizes();
        let dimensions: [Dimension; 4] = [
            (Field::Diameter, |size| size.diameter_mm, 0.35),
            (Field::Height, |size| size.height_mm, 1.0),
            (Field::Pitch, |size| size.pitch_mm, 0.3),
            (Field::LeadDiameter, |size| size.lead_d_mm, 0.15),
        ];
        let mut read = [None; 4];
        let mut origins = Vec::new();
        for (slot, (field, of, apart_mm)) in read.iter_mut().zip(dimensions) {
            let own = self.above_0(field);
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
                let [first, second] =
                    [(first, &first_place), (other, &place)].map(|(mm, place)| format!("{mm} mm ({place})"));
                self.trouble.contradict(field.label(), first, second, "neither is used");
            }
        }
        [self.can.diameter_mm, self.can.height_mm, self.can.pitch_mm, self.can.lead_d_mm] = read;
        self.ask_thin();
        self.trouble.origins.extend(origins);
        self.can.diameter_max_mm = self.above_0(Field::DiameterMax);
        self.can.height_max_mm = self.above_0(Field::HeightMax);
        let by_column = self.cells(|field| field == Field::Diameter).next().is_some();
        sizes.iter().any(|(.., size)| size.diameter_mm.is_some()) || (by_column && self.can.diameter_mm.is_some())
    }

    /// A length in columns of its own, mm.
    fn above_0(&mut self, field: Field) -> Option<f64> {
        self.one(field, |cell, column| match length::read(cell, column) {
            Reading::Value(mm) if mm <= 0.0 => Reading::Bad { reason: "a dimension is above zero".to_owned() },
            reading => reading,
        })
    }
}
