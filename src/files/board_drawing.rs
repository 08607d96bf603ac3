//! What a board looks like, as a list of shapes: the same on the screen, as a vector drawing and as pixels.

use std::collections::HashMap;

use crate::domain::{Board, Catalog, Outcome, PositionId};
use crate::files::board_colours::{Colours, DONE};
use crate::files::board_others::{self, spots};
use crate::files::board_page::{Page, hatch};
use crate::files::board_words::{gap_words, violation_words};
use crate::files::drawing::{self, Anchor, Area, Ink, Line, Mark, Shape};
use crate::sizing::reasons::figure;
use crate::sizing::{BoardMap, CanOnMap, CanState, Footprint, Gap, Placed, Source};

/// The board without its cans: its outline.
pub fn ground(board: &Board, page: &Page) -> Option<Shape> {
    let [width_mm, height_mm] = board.outline_mm?;
    let points = page.area([0.0, 0.0], [width_mm, height_mm]);
    Some(Shape::Polygon { points, fill: Some((Ink::Board, 1.0)), line: Some(page.line(Ink::Weak, 1.5)) })
}

/// What is drawn of a board.
pub struct Drawing<'a> {
    /// The board.
    pub board: &'a Board,
    /// Its cans.
    pub map: &'a BoardMap,
    /// The parts.
    pub catalog: &'a Catalog,
    /// What the colours stand for.
    pub colours: Colours,
    /// Positions whose stress is entered too low by what the old part suffered.
    pub underestimated: &'a [PositionId],
    /// Positions whose references come before all others.
    pub first: &'a [PositionId],
    /// Whether every reference is drawn, and not only those that do not stand on another one: on paper nobody comes closer.
    pub all_references: bool,
    /// Whether there is a photo below, over which colours need a ground of their own.
    pub over_photo: bool,
    /// Width of a text of a size, units.
    pub width: &'a dyn Fn(&str, f64) -> f64,
}

/// Cans narrower than this are drawn as a disc, points.
const LEAST_BODY: f64 = 5.0;
/// From this width on a can shows its original and its polarity, points.
const DETAILED: f64 = 20.0;
/// From this width on the reference stands within the can, points.
const INSIDE: f64 = 46.0;

/// How far a ring around what is selected reaches beyond its body, points.
const RING: f64 = 8.0;

/// So many gaps that fall short are drawn: of a heap on one spot more would only hide each other.
const GAPS_MAX: usize = 300;

impl Drawing<'_> {
    /// Everything over the photo; texts keep clear of the areas in `taken` (left, top, right, bottom).
    pub fn shapes(&self, page: &Page, taken: Vec<[f64; 4]>) -> Vec<Shape> {
        let mut out = Vec::new();
        self.fixtures(&mut out, page);
        for can in self.map.behind.iter().filter(|can| page.sees(page.at(can.centre_mm), can.reach_mm() * page.scale)) {
            body(&mut out, page, &can.body(), None, Some(page.dashed(Ink::Line, 1.0, [4.0, 3.0])));
        }
        let seen = self.map.largest_first.iter().map(|&at| &self.map.cans[at]);
        let seen = seen.filter(|can| page.sees(page.at(can.centre_mm), can.reach_mm() * page.scale));
        let seen = self.uncovered(page, seen.collect());
        seen.iter().for_each(|can| self.can(&mut out, page, can));
        let others =
            || spots(self.board, self.map.side).filter(|spot| page.sees(page.at(spot.centre_mm), spot.half(page)));
        others().for_each(|spot| board_others::draw(&mut out, page, &spot));
        // Around what comes first there may be a ring.
        let ring = |can: &CanOnMap| if self.first.contains(&can.id) { RING * page.point } else { 0.0 };
        let mut bodies: Vec<_> =
            seen.iter().map(|can| (page.at(can.centre_mm), can.reach_mm() * page.scale + ring(can), can.id)).collect();
        bodies.sort_by(|a, b| a.0[0].total_cmp(&b.0[0]));
        let widest = bodies.iter().map(|body| body.1).fold(0.0, f64::max);
        let mut labels = Labels { drawing: self, page, taken, bodies, widest };
        for (letter, at, size) in others().filter_map(|spot| board_others::letter(page, &spot)) {
            labels.write(&mut out, &[(at, Anchor::Top)], size, letter, Ink::Text, false);
        }
        for &[x, y, width, height] in &self.board.keepouts_mm {
            let size = 11.0 * page.point;
            let roomy = (self.width)("keep out", size) * 1.2 < width * page.scale && size * 2.0 < height * page.scale;
            let at = page.at([x + width / 2.0, y + height]);
            if roomy {
                let places = [([at[0], at[1] + size * 0.3], Anchor::Top)];
                labels.write(&mut out, &places, size, "keep out", Ink::Weak, false);
            }
        }
        let gaps = self.map.short_gaps.iter().filter(|gap| page.sees(page.at(gap.ends_mm[0]), 40.0 * page.point));
        for gap in gaps.take(GAPS_MAX) {
            labels.gap(&mut out, gap);
        }
        let (first, rest): (Vec<_>, Vec<_>) = seen.into_iter().partition(|can| self.first.contains(&can.id));
        for can in first.into_iter().chain(rest) {
            labels.can(&mut out, can);
        }
        for spot in others() {
            let ([x, y], reach) = (page.at(spot.centre_mm), spot.half(page) + 4.0 * page.point);
            let (size, text) = (11.0 * page.point, spot.reference);
            let places = [([x, y + reach], Anchor::Top), ([x, y - reach], Anchor::Bottom)];
            let apart = |place: &_| self.all_references || labels.on_no_other(None, *place, size, text);
            let places: Vec<_> = places.into_iter().filter(apart).collect();
            labels.write(&mut out, &places, size, text, Ink::Text, self.all_references);
        }
        out
    }

    /// The cans less those that lie under a heap of others: of more than a few on one spot only the topmost can be told apart.
    fn uncovered<'a>(&self, page: &Page, mut seen: Vec<&'a CanOnMap>) -> Vec<&'a CanOnMap> {
        const ON_ONE_SPOT_MAX: usize = 6;
        let mut heaps: HashMap<[i64; 2], usize> = HashMap::new();
        seen.reverse();
        seen.retain(|can| {
            #[expect(clippy::cast_possible_truncation, reason = "points in sight")]
            let spot = page.at(can.centre_mm).map(|at| (at / page.point).round() as i64);
            let heap = heaps.entry(spot).or_default();
            *heap += 1;
            self.all_references || *heap <= ON_ONE_SPOT_MAX || self.first.contains(&can.id)
        });
        seen.reverse();
        seen
    }

    /// What is fixed on the board.
    fn fixtures(&self, out: &mut Vec<Shape>, page: &Page) {
        for &[x_mm, y_mm, width_mm, height_mm] in &self.board.keepouts_mm {
            let points = page.area([x_mm, y_mm], [x_mm + width_mm, y_mm + height_mm]);
            hatch(out, page, &points);
            let fill = Some((Ink::Line, 0.25));
            out.push(Shape::Polygon { points, fill, line: Some(page.line(Ink::Weak, 1.0)) });
        }
        for &[x_mm, y_mm, diameter_mm] in &self.board.holes_mm {
            let (at, radius) = (page.at([x_mm, y_mm]), diameter_mm / 2.0 * page.scale);
            let (fill, line) = (Some((Ink::Paper, 1.0)), Some(page.line(Ink::Weak, 1.5)));
            out.push(Shape::Circle { at, radius, fill, line });
        }
    }

    /// One can without its words: the chosen part, the original where it differs, polarity and mark.
    fn can(&self, out: &mut Vec<Shape>, page: &Page, can: &CanOnMap) {
        let (mark, outcome, word) = self.colours.of(can);
        let placed = can.body();
        let across = placed.footprint.size_mm()[1] * page.scale / page.point;
        let at = page.at(can.centre_mm);
        if self.all_references {
            out.push(Shape::Name(format!("{}: {word}", can.reference)));
        }
        if across < LEAST_BODY {
            let radius = (across / 2.0).max(1.2) * page.point;
            out.push(Shape::Circle { at, radius, fill: Some((Ink::Fill(outcome), 0.9)), line: None });
            return;
        }
        let bench = self.colours == Colours::Bench;
        if can.chosen.is_some() && self.over_photo {
            body(out, page, &placed, Some((Ink::Board, 0.6)), None);
        }
        let (filled, strong) = match self.colours {
            Colours::Unit => (mark != Mark::Open, mark == DONE.0),
            _ => (can.chosen.is_some(), can.source == Source::Pick),
        };
        let (fill, line) = if bench {
            ((Ink::Line, 0.5), page.line(Ink::Text, 1.5))
        } else {
            ((Ink::Fill(outcome), if strong { 0.5 } else { 0.22 }), self.outline(page, can, outcome))
        };
        let fill = Some(fill).filter(|_| filled);
        body(out, page, &placed, fill, Some(line));
        let other = can.original.filter(|original| can.chosen.is_some_and(|chosen| differ(chosen, *original)));
        if let Some(original) = other.filter(|_| across >= DETAILED) {
            body(out, page, &can.placed(original), None, Some(page.dashed(Ink::Text, 1.0, [4.0, 3.0])));
        }
        polarity(out, page, can, &placed, across);
        if !bench {
            let side = (across * 0.5).clamp(4.0, 15.0);
            let lift = if across >= INSIDE { -across * 0.22 } else { 0.0 };
            drawing::mark(out, [at[0], at[1] + lift * page.point], side / 2.0 * page.point, mark);
        }
    }

    /// Picked is thick, proposed thin; what cannot be used is broken.
    fn outline(&self, page: &Page, can: &CanOnMap, outcome: Outcome) -> Line {
        let ink = Ink::Of(outcome);
        match (self.colours, can.state) {
            (Colours::OldPart, _) => page.line(ink, 1.5),
            (Colours::Unit, _) => match self.colours.of(can).0 {
                Mark::Open => page.dashed(Ink::Text, 1.5, [5.0, 4.0]),
                Mark::Outcome(Outcome::Pass) => page.line(ink, 3.0),
                _ => page.line(ink, 2.0),
            },
            (_, CanState::Picked | CanState::PickFails) => page.line(ink, 3.0),
            (_, CanState::WorkToDo | CanState::OnAssumedStress) if can.source == Source::Pick => page.line(ink, 3.0),
            (_, CanState::Proposed | CanState::WorkToDo | CanState::OnAssumedStress) => page.line(ink, 1.2),
            (_, CanState::NoPart) => page.dashed(ink, 2.0, [6.0, 4.0]),
            (_, CanState::NotEnoughKnown) => page.dashed(ink, 1.6, [2.0, 3.0]),
            (_, CanState::Open) => page.dashed(Ink::Weak, 1.2, [4.0, 3.0]),
        }
    }

    /// What a large can says of itself: its value, how long it lasts, which part.
    fn words(&self, can: &CanOnMap) -> Vec<String> {
        let of_part = can.part.map(|id| (self.catalog.can(id), self.catalog.part_number(id)));
        let mut lines = Vec::new();
        if let Some((part, number)) = of_part {
            lines.extend(
                part.capacitance_uf.zip(part.rated_v).map(|(c, v)| format!("{} µF {} V", figure(c), figure(v))),
            );
            lines.extend(can.years.map(|years| format!("{} years", figure(years))));
            lines.push(number.to_owned());
        } else {
            let needs = Some(&can.needs).filter(|_| can.state == CanState::NotEnoughKnown);
            match needs.and_then(|needs| needs.split_first()) {
                // A line for each: those that have room.
                Some((first, others)) if self.colours != Colours::OldPart => {
                    lines.push(format!("needs: {}", first.word()));
                    lines.extend(others.iter().map(|need| need.word().to_owned()));
                }
                _ => lines.push(self.colours.of(can).2.to_owned()),
            }
        }
        lines
    }
}

fn differ(a: Footprint, b: Footprint) -> bool {
    let ([aw, ah], [bw, bh]) = (a.size_mm(), b.size_mm());
    (aw - bw).abs() > 0.2 || (ah - bh).abs() > 0.2
}

/// Half the height on the page of a body.
fn half_height(page: &Page, body: &Placed) -> f64 {
    match body.footprint {
        Footprint::Round { diameter_mm } => diameter_mm / 2.0 * page.scale,
        Footprint::Lying { .. } => {
            let middle = page.at(body.centre_mm)[1];
            body.corners_mm().map(|corner| page.at(corner)[1] - middle).into_iter().fold(0.0, f64::max)
        }
    }
}

/// A body seen from above.
pub fn body(out: &mut Vec<Shape>, page: &Page, placed: &Placed, fill: Option<Area>, line: Option<Line>) {
    out.push(match placed.footprint {
        Footprint::Round { diameter_mm } => {
            Shape::Circle { at: page.at(placed.centre_mm), radius: diameter_mm / 2.0 * page.scale, fill, line }
        }
        Footprint::Lying { .. } => {
            Shape::Polygon { points: placed.corners_mm().map(|corner| page.at(corner)).to_vec(), fill, line }
        }
    });
}

/// The band that marks the negative side of a body: its two ends, mm; `None` without a polarity or a known direction.
fn negative_band(can: &CanOnMap, placed: &Placed) -> Option<[[f64; 2]; 2]> {
    /// Where the band lies between the centre and the edge.
    const AT: f64 = 0.78;
    can.rotation_deg.filter(|_| can.polarised)?;
    let [along_mm, across_mm] = placed.footprint.size_mm().map(|side| side / 2.0);
    let half_mm = match placed.footprint {
        Footprint::Round { .. } => across_mm * (1.0 - AT * AT).sqrt(),
        Footprint::Lying { .. } => across_mm,
    };
    let ([rx, ry], [ux, uy]) = placed.axes();
    let [cx, cy] = placed.centre_mm;
    let end =
        |sign: f64| [cx - rx * along_mm * AT + ux * half_mm * sign, cy - ry * along_mm * AT + uy * half_mm * sign];
    Some([end(-1.0), end(1.0)])
}

/// Whether the bar between two ends runs through an area.
fn crosses(bar: Option<[[f64; 2]; 2]>, [left, top, right, bottom]: [f64; 4]) -> bool {
    const PARTS: u8 = 16;
    let Some([from, to]) = bar else { return false };
    (0..=PARTS).map(|part| f64::from(part) / f64::from(PARTS)).any(|along| {
        let [x, y] = [0, 1].map(|k| from[k] + (to[k] - from[k]) * along);
        (left..=right).contains(&x) && (top..=bottom).contains(&y)
    })
}

/// A bar on the negative side and, where there is room, a plus on the other.
fn polarity(out: &mut Vec<Shape>, page: &Page, can: &CanOnMap, placed: &Placed, across: f64) {
    let Some(ends_mm) = negative_band(can, placed).filter(|_| across >= 10.0) else { return };
    let [from, to] = ends_mm.map(|end| page.at(end));
    let line = page.line(Ink::Text, (across * 0.05).clamp(2.0, 5.0));
    out.push(Shape::Path { points: vec![from, to], line });
    if across < DETAILED {
        return;
    }
    let centre = page.at(can.centre_mm);
    let [x, y] = [0, 1].map(|k| 2.0 * centre[k] - f64::midpoint(from[k], to[k]));
    let arm = (across * 0.06).clamp(2.5, 6.0) * page.point;
    let line = page.line(Ink::Text, 1.5);
    out.push(Shape::Path { points: vec![[x - arm, y], [x + arm, y]], line });
    out.push(Shape::Path { points: vec![[x, y - arm], [x, y + arm]], line });
}

/// Writes words where no others stand yet.
struct Labels<'a> {
    drawing: &'a Drawing<'a>,
    page: &'a Page,
    taken: Vec<[f64; 4]>,
    /// Centre and reach on the page of each can in sight, from left to right, so that a label is held only against those beside it.
    bodies: Vec<([f64; 2], f64, PositionId)>,
    /// The longest reach.
    widest: f64,
}

impl Labels<'_> {
    fn box_of(&self, at: [f64; 2], anchor: Anchor, size: f64, text: &str) -> [f64; 4] {
        let (width, height) = ((self.drawing.width)(text, size) + 4.0 * self.page.point, size * 1.25);
        let (left, top) = match anchor {
            Anchor::Top => (at[0] - width / 2.0, at[1]),
            Anchor::Bottom => (at[0] - width / 2.0, at[1] - height),
            Anchor::Left => (at[0], at[1] - height / 2.0),
            Anchor::Right => (at[0] - width, at[1] - height / 2.0),
        };
        [left, top, left + width, top + height]
    }

    fn is_free(&self, [left, top, right, bottom]: [f64; 4]) -> bool {
        let [l, t, r, b] = self.page.sight;
        let within = left >= l && top >= t && right <= r && bottom <= b;
        within && !self.taken.iter().any(|o| left < o[2] && right > o[0] && top < o[3] && bottom > o[1])
    }

    /// Writes at the first of several places that is free; at the first one where it `must` stand somewhere.
    fn write(
        &mut self,
        out: &mut Vec<Shape>,
        places: &[([f64; 2], Anchor)],
        size: f64,
        text: &str,
        ink: Ink,
        must: bool,
    ) -> bool {
        let free = places.iter().find(|(at, anchor)| self.is_free(self.box_of(*at, *anchor, size, text)));
        let Some(&(at, anchor)) = free.or_else(|| places.first().filter(|_| must)) else { return false };
        self.taken.push(self.box_of(at, anchor, size, text));
        out.push(Shape::Text { at, anchor, size, text: text.to_owned(), ink, on_ground: true });
        true
    }

    /// A gap that falls short, with its figure.
    fn gap(&mut self, out: &mut Vec<Shape>, gap: &Gap) {
        let (page, point) = (self.page, self.page.point);
        let outcome = if gap.gap_mm < 0.0 { Outcome::Fail } else { Outcome::Marginal };
        let ink = if self.drawing.colours == Colours::Bench { Ink::Text } else { Ink::Of(outcome) };
        let [from, to] = gap.ends_mm.map(|end| page.at(end));
        out.push(Shape::Path { points: vec![from, to], line: page.line(ink, 3.0) });
        for at in [from, to] {
            out.push(Shape::Circle { at, radius: 3.0 * point, fill: Some((ink, 1.0)), line: None });
        }
        let [x, y] = [0, 1].map(|k| f64::midpoint(from[k], to[k]));
        let places = [([x, y - 6.0 * point], Anchor::Bottom), ([x, y + 6.0 * point], Anchor::Top)];
        self.write(out, &places, 12.0 * point, &gap_words(gap.gap_mm), ink, self.drawing.all_references);
    }

    /// The reference of a can, what it says where it is large, and what is wrong with its place.
    fn can(&mut self, out: &mut Vec<Shape>, can: &CanOnMap) {
        let (drawing, page, point) = (self.drawing, self.page, self.page.point);
        let placed = can.body();
        let across = placed.footprint.size_mm()[1] * page.scale / point;
        let must = drawing.all_references || drawing.first.contains(&can.id);
        if across < 12.0 && !must && drawing.map.cans.len() > 60 {
            return;
        }
        let [x, y] = page.at(can.centre_mm);
        let bench = drawing.colours == Colours::Bench;
        let tall = can.original.map_or(0.0, |original| half_height(page, &can.placed(original)));
        let reach = half_height(page, &placed).max(tall);
        let place =
            |gap: f64| [([x, y + reach + gap * point], Anchor::Top), ([x, y - reach - gap * point], Anchor::Bottom)];
        if across < INSIDE {
            self.reference(out, can, place(7.0), must);
        } else {
            let top = if bench { y - 9.0 * point } else { y - (across * 0.22 - 10.0) * point };
            self.inside(out, can, top, across * point);
        }
        let bad = if bench { Ink::Text } else { Ink::Of(Outcome::Fail) };
        let over = drawing.map.violations(can.id).map(violation_words);
        let under = drawing.underestimated.contains(&can.id).then(|| "stress underestimated".to_owned());
        for words in over.chain(under) {
            let [below, above] = place(4.0);
            self.write(out, &[above, below], 11.0 * point, &words, bad, drawing.all_references);
        }
    }

    /// The reference beside a can, where it stands on no other one; where it `must` stand somewhere farther off, joined by a line.
    fn reference(&mut self, out: &mut Vec<Shape>, can: &CanOnMap, near: [([f64; 2], Anchor); 2], must: bool) {
        /// Lines of text that a reference stands off at most.
        const FAR: u32 = 8;
        let (page, size, text) = (self.page, 12.0 * self.page.point, &can.reference);
        let near: Vec<_> =
            near.into_iter().filter(|place| self.on_no_other(Some(can.id), *place, size, text)).collect();
        if self.write(out, &near, size, text, Ink::Text, false) || !must {
            return;
        }
        let ([x, y], reach) = (page.at(can.centre_mm), can.reach_mm() * page.scale);
        let far = |lines: u32| {
            let off = reach + f64::from(lines) * size;
            [
                ([x, y + off], Anchor::Top),
                ([x, y - off], Anchor::Bottom),
                ([x + off, y], Anchor::Left),
                ([x - off, y], Anchor::Right),
            ]
        };
        let free = |&(at, anchor): &([f64; 2], Anchor)| {
            self.is_free(self.box_of(at, anchor, size, text))
                && self.on_no_other(Some(can.id), (at, anchor), size, text)
        };
        let place = (1..=FAR).flat_map(far).find(free).unwrap_or(far(1)[0]);
        out.push(Shape::Path { points: vec![[x, y], place.0], line: page.line(Ink::Text, 1.0) });
        self.write(out, &[place], size, text, Ink::Text, true);
    }

    /// Whether a reference at this place touches no can but its `own`.
    fn on_no_other(
        &self,
        own: Option<PositionId>,
        (at, anchor): ([f64; 2], Anchor),
        size: f64,
        reference: &str,
    ) -> bool {
        let [left, top, right, bottom] = self.box_of(at, anchor, size, reference);
        let from = self.bodies.partition_point(|body| body.0[0] < left - self.widest);
        let beside = self.bodies[from..].iter().take_while(|body| body.0[0] <= right + self.widest);
        !beside
            .filter(|body| Some(body.2) != own)
            .any(|&([x, y], reach, _)| (x - x.clamp(left, right)).hypot(y - y.clamp(top, bottom)) < reach)
    }

    /// Lines within a can, as many as have room.
    fn inside(&mut self, out: &mut Vec<Shape>, can: &CanOnMap, top: f64, across: f64) {
        let (page, point) = (self.page, self.page.point);
        let [x, y] = page.at(can.centre_mm);
        let mut lines = vec![can.reference.clone()];
        match self.drawing.colours {
            Colours::NewPart => lines.extend(self.drawing.words(can)),
            Colours::Unit => {
                lines.push(Colours::Unit.of(can).2.trim_start_matches("old part ").to_owned());
                lines.extend(can.at_bench.as_ref().and_then(|at| at.words.clone()));
            }
            Colours::OldPart | Colours::Bench => {}
        }
        let bar = negative_band(can, &can.body()).map(|ends| ends.map(|end| page.at(end)));
        let mut top = top;
        for (n, text) in lines.iter().enumerate() {
            let size = if n == 0 { 14.0 } else { 11.5 } * point;
            let lowest = (top + size * 1.25 - y).abs();
            // The width of the can where the line ends.
            let chord = 2.0 * ((across / 2.0).powi(2) - lowest.powi(2)).max(0.0).sqrt();
            let too_wide = n > 0 && (self.drawing.width)(text, size) + 6.0 * point > chord;
            if too_wide && can.part.is_none() {
                // What follows makes no sense without it.
                return;
            }
            if too_wide {
                continue;
            }
            let at = [x, top];
            let area = self.box_of(at, Anchor::Top, size, text);
            if n > 0 && crosses(bar, area) {
                return;
            }
            if !self.drawing.all_references && !self.is_free(area) {
                return;
            }
            self.taken.push(area);
            let on_ground = self.drawing.over_photo || n == 0;
            out.push(Shape::Text { at, anchor: Anchor::Top, size, text: text.clone(), ink: Ink::Text, on_ground });
            top += size * 1.25;
        }
    }
}
