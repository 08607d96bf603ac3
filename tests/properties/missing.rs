//! Missing data never yields pass.

use proptest::prelude::*;
use refarad::domain::{Can, EnduranceBasis, Job, Mounting, Outcome, Role, Technology};
use serde_json::Value;

use super::scenes::{Dice, dice, runs};
use super::support::{self, evaluate, line, phase, position};

/// A part and a job of one position (and a neighbour), in one of the many ways that pass.
struct Scene {
    job: Job,
    can: Can,
}

fn scene(mut dice: Dice) -> Scene {
    let technology = dice.pick(&[Technology::Wet, Technology::Hybrid, Technology::Polymer, Technology::NonPolar]);
    let mounting = dice.pick(&[Mounting::Radial, Mounting::SnapIn, Mounting::Screw, Mounting::Axial, Mounting::Smd]);
    let mut can = Can {
        technology: Some(technology),
        mounting: Some(mounting),
        endurance_basis: Some(dice.pick(&[EnduranceBasis::Ripple, EnduranceBasis::Voltage])),
        surge_v: dice.pick(&[Some(28.75), None]),
        ..support::can()
    };
    if dice.chance(0.5) {
        (can.f120, can.f1k, can.f10k, can.f100k) = (None, None, None, None);
    }
    if dice.chance(0.3) {
        (can.esr_mohm, can.esr_hz) = (None, None);
    }
    if dice.chance(0.3) {
        can.tan_delta = None;
    }
    for figure in [&mut can.leakage_ua, &mut can.core_rise_k, &mut can.diameter_max_mm, &mut can.height_max_mm] {
        if dice.chance(0.3) {
            *figure = None;
        }
    }
    if dice.chance(0.3) {
        can.ripple_temp_factors = None;
    }
    let mut here = position();
    here.original.can = Can { technology: Some(Technology::Wet), ..can.clone() };
    here.role = Some(dice.pick(&[Role::OutputFilter, Role::Timing, Role::Startup]));
    here.stress.ripple = Some(vec![line(1e5, 0.1), line(120.0, 0.05)]);
    here.stress.phases = Some(vec![phase(0.7, 40.0, 1.0), phase(0.3, 55.0, 1.1)]);
    here.stress.ambient_min_c = dice.pick(&[Some(-10.0), Some(-40.0), None]);
    here.needs.esr_max_mohm = dice.pick(&[Some(2000.0), None]);
    here.needs.esr_cold_max_mohm = dice.pick(&[None, Some(5000.0)]);
    here.needs.leakage_max_ua = dice.pick(&[None, Some(5000.0)]);
    here.needs.life_h = dice.pick(&[Some(30_000.0), None]);
    here.needs.capacitance_min_uf = dice.pick(&[None, Some(400.0)]);
    here.space.hole_mm = dice.pick(&[Some(0.9), None]);
    if mounting == Mounting::Axial {
        here.space.pitch_mm = Some(20.0);
    } else if dice.chance(0.3) {
        here.space.pitch_mm = None;
    }
    if dice.chance(0.3) {
        (here.space.diameter_max_mm, here.space.height_max_mm) = (None, None);
    }
    (here.x_mm, here.y_mm) = (Some(10.0), Some(10.0));
    let mut neighbour = position();
    (neighbour.x_mm, neighbour.y_mm) = (Some(40.0), Some(10.0));
    let mut job = support::job(vec![here, neighbour]);
    job.policy.count_voltage_derating = dice.chance(0.5);
    Scene { job, can }
}

impl Scene {
    fn verdict(&self) -> Outcome {
        evaluate(&self.job, &self.can).verdict
    }

    /// Whether a part may still pass without this figure of its own, and by which rule of the methods.
    fn part_has_rule(&self, field: &str) -> bool {
        let can = &self.can;
        let here = &self.job.boards[0].positions[0];
        let ladder = matches!(can.technology, Some(Technology::Wet | Technology::NonPolar));
        let cold_limit = here.needs.esr_cold_max_mohm.is_some();
        match field {
            // Absent counts as wet, as tested without ripple; default tables for the others.
            "technology" | "endurance_basis" | "ripple_temp_factors" | "core_rise_k" | "surge_v" | "leakage_ua" => true,
            // A multiplier table of fewer points, else the default table.
            "f120" | "f1k" | "f10k" | "f100k" => true,
            // Nominal plus tolerance.
            "diameter_max_mm" | "height_max_mm" => true,
            // An own largest diameter is enough for a part that lies down, an own largest height for one that stands; not
            // so where the default multiplier table goes by the diameter.
            "diameter_mm" => can.mounting == Some(Mounting::Axial) && can.diameter_max_mm.is_some(),
            "height_mm" => can.mounting != Some(Mounting::Axial) && can.height_max_mm.is_some(),
            // ESR by the dissipation factor, the dissipation factor by the ladder, for technologies that have one.
            "esr_mohm" | "esr_hz" => can.tan_delta.is_some() || ladder,
            "tan_delta" => can.esr_mohm.is_some() || ladder,
            // Looked at only in the cold and only against a limit.
            "z_ratio" | "z_cold_c" => {
                let usual = matches!(can.technology, Some(Technology::Polymer | Technology::Hybrid));
                !cold_limit || usual || here.stress.ambient_min_c.is_none()
            }
            // Looked at only where the value matters.
            "tolerance_pct" => here.role != Some(Role::Timing),
            // Pads go by the diameter, the hole span of an axial part by its body.
            "pitch_mm" => matches!(can.mounting, Some(Mounting::Smd | Mounting::Axial)),
            "lead_d_mm" => here.space.hole_mm.is_none() || can.mounting == Some(Mounting::Smd),
            _ => false,
        }
    }

    /// The same for a figure of the job, by its path from the job.
    fn job_has_rule(&self, path: &str) -> bool {
        let here = &self.job.boards[0].positions[0];
        let original = &here.original.can;
        let Some(field) = path.strip_prefix("/boards/0/positions/0/") else {
            // The target needs both of these unless the position has its own. Everything else of the job has a default or
            // is not looked at by a check; a neighbour's body has a rule while its largest diameter is given.
            let target = matches!(path, "/hours_per_year" | "/interval_years");
            return !target || here.needs.life_h.is_some();
        };
        let capacitance_limit = here.needs.capacitance_min_uf.is_some();
        match field {
            // Taken from the original and from each other, and marked.
            "stress/dc_v" | "stress/ripple_peak_v" | "stress/transient_v" | "stress/min_v" => true,
            "stress/ambient_min_c" | "stress/airflow_lfm" => true,
            _ if field.starts_with("stress/phases/") => !field.ends_with("ambient_c"),
            _ if field.starts_with("stress/") => false,
            // Limits that are optional: without them there is another rule or no check.
            _ if field.starts_with("needs/") => true,
            // The original's pitch and body.
            "space/pitch_mm" => original.pitch_mm.is_some(),
            _ if field.starts_with("space/") => true,
            "role" | "original/capacitance_uf" => capacitance_limit,
            "original/mounting" => false,
            "original/tolerance_pct" => here.role != Some(Role::Timing),
            "original/diameter_mm" => {
                let room = here.space.height_max_mm.is_some()
                    || (self.can.mounting == Some(Mounting::Axial) && original.diameter_max_mm.is_some());
                let limit = here.needs.esr_max_mohm.is_some() || original.f120.is_some();
                room && (limit || self.can.esr_hz == Some(1e5)) && self.can.mounting != Some(Mounting::Smd)
            }
            "original/height_mm" => {
                self.can.mounting == Some(Mounting::Axial)
                    || here.space.height_max_mm.is_some()
                    || original.height_max_mm.is_some()
            }
            "original/pitch_mm" => here.space.pitch_mm.is_some() || matches!(self.can.mounting, Some(Mounting::Smd)),
            // What the limit of the ESR leans on; the rules are those of a part, wet.
            _ if field.starts_with("original/") => true,
            "ref" | "x_mm" | "y_mm" => true,
            _ => false,
        }
    }
}

/// Paths of every single figure in a tree of objects; an array of objects is walked, any other array is one figure.
fn leaves(value: &Value, path: &str, into: &mut Vec<String>) {
    match value {
        Value::Object(fields) => {
            fields.iter().for_each(|(name, field)| leaves(field, &format!("{path}/{name}"), into));
        }
        Value::Array(items) if items.iter().any(Value::is_object) => {
            items.iter().enumerate().for_each(|(at, item)| leaves(item, &format!("{path}/{at}"), into));
        }
        _ => into.push(path.to_owned()),
    }
}

/// The tree without the figure at a path.
fn without(tree: &Value, path: &str) -> Value {
    let mut tree = tree.clone();
    let (parent, name) = path.rsplit_once('/').unwrap();
    tree.pointer_mut(parent).and_then(Value::as_object_mut).unwrap().remove(name).unwrap();
    tree
}

fn figures(tree: &Value) -> Vec<String> {
    let mut paths = Vec::new();
    leaves(tree, "", &mut paths);
    paths
}

proptest! {
    #![proptest_config(runs(100))]

    #[test]
    fn a_part_that_lacks_a_figure_without_a_rule_does_not_pass(dice in dice()) {
        let mut scene = scene(dice);
        prop_assume!(scene.verdict() == Outcome::Pass);
        let tree = serde_json::to_value(&scene.can).unwrap();
        for path in figures(&tree) {
            let complete = std::mem::replace(&mut scene.can, serde_json::from_value(without(&tree, &path)).unwrap());
            let verdict = scene.verdict();
            scene.can = complete;
            prop_assert!(verdict != Outcome::Pass || scene.part_has_rule(&path[1..]), "passes without {path}");
        }
    }

    #[test]
    fn a_job_that_lacks_a_figure_without_a_rule_lets_nothing_pass(dice in dice()) {
        let mut scene = scene(dice);
        prop_assume!(scene.verdict() == Outcome::Pass);
        let tree = serde_json::to_value(&scene.job).unwrap();
        for path in figures(&tree) {
            let complete = std::mem::replace(&mut scene.job, serde_json::from_value(without(&tree, &path)).unwrap());
            let verdict = scene.verdict();
            scene.job = complete;
            prop_assert!(verdict != Outcome::Pass || scene.job_has_rule(&path), "passes without {path}");
        }
    }
}

/// What lists of phases and lines mean when they are empty or absent.
#[test]
fn an_absent_spectrum_or_duty_does_not_pass_and_an_empty_duty_neither() {
    let verdict = |change: fn(&mut refarad::domain::Stress)| {
        let mut position = position();
        change(&mut position.stress);
        evaluate(&support::job(vec![position]), &support::can()).verdict
    };
    assert_eq!(verdict(|_| ()), Outcome::Pass);
    assert_eq!(verdict(|stress| stress.ripple = Some(Vec::new())), Outcome::Pass);
    assert_eq!(verdict(|stress| stress.phases = None), Outcome::Unknown);
    assert_eq!(verdict(|stress| stress.phases = Some(Vec::new())), Outcome::Unknown);
    let mut unrated = position();
    (unrated.stress.ripple, unrated.original.can.ripple_a) = (None, None);
    assert_eq!(evaluate(&support::job(vec![unrated]), &support::can()).verdict, Outcome::Unknown);
}

/// Nothing known is nothing passed.
#[test]
fn a_part_of_which_nothing_is_known_is_unknown() {
    let verdict = evaluate(&support::job(vec![position()]), &Can::default()).verdict;
    assert_eq!(verdict, Outcome::Unknown);
    let verdict = evaluate(&support::job(vec![refarad::domain::Position::default()]), &support::can()).verdict;
    assert_eq!(verdict, Outcome::Unknown);
}
