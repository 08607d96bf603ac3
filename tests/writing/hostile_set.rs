//! Files made to take time and memory: what the program takes for each, printed by one command:
//! `cargo test --release --test writing hostile_set -- --ignored --nocapture`. REFARAD_PROGRAM names another program to measure.

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const HEADER: &str = "part_number,capacitance_uf,rated_v\n";

/// A job of one board with these positions and catalogues.
fn job(positions: &str, catalogs: &str) -> String {
    format!(
        r#"{{"format":"refarad-job","version":1,"units":1,"hours_per_year":3000,"interval_years":10,"catalogs":[{catalogs}],"boards":[{{"name":"B","positions":[{positions}]}}]}}"#
    )
}

/// A position that is known well enough to be checked, with `more` fields.
fn position(n: usize, x_mm: usize, y_mm: usize, more: &str) -> String {
    format!(
        r#"{{"ref":"C{n}","role":"output_filter","x_mm":{x_mm},"y_mm":{y_mm},"original":{{"technology":"wet","mounting":"radial","capacitance_uf":220,"rated_v":35,"diameter_mm":8,"height_mm":12,"pitch_mm":3.5,"esr_mohm":90,"esr_hz":100000}},"stress":{{"dc_v":24,"ripple_peak_v":0.5,"transient_v":26,"min_v":0,"ripple":[{{"hz":100000,"a":0.3}}],"phases":[{{"share":1,"ambient_c":45}}]}}{more}}}"#
    )
}

fn positions(count: usize, place: impl Fn(usize) -> (usize, usize), more: &str) -> String {
    let all: Vec<String> = (0..count).map(|n| position(n, place(n).0, place(n).1, more)).collect();
    all.join(",")
}

fn in_rows(n: usize) -> (usize, usize) {
    (n % 300 * 12, n / 300 * 12)
}

/// Name, files with their content, the call.
type Case = (&'static str, Vec<(&'static str, String)>, Vec<&'static str>);

fn cases() -> Vec<Case> {
    let of_letters = || format!("{HEADER}{}", "a\n".repeat(10_000_000));
    let of_rows = |end: &str| {
        let rows: Vec<String> = (0..1_000_000).map(|n| format!("PART-{n},220,35")).collect();
        format!("{}{end}{}{end}", HEADER.trim(), rows.join(end))
    };
    let size = || vec!["size", "job.json"];
    let size_all = || vec!["size", "job.json", "--out", "out", "--invented"];
    let with = |name: &'static str, content: String| {
        vec![("job.json", job(r#"{"ref":"C1"}"#, &format!("\"{name}\""))), (name, content)]
    };
    let with_demo = |positions: String| {
        vec![("job.json", job(&positions, "\"parts.csv\"")), ("parts.csv", refarad::files::demo::FILES[1].1.to_owned())]
    };
    let nulls: Vec<String> = (0..15_000).map(|n| format!(r#""later_{n}":null"#)).collect();
    vec![
        ("20 MB catalogue of rows of one letter", with("a.csv", of_letters()), size()),
        (
            "the same as a list of strangers",
            vec![("a.csv", of_letters())],
            vec!["read", "a.csv", "--as", "parts", "--out", "b.csv"],
        ),
        (
            "20 MB list of offers of one letter a row",
            {
                let mut files = with_demo(position(1, 0, 0, ""));
                files[0].1 = files[0].1.replace(r#""units""#, r#""offers":["o.csv"],"units""#);
                files.push(("o.csv", format!("part_number,supplier\n{}", "a\n".repeat(10_000_000))));
                files
            },
            size_all(),
        ),
        ("catalogue of a million rows", with("a.csv", of_rows("\n")), size()),
        ("the same with carriage returns only", with("a.csv", of_rows("\r")), size()),
        (
            "the same row a million times",
            with("a.csv", format!("{HEADER}{}", "PART-1,220,35\n".repeat(1_000_000))),
            size(),
        ),
        (
            "that catalogue named 20 times",
            {
                let names = vec![r#""a.csv""#; 20].join(",");
                vec![("job.json", job(r#"{"ref":"C1"}"#, &names)), ("a.csv", of_rows("\n"))]
            },
            size(),
        ),
        ("15 MB job of empty positions", with_demo(vec!["{}"; 5_000_000].join(",")), size()),
        (
            "15 MB job of empty ripple lines",
            with_demo(format!(r#"{{"ref":"C1","stress":{{"ripple":[{}]}}}}"#, vec!["{}"; 5_000_000].join(","))),
            size(),
        ),
        (
            "15 MB job of zeros in a field of a later version",
            with_demo(format!(r#"{{"ref":"C1","later":[{}]}}"#, vec!["0"; 7_000_000].join(","))),
            size(),
        ),
        (
            "250 KB job of unknown fields that are null",
            with_demo(format!(r#"{{"ref":"C1",{}}}"#, nulls.join(","))),
            size(),
        ),
        ("parallel group of 10 000", with_demo(positions(10_000, in_rows, r#","parallel_group":"bulk""#)), size_all()),
        ("10 000 cans on one spot", with_demo(positions(10_000, |_| (50, 50), "")), size()),
        ("10 000 positions in rows, every file", with_demo(positions(10_000, in_rows, "")), size_all()),
        ("100 000 positions in rows", with_demo(positions(100_000, in_rows, "")), size()),
        (
            "names of 65 536 characters",
            {
                let mut files = with(
                    "a.csv",
                    format!(
                        "part_number,capacitance_uf,rated_v,technology,mounting\n{},220,35,wet,radial\n",
                        "L".repeat(65_536)
                    ),
                );
                files[0].1 = job(&position(1, 0, 0, ""), "\"a.csv\"");
                files
            },
            size_all(),
        ),
    ]
}

/// Status, time and peak of memory in bytes of a call.
fn run(folder: &Path, args: &[&str]) -> (Option<i32>, Duration, u64, String) {
    let begun = Instant::now();
    let program = std::env::var_os("REFARAD_PROGRAM").unwrap_or_else(|| env!("CARGO_BIN_EXE_refarad").into());
    let mut child = Command::new(program)
        .args(args)
        .current_dir(folder)
        .env("HOME", folder)
        .env("XDG_DATA_HOME", folder.join("data"))
        .env("XDG_CONFIG_HOME", folder.join("config"))
        .stdout(Stdio::null())
        .stderr(std::fs::File::create(folder.join("said")).unwrap())
        .spawn()
        .unwrap();
    let mut peak = 0;
    let status = loop {
        let lines = std::fs::read_to_string(format!("/proc/{}/status", child.id())).unwrap_or_default();
        let known =
            lines.lines().find_map(|line| line.strip_prefix("VmHWM:")).and_then(|rest| rest.trim().strip_suffix(" kB"));
        peak = known.and_then(|kb| kb.trim().parse::<u64>().ok()).map_or(peak, |kb| peak.max(kb << 10));
        if let Some(status) = child.try_wait().unwrap() {
            break status;
        }
        std::thread::sleep(Duration::from_millis(5));
    };
    let said = std::fs::read_to_string(folder.join("said")).unwrap();
    let last = said.lines().last().unwrap_or_default().chars().take(110).collect();
    (status.code(), begun.elapsed(), peak, last)
}

#[test]
#[ignore = "takes minutes; run by name"]
fn hostile_set() {
    println!("{:55} {:>8} {:>9} {:>9} {:>9}  status, last word", "file", "size", "time", "memory", "most");
    let mut over = Vec::new();
    for (name, files, args) in cases() {
        let folder = tempfile::tempdir().unwrap();
        let size: usize = files.iter().map(|(_, content)| content.len()).sum();
        for (name, content) in files {
            std::fs::write(folder.path().join(name), content).unwrap();
        }
        let (status, time, peak, last) = run(folder.path(), &args);
        let most = 20 * size as u64 + (300 << 20);
        println!(
            "{name:55} {:6.1} MB {:7.2} s {:6} MB {:6} MB  {status:?} {last}",
            size as f64 / 1e6,
            time.as_secs_f64(),
            peak >> 20,
            most >> 20
        );
        assert!(matches!(status, Some(0..=2)), "{name}: {last}");
        if peak > most {
            over.push(name);
        }
    }
    assert!(over.is_empty(), "more than 20 times the file and 300 MB: {over:?}");
}
