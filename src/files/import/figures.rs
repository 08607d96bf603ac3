//! The figures of one row, from all the cells that say something about them.
//!
//! A column of its own goes before a text; two cells that say different things are a contradiction, and then neither is used. A cell
//! with two meanings takes the one another cell confirms, else it is a question.

use super::columns::{Columns, Prepared};
use super::field::Field;
use super::report::Contradiction;
use super::settle::{Candidate, Trouble, open, settle};
use crate::domain::Can;
use crate::files::cell::clean::is_nothing;
use crate::files::cell::endurance::Endurance;
use crate::files::cell::esr::Esr;
use crate::files::cell::ripple::Ripple;
use crate::files::cell::size::Size;
use crate::files::cell::temperature::TempRange;
use crate::files::cell::text::{self, Found};
use crate::files::cell::tolerance::Tolerance;
use crate::files::cell::unit::{Kind, Unit};
use crate::files::cell::{Column, Reading};
use crate::files::cell::{
    capacitance, endurance, esr, leakage, length, number, percent, ripple, size, temperature, tolerance, voltage,
};

/// A dimension: its field, where a size has it, and how far two figures may be apart, mm.
type Dimension = (Field, fn(&Size) -> Option<f64>, f64);

/// Reads the figures of rows of one table.
pub(super) struct Reader<'a> {
    pub columns: &'a Columns,
}

/// The figures of a row.
pub(super) struct RowFigures {
    pub can: Can,
    pub trouble: Trouble,
    /// Something of the row is a size with a diameter written in it.
    pub round: bool,
    /// Ambient the ripple current is rated at, °C.
    pub ripple_temp_c: Option<f64>,
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-6 * a.abs().max(b.abs())
}

impl<'a> Reader<'a> {
    /// Cells of a row with their columns, those that say nothing left out.
    fn cells(&self, row: &'a [String]) -> impl Iterator<Item = (&'a Prepared, &'a str)> {
        let columns: &'a Columns = self.columns;
        columns.used.iter().filter_map(move |column| {
            let cell = row.get(column.at)?.trim();
            (!is_nothing(cell)).then_some((column, cell))
        })
    }

    /// Every place where a quantity may stand: its own columns first, then texts.
    fn candidates<T>(
        &self,
        row: &'a [String],
        texts: &[(&'a Prepared, &'a str, Found)],
        own: &[Field],
        read: impl Fn(&str, &Column) -> Reading<T>,
        in_text: impl Fn(&Found) -> &Reading<T>,
    ) -> Vec<Candidate<'a, T>>
    where
        T: PartialEq + Clone,
    {
        let mut found: Vec<Candidate<'a, T>> = Vec::new();
        for (column, cell) in self.cells(row).filter(|(column, _)| own.contains(&column.field)) {
            let mut reading = read(cell, &column.column);
            // `3.3uF ±20% 25V` in a capacitance column: more than the figure.
            if matches!(reading, Reading::Bad { .. })
                && let in_cell @ (Reading::Value(_) | Reading::Ambiguous { .. }) =
                    in_text(&text::find(cell, &column.column))
            {
                reading = in_cell.clone();
            }
            found.push(Candidate { column, cell, own: true, reading });
        }
        for (column, cell, text) in texts.iter().filter(|(column, ..)| !own.contains(&column.field)) {
            found.push(Candidate { column, cell, own: false, reading: in_text(text).clone() });
        }
        found
    }

    /// Reads a row.
    pub(super) fn read(&self, row: &'a [String], line: usize) -> RowFigures {
        let mut trouble = Trouble::default();
        let texts: Vec<(&Prepared, &str, Found)> = self
            .cells(row)
            .filter(|(column, _)| {
                matches!(
                    column.field,
                    Field::Value | Field::Capacitance | Field::RatedV | Field::Description | Field::Type | Field::Size
                )
            })
            .map(|(column, cell)| (column, cell, text::find(cell, &Column { unit: None, ..column.column })))
            .collect();
        let unit = self
            .columns
            .text(row, Field::CapacitanceUnit)
            .and_then(Unit::parse)
            .filter(|unit| unit.kind() == Kind::Capacitance);
        let with_unit = |column: &Column| Column { unit: column.unit.or(unit), ..*column };
        let mut can = Can::default();

        // `Value` is a capacitance or any text; only a column named so is refused when it is none.
        let mut values = self.candidates(
            row,
            &texts,
            &[Field::Capacitance, Field::Value],
            |cell, column| capacitance::read(cell, &with_unit(column)),
            |f| &f.capacitance_uf,
        );
        for candidate in &mut values {
            if candidate.column.field == Field::Value && matches!(candidate.reading, Reading::Bad { .. }) {
                candidate.reading = Reading::Nothing;
            }
        }
        can.capacitance_uf =
            settle(&mut trouble, line, Field::Capacitance, &values, |a, b| close(*a, *b), |v| capacitance::print(*v));
        let volts = self.candidates(
            row,
            &texts,
            &[Field::RatedV],
            |cell, column| voltage::read(cell, &in_unit(column, Unit::Volt)),
            |f| &f.rated_v,
        );
        can.rated_v = settle(&mut trouble, line, Field::RatedV, &volts, |a, b| close(*a, *b), |v| voltage::print(*v));
        let same_tolerance =
            |a: &Tolerance, b: &Tolerance| close(a.minus_pct, b.minus_pct) && close(a.plus_pct, b.plus_pct);
        let found = self.candidates(row, &texts, &[Field::Tolerance], tolerance::read, |f| &f.tolerance);
        let found = settle(&mut trouble, line, Field::Tolerance, &found, same_tolerance, tolerance::print);
        can.tolerance_pct = found.map(|t| t.minus_pct.max(t.plus_pct));
        can.surge_v = self.one(row, &mut trouble, line, Field::SurgeV, |cell, column| {
            voltage::read(cell, &in_unit(column, Unit::Volt))
        });
        if can.surge_v.is_none() && can.rated_v.is_some() {
            let rated = self.cells(row).find(|(column, _)| column.field == Field::RatedV);
            can.surge_v = rated.and_then(|(column, cell)| voltage::surge_in_brackets(cell, &column.column));
        }

        let ripple_temp_c = self.ripple(row, &texts, line, &mut can, &mut trouble);
        self.thermal(row, &texts, line, &mut can, &mut trouble);
        let round = self.body(row, &texts, line, &mut can, &mut trouble);
        self.losses(row, &texts, line, &mut can, &mut trouble);
        RowFigures { can, trouble, round, ripple_temp_c }
    }

    fn ripple(
        &self,
        row: &'a [String],
        texts: &[(&'a Prepared, &'a str, Found)],
        line: usize,
        can: &mut Can,
        trouble: &mut Trouble,
    ) -> Option<f64> {
        // Ratings at two frequencies are two ratings, not a contradiction.
        let same = |a: &Ripple, b: &Ripple| {
            close(a.ripple_a, b.ripple_a) || (a.hz != b.hz && a.hz.is_some() && b.hz.is_some())
        };
        let mut found = self.candidates(row, texts, &[Field::Ripple], ripple::read, |f| &f.ripple);
        leave_cooler(&mut found, trouble);
        found.sort_by_key(|candidate| matches!(candidate.reading, Reading::Value(Ripple { hz: None, .. })));
        let others: Vec<Ripple> = found.iter().filter_map(|candidate| candidate.reading.clone().value()).collect();
        let found = settle(trouble, line, Field::Ripple, &found, same, ripple::print);
        can.ripple_a = found.map(|ripple| ripple.ripple_a);
        can.ripple_hz = found.and_then(|ripple| ripple.hz);
        if can.ripple_hz.is_none() {
            can.ripple_hz = self.one(row, trouble, line, Field::RippleHz, crate::files::cell::frequency::read);
        }
        for (field, slot) in [
            (Field::F50, &mut can.f50),
            (Field::F120, &mut can.f120),
            (Field::F300, &mut can.f300),
            (Field::F1k, &mut can.f1k),
            (Field::F10k, &mut can.f10k),
            (Field::F100k, &mut can.f100k),
        ] {
            *slot = self.one(row, trouble, line, field, number::read).filter(|factor| *factor > 0.0 && *factor < 100.0);
        }
        if let Some(rated) = found {
            second_rating(can, &rated, &others);
        }
        found.and_then(|ripple| ripple.temp_c)
    }

    fn thermal(
        &self,
        row: &'a [String],
        texts: &[(&'a Prepared, &'a str, Found)],
        line: usize,
        can: &mut Can,
        trouble: &mut Trouble,
    ) {
        let celsius = |column: &Column| in_unit(column, Unit::Celsius);
        let same_range = |a: &TempRange, b: &TempRange| {
            a.max_c == b.max_c && (a.min_c == b.min_c || a.min_c.is_none() || b.min_c.is_none())
        };
        let range = self.candidates(
            row,
            texts,
            &[Field::Temperature],
            |cell, column| temperature::read_range(cell, &celsius(column)),
            |f| &f.temperature,
        );
        let range = settle(trouble, line, Field::Temperature, &range, same_range, temperature::print_range);
        let single = |cell: &str, column: &Column| temperature::read(cell, &celsius(column));
        let own_max = self.one(row, trouble, line, Field::TempMax, single);
        can.temp_min_c = self.one(row, trouble, line, Field::TempMin, single).or(range.and_then(|range| range.min_c));
        can.temp_max_c = own_max.or(range.map(|range| range.max_c));
        let same_life = |a: &Endurance, b: &Endurance| {
            close(a.hours, b.hours) && (a.temp_c == b.temp_c || a.temp_c.is_none() || b.temp_c.is_none())
        };
        let life = self.candidates(
            row,
            texts,
            &[Field::Endurance],
            |cell, column| endurance::read(cell, &in_unit(column, Unit::Hour)),
            |f| &f.endurance,
        );
        let life = settle(trouble, line, Field::Endurance, &life, same_life, endurance::print);
        let Some(life) = life else { return };
        match (life.temp_c, can.temp_max_c) {
            // An endurance is tested at the upper category temperature (IEC 60384-4).
            (Some(at), None) => {
                can.temp_max_c = Some(at);
                can.endurance_h = Some(life.hours);
            }
            (Some(at), Some(max)) if at != max => trouble.contradictions.push(Contradiction {
                line: line as u64,
                field: Field::Endurance.label().to_owned(),
                first: endurance::print(&life),
                second: format!("upper temperature {}", temperature::print(max)),
                done: "the endurance is not used".to_owned(),
            }),
            _ => can.endurance_h = Some(life.hours),
        }
    }

    fn losses(
        &self,
        row: &'a [String],
        texts: &[(&'a Prepared, &'a str, Found)],
        line: usize,
        can: &mut Can,
        trouble: &mut Trouble,
    ) {
        let same =
            |a: &Esr, b: &Esr| close(a.esr_mohm, b.esr_mohm) && (a.hz == b.hz || a.hz.is_none() || b.hz.is_none());
        let found = self.candidates(row, texts, &[Field::Esr], esr::read, |f| &f.esr);
        let found = settle(trouble, line, Field::Esr, &found, same, esr::print);
        can.esr_mohm = found.map(|esr| esr.esr_mohm);
        can.esr_hz = found.and_then(|esr| esr.hz);
        if can.esr_hz.is_none() {
            can.esr_hz = self.one(row, trouble, line, Field::EsrHz, crate::files::cell::frequency::read);
        }
        can.tan_delta = self.one(row, trouble, line, Field::TanDelta, loss_factor);
        can.leakage_ua = self.one(row, trouble, line, Field::Leakage, leakage::read).map(|leakage| leakage.leakage_ua);
    }

    /// Dimensions; whether a written size has a diameter.
    fn body(
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
        let millimetres = |cell: &str, column: &Column| length::read(cell, column);
        let dimensions: [Dimension; 4] = [
            (Field::Diameter, |size| size.diameter_mm, 0.35),
            (Field::Height, |size| size.height_mm, 1.0),
            (Field::Pitch, |size| size.pitch_mm, 0.3),
            (Field::LeadDiameter, |size| size.lead_d_mm, 0.15),
        ];
        let mut read = [None; 4];
        for (slot, (field, of, apart_mm)) in read.iter_mut().zip(dimensions) {
            let own = self.one(row, trouble, line, field, millimetres).filter(|mm| *mm > 0.0);
            let mut values = own.map(|mm| (field.label().to_owned(), mm)).into_iter().chain(
                sizes.iter().filter_map(|(column, cell, size)| Some((format!("{}: {cell}", column.header), of(size)?))),
            );
            let Some((first_place, first)) = values.next() else { continue };
            *slot = Some(first);
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
        can.diameter_max_mm = self.one(row, trouble, line, Field::DiameterMax, millimetres).filter(|mm| *mm > 0.0);
        can.height_max_mm = self.one(row, trouble, line, Field::HeightMax, millimetres).filter(|mm| *mm > 0.0);
        let by_column = self.cells(row).any(|(column, _)| column.field == Field::Diameter);
        sizes.iter().any(|(.., size)| size.diameter_mm.is_some()) || (by_column && can.diameter_mm.is_some())
    }

    /// A quantity that stands in its own columns only.
    pub(super) fn one<T: PartialEq + Clone + Printed>(
        &self,
        row: &'a [String],
        trouble: &mut Trouble,
        line: usize,
        field: Field,
        read: impl Fn(&str, &Column) -> Reading<T>,
    ) -> Option<T> {
        let own = self.cells(row).filter(|(column, _)| column.field == field);
        let candidates =
            own.map(|(column, cell)| Candidate { column, cell, own: true, reading: read(cell, &column.column) });
        settle(trouble, line, field, &candidates.collect::<Vec<_>>(), PartialEq::eq, Printed::printed)
    }
}

/// Words for a question's options.
pub(super) trait Printed {
    fn printed(&self) -> String;
}

impl Printed for f64 {
    fn printed(&self) -> String {
        number::print(*self)
    }
}

impl Printed for leakage::Leakage {
    fn printed(&self) -> String {
        leakage::print(self)
    }
}

/// Of ratings at several ambient temperatures the one at the highest is used: it promises least. The others are listed.
fn leave_cooler(found: &mut Vec<Candidate<'_, Ripple>>, trouble: &mut Trouble) {
    let temp_c = |candidate: &Candidate<Ripple>| match &candidate.reading {
        Reading::Value(ripple) => ripple.temp_c,
        _ => None,
    };
    let Some(hottest_c) = found.iter().filter_map(temp_c).reduce(f64::max) else { return };
    let cooler = |candidate: &Candidate<Ripple>| temp_c(candidate).is_some_and(|temp_c| temp_c < hottest_c);
    for candidate in found.iter().filter(|candidate| cooler(candidate)) {
        let reason = format!("rated at a lower temperature; the figure at {hottest_c} °C is used");
        trouble.cells.push((Field::Ripple, candidate.cell.to_owned(), reason));
    }
    found.retain(|candidate| !cooler(candidate));
}

/// Ratings at two of the frequencies that a part's table has are two points of that table.
fn second_rating(can: &mut Can, rated: &Ripple, others: &[Ripple]) {
    let Some(other) = others.iter().find(|other| other.hz.is_some() && other.hz != rated.hz) else { return };
    let (Some(rated_hz), Some(other_hz)) = (rated.hz, other.hz) else { return };
    if rated.temp_c != other.temp_c && rated.temp_c.is_some() && other.temp_c.is_some() {
        return;
    }
    let mut set = |hz: f64, factor: f64| -> bool {
        let slots = [
            (50.0, &mut can.f50),
            (120.0, &mut can.f120),
            (300.0, &mut can.f300),
            (1e3, &mut can.f1k),
            (1e4, &mut can.f10k),
            (1e5, &mut can.f100k),
        ];
        let slot = slots.into_iter().find(|(at, slot)| *at == hz && slot.is_none());
        slot.map(|(_, slot)| *slot = Some(factor)).is_some()
    };
    // Only both points together say anything.
    if set(rated_hz, 1.0) {
        set(other_hz, other.ripple_a / rated.ripple_a);
    }
}

/// The column with a unit that is the only possible one for bare numbers.
fn in_unit(column: &Column, unit: Unit) -> Column {
    Column { unit: column.unit.or(Some(unit)), ..*column }
}

/// A loss factor: a share of one, or percent where cell or column say so. A bare figure above 1 can only be percent.
fn loss_factor(cell: &str, column: &Column) -> Reading<f64> {
    let as_percent = |reading: Reading<f64>| match reading {
        Reading::Value(percent) if percent > 0.0 && percent < 100.0 => Reading::Value(percent / 100.0),
        Reading::Value(percent) => Reading::Bad { reason: format!("{percent} % is no loss factor") },
        other => other,
    };
    if column.unit == Some(Unit::Percent) || cell.contains('%') {
        return as_percent(percent::read(cell, &Column { unit: Some(Unit::Percent), ..*column }));
    }
    match number::read(cell, column) {
        Reading::Value(share) if share > 0.0 && share < 1.0 => Reading::Value(share),
        Reading::Value(figure) if (1.0..100.0).contains(&figure) && column.unit.is_none() => {
            Reading::Ambiguous { what: "a loss factor above 1: in percent?".to_owned(), options: vec![figure / 100.0] }
        }
        Reading::Value(figure) => Reading::Bad { reason: format!("{figure} is no loss factor") },
        other => other,
    }
}
