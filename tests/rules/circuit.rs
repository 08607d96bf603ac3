//! Of `sizing/circuit.rs`: ripple from the circuit, when nobody measured it: what is on the bench in, a
//! spectrum with its formula, source and cautions out.

use refarad::physics::spectrum::rms_a;
use refarad::sizing::circuit::{Absent, CircuitEntry, CircuitFault, CircuitKind};

fn entry(kind: CircuitKind, figures: &[(&str, f64)]) -> CircuitEntry {
    let mut entry = CircuitEntry::new(kind);
    for &(key, value) in figures {
        entry.set(key, Some(value));
    }
    assert_eq!(entry.figures.len(), figures.len(), "a key of {kind:?} is not known");
    entry
}

/// A typical entry of every kind.
fn typical(kind: CircuitKind) -> CircuitEntry {
    let figures: &[(&str, f64)] = match kind {
        CircuitKind::MainsRectifier => {
            &[("source_v", 24.0), ("line_hz", 50.0), ("source_ohm", 0.2), ("capacitance_uf", 4700.0), ("load_a", 2.0)]
        }
        CircuitKind::BuckInput => {
            &[("input_v", 24.0), ("output_v", 12.0), ("output_a", 5.0), ("switching_hz", 1e5), ("inductance_uh", 47.0)]
        }
        CircuitKind::BuckOutput => {
            &[("input_v", 24.0), ("output_v", 12.0), ("switching_hz", 1e5), ("inductance_uh", 47.0)]
        }
        CircuitKind::BoostOutput => &[("input_v", 12.0), ("output_v", 24.0), ("output_a", 2.0), ("switching_hz", 1e5)],
        CircuitKind::FlybackInput => &[("input_v", 160.0), ("input_w", 40.0), ("switching_hz", 65e3), ("duty", 0.3)],
        CircuitKind::FlybackOutput => &[("output_a", 3.0), ("switching_hz", 65e3), ("duty", 0.4)],
        CircuitKind::RectifiedSine => &[("output_a", 10.0), ("resonant_hz", 1e5)],
        CircuitKind::PfcStorage => {
            &[("line_v", 85.0), ("line_hz", 47.0), ("output_v", 390.0), ("output_w", 360.0), ("switching_hz", 118e3)]
        }
        CircuitKind::InverterLink => {
            &[("phase_a", 10.0), ("modulation", 0.8), ("power_factor", 0.85), ("switching_hz", 8e3)]
        }
    };
    entry(kind, figures)
}

#[test]
fn every_kind_gives_lines_that_carry_its_rms_and_has_its_formula_source_and_cautions() {
    for kind in CircuitKind::ALL {
        let found = typical(kind).ripple().unwrap();
        assert!((rms_a(&found.ripple.lines) / found.ripple.rms_a - 1.0).abs() < 1e-9, "{kind:?}");
        assert!(found.ripple_lines().iter().all(|line| line.hz > Some(0.0) && line.a >= Some(0.0)));
        assert!(!kind.data().formula.is_empty() && !kind.data().source.is_empty() && kind.cautions().count() >= 3);
        let keys: std::collections::HashSet<&str> = kind.data().fields.iter().map(|field| field.key).collect();
        assert_eq!(keys.len(), kind.data().fields.len());
        assert!(kind.data().fields.iter().all(|field| field.min <= field.max && !field.hint.is_empty()));
    }
}

#[test]
fn a_required_field_left_empty_is_named_and_nothing_is_guessed() {
    for kind in CircuitKind::ALL {
        for field in kind.data().fields.iter().filter(|field| field.absent == Absent::Required) {
            let mut entry = typical(kind);
            entry.set(field.key, None);
            assert_eq!(entry.ripple(), Err(CircuitFault::Missing(vec![field.label])), "{kind:?}");
        }
    }
}

#[test]
fn what_was_assumed_or_derived_is_named() {
    assert_eq!(
        typical(CircuitKind::MainsRectifier).ripple().unwrap().assumed,
        ["forward voltage of a diode", "diodes that conduct in series", "ESR"]
    );
    let buck = typical(CircuitKind::BuckInput);
    assert_eq!(buck.ripple().unwrap().assumed, ["duty of the switch"]);
    let mut given = buck.clone();
    given.set("duty", Some(0.5));
    assert!(given.ripple().unwrap().assumed.is_empty());
    assert_eq!(given.ripple().unwrap().ripple, buck.ripple().unwrap().ripple);
}

#[test]
fn exactly_one_load_is_asked_for() {
    let mut entry = typical(CircuitKind::MainsRectifier);
    entry.set("load_w", Some(60.0));
    assert!(matches!(entry.ripple(), Err(CircuitFault::NotOne(labels)) if labels.len() == 3));
    entry.set("load_a", None);
    assert!(entry.ripple().is_ok());
    entry.set("load_w", None);
    assert!(matches!(entry.ripple(), Err(CircuitFault::NotOne(_))));
}

#[test]
fn impossible_figures_are_refused_with_a_sentence() {
    let mut boost = typical(CircuitKind::BoostOutput);
    boost.set("output_v", Some(10.0));
    assert!(matches!(boost.ripple(), Err(CircuitFault::Impossible(_))));
    boost.set("switching_hz", Some(f64::NAN));
    assert!(boost.ripple().unwrap_err().to_string().contains("switching frequency NaN Hz: expected 100"));
    let mut starved = typical(CircuitKind::MainsRectifier);
    starved.set("capacitance_uf", Some(10.0));
    assert!(starved.ripple().unwrap_err().to_string().contains("to zero"));
    let mut pfc = typical(CircuitKind::PfcStorage);
    pfc.set("line_v", Some(300.0));
    assert!(matches!(pfc.ripple(), Err(CircuitFault::Impossible(_))));
}

#[test]
fn a_key_of_another_circuit_is_ignored() {
    let mut entry = CircuitEntry::new(CircuitKind::BuckOutput);
    entry.set("phase_a", Some(1.0));
    assert!(entry.figures.is_empty());
}
