//! A program killed at any moment leaves the old job or the new one, whole, and the one before beside it.
//!
//! The program saves in a process of its own: this test binary, started again with a folder to save to.

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use refarad::domain::{Board, Extra, Job, Position};
use refarad::files::job_file::{Expect, Stamp, previous, save_job};
use refarad::files::output::{Outputs, Replace};
use refarad::files::recovery::{self, Origin, Recovery};
use refarad::files::unit_record::{self, PositionRecord, UnitRecord};
use refarad::files::written::Written;
use refarad::files::{job, save};
use refarad::sizing::changed::Records;

const FOLDER: &str = "REFARAD_TEST_SAVES_TO";
const WHAT: &str = "REFARAD_TEST_SAVES_WHAT";
const KILLS: u32 = 300;

/// The `n`th job: large enough for several writes, and every position says which job it is of.
fn numbered(n: u32) -> Job {
    let position =
        |index: u32| Position { reference: format!("C{index}"), note: Some(format!("job {n}")), ..Position::default() };
    let board = Board { name: format!("Board {n}"), positions: (0..60).map(position).collect(), ..Board::default() };
    Job { name: n.to_string(), boards: vec![board], ..Job::default() }
}

/// The number of a job that is whole.
fn number(path: &Path) -> u32 {
    let job = job::read(path).unwrap().job;
    let n: u32 = job.name.parse().unwrap();
    assert_eq!(job, numbered(n), "{} is not whole", path.display());
    n
}

fn job_path(folder: &Path) -> PathBuf {
    folder.join("job.json")
}

/// A serial number for the `n`th rebuild, long enough that a line takes some writing.
fn rebuild(n: u32) -> UnitRecord {
    let position =
        |index: u32| PositionRecord { board: "B".into(), reference: format!("C{index}"), ..Default::default() };
    UnitRecord {
        serial: n.to_string(),
        date: "2026-11-25".parse().unwrap(),
        technician: String::new(),
        next_due: None,
        hours_per_year: None,
        unit_type: String::new(),
        note: String::new(),
        positions: (0..400).map(position).collect(),
        extra: Extra::default(),
    }
}

const SET: [&str; 3] = ["selection.csv", "candidates.csv", "worksheet.html"];

/// The `n`th content of a file of a set.
fn content(n: u32) -> String {
    format!("board,ref,part_number,verdict\n{}", format!("{n}\n").repeat(20_000))
}

/// The number of a content that is whole.
fn number_of_content(path: &Path) -> u32 {
    let text = std::fs::read_to_string(path).unwrap();
    let n = text.lines().nth(1).unwrap().parse().unwrap();
    assert!(text == content(n), "{} is not whole", path.display());
    n
}

fn write_set(folder: &Path, n: u32) {
    let mut outputs = Outputs::new(Vec::new(), false).remembering(Some(Written::in_folder(&folder.join("memory"))));
    SET.iter().for_each(|name| outputs.add(folder.join(name), content(n), Replace::Own));
    outputs.write().unwrap();
}

/// Saves without end when a folder is given, as the process that is to be killed; passes at once otherwise.
#[test]
fn the_process_that_is_killed() {
    let (Some(folder), Ok(what)) = (std::env::var_os(FOLDER), std::env::var(WHAT)) else { return };
    let folder = PathBuf::from(folder);
    println!("saving");
    match what.as_str() {
        "job" => {
            let path = job_path(&folder);
            let recovery = Recovery::in_folder(&folder.join("recovery"));
            let mut stamp = Stamp::of_file(&path).unwrap();
            for n in number(&path) + 1.. {
                recovery.write(&numbered(n), &Origin::default(), None).unwrap();
                stamp = save_job(&path, &numbered(n), &Records::new(), Expect::Known(stamp)).unwrap();
            }
        }
        "record" => {
            let path = folder.join("job.units.jsonl");
            let known = unit_record::read(&path).unwrap().records.len();
            for n in u32::try_from(known).unwrap().. {
                unit_record::append(&path, &rebuild(n), true, None).unwrap();
            }
        }
        "set" => {
            let least = SET.iter().map(|name| number_of_content(&folder.join(name))).min().unwrap();
            for n in least + 1.. {
                write_set(&folder, n);
            }
        }
        // As the settings of the window are written.
        _ => {
            let path = folder.join("settings.json");
            for n in number_of_content(&path) + 1.. {
                save(&path, content(n).as_bytes()).unwrap();
            }
        }
    }
}

/// Kills a process that writes `what` again and again, and looks at what it left each time. How many kills came amid a writing.
fn kill(what: &str, folder: &Path, mut look: impl FnMut(u32)) -> u32 {
    let mut amid_writing = 0;
    let mut random = 0x9E37_79B9_7F4A_7C15_u64;
    for kill in 0..KILLS {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "kill::the_process_that_is_killed", "--nocapture", "--test-threads=1"])
            .env(FOLDER, folder)
            .env(WHAT, what)
            .stdout(Stdio::piped())
            .stderr(Stdio::inherit())
            .spawn()
            .unwrap();
        // The runner's own words stand on the same line.
        let mut said = BufReader::new(child.stdout.take().unwrap()).lines();
        assert!(said.any(|line| line.unwrap().contains("saving")), "the process did not start to save");
        random = random.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        // At most 16 ms: most kills come amid a writing or shortly after one.
        std::thread::sleep(Duration::from_micros(random >> 50));
        child.kill().unwrap();
        child.wait().unwrap();
        look(kill);
        for entry in std::fs::read_dir(folder).unwrap().flatten() {
            if entry.file_name().to_string_lossy().starts_with(".refarad-") {
                amid_writing += 1;
                std::fs::remove_file(entry.path()).unwrap();
            }
        }
    }
    amid_writing
}

#[test]
fn a_kill_at_any_moment_leaves_the_old_job_or_the_new_one_whole() {
    let folder = tempfile::tempdir().unwrap();
    let path = job_path(folder.path());
    save_job(&path, &numbered(0), &Records::new(), Expect::Nothing).unwrap();
    let mut last = 0;
    let amid_writing = kill("job", folder.path(), |kill| {
        let now = number(&path);
        assert!(now >= last, "kill {kill}: job {now} stands there after job {last}");
        if previous(&path).exists() {
            let before = number(&previous(&path));
            assert!(before == now || before + 1 == now, "kill {kill}: job {before} is kept beside job {now}");
        }
        let (left, faults) = recovery::left_behind(&folder.path().join("recovery"));
        assert!(faults.is_empty(), "kill {kill}: {faults:?}");
        for work in left {
            let n: u32 = work.job.name.parse().unwrap();
            assert!(work.job == numbered(n) && n <= now + 1, "kill {kill}: recovery holds job {n} beside job {now}");
            work.remove();
        }
        last = now;
    });
    println!("{KILLS} kills, {amid_writing} of them amid writing the job, {last} jobs saved");
    assert!(amid_writing > 0 && last > 0, "no kill came amid a saving, so nothing was shown");
}

#[test]
fn a_kill_at_any_moment_loses_no_rebuild_of_the_record() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("job.units.jsonl");
    let mut last = 0;
    let mut torn = 0;
    kill("record", folder.path(), |kill| {
        let read = unit_record::read(&path).unwrap();
        let numbers = read.records.iter().map(|record| record.serial.parse::<usize>().unwrap());
        assert!(numbers.eq(0..read.records.len()), "kill {kill}: a rebuild is missing or stands twice");
        assert!(read.records.len() >= last, "kill {kill}: {} rebuilds after {last}", read.records.len());
        // At most the line that was being written is half there, and it is told.
        assert!(read.rejected.len() <= torn + 1, "kill {kill}");
        (last, torn) = (read.records.len(), read.rejected.len());
        // To read a long record takes longer than to write it.
        if last > 200 {
            std::fs::remove_file(&path).unwrap();
            (last, torn) = (0, 0);
        }
    });
    println!("{KILLS} kills, {last} rebuilds and {torn} half lines in the last record");
    assert!(last > 0);
}

#[test]
fn a_kill_at_any_moment_leaves_every_file_of_a_set_whole_and_writable_again() {
    let folder = tempfile::tempdir().unwrap();
    write_set(folder.path(), 0);
    let mut last = 0;
    let amid_writing = kill("set", folder.path(), |kill| {
        let numbers = SET.map(|name| number_of_content(&folder.path().join(name)));
        let (least, most) = (numbers.iter().min().unwrap(), numbers.iter().max().unwrap());
        assert!(*least >= last && most - least <= 1, "kill {kill}: {numbers:?} after {last}");
        last = *least;
    });
    println!("{KILLS} kills, {amid_writing} files left amid writing, {last} sets written");
    assert!(amid_writing > 0 && last > 0, "no kill came amid a writing, so nothing was shown");
}

#[test]
fn a_kill_at_any_moment_leaves_the_settings_whole() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("settings.json");
    save(&path, content(0).as_bytes()).unwrap();
    let mut last = 0;
    let amid_writing = kill("settings", folder.path(), |kill| {
        let now = number_of_content(&path);
        assert!(now >= last, "kill {kill}: {now} after {last}");
        last = now;
    });
    println!("{KILLS} kills, {amid_writing} amid writing, {last} written");
    assert!(amid_writing > 0 && last > 0, "no kill came amid a writing, so nothing was shown");
}

/// A disk that takes only so many bytes: the process may not write files beyond a limit, and is told so by the system.
#[cfg(unix)]
#[test]
fn a_write_that_fails_midway_leaves_the_old_job_and_says_so() {
    let folder = tempfile::tempdir().unwrap();
    refarad::files::demo::write_unless_there(folder.path(), false).unwrap();
    std::fs::write(folder.path().join("README.md"), "mine").unwrap();
    std::fs::write(folder.path().join("parts.csv"), "mine").unwrap();
    let all =
        || ["observatory.json", "parts.csv", "README.md"].map(|name| std::fs::read(folder.path().join(name)).unwrap());
    let names = || {
        let listed = std::fs::read_dir(folder.path()).unwrap().flatten().map(|entry| entry.file_name());
        listed.collect::<std::collections::BTreeSet<_>>()
    };
    let (before, named) = (all(), names());
    let output = Command::new("sh")
        .args(["-c", "trap '' XFSZ; ulimit -f 8; exec \"$0\" example \"$1\" --overwrite"])
        .arg(env!("CARGO_BIN_EXE_refarad"))
        .arg(folder.path())
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(said.contains("parts.csv: could not be written") && said.lines().count() == 1, "{said}");
    assert_eq!(all(), before, "none of the set is replaced");
    assert_eq!(names(), named, "nothing half written is left");
}
