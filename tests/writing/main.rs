//! The files the program writes, by calling it as a person does, on the demo (all of it invented).
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test may stop at a fault")]

mod buying;
mod changes;
mod curves;
mod golden;
mod hostile;
mod hostile_set;
mod job_file;
mod kill;
mod kits;
mod lists;
mod outputs;
mod papers;
mod recomputing;
mod records;
mod replacing;
mod ripple;
mod sheets;
mod unit_records;

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// A folder with the demo in it.
fn demo() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    refarad::files::demo::write_unless_there(folder.path(), false).unwrap();
    let job = folder.path().join("observatory.json");
    (folder, job)
}

fn refarad(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_refarad")).args(args).output().unwrap()
}

fn text(path: &Path) -> &str {
    path.to_str().unwrap()
}

/// Header and rows of a CSV file, each row by column name.
fn rows(path: &Path) -> Vec<std::collections::HashMap<String, String>> {
    let mut reader = csv::Reader::from_path(path).unwrap();
    reader.deserialize().map(Result::unwrap).collect()
}

/// Changes a field of a job file.
fn change(job: &Path, field: &str, value: serde_json::Value) {
    let mut content: serde_json::Value = serde_json::from_slice(&std::fs::read(job).unwrap()).unwrap();
    content[field] = value;
    std::fs::write(job, content.to_string()).unwrap();
}
