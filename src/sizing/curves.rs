//! How long a part would last if one condition were another: the curves an engineer compares.

use super::ambient::DutyPhase;
use super::checks::{Change, UnderDuty};
use super::position_context::PositionContext;
use super::voltages::Electrical;
use crate::domain::{Assumed, Can, words};
use crate::physics::life::Life;

words! {
    /// What a curve runs over; everything else stays as it was entered.
    #[derive(Default)]
    pub enum Axis {
        /// Ambient beside the can, the same in every phase of the duty, °C.
        Ambient,
        /// Factor on every ripple line, over the scale of each phase; what a second plot shows at first.
        #[default]
        Ripple,
        /// Working voltage, V. Counts in the life only where the policy says so; above the rated voltage there is no life.
        Voltage,
        /// Energised hours in a year.
        Hours,
    }
}

impl Axis {
    /// Name of its column in files; carries the unit.
    pub fn column(self) -> &'static str {
        match self {
            Self::Ambient => "ambient_c",
            Self::Ripple => "ripple_scale",
            Self::Voltage => "dc_v",
            Self::Hours => "hours_per_year",
        }
    }

    /// A range worth drawing at this place for these cans: lowest and highest value.
    pub fn usual_range(self, context: &PositionContext, cans: &[&Can]) -> (f64, f64) {
        let largest = |of: fn(&Can) -> Option<f64>| cans.iter().filter_map(|can| of(can)).reduce(f64::max);
        match self {
            Self::Ambient => (20.0, largest(|can| can.temp_max_c).unwrap_or(105.0).max(30.0)),
            Self::Ripple => (0.0, 2.0),
            Self::Voltage => {
                let rated_v = largest(|can| can.rated_v).or(context.position.stress.dc_v);
                (0.0, rated_v.filter(|&rated_v| rated_v > 0.0).unwrap_or(1.0))
            }
            // A year has 8766 h.
            Self::Hours => (500.0, 8766.0),
        }
    }
}

/// Life of one part at one value of an axis; `None` where a figure is missing or no law holds.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct CurvePoint {
    /// The value of the axis.
    pub x: f64,
    /// Life by the law, h, before the cap.
    pub life_uncapped_h: Option<f64>,
    /// Years until the life is used up, capped as in the life check.
    pub years: Option<f64>,
    /// The same by the published law that gives least.
    pub low_years: Option<f64>,
    /// The same by the published law that gives most.
    pub high_years: Option<f64>,
}

/// The curve of one part.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Curve {
    /// What the part is called.
    pub name: String,
    /// Its points in the order asked for.
    pub points: Vec<CurvePoint>,
    /// Its life with the load profile as entered; `x` is not meant.
    pub at_duty: CurvePoint,
    /// Its life if each phase of the duty lasted for ever, in their order; `x` is the phase's own value where the axis has one.
    pub in_phases: Vec<CurvePoint>,
    /// Figures the curve leans on that came from default tables.
    pub assumed: Assumed,
}

/// A place on the axis worth a line in the drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// The phase of the duty, or "as entered".
    pub name: String,
    /// Where it is.
    pub x: f64,
    /// Share of the energised time, 0 to 1; `None` where the mark is not a phase.
    pub share: Option<f64>,
}

/// Curves of several parts at one place, and what to mark on them.
#[derive(Debug, Clone, PartialEq)]
pub struct CurveSet {
    /// What the curves run over.
    pub axis: Axis,
    /// A curve for each part, in the order given.
    pub curves: Vec<Curve>,
    /// The phases of the duty, or the value as entered.
    pub marks: Vec<Mark>,
    /// Years to be reached; `None` when not known.
    pub target_years: Option<f64>,
    /// What has to be said about them, a sentence each.
    pub remarks: Vec<&'static str>,
}

/// The values from `low` to `high` in `count` equal steps, both ends included; empty where they make no range.
pub fn steps(low: f64, high: f64, count: u32) -> Vec<f64> {
    if !(low.is_finite() && high.is_finite() && low <= high && count > 0) {
        return Vec::new();
    }
    (0..=count).map(|at| low + (high - low) * f64::from(at) / f64::from(count)).collect()
}

/// Curves of named `cans` at `place` over `xs`. Values that are not numbers, or below 0 where the axis starts there, are left out.
pub fn curve_set(context: &PositionContext, axis: Axis, xs: &[f64], cans: &[(String, Can)]) -> CurveSet {
    let xs: Vec<f64> = xs.iter().copied().filter(|&x| x.is_finite() && (axis == Axis::Ambient || x >= 0.0)).collect();
    let curves = cans
        .iter()
        .map(|(name, can)| Curve {
            name: name.clone(),
            points: xs.iter().map(|&x| point(context, can, axis, x)).collect(),
            at_duty: as_entered(context, can).unwrap_or_default(),
            in_phases: in_phases(context, can, axis),
            assumed: context.under_duty(can).map(|(_, assumed)| assumed).unwrap_or_default(),
        })
        .collect();
    let mut remarks = Vec::new();
    if axis == Axis::Voltage && !context.policy.count_voltage_derating {
        remarks.push("The policy does not count working below the rated voltage as longer life, so the curve is flat.");
    }
    if context.duty().is_none() {
        remarks.push("The load profile is not known, so there are no years.");
    }
    if context.hours_per_year.is_none() {
        remarks.push("The energised hours in a year are not known, so there are hours but no years.");
    }
    CurveSet { axis, curves, marks: marks(context, axis), target_years: context.target_years(), remarks }
}

/// What to mark on an axis: the phases of the duty on ambient and ripple, the value as entered on the others.
pub fn marks(context: &PositionContext, axis: Axis) -> Vec<Mark> {
    let phases = context.duty().unwrap_or_default();
    let total: f64 = phases.iter().map(|phase| phase.share).sum();
    let of_phases = |x: fn(&DutyPhase) -> f64| {
        let mark = |(at, phase): (usize, &DutyPhase)| Mark {
            name: context.phase_name(at),
            x: x(phase),
            share: (total > 0.0).then(|| phase.share / total),
        };
        phases.iter().enumerate().map(mark).collect()
    };
    let entered = |x: Option<f64>| x.map(|x| Mark { name: "as entered".into(), x, share: None }).into_iter().collect();
    match axis {
        Axis::Ambient => of_phases(|phase| phase.ambient_c),
        Axis::Ripple => entered(context.lines().map(|_| 1.0)),
        Axis::Voltage => entered(context.position.stress.dc_v),
        Axis::Hours => entered(context.hours_per_year),
    }
}

fn point(context: &PositionContext, can: &Can, axis: Axis, x: f64) -> CurvePoint {
    let found = match axis {
        Axis::Ambient => at_ambient(context, can, x),
        Axis::Ripple => duty_life(context, can, Change { ripple: x, ..Change::NONE }).map(|life| years(context, life)),
        Axis::Voltage => at_voltage(context, can, x),
        Axis::Hours => as_entered(&PositionContext { hours_per_year: Some(x), ..context.clone() }, can),
    };
    CurvePoint { x, ..found.unwrap_or_default() }
}

fn at_ambient(context: &PositionContext, can: &Can, ambient_c: f64) -> Option<CurvePoint> {
    // Above the upper category temperature no maker's law holds.
    can.temp_max_c.filter(|&temp_max_c| ambient_c <= temp_max_c)?;
    let (under, _) = context.under_duty(can)?;
    let phases: Vec<DutyPhase> = context.duty()?.iter().map(|p| DutyPhase { ambient_c, ..*p }).collect();
    Some(years(context, under.life(&phases, Change::NONE)?))
}

fn at_voltage(context: &PositionContext, can: &Can, dc_v: f64) -> Option<CurvePoint> {
    let mut position = context.position.clone();
    position.stress.dc_v = Some(dc_v);
    let peak_v = dc_v + position.stress.ripple_peak_v.unwrap_or(0.0);
    can.rated_v.filter(|&rated_v| peak_v <= rated_v)?;
    let electrical = Electrical { stress: &position.stress, ..context.electrical.clone() };
    as_entered(&PositionContext { electrical, ..context.clone() }, can)
}

fn as_entered(context: &PositionContext, can: &Can) -> Option<CurvePoint> {
    Some(years(context, duty_life(context, can, Change::NONE)?))
}

fn duty_life(context: &PositionContext, can: &Can, change: Change) -> Option<Life> {
    context.under_duty(can)?.0.life(context.duty()?, change)
}

fn in_phases(context: &PositionContext, can: &Can, axis: Axis) -> Vec<CurvePoint> {
    let under: Option<UnderDuty> = context.under_duty(can).map(|(under, _)| under);
    let phases = context.duty().into_iter().flatten();
    phases
        .map(|phase| {
            let x = match axis {
                Axis::Ambient => phase.ambient_c,
                Axis::Ripple => phase.ripple_scale,
                Axis::Voltage => context.position.stress.dc_v.unwrap_or_default(),
                Axis::Hours => context.hours_per_year.unwrap_or_default(),
            };
            let point = under.as_ref().map(|under| years(context, under.phase(phase, Change::NONE)));
            CurvePoint { x, ..point.unwrap_or_default() }
        })
        .collect()
}

fn years(context: &PositionContext, life: Life) -> CurvePoint {
    CurvePoint {
        x: 0.0,
        life_uncapped_h: Some(life.nominal_h),
        years: context.years_of(life.nominal_h),
        low_years: context.years_of(life.low_h),
        high_years: context.years_of(life.high_h),
    }
}
