//! The calls of the program by their own description: one spelling of an option means one thing in every call, and what is
//! mistyped is answered with what was meant.

use std::collections::BTreeMap;
use std::process::{Command, Output};

use clap::{Arg, Command as Call};

/// Every call that does something, by its name: `ripple rise`.
pub(crate) fn every() -> Vec<(String, Call)> {
    fn below(before: &str, call: &Call, found: &mut Vec<(String, Call)>) {
        for call in call.get_subcommands().filter(|call| call.get_name() != "help") {
            let name = format!("{before} {}", call.get_name()).trim().to_owned();
            if call.get_subcommands().next().is_none() {
                found.push((name.clone(), call.clone()));
            }
            below(&name, call, found);
        }
    }
    let (mut found, mut calls) = (Vec::new(), refarad::cli::calls());
    calls.build();
    below("", &calls, &mut found);
    assert!(found.len() > 12, "{}", found.len());
    found
}

/// The options of a call.
pub(crate) fn options(call: &Call) -> impl Iterator<Item = &Arg> {
    call.get_arguments().filter(|arg| !arg.is_positional() && arg.get_id() != "help")
}

fn option<'a>(call: &'a Call, long: &str) -> Option<&'a Arg> {
    options(call).find(|option| option.get_long() == Some(long))
}

/// What it takes and what it does.
fn told(option: &Arg) -> (String, String, bool) {
    let takes = option.get_value_names().unwrap_or_default().join(" ");
    let many = matches!(option.get_action(), clap::ArgAction::Append);
    (takes, option.get_help().map(ToString::to_string).unwrap_or_default(), many)
}

pub(crate) fn run(folder: &tempfile::TempDir, words: &[&str]) -> Output {
    let mut program = Command::new(env!("CARGO_BIN_EXE_refarad"));
    program.env("HOME", folder.path()).env("XDG_CONFIG_HOME", folder.path().join("config"));
    program.env_remove("DISPLAY").env_remove("WAYLAND_DISPLAY").env_remove("WAYLAND_SOCKET");
    program.current_dir(folder.path()).args(words).output().unwrap()
}

/// The one line a call that cannot be used is answered with.
fn refusal(folder: &tempfile::TempDir, words: &[&str]) -> String {
    let output = run(folder, words);
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!((output.status.code(), said.lines().count()), (Some(2), 1), "{words:?}: {said}");
    assert!(said.starts_with("refarad: ") && output.stdout.is_empty(), "{words:?}: {said}");
    said
}

#[test]
fn every_call_that_loads_a_job_takes_catalogues_and_mappings_alike() {
    // They read only the record beside the job.
    let without_parts = ["record due", "record export"];
    let mut alike: BTreeMap<&str, _> = BTreeMap::new();
    let mut calls = Vec::new();
    for (name, call) in every() {
        let about_a_job = call.get_arguments().any(|arg| arg.is_positional() && arg.get_id() == "job");
        let parts = option(&call, "parts");
        assert_eq!(parts.is_some(), name == "new" || about_a_job && !without_parts.contains(&&*name), "{name}");
        let Some(parts) = parts else { continue };
        let (takes, _, many) = told(parts);
        assert_eq!((&*takes, many), ("CSV", true), "{name}");
        assert_eq!(alike.entry("parts").or_insert_with(|| told(parts)), &told(parts), "{name}");
        let map = option(&call, "map").unwrap_or_else(|| panic!("{name} has no --map"));
        assert_eq!((&*told(map).0, told(map).2), ("JSON", true), "{name}");
        calls.push(name);
    }
    for call in ["new", "size", "order", "curves", "changes", "ripple rise", "record add"] {
        assert!(calls.iter().any(|name| name == call), "{call}: {calls:?}");
    }
}

#[test]
fn an_option_takes_the_same_in_every_call_and_says_what_it_does() {
    // What comes out is a folder here and a file there; values of an axis are no lists.
    let by_call = ["out", "from", "against"];
    let mut takes: BTreeMap<String, (String, String)> = BTreeMap::new();
    for (name, call) in every() {
        assert!(call.get_about().is_some(), "{name}");
        for option in options(&call) {
            let long = option.get_long().unwrap_or_else(|| panic!("{name}: {option} has no long spelling")).to_owned();
            let (taken, does, _) = told(option);
            assert!(does.starts_with(char::is_uppercase) && !does.ends_with('.'), "{name} --{long}: {does}");
            if !by_call.contains(&&*long) {
                let first = takes.entry(long.clone()).or_insert_with(|| (taken.clone(), name.clone()));
                assert_eq!(first.0, taken, "--{long} in {} and {name}", first.1);
            }
        }
        let writes = ["out", "apply"].iter().any(|long| option(&call, long).is_some());
        assert!(!writes || option(&call, "overwrite").is_some(), "{name} writes and has no --overwrite");
    }
}

#[test]
fn the_order_is_written_by_size_and_by_order_alike() {
    let calls: BTreeMap<String, Call> = every().into_iter().collect();
    for long in ["xlsx", "per-supplier", "invented", "map", "parts", "overwrite"] {
        let of = |call: &str| option(&calls[call], long).map(told);
        assert_eq!(of("size"), of("order"), "{long}");
        assert!(of("size").is_some(), "{long}");
    }
}

#[test]
fn the_former_spelling_of_a_catalogue_still_works_and_is_not_shown() {
    for (name, call) in every() {
        let Some(parts) = option(&call, "parts") else { continue };
        assert_eq!(parts.get_all_aliases().unwrap_or_default(), ["catalog"], "{name}");
        assert!(parts.get_visible_aliases().unwrap_or_default().is_empty(), "{name}");
    }
    let folder = tempfile::tempdir().unwrap();
    assert_eq!(run(&folder, &["example", "."]).status.code(), Some(0));
    let curves = ["curves", "observatory.json", "--ref", "C1", "--board", "Supply", "--steps", "2"];
    let now = run(&folder, &[&curves[..], &["--parts", "parts.csv"]].concat());
    let former = run(&folder, &[&curves[..], &["--catalog", "parts.csv"]].concat());
    assert!(now.status.success() && now.stdout == former.stdout && !now.stdout.is_empty());
    // Part numbers were once given there.
    let said = refusal(&folder, &[&curves[..], &["--parts", "SKARN-400-220U"]].concat());
    assert!(said.contains("part numbers are named by --candidates"), "{said}");
}

#[test]
fn a_mistyped_call_or_option_is_answered_with_the_right_one() {
    let folder = tempfile::tempdir().unwrap();
    for (name, call) in every() {
        let words: Vec<&str> = name.split(' ').collect();
        for option in options(&call) {
            let long = option.get_long().unwrap();
            // One letter is missing; of a short name the others are too few to guess it.
            let typed = format!("--{}{}", &long[..long.len() / 2], &long[long.len() / 2 + 1..]);
            let said = refusal(&folder, &[&words[..], &[&typed]].concat());
            let expected = long.len() < 4 || said.contains(&format!("--{long}"));
            assert!(expected, "{name} {typed}: {said}");
        }
        let (last, before) = words.split_last().unwrap();
        let typed = format!("{}{}", &last[..last.len() - 2], &last[last.len() - 1..]);
        for after in [&[][..], &["job.json"], &["job.json", "--out", "out"]] {
            let said = refusal(&folder, &[before, &[typed.as_str()], after].concat());
            assert!(said.contains(last), "{before:?} {typed}: {said}");
        }
    }
    let said = refusal(&folder, &["frobnicate", "job.json"]);
    assert!(said.contains("neither a file nor a call") && said.contains("size"), "{said}");
    let said = refusal(&folder, &["--parts", "parts.csv", "job.json"]);
    assert!(said.contains("--parts"), "{said}");
}

#[test]
fn help_of_help_is_the_help() {
    let folder = tempfile::tempdir().unwrap();
    for (asked, like) in [(&["help", "--help"][..], &["--help"][..]), (&["help", "size", "-h"], &["help", "size"])] {
        let (asked, like) = (run(&folder, asked), run(&folder, like));
        assert!(asked.status.success() && asked.stdout == like.stdout && !asked.stdout.is_empty());
    }
}

#[test]
fn what_is_missing_or_no_value_is_one_line_with_status_2() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("bom.csv"), "ref,value,voltage\nC1,100uF,25V\nC2,220uF,35V\n").unwrap();
    for (words, part) in [
        (&["size"][..], "<JOB>"),
        (&["record"], "add"),
        (&["ripple"], "circuit"),
        (&["curves", "job.json"], "--ref"),
        (&["curves", "job.json", "--ref", "C1", "--against", "moon"], "ambient"),
        (&["order", "job.json", "--seconds", "soon"], "soon"),
        (&["size", "job.json", "--xlsx"], "--out"),
        (&["size", "job.json"], "job.json"),
        (&["nowhere.json"], "nowhere.json"),
        (&["new", "kiln", "--units", "-1"], "--units: -1: expected a whole number from 1 to 1000000000"),
        (
            &["new", "kiln", "--units", "0", "--ambient", "hot", "--spare-pct", "some", "--hours-per-year", "-5"],
            "--units: 0: expected a whole number from 1 to 1000000000; --spare-pct: ",
        ),
        (
            &["new", "kiln", "--ambient", "hot", "--hours-per-year", "-5"],
            "--ambient hot: expected the ambient in °C as 40, or as -5..40 with the lowest first",
        ),
        (&["help", "frobnicate"], "frobnicate: no such call; expected new, size,"),
        (&["help", "record", "ad"], "ad: no such call; expected add,"),
        (
            &["order", "job.json", "--seconds", "soon"],
            "--seconds soon: expected a whole number of 0 or more; see refarad order --help",
        ),
        (
            &["read", "bom.csv", "--as", "soup"],
            "--as soup: expected parts, positions, placement or offers; see refarad read --help",
        ),
        (&["record", "add", "job.json", "--wrong"], "--wrong: no such option; see refarad record add --help"),
        (&["read", "bom.csv", "--out", "x.csv", "--answer", "foo=1"], "refarad: --answer: foo: unknown field"),
        (
            &["bom.csv"],
            if cfg!(feature = "window") {
                "bom.csv: a list and no job; refarad new DIR --from bom.csv begins a job with it. There is no display"
            } else {
                "bom.csv: a list and no job; refarad new DIR --from bom.csv begins a job with it. This refarad was built without"
            },
        ),
        (&["new", "kiln", "--board", &"b".repeat(600), "--from", "bom.csv"], "at most 500 characters"),
        (&["new", "kiln", "--page", "0"], "1 or more"),
        (&["new", "kiln", "--every", "stress.dc_v=NaN"], "stress.dc_v"),
        (&["new", "kiln", "--units", "many"], "expected a number"),
        (&["new", "kiln", "--life-margin", "wide"], "--life-margin: "),
        (&["ripple", "circuit", "buck_output", "output_v=5", "output_v=6"], "output_v once"),
    ] {
        let said = refusal(&folder, words);
        assert!(said.contains(part), "{words:?}: {said}");
    }
    assert!(!folder.path().join("kiln").exists());
}
