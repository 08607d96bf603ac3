//! `refarad ripple` and `refarad duty`: what they write stands in a job file as the window would have put it there.

use std::fmt::Write;
use std::path::Path;

use refarad::domain::{Job, Position};
use refarad::files::load::load;
use serde_json::Value;

use crate::{demo, refarad, text};

/// The JSON a call prints.
fn printed(args: &[&str]) -> Value {
    let done = refarad(args);
    assert!(done.status.success(), "{args:?}: {}", String::from_utf8_lossy(&done.stderr));
    serde_json::from_slice(&done.stdout).unwrap()
}

/// Puts `fields` into the object of C5 called `into`, and reads the job.
fn put(job_path: &Path, into: &str, fields: &Value) -> Job {
    let mut content: Value = serde_json::from_slice(&std::fs::read(job_path).unwrap()).unwrap();
    let boards = content["boards"].as_array_mut().unwrap();
    let mut positions = boards.iter_mut().flat_map(|board| board["positions"].as_array_mut().unwrap());
    let position = positions.find(|position| position["ref"] == "C5").unwrap();
    for (name, value) in fields.as_object().unwrap() {
        position[into][name] = value.clone();
    }
    std::fs::write(job_path, content.to_string()).unwrap();
    load(job_path, &[]).unwrap().job
}

fn c5(job: &Job) -> &Position {
    job.positions().find(|(_, position)| position.reference == "C5").unwrap().1
}

#[test]
fn the_ripple_of_a_circuit_stands_in_a_job() {
    let (_folder, job_path) = demo();
    let figures = ["input_v=24", "output_v=12", "output_a=4", "switching_hz=100000"];
    let found = printed(&[&["ripple", "circuit", "buck_input"], &figures[..]].concat());
    let job = put(&job_path, "stress", &found);
    // Io sqrt(D (1 - D)) with D = 0.5 is half the current.
    let lines = c5(&job).stress.ripple.as_ref().unwrap();
    let all_a = lines.iter().filter_map(|line| line.a).map(|a| a * a).sum::<f64>().sqrt();
    assert!((all_a - 2.0).abs() < 0.02, "{all_a}");
    assert!(c5(&job).stress.ripple_from.is_some());
}

#[test]
fn the_ripple_of_a_record_stands_in_a_job() {
    let (folder, job_path) = demo();
    let mut record = "Time,CH1\n(s),(A)\n".to_owned();
    for at in 0..2000 {
        let s = f64::from(at) * 1e-5;
        writeln!(record, "{s:.6},{:.9}", 3.0 * (std::f64::consts::TAU * 100.0 * s).sin()).unwrap();
    }
    let path = folder.path().join("scope.csv");
    std::fs::write(&path, record).unwrap();
    let job = put(&job_path, "stress", &printed(&["ripple", "record", text(&path)]));
    let line = &c5(&job).stress.ripple.as_ref().unwrap()[0];
    assert!((line.hz.unwrap() - 100.0).abs() < 0.5 && (line.a.unwrap() - 3.0 / 2_f64.sqrt()).abs() < 1e-3, "{line:?}");
}

#[test]
fn the_ripple_that_warms_a_case_stands_in_a_job() {
    let (_folder, job_path) = demo();
    let call = ["ripple", "rise", text(&job_path), "--ref", "C5", "--rise", "5", "--hz", "100000"];
    let found = printed(&call);
    let job = put(&job_path, "stress", &found);
    assert!(c5(&job).stress.ripple.as_ref().unwrap().iter().all(|line| line.a.unwrap() > 0.0));
    let done = refarad(&["ripple", "rise", text(&job_path), "--ref", "C999", "--rise", "5", "--hz", "100000"]);
    assert_eq!(done.status.code(), Some(2));
}

#[test]
fn the_duty_of_a_log_stands_in_a_job() {
    let (folder, job_path) = demo();
    let log = folder.path().join("log.csv");
    let rows: String = (0..48).map(|at| format!("{at},{}\n", if at < 24 { 20 } else { 40 })).collect();
    std::fs::write(&log, format!("elapsed [h],t (°C)\n{rows}")).unwrap();
    let out = folder.path().join("duty.json");
    let done = refarad(&["duty", text(&log), "--phases", "2", "--out", text(&out)]);
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let job = put(&job_path, "stress", &serde_json::from_slice(&std::fs::read(&out).unwrap()).unwrap());
    let stress = &c5(&job).stress;
    let phases: Vec<_> = stress.phases.as_ref().unwrap().iter().map(|phase| phase.ambient_c).collect();
    assert_eq!((phases, stress.ambient_min_c), (vec![Some(20.0), Some(40.0)], Some(20.0)));
    // Only a file this program wrote is replaced.
    assert_eq!(refarad(&["duty", text(&log), "--phases", "2", "--out", text(&log)]).status.code(), Some(2));
}

#[test]
fn an_axis_and_a_rise_have_the_bounds_of_a_job_and_a_measured_esr_is_kept() {
    let (folder, job) = demo();
    let at = [text(&job), "--board", "Supply", "--ref", "C1"];
    for beyond in
        [&["--to", "1e9"][..], &["--against", "ripple", "--from", "-1"], &["--against", "hours", "--to", "9000"]]
    {
        let refused = refarad(&[&["curves"], &at[..], beyond].concat());
        assert_eq!(refused.status.code(), Some(2), "{beyond:?}");
    }
    let rise =
        |k: &str| refarad(&[&["ripple", "rise"], &at[..], &["--rise", k, "--hz", "100", "--esr", "600"]].concat());
    assert_eq!(rise("1e9").status.code(), Some(2));
    let found: Value = serde_json::from_slice(&rise("5").stdout).unwrap();
    assert_eq!(found["ripple_from"]["figures"]["esr_mohm"], 600.0);
    let log = folder.path().join("log.csv");
    std::fs::write(&log, "time,T (°C)\n2026-01-01 00:00,20\n2026-01-01 01:00,900\n2026-01-01 02:00,20\n").unwrap();
    assert_eq!(refarad(&["duty", text(&log)]).status.code(), Some(2));
}
