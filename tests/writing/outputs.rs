//! What calls replace and what they leave, and what they do on streams that are closed or full.

use std::path::Path;
use std::process::{Command, Output};

use super::{demo, text};

/// A call by a person whose home is `home`.
fn call(home: &Path, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_refarad"))
        .args(args)
        .current_dir(home)
        .env("HOME", home)
        .env("XDG_DATA_HOME", home.join("data"))
        .env("XDG_CONFIG_HOME", home.join("config"))
        .output()
        .unwrap()
}

fn refused(output: &Output, name: &str) {
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{said}");
    let last = said.lines().last().unwrap();
    assert!(last.starts_with("refarad: ") && last.contains(name) && last.contains("--overwrite"), "{said}");
}

#[test]
fn no_call_replaces_an_input_a_job_a_record_or_a_strangers_file_unless_told_to() {
    let (folder, _) = demo();
    let home = folder.path();
    let path = |name: &str| home.join(name);
    let content = |name: &str| std::fs::read(path(name)).unwrap_or_else(|error| panic!("{name}: {error}"));
    let added = call(home, &["record", "add", "observatory.json", "--serial", "D1", "--technician", "N. N."]);
    assert!(added.status.success(), "{added:?}");
    std::fs::copy(path("parts.csv"), path("candidates.csv")).unwrap();
    std::fs::write(path("stranger.csv"), "mine\n").unwrap();
    std::fs::write(path("order_steps.csv"), "mine\n").unwrap();
    std::fs::write(path("worksheet.html"), "mine\n").unwrap();
    let edited = String::from_utf8(content("observatory.json")).unwrap().replace("\"units\": 4", "\"units\": 5");
    std::fs::write(path("observatory.json"), edited).unwrap();
    let sized = ["size", "observatory.json", "--parts", "candidates.csv", "--out", "."];
    for (args, name) in [
        (&sized[..], "candidates.csv"),
        (&["size", "observatory.json", "--out", "."], "candidates.csv"),
        (&["order", "observatory.json", "--seconds", "1", "--out", "."], "order_steps.csv"),
        (&["order", "observatory.json", "--seconds", "1", "--apply", "observatory.json"], "observatory.json"),
        (&["read", "parts.csv", "--out", "parts.csv"], "parts.csv"),
        (&["read", "parts.csv", "--out", "observatory.json"], "observatory.json"),
        (&["read", "parts.csv", "--out", "stranger.csv"], "stranger.csv"),
        (&["record", "export", "observatory.json", "observatory.units.jsonl"], "observatory.units.jsonl"),
        (&["record", "export", "observatory.json", "stranger.csv"], "stranger.csv"),
        (&["curves", "observatory.json", "--ref", "C1", "--board", "Supply", "--out", "parts.csv"], "parts.csv"),
        (&["example", "."], "observatory.json"),
    ] {
        let before: Vec<_> = std::fs::read_dir(home).unwrap().map(|entry| entry.unwrap().path()).collect();
        let kept = content(name);
        refused(&call(home, args), name);
        assert_eq!(content(name), kept, "{args:?}");
        let after: Vec<_> = std::fs::read_dir(home).unwrap().map(|entry| entry.unwrap().path()).collect();
        assert_eq!(before, after, "{args:?}: nothing of the set was written");
        let overruled = call(home, &[args, &["--overwrite"]].concat());
        assert_ne!(overruled.status.code(), Some(2), "{args:?}: {}", String::from_utf8_lossy(&overruled.stderr));
        assert_eq!(content(&format!("{name}.previous")), kept, "{args:?}");
        std::fs::write(path(name), &kept).unwrap();
        for entry in std::fs::read_dir(home).unwrap().flatten() {
            if entry.file_name().to_string_lossy().ends_with(".previous") {
                std::fs::remove_file(entry.path()).unwrap();
            }
        }
    }
}

#[test]
fn the_same_call_again_replaces_what_it_wrote_and_keeps_nothing_beside_it() {
    let (folder, _) = demo();
    let home = folder.path();
    let args = ["size", "observatory.json", "--out", "out", "--xlsx", "--per-supplier"];
    let written = call(home, &args);
    assert_ne!(written.status.code(), Some(2), "{}", String::from_utf8_lossy(&written.stderr));
    let job = std::fs::read_to_string(home.join("observatory.json")).unwrap();
    std::fs::write(home.join("observatory.json"), job.replace("\"units\": 4", "\"units\": 9")).unwrap();
    let again = call(home, &args);
    assert_ne!(again.status.code(), Some(2), "{}", String::from_utf8_lossy(&again.stderr));
    let names = std::fs::read_dir(home.join("out")).unwrap().map(|entry| entry.unwrap().file_name());
    assert!(names.into_iter().all(|name| !name.to_string_lossy().ends_with(".previous")));
    // What the buyer wrote into the list is not lost.
    let list = home.join("out/purchase.csv");
    let noted = std::fs::read_to_string(&list).unwrap() + "my own line\n";
    std::fs::write(&list, &noted).unwrap();
    refused(&call(home, &args), "purchase.csv");
    assert_eq!(std::fs::read_to_string(&list).unwrap(), noted);
}

#[cfg(unix)]
#[test]
fn links_devices_and_folders_stay_what_they_are() {
    let (folder, _) = demo();
    let home = folder.path();
    std::os::unix::fs::symlink(home.join("parts.csv"), home.join("link.csv")).unwrap();
    std::fs::create_dir(home.join("folder.csv")).unwrap();
    assert!(Command::new("mkfifo").arg(home.join("pipe.csv")).status().unwrap().success());
    for out in ["link.csv", "folder.csv", "pipe.csv", "/dev/null"] {
        let said = call(
            home,
            &["curves", "observatory.json", "--ref", "C3", "--board", "Supply", "--out", out, "--overwrite"],
        );
        let words = String::from_utf8_lossy(&said.stderr).into_owned();
        assert!(said.status.code() == Some(2) && words.contains(out), "{out}: {words}");
    }
    assert!(home.join("link.csv").is_symlink());
    // The record is not added to by way of a link out of the folder.
    let outside = tempfile::tempdir().unwrap();
    let target = outside.path().join("target");
    for there in [false, true] {
        if there {
            std::fs::write(&target, "").unwrap();
        }
        let record = home.join("observatory.units.jsonl");
        let _ = std::fs::remove_file(&record);
        std::os::unix::fs::symlink(&target, &record).unwrap();
        let said = call(home, &["record", "add", "observatory.json", "--serial", "D1", "--technician", "N. N."]);
        assert_eq!(said.status.code(), Some(2), "{}", String::from_utf8_lossy(&said.stderr));
        assert_eq!(std::fs::read(&target).ok(), there.then(Vec::new));
    }
}

/// A disk that takes only so many bytes, as in the tests of saving.
#[cfg(unix)]
fn with_small_disk(home: &Path, args: &[&str]) -> Output {
    Command::new("sh")
        .args(["-c", "trap '' XFSZ; ulimit -f 8; exec \"$@\"", "sh", env!("CARGO_BIN_EXE_refarad")])
        .args(args)
        .current_dir(home)
        .env("HOME", home)
        .env("XDG_DATA_HOME", home.join("data"))
        .output()
        .unwrap()
}

#[cfg(unix)]
#[test]
fn a_full_disk_leaves_the_record_and_the_earlier_set_as_they_were() {
    let (folder, _) = demo();
    let home = folder.path();
    let add = ["record", "add", "observatory.json", "--serial", "D1", "--technician", "N. N.", "--date", "2026-11-25"];
    let record = home.join("observatory.units.jsonl");
    std::fs::write(&record, "\n".repeat(3000)).unwrap();
    let before = std::fs::read(&record).unwrap();
    let full = with_small_disk(home, &add);
    assert_eq!(full.status.code(), Some(2), "{}", String::from_utf8_lossy(&full.stderr));
    assert_eq!(std::fs::read(&record).unwrap(), before, "no half line");
    assert!(call(home, &add).status.success());

    assert_ne!(call(home, &["size", "observatory.json", "--out", "out"]).status.code(), Some(2));
    let all = || {
        let paths = std::fs::read_dir(home.join("out")).unwrap().map(|entry| entry.unwrap().path());
        let mut all: Vec<_> = paths.map(|path| (path.clone(), std::fs::read(path).unwrap())).collect();
        all.sort();
        all
    };
    let earlier = all();
    let full = with_small_disk(home, &["size", "observatory.json", "--all", "--out", "out"]);
    assert_eq!(full.status.code(), Some(2), "{}", String::from_utf8_lossy(&full.stderr));
    assert_eq!(all(), earlier);
}

#[cfg(unix)]
#[test]
fn streams_that_are_closed_or_full_end_nothing() {
    let (folder, job) = demo();
    let run = |redirected: &str, words: &str| {
        let script = format!("exec \"$0\" {words} \"$1\" {redirected}");
        Command::new("sh")
            .args(["-c", &script, env!("CARGO_BIN_EXE_refarad"), text(&job)])
            .current_dir(folder.path())
            .env("HOME", folder.path())
            .env_remove("DISPLAY")
            .env_remove("WAYLAND_DISPLAY")
            .output()
            .unwrap()
            .status
            .code()
    };
    let plain = run("", "size");
    assert!(plain == Some(0) || plain == Some(1));
    for redirected in ["2>&-", "2>/dev/full", ">&-", ">/dev/full", ">&- 2>&-", "| head -c 10 >/dev/null", "2>&1 | true"]
    {
        for words in ["size", "order --seconds 1", "record due"] {
            let status = run(redirected, words);
            assert!(status != Some(101) && status.is_some(), "{words} {redirected}: {status:?}");
            assert!(status != Some(134), "{words} {redirected}");
        }
    }
    for words in ["size", "order --seconds 1", "record due"] {
        assert_eq!(run(">/dev/full", words), Some(2), "{words}");
    }
    assert_eq!(run("2>/dev/full", "size"), plain);
    assert_eq!(run("2>/dev/full", "curves --ref NONE"), Some(2));
}

#[test]
fn names_of_any_length_and_with_any_sign_are_told_in_lines_of_their_own() {
    let (folder, job) = demo();
    let home = folder.path();
    let header = "part_number,maker,technology,mounting,capacitance_uf,rated_v,unit_price\n";
    let long = "L".repeat(65_536);
    let forged = "A\u{1b}[31m\u{202e}B";
    let rows: String = [long.as_str(), forged, "\"two\nlines: refarad: all is well\""]
        .map(|number| format!("{number},M,wet,radial,220,400,1\n"))
        .concat();
    std::fs::write(home.join("odd.csv"), format!("{header}{rows}")).unwrap();
    let content = std::fs::read_to_string(&job).unwrap();
    let pick = |number: &str| content.replacen("\"pick\": null", &format!("\"pick\": \"{number}\""), 1);
    std::fs::write(&job, pick(&"L".repeat(400))).unwrap();
    for words in [&["size"][..], &["order", "--seconds", "1", "--marginal"], &[]] {
        let with_parts = if words.is_empty() { vec![] } else { vec!["--parts", "odd.csv"] };
        let args: Vec<&str> = words.iter().copied().chain(["observatory.json"]).chain(with_parts).collect();
        let output = Command::new(env!("CARGO_BIN_EXE_refarad"))
            .args(&args)
            .current_dir(home)
            .env("HOME", home)
            .env_remove("DISPLAY")
            .env_remove("WAYLAND_DISPLAY")
            .output()
            .unwrap();
        let said = String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr);
        assert_ne!(output.status.code(), Some(101), "{args:?}: {said:.2000}");
        assert!(!said.contains(['\u{1b}', '\u{202e}']), "{args:?}");
        assert!(!said.lines().any(|line| line.starts_with("lines: refarad:")), "{args:?}");
        assert!(said.lines().all(|line| line.chars().count() < 70_000), "{args:?}");
    }
}
