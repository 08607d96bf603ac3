//! A plot of life against one condition for paper (SVG): white, with titles, units, assumptions, fixed colours and line styles, a label at each
//! curve's end and the verdict of each part.

use super::notation::escaped;
use crate::domain::{Check, Outcome, style};
use crate::sizing::Evaluation;
use crate::sizing::curves::{Axis, Curve, CurveSet};
use crate::sizing::reasons::check_name;

/// Parts drawn at most: more cannot be told apart.
pub const CURVES_MAX: usize = 12;

/// What stands around the curves.
#[derive(Debug, Clone, Default)]
pub struct PlotText {
    /// The job.
    pub job: String,
    /// Board and position.
    pub place: String,
    /// The day it was drawn; empty when unknown.
    pub date: String,
    /// Energised hours in a year, for years before the cap.
    pub hours_per_year: Option<f64>,
    /// Years before the cap of the calendar life, so that curves above it differ.
    pub uncapped: bool,
    /// How each part fares, in the order of the curves; `None` where nobody judged it.
    pub evaluations: Vec<Option<Evaluation>>,
}

/// Colours by Okabe and Ito (2008), then darker shades of them; with the dashes twelve lines that also differ without colour.
const INKS: [&str; CURVES_MAX] = [
    "#0072B2", "#D55E00", "#009E73", "#CC79A7", "#E69F00", "#56B4E9", "#000000", "#7A4A00", "#004D40", "#6A3D9A",
    "#8C1D18", "#555555",
];
const DASHES: [&str; 4] = ["none", "8 3", "2 2.5", "9 3 2 3"];

const WIDTH: f64 = 960.0;
const HEIGHT: f64 = 640.0;
/// Edges of the area the curves are in.
const LEFT: f64 = 70.0;
const TOP: f64 = 78.0;
const RIGHT: f64 = 780.0;
const BOTTOM: f64 = 420.0;
/// Least distance of two labels at the curves' ends.
const LABEL: f64 = 13.0;

struct Scale {
    x: (f64, f64),
    top_years: f64,
}

impl Scale {
    fn x(&self, x: f64) -> f64 {
        LEFT + (x - self.x.0) / (self.x.1 - self.x.0) * (RIGHT - LEFT)
    }

    fn y(&self, years: f64) -> f64 {
        BOTTOM - (years / self.top_years).min(1.0) * (BOTTOM - TOP)
    }
}

/// The drawing. Curves beyond [`CURVES_MAX`] are named as left out.
#[must_use]
pub fn svg(set: &CurveSet, text: &PlotText) -> String {
    let curves = &set.curves[..set.curves.len().min(CURVES_MAX)];
    let lines: Vec<Vec<(f64, f64)>> = curves.iter().map(|curve| points(curve, text)).collect();
    let xs = || set.curves.iter().flat_map(|curve| &curve.points).map(|point| point.x);
    let (low, high) = (xs().fold(f64::INFINITY, f64::min), xs().fold(f64::NEG_INFINITY, f64::max));
    let most = lines.iter().flatten().map(|point| point.1).chain(set.target_years).fold(1.0, f64::max);
    let x = if low < high { (low, high) } else { (0.0, 1.0) };
    let scale = Scale { x, top_years: most * 1.08 };
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {WIDTH} {HEIGHT}\" width=\"{WIDTH}\" height=\"{HEIGHT}\" font-family=\"Liberation Sans, Arial, Helvetica, sans-serif\" font-size=\"11\">\n<title>{}</title>\n<!-- Written by Refarad -->\n<rect width=\"{WIDTH}\" height=\"{HEIGHT}\" fill=\"#fff\"/>\n",
        escaped(&format!("{}: life against {}", text.place, set.axis.word()))
    );
    head(&mut out, set, text);
    axes(&mut out, set, &scale);
    for (at, (curve, line)) in curves.iter().zip(&lines).enumerate() {
        band(&mut out, curve, at, text.uncapped, &scale);
        let fails = verdict(text, at).is_some_and(|(outcome, _)| outcome == Outcome::Fail);
        draw(&mut out, line, at, fails, &scale);
    }
    labels(&mut out, &lines, &scale);
    legend(&mut out, set, &lines, text);
    out + "</svg>\n"
}

/// Years of a curve, before the cap where that is asked for.
fn points(curve: &Curve, text: &PlotText) -> Vec<(f64, f64)> {
    let hours = text.hours_per_year.filter(|&hours| hours > 0.0 && text.uncapped);
    let known = curve.points.iter().filter_map(|point| {
        let years = match hours {
            Some(hours) => point.life_uncapped_h.map(|life_h| life_h / hours),
            None => point.years,
        };
        Some((point.x, years?))
    });
    known.collect()
}

fn write(out: &mut String, [x, y]: [f64; 2], anchor: &str, more: &str, text: &str) {
    out.push_str(&format!("<text x=\"{x:.1}\" y=\"{y:.1}\" text-anchor=\"{anchor}\"{more}>{}</text>\n", escaped(text)));
}

/// Job, position, day, and what the curves assume.
fn head(out: &mut String, set: &CurveSet, text: &PlotText) {
    write(
        out,
        [LEFT, 22.0],
        "start",
        " font-size=\"15\" font-weight=\"bold\"",
        &format!("{}, {}", text.job, text.place),
    );
    let cap = if text.uncapped { "before the calendar life limit" } else { "up to the calendar life limit" };
    let band = "band of the first part: published laws, not a guarantee";
    write(out, [LEFT, 40.0], "start", "", &format!("Years until the life is used up, {cap}; {band}. {}", text.date));
    let remarks = set.remarks.join(" ");
    write(out, [LEFT, 56.0], "start", " fill=\"#444\"", &remarks);
}

/// A round step that gives about `count` ticks.
fn step(span: f64, count: f64) -> f64 {
    let power = 10f64.powf((span / count).log10().floor());
    let round = [1.0, 2.0, 5.0, 10.0].into_iter().find(|round| round * power >= span / count);
    round.unwrap_or(10.0) * power
}

fn ticks(low: f64, high: f64, count: f64) -> impl Iterator<Item = f64> {
    let step = step(high - low, count);
    let first = (low / step).ceil();
    (0..60).map(move |n| (first + f64::from(n)) * step).take_while(move |&at| at <= high * (1.0 + 1e-12))
}

fn axes(out: &mut String, set: &CurveSet, scale: &Scale) {
    for years in ticks(0.0, scale.top_years, 6.0) {
        let y = scale.y(years);
        out.push_str(&format!("<path d=\"M{LEFT} {y:.1}H{RIGHT}\" stroke=\"#ddd\"/>\n"));
        write(out, [LEFT - 6.0, y + 4.0], "end", "", &style::figure(years));
    }
    for x in ticks(scale.x.0, scale.x.1, 8.0) {
        let at = scale.x(x);
        out.push_str(&format!("<path d=\"M{at:.1} {TOP}V{BOTTOM}\" stroke=\"#eee\"/>\n"));
        write(out, [at, BOTTOM + 15.0], "middle", "", &style::figure(x));
    }
    out.push_str(&format!("<path d=\"M{LEFT} {TOP}V{BOTTOM}H{RIGHT}\" fill=\"none\" stroke=\"#000\"/>\n"));
    let title = match set.axis {
        Axis::Ambient => "Ambient beside the can, °C, the same in every phase",
        Axis::Ripple => "Ripple, as a multiple of what was entered",
        Axis::Voltage => "Operating voltage (DC), V",
        Axis::Hours => "Energised hours per year, h",
    };
    write(out, [(LEFT + RIGHT) / 2.0, BOTTOM + 32.0], "middle", "", title);
    let middle = (TOP + BOTTOM) / 2.0;
    write(out, [20.0, middle], "middle", &format!(" transform=\"rotate(-90 20 {middle})\""), "Life, years");
    for mark in &set.marks {
        let at = scale.x(mark.x);
        let share = mark.share.map_or_else(String::new, |share| format!(" {}", style::percent(share)));
        out.push_str(&format!("<path d=\"M{at:.1} {TOP}V{BOTTOM}\" stroke=\"#888\" stroke-dasharray=\"1 3\"/>\n"));
        let turn = format!(" fill=\"#444\" transform=\"rotate(-90 {:.1} {:.1})\"", at - 3.0, BOTTOM - 4.0);
        write(out, [at - 3.0, BOTTOM - 4.0], "start", &turn, &format!("{}{share}", mark.name));
    }
    if let Some(target) = set.target_years {
        let y = scale.y(target);
        out.push_str(&format!("<path d=\"M{LEFT} {y:.1}H{RIGHT}\" stroke=\"#6A3D9A\" stroke-dasharray=\"6 4\"/>\n"));
        write(
            out,
            [LEFT + 4.0, y - 4.0],
            "start",
            " fill=\"#6A3D9A\"",
            &format!("target {} years", style::figure(target)),
        );
    }
}

/// The band of the first curve; before the cap nobody has one.
fn band(out: &mut String, curve: &Curve, at: usize, uncapped: bool, scale: &Scale) {
    if at > 0 || uncapped {
        return;
    }
    let known = || curve.points.iter().filter_map(|point| Some((point.x, point.low_years?, point.high_years?)));
    let upper = known().map(|(x, _, high)| format!("{:.1},{:.1}", scale.x(x), scale.y(high)));
    let lower: Vec<String> = known().map(|(x, low, _)| format!("{:.1},{:.1}", scale.x(x), scale.y(low))).collect();
    let corners: Vec<String> = upper.chain(lower.into_iter().rev()).collect();
    out.push_str(&format!("<polygon points=\"{}\" fill=\"{}\" fill-opacity=\"0.15\"/>\n", corners.join(" "), INKS[0]));
}

fn dash(at: usize) -> &'static str {
    DASHES[at % DASHES.len()]
}

/// A curve; one of a failing part carries crosses. Each is drawn a little thinner than the one below it, so that equal ones show both.
fn draw(out: &mut String, line: &[(f64, f64)], at: usize, fails: bool, scale: &Scale) {
    let width = 3.4 - 0.2 * at as f64;
    let all: Vec<String> = line.iter().map(|(x, years)| format!("{:.1},{:.1}", scale.x(*x), scale.y(*years))).collect();
    out.push_str(&format!(
        "<polyline points=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{width:.1}\" stroke-dasharray=\"{}\"/>\n",
        all.join(" "),
        INKS[at],
        dash(at)
    ));
    for (x, years) in line.iter().skip(4).step_by(9).filter(|_| fails) {
        out.push_str(&cross(scale.x(*x), scale.y(*years), INKS[at]));
    }
}

fn cross(x: f64, y: f64, ink: &str) -> String {
    format!("<path d=\"M{:.1} {:.1}l7 7m0 -7l-7 7\" stroke=\"{ink}\" stroke-width=\"1.6\"/>\n", x - 3.5, y - 3.5)
}

/// The number of each curve at its right end, moved apart where ends meet.
fn labels(out: &mut String, lines: &[Vec<(f64, f64)>], scale: &Scale) {
    let mut ends: Vec<(usize, f64, f64)> =
        lines.iter().enumerate().filter_map(|(at, line)| line.last().map(|end| (at, scale.y(end.1), end.1))).collect();
    ends.sort_by(|a, b| a.1.total_cmp(&b.1));
    let mut last = f64::NEG_INFINITY;
    for (at, y, years) in ends {
        let placed = y.max(last + LABEL);
        last = placed;
        let more = format!(" fill=\"{}\" font-weight=\"bold\"", INKS[at]);
        write(
            out,
            [RIGHT + 10.0, placed + 4.0],
            "start",
            &more,
            &format!("{}  {} years", at + 1, style::figure(years)),
        );
        out.push_str(&format!(
            "<path d=\"M{RIGHT} {y:.1}L{:.1} {placed:.1}\" stroke=\"{}\" stroke-width=\"0.8\"/>\n",
            RIGHT + 8.0,
            INKS[at]
        ));
    }
}

/// How a part fares, and the check that decides it where it does not pass.
fn verdict(text: &PlotText, at: usize) -> Option<(Outcome, Option<Check>)> {
    let evaluation = text.evaluations.get(at)?.as_ref()?;
    let verdict = evaluation.verdict;
    let check = Check::ALL.into_iter().find(|&check| evaluation.outcome(check) == verdict);
    Some((verdict, check.filter(|_| verdict != Outcome::Pass)))
}

/// Two curves that lie on each other within the width of a line.
fn equal(a: &[(f64, f64)], b: &[(f64, f64)]) -> bool {
    !a.is_empty() && a.len() == b.len() && a.iter().zip(b).all(|(a, b)| (a.1 - b.1).abs() <= 2e-3 * a.1.abs().max(0.1))
}

fn legend(out: &mut String, set: &CurveSet, lines: &[Vec<(f64, f64)>], text: &PlotText) {
    let (mut y, half) = (BOTTOM + 56.0, lines.len().div_ceil(2));
    for (at, (curve, line)) in set.curves.iter().zip(lines).enumerate() {
        let x = if at < half || lines.len() < 7 { LEFT } else { LEFT + 450.0 };
        if lines.len() >= 7 && at == half {
            y = BOTTOM + 56.0;
        }
        out.push_str(&format!(
            "<path d=\"M{x} {:.1}h34\" stroke=\"{}\" stroke-width=\"3\" stroke-dasharray=\"{}\"/>\n",
            y - 4.0,
            INKS[at],
            dash(at)
        ));
        let judged = verdict(text, at).map_or_else(
            || "not checked".to_owned(),
            |(outcome, check)| {
                let check = check.map_or_else(String::new, |check| format!(" ({})", check_name(check)));
                format!("{}{check}", outcome.word())
            },
        );
        if verdict(text, at).is_some_and(|(outcome, _)| outcome == Outcome::Fail) {
            out.push_str(&cross(x + 17.0, y - 4.0, INKS[at]));
        }
        let years =
            curve.at_duty.years.map_or_else(|| "unknown".to_owned(), |years| format!("{} years", style::figure(years)));
        let same = (0..at).find(|&other| equal(&lines[other], line));
        let same = same.map_or_else(String::new, |other| format!("; lies on curve {}", other + 1));
        let assumed: Vec<&str> = curve.assumed.words().collect();
        let assumed = if assumed.is_empty() { String::new() } else { format!("; assumed: {}", assumed.join(", ")) };
        let told = format!("{}  {}: {judged}, {years} with the load profile{same}{assumed}", at + 1, curve.name);
        let room = if lines.len() < 7 { 150 } else { 76 };
        let short: String = told.chars().take(room).collect();
        write(out, [x + 42.0, y], "start", "", &if short.len() < told.len() { format!("{short}…") } else { told });
        y += 15.0;
    }
    let rest = set.curves.len().saturating_sub(lines.len());
    if rest > 0 {
        write(out, [LEFT + 42.0, y], "start", "", &format!("{rest} more parts are not drawn."));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sizing::curves::CurvePoint;

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
        let evaluations =
            verdicts.iter().map(|&verdict| Some(Evaluation { verdict, ..Evaluation::default() })).collect();
        PlotText { uncapped, hours_per_year: Some(3000.0), evaluations, ..PlotText::default() }
    }

    #[test]
    fn lives_above_the_cap_differ_once_it_is_left_out_and_equal_curves_are_told() {
        let two = set(&[139_322.0, 272_854.0]);
        let capped = svg(&two, &text(false, &[]));
        assert!(capped.contains("lies on curve 1") && capped.contains("15 years"));
        let free = svg(&two, &text(true, &[]));
        assert!(
            !free.contains("lies on curve 1") && free.contains("46.4 years") && free.contains("91 years"),
            "{free}"
        );
        assert!(free.contains("before the calendar life limit"));
    }

    #[test]
    fn a_failing_part_carries_crosses_and_its_verdict_and_twelve_lines_all_differ() {
        let drawn = svg(&set(&[30_000.0, 20_000.0]), &text(false, &[Outcome::Pass, Outcome::Fail]));
        assert!(drawn.contains("fail") && drawn.matches("l7 7m0 -7l-7 7").count() > 2);
        assert!(drawn.contains("P&lt;1&gt;") && !drawn.contains("P<1>"));
        let many: Vec<f64> = (1..=14).map(|n| 3000.0 * f64::from(n)).collect();
        let drawn = svg(&set(&many), &text(false, &[]));
        assert_eq!(drawn.matches("<polyline").count(), CURVES_MAX);
        assert!(drawn.contains("2 more parts are not drawn."));
        let looks: std::collections::HashSet<_> = (0..CURVES_MAX).map(|at| (INKS[at], dash(at))).collect();
        assert_eq!(looks.len(), CURVES_MAX);
    }
}
