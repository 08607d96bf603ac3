//! The tree of the sources against what is said of it: dependencies point one way, and the maps name what there is.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// The floors of the library, from the ground up.
const FLOORS: [&str; 6] = ["domain", "physics", "sizing", "files", "app", "cli"];

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
            let kind = Path::new(name).extension().and_then(|ending| ending.to_str());
            let is_path = matches!(kind, Some("rs" | "md")) || name.ends_with('/');
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
fn the_developers_map_names_every_module_of_the_sizing_and_of_the_files() {
    let text = std::fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    let told: BTreeSet<&str> = named(&text).collect();
    for floor in ["sizing", "files"] {
        for entry in std::fs::read_dir(root().join("src").join(floor)).unwrap() {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            let name = if path.is_dir() { format!("{name}/") } else { name };
            let of_tests = name.ends_with("_tests.rs") || name.starts_with("testing");
            let is_told = told.contains(name.as_str()) || told.contains(format!("{floor}/{name}").as_str());
            assert!(is_told || of_tests || name == "mod.rs", "{floor}/{name} is not on the map");
        }
    }
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

/// The rooms of the window: none knows one of a greater height. Rooms of the same height may know each other.
const ROOMS: [(&str, u8); 7] =
    [("state", 0), ("actions", 1), ("storage", 1), ("widgets", 1), ("work", 1), ("views", 2), ("shell", 3)];

/// Files in a circle of the window, at most: so many a reader holds in mind at once.
const CIRCLE_MAX: usize = 4;

/// A module: the names from the root of the library down to it.
type Module = Vec<String>;

/// Every path in `text` after `crate::`, `super::` or `self::`, with groups in braces taken apart.
fn paths(text: &str) -> Vec<Module> {
    fn read(rest: &str, before: &[String], found: &mut Vec<Module>) {
        let name: String = rest.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
        if let Some(group) = rest.strip_prefix('{') {
            let (mut depth, mut from) = (1, 0);
            for (at, c) in group.char_indices() {
                depth += i32::from(c == '{') - i32::from(c == '}');
                if depth == 0 || (c == ',' && depth == 1) {
                    read(group[from..at].trim_start(), before, found);
                    from = at + 1;
                }
                if depth == 0 {
                    return;
                }
            }
        } else if name.is_empty() {
            found.push(before.to_vec());
        } else {
            let path = [before, std::slice::from_ref(&name)].concat();
            match rest[name.len()..].strip_prefix("::") {
                Some(rest) => read(rest, &path, found),
                None => found.push(path),
            }
        }
    }
    let mut found = Vec::new();
    for root in ["crate", "super", "self"] {
        for (at, _) in text.match_indices(&format!("{root}::")) {
            let inside_a_name = text[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_' || c == ':');
            if !inside_a_name && !text[..at].ends_with("pub(in ") {
                read(&text[at..], &[], &mut found);
            }
        }
    }
    found
}

/// The `pub use` of a text, and the text without them: a name passed on is not used there.
fn passed_on(text: &str) -> (Vec<String>, String) {
    let (mut passed, mut rest) = (Vec::new(), String::new());
    for statement in text.split_inclusive(';') {
        let found = statement.match_indices("pub").find_map(|(at, public)| {
            let after = &statement[at + public.len()..];
            let after = after.strip_prefix('(').and_then(|within| Some(within.split_once(')')?.1)).unwrap_or(after);
            Some((at, after.strip_prefix(" use ")?))
        });
        rest.push_str(found.map_or(statement, |(at, _)| &statement[..at]));
        passed.extend(found.map(|(_, names)| names.to_owned()));
    }
    (passed, rest)
}

/// The full path of what stands in the module `of` as `path`.
fn full(of: &[String], path: &[String]) -> Module {
    let ups = path.iter().skip_while(|name| *name == "self").take_while(|name| *name == "super").count();
    let base = if path[0] == "crate" { &[][..] } else { &of[..of.len().saturating_sub(ups)] };
    let below = path.iter().filter(|name| !matches!(name.as_str(), "crate" | "self" | "super")).cloned();
    base.iter().cloned().chain(below).collect()
}

/// For each module of the library the other ones it names, its own submodules included where it uses them. A name that a
/// module passes on leads to the module it comes from.
fn knowledge() -> BTreeMap<Module, BTreeSet<Module>> {
    let src = root().join("src");
    let module = |path: &Path| -> Module {
        let inside = path.strip_prefix(&src).unwrap().with_extension("");
        let names = inside.iter().map(|name| name.to_string_lossy().into_owned());
        names.filter(|name| name != "mod").collect()
    };
    let (mut texts, mut origins) = (BTreeMap::new(), BTreeMap::new());
    for path in sources(&src) {
        let text: Vec<String> =
            product(&path).lines().filter(|line| !line.trim_start().starts_with("//")).map(str::to_owned).collect();
        let (of, (passed, text)) = (module(&path), passed_on(&text.join("\n")));
        for names in passed {
            let rooted = ["crate::", "self::", "super::"].iter().any(|root| names.starts_with(root));
            for path in paths(&if rooted { names } else { format!("self::{names}") }) {
                let from = full(&of, &path);
                origins.insert([&of[..], &from[from.len() - 1..]].concat(), from);
            }
        }
        texts.insert(of, text);
    }
    // Passed on over at most so many modules.
    let origin = |mut path: Module| {
        for _ in 0..8 {
            let passed = (1..=path.len()).rev().find(|&to| {
                !texts.contains_key(&path[..to]) && origins.get(&path[..to]).is_some_and(|from| *from != path[..to])
            });
            let Some(to) = passed else { break };
            path = [&origins[&path[..to]], &path[to..]].concat();
        }
        while !path.is_empty() && !texts.contains_key(&path) {
            path.pop();
        }
        path
    };
    let mut known = BTreeMap::new();
    for (of, text) in &texts {
        let mut named: BTreeSet<Module> = paths(text).iter().map(|path| origin(full(of, path))).collect();
        let uses = |child: &Module| {
            let [before @ .., name] = child.as_slice() else { return false };
            let call = format!("{name}::");
            let mut at = text.match_indices(&call).map(|(at, _)| &text[..at]);
            before == of.as_slice()
                && at.any(|before| !before.ends_with(|c: char| c.is_alphanumeric() || c == '_' || c == ':'))
        };
        named.extend(texts.keys().filter(|child| uses(child)).cloned());
        named.remove(of);
        named.remove(&Module::new());
        known.insert(of.clone(), named);
    }
    known
}

/// The modules that can be reached from `from`.
fn reach<'a>(known: &'a BTreeMap<Module, BTreeSet<Module>>, from: &'a Module) -> BTreeSet<&'a Module> {
    let (mut seen, mut next) = (BTreeSet::new(), vec![from]);
    while let Some(module) = next.pop() {
        let new = known.get(module).into_iter().flatten().filter(|to| seen.insert(*to)).collect::<Vec<_>>();
        next.extend(new);
    }
    seen
}

#[test]
fn paths_are_taken_apart() {
    let found = paths("use crate::a::{self, B, c::{D, E}};\nsuper::f(1); pub(in crate::x) fn g()");
    let words: Vec<String> = found.iter().map(|path| path.join(" ")).collect();
    assert_eq!(words, ["crate a self", "crate a B", "crate a c D", "crate a c E", "super f"]);
}

#[test]
fn the_rooms_of_the_window_know_only_those_below_them_and_no_view_knows_another() {
    let room = |module: &Module| {
        let name = module.get(1).filter(|_| module[0] == "app")?;
        ROOMS.iter().find(|(room, _)| room == name).copied()
    };
    let mut seen = BTreeSet::new();
    for (from, named) in knowledge() {
        let Some((name, height)) = room(&from) else { continue };
        for to in named {
            if let Some((_, other)) = room(&to) {
                assert!(other <= height, "{from:?} knows {to:?}, which is above it");
                seen.insert(name);
            }
            // The frame is the window's own; nothing below it knows the window.
            assert!(to != ["app"] || name == "shell", "{from:?} knows the window");
            let view = |module: &Module| module.get(2).cloned().filter(|_| module[1] == "views");
            if to[0] == "app" && to.len() > 1 && to[1] == "views" && name == "views" {
                assert!(view(&from).is_none() || view(&from) == view(&to), "{from:?} knows {to:?}, another view");
            }
        }
    }
    assert_eq!(seen.len(), ROOMS.len(), "{seen:?}");
}

#[test]
fn names_that_are_passed_on_are_told_from_names_that_are_used() {
    let (passed, rest) = passed_on("mod a;\npub use a::{B, C};\npub(super) use crate::d::E;\nuse f::G;\nfn g() {}\n");
    assert_eq!(
        (passed, rest.as_str()),
        (vec!["a::{B, C};".into(), "crate::d::E;".into()], "mod a;\n\n\nuse f::G;\nfn g() {}\n")
    );
}

/// The circles of modules of a floor, each once.
fn circles(known: &BTreeMap<Module, BTreeSet<Module>>, floor: &str) -> BTreeSet<Vec<Module>> {
    let of_floor = known.keys().filter(|module| module.first().is_some_and(|name| name == floor));
    let circle = |module: &Module| -> Vec<Module> {
        reach(known, module).into_iter().filter(|other| reach(known, other).contains(module)).cloned().collect()
    };
    of_floor.map(circle).filter(|circle| circle.len() > 1).collect()
}

#[test]
fn no_circle_of_the_window_is_larger_than_a_reader_holds_in_mind() {
    let found = circles(&knowledge(), "app");
    for circle in &found {
        assert!(circle.len() <= CIRCLE_MAX, "a circle of {}: {circle:#?}", circle.len());
    }
    // A scan that finds none proves nothing: a command and its table know each other.
    assert!(!found.is_empty());
}

#[test]
fn no_floor_but_the_window_has_a_circle() {
    let known = knowledge();
    for (floor, one, other) in [
        ("domain", "catalog", "part"),
        ("physics", "frequency", "interpolate"),
        ("sizing", "size", "rank"),
        ("files", "load", "companions"),
        ("cli", "size", "write"),
    ] {
        assert_eq!(circles(&known, floor), BTreeSet::new(), "{floor}");
        // A scan that sees no way proves nothing.
        let module = |name: &str| vec![floor.to_owned(), name.to_owned()];
        assert!(known[&module(one)].contains(&module(other)), "{floor}");
    }
}
