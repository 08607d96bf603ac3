//! Of `sizing/spread.rs`: how far the years may spread: of one part at a position, of a whole board.

use refarad::domain::{Assumed, Can, Catalog, Job, PositionId};
use refarad::physics::spread::{Input, Uncertainty};
use refarad::sizing::PositionContext;
use refarad::sizing::spread::{Settings, of_board, of_part};

use super::testing_duty::{duty, job_of, job_with, position, wet_can};

fn place(job: &Job, index: usize) -> PositionContext<'_> {
    PositionContext::new(job, &Catalog::default(), PositionId { board: 0, index }).unwrap()
}

#[test]
fn nobody_said_anything_means_no_spread_and_what_is_left_open_is_named() {
    let mut job = job_with(duty(&[(1.0, 70.0, 1.0)]));
    assert_eq!(Settings::of(&job), None);
    job.uncertainty =
        Some(refarad::domain::Uncertainty { ambient_sigma_k: Some(1.0), seed: Some(9), ..Default::default() });
    let settings = Settings::of(&job).unwrap();
    assert_eq!((settings.uncertainty.ambient_k, settings.seed), (1.0, 9));
    assert_eq!(settings.assumed, ["ripple_sigma_rel", "endurance_sigma_rel", "samples"]);
    assert_eq!(Settings::usual().assumed.len(), 5);
}

#[test]
fn with_only_the_ambient_uncertain_and_no_ripple_it_is_the_closed_form() {
    let mut job = job_with(duty(&[(1.0, 75.0, 1.0)]));
    job.boards[0].positions[0].stress.ripple = Some(Vec::new());
    let uncertainty = Uncertainty { ambient_k: 3.0, ripple: 0.0, endurance: 0.0 };
    let settings = Settings { uncertainty, samples: 50_000, ..Settings::usual() };
    let found = of_part(&place(&job, 0), &wet_can(), &settings).unwrap();
    // 5000 h, 105 to 75 °C: times 8; 5 K of rated rise without ripple: times 2^0.5
    let median = 5000.0 * 8.0 * 2f64.sqrt() / 3000.0;
    // ln L is normal with sigma 3 ln2/10; its 90 % point lies 1.2816 sigmas above (scipy.stats.norm.ppf)
    let factor = (1.281_551_565_544_600_4 * 3.0 * std::f64::consts::LN_2 / 10.0).exp();
    for (found, closed) in [
        (found.uncapped_years.p10, median / factor),
        (found.uncapped_years.p50, median),
        (found.uncapped_years.p90, median * factor),
    ] {
        assert!((found / closed - 1.0).abs() < 0.01, "{found} {closed}");
    }
    assert_eq!(found.importance.unwrap()[0].input, Input::Ambient);
    assert_eq!(found.years.p90, 15.0);
    assert!(found.limited_by.is_empty() && found.assumed.contains(Assumed::CORE_RISE));
}

#[test]
fn a_board_lasts_as_long_as_its_shortest_position_and_says_which() {
    let job = job_of(vec![
        position("C1", duty(&[(1.0, 60.0, 1.0)])),
        position("C2", duty(&[(1.0, 95.0, 1.0)])),
        position("C3", duty(&[(1.0, 60.0, 1.0)])),
    ]);
    let positions: Vec<(PositionId, PositionContext, Can)> =
        (0..3).map(|index| (PositionId { board: 0, index }, place(&job, index), wet_can())).collect();
    let settings = Settings::usual();
    let board = of_board(&positions, &settings).unwrap();
    assert_eq!(board.limited_by[0].0.index, 1);
    assert!(board.limited_by[0].1 > 0.99 && board.reaches_target.unwrap() < 0.05);
    let again = of_board(&positions, &settings).unwrap();
    assert_eq!(board, again, "the same seed gives the same figures");
    let alone = of_part(&place(&job, 1), &wet_can(), &settings).unwrap();
    assert!((board.years.p50 / alone.years.p50 - 1.0).abs() < 0.05);
}

#[test]
fn a_board_with_an_unknown_position_names_it() {
    let mut job = job_of(vec![position("C1", duty(&[(1.0, 60.0, 1.0)])), position("C2", Vec::new())]);
    job.boards[0].positions[1].stress.ripple = None;
    let positions: Vec<(PositionId, PositionContext, Can)> =
        (0..2).map(|index| (PositionId { board: 0, index }, place(&job, index), wet_can())).collect();
    assert_eq!(of_board(&positions, &Settings::usual()), Err(vec![PositionId { board: 0, index: 1 }]));
    assert_eq!(of_board(&[], &Settings::usual()), Err(vec![]));
}

#[test]
fn a_histogram_holds_every_sample_once() {
    let job = job_with(duty(&[(1.0, 75.0, 1.0)]));
    let found = of_part(&place(&job, 0), &wet_can(), &Settings::usual()).unwrap();
    for most in [1.0, 10.0, 1000.0] {
        let bars = found.histogram(20, most);
        assert_eq!(bars.iter().map(|bar| bar.count).sum::<usize>(), 2000);
    }
    assert!(found.histogram(10, f64::NAN).is_empty() && found.histogram(0, 1.0).is_empty());
}
