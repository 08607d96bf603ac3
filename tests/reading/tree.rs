//! The tree of the sources against what is said of it: dependencies point one way, and the maps name what there is.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// The floors of the library, from the ground up. The command line is a crate of its own above them.
const FLOORS: [&str; 5] = ["domain", "physics", "sizing", "files", "app"];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every source file below a folder.
fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(sources(&path));
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
    found
}

/// A file without its tests, which may use readers and the demo of higher floors.
fn product(path: &Path) -> String {
    let name = path.file_name().unwrap().to_string_lossy();
    if name.ends_with("tests.rs") {
        return String::new();
    }
    let text = std::fs::read_to_string(path).unwrap();
    text.split("#[cfg(test)]\nmod tests {").next().unwrap_or_default().to_owned()
}

#[test]
fn no_floor_knows_the_floors_above_it() {
    for (height, floor) in FLOORS.iter().enumerate() {
        let mut seen = BTreeSet::new();
        for path in sources(&root().join("src").join(floor)) {
            for used in product(&path).split("crate::").skip(1) {
                let name: String = used.chars().take_while(|c| c.is_ascii_lowercase() || *c == '_').collect();
                let above = FLOORS.iter().position(|known| *known == name).is_some_and(|used| used > height);
                assert!(!above, "{}: crate::{name} is above {floor}", path.display());
                seen.insert(name);
            }
        }
        // A scan that finds nothing proves nothing.
        assert!(height == 0 || seen.contains("domain"), "{floor}: {seen:?}");
    }
}

/// What stands in backticks.
fn named(text: &str) -> impl Iterator<Item = &str> {
    text.split('`').skip(1).step_by(2)
}

#[test]
fn the_developers_map_names_only_files_that_are_there() {
    let text = std::fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    let (mut checked, mut missing) = (0, Vec::new());
    for line in text.lines() {
        // A list such as `sizing/parallel.rs`, `series.rs` names the folder once.
        let mut places = vec![root().to_owned(), root().join("src")];
        for name in named(line) {
            let is_path = name.ends_with(".rs") || name.ends_with(".md") || name.ends_with('/');
            if !is_path || name.contains([' ', '*', '<']) {
                continue;
            }
            if !places.iter().any(|place| place.join(name).exists()) {
                missing.push(format!("{name} in: {line}"));
            }
            if let Some((folder, _)) = name.rsplit_once('/') {
                places.push(root().join("src").join(folder));
            }
            checked += 1;
        }
    }
    assert!(checked > 40, "{checked}");
    assert!(missing.is_empty(), "{missing:#?}");
}

#[test]
fn the_window_and_the_floors_list_every_module_they_have() {
    for file in ["src/lib.rs", "src/app/mod.rs"] {
        let text = std::fs::read_to_string(root().join(file)).unwrap();
        let told: BTreeSet<&str> = text.lines().filter(|line| line.starts_with("//! |")).flat_map(named).collect();
        let told: BTreeSet<&str> = told.iter().map(|name| name.trim_matches(['[', ']'])).collect();
        let own = text.lines().filter_map(|line| {
            let line = line.strip_prefix("pub ").unwrap_or(line);
            line.strip_prefix("mod ")?.strip_suffix(';')
        });
        let own: BTreeSet<&str> = own.collect();
        assert!(own.len() > 4, "{file}: {own:?}");
        assert_eq!(told, own, "{file}");
    }
}
