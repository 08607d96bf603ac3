//! GUIDE.md names every field of the files, every column written and every option of the calls.

use std::collections::BTreeSet;
use std::sync::atomic::AtomicBool;

use refarad::domain::schema::{self, About, Absent, Kind};
use refarad::domain::{Policy, Unit};
use refarad::files::load::load_demo;
use refarad::files::{curves, export, job, order, parts_writer, purchase, unit_table};
use refarad::sizing::curves::{Axis, curve_set};
use refarad::sizing::{OrderOptions, PositionContext, size};
use serde_json::Value;

const GUIDE: &str = include_str!("../../src/app/views/help/GUIDE.md");

/// What stands in backticks in the first cells of the tables under `### heading` (or in the whole row, for columns).
/// The name of a field in its own object.
fn name(about: &About) -> &'static str {
    about.path.rsplit('.').next().unwrap_or(about.path)
}

fn told(heading: &str) -> BTreeSet<String> {
    let start = format!("\n### {heading}\n");
    let at = GUIDE.find(&start).unwrap_or_else(|| panic!("no heading {heading}")) + start.len();
    let section = GUIDE[at..].split("\n#").next().unwrap();
    let rows = section.lines().filter(|line| line.starts_with("| `"));
    let names = rows.flat_map(|row| {
        let first = row.trim_start_matches('|').split('|').next().unwrap();
        first.split('`').skip(1).step_by(2).map(str::to_owned).collect::<Vec<_>>()
    });
    names.collect()
}

/// The declarations of everything a job file holds.
const DECLARATIONS: [&str; 9] = [
    include_str!("../../src/domain/job.rs"),
    include_str!("../../src/domain/policy.rs"),
    include_str!("../../src/domain/uncertainty.rs"),
    include_str!("../../src/domain/shelf.rs"),
    include_str!("../../src/domain/board.rs"),
    include_str!("../../src/domain/position.rs"),
    include_str!("../../src/domain/conditions.rs"),
    include_str!("../../src/domain/unit.rs"),
    include_str!("../../src/domain/other_part.rs"),
];

/// Every type of a job file that is declared by itself, with its fields as the file names them; the others are made of their rows.
fn declared() -> Vec<(String, Vec<String>)> {
    let mut types = Vec::new();
    for source in DECLARATIONS {
        let mut serialised = false;
        let mut renamed: Option<String> = None;
        // What stands in `records!` is in the file.
        let mut indent = "";
        for line in source.lines() {
            let text = line.trim();
            if let "records! {" | "}" = line {
                indent = if line == "}" { "" } else { "    " };
            }
            let line = line.strip_prefix(indent).unwrap_or(line);
            if text.starts_with("#[derive(") {
                serialised = text.contains("Serialize");
            } else if let Some(name) = line.strip_prefix("pub struct ").and_then(|rest| rest.strip_suffix(" {")) {
                // The fields of what is not in the file are nobody's.
                types.push((
                    if serialised || !indent.is_empty() { name.to_owned() } else { "Id".to_owned() },
                    Vec::new(),
                ));
            } else if let Some(name) = text.strip_prefix("#[serde(rename = \"") {
                renamed = name.split('"').next().map(str::to_owned);
            } else if let Some((name, _)) = line.strip_prefix("    pub ").and_then(|rest| rest.split_once(": "))
                && name.bytes().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == b'_')
            {
                let name = renamed.take().unwrap_or_else(|| name.to_owned());
                // Both are written in the place of their own fields.
                if let Some((_, fields)) = types.last_mut().filter(|_| name != "extra" && name != "can") {
                    fields.push(name);
                }
            }
        }
    }
    types
}

/// `RippleLine` stands under "Ripple line".
fn heading(name: &str) -> String {
    let mut out = String::new();
    for (at, c) in name.chars().enumerate() {
        match (at, c.is_uppercase()) {
            (0, _) | (_, false) => out.push(c),
            _ => out.extend([' ', c.to_ascii_lowercase()]),
        }
    }
    if out == "Shelf stock" { "Shelf".to_owned() } else { out }
}

#[test]
fn the_guide_names_every_field_of_a_job_file_under_its_type() {
    let types = declared();
    for known in ["Job", "Policy", "Uncertainty", "Board", "Position", "Original", "Needs", "Conditions"] {
        assert!(types.iter().any(|(name, fields)| name == known && fields.len() > 1), "{known}: {types:?}");
    }
    for (name, fields) in types.iter().filter(|(name, _)| !name.ends_with("Id")) {
        let told = told(&heading(name));
        let owner = TABLES.iter().find(|(of, _)| *of == heading(name)).map(|(_, owner)| *owner);
        for field in fields {
            assert!(told.contains(field), "GUIDE.md, ### {}: the field {field} is missing", heading(name));
            let path = owner.map(|owner| format!("{owner}.{field}").trim_start_matches('.').to_owned());
            assert!(
                path.is_none_or(|path| schema::find(&path).is_some()),
                "{name}: domain/schema has no row for {field}"
            );
        }
    }
}

/// The tables of fields: heading, and the path of the object they belong to.
const TABLES: [(&str, &str); 26] = [
    ("Job", "job"),
    ("Policy", "policy"),
    ("Uncertainty", "uncertainty"),
    ("Shelf", "shelf"),
    ("Unit at bench", "bench"),
    ("Position record", "bench.positions"),
    ("Reading", "bench.positions.before"),
    ("Variant", "variants"),
    ("Board", "board"),
    ("Conditions", "board.conditions"),
    ("Position", ""),
    ("Original", "original"),
    ("Figures of a part", "can"),
    ("Catalogue only", "part"),
    ("Stress", "stress"),
    ("Ripple line", "stress.ripple"),
    ("Ripple origin", "stress.ripple_from"),
    ("Phase", "stress.phases"),
    ("Needs", "needs"),
    ("Space", "space"),
    ("Measured", "measured"),
    ("Other part", "other_parts"),
    ("Other original", "other_parts.original"),
    ("Replacement", "other_parts.replacement"),
    ("Test point", "test_points"),
    ("Unit type", "unit_types"),
];

/// The fields of a table as the schema has them.
fn of_table(owner: &str) -> Vec<&'static About> {
    let figures = || schema::of_part().map(|field| &field.about);
    if owner == "can" {
        return figures().collect();
    }
    let own = schema::all().filter(|about| {
        let path = about.path.rsplit_once('.').map_or("", |(owner, _)| owner);
        path == owner || (owner == "part" && path == "offer")
    });
    own.filter(|about| owner != "original" || figures().all(|figure| figure.path != name(about))).collect()
}

/// The unit of the number in a file.
fn in_files(unit: Unit) -> &'static str {
    match unit {
        Unit::Share => "share",
        Unit::AirSpeed => "ft/min",
        Unit::Piece => "pieces",
        Unit::Money => "currency",
        other => other.symbol(),
    }
}

/// The row of a field in the guide.
fn row(about: &About) -> String {
    let unit = match about.kind {
        Kind::Number(unit, _) => in_files(unit),
        Kind::Points(..) => "mm",
        _ => "",
    };
    let absent = match about.absent {
        Absent::Unknown => "unknown".to_owned(),
        Absent::UnknownBut(more) => format!("unknown: {more}"),
        Absent::Assumed(words) => format!("{words} (assumed)"),
        Absent::Nothing(words) | Absent::Derived(words) => words.to_owned(),
        Absent::Default => serde_json::to_value(Policy::default()).unwrap()[name(about)].to_string(),
    };
    let words = match about.kind {
        Kind::Word(words) | Kind::Words(words) => format!("`{}`: ", words.join("`, `")),
        _ => String::new(),
    };
    let mut meaning = about.meaning.trim_end_matches('.').to_owned();
    if words.is_empty()
        && !meaning.starts_with(|c: char| c.is_uppercase() && meaning[1..].starts_with(char::is_uppercase))
    {
        let first = meaning.remove(0);
        meaning.insert_str(0, &first.to_lowercase().to_string());
    }
    format!("| `{}` | {unit} | {absent} | {words}{meaning} |", name(about))
}

/// `REFARAD_WRITE_GUIDE=1 cargo test --test reading guide` writes the tables anew.
#[test]
fn the_tables_of_fields_are_those_of_the_schema() {
    let mut guide = GUIDE.to_owned();
    for (heading, owner) in TABLES {
        let start = guide.find(&format!("\n### {heading}\n")).unwrap_or_else(|| panic!("no heading {heading}"));
        let end = guide[start + 5..].find("\n#").map_or(guide.len(), |at| start + 5 + at);
        let section = guide[start..end].to_owned();
        let fields = of_table(owner);
        assert!(!fields.is_empty(), "{heading}");
        // What is of the file and not of the job, such as its version, stays.
        let known = |line: &str| fields.iter().any(|about| line.starts_with(&format!("| `{}` |", name(about))));
        let mut rows = fields.iter().map(|about| row(about));
        let mut written = Vec::new();
        for line in section.lines() {
            if line.starts_with("|---") {
                written.push(line.to_owned());
                let of_file: Vec<_> = section.lines().filter(|l| l.starts_with("| `") && !known(l)).collect();
                written.extend(of_file.iter().map(|line| (*line).to_owned()));
                written.extend(rows.by_ref());
            } else if !line.starts_with("| `") {
                written.push(line.to_owned());
            }
        }
        let mut written = written.join("\n");
        if section.ends_with('\n') {
            written.push('\n');
        }
        guide.replace_range(start..end, &written);
    }
    if guide != GUIDE && std::env::var_os("REFARAD_WRITE_GUIDE").is_some() {
        std::fs::write(concat!(env!("CARGO_MANIFEST_DIR"), "/src/app/views/help/GUIDE.md"), &guide).unwrap();
        return;
    }
    let differing = guide.lines().zip(GUIDE.lines()).find(|(now, was)| now != was);
    assert!(guide == GUIDE, "the schema says: {differing:?}; REFARAD_WRITE_GUIDE=1 writes the guide's tables anew");
}

#[test]
fn every_field_of_the_demo_is_named() {
    fn walk(value: &Value, names: &mut BTreeSet<String>) {
        match value {
            Value::Object(fields) => fields.iter().for_each(|(name, value)| {
                names.insert(name.clone());
                walk(value, names);
            }),
            Value::Array(items) => items.iter().for_each(|item| walk(item, names)),
            _ => {}
        }
    }
    let mut names = BTreeSet::new();
    walk(&serde_json::from_str(&job::to_text(&load_demo().unwrap().job)).unwrap(), &mut names);
    let chapter = GUIDE.split("\n## ").find(|chapter| chapter.starts_with("Fields\n")).unwrap();
    for name in names {
        assert!(chapter.contains(&format!("| `{name}` |")), "{name}");
    }
}

#[test]
fn the_defaults_of_the_policy_are_those_the_guide_prints() {
    let Value::Object(policy) = serde_json::to_value(Policy::default()).unwrap() else { panic!() };
    for (name, default) in policy {
        let row = GUIDE.lines().find(|line| line.starts_with(&format!("| `{name}` |"))).unwrap();
        let printed = row.split('|').nth(3).unwrap().trim();
        let agrees = match default.as_f64() {
            Some(default) => printed.parse() == Ok(default),
            None => printed.parse::<bool>().ok() == default.as_bool(),
        };
        assert!(agrees, "{name}: {printed} is printed, {default} is used");
    }
}

fn header(write: impl FnOnce(&mut Vec<u8>) -> csv::Result<()>) -> BTreeSet<String> {
    let mut bytes = Vec::new();
    write(&mut bytes).unwrap();
    csv::Reader::from_reader(&bytes[..]).headers().unwrap().iter().map(str::to_owned).collect()
}

#[test]
fn the_guide_names_every_column_of_every_table_and_no_other() {
    let loaded = load_demo().unwrap();
    let (job, catalog_index) = (&loaded.job, &loaded.catalog_index);
    let sizing = size(job, catalog_index);
    let bought = refarad::sizing::purchase(job, catalog_index, &sizing, None);
    let constraints = OrderOptions::default();
    let ordered = refarad::sizing::order(job, catalog_index, &constraints, &AtomicBool::new(false), &mut |_| {});
    let ordered = ordered.unwrap();
    let place = PositionContext::new(job, catalog_index.catalog(), job.positions().next().unwrap().0).unwrap();
    let drawn = curve_set(&place, Axis::Ambient, &[], &[]);

    let parts = header(|out| parts_writer::write(out, &[], false));
    assert_eq!(told("Figures of a part").union(&told("Catalogue only")).cloned().collect::<BTreeSet<_>>(), parts);
    assert_eq!(told("selection.csv"), header(|out| export::selection(out, job, catalog_index, &sizing)));
    assert_eq!(told("candidates.csv"), header(|out| export::candidates(out, job, catalog_index, &sizing, false)));
    assert_eq!(told("purchase.csv"), header(|out| purchase::csv(out, job, &bought)));
    assert_eq!(told("rejected.csv"), header(|out| export::rejected(out, &[])));
    assert_eq!(told("order_picks.csv"), header(|out| order::picks(out, job, catalog_index, &ordered)));
    assert_eq!(told("order_steps.csv"), header(|out| order::steps(out, job, catalog_index, &ordered)));
    assert_eq!(told("Curves"), header(|out| curves::write(out, "", "", &drawn)));
    assert_eq!(told("Record of the units"), unit_table::column_names().iter().map(|&name| name.to_owned()).collect());
}

/// Words of the form `--option` in a text.
fn options(text: &str) -> BTreeSet<String> {
    let starts = text.split("--").skip(1).map(|rest| {
        let end = rest.find(|c: char| !(c.is_ascii_lowercase() || c == '-')).unwrap_or(rest.len());
        rest[..end].to_owned()
    });
    starts.filter(|name| !name.is_empty()).collect()
}

#[test]
fn the_guide_names_every_call_and_option_and_no_other() {
    let section = |heading: &str| {
        let at = GUIDE.find(&format!("\n### {heading}\n")).unwrap() + heading.len() + 6;
        GUIDE[at..].split("\n#").next().unwrap()
    };
    let shell = GUIDE.split("\n## ").find(|chapter| chapter.starts_with("The shell")).unwrap();
    let of_call = |row: &&str, call: &str| {
        let named = row.trim_start_matches("| ").split(" |").next().unwrap_or_default();
        named.split(", ").any(|name| name == call)
    };
    for (call, command) in crate::calls::every() {
        assert!(shell.contains(&format!("| `refarad {call} ")), "{call}");
        let rows = section("Options").lines().filter(|row| of_call(row, &call));
        let known = crate::calls::options(&command).filter_map(|option| option.get_long().map(str::to_owned)).collect();
        assert_eq!(rows.flat_map(options).collect::<BTreeSet<_>>(), known, "{call}");
    }
}

#[test]
fn the_guide_gives_the_cautions_of_window_and_sheets_word_for_word() {
    use refarad::domain::safety::{NO_CAUTION, STEPS, WHO_DECIDES};
    for (at, (word, text)) in STEPS.iter().enumerate() {
        assert!(GUIDE.contains(&format!("\n{}. **{word}** {text}\n", at + 1)), "{word}");
    }
    assert!(GUIDE.contains(NO_CAUTION) && GUIDE.contains(WHO_DECIDES));
}
