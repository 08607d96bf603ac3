//! The whole call `refarad size` beside a vectorised data-frame program on the same files in the same run (`peer.py`).

use std::path::Path;
use std::process::Command;

use crate::catalogue::{csv_text, job_text};

/// Prints what `peer.py` prints; that it was not measured where Python or polars is missing.
pub(crate) fn print() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: String| std::fs::write(folder.path().join(name), text).unwrap();
    write("parts.csv", csv_text(1_000_000));
    write("one.json", job_text(1));
    write("hundred.json", job_text(100));
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/bench/peer.py");
    let run = Command::new("python3").arg(script).arg(env!("CARGO_BIN_EXE_refarad")).arg(folder.path()).output();
    match run {
        Ok(out) if out.status.success() => print!("{}", String::from_utf8_lossy(&out.stdout)),
        _ => println!("beside a data frame: not measured; it needs python3 with polars"),
    }
}
