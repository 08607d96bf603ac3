//! Of `files/life_plot.rs`: the plot of life for paper.

use super::*;
use crate::domain::Assumed;
use crate::sizing::curves::{CurvePoint, Mark};

/// Curves that lie at these lives, h, at 3000 h a year, capped at 15 years.
fn set(lives_h: &[f64]) -> CurveSet {
    let curve = |(at, life_h): (usize, &f64)| {
        let point = |x: f64| {
            let years = (life_h / 3000.0).min(15.0);
            let all = Some(years);
            CurvePoint { x, life_uncapped_h: Some(*life_h), years: all, low_years: all, high_years: all }
        };
        let points = (0..=20).map(|n| point(f64::from(n))).collect();
        Curve { name: format!("P<{at}>"), points, at_duty: point(0.0), ..Curve::default() }
    };
    let curves = lives_h.iter().enumerate().map(curve).collect();
    CurveSet { axis: Axis::Ambient, curves, marks: Vec::new(), target_years: Some(10.0), remarks: Vec::new() }
}

fn text(uncapped: bool, verdicts: &[Outcome]) -> PlotText {
    let evaluations = verdicts.iter().map(|&verdict| Some(Evaluation { verdict, ..Evaluation::default() })).collect();
    PlotText { uncapped, hours_per_year: Some(3000.0), evaluations, ..PlotText::default() }
}

#[test]
fn lives_above_the_cap_differ_once_it_is_left_out_and_equal_curves_are_told() {
    let two = set(&[139_322.0, 272_854.0]);
    let capped = svg(&two, &text(false, &[]));
    assert!(capped.contains("lies on the curve of P&lt;0&gt;") && capped.contains(">= P&lt;1&gt;"));
    let free = svg(&two, &text(true, &[]));
    assert!(
        !free.contains("lies on the curve") && free.contains("(46.4 years") && free.contains("(91 years"),
        "{free}"
    );
    assert!(free.contains("before the calendar life limit"));
}

#[test]
fn a_failing_part_carries_crosses_and_its_verdict_and_twelve_lines_all_differ() {
    let drawn = svg(&set(&[30_000.0, 20_000.0]), &text(false, &[Outcome::Pass, Outcome::Fail]));
    assert!(drawn.contains("fail") && drawn.matches("stroke-width=\"1.60\"").count() > 10);
    assert!(drawn.contains("P&lt;1&gt;") && !drawn.contains("P<1>"));
    let many: Vec<f64> = (1..=14).map(|n| 3000.0 * f64::from(n)).collect();
    let drawn = svg(&set(&many), &text(false, &[]));
    assert!(drawn.contains("P&lt;11&gt;: ") && !drawn.contains("P&lt;12&gt;"));
    assert!(drawn.contains("2 more parts are not drawn."));
    // What is assumed is told in full, once for all that share it.
    let mut assumed = set(&many[..3]);
    assumed.curves[1].assumed.insert(Assumed::CORE_RISE);
    assumed.curves[2].assumed.insert(Assumed::CORE_RISE);
    let drawn = svg(&assumed, &text(false, &[]));
    assert!(drawn.contains("Assumed for P&lt;1&gt;, P&lt;2&gt;: core temperature rise at rated ripple."), "{drawn}");
    let looks: std::collections::HashSet<_> = (0..CURVES_MAX).map(|at| format!("{:?}", look(at, None))).collect();
    assert_eq!(looks.len(), CURVES_MAX);
}

#[test]
fn the_name_of_a_phase_is_told_whole_where_the_plot_has_room_for_it() {
    let mut phases = set(&[30_000.0]);
    let name = "dusk and dawn, dome moving in the wind";
    phases.marks = vec![Mark { name: name.into(), x: 10.0, share: Some(0.15) }];
    let told = |width: f64| {
        let mut out = Vec::new();
        let frame = ([0.0, 0.0, width, 300.0], 11.5, false);
        plot(&mut out, &phases, &text(false, &[]), frame, &|text, size| text.chars().count() as f64 * size * 0.5);
        let words = |shape: &Shape| matches!(shape, Shape::Text { text, .. } if *text == format!("{name} 15 %"));
        out.iter().any(words)
    };
    assert!(told(700.0) && !told(250.0));
}
