//! Pads of surface-mounted cans: the program goes by the can's diameter, the sources print pads.

use refarad::domain::{Can, Check, Mounting, Outcome};

use super::assert_printed;
use super::support::{can, evaluate, job, position};

/// A land pattern: source, can diameter, pad length, gap between the pads, and the same case in KiCad's open footprint
/// library (pad length and gap), mm.
struct Land {
    source: &'static str,
    diameter_mm: f64,
    pad_mm: f64,
    gap_mm: f64,
    kicad: (f64, f64),
}

const fn land(source: &'static str, diameter_mm: f64, pad_mm: f64, gap_mm: f64, kicad: (f64, f64)) -> Land {
    Land { source, diameter_mm, pad_mm, gap_mm, kicad }
}

/// Vishay 153 CRV (2008) tables 2 and 3; Panasonic hybrid SMD land table; KiCad CP_Elec footprints.
const LANDS: [Land; 13] = [
    land("Vishay 0405", 4.0, 2.6, 1.0, (2.6, 1.0)),
    land("Vishay 0505", 5.0, 3.0, 1.4, (3.0, 1.4)),
    land("Vishay 0605", 6.3, 3.5, 1.9, (3.5, 2.1)),
    land("Vishay 0807", 8.0, 4.0, 2.1, (4.0, 2.1)),
    land("Vishay 0810", 8.0, 3.5, 3.0, (3.5, 3.0)),
    land("Vishay 1010", 10.0, 4.0, 4.0, (4.0, 4.0)),
    land("Vishay 1012", 10.0, 4.3, 4.0, (4.4, 4.0)),
    land("Vishay 1014", 10.0, 4.3, 4.0, (4.4, 4.0)),
    land("Panasonic C", 5.0, 2.8, 1.5, (3.0, 1.4)),
    land("Panasonic D", 6.3, 3.2, 1.8, (3.5, 1.9)),
    land("Panasonic D8", 6.3, 3.2, 1.8, (3.5, 1.9)),
    land("Panasonic F", 8.0, 4.0, 3.1, (3.5, 3.0)),
    land("Panasonic G", 10.0, 4.1, 4.6, (4.0, 4.0)),
];

/// Length over both pads, mm.
fn span_mm(pad_mm: f64, gap_mm: f64) -> f64 {
    2.0 * pad_mm + gap_mm
}

/// How a can of one diameter fits the pads of another.
fn fit(pads_for_mm: f64, diameter_mm: f64) -> Outcome {
    let smd = |diameter_mm| Can {
        mounting: Some(Mounting::Smd),
        diameter_mm: Some(diameter_mm),
        diameter_max_mm: None,
        ..can()
    };
    let mut position = position();
    position.original.can = smd(pads_for_mm);
    (position.space.diameter_max_mm, position.space.height_max_mm) = (Some(20.0), Some(50.0));
    evaluate(&job(vec![position]), &smd(diameter_mm)).outcome(Check::Fit)
}

/// Differences in length over both pads, mm, of one maker's cans on all of KiCad's pads, by the outcome of the fit.
fn differences_mm(maker: &str, outcome: Outcome) -> (f64, f64) {
    let mut range = (f64::INFINITY, 0.0f64);
    for part in LANDS.iter().filter(|part| part.source.starts_with(maker)) {
        for board in LANDS.iter().filter(|board| fit(board.diameter_mm, part.diameter_mm) == outcome) {
            let difference_mm = (span_mm(part.pad_mm, part.gap_mm) - span_mm(board.kicad.0, board.kicad.1)).abs();
            range = (range.0.min(difference_mm), range.1.max(difference_mm));
        }
    }
    println!("{maker} cans on KiCad pads, {}: {:.1} to {:.1} mm", outcome.word(), range.0, range.1);
    range
}

/// For the Vishay cans the diameter separates the pads cleanly: up to 0.8 mm apart passes, 0.9 to 1.7 mm is marginal, 1.9 mm
/// and more fails.
#[test]
fn vishay_cans_pass_are_marginal_and_fail_by_how_far_the_pads_are_apart() {
    let [pass, marginal, fail] = [Outcome::Pass, Outcome::Marginal, Outcome::Fail].map(|o| differences_mm("Vishay", o));
    assert_printed(pass.1, 0.8, 1);
    assert_printed(marginal.0, 0.9, 1);
    assert_printed(marginal.1, 1.7, 1);
    assert_printed(fail.0, 1.9, 1);
}

/// Panasonic's land table differs from KiCad's pads for the same can by up to 1.1 mm, so there the diameter alone does not
/// separate them: a can that fails may come as near as 0.9 mm.
#[test]
fn panasonic_cans_pass_on_pads_up_to_eleven_tenths_of_a_millimetre_apart() {
    assert_printed(differences_mm("Panasonic", Outcome::Pass).1, 1.1, 1);
    assert_printed(differences_mm("Panasonic", Outcome::Fail).0, 0.9, 1);
}

/// Within one maker's table the next size up or down is marginal up to 1.7 mm and a bigger step fails.
#[test]
fn one_size_apart_is_marginal_up_to_eight_millimetres_and_fails_from_eight_to_ten() {
    assert_eq!([fit(5.0, 4.0), fit(5.0, 6.3), fit(6.3, 8.0), fit(8.0, 6.3)], [Outcome::Marginal; 4]);
    assert_eq!([fit(8.0, 10.0), fit(10.0, 8.0), fit(5.0, 8.0)], [Outcome::Fail; 3]);
}
