//! A program killed at any moment leaves the old job or the new one, whole, and the one before beside it.
//!
//! The program saves in a process of its own: this test binary, started again with a folder to save to.

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use refarad::domain::{Board, Job, Position};
use refarad::files::job;
use refarad::files::job_file::{Expect, Stamp, previous, save_job};
use refarad::files::recovery::{self, Origin, Recovery};

const FOLDER: &str = "REFARAD_TEST_SAVES_TO";
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

/// Saves without end when a folder is given, as the process that is to be killed; passes at once otherwise.
#[test]
fn the_process_that_is_killed() {
    let Some(folder) = std::env::var_os(FOLDER) else { return };
    let folder = PathBuf::from(folder);
    let path = job_path(&folder);
    let recovery = Recovery::in_folder(&folder.join("recovery"));
    let mut stamp = Stamp::of_file(&path).unwrap();
    let first: u32 = number(&path) + 1;
    println!("saving");
    for n in first.. {
        recovery.write(&numbered(n), &Origin::default(), None).unwrap();
        stamp = save_job(&path, &numbered(n), Expect::Known(stamp)).unwrap();
    }
}

#[test]
fn a_kill_at_any_moment_leaves_the_old_job_or_the_new_one_whole() {
    let folder = tempfile::tempdir().unwrap();
    let path = job_path(folder.path());
    save_job(&path, &numbered(0), Expect::Nothing).unwrap();
    let (mut last, mut amid_writing) = (0, 0);
    let mut random = 0x9E37_79B9_7F4A_7C15_u64;
    for kill in 0..KILLS {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "kill::the_process_that_is_killed", "--nocapture", "--test-threads=1"])
            .env(FOLDER, folder.path())
            .stdout(Stdio::piped())
            .stderr(Stdio::inherit())
            .spawn()
            .unwrap();
        // The runner's own words stand on the same line.
        let mut said = BufReader::new(child.stdout.take().unwrap()).lines();
        assert!(said.any(|line| line.unwrap().contains("saving")), "the process did not start to save");
        random = random.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        std::thread::sleep(Duration::from_micros(random >> 48));
        child.kill().unwrap();
        child.wait().unwrap();

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
        for entry in std::fs::read_dir(folder.path()).unwrap().flatten() {
            if entry.file_name().to_string_lossy().starts_with(".refarad-") {
                amid_writing += 1;
                std::fs::remove_file(entry.path()).unwrap();
            }
        }
    }
    println!("{KILLS} kills, {amid_writing} of them amid writing the job, {last} jobs saved");
    assert!(amid_writing > 0 && last > 0, "no kill came amid a saving, so nothing was shown");
}

/// A disk that takes only so many bytes: the process may not write files beyond a limit, and is told so by the system.
#[cfg(unix)]
#[test]
fn a_write_that_fails_midway_leaves_the_old_job_and_says_so() {
    let folder = tempfile::tempdir().unwrap();
    refarad::files::demo::write(folder.path()).unwrap();
    std::fs::write(folder.path().join("README.md"), "mine").unwrap();
    std::fs::write(folder.path().join("parts.csv"), "mine").unwrap();
    let all =
        || ["observatory.json", "parts.csv", "README.md"].map(|name| std::fs::read(folder.path().join(name)).unwrap());
    let before = all();
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
    let names: Vec<_> = std::fs::read_dir(folder.path()).unwrap().flatten().map(|entry| entry.file_name()).collect();
    assert_eq!(names.len(), 3, "{names:?}");
}
