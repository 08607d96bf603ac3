//! A plot of life against one condition as a drawing: made once, for the screen, for paper and for pixels. Fixed colours and dashes, a label at each
//! curve's end, crosses along the curve of a part that fails, curves that lie on each other told apart.

use super::board_svg;
use super::drawing::{Anchor, Ink, Line, Shape};
use super::notation::escaped;
use super::output::GENERATOR;
use crate::domain::{Check, Outcome, style};
use crate::sizing::Evaluation;
use crate::sizing::curves::{Axis, Curve, CurveSet};
use crate::sizing::reasons::check_name;

/// Parts drawn at most: more cannot be told apart.
pub const CURVES_MAX: usize = 12;

/// Width and height of the paper, units of the drawing.
pub const PAPER: [f64; 2] = [960.0, 640.0];

/// Lowest years a logarithmic axis goes down to.
const LOG_FLOOR_YEARS: f64 = 0.05;

/// What stands around the curves and how they are drawn.
#[derive(Debug, Clone, Default)]
pub struct PlotText {
    /// The job.
    pub job: String,
    /// Board and position.
    pub place: String,
    /// The day it was drawn; empty when unknown.
    pub date: String,
    /// Other conditions than those entered, in words; empty when there are none.
    pub conditions: String,
    /// Energised hours in a year, for years before the cap.
    pub hours_per_year: Option<f64>,
    /// Years before the cap of the calendar life, so that curves above it differ.
    pub uncapped: bool,
    /// Years on a logarithmic axis.
    pub log: bool,
    /// Which curve is the original part's.
    pub original: Option<usize>,
    /// How each part fares, in the order of the curves; `None` where nobody judged it.
    pub evaluations: Vec<Option<Evaluation>>,
    /// Value of the axis one reads at.
    pub read_at: Option<f64>,
}

/// Width of a text of a size.
pub type Wide<'a> = &'a dyn Fn(&str, f64) -> f64;

/// The area of the curves and what its edges stand for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// Left, top, right, bottom.
    pub area: [f64; 4],
    x: (f64, f64),
    years: (f64, f64),
    log: bool,
}

impl Scale {
    fn x(&self, x: f64) -> f64 {
        let [left, _, right, _] = self.area;
        left + (x - self.x.0) / (self.x.1 - self.x.0) * (right - left)
    }

    fn y(&self, years: f64) -> f64 {
        let [_, top, _, bottom] = self.area;
        let at = |years: f64| if self.log { years.max(LOG_FLOOR_YEARS).log10() } else { years };
        let share = (at(years) - at(self.years.0)) / (at(self.years.1) - at(self.years.0));
        bottom - share.clamp(0.0, 1.0) * (bottom - top)
    }

    /// The value of the axis at a place across, within the ends of the axis.
    pub fn value_at(&self, across: f64) -> f64 {
        let [left, _, right, _] = self.area;
        (self.x.0 + (across - left) / (right - left) * (self.x.1 - self.x.0)).clamp(self.x.0, self.x.1)
    }
}

/// How the curve at a place in the list is drawn; the original part's in grey.
pub fn look(at: usize, original: Option<usize>) -> Line {
    const DASHES: [Option<[f64; 2]>; 4] = [None, Some([8.0, 3.0]), Some([2.0, 2.5]), Some([16.0, 4.0])];
    if original == Some(at) {
        return Line { ink: Ink::Weak, width: 2.0, dashes: Some([6.0, 5.0]) };
    }
    Line { ink: Ink::Series(at), width: 2.4, dashes: DASHES[at % DASHES.len()] }
}

type Points = Vec<(f64, f64)>;

/// Draws axes, phases, band, curves and their labels into a frame (left, top, right, bottom) in letters of `size`; with `titles` the axes say what
/// they are. Curves beyond [`CURVES_MAX`] are left out.
pub fn plot(
    out: &mut Vec<Shape>,
    set: &CurveSet,
    text: &PlotText,
    (frame, size, titles): ([f64; 4], f64, bool),
    wide: Wide,
) -> Scale {
    let curves = &set.curves[..set.curves.len().min(CURVES_MAX)];
    let lines: Vec<Points> = curves.iter().map(|curve| points(curve, text)).collect();
    let names: Vec<String> = (0..curves.len()).map(|at| end_name(curves, &lines, at)).collect();
    let [left, top, right, bottom] = frame;
    let beside = names.iter().map(|name| wide(name, size)).fold(0.0, f64::max) + 14.0;
    let below = size * if titles { 3.0 } else { 1.6 };
    let area = [left + size * 3.2, top, right - beside.min(0.3 * (right - left)), bottom - below];
    let mut scale = Scale { area, x: ends(set), years: heights(set, curves, &lines, text), log: text.log };
    let low = bottom - top < 12.0 * size;
    let rows = marks(out, set, &scale, (size, low), wide);
    scale.area[1] += rows * (size + 2.0) + 3.0;
    axes(out, set, &scale, (size, titles));
    phases(out, set, &scale);
    if let Some(curve) = curves.first().filter(|_| !text.uncapped) {
        band(out, curve, &scale);
    }
    for (at, line) in lines.iter().enumerate() {
        draw(out, line, (at, text), &scale);
    }
    labels(out, &lines, &names, text, (&scale, size));
    read(out, &lines, text, &scale);
    scale
}

fn ends(set: &CurveSet) -> (f64, f64) {
    let xs = || set.curves.iter().flat_map(|curve| &curve.points).map(|point| point.x);
    let (low, high) = (xs().fold(f64::INFINITY, f64::min), xs().fold(f64::NEG_INFINITY, f64::max));
    if low < high { (low, high) } else { (0.0, 1.0) }
}

/// Lowest and highest years drawn. Before the cap lives grow beyond all measure in the cold: what is reached with the load profile sets the height.
fn heights(set: &CurveSet, curves: &[Curve], lines: &[Points], text: &PlotText) -> (f64, f64) {
    let years = || lines.iter().flatten().map(|point| point.1);
    let most = if text.uncapped {
        let at_duty = |curve: &Curve| curve.at_duty.life_uncapped_h.zip(text.hours_per_year).map(|(h, per)| h / per);
        let known = curves.iter().filter_map(at_duty).reduce(f64::max);
        1.25 * known.unwrap_or_else(|| years().fold(1.0, f64::max))
    } else {
        years().fold(1.0, f64::max)
    };
    let most = set.target_years.into_iter().fold(most, f64::max) * if text.log { 1.4 } else { 1.08 };
    let least = years().chain(set.target_years).fold(10.0, f64::min);
    (if text.log { (0.7 * least).max(LOG_FLOOR_YEARS) } else { 0.0 }, most)
}

/// Years of a curve, before the cap where that is asked for.
fn points(curve: &Curve, text: &PlotText) -> Points {
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

/// What stands at the end of a curve: its part, and that it lies on another one.
fn end_name(curves: &[Curve], lines: &[Points], at: usize) -> String {
    let same = (0..at).any(|other| equal(&lines[other], &lines[at]));
    format!("{}{}", if same { "= " } else { "" }, shortened(&curves[at].name, 22))
}

fn shortened(text: &str, most: usize) -> String {
    if text.chars().count() <= most { text.to_owned() } else { text.chars().take(most - 1).chain(['…']).collect() }
}

fn write(out: &mut Vec<Shape>, at: [f64; 2], anchor: Anchor, (size, ink): (f64, Ink), text: impl Into<String>) {
    out.push(Shape::Text { at, anchor, size, text: text.into(), ink, on_ground: false });
}

fn thin(ink: Ink, dashes: Option<[f64; 2]>) -> Line {
    Line { ink, width: 1.0, dashes }
}

/// A round step that gives about `count` ticks.
fn step(span: f64, count: f64) -> f64 {
    let power = 10f64.powf((span / count).log10().floor());
    let round = [1.0, 2.0, 5.0, 10.0].into_iter().find(|round| round * power >= span / count);
    round.unwrap_or(10.0) * power
}

fn ticks(low: f64, high: f64, count: f64) -> Vec<f64> {
    let step = step(high - low, count);
    let first = (low / step).ceil();
    (0..60).map(|n| (first + f64::from(n)) * step).take_while(|&at| at <= high * (1.0 + 1e-12)).collect()
}

/// 1, 2 and 5 times each power of ten.
fn decades(low: f64, high: f64) -> Vec<f64> {
    let all = (-3..6).flat_map(|decade| [1.0, 2.0, 5.0].map(|round| round * 10f64.powi(decade)));
    all.filter(|years| (low..=high).contains(years)).collect()
}

fn axes(out: &mut Vec<Shape>, set: &CurveSet, scale: &Scale, (size, titles): (f64, bool)) {
    let [left, top, right, bottom] = scale.area;
    let grid = thin(Ink::Line, None);
    let (low, high) = scale.years;
    let count = ((bottom - top) / (3.0 * size)).clamp(2.0, 8.0);
    for years in if scale.log { decades(low, high) } else { ticks(low, high, count) } {
        let y = scale.y(years);
        out.push(Shape::Path { points: vec![[left, y], [right, y]], line: grid });
        write(out, [left - 5.0, y], Anchor::Right, (size, Ink::Weak), style::figure(years));
    }
    for x in ticks(scale.x.0, scale.x.1, ((right - left) / (6.0 * size)).clamp(2.0, 10.0)) {
        let at = scale.x(x);
        out.push(Shape::Path { points: vec![[at, top], [at, bottom]], line: grid });
        write(out, [at, bottom + 2.0], Anchor::Top, (size, Ink::Weak), style::figure(x));
    }
    let frame = vec![[left, top], [left, bottom], [right, bottom]];
    out.push(Shape::Path { points: frame, line: thin(Ink::Weak, None) });
    if titles {
        let title = format!("{}{}", title(set.axis)[..1].to_uppercase(), &title(set.axis)[1..]);
        write(out, [(left + right) / 2.0, bottom + 1.5 * size], Anchor::Top, (size, Ink::Text), title);
        write(out, [left - 2.6 * size, top - 0.9 * size], Anchor::Left, (size, Ink::Text), "Life, years");
    }
    if let Some(target) = set.target_years {
        let y = scale.y(target);
        let line = Line { ink: Ink::Target, width: 1.5, dashes: Some([6.0, 4.0]) };
        out.push(Shape::Path { points: vec![[left, y], [right, y]], line });
        let words = format!("target {} years", style::figure(target));
        write(out, [left + 5.0, y - 0.7 * size], Anchor::Left, (size, Ink::Target), words);
    }
}

/// What an axis counts, with its unit.
pub fn title(axis: Axis) -> &'static str {
    match axis {
        Axis::Ambient => "ambient beside the can, °C, the same in every phase",
        Axis::Ripple => "ripple, as a multiple of what was entered",
        Axis::Voltage => "operating voltage (DC), V",
        Axis::Hours => "energised hours per year, h",
    }
}

/// The phases by name above the area, each over its line and on a row of its own where they would meet; how many rows there are.
fn marks(out: &mut Vec<Shape>, set: &CurveSet, scale: &Scale, (size, low): (f64, bool), wide: Wide) -> f64 {
    let [left, top, right, _] = scale.area;
    let mut sorted: Vec<_> = set.marks.iter().collect();
    sorted.sort_by(|a, b| a.x.total_cmp(&b.x));
    let mut rows: Vec<f64> = Vec::new();
    for mark in sorted.into_iter().filter(|mark| !low && (scale.x.0..=scale.x.1).contains(&mark.x)) {
        let share = mark.share.map_or_else(String::new, |share| format!(" {}", style::percent(share)));
        // Whole where the area has room for it: a name that meets another one has a row of its own.
        let whole = format!("{}{share}", mark.name);
        let fits = wide(&whole, size) <= right - left;
        let words = if fits { whole } else { format!("{}{share}", shortened(&mark.name, 24)) };
        let half = wide(&words, size) / 2.0;
        let at = scale.x(mark.x).clamp(left + half, (right - half).max(left + half));
        let row = rows.iter().position(|end| at - half > end + 6.0).unwrap_or(rows.len());
        if row == rows.len() {
            rows.push(0.0);
        }
        rows[row] = at + half;
        write(out, [at, top + row as f64 * (size + 2.0)], Anchor::Top, (size, Ink::Weak), words);
    }
    rows.len() as f64
}

/// Where the phases stand, the longer the thicker.
fn phases(out: &mut Vec<Shape>, set: &CurveSet, scale: &Scale) {
    let [_, top, _, bottom] = scale.area;
    for mark in set.marks.iter().filter(|mark| (scale.x.0..=scale.x.1).contains(&mark.x)) {
        let at = scale.x(mark.x);
        let line = Line { ink: Ink::Line, width: 1.0 + 5.0 * mark.share.unwrap_or(0.1), dashes: None };
        out.push(Shape::Path { points: vec![[at, top], [at, bottom]], line });
    }
}

/// The band of the first curve; before the cap nobody has one.
fn band(out: &mut Vec<Shape>, curve: &Curve, scale: &Scale) {
    let known = || curve.points.iter().filter_map(|point| Some((point.x, point.low_years?, point.high_years?)));
    let upper: Vec<[f64; 2]> = known().map(|(x, _, high)| [scale.x(x), scale.y(high)]).collect();
    let lower = known().map(|(x, low, _)| [scale.x(x), scale.y(low)]).collect();
    if upper.len() > 1 {
        out.push(Shape::Band { upper, lower, fill: (Ink::Series(0), 0.15) });
    }
}

/// A curve, cut off where it leaves the area; one of a failing part carries crosses. Each is a little thinner than the one below it, so that equal ones
/// show both.
fn draw(out: &mut Vec<Shape>, line: &[(f64, f64)], (at, text): (usize, &PlotText), scale: &Scale) {
    let drawn = Line { width: 3.2 - 0.2 * at as f64, ..look(at, text.original) };
    let top = scale.years.1;
    let mut pieces: Vec<Vec<[f64; 2]>> = Vec::new();
    for pair in line.windows(2).filter(|pair| pair[0].1 <= top || pair[1].1 <= top) {
        let ((x0, a), (x1, b)) = (pair[0], pair[1]);
        let crossing = x0 + (x1 - x0) * (top - a) / (b - a);
        let ends = [(x0, a), (x1, b)].map(|(x, years)| if years > top { (crossing, top) } else { (x, years) });
        let [from, to] = ends.map(|(x, years)| [scale.x(x), scale.y(years)]);
        match pieces.last_mut().filter(|piece| piece.last() == Some(&from)) {
            Some(piece) => piece.push(to),
            None => pieces.push(vec![from, to]),
        }
    }
    out.extend(pieces.into_iter().map(|points| Shape::Path { points, line: drawn }));
    if verdict(text, at).is_some_and(|(outcome, _)| outcome == Outcome::Fail) {
        let every = (line.len() / 12).max(1);
        for (x, years) in line.iter().skip(every / 2).step_by(every).filter(|(_, years)| *years <= top) {
            cross(out, [scale.x(*x), scale.y(*years)], drawn.ink);
        }
    }
}

fn cross(out: &mut Vec<Shape>, [x, y]: [f64; 2], ink: Ink) {
    let line = Line { ink, width: 1.6, dashes: None };
    for points in [vec![[x - 3.5, y - 3.5], [x + 3.5, y + 3.5]], vec![[x - 3.5, y + 3.5], [x + 3.5, y - 3.5]]] {
        out.push(Shape::Path { points, line });
    }
}

/// The part of each curve at its end, moved apart where ends meet.
fn labels(out: &mut Vec<Shape>, lines: &[Points], names: &[String], text: &PlotText, (scale, size): (&Scale, f64)) {
    let [_, top, right, bottom] = scale.area;
    let end = |(at, line): (usize, &Points)| line.last().map(|&(x, years)| (at, [scale.x(x), scale.y(years)]));
    let mut ends: Vec<(usize, [f64; 2])> = lines.iter().enumerate().filter_map(end).collect();
    ends.sort_by(|a, b| a.1[1].total_cmp(&b.1[1]).then(a.0.cmp(&b.0)));
    let room = (size + 2.0).min((bottom - top) / ends.len().max(1) as f64);
    // From the bottom up there has to be room for those below.
    let count = ends.len();
    let mut last = f64::NEG_INFINITY;
    for (n, (at, from)) in ends.into_iter().enumerate() {
        let lowest = bottom - room * (count - 1 - n) as f64;
        let y = from[1].min(lowest).max(last + room);
        last = y;
        let ink = look(at, text.original).ink;
        out.push(Shape::Path { points: vec![from, [right + 8.0, y]], line: Line { width: 0.8, ..thin(ink, None) } });
        write(out, [right + 11.0, y], Anchor::Left, (size, ink), names[at].as_str());
    }
}

/// The line one reads at, with a dot on every curve.
fn read(out: &mut Vec<Shape>, lines: &[Points], text: &PlotText, scale: &Scale) {
    let Some(x) = text.read_at.filter(|x| (scale.x.0..=scale.x.1).contains(x)) else { return };
    let [_, top, _, bottom] = scale.area;
    let at = scale.x(x);
    out.push(Shape::Path { points: vec![[at, top], [at, bottom]], line: thin(Ink::Focus, None) });
    for (index, line) in lines.iter().enumerate() {
        let nearest = line.iter().min_by(|a, b| (a.0 - x).abs().total_cmp(&(b.0 - x).abs()));
        if let Some(&(_, years)) = nearest.filter(|(_, years)| *years <= scale.years.1) {
            let fill = Some((look(index, text.original).ink, 1.0));
            out.push(Shape::Circle { at: [at, scale.y(years)], radius: 3.5, fill, line: None });
        }
    }
}

/// How a part fares, and the check that decides it where it does not pass.
fn verdict(text: &PlotText, at: usize) -> Option<(Outcome, Option<Check>)> {
    let evaluation = text.evaluations.get(at)?.as_ref()?;
    Some((evaluation.verdict, evaluation.decisive()))
}

/// Two curves that lie on each other within the width of a line.
fn equal(a: &[(f64, f64)], b: &[(f64, f64)]) -> bool {
    !a.is_empty() && a.len() == b.len() && a.iter().zip(b).all(|(a, b)| (a.1 - b.1).abs() <= 2e-3 * a.1.abs().max(0.1))
}

/// The whole sheet: what it is about, the plot, and a legend with verdicts and what is assumed.
pub fn paper(set: &CurveSet, text: &PlotText, wide: Wide) -> Vec<Shape> {
    let mut out = Vec::new();
    let left = 24.0;
    let cap = if text.uncapped { "before the calendar life limit" } else { "up to the calendar life limit" };
    let band = "band of the first part: published laws, not a guarantee";
    let conditions = match text.conditions.as_str() {
        "" => String::new(),
        other => format!(" Other conditions than entered: {other}."),
    };
    write(&mut out, [left, 20.0], Anchor::Left, (16.0, Ink::Text), format!("{}, {}", text.job, text.place));
    let about = format!("Years until the life is used up, {cap}; {band}.{conditions} {}", text.date);
    write(&mut out, [left, 40.0], Anchor::Left, (11.0, Ink::Text), about);
    write(&mut out, [left, 56.0], Anchor::Left, (11.0, Ink::Weak), set.remarks.join(" "));
    let text = PlotText { read_at: None, ..text.clone() };
    plot(&mut out, set, &text, ([left, 78.0, PAPER[0] - 16.0, 446.0], 11.0, true), wide);
    legend(&mut out, set, &text, [left, 466.0]);
    out
}

/// The same as a vector file.
pub fn svg(set: &CurveSet, text: &PlotText) -> String {
    let [width, height] = PAPER;
    let title = escaped(&format!("{}: life against {}", text.place, set.axis.word()));
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" width=\"{width}\" height=\"{height}\" data-generator=\"{GENERATOR}\" font-family=\"Liberation Sans, Arial, Helvetica, sans-serif\">\n<title>{title}</title>\n<rect width=\"{width}\" height=\"{height}\" fill=\"#fff\"/>\n"
    );
    // The width of the letters of the program that shows it is not known: a usual one.
    board_svg::write(&mut out, &paper(set, text, &|text, size| text.chars().count() as f64 * size * 0.58), false);
    out + "</svg>\n"
}

fn legend(out: &mut Vec<Shape>, set: &CurveSet, text: &PlotText, [left, top]: [f64; 2]) {
    let curves = &set.curves[..set.curves.len().min(CURVES_MAX)];
    let lines: Vec<Points> = curves.iter().map(|curve| points(curve, text)).collect();
    let (two, half) = (lines.len() > 6, lines.len().div_ceil(2));
    for (at, curve) in curves.iter().enumerate() {
        let (column, row) = if two { (at / half, at % half) } else { (0, at) };
        let (x, y) = (left + 460.0 * column as f64, top + 16.0 * row as f64);
        let drawn = look(at, text.original);
        out.push(Shape::Path { points: vec![[x, y], [x + 34.0, y]], line: drawn });
        let fails = verdict(text, at).is_some_and(|(outcome, _)| outcome == Outcome::Fail);
        if fails {
            cross(out, [x + 17.0, y], drawn.ink);
        }
        let judged = verdict(text, at).map_or_else(
            || "not checked".to_owned(),
            |(outcome, check)| {
                let check = check.map_or_else(String::new, |check| format!(" ({})", check_name(check)));
                format!("{}{check}", outcome.word())
            },
        );
        let years = |years: Option<f64>| years.map(|years| format!("{} years", style::figure(years)));
        let uncapped = curve.at_duty.life_uncapped_h.zip(text.hours_per_year).map(|(life_h, hours)| life_h / hours);
        let uncapped = uncapped.filter(|years| curve.at_duty.years.is_some_and(|capped| *years > 1.01 * capped));
        let before = years(uncapped).map_or_else(String::new, |years| format!(" ({years} before the limit)"));
        let known = years(curve.at_duty.years).unwrap_or_else(|| "years unknown".to_owned());
        let same = (0..at).find(|&other| equal(&lines[other], &lines[at]));
        let same = same.map_or_else(String::new, |other| format!("; lies on the curve of {}", curves[other].name));
        let told = format!("{}: {judged}, {known} with the load profile{before}{same}", curve.name);
        write(out, [x + 42.0, y], Anchor::Left, (11.0, Ink::Text), shortened(&told, if two { 72 } else { 150 }));
    }
    let mut shared: Vec<(String, Vec<&str>)> = Vec::new();
    for curve in curves {
        let words = curve.assumed.words().collect::<Vec<_>>().join(", ");
        match shared.iter_mut().find(|(known, _)| *known == words) {
            Some((_, names)) => names.push(&curve.name),
            None => shared.push((words, vec![&curve.name])),
        }
    }
    // Told once for all that share it, in as many lines as it takes.
    let assumed = shared.iter().filter(|(words, _)| !words.is_empty());
    let assumed = assumed.map(|(words, names)| format!("Assumed for {}: {words}.", names.join(", ")));
    let rest = set.curves.len() - curves.len();
    let rest = (rest > 0).then(|| format!("{rest} more parts are not drawn."));
    let mut y = top + 16.0 * if two { half } else { lines.len() } as f64;
    for line in assumed.chain(rest).flat_map(|text| in_lines(&text)) {
        write(out, [left, y], Anchor::Left, (11.0, Ink::Text), line);
        y += 14.0;
    }
}

/// A text in lines no longer than the paper is wide.
fn in_lines(text: &str) -> Vec<String> {
    const MOST: usize = 150;
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ') {
        match lines.last_mut().filter(|line| line.chars().count() + word.chars().count() < MOST) {
            Some(line) => line.extend([" ", word]),
            None => lines.push(word.to_owned()),
        }
    }
    lines
}

#[cfg(test)]
#[path = "../../tests/within/life_plot.rs"]
mod tests;
