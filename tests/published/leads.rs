//! Lead pitch, lead diameter and holes.

use refarad::domain::{Can, Check, Mounting, Outcome};
use refarad::sizing::FitFault;

use super::support::{can, evaluate, job, position};

/// What is published of a radial can: source, diameter, pitch, lead diameter, least hole by IPC-2222 levels A, B and C, mm.
type RadialRow = (&'static str, f64, f64, f64, [f64; 3]);

/// Panasonic SU data sheet; KEMET ESY A4007 (4/23/2019) p.19. Holes: largest lead + 0.25, 0.20, 0.15 mm, IPC-2222 levels A,
/// B, C as quoted.
const RADIAL: [RadialRow; 10] = [
    ("Panasonic SU", 5.0, 2.0, 0.5, [0.80, 0.75, 0.70]),
    ("Panasonic SU", 6.3, 2.5, 0.5, [0.80, 0.75, 0.70]),
    ("Panasonic SU", 8.0, 3.5, 0.6, [0.90, 0.85, 0.80]),
    ("Panasonic SU", 10.0, 5.0, 0.6, [0.90, 0.85, 0.80]),
    ("Panasonic SU", 12.5, 5.0, 0.6, [0.90, 0.85, 0.80]),
    ("Panasonic SU", 16.0, 7.5, 0.8, [1.10, 1.05, 1.00]),
    ("Panasonic SU", 18.0, 7.5, 0.8, [1.10, 1.05, 1.00]),
    ("KEMET ESY, 5 to 7 mm long", 4.0, 1.5, 0.45, [0.75, 0.70, 0.65]),
    ("KEMET ESY, up to 7 mm long", 5.0, 2.0, 0.45, [0.75, 0.70, 0.65]),
    ("KEMET ESY, above 7 mm long", 5.0, 2.0, 0.5, [0.80, 0.75, 0.70]),
];

/// How a part fits holes of this pitch and diameter with room to spare around the body.
fn fit(part: &Can, hole_pitch_mm: f64, hole_mm: f64) -> (Outcome, FitFault) {
    let mut position = position();
    position.original.can.mounting = part.mounting;
    let space = &mut position.space;
    (space.diameter_max_mm, space.height_max_mm) = (Some(50.0), Some(100.0));
    (space.pitch_mm, space.hole_mm) = (Some(hole_pitch_mm), Some(hole_mm));
    let evaluation = evaluate(&job(vec![position]), part);
    (evaluation.outcome(Check::Fit), evaluation.fit_fault)
}

fn radial(diameter_mm: f64, pitch_mm: f64, lead_d_mm: f64) -> Can {
    Can {
        diameter_mm: Some(diameter_mm),
        diameter_max_mm: None,
        pitch_mm: Some(pitch_mm),
        lead_d_mm: Some(lead_d_mm),
        ..can()
    }
}

const FITS: (Outcome, FitFault) = (Outcome::Pass, FitFault::None);
const TIGHT_HOLE: (Outcome, FitFault) = (Outcome::Marginal, FitFault::Lead);

/// IPC-2222 as quoted: level B and wider passes, level C is marginal, a hole below the largest lead fails.
#[test]
fn leads_of_panasonic_su_and_kemet_esy_fit_the_holes_of_ipc_2222() {
    for (source, diameter_mm, pitch_mm, lead_d_mm, [level_a, level_b, level_c]) in RADIAL {
        let at = |hole_mm| fit(&radial(diameter_mm, pitch_mm, lead_d_mm), pitch_mm, hole_mm);
        assert_eq!([at(level_a), at(level_b)], [FITS; 2], "{source}");
        assert_eq!([at(level_b - 0.01), at(level_c)], [TIGHT_HOLE; 2], "{source}");
        // Level C is the largest lead + 0.15 mm.
        assert_eq!(at(level_c - 0.15), TIGHT_HOLE, "{source}");
        assert_eq!(at(level_c - 0.16), (Outcome::Fail, FitFault::Lead), "{source}");
    }
}

/// Panasonic SU data sheet: pitch ±0.5 mm; KEMET ESY A4007: +0.8/-0.2 mm. Holes within the narrower of the two need no
/// forming; beyond 0.5 mm the leads have to be formed.
#[test]
fn pitch_tolerances_of_panasonic_su_pass_and_those_of_kemet_esy_ask_for_forming() {
    for (source, diameter_mm, pitch_mm, lead_d_mm, [_, hole_mm, _]) in RADIAL {
        let at = |error_mm: f64| fit(&radial(diameter_mm, pitch_mm + error_mm, lead_d_mm), pitch_mm, hole_mm);
        assert_eq!([at(0.5), at(-0.5), at(-0.2)], [FITS; 3], "{source}");
        assert_eq!(at(0.8), (Outcome::Marginal, FitFault::Pitch), "{source}");
    }
}

/// Vishay Sprague 515D data sheet: case code, diameter, length, pitch, lead diameter, mm.
const SPRAGUE_515D: [(&str, f64, f64, f64, f64); 12] = [
    ("AA", 6.3, 11.0, 2.5, 0.5),
    ("BB", 8.0, 11.5, 3.5, 0.6),
    ("CC", 10.0, 12.5, 5.0, 0.6),
    ("CD", 10.0, 16.0, 5.0, 0.6),
    ("CG", 10.0, 20.0, 5.0, 0.6),
    ("DG", 12.5, 20.0, 5.0, 0.6),
    ("DK", 12.5, 25.0, 5.0, 0.6),
    ("EK", 16.0, 25.0, 7.5, 0.8),
    ("EN", 16.0, 31.5, 7.5, 0.8),
    ("ER", 16.0, 35.5, 7.5, 0.8),
    ("FR", 18.0, 35.5, 7.5, 0.8),
    ("FV", 18.0, 40.0, 7.5, 0.8),
];

/// Radial cans of one diameter exchange across makers: every case of one sheet drops into holes drilled for the other.
#[test]
fn every_515d_case_fits_the_holes_of_a_panasonic_su_part_of_its_diameter() {
    for (case, diameter_mm, height_mm, pitch_mm, lead_d_mm) in SPRAGUE_515D {
        let hole = RADIAL.iter().find(|row| row.0 == "Panasonic SU" && row.1 == diameter_mm).unwrap();
        let part = Can { height_mm: Some(height_mm), height_max_mm: None, ..radial(diameter_mm, pitch_mm, lead_d_mm) };
        assert_eq!(fit(&part, hole.2, hole.4[1]), FITS, "{case}");
    }
}

fn snap_in(pitch_mm: f64, terminal_mm: f64) -> Can {
    Can {
        mounting: Some(Mounting::SnapIn),
        diameter_max_mm: None,
        diameter_mm: Some(25.0),
        ..radial(25.0, pitch_mm, terminal_mm)
    }
}

/// Vishay BCcomponents 056/057, document 28340 p.3, and Nichicon terminal drawing: pitch 10.0 ±0.1 mm, hole 2.0 ±0.1 mm,
/// terminal 0.8 x 1.5 mm (+0.2/-0.1). The worst pair of pitches still passes.
#[test]
fn snap_in_terminals_of_vishay_and_nichicon_fit_their_holes() {
    assert_eq!(fit(&snap_in(10.0, 1.5), 10.0, 2.0), FITS);
    assert_eq!(fit(&snap_in(9.9, 1.5), 10.1, 1.9), FITS);
    assert_eq!(fit(&snap_in(10.1, 1.7), 9.9, 2.0), FITS, "widest terminal in the nominal hole");
    assert_eq!(fit(&snap_in(10.0, 1.7), 10.0, 1.9), TIGHT_HOLE, "widest terminal in the smallest hole");
    assert_eq!(fit(&snap_in(10.0, 1.5), 7.5, 2.0), (Outcome::Fail, FitFault::Pitch), "a radial hole pair");
}
