//! The five minutes of README.md, run as they stand there.

use std::process::Command;

const README: &str = include_str!("../../README.md");

/// The fenced blocks of a language between two headings.
fn blocks<'a>(section: &'a str, language: &str) -> Vec<&'a str> {
    let fence = format!("```{language}\n");
    section.split(&fence).skip(1).map(|rest| rest.split("```").next().unwrap()).collect()
}

#[test]
#[cfg(target_os = "linux")]
fn the_first_own_board_of_the_readme_is_sized_and_ordered_by_its_own_lines() {
    let section = README.split("\n## ").find(|section| section.starts_with("Five minutes")).unwrap();
    let folder = tempfile::tempdir().unwrap();
    for (name, content) in ["bom.csv", "placement.csv", "series.csv"].iter().zip(blocks(section, "csv")) {
        std::fs::write(folder.path().join(name), content).unwrap();
    }
    let program = std::path::Path::new(env!("CARGO_BIN_EXE_refarad")).parent().unwrap();
    let path = format!("{}:{}", program.display(), std::env::var("PATH").unwrap());
    let script = blocks(section, "sh")[0];
    let output = Command::new("sh")
        .args(["-c", script])
        .current_dir(folder.path())
        .env("PATH", path)
        .env("HOME", folder.path())
        .env("XDG_CONFIG_HOME", folder.path().join("config"))
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&output.stdout);
    assert!(said.contains("3 pass on assumed stress") && said.contains("operating voltage up to 28 V"), "{said}");
    let selection = std::fs::read_to_string(folder.path().join("out/selection.csv")).unwrap();
    assert_eq!(selection.matches(",proposed,pass,").count(), 3, "{selection}\n{said}");
    let purchase = std::fs::read_to_string(folder.path().join("out/purchase.csv")).unwrap();
    let quantity = |part: &str| purchase.lines().find(|line| line.starts_with(part)).unwrap().split(',').nth(4);
    assert_eq!((quantity("TALUS-35-470"), quantity("TALUS-25-100")), (Some("7"), Some("4")), "{purchase}");
}
