//! A rebuild: the boards, how many units, how long it must last.

use std::collections::BTreeMap;

use super::board::{Board, UnitType};
use super::conditions::Conditions;
use super::other_part::{OtherPart, TestPoint};
use super::place::{OtherId, Place, PositionId};
use super::policy::Policy;
use super::position::{Phase, Position};
use super::shelf::ShelfStock;
use super::uncertainty::Uncertainty;
use super::unit::{PositionRecord, UnitAtBench};
use super::variant::Variant;
use super::written::records;

records! {
    /// Everything a person enters about one rebuild.
    pub struct Job {
        /// What the shop calls it.
        pub name: String,
        /// Whether everything in the job is invented, as in the demo; absent = no.
        pub invented: Option<bool>,
        /// Units to rebuild; absent = 1.
        pub units: Option<f64>,
        /// Spare pieces over the need, percent; absent = 0.
        pub spare_pct: Option<f64>,
        /// Energised hours in a year.
        pub hours_per_year: Option<f64>,
        /// Years until the next scheduled rebuild.
        pub interval_years: Option<f64>,
        /// What one more order line costs; absent = 0.
        pub line_cost: Option<f64>,
        /// Currency of the costs.
        pub currency: Option<String>,
        /// What it costs to open and close the machine once.
        pub teardown_cost: Option<f64>,
        /// Catalogue files, relative to the job file.
        pub catalogs: Vec<String>,
        /// Files with offers of further suppliers, relative to the job file.
        pub offers: Vec<String>,
        /// Units of `currency` for one unit of another currency, entered by the buyer.
        pub currency_rates: BTreeMap<String, f64>,
        /// Supplier the buyer chose for a part, by part number; absent = the cheapest that has enough.
        pub suppliers: BTreeMap<String, String>,
        /// Parts already in the shop.
        pub shelf: Vec<ShelfStock>,
        /// Part numbers that a proposed order has to use.
        pub must_use: Vec<String>,
        /// Part numbers that a proposed order must not use.
        pub never_use: Vec<String>,
        /// Makers the buyer prefers.
        pub prefer_makers: Vec<String>,
        /// How much dearer an order may be for each line that is of a preferred maker; absent = `line_cost`.
        pub prefer_worth: Option<f64>,
        /// Whether each ordered part needs a part of another maker that passes everywhere it is used; absent = no.
        pub second_source: Option<bool>,
        /// Margins.
        pub policy: Policy,
        /// How far the inputs of the life may be off; absent = nobody said, so there is no spread.
        pub uncertainty: Option<Uncertainty>,
        /// Ambient of every position whose board and own stress do not say otherwise.
        pub conditions: Conditions,
        /// Other conditions somebody looked at and wants to look at again; they change nothing of the job.
        pub variants: Vec<Variant>,
        /// Units at the bench, whose rebuild is not in the record yet.
        pub bench: Vec<UnitAtBench>,
        /// Parts beside the electrolytics that belong to the unit and to no board.
        pub other_parts: Vec<OtherPart>,
        /// Test points of the unit that are on no board.
        pub test_points: Vec<TestPoint>,
        /// Units that are built alike; empty = one type with all boards, `units` of it.
        pub unit_types: Vec<UnitType>,
        /// The boards.
        #[serde_with(skip_apply)]
        pub boards: Vec<Board>,
    }
}

impl Job {
    /// Every position with its place, board by board.
    pub fn positions(&self) -> impl Iterator<Item = (PositionId, &Position)> {
        self.boards.iter().enumerate().flat_map(|(board, b)| {
            let place = move |index| PositionId { board, index };
            b.positions.iter().enumerate().map(move |(index, p)| (place(index), p))
        })
    }

    /// The position at a place.
    pub fn position(&self, id: PositionId) -> Option<&Position> {
        self.boards.get(id.board)?.positions.get(id.index)
    }

    /// The position at a place, to change it.
    pub fn position_mut(&mut self, id: PositionId) -> Option<&mut Position> {
        self.boards.get_mut(id.board)?.positions.get_mut(id.index)
    }

    /// The references of positions and other parts in a row, as in `C1, K4` with `", "` between them; places the job does not
    /// have are left out.
    pub fn references<P: Copy + Into<Place>>(&self, places: &[P], between: &str) -> String {
        let names: Vec<&str> =
            places.iter().map(|&at| self.name_of(at.into())).filter(|name| !name.is_empty()).collect();
        names.join(between)
    }

    /// The reference of a position or another part with its board: `Servo C7`, `unit F1` for what is on no board.
    pub fn full_name(&self, place: Place) -> String {
        format!("{} {}", self.board_name(place.board()), self.name_of(place))
    }

    /// Pieces at a place, over all boards and units.
    pub fn pieces(&self, place: Place) -> f64 {
        self.quantity_at(place) * self.copies(place.board())
    }

    /// Pieces at a place in one unit of a type.
    pub fn pieces_in(&self, of: &UnitType, place: Place) -> f64 {
        let copies = match place.board() {
            Some(at) => self.boards.get(at).map_or(0.0, |board| of.copies_in_one(board)),
            None => 1.0,
        };
        self.quantity_at(place) * copies
    }

    fn quantity_at(&self, place: Place) -> f64 {
        match place {
            Place::Position(_) => 1.0,
            Place::Other(id) => self.other_part(id).map_or(0.0, OtherPart::quantity_or_one),
        }
    }

    /// The lists of a kind with their board, those of the boards first, then that of the unit.
    fn lists<'a, T>(
        &'a self,
        of_board: fn(&'a Board) -> &'a [T],
        own: &'a [T],
    ) -> impl Iterator<Item = (OtherId, &'a T)> + use<'a, T> {
        let boards = self.boards.iter().enumerate().map(move |(at, board)| (Some(at), of_board(board)));
        boards.chain([(None, own)]).flat_map(|(board, list)| {
            list.iter().enumerate().map(move |(index, item)| (OtherId { board, index }, item))
        })
    }

    /// Every other part with its place, board by board, those of the unit last.
    pub fn all_other_parts(&self) -> impl Iterator<Item = (OtherId, &OtherPart)> {
        self.lists(|board| &board.other_parts, &self.other_parts)
    }

    /// Every test point with its place, in the same order.
    pub fn all_test_points(&self) -> impl Iterator<Item = (OtherId, &TestPoint)> {
        self.lists(|board| &board.test_points, &self.test_points)
    }

    /// The other part at a place.
    pub fn other_part(&self, id: OtherId) -> Option<&OtherPart> {
        let list = id.board.map_or(Some(&self.other_parts), |board| Some(&self.boards.get(board)?.other_parts));
        list?.get(id.index)
    }

    /// The reference of a position or another part; empty for one the job does not have.
    pub fn name_of(&self, place: Place) -> &str {
        let name = match place {
            Place::Position(id) => self.position(id).map(|position| &position.reference),
            Place::Other(id) => self.other_part(id).map(|part| &part.reference),
        };
        name.map_or("", String::as_str)
    }

    /// The name of a board; `unit` for what is on none.
    pub fn board_name(&self, board: Option<usize>) -> &str {
        board.map_or("unit", |at| self.boards.get(at).map_or("", |board| &board.name))
    }

    /// The types of units; where none is entered one without a name that has every board.
    pub fn unit_types_or_one(&self) -> Vec<UnitType> {
        if !self.unit_types.is_empty() {
            return self.unit_types.clone();
        }
        let mut boards: Vec<String> = Vec::new();
        for board in &self.boards {
            if !boards.contains(&board.name) {
                boards.push(board.name.clone());
            }
        }
        vec![UnitType { units: self.units, boards, ..UnitType::default() }]
    }

    /// Units of all types.
    pub fn units_in_all(&self) -> f64 {
        match self.unit_types.as_slice() {
            [] => self.units.unwrap_or(1.0),
            types => types.iter().map(UnitType::units_or_one).sum(),
        }
    }

    /// Boards of a kind in all units; for what is on no board the units.
    pub fn copies(&self, board: Option<usize>) -> f64 {
        let Some(at) = board else { return self.units_in_all() };
        let Some(board) = self.boards.get(at) else { return 0.0 };
        match self.unit_types.as_slice() {
            [] => board.per_unit_or_one() * self.units.unwrap_or(1.0),
            types => types.iter().map(|of| of.copies_in_one(board) * of.units_or_one()).sum(),
        }
    }

    /// Boards of this kind in one unit, of the type that has the most of them.
    pub fn most_in_one(&self, board: &Board) -> f64 {
        self.unit_types_or_one().iter().map(|of| of.copies_in_one(board)).fold(0.0, f64::max)
    }

    /// Target life of the board, h: interval times energised hours in a year.
    pub fn interval_h(&self) -> Option<f64> {
        Some(self.interval_years? * self.hours_per_year?)
    }
}

impl UnitAtBench {
    /// Its type of unit in a job.
    pub fn type_in(&self, job: &Job) -> UnitType {
        let mut types = job.unit_types_or_one();
        let at = types.iter().position(|of| of.name == self.unit_type).unwrap_or(0);
        types.swap_remove(at)
    }
}

impl Variant {
    /// The job under these conditions. Where no phase was entered there is no ambient to shift, and no ripple to scale.
    pub fn applied(&self, job: &Job) -> Job {
        let mut job = job.clone();
        let (shift_k, factor) = (self.ambient_shift_k.unwrap_or(0.0), self.ripple_factor.unwrap_or(1.0));
        let vary = |phases: &mut Option<Vec<Phase>>, min_c: &mut Option<f64>| {
            for phase in phases.iter_mut().flatten() {
                phase.ambient_c = phase.ambient_c.map(|ambient_c| ambient_c + shift_k);
                if factor != 1.0 {
                    phase.ripple_scale = Some(phase.ripple_scale.unwrap_or(1.0) * factor);
                }
            }
            *min_c = min_c.map(|min_c| min_c + shift_k);
        };
        vary(&mut job.conditions.phases, &mut job.conditions.ambient_min_c);
        for board in &mut job.boards {
            vary(&mut board.conditions.phases, &mut board.conditions.ambient_min_c);
            for position in &mut board.positions {
                vary(&mut position.stress.phases, &mut position.stress.ambient_min_c);
            }
        }
        job.hours_per_year = self.hours_per_year.or(job.hours_per_year);
        job.interval_years = self.interval_years.or(job.interval_years);
        job
    }
}

/// A board as it stands in a unit: of several of the kind each is named by its number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BoardOfUnit {
    /// Index of the board in the job.
    pub board: usize,
    /// Its name in the record, as `Servo 2`.
    pub name: String,
}

/// Every board of a unit of a type.
pub fn boards_of_unit(job: &Job, of: &UnitType) -> Vec<BoardOfUnit> {
    let boards = job.boards.iter().enumerate().flat_map(|(board, known)| {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and 1000")]
        let copies = of.copies_in_one(known).ceil().clamp(0.0, 1000.0) as u32;
        (1..=copies).map(move |copy| BoardOfUnit {
            board,
            name: if copies == 1 { known.name.clone() } else { format!("{} {copy}", known.name) },
        })
    });
    boards.collect()
}

/// The other parts and test points of a board, called `name` in a unit, or of what is on none; with the part that is planned.
pub fn others_of_unit(job: &Job, board: Option<usize>, name: &str) -> Vec<PositionRecord> {
    let record = |reference: &str, kind: &str, part: &str| PositionRecord {
        part_number: part.to_owned(),
        kind: kind.to_owned(),
        ..PositionRecord::of(name, reference)
    };
    let parts = job.all_other_parts().filter(|(id, _)| id.board == board).map(|(_, part)| {
        record(&part.reference, part.kind.map_or("other", Into::into), part.part_number().unwrap_or_default())
    });
    let points = job.all_test_points().filter(|(id, _)| id.board == board);
    parts.chain(points.map(|(_, point)| record(&point.reference, "test_point", ""))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn types_of_units_add_up_and_without_any_every_unit_has_every_board() {
        let board = |name: &str, per_unit| Board { name: name.into(), per_unit, ..Board::default() };
        let boards = vec![board("Supply", None), board("Servo", Some(2.0)), board("Spare", None)];
        let mut job = Job { units: Some(4.0), boards, ..Job::default() };
        assert_eq!((job.copies(Some(1)), job.copies(None), job.copies(Some(9))), (8.0, 4.0, 0.0));
        let of = |name: &str, units, boards: &[&str]| UnitType {
            name: name.into(),
            units,
            boards: boards.iter().map(ToString::to_string).collect(),
            ..UnitType::default()
        };
        job.unit_types = vec![of("old", Some(3.0), &["Supply", "Servo"]), of("new", None, &["Supply", "Supply"])];
        let copies = [Some(0), Some(1), Some(2), None].map(|board| job.copies(board));
        assert_eq!(copies, [5.0, 6.0, 0.0, 4.0]);
    }
}
