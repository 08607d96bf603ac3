//! How a part would last if the ambient were another: the curves an engineer compares.

use super::checks::Supply;
use super::place::Place;
use crate::domain::Can;

/// Life of one part at one ambient; `None` where a figure is missing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LifePoint {
    /// Ambient beside the can in every phase of the duty, °C.
    pub ambient_c: f64,
    /// Years until the life is used up, capped by the policy.
    pub years: Option<f64>,
    /// The same by the published law that gives least.
    pub low_years: Option<f64>,
    /// The same by the published law that gives most.
    pub high_years: Option<f64>,
}

/// Years of `can` at `place` against the ambient: the place is checked again at each of `ambients_c`, with every phase of
/// the duty at that ambient and everything else as it is. Years are capped as in the life check. A point whose life is
/// not known (no duty, no hours per year, no endurance) has no years; ambients that are not numbers are left out.
#[must_use]
pub fn life_against_ambient(place: &Place, can: &Can, ambients_c: impl IntoIterator<Item = f64>) -> Vec<LifePoint> {
    let mut place = place.clone();
    let point = |ambient_c: f64| {
        for phase in place.phases.iter_mut().flatten() {
            phase.ambient_c = ambient_c;
        }
        let figures = place.evaluate(can, Supply::default()).figures;
        let years = |life_h: Option<f64>| Some((life_h? / place.hours_per_year?).min(place.policy.calendar_cap_years));
        LifePoint {
            ambient_c,
            years: figures.calendar_years,
            low_years: years(figures.life_low_h),
            high_years: years(figures.life_high_h),
        }
    };
    ambients_c.into_iter().filter(|ambient_c| ambient_c.is_finite()).map(point).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{
        Board, Catalog, EnduranceBasis, Job, Original, Phase, Position, PositionId, RippleLine, Stress,
    };

    fn can() -> Can {
        Can {
            capacitance_uf: Some(100.0),
            rated_v: Some(63.0),
            temp_max_c: Some(105.0),
            endurance_h: Some(5000.0),
            endurance_basis: Some(EnduranceBasis::Ripple),
            ripple_a: Some(1.0),
            ripple_hz: Some(1e5),
            diameter_mm: Some(10.0),
            ..Can::default()
        }
    }

    fn job(phases: Option<Vec<Phase>>) -> Job {
        let stress = Stress {
            ripple: Some(vec![RippleLine { hz: Some(1e5), a: Some(0.5), ..RippleLine::default() }]),
            phases,
            ..Stress::default()
        };
        let position =
            Position { original: Original { can: can(), ..Original::default() }, stress, ..Position::default() };
        Job {
            hours_per_year: Some(3000.0),
            interval_years: Some(10.0),
            boards: vec![Board { positions: vec![position], ..Board::default() }],
            ..Job::default()
        }
    }

    fn phase(ambient_c: f64) -> Phase {
        Phase { share: Some(1.0), ambient_c: Some(ambient_c), ..Phase::default() }
    }

    #[test]
    fn at_the_ambient_of_the_duty_the_curve_meets_the_life_check() {
        let job = job(Some(vec![phase(80.0)]));
        let place = Place::new(&job, &Catalog::default(), PositionId::default()).unwrap();
        let figures = place.evaluate(&can(), Supply::default()).figures;
        let points = life_against_ambient(&place, &can(), [80.0]);
        assert_eq!(points[0].years, figures.calendar_years);
        assert!(points[0].years.unwrap() > 1.0);
    }

    #[test]
    fn years_fall_with_the_ambient_inside_their_band_and_under_the_cap() {
        let job = job(Some(vec![phase(80.0)]));
        let place = Place::new(&job, &Catalog::default(), PositionId::default()).unwrap();
        let points = life_against_ambient(&place, &can(), (20..=105).map(f64::from));
        assert!(points.windows(2).all(|w| w[0].years >= w[1].years));
        assert!(points.iter().all(|p| p.low_years <= p.years && p.years <= p.high_years && p.high_years <= Some(15.0)));
        assert_eq!(points[0].years, Some(15.0));
    }

    #[test]
    fn without_a_duty_there_are_no_years() {
        let job = job(None);
        let place = Place::new(&job, &Catalog::default(), PositionId::default()).unwrap();
        let points = life_against_ambient(&place, &can(), [40.0, f64::NAN]);
        assert_eq!(points.len(), 1);
        assert_eq!(points[0].years, None);
    }
}
