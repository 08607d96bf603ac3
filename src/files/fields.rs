//! The figures of a position, each with its path in the job file, its unit and the values that make sense: what the editor and
//! pasted rows go by.

use super::cell::unit::Unit;
use super::cell::{Column, Reading, number, quantity};
use crate::domain::{Board, Bounds, Job, Measured, Policy, Position};

/// What a figure is measured in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measure {
    unit: Option<Unit>,
    /// The unit as shown; empty for a bare number.
    pub symbol: &'static str,
}

impl Measure {
    /// Reads what a person typed: `None` for nothing or a mark for "not known".
    ///
    /// # Errors
    /// In words, when it is not one figure in this measure or not in `bounds`.
    pub fn read(self, text: &str, bounds: Bounds) -> Result<Option<f64>, String> {
        let text = text.trim();
        if text.eq_ignore_ascii_case("unknown") {
            return Ok(None);
        }
        let reading = if let Some(unit) = self.unit {
            quantity::read(text, unit)
        } else {
            number::read(text.strip_suffix(self.symbol).unwrap_or(text), &Column::default())
        };
        match reading {
            Reading::Nothing => Ok(None),
            Reading::Value(value) => match bounds.complaint(value) {
                Some(expected) => Err(format!("{value} {}: {expected}", self.symbol).replace(" :", ":")),
                None => Ok(Some(value)),
            },
            Reading::Ambiguous { what, options } => {
                let options: Vec<String> = options.iter().map(|value| self.print(*value)).collect();
                Err(format!("{what}: {}? Write it in full.", options.join(" or ")))
            }
            Reading::Bad { reason } if self.symbol.is_empty() => Err(format!("{reason}; expected a number")),
            Reading::Bad { reason } => Err(format!("{reason}; expected a figure in {}", self.symbol)),
        }
    }

    /// The figure with its unit, every digit of it; [`read`](Self::read) gives it back.
    #[must_use]
    pub fn print(self, value: f64) -> String {
        match self.symbol {
            "" | "°" => format!("{value}{}", self.symbol),
            symbol => format!("{value} {symbol}"),
        }
    }
}

const fn of(unit: Unit, symbol: &'static str) -> Measure {
    Measure { unit: Some(unit), symbol }
}

const fn bare(symbol: &'static str) -> Measure {
    Measure { unit: None, symbol }
}

const UF: Measure = of(Unit::Microfarad, "µF");
const V: Measure = of(Unit::Volt, "V");
const A: Measure = of(Unit::Ampere, "A");
const UA: Measure = of(Unit::Microampere, "µA");
const MOHM: Measure = of(Unit::Milliohm, "mΩ");
const HZ: Measure = of(Unit::Hertz, "Hz");
const H: Measure = of(Unit::Hour, "h");
const C: Measure = of(Unit::Celsius, "°C");
const K: Measure = of(Unit::Kelvin, "K");
const MM: Measure = of(Unit::Millimetre, "mm");
const PCT: Measure = of(Unit::Percent, "%");
const NUMBER: Measure = bare("");

/// Frequency of a ripple line.
pub const LINE_HZ: Measure = HZ;
/// Current of a ripple line.
pub const LINE_A: Measure = A;
/// Ambient of a phase.
pub const PHASE_C: Measure = C;
/// A share or a factor.
pub const FACTOR: Measure = NUMBER;

/// A figure of something.
pub struct Field<T, V = Option<f64>> {
    /// Its path in the job file; within a board or job preceded by `board.`, `job.` or `policy.`.
    pub name: &'static str,
    /// Its unit.
    pub measure: Measure,
    /// Values that make sense.
    pub bounds: Bounds,
    /// Where it stands.
    pub slot: fn(&mut T) -> &mut V,
}

const fn field<T, V>(name: &'static str, measure: Measure, bounds: Bounds, slot: fn(&mut T) -> &mut V) -> Field<T, V> {
    Field { name, measure, bounds, slot }
}

fn measured(position: &mut Position) -> &mut Measured {
    position.measured.get_or_insert_with(Measured::default)
}

/// Takes away what [`Field::slot`] made to have a place to write to and nobody wrote to.
pub fn tidy(position: &mut Position) {
    if position.measured == Some(Measured::default()) {
        position.measured = None;
    }
}

/// Every figure of a position but those of ripple lines and phases.
pub static POSITION: &[Field<Position>] = {
    use Bounds::{Celsius, NotNegative, Positive, Signed};
    &[
        field("x_mm", MM, Signed, |p| &mut p.x_mm),
        field("y_mm", MM, Signed, |p| &mut p.y_mm),
        field("rotation_deg", bare("°"), Signed, |p| &mut p.rotation_deg),
        field("original.capacitance_uf", UF, Positive, |p| &mut p.original.can.capacitance_uf),
        field("original.rated_v", V, Positive, |p| &mut p.original.can.rated_v),
        field("original.temp_max_c", C, Celsius, |p| &mut p.original.can.temp_max_c),
        field("original.diameter_mm", MM, Positive, |p| &mut p.original.can.diameter_mm),
        field("original.height_mm", MM, Positive, |p| &mut p.original.can.height_mm),
        field("original.pitch_mm", MM, Positive, |p| &mut p.original.can.pitch_mm),
        field("original.tolerance_pct", PCT, NotNegative, |p| &mut p.original.can.tolerance_pct),
        field("original.made_year", NUMBER, Positive, |p| &mut p.original.made_year),
        field("original.surge_v", V, Positive, |p| &mut p.original.can.surge_v),
        field("original.temp_min_c", C, Celsius, |p| &mut p.original.can.temp_min_c),
        field("original.endurance_h", H, Positive, |p| &mut p.original.can.endurance_h),
        field("original.core_rise_k", K, NotNegative, |p| &mut p.original.can.core_rise_k),
        field("original.ripple_a", A, Positive, |p| &mut p.original.can.ripple_a),
        field("original.ripple_hz", HZ, Positive, |p| &mut p.original.can.ripple_hz),
        field("original.f50", NUMBER, Positive, |p| &mut p.original.can.f50),
        field("original.f120", NUMBER, Positive, |p| &mut p.original.can.f120),
        field("original.f300", NUMBER, Positive, |p| &mut p.original.can.f300),
        field("original.f1k", NUMBER, Positive, |p| &mut p.original.can.f1k),
        field("original.f10k", NUMBER, Positive, |p| &mut p.original.can.f10k),
        field("original.f100k", NUMBER, Positive, |p| &mut p.original.can.f100k),
        field("original.esr_mohm", MOHM, Positive, |p| &mut p.original.can.esr_mohm),
        field("original.esr_hz", HZ, Positive, |p| &mut p.original.can.esr_hz),
        field("original.tan_delta", NUMBER, Positive, |p| &mut p.original.can.tan_delta),
        field("original.z_ratio", NUMBER, Positive, |p| &mut p.original.can.z_ratio),
        field("original.z_cold_c", C, Celsius, |p| &mut p.original.can.z_cold_c),
        field("original.leakage_ua", UA, NotNegative, |p| &mut p.original.can.leakage_ua),
        field("original.diameter_max_mm", MM, Positive, |p| &mut p.original.can.diameter_max_mm),
        field("original.height_max_mm", MM, Positive, |p| &mut p.original.can.height_max_mm),
        field("original.lead_d_mm", MM, Positive, |p| &mut p.original.can.lead_d_mm),
        field("stress.dc_v", V, Signed, |p| &mut p.stress.dc_v),
        field("stress.ripple_peak_v", V, NotNegative, |p| &mut p.stress.ripple_peak_v),
        field("stress.transient_v", V, Signed, |p| &mut p.stress.transient_v),
        field("stress.min_v", V, Signed, |p| &mut p.stress.min_v),
        field("stress.ambient_rise_k", K, Signed, |p| &mut p.stress.ambient_rise_k),
        field("stress.ambient_min_c", C, Celsius, |p| &mut p.stress.ambient_min_c),
        field("stress.airflow_lfm", bare("ft/min"), NotNegative, |p| &mut p.stress.airflow_lfm),
        field("needs.capacitance_min_uf", UF, NotNegative, |p| &mut p.needs.capacitance_min_uf),
        field("needs.capacitance_max_uf", UF, Positive, |p| &mut p.needs.capacitance_max_uf),
        field("needs.esr_max_mohm", MOHM, Positive, |p| &mut p.needs.esr_max_mohm),
        field("needs.esr_min_mohm", MOHM, NotNegative, |p| &mut p.needs.esr_min_mohm),
        field("needs.esr_hz", HZ, Positive, |p| &mut p.needs.esr_hz),
        field("needs.esr_cold_max_mohm", MOHM, Positive, |p| &mut p.needs.esr_cold_max_mohm),
        field("needs.leakage_max_ua", UA, NotNegative, |p| &mut p.needs.leakage_max_ua),
        field("needs.life_h", H, NotNegative, |p| &mut p.needs.life_h),
        field("needs.balance_kohm", bare("kΩ"), Positive, |p| &mut p.needs.balance_kohm),
        field("space.diameter_max_mm", MM, Positive, |p| &mut p.space.diameter_max_mm),
        field("space.height_max_mm", MM, Positive, |p| &mut p.space.height_max_mm),
        field("space.pitch_mm", MM, Positive, |p| &mut p.space.pitch_mm),
        field("space.pitch_reach_mm", MM, NotNegative, |p| &mut p.space.pitch_reach_mm),
        field("space.hole_mm", MM, Positive, |p| &mut p.space.hole_mm),
        field("measured.capacitance_uf", UF, NotNegative, |p| &mut measured(p).capacitance_uf),
        field("measured.esr_mohm", MOHM, NotNegative, |p| &mut measured(p).esr_mohm),
        field("measured.esr_hz", HZ, Positive, |p| &mut measured(p).esr_hz),
    ]
};

/// Where a text of a position stands.
pub type TextSlot = fn(&mut Position) -> &mut Option<String>;

/// The texts of a position that may be absent.
pub static POSITION_TEXTS: &[(&str, TextSlot)] = &[
    ("original.label", |p| &mut p.original.label),
    ("parallel_group", |p| &mut p.parallel_group),
    ("series_group", |p| &mut p.series_group),
    ("measured.date", |p| &mut measured(p).date),
    ("measured.note", |p| &mut measured(p).note),
    ("note", |p| &mut p.note),
];

/// Figures of a board that may be absent.
pub static BOARD: &[Field<Board>] = &[
    field("board.per_unit", NUMBER, Bounds::Positive, |b| &mut b.per_unit),
    field("board.lid_mm", MM, Bounds::Positive, |b| &mut b.lid_mm),
    field("board.conditions.ambient_min_c", C, Bounds::Celsius, |b| &mut b.conditions.ambient_min_c),
    field("board.conditions.airflow_lfm", bare("ft/min"), Bounds::NotNegative, |b| &mut b.conditions.airflow_lfm),
];

/// Width and height of a board.
pub const OUTLINE: Measure = MM;

/// Figures of the job that may be absent.
pub static JOB: &[Field<Job>] = {
    use Bounds::{NotNegative, Positive};
    &[
        field("job.interval_years", bare("years"), Positive, |j| &mut j.interval_years),
        field("job.hours_per_year", H, Positive, |j| &mut j.hours_per_year),
        field("job.units", NUMBER, Positive, |j| &mut j.units),
        field("job.spare_pct", PCT, NotNegative, |j| &mut j.spare_pct),
        field("job.line_cost", NUMBER, NotNegative, |j| &mut j.line_cost),
        field("job.teardown_cost", NUMBER, NotNegative, |j| &mut j.teardown_cost),
        field("job.conditions.ambient_min_c", C, Bounds::Celsius, |j| &mut j.conditions.ambient_min_c),
        field("job.conditions.airflow_lfm", bare("ft/min"), NotNegative, |j| &mut j.conditions.airflow_lfm),
    ]
};

/// Margins; each has a default.
pub static POLICY: &[Field<Policy, f64>] = {
    use Bounds::{NotNegative, Positive};
    &[
        field("policy.voltage_use_max_wet_lv", NUMBER, Positive, |p| &mut p.voltage_use_max_wet_lv),
        field("policy.voltage_use_max_wet_hv", NUMBER, Positive, |p| &mut p.voltage_use_max_wet_hv),
        field("policy.voltage_use_max_polymer", NUMBER, Positive, |p| &mut p.voltage_use_max_polymer),
        field("policy.ripple_use_max", NUMBER, Positive, |p| &mut p.ripple_use_max),
        field("policy.life_margin", NUMBER, Positive, |p| &mut p.life_margin),
        field("policy.calendar_cap_years", bare("years"), Positive, |p| &mut p.calendar_cap_years),
        field("policy.can_gap_mm", MM, NotNegative, |p| &mut p.can_gap_mm),
        field("policy.pitch_reach_mm", MM, NotNegative, |p| &mut p.pitch_reach_mm),
    ]
};

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::CAN_NUMBERS;
    use proptest::prelude::*;

    #[test]
    fn every_figure_of_the_original_is_there_with_the_bounds_of_the_reader() {
        for known in CAN_NUMBERS {
            let here = POSITION.iter().find(|field| field.name == format!("original.{}", known.name));
            assert_eq!(here.map(|field| field.bounds), Some(known.bounds), "{}", known.name);
        }
    }

    #[test]
    fn looking_at_a_position_does_not_change_it() {
        let mut position = Position::default();
        POSITION.iter().for_each(|field| _ = (field.slot)(&mut position));
        POSITION_TEXTS.iter().for_each(|(_, slot)| _ = slot(&mut position));
        tidy(&mut position);
        assert_eq!(position, Position::default());
    }

    #[test]
    fn a_refusal_says_what_stands_there_and_what_was_expected() {
        let refusal = V.read("35 A", Bounds::Positive).unwrap_err();
        assert!(refusal.contains("`35 A`") && refusal.contains("in V"), "{refusal}");
        assert!(V.read("-3", Bounds::Positive).unwrap_err().contains("above 0"));
        assert_eq!(V.read(" ", Bounds::Positive), Ok(None));
    }

    proptest! {
        #[test]
        fn a_printed_figure_reads_back(at in 0..POSITION.len(), value in 0.001f64..900.0) {
            let field = &POSITION[at];
            prop_assert_eq!(field.measure.read(&field.measure.print(value), field.bounds), Ok(Some(value)));
        }
    }
}
