//! Of `sizing/parallel.rs`: cans in parallel: which share of the ripple each carries, and whether it stands
//! that.

use refarad::domain::{Can, Catalog, Job, PositionId};
use refarad::sizing::fitted::Fitted;
use refarad::sizing::parallel::groups;
use refarad::sizing::{PositionContext, Supply};

use super::testing_duty::{duty, job_of, position, wet_can};

fn job() -> Job {
    let mut positions = ["C1", "C2", "C3"].map(|name| position(name, duty(&[(1.0, 60.0, 1.0)])));
    for position in &mut positions[..2] {
        position.parallel_group = Some("out".into());
    }
    job_of(positions.to_vec())
}

fn fit(can: Can) -> Fitted {
    Fitted { name: "X".into(), can, part: None }
}

#[test]
fn equal_cans_carry_what_was_entered_and_a_lone_name_makes_no_group() {
    let mut job = job();
    job.boards[0].positions[2].parallel_group = Some("alone".into());
    let found = groups(&job, &Catalog::default(), |_| Some(fit(wet_can())));
    assert_eq!((found.len(), found[0].members.len(), found[0].capacitance_uf), (1, 2, Some(200.0)));
    for member in &found[0].members {
        assert!((member.carried_a.unwrap() - 0.5).abs() < 1e-12 && member.entered_a == Some(0.5));
        let alone =
            PositionContext::new(&job, &Catalog::default(), member.id).unwrap().evaluate(&wet_can(), Supply::default());
        let difference = member.evaluation.figures.life_h.unwrap() - alone.figures.life_h.unwrap();
        assert!(difference.abs() < 1e-6);
    }
}

#[test]
fn the_can_with_the_lower_esr_carries_more_and_its_checks_see_it() {
    let good = Can { esr_mohm: Some(25.0), capacitance_uf: Some(1000.0), ..wet_can() };
    let other = Can { esr_mohm: Some(80.0), capacitance_uf: Some(470.0), ..wet_can() };
    let mut job = job();
    for position in &mut job.boards[0].positions {
        position.stress.ripple = serde_json::from_str(r#"[{"hz":100000,"a":1.5}]"#).unwrap();
    }
    let pick = |id: PositionId| Some(fit(if id.index == 0 { good.clone() } else { other.clone() }));
    let found = groups(&job, &Catalog::default(), pick);
    // ngspice-39: 1000 uF/25 mohm beside 470 uF/80 mohm, 3 A rms at 100 kHz: 2.285194 A and 0.714929 A
    let carried: Vec<f64> = found[0].members.iter().map(|m| m.carried_a.unwrap()).collect();
    assert!((carried[0] - 2.285194).abs() < 1e-5 && (carried[1] - 0.714929).abs() < 1e-5, "{carried:?}");
    let usage: Vec<f64> = found[0].members.iter().map(|m| m.evaluation.figures.ripple_eq_a.unwrap()).collect();
    assert!((usage[0] - carried[0]).abs() < 1e-12 && (usage[1] - carried[1]).abs() < 1e-12);
    assert_eq!(found[0].members.iter().map(|m| m.entered_a.unwrap()).sum::<f64>(), 3.0);
    assert!(found[0].assumed.is_empty() && found[0].unknown.is_none());
}

#[test]
fn what_is_missing_for_the_split_is_named_and_the_checks_stay_as_entered() {
    let bare = Can { esr_mohm: None, technology: Some(refarad::domain::Technology::Polymer), ..wet_can() };
    let found = groups(&job(), &Catalog::default(), |_| Some(fit(bare.clone())));
    assert!(found[0].unknown.as_ref().unwrap().contains("ESR of X at C1"));
    assert!(found[0].members[0].carried_a.is_none());
    let mut job = job();
    job.boards[0].positions[1].stress.ripple = None;
    job.boards[0].positions[1].original.can.ripple_a = None;
    let found = groups(&job, &Catalog::default(), |_| Some(fit(wet_can())));
    assert_eq!(found[0].unknown.as_deref(), Some("the ripple of C2 is not known"));
}
