//! The built program as a whole: its size, and with a display (and xdotool) how soon its window is there, what it does while idle,
//! and how much memory it takes with a million parts.

use std::path::Path;
use std::process::{Child, Command};
use std::thread::sleep;
use std::time::{Duration, Instant};

use refarad::files::{demo, job};

use crate::catalogue::csv_text;

const PROGRAM: &str = env!("CARGO_BIN_EXE_refarad");
const PARTS: usize = 1_000_000;

/// Prints what can be measured on this machine.
pub(crate) fn print() {
    println!("program: {:.1} MB", std::fs::metadata(PROGRAM).unwrap().len() as f64 / 1e6);
    if std::env::var_os("DISPLAY").is_none() || !Path::new("/proc/self/stat").exists() || window_is_there().is_err() {
        println!("program in its window: not measured; it needs Linux, a display (Xvfb will do) and xdotool");
        return;
    }
    for _ in 0..5 {
        let (program, shown) = started(None);
        sleep(Duration::from_secs(3));
        let before = Usage::of(&program);
        sleep(Duration::from_secs(5));
        let after = Usage::of(&program);
        println!(
            "program with the demo: window there after {:.0} ms; processor while idle for 5 s: {:.2} s; {:.0} MB",
            shown.as_secs_f64() * 1e3,
            after.processor_s - before.processor_s,
            after.peak_mb
        );
        end(program);
    }
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("job.json");
    std::fs::write(folder.path().join("parts.csv"), csv_text(PARTS)).unwrap();
    let mut large = demo::job().unwrap().job;
    large.catalogs = vec!["parts.csv".into()];
    std::fs::write(&path, job::to_text(&large)).unwrap();
    let (program, _) = started(Some(&path));
    sleep(Duration::from_secs(15));
    println!("program with {PARTS} parts, read and sized: at most {:.0} MB", Usage::of(&program).peak_mb);
    end(program);
}

/// Starts the program and waits until its window is shown, which it is once its first frame is drawn.
fn started(job: Option<&Path>) -> (Child, Duration) {
    let begun = Instant::now();
    let program = Command::new(PROGRAM).args(job).spawn().unwrap();
    while !window_is_there().unwrap() && begun.elapsed() < Duration::from_secs(30) {}
    (program, begun.elapsed())
}

fn window_is_there() -> std::io::Result<bool> {
    let found = Command::new("xdotool").args(["search", "--onlyvisible", "--class", "refarad"]).output()?;
    Ok(!found.stdout.is_empty())
}

fn end(mut program: Child) {
    program.kill().unwrap();
    program.wait().unwrap();
    while window_is_there().unwrap() {}
}

struct Usage {
    processor_s: f64,
    peak_mb: f64,
}

impl Usage {
    /// What proc(5) says of a running program.
    fn of(program: &Child) -> Self {
        /// Linux counts the time of processes in hundredths of a second on every machine this runs on.
        const TICKS_PER_S: f64 = 100.0;
        let read = |name: &str| std::fs::read_to_string(format!("/proc/{}/{name}", program.id())).unwrap();
        let (stat, status) = (read("stat"), read("status"));
        // Fields 14 and 15 are the time in the program and in the system; the name before them may hold blanks.
        let after_name = stat.rsplit_once(')').unwrap().1;
        let ticks = after_name.split_whitespace().skip(11).take(2).map(|field| field.parse::<f64>().unwrap());
        let peak = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).unwrap();
        let peak_kib: f64 = peak.trim().trim_end_matches(" kB").parse().unwrap();
        Self { processor_s: ticks.sum::<f64>() / TICKS_PER_S, peak_mb: peak_kib * 1024.0 / 1e6 }
    }
}
