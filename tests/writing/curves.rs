//! `refarad curves`: the file holds what the library works out, on every axis.

use std::collections::HashMap;

use refarad::domain::Can;
use refarad::files::load::load;
use refarad::sizing::PositionContext;
use refarad::sizing::curves::{Axis, CurvePoint, curve_set};

use crate::{demo, refarad, rows, text};

/// Two parts of the invented demo catalogue that come into question at C5.
const PARTS: [&str; 2] = ["HERONSGATE-16-2200U", "TALUS-16-3300U"];

fn cell(row: &HashMap<String, String>, column: &str) -> Option<f64> {
    let text = &row[column];
    if text.is_empty() { None } else { Some(text.parse().unwrap()) }
}

/// As a figure is written: to twelve digits.
fn written(value: Option<f64>) -> Option<f64> {
    value.map(|value| format!("{value:.11e}").parse().unwrap())
}

fn assert_same(row: &HashMap<String, String>, point: &CurvePoint) {
    let known = [
        ("life_uncapped_h", point.life_uncapped_h),
        ("years", point.years),
        ("years_low", point.low_years),
        ("years_high", point.high_years),
    ];
    for (column, expected) in known {
        assert_eq!(cell(row, column), written(expected), "{column} of {row:?}");
    }
}

#[test]
fn the_file_holds_the_figures_of_the_library_on_every_axis() {
    let (folder, job_path) = demo();
    let loaded = load(&job_path, &[]).unwrap();
    let catalog = loaded.catalog_index.catalog();
    let (id, _) = loaded.job.positions().find(|(_, position)| position.reference == "C5").unwrap();
    let place = PositionContext::new(&loaded.job, catalog, id).unwrap();
    let cans: Vec<(String, Can)> =
        PARTS.iter().map(|name| ((*name).to_owned(), catalog.can(catalog.find(name).unwrap()))).collect();
    let axes = [
        ("ambient", Axis::Ambient, ["40", "80"]),
        ("ripple", Axis::Ripple, ["0", "2"]),
        ("voltage", Axis::Voltage, ["1", "15"]),
        ("hours", Axis::Hours, ["1000", "8000"]),
    ];
    for (word, axis, [from, to]) in axes {
        let out = folder.path().join(format!("{word}.csv"));
        let parts = PARTS.join(",");
        let done = refarad(&[
            "curves",
            text(&job_path),
            "--ref",
            "C5",
            "--candidates",
            &parts,
            "--against",
            word,
            "--from",
            from,
            "--to",
            to,
            "--steps",
            "4",
            "--out",
            text(&out),
        ]);
        assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
        let [low, high]: [f64; 2] = [from.parse().unwrap(), to.parse().unwrap()];
        let xs: Vec<f64> = (0..=4).map(|at| low + (high - low) * f64::from(at) / 4.0).collect();
        let set = curve_set(&place, axis, &xs, &cans);
        let rows = rows(&out);
        let of = |part: &str, kind: &str| -> Vec<&HashMap<String, String>> {
            rows.iter().filter(|row| row["part_number"] == part && row["kind"] == kind).collect()
        };
        for curve in &set.curves {
            let drawn = of(&curve.name, "curve");
            assert_eq!(drawn.len(), 5, "{word}");
            for ((row, point), x) in drawn.iter().zip(&curve.points).zip(&xs) {
                assert_eq!(cell(row, axis.column()), written(Some(*x)));
                assert_eq!((row["ref"].as_str(), cell(row, "target_years")), ("C5", written(set.target_years)));
                assert_same(row, point);
            }
            let phases = of(&curve.name, "phase");
            assert_eq!(phases.len(), 3);
            assert!(phases.iter().zip(&curve.in_phases).all(|(row, point)| cell(row, "years") == written(point.years)));
            assert_same(of(&curve.name, "duty")[0], &curve.at_duty);
        }
        // The curves say something: there are years, and they bend along the axis unless the policy keeps voltage out of the life.
        let bends = |points: &[CurvePoint]| {
            points
                .windows(2)
                .any(|pair| (pair[0].life_uncapped_h, pair[0].years) != (pair[1].life_uncapped_h, pair[1].years))
        };
        assert!(set.curves.iter().all(|curve| curve.points.iter().all(|point| point.years.is_some())), "{word}");
        assert_eq!(set.curves.iter().any(|curve| bends(&curve.points)), axis != Axis::Voltage, "{word}");
    }
}

#[test]
fn a_part_or_a_position_that_is_not_there_is_named() {
    let (folder, job_path) = demo();
    let out = folder.path().join("curves.csv");
    let call = |reference: &str, parts: &str| {
        let args = ["curves", text(&job_path), "--ref", reference, "--candidates", parts, "--out", text(&out)];
        let done = refarad(&args);
        assert!(!done.status.success());
        String::from_utf8_lossy(&done.stderr).into_owned()
    };
    assert!(call("C5", "NO-SUCH-PART").contains("NO-SUCH-PART"));
    assert!(call("C999", PARTS[0]).contains("C999"));
    assert!(!out.exists());
}

#[test]
fn a_plot_for_paper_is_written_with_verdicts_and_before_the_limit_where_asked() {
    let (folder, job) = demo();
    let [svg, png] = ["life.svg", "life.png"].map(|name| folder.path().join(name));
    let call = |plot: &std::path::Path, more: &[&str]| {
        let mut args = vec!["curves", text(&job), "--ref", "C5", "--plot", text(plot)];
        args.extend(more);
        refarad(&args)
    };
    assert!(call(&svg, &[]).status.success());
    let drawn = std::fs::read_to_string(&svg).unwrap();
    for wanted in
        ["Dome cabinet rebuild, Supply C5", "HERONSGATE-16-2200U: pass", "original: ", "Life, years", "up to the"]
    {
        assert!(drawn.contains(wanted), "{wanted}");
    }
    assert!(call(&svg, &["--uncapped"]).status.success());
    assert!(std::fs::read_to_string(&svg).unwrap().contains("before the calendar life limit"));
    let pixels = call(&png, &["--candidates", &PARTS.join(",")]);
    if cfg!(feature = "window") {
        assert!(pixels.status.success() && std::fs::read(&png).unwrap().starts_with(b"\x89PNG"));
    } else {
        assert_eq!(pixels.status.code(), Some(2), "what draws pixels is part of the window");
    }
    let refused = call(&folder.path().join("life.pdf"), &[]);
    assert_eq!(refused.status.code(), Some(2), "{}", String::from_utf8_lossy(&refused.stderr));
}
