//! The figures of one row, from all the cells that say something about them.
//!
//! A column of its own goes before a text; two cells that say different things are a contradiction, and then neither is used. A cell
//! with two meanings takes the one another cell confirms, else it is a question.

use super::columns::{Columns, Prepared};
use super::field::Field;
use super::pairs;
use super::report::Contradiction;
use super::settle::{Candidate, Trouble, settle};
use crate::domain::{Can, Measured};
use crate::files::cell::clean::is_nothing;
use crate::files::cell::endurance::Endurance;
use crate::files::cell::esr::Esr;
use crate::files::cell::footprint;
use crate::files::cell::temperature::TempRange;
use crate::files::cell::text::{self, Found};
use crate::files::cell::tolerance::Tolerance;
use crate::files::cell::unit::{Kind, Unit};
use crate::files::cell::{Column, Reading};
use crate::files::cell::{capacitance, endurance, esr, leakage, number, percent, temperature, tolerance, voltage};

/// Reads the figures of rows of one table.
pub(super) struct Reader<'a> {
    pub columns: &'a Columns,
}

/// The figures of a row.
pub(super) struct RowFigures {
    pub can: Can,
    /// What the texts of the row say was measured.
    pub measured: Option<Measured>,
    pub trouble: Trouble,
    /// Something of the row is a size with a diameter written in it.
    pub round: bool,
    /// Ambient the ripple current is rated at, °C.
    pub ripple_temp_c: Option<f64>,
}

impl RowFigures {
    /// Lists what was measured where nothing can hold it: in a list of parts, or when it may be that of any of several cans.
    pub(super) fn leave_measured(&mut self) {
        let Some(measured) = self.measured.take() else { return };
        let reason = "a measured figure, which is not that of the part, or of one of several parts";
        let uf = measured.capacitance_uf.map(|uf| (Field::Capacitance, capacitance::print(uf), reason.to_owned()));
        let esr = measured.esr_mohm.map(|mohm| (Field::Esr, format!("{mohm} mΩ"), reason.to_owned()));
        self.trouble.cells.extend(uf.into_iter().chain(esr));
    }

    /// Lists an ESR that a board's list gives in a remark, without its frequency.
    pub(super) fn leave_doubtful_esr(&mut self, in_column: bool) {
        let Some(mohm) = self.can.esr_mohm.take_if(|_| !in_column && self.can.esr_hz.is_none()) else { return };
        self.trouble.origins.retain(|(field, _)| *field != Field::Esr);
        let reason =
            "nothing says whether it was measured or is the maker's: write `measured` before it, or its frequency";
        self.trouble.cells.push((Field::Esr, format!("{mohm} mΩ"), reason.to_owned()));
    }
}

/// A cell such as `2200/25` with both readings.
struct InPair<'a> {
    column: &'a Prepared,
    cell: &'a str,
    capacitance_uf: Reading<f64>,
    rated_v: Reading<f64>,
}

/// Lowest upper category temperature of electrolytics, °C (IEC 60384-4 begins with 85 °C; older parts with 60 and 70 °C exist).
const UPPER_LEAST_C: f64 = 50.0;

pub(super) fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-6 * a.abs().max(b.abs())
}

impl<'a> Reader<'a> {
    /// Cells of a row with their columns, those that say nothing left out.
    pub(super) fn cells(&self, row: &'a [String]) -> impl Iterator<Item = (&'a Prepared, &'a str)> {
        let columns: &'a Columns = self.columns;
        columns.used.iter().filter_map(move |column| {
            let cell = row.get(column.at)?.trim();
            (!is_nothing(cell)).then_some((column, cell))
        })
    }

    /// Every place where a quantity may stand: its own columns first, then texts.
    pub(super) fn candidates<T>(
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

    /// Cells such as `2200/25` with both readings.
    fn pairs(&self, row: &'a [String], with_unit: impl Fn(&Column) -> Column) -> Vec<InPair<'a>> {
        let split = self.cells(row).filter_map(|(column, cell)| {
            let known = column.pairs.as_ref()?;
            let (capacitance_uf, rated_v) = match known.split(cell, &column.column)? {
                Ok((capacitance, voltage)) => {
                    let column = with_unit(&column.column);
                    let column = Column { unit: column.unit.or(known.unit), ..column };
                    (capacitance::read(capacitance, &column), pairs::volts(voltage, &column))
                }
                Err(reason) => (Reading::Bad { reason }, Reading::Nothing),
            };
            Some(InPair { column, cell, capacitance_uf, rated_v })
        });
        split.collect()
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
                ) && !(column.codes && column.field == Field::RatedV)
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
        for candidate in values.iter_mut().filter(|candidate| candidate.own && candidate.column.codes) {
            if let Some(uf) = capacitance::of_code(candidate.cell) {
                candidate.reading = Reading::Value(uf);
            }
        }
        // Among cells with units, M is the letter of a tolerance.
        let bad = |reading: &Reading<f64>| matches!(reading, Reading::Bad { .. } | Reading::Nothing);
        for of in values.iter_mut().filter(|of| of.own && !of.column.codes && bad(&of.reading)) {
            let lettered = capacitance::lettered(of.cell, of.column.column.decimal, self.columns.czech_letters);
            of.reading = lettered.unwrap_or_else(|| of.reading.clone());
        }
        let in_pairs = self.pairs(row, |column| with_unit(column));
        for candidate in &mut values {
            if let Some(pair) = in_pairs.iter().find(|pair| pair.column.at == candidate.column.at) {
                candidate.reading = pair.capacitance_uf.clone();
            }
        }
        can.capacitance_uf =
            settle(&mut trouble, line, Field::Capacitance, &values, |a, b| close(*a, *b), |v| capacitance::print(*v));
        // A value that gave nothing is said; a part's name in its place is one, too.
        if can.capacitance_uf.is_none() && trouble.reason(Field::Capacitance, Field::Capacitance.label()).is_none() {
            let values = self.cells(row).filter(|(column, _)| column.field == Field::Value);
            let left = values.filter(|(_, cell)| cell.contains(|c: char| c.is_ascii_digit()));
            let reason = "no capacitance is understood in it";
            trouble.cells.extend(left.map(|(_, cell)| (Field::Capacitance, cell.to_owned(), reason.to_owned())));
        }
        let mut volts = self.candidates(
            row,
            &texts,
            &[Field::RatedV],
            |cell, column| voltage::read(cell, &in_unit(column, Unit::Volt)),
            |f| &f.rated_v,
        );
        for candidate in volts.iter_mut().filter(|of| of.own && of.column.codes && voltage::of_code(of.cell).is_some())
        {
            candidate.reading = voltage::answered_code(candidate.cell, self.columns.voltage_codes);
        }
        volts.extend(self.volts_of_footprint(row));
        volts.retain(|of| !in_pairs.iter().any(|pair| pair.column.at == of.column.at));
        volts.extend(in_pairs.into_iter().map(|pair| Candidate {
            column: pair.column,
            cell: pair.cell,
            own: true,
            reading: pair.rated_v,
        }));
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

        self.of_header(&mut can, &trouble);
        let ripple_temp_c = self.ripple(row, &texts, line, &mut can, &mut trouble);
        self.thermal(row, &texts, line, &mut can, &mut trouble);
        let round = self.body(row, &texts, line, &mut can, &mut trouble);
        self.losses(row, &texts, line, &mut can, &mut trouble);
        let measured = self.measured(row, &texts, line, &mut trouble);
        RowFigures { can, measured, trouble, round, ripple_temp_c }
    }

    /// Rated voltages in the names of footprints: `ELKO_35V_D10_P5`.
    fn volts_of_footprint(&self, row: &'a [String]) -> Vec<Candidate<'a, f64>> {
        let footprints = self.cells(row).filter(|(column, _)| column.field == Field::Footprint);
        let volts = footprints.filter_map(|(column, cell)| {
            let volts = footprint::rated_v(cell)?;
            Some(Candidate { column, cell, own: false, reading: Reading::Value(volts) })
        });
        volts.collect()
    }

    /// Tolerance and rated voltage that stand in the header of the capacitances, for rows without their own: `Cap. µF ±20 % (25 V)`.
    fn of_header(&self, can: &mut Can, trouble: &Trouble) {
        /// Below it are the voltages that capacitances are measured at.
        const RATED_LEAST_V: f64 = 2.5;
        let own = |field: Field| {
            self.columns.of_field(field).next().is_some() || trouble.reason(field, field.label()).is_some()
        };
        let (no_tolerance, no_voltage) = (!own(Field::Tolerance), !own(Field::RatedV));
        for column in self.columns.used.iter().filter(|c| matches!(c.field, Field::Capacitance | Field::Value)) {
            if !column.header.contains(|c: char| c.is_ascii_digit()) {
                continue;
            }
            let found = text::find(&column.header, &Column { unit: None, ..column.column });
            if let (None, true, Reading::Value(read)) = (can.tolerance_pct, no_tolerance, &found.tolerance) {
                can.tolerance_pct = Some(read.minus_pct.max(read.plus_pct));
            }
            if let (None, true, Reading::Value(volts)) = (can.rated_v, no_voltage, &found.rated_v) {
                can.rated_v = Some(*volts).filter(|volts| *volts >= RATED_LEAST_V);
            }
        }
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
        // `-25 °C` alone is the lower end of a range whose upper end stands elsewhere.
        let range = range.filter(|range| {
            let plausible = range.max_c >= UPPER_LEAST_C;
            if !plausible {
                let reason = "no upper category temperature is so low";
                trouble.cells.push((Field::Temperature, temperature::print_range(range), reason.to_owned()));
            }
            plausible
        });
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
        let mut found = self.candidates(row, texts, &[Field::Esr], esr::read, |f| &f.esr);
        // The first column that has a figure counts: ESR and impedance differ without contradicting each other.
        let gives = |c: &Candidate<'_, Esr>| c.own && matches!(c.reading, Reading::Value(_));
        if let Some(first) = found.iter().find(|c| gives(c)).map(|c| c.column.header.clone()) {
            found.retain(|c| !c.own || c.column.header == first);
        }
        let found = settle(trouble, line, Field::Esr, &found, same, esr::print);
        can.esr_mohm = found.map(|esr| esr.esr_mohm);
        can.esr_hz = found.and_then(|esr| esr.hz);
        if can.esr_hz.is_none() {
            can.esr_hz = self.one(row, trouble, line, Field::EsrHz, crate::files::cell::frequency::read);
        }
        can.tan_delta = self.one(row, trouble, line, Field::TanDelta, loss_factor);
        can.leakage_ua = self.one(row, trouble, line, Field::Leakage, leakage::read).map(|leakage| leakage.leakage_ua);
    }

    /// What texts say was measured on the part.
    fn measured(
        &self,
        row: &'a [String],
        texts: &[(&'a Prepared, &'a str, Found)],
        line: usize,
        trouble: &mut Trouble,
    ) -> Option<Measured> {
        let nothing = |_: &str, _: &Column| Reading::Nothing;
        let uf = self.candidates(row, texts, &[], nothing, |found| &found.measured_uf);
        let uf = settle(trouble, line, Field::Capacitance, &uf, |a, b| close(*a, *b), |v| capacitance::print(*v));
        let esr = self.candidates(row, texts, &[], |_, _| Reading::Nothing, |found| &found.measured_esr);
        let esr = settle(trouble, line, Field::Esr, &esr, PartialEq::eq, esr::print);
        (uf.is_some() || esr.is_some()).then(|| Measured {
            capacitance_uf: uf,
            esr_mohm: esr.map(|esr| esr.esr_mohm),
            esr_hz: esr.and_then(|esr| esr.hz),
            ..Measured::default()
        })
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

/// The column with a unit that is the only possible one for bare numbers.
fn in_unit(column: &Column, unit: Unit) -> Column {
    Column { unit: column.unit.or(Some(unit)), ..*column }
}

/// A loss factor: a share of one, or percent where cell or column say so. A bare figure above 1 can only be percent.
fn loss_factor(cell: &str, column: &Column) -> Reading<f64> {
    let as_percent = |reading: Reading<f64>| match reading {
        Reading::Value(percent) if percent > 0.0 && percent < 100.0 => Reading::Value(percent / 100.0),
        Reading::Value(percent) => Reading::Bad { reason: format!("{percent} % is no dissipation factor") },
        other => other,
    };
    if column.unit == Some(Unit::Percent) || cell.contains('%') {
        return as_percent(percent::read(cell, &Column { unit: Some(Unit::Percent), ..*column }));
    }
    match number::read(cell, column) {
        Reading::Value(share) if share > 0.0 && share < 1.0 => Reading::Value(share),
        Reading::Value(figure) if (1.0..100.0).contains(&figure) && column.unit.is_none() => Reading::Ambiguous {
            what: "a dissipation factor above 1: in percent?".to_owned(),
            options: vec![figure / 100.0],
        },
        Reading::Value(figure) => Reading::Bad { reason: format!("{figure} is no dissipation factor") },
        other => other,
    }
}
