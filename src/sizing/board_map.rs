//! A board as a map: where every body lies and how large it is, and where it stands too close or where nothing may stand.

use super::footprint::{Footprint, Placed};
use super::needs::{self, Need};
use super::{CanState, Sizing, Source, old_part};
use crate::domain::{Board, Catalog, Job, Outcome, PartId, Position, PositionId, Side, Technology};
use crate::physics::condition::Condition;

/// Drawn where a body is not known, mm.
const UNKNOWN_BODY_MM: f64 = 5.0;

/// Free space around what is on a map without an outline, and between bodies laid out in a grid, mm.
const MARGIN_MM: f64 = 8.0;

/// A board to place positions on when nothing says how large it is, mm: the size of a Eurocard.
const USUAL_BOARD_MM: [f64; 2] = [160.0, 100.0];

/// So many gaps that fall short are looked for around one can.
const SHORT_GAPS_MAX: usize = 16;

/// The readings are exact to the micrometre at best, mm.
const READING_MM: f64 = 1e-6;

/// What a unit at the bench says of a can.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct AtBench {
    /// Whether the new part is in.
    pub done: bool,
    /// What was measured on the old part, as `3410 of 4700 µF`.
    pub words: Option<String>,
}

/// One can on the map.
#[derive(Debug, Clone, PartialEq)]
pub struct CanOnMap {
    /// Its position.
    pub id: PositionId,
    /// Reference designator.
    pub reference: String,
    /// Centre, mm; of its cell in the grid when it is not located.
    pub centre_mm: [f64; 2],
    /// Whether the centre is where the can really sits.
    pub located: bool,
    /// Direction from the negative to the positive lead; `None` when not known.
    pub rotation_deg: Option<f64>,
    /// Largest body of the original.
    pub original: Option<Footprint>,
    /// Largest body of the chosen part.
    pub chosen: Option<Footprint>,
    /// Where the chosen part comes from.
    pub source: Source,
    /// The chosen part.
    pub part: Option<PartId>,
    /// Calendar years of the chosen part.
    pub years: Option<f64>,
    /// Verdict on the chosen part.
    pub verdict: Outcome,
    /// How far the choice has come.
    pub state: CanState,
    /// What the position needs before more can be said.
    pub needs: Vec<Need>,
    /// Condition of the old part, by what was measured.
    pub condition: Condition,
    /// Whether the part has a polarity.
    pub polarised: bool,
    /// What the unit at the bench says of it; `None` away from the bench.
    pub at_bench: Option<AtBench>,
    /// The nearest located neighbour on the same side whose body is known, and the gap to it in mm.
    pub nearest: Option<(PositionId, f64)>,
}

impl CanOnMap {
    /// How far the choice has come, in words: what is needed where too little is known.
    pub fn state_words(&self) -> String {
        let needs = needs::in_words(&self.needs).filter(|_| self.state == CanState::NotEnoughKnown);
        needs.unwrap_or_else(|| self.state.word().to_owned())
    }

    /// The body that will stand there: of the chosen part, else of the original, else a small circle.
    pub fn body(&self) -> Placed {
        let unknown = Footprint::Round { diameter_mm: UNKNOWN_BODY_MM };
        self.placed(self.chosen.or(self.original).unwrap_or(unknown))
    }

    /// A shadow at this place.
    pub fn placed(&self, footprint: Footprint) -> Placed {
        Placed::at(footprint, self.centre_mm, self.rotation_deg)
    }

    /// Half the largest extent of what is drawn, mm.
    pub fn reach_mm(&self) -> f64 {
        let of = |footprint: Option<Footprint>| footprint.map_or(0.0, |f| f.size_mm().into_iter().fold(0.0, f64::max));
        of(self.original).max(of(self.chosen)).max(UNKNOWN_BODY_MM) / 2.0
    }
}

/// Two neighbours that stand closer than the shop wants.
#[derive(Debug, Clone, PartialEq)]
pub struct Gap {
    /// The two positions.
    pub between: [PositionId; 2],
    /// The gap, mm; negative where the bodies overlap.
    pub gap_mm: f64,
    /// The points it is measured between, mm.
    pub ends_mm: [[f64; 2]; 2],
}

/// A body that stands where none may.
#[derive(Debug, Clone, PartialEq)]
pub struct KeepoutViolation {
    /// The position.
    pub id: PositionId,
    /// What it stands on.
    pub on: Reserved,
    /// How far it reaches in, mm.
    pub by_mm: f64,
}

/// What must stay free on a board.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reserved {
    /// An area marked to stay free.
    KeepOut,
    /// A mounting hole.
    Hole,
}

/// One side of a board as a map.
#[derive(Debug, Clone, PartialEq)]
pub struct BoardMap {
    /// The side.
    pub side: Side,
    /// Left, bottom, right and top of everything there is to see, mm.
    pub extent_mm: [f64; 4],
    /// The cans on this side.
    pub cans: Vec<CanOnMap>,
    /// The located cans of the other side.
    pub behind: Vec<CanOnMap>,
    /// Neighbours that are too close, by the bodies of the chosen parts.
    pub short_gaps: Vec<Gap>,
    /// Located bodies over keep-outs and mounting holes, by the chosen parts.
    pub keepout_violations: Vec<KeepoutViolation>,
    /// How many cans of this side are not located and stand in a grid.
    pub in_grid: usize,
    /// Places of the cans among all, the largest first: of two that lie over each other the smaller one is on top.
    pub largest_first: Vec<usize>,
    /// The gap the shop wants between two bodies, mm.
    pub wanted_gap_mm: f64,
}

impl BoardMap {
    /// The map of one side of a board; `None` when the job has no such board.
    pub fn new(job: &Job, catalog: &Catalog, sizing: &Sizing, board: usize, side: Side) -> Option<Self> {
        let of = job.boards.get(board)?;
        let id = |index| PositionId { board, index };
        let all: Vec<CanOnMap> =
            of.positions.iter().enumerate().map(|(at, position)| can(catalog, sizing, id(at), position)).collect();
        let on = |can: &CanOnMap, side| of.positions[can.id.index].side.unwrap_or_default() == side;
        let (mut cans, mut behind): (Vec<_>, Vec<_>) = all.into_iter().partition(|can| on(can, side));
        behind.retain(|can| can.located);
        let frame = frame_mm(of, cans.iter().chain(&behind));
        let in_grid = cans.iter().filter(|can| !can.located).count();
        let mut extent_mm = frame.unwrap_or([0.0, 0.0, USUAL_BOARD_MM[0], USUAL_BOARD_MM[1]]);
        if in_grid > 0 {
            // Beside the board while it is being located, alone when nothing of it is known.
            let top_left = frame.map_or([0.0, USUAL_BOARD_MM[1]], |[left, bottom, ..]| [left, bottom - MARGIN_MM]);
            let laid = lay_out(cans.iter_mut().filter(|can| !can.located), top_left, frame.map(|f| f[2] - f[0]));
            extent_mm = if frame.is_some() { union(extent_mm, laid) } else { laid };
        }
        let mut largest_first: Vec<usize> = (0..cans.len()).collect();
        largest_first.sort_by(|&a, &b| cans[b].reach_mm().total_cmp(&cans[a].reach_mm()));
        let (short_gaps, keepout_violations) = (Vec::new(), Vec::new());
        let wanted_gap_mm = job.policy.can_gap_mm;
        let mut map = Self {
            side,
            extent_mm,
            cans,
            behind,
            short_gaps,
            keepout_violations,
            in_grid,
            largest_first,
            wanted_gap_mm,
        };
        map.measure_gaps();
        map.find_trespasses(of);
        Some(map)
    }

    /// The can of a position, when it is on this side.
    pub fn can(&self, id: PositionId) -> Option<&CanOnMap> {
        self.cans.binary_search_by_key(&id, |can| can.id).ok().map(|at| &self.cans[at])
    }

    /// Whether the gap to a neighbour falls short.
    pub fn is_short(&self, can: &CanOnMap) -> bool {
        can.nearest.is_some_and(|(_, gap_mm)| gap_mm < self.wanted_gap_mm - READING_MM)
    }

    /// What the body of a can stands on that must stay free.
    pub fn violations(&self, id: PositionId) -> impl Iterator<Item = &KeepoutViolation> {
        let from = self.keepout_violations.partition_point(|found| found.id < id);
        self.keepout_violations[from..].iter().take_while(move |found| found.id == id)
    }

    fn find_trespasses(&mut self, board: &Board) {
        let free: Vec<_> = reserved(board).collect();
        for can in self.cans.iter().filter(|can| can.stands()) {
            for (on, area) in &free {
                let by_mm = -can.body().gap(area).0;
                if by_mm > READING_MM {
                    self.keepout_violations.push(KeepoutViolation { id: can.id, on: *on, by_mm });
                }
            }
        }
    }

    /// Finds each can's nearest neighbour and the gaps that fall short. From the left to the right of the board, so that a can is
    /// measured against those beside it only; of a heap on one spot only so many gaps a can as anybody looks at.
    fn measure_gaps(&mut self) {
        let wanted_mm = self.wanted_gap_mm;
        let mut row: Vec<(f64, usize)> = (0..self.cans.len())
            .filter(|&at| self.cans[at].stands())
            .map(|at| (self.cans[at].centre_mm[0], at))
            .collect();
        row.sort_by(|a, b| a.0.total_cmp(&b.0));
        let bodies: Vec<Placed> = row.iter().map(|&(_, at)| self.cans[at].body()).collect();
        let reaches: Vec<f64> = bodies.iter().map(Placed::reach_mm).collect();
        let widest_mm = reaches.iter().copied().fold(0.0, f64::max);
        for (n, &(x_mm, at)) in row.iter().enumerate() {
            let own = self.cans[at].id;
            let mut nearest: Option<(f64, PositionId)> = None;
            let mut short = 0;
            for others in [&mut (n + 1..row.len()) as &mut dyn Iterator<Item = usize>, &mut (0..n).rev()] {
                for m in others {
                    let limit_mm = nearest.map_or(f64::INFINITY, |(gap_mm, _)| gap_mm).max(wanted_mm);
                    if (row[m].0 - x_mm).abs() - reaches[n] - widest_mm > limit_mm || short == SHORT_GAPS_MAX {
                        break;
                    }
                    let [dx, dy] = [0, 1].map(|k| bodies[m].centre_mm[k] - bodies[n].centre_mm[k]);
                    if dx.hypot(dy) - reaches[n] - reaches[m] > limit_mm {
                        continue;
                    }
                    let (gap_mm, ends_mm) = bodies[n].gap(&bodies[m]);
                    let other = self.cans[row[m].1].id;
                    if nearest.is_none_or(|known| (gap_mm, other) < known) {
                        nearest = Some((gap_mm, other));
                    }
                    if gap_mm < wanted_mm - READING_MM {
                        short += 1;
                        if own < other {
                            self.short_gaps.push(Gap { between: [own, other], gap_mm, ends_mm });
                        }
                    }
                }
            }
            self.cans[at].nearest = nearest.map(|(gap_mm, other)| (other, gap_mm));
        }
        self.short_gaps.sort_by_key(|gap| gap.between);
    }
}

impl CanOnMap {
    /// Whether it is known where its body is and how large.
    fn stands(&self) -> bool {
        self.located && (self.chosen.is_some() || self.original.is_some())
    }
}

/// What must stay free on a board, as shadows.
fn reserved(board: &Board) -> impl Iterator<Item = (Reserved, Placed)> {
    let keepouts = board.keepouts_mm.iter().filter(|[.., w, h]| *w > 0.0 && *h > 0.0).map(|&[x, y, w, h]| {
        let area = Footprint::Lying { length_mm: w, diameter_mm: h };
        (Reserved::KeepOut, Placed::at(area, [x + w / 2.0, y + h / 2.0], None))
    });
    let holes = board
        .holes_mm
        .iter()
        .filter(|[.., d]| *d > 0.0)
        .map(|&[x, y, diameter_mm]| (Reserved::Hole, Placed::at(Footprint::Round { diameter_mm }, [x, y], None)));
    keepouts.chain(holes)
}

fn can(catalog: &Catalog, sizing: &Sizing, id: PositionId, position: &Position) -> CanOnMap {
    let sized = sizing.position(id);
    let choice = sized.map(|sized| &sized.choice);
    let part = choice.and_then(|choice| choice.part).map(|part| catalog.can(part.id));
    let original = &position.original.can;
    let centre = position.centre_mm().filter(|(x, y)| x.is_finite() && y.is_finite());
    CanOnMap {
        id,
        reference: position.reference.clone(),
        centre_mm: centre.map_or([0.0, 0.0], |(x, y)| [x, y]),
        located: centre.is_some(),
        rotation_deg: position.rotation_deg,
        original: Footprint::of(original),
        chosen: part.as_ref().and_then(Footprint::of),
        source: choice.map_or(Source::None, |choice| choice.source),
        part: choice.and_then(|choice| choice.part).map(|part| part.id),
        years: choice.and_then(|choice| choice.part).and_then(|part| part.evaluation.figures.calendar_years),
        state: choice.map_or(CanState::Open, CanState::of),
        needs: sized.map_or_else(Vec::new, |sized| sized.needs.clone()),
        verdict: choice.map_or(Outcome::Unknown, |choice| choice.verdict),
        condition: old_part::condition(position).0.condition,
        polarised: part.as_ref().unwrap_or(original).technology_or_wet() != Technology::NonPolar,
        at_bench: None,
        nearest: None,
    }
}

/// What the board takes: its outline, else the photo, and everything located on it; `None` when nothing of it is known.
fn frame_mm<'a>(board: &Board, cans: impl Iterator<Item = &'a CanOnMap>) -> Option<[f64; 4]> {
    let outline = board.outline_mm.map(|[width, height]| [0.0, 0.0, width, height]);
    let photo = board
        .photo
        .as_ref()
        .and(board.photo_corners_mm)
        .filter(|_| outline.is_none())
        .map(|corners| corners.into_iter().map(|[x, y]| [x, y, x, y]).reduce(union).unwrap_or_default());
    let margin_mm = if outline.is_some() { 0.0 } else { MARGIN_MM };
    let located = cans.filter(|can| can.located).map(|can| {
        let [x, y] = can.centre_mm;
        let reach = can.reach_mm() + margin_mm;
        [x - reach, y - reach, x + reach, y + reach]
    });
    outline.into_iter().chain(photo).chain(located).reduce(union)
}

fn union(a: [f64; 4], b: [f64; 4]) -> [f64; 4] {
    [a[0].min(b[0]), a[1].min(b[1]), a[2].max(b[2]), a[3].max(b[3])]
}

/// Puts cans into rows from `top_left` on, in their order; returns the area they take. Without a width the rows are as long
/// as makes an area a little wider than high.
fn lay_out<'a>(cans: impl Iterator<Item = &'a mut CanOnMap>, top_left: [f64; 2], width_mm: Option<f64>) -> [f64; 4] {
    const LEAST_CELL_MM: f64 = 16.0;
    let mut cans: Vec<&mut CanOnMap> = cans.collect();
    let cell = |can: &CanOnMap| (can.reach_mm() * 2.0 + MARGIN_MM).max(LEAST_CELL_MM);
    let area: f64 = cans.iter().map(|can| cell(can).powi(2)).sum();
    let row_mm = width_mm.unwrap_or(0.0).max((area * 1.8).sqrt());
    let [mut x, mut y] = top_left;
    let (mut right, mut start) = (x, 0);
    let mut row_height = 0.0;
    for at in 0..cans.len() {
        let side = cell(cans[at]);
        if at > start && x + side > top_left[0] + row_mm {
            y -= row_height;
            (x, row_height, start) = (top_left[0], 0.0, at);
        }
        row_height = f64::max(row_height, side);
        cans[at].centre_mm = [x + side / 2.0, y];
        x += side;
        right = f64::max(right, x);
        // The cans of a row stand on one line.
        for can in &mut cans[start..=at] {
            can.centre_mm[1] = y - row_height / 2.0;
        }
    }
    [top_left[0], y - row_height, right, top_left[1]]
}
