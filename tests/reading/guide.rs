//! GUIDE.md names every field of the files, every column written, every option of the calls, and no other.

use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;
use std::sync::atomic::AtomicBool;

use refarad::domain::{
    Board, CAN_NUMBERS, Can, EnduranceBasis, Extra, Job, Measured, Mounting, Needs, OfferBook, Original, Phase, Policy,
    Position, RippleLine, Role, ShelfStock, Side, Space, Stress, Technology, Uncertainty,
};
use refarad::files::load::load_demo;
use refarad::files::{curves, export, job, order, parts_writer, purchase, unit_table};
use refarad::sizing::curves::{Axis, curve_set};
use refarad::sizing::{Place, Wishes, size};
use serde_json::Value;

const GUIDE: &str = include_str!("../../GUIDE.md");

/// What stands in backticks in the first cells of the tables under `### heading` (or in the whole row, for columns).
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

fn names(value: &Value) -> BTreeSet<String> {
    value.as_object().unwrap().keys().cloned().collect()
}

/// A job in which every field of every type has a value. A field that is added does not compile here until it is filled in,
/// and then the guide must tell of it.
fn full_job() -> Job {
    let table = || "85:1.7;65:2.1".parse().ok();
    let mut can = Can {
        technology: Some(Technology::Wet),
        mounting: Some(Mounting::Radial),
        endurance_basis: Some(EnduranceBasis::Ripple),
        ripple_temp_factors: table(),
        ..Can::default()
    };
    can.numbers_mut().into_iter().for_each(|slot| *slot = Some(1.0));
    let text = || Some("x".to_owned());
    let stress = Stress {
        dc_v: Some(1.0),
        ripple_peak_v: Some(1.0),
        transient_v: Some(1.0),
        min_v: Some(0.0),
        ripple: Some(vec![RippleLine { hz: Some(1.0), a: Some(1.0), extra: Extra::new() }]),
        phases: Some(vec![Phase {
            name: text(),
            share: Some(1.0),
            ambient_c: Some(1.0),
            ripple_scale: Some(1.0),
            extra: Extra::new(),
        }]),
        ambient_min_c: Some(1.0),
        airflow_lfm: Some(1.0),
        extra: Extra::new(),
    };
    let needs = Needs {
        capacitance_min_uf: Some(1.0),
        capacitance_max_uf: Some(1.0),
        esr_max_mohm: Some(1.0),
        esr_min_mohm: Some(1.0),
        esr_hz: Some(1.0),
        esr_cold_max_mohm: Some(1.0),
        leakage_max_ua: Some(1.0),
        life_h: Some(1.0),
        extra: Extra::new(),
    };
    let space = Space {
        diameter_max_mm: Some(1.0),
        height_max_mm: Some(1.0),
        pitch_mm: Some(1.0),
        pitch_reach_mm: Some(1.0),
        hole_mm: Some(1.0),
        accepts: Some(vec![Mounting::Radial]),
        extra: Extra::new(),
    };
    let measured = Measured {
        capacitance_uf: Some(1.0),
        esr_mohm: Some(1.0),
        esr_hz: Some(1.0),
        date: text(),
        note: text(),
        extra: Extra::new(),
    };
    let position = Position {
        reference: "C1".into(),
        role: Some(Role::Reservoir),
        role_assumed: true,
        x_mm: Some(1.0),
        y_mm: Some(1.0),
        rotation_deg: Some(1.0),
        side: Some(Side::Top),
        original: Original { label: text(), can, made_year: Some(1996.0), extra: Extra::new() },
        stress,
        needs,
        space,
        measured: Some(measured),
        parallel_group: text(),
        series_group: text(),
        pick: text(),
        note: text(),
        extra: Extra::new(),
    };
    let board = Board {
        name: "x".into(),
        per_unit: Some(1.0),
        photo: text(),
        photo_corners_mm: Some([[0.0; 2]; 4]),
        photo_opacity_pct: Some(60.0),
        photo_side: Some(Side::Top),
        outline_mm: Some([1.0; 2]),
        holes_mm: vec![[1.0; 3]],
        keepouts_mm: vec![[1.0; 4]],
        lid_mm: Some(1.0),
        positions: vec![position],
        extra: Extra::new(),
    };
    Job {
        name: "x".into(),
        units: Some(1.0),
        spare_pct: Some(1.0),
        hours_per_year: Some(1.0),
        interval_years: Some(1.0),
        line_cost: Some(1.0),
        currency: text(),
        teardown_cost: Some(1.0),
        catalogs: vec!["x".into()],
        offers: vec!["x".into()],
        currency_rates: BTreeMap::from([("USD".to_owned(), 1.0)]),
        shelf: vec![ShelfStock { part_number: "x".into(), qty: Some(1.0), date_code: text(), extra: Extra::new() }],
        must_use: vec!["x".into()],
        never_use: vec!["x".into()],
        prefer_makers: vec!["x".into()],
        prefer_worth: Some(1.0),
        second_source: Some(true),
        policy: Policy { count_voltage_derating: true, ..Policy::default() },
        uncertainty: Some(Uncertainty {
            ambient_sigma_k: Some(1.0),
            ripple_sigma_rel: Some(1.0),
            endurance_sigma_rel: Some(1.0),
            samples: Some(1),
            seed: Some(1),
            extra: Extra::new(),
        }),
        boards: vec![board],
        extra: Extra::new(),
    }
}

#[test]
fn the_guide_names_every_field_of_a_job_file_and_no_other() {
    let file: Value = serde_json::from_str(&job::to_text(&full_job())).unwrap();
    let board = &file["boards"][0];
    let position = &board["positions"][0];
    assert_eq!(told("Job"), names(&file));
    assert_eq!(told("Policy"), names(&file["policy"]));
    assert_eq!(told("Uncertainty"), names(&file["uncertainty"]));
    assert_eq!(told("Shelf"), names(&file["shelf"][0]));
    assert_eq!(told("Board"), names(board));
    assert_eq!(told("Position"), names(position));
    assert_eq!(
        told("Original").union(&told("Figures of a part")).cloned().collect::<BTreeSet<_>>(),
        names(&position["original"])
    );
    assert_eq!(told("Stress"), names(&position["stress"]));
    assert_eq!(told("Ripple line"), names(&position["stress"]["ripple"][0]));
    assert_eq!(told("Phase"), names(&position["stress"]["phases"][0]));
    assert_eq!(told("Needs"), names(&position["needs"]));
    assert_eq!(told("Space"), names(&position["space"]));
    assert_eq!(told("Measured"), names(&position["measured"]));
    assert!(CAN_NUMBERS.iter().all(|field| told("Figures of a part").contains(field.name)));
}

#[test]
fn the_defaults_of_the_policy_are_those_the_guide_prints() {
    let Value::Object(policy) = serde_json::to_value(Policy::default()).unwrap() else { panic!() };
    for (name, default) in policy {
        let row = GUIDE.lines().find(|line| line.starts_with(&format!("| `{name}` |"))).unwrap();
        let printed = row.split('|').nth(3).unwrap().trim();
        let agrees = default.as_f64().map_or(printed == default.to_string(), |default| printed.parse() == Ok(default));
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
    let (job, market) = (&loaded.job, &loaded.market);
    let sizing = size(job, market);
    let bought = refarad::sizing::purchase(job, market, &sizing, &OfferBook::default(), None);
    let wishes = Wishes { keep_picks: true, ..Wishes::default() };
    let ordered =
        refarad::sizing::order(job, market, &OfferBook::default(), &wishes, &AtomicBool::new(false), &mut |_| {});
    let ordered = ordered.unwrap();
    let place = Place::new(job, market.catalog(), job.positions().next().unwrap().0).unwrap();
    let drawn = curve_set(&place, Axis::Ambient, &[], &[]);

    let parts = header(|out| parts_writer::write(out, &[]));
    assert_eq!(told("Figures of a part").union(&told("Catalogue only")).cloned().collect::<BTreeSet<_>>(), parts);
    assert_eq!(told("selection.csv"), header(|out| export::selection(out, job, market, &sizing)));
    assert_eq!(told("candidates.csv"), header(|out| export::candidates(out, job, market, &sizing, false)));
    assert_eq!(told("purchase.csv"), header(|out| purchase::csv(out, job, &bought)));
    assert_eq!(told("rejected.csv"), header(|out| export::rejected(out, &[])));
    assert_eq!(told("order_picks.csv"), header(|out| order::picks(out, job, market, &ordered)));
    assert_eq!(told("order_steps.csv"), header(|out| order::steps(out, job, market, &ordered)));
    assert_eq!(told("Curves"), header(|out| curves::write(out, "", "", &drawn)));
    assert_eq!(told("Record of the units"), unit_table::COLUMNS.iter().map(|&name| name.to_owned()).collect());
}

/// Words of the form `--option` in a text.
fn options(text: &str) -> BTreeSet<String> {
    let starts = text.split("--").skip(1).map(|rest| {
        let end = rest.find(|c: char| !(c.is_ascii_lowercase() || c == '-')).unwrap_or(rest.len());
        rest[..end].to_owned()
    });
    starts.filter(|name| !name.is_empty() && name != "help" && name != "version").collect()
}

#[test]
fn the_guide_names_every_call_and_option_and_no_other() {
    let section = |heading: &str| {
        let at = GUIDE.find(&format!("\n### {heading}\n")).unwrap() + heading.len() + 6;
        GUIDE[at..].split("\n#").next().unwrap()
    };
    let help = |call: &[&str]| {
        let output = Command::new(env!("CARGO_BIN_EXE_refarad")).args(call).arg("--help").output().unwrap();
        String::from_utf8(output.stdout).unwrap()
    };
    let calls = |text: &str| -> BTreeSet<String> {
        let listed = text.split("Commands:").nth(1).unwrap_or_default();
        let named = listed.lines().skip(1).take_while(|line| !line.trim().is_empty());
        let named = named.filter(|line| line.starts_with("  ") && !line.starts_with("   "));
        let named = named.map(|line| line.split_whitespace().next().unwrap().to_owned());
        named.filter(|name| name != "help").collect()
    };
    let shell = GUIDE.split("\n## ").find(|chapter| chapter.starts_with("The shell")).unwrap();
    for call in calls(&help(&[])) {
        assert!(shell.contains(&format!("| `refarad {call} ")), "{call}");
        let below = calls(&help(&[&call]));
        for name in &below {
            assert!(shell.contains(&format!("| `refarad {call} {name} ")), "{call} {name}");
        }
        let nested = below.iter().flat_map(|name| options(&help(&[&call, name])));
        let known: BTreeSet<String> = options(&help(&[&call])).into_iter().chain(nested).collect();
        let rows = section("Options").lines().filter(|row| {
            let name = row.trim_start_matches("| ").split(" |").next().unwrap_or_default();
            name.split(' ').next() == Some(&call)
        });
        assert_eq!(rows.flat_map(options).collect::<BTreeSet<_>>(), known, "{call}");
    }
}
