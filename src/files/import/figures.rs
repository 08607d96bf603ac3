//! The figures of one row, from all the cells that say something about them.
//!
//! A column of its own goes before a text; two cells that say different things are a contradiction, and then neither is used. A cell
//! with two meanings takes the one another cell confirms, else it is a question.

use std::vec::IntoIter;

use super::columns::{Columns, Prepared};
use super::field::Field;
use super::pairs;
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
use crate::files::cell::{Column, Doubt, Reading};
use crate::files::cell::{
    capacitance, endurance, esr, frequency, leakage, number, percent, temperature, tolerance, voltage,
};

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
    /// Its footprint has figures, and none is understood as a dimension.
    pub sizeless: bool,
}

impl RowFigures {
    /// Lists what was measured where nothing can hold it: in a list of parts, or when it may be that of any of several cans.
    pub(super) fn leave_measured(&mut self) {
        let Some(measured) = self.measured.take() else { return };
        let reason = "a measured figure, which is not that of the part, or of one of several parts";
        let uf = measured.capacitance_uf.map(|uf| (Field::Capacitance, capacitance::print(uf)));
        let esr = measured.esr_mohm.map(|mohm| (Field::Esr, format!("{mohm} mΩ")));
        uf.into_iter().chain(esr).for_each(|(field, shown)| self.trouble.leave(field, &shown, reason));
    }

    /// Lists an ESR that a board's list gives in a remark, without its frequency.
    pub(super) fn leave_doubtful_esr(&mut self, in_column: bool) {
        let Some(mohm) = self.can.esr_mohm.take_if(|_| !in_column && self.can.esr_hz.is_none()) else { return };
        self.trouble.origins.retain(|(field, _)| *field != Field::Esr);
        let reason =
            "nothing says whether it was measured or is the maker's: write `measured` before it, or its frequency";
        self.trouble.leave(Field::Esr, &format!("{mohm} mΩ"), reason);
    }
}

/// A row while its figures are read: what its texts say, and what is known so far.
pub(super) struct InRow<'a> {
    reader: Reader<'a>,
    row: &'a [String],
    pub texts: Vec<(&'a Prepared, &'a str, Found)>,
    pub can: Can,
    pub trouble: Trouble,
    /// Its footprint has figures, and none is understood as a dimension.
    pub sizeless: bool,
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

/// Whether two conditions of a figure agree, as far as both are known.
fn agree(a: Option<f64>, b: Option<f64>) -> bool {
    a == b || a.is_none() || b.is_none()
}

impl<'a> Reader<'a> {
    /// Cells of a row in the columns of fields, with their columns; those that say nothing are left out.
    pub(super) fn cells(&self, row: &'a [String], of: impl Fn(Field) -> bool) -> IntoIter<(&'a Prepared, &'a str)> {
        let used = self.columns.used.iter().filter(|column| of(column.field));
        let cells = used.filter_map(|column| Some((column, row.get(column.at)?.trim())));
        cells.filter(|(_, cell)| !is_nothing(cell)).collect::<Vec<_>>().into_iter()
    }

    /// A quantity that stands in its own columns only.
    pub(super) fn one<T: PartialEq + Clone + Printed>(
        &self,
        row: &'a [String],
        trouble: &mut Trouble,
        field: Field,
        read: impl Fn(&str, &Column) -> Reading<T>,
    ) -> Option<T> {
        let own = self.cells(row, |of| of == field);
        let candidates =
            own.map(|(column, cell)| Candidate { column, cell, own: true, reading: read(cell, &column.column) });
        settle(trouble, field, &candidates.collect::<Vec<_>>(), PartialEq::eq, Printed::printed)
    }

    /// Reads a row.
    pub(super) fn read(&self, row: &'a [String]) -> RowFigures {
        let wordy = [Field::Value, Field::Capacitance, Field::RatedV, Field::Description, Field::Type, Field::Size];
        let coded = |column: &Prepared| column.codes && column.field == Field::RatedV;
        let texts = self.cells(row, |of| wordy.contains(&of)).filter(|(column, _)| !coded(column));
        let texts = texts.map(|(column, cell)| (column, cell, text::find(cell, &of_text(&column.column))));
        let texts = texts.collect();
        let mut of = InRow {
            reader: Reader { columns: self.columns },
            row,
            texts,
            can: Can::default(),
            trouble: Trouble::default(),
            sizeless: false,
        };
        of.values();
        let same_tolerance =
            |a: &Tolerance, b: &Tolerance| close(a.minus_pct, b.minus_pct) && close(a.plus_pct, b.plus_pct);
        let found = of.candidates(&[Field::Tolerance], tolerance::read, |f| &f.tolerance);
        let found = settle(&mut of.trouble, Field::Tolerance, &found, same_tolerance, tolerance::print);
        of.can.tolerance_pct = found.and_then(|found| of.even(&found));
        of.can.surge_v = of.one(Field::SurgeV, |cell, column| voltage::read(cell, &in_unit(column, Unit::Volt)));
        if of.can.surge_v.is_none() && of.can.rated_v.is_some() {
            let rated = of.cells(|field| field == Field::RatedV).next();
            of.can.surge_v = rated.and_then(|(column, cell)| voltage::surge_in_brackets(cell, &column.column));
        }
        of.header();
        let ripple_temp_c = of.ripple();
        of.thermal();
        let round = of.body();
        of.losses();
        let measured = of.measured();
        RowFigures { can: of.can, measured, trouble: of.trouble, round, ripple_temp_c, sizeless: of.sizeless }
    }
}

impl<'a> InRow<'a> {
    pub(super) fn cells(&self, of: impl Fn(Field) -> bool) -> IntoIter<(&'a Prepared, &'a str)> {
        self.reader.cells(self.row, of)
    }

    /// A quantity that stands in its own columns only.
    pub(super) fn one<T: PartialEq + Clone + Printed>(
        &mut self,
        field: Field,
        read: impl Fn(&str, &Column) -> Reading<T>,
    ) -> Option<T> {
        self.reader.one(self.row, &mut self.trouble, field, read)
    }

    /// Every place where a quantity may stand: its own columns first, then texts.
    pub(super) fn candidates<T: PartialEq + Clone>(
        &self,
        own: &[Field],
        read: impl Fn(&str, &Column) -> Reading<T>,
        in_text: impl Fn(&Found) -> &Reading<T>,
    ) -> Vec<Candidate<'a, T>> {
        let mut found: Vec<Candidate<'a, T>> = Vec::new();
        for (column, cell) in self.cells(|field| own.contains(&field)) {
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
        for (column, cell, text) in self.texts.iter().filter(|(column, ..)| !own.contains(&column.field)) {
            found.push(Candidate { column, cell, own: false, reading: in_text(text).clone() });
        }
        found
    }

    /// Cells such as `2200/25` with both readings.
    fn pairs(&self, with_unit: impl Fn(&Column) -> Column) -> Vec<InPair<'a>> {
        let split = self.cells(|_| true).filter_map(|(column, cell)| {
            let known = column.pairs.as_ref()?;
            let cell = column.pair_in(cell)?;
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

    /// Capacitance and rated voltage.
    fn values(&mut self) {
        let unit = self.reader.columns.text(self.row, Field::CapacitanceUnit).and_then(Unit::parse);
        let unit = unit.filter(|unit| unit.kind() == Kind::Capacitance);
        let with_unit = |column: &Column| Column { unit: column.unit.or(unit), ..*column };
        let in_pairs = self.pairs(with_unit);
        let volts_of = self.reader.columns.of_field(Field::RatedV).next();
        let own_v = volts_of.and_then(|of| pairs::volts(self.row.get(of.at)?, &of.column).value());
        let read = |cell: &str, column: &Column| capacitance::read(cell, &with_unit(column));
        let mut values = self.candidates(&[Field::Capacitance, Field::Value], read, |f| &f.capacitance_uf);
        for candidate in &mut values {
            // `Value` is a capacitance or any text; only a column named so is refused when it is none.
            if candidate.column.field == Field::Value && matches!(candidate.reading, Reading::Bad { .. }) {
                candidate.reading = Reading::Nothing;
            }
            if candidate.own
                && candidate.column.codes
                && let Some(uf) = capacitance::of_code(candidate.cell)
            {
                candidate.reading = Reading::Value(uf);
            }
            // Among cells with units, M is the letter of a tolerance.
            let bad = matches!(candidate.reading, Reading::Bad { .. } | Reading::Nothing);
            if candidate.own && !candidate.column.codes && bad {
                let (columns, decimal) = (self.reader.columns, candidate.column.column.decimal);
                let lettered = capacitance::lettered(candidate.cell, decimal, columns.czech_letters);
                candidate.reading = lettered.unwrap_or_else(|| candidate.reading.clone());
            }
            if let Some(pair) = in_pairs.iter().find(|pair| pair.column.at == candidate.column.at) {
                candidate.reading = pair.capacitance_uf.clone();
                // `100/120uF` beside 25 V: two capacitances.
                let other = |own: f64| pair.rated_v.clone().value().is_some_and(|volts| !close(volts, own));
                if pair.cell.ends_with(char::is_alphabetic) && own_v.is_some_and(other) {
                    candidate.reading = Reading::bad("two figures, of which neither is the voltage beside it");
                }
            }
        }
        let same = |a: &f64, b: &f64| close(*a, *b);
        let found = settle(&mut self.trouble, Field::Capacitance, &values, same, |v| capacitance::print(*v));
        self.can.capacitance_uf = found;
        // A value that gave nothing is said; a part's name in its place is one, too.
        if found.is_none() && self.trouble.reason(Field::Capacitance).is_none() {
            let texts = |field| self.cells(move |of| of == field);
            let number = |(_, cell): &(&Prepared, &str)| cell.contains(|c: char| c.is_ascii_digit());
            let valued = texts(Field::Value).any(|of| number(&of)) || self.reader.columns.has(Field::Capacitance);
            let left: Vec<_> = texts(if valued { Field::Value } else { Field::Description }).filter(number).collect();
            left.into_iter().for_each(|(_, cell)| {
                self.trouble.leave(Field::Capacitance, cell, "no capacitance is understood in it");
            });
        }
        let read = |cell: &str, column: &Column| voltage::read(cell, &in_unit(column, Unit::Volt));
        let mut volts = self.candidates(&[Field::RatedV], read, |f| &f.rated_v);
        // `ELKO 220uF 1E`, where a person said whether such figures are codes.
        for candidate in &mut volts {
            if let (Reading::Ambiguous { what: Doubt::VoltageCodes, options }, Some(are_codes)) =
                (&candidate.reading, self.reader.columns.voltage_codes)
            {
                let meant = options.first().filter(|_| are_codes);
                candidate.reading = meant.map_or(Reading::Nothing, |volts| Reading::Value(*volts));
            }
        }
        for candidate in volts.iter_mut().filter(|of| of.own && of.column.codes && voltage::of_code(of.cell).is_some())
        {
            candidate.reading = voltage::answered_code(candidate.cell, self.reader.columns.voltage_codes);
        }
        // `ELKO_35V_D10_P5`
        let footprints = self.cells(|field| field == Field::Footprint);
        volts.extend(footprints.filter_map(|(column, cell)| {
            let reading = Reading::Value(footprint::rated_v(cell)?);
            Some(Candidate { column, cell, own: false, reading })
        }));
        volts.retain(|of| !in_pairs.iter().any(|pair| pair.column.at == of.column.at));
        // `24 V out` beside a rated voltage: a text that says no capacitance names a lower voltage of the circuit.
        let of_part = |at: usize| {
            self.texts.iter().any(|(column, _, found)| column.at == at && found.capacitance_uf != Reading::Nothing)
        };
        let own = volts.iter().find(|of| of.own || of_part(of.column.at)).and_then(|of| of.reading.clone().value());
        let lower = |volts: &f64| own.is_some_and(|own| *volts < own);
        volts.retain(|of| of.own || of_part(of.column.at) || !of.reading.clone().value().is_some_and(|v| lower(&v)));
        let of_pair =
            |pair: InPair<'a>| Candidate { column: pair.column, cell: pair.cell, own: true, reading: pair.rated_v };
        volts.extend(in_pairs.into_iter().map(of_pair));
        self.can.rated_v = settle(&mut self.trouble, Field::RatedV, &volts, same, |v| voltage::print(*v));
    }

    /// The one figure of a tolerance; a part has no field for two that differ, and neither would be right for both.
    fn even(&mut self, tolerance: &Tolerance) -> Option<f64> {
        let even = close(tolerance.minus_pct, tolerance.plus_pct);
        if !even {
            self.trouble.origins.retain(|(field, _)| *field != Field::Tolerance);
            let reason = "not the same below and above, and a part has one tolerance for both: it stays unknown";
            self.trouble.leave(Field::Tolerance, &tolerance::print(tolerance), reason);
        }
        even.then_some(tolerance.plus_pct)
    }

    /// Tolerance and rated voltage that stand in the header of the capacitances, for rows without their own: `Cap. µF ±20 % (25 V)`.
    fn header(&mut self) {
        /// Below it are the voltages that capacitances are measured at.
        const RATED_LEAST_V: f64 = 2.5;
        let columns = self.reader.columns;
        let own = |field: Field| columns.of_field(field).next().is_some() || self.trouble.reason(field).is_some();
        let (no_tolerance, no_voltage) = (!own(Field::Tolerance), !own(Field::RatedV));
        for column in columns.used.iter().filter(|c| matches!(c.field, Field::Capacitance | Field::Value)) {
            if !column.header.contains(|c: char| c.is_ascii_digit()) {
                continue;
            }
            let found = text::find(&column.header, &Column { unit: None, ..column.column });
            if let (None, true, Reading::Value(read)) = (self.can.tolerance_pct, no_tolerance, &found.tolerance) {
                self.can.tolerance_pct = self.even(read);
            }
            if let (None, true, Reading::Value(volts)) = (self.can.rated_v, no_voltage, &found.rated_v) {
                self.can.rated_v = Some(*volts).filter(|volts| *volts >= RATED_LEAST_V);
            }
        }
    }

    fn thermal(&mut self) {
        let celsius = |column: &Column| in_unit(column, Unit::Celsius);
        let same_range = |a: &TempRange, b: &TempRange| a.max_c == b.max_c && agree(a.min_c, b.min_c);
        let read = |cell: &str, column: &Column| temperature::read_range(cell, &celsius(column));
        let range = self.candidates(&[Field::Temperature], read, |f| &f.temperature);
        let range = settle(&mut self.trouble, Field::Temperature, &range, same_range, temperature::print_range);
        // `-25 °C` alone is the lower end of a range whose upper end stands elsewhere.
        let (range, low) = range.map_or((None, None), |range| {
            if range.max_c >= UPPER_LEAST_C { (Some(range), None) } else { (None, Some(range)) }
        });
        if let Some(low) = low {
            let reason = "no upper category temperature is so low";
            self.trouble.leave(Field::Temperature, &temperature::print_range(&low), reason);
        }
        let single = |cell: &str, column: &Column| temperature::read(cell, &celsius(column));
        self.can.temp_max_c = self.one(Field::TempMax, single).or(range.map(|range| range.max_c));
        self.can.temp_min_c = self.one(Field::TempMin, single).or(range.and_then(|range| range.min_c));
        let same_life = |a: &Endurance, b: &Endurance| close(a.hours, b.hours) && agree(a.temp_c, b.temp_c);
        let read = |cell: &str, column: &Column| endurance::read(cell, &in_unit(column, Unit::Hour));
        let life = self.candidates(&[Field::Endurance], read, |f| &f.endurance);
        let life = settle(&mut self.trouble, Field::Endurance, &life, same_life, endurance::print);
        let Some(life) = life else { return };
        if let (Some(at), Some(max)) = (life.temp_c, self.can.temp_max_c)
            && at != max
        {
            let second = format!("upper temperature {}", temperature::print(max));
            let field = Field::Endurance.label();
            return self.trouble.contradict(field, endurance::print(&life), second, "the endurance is not used");
        }
        // An endurance is tested at the upper category temperature (IEC 60384-4).
        self.can.temp_max_c = self.can.temp_max_c.or(life.temp_c);
        self.can.endurance_h = Some(life.hours);
    }

    /// What texts say was measured on the part.
    fn measured(&mut self) -> Option<Measured> {
        let uf = self.candidates(&[Field::MeasuredUf], capacitance::read, |found| &found.measured_uf);
        let same = |a: &f64, b: &f64| close(*a, *b);
        let uf = settle(&mut self.trouble, Field::MeasuredUf, &uf, same, |v| capacitance::print(*v));
        let esr = self.candidates(&[Field::MeasuredEsr], esr::read, |found| &found.measured_esr);
        let esr = settle(&mut self.trouble, Field::MeasuredEsr, &esr, PartialEq::eq, esr::print);
        (uf.is_some() || esr.is_some()).then(|| Measured {
            capacitance_uf: uf,
            esr_mohm: esr.map(|esr| esr.esr_mohm),
            esr_hz: esr.and_then(|esr| esr.hz),
            ..Measured::default()
        })
    }

    fn losses(&mut self) {
        let same = |a: &Esr, b: &Esr| close(a.esr_mohm, b.esr_mohm) && agree(a.hz, b.hz);
        let mut found = self.candidates(&[Field::Esr], esr::read, |f| &f.esr);
        // The first column that has a figure counts: ESR and impedance differ without contradicting each other.
        let gives = |c: &Candidate<'_, Esr>| c.own && matches!(c.reading, Reading::Value(_));
        if let Some(first) = found.iter().find(|c| gives(c)).map(|c| c.column.header.clone()) {
            found.retain(|c| !c.own || c.column.header == first);
        }
        let found = settle(&mut self.trouble, Field::Esr, &found, same, esr::print);
        self.can.esr_mohm = found.map(|esr| esr.esr_mohm);
        self.can.esr_hz = found.and_then(|esr| esr.hz).or_else(|| self.one(Field::EsrHz, frequency::read));
        self.can.tan_delta = self.one(Field::TanDelta, dissipation_factor);
        self.can.leakage_ua = self.one(Field::Leakage, leakage::read).map(|leakage| leakage.leakage_ua);
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

/// The column for texts, where a unit only says what `MF` is.
fn of_text(column: &Column) -> Column {
    Column { unit: column.unit.filter(|unit| unit.kind() == Kind::Capacitance), ..*column }
}

/// The column with a unit that is the only possible one for bare numbers.
fn in_unit(column: &Column, unit: Unit) -> Column {
    Column { unit: column.unit.or(Some(unit)), ..*column }
}

/// A dissipation factor: a share of one, or percent where cell or column say so. A bare figure above 1 can only be
/// percent.
fn dissipation_factor(cell: &str, column: &Column) -> Reading<f64> {
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
            what: Doubt::Unit("a dissipation factor above 1: in percent?".to_owned()),
            options: vec![figure / 100.0],
        },
        Reading::Value(figure) => Reading::Bad { reason: format!("{figure} is no dissipation factor") },
        other => other,
    }
}
