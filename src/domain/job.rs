//! A rebuild: the boards, how many units, how long it must last.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::Extra;
use super::board::Board;
use super::conditions::Conditions;
use super::policy::Policy;
use super::position::Position;
use super::shelf::ShelfStock;
use super::uncertainty::Uncertainty;
use super::unit::UnitAtBench;
use super::variant::Variant;

/// A position's place in its [`Job`].
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PositionId {
    /// Index of the board.
    pub board: usize,
    /// Index of the position on the board.
    pub index: usize,
}

/// Everything a person enters about one rebuild.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Job {
    /// What the shop calls it.
    pub name: String,
    /// Whether everything in the job is invented, as in the demo; absent = no.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub invented: Option<bool>,
    /// Units to rebuild; absent = 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub units: Option<f64>,
    /// Spare pieces over the need, percent; absent = 0.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spare_pct: Option<f64>,
    /// Energised hours in a year.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hours_per_year: Option<f64>,
    /// Years until the next scheduled rebuild.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub interval_years: Option<f64>,
    /// What one more order line costs; absent = 0.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub line_cost: Option<f64>,
    /// Currency of the costs.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub currency: Option<String>,
    /// What it costs to open and close the machine once.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub teardown_cost: Option<f64>,
    /// Catalogue files, relative to the job file.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub catalogs: Vec<String>,
    /// Files with offers of further suppliers, relative to the job file.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub offers: Vec<String>,
    /// Units of `currency` for one unit of another currency, entered by the buyer.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub currency_rates: BTreeMap<String, f64>,
    /// Supplier the buyer chose for a part, by part number; absent = the cheapest that has enough.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub suppliers: BTreeMap<String, String>,
    /// Parts already in the shop.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub shelf: Vec<ShelfStock>,
    /// Part numbers that a proposed order has to use.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub must_use: Vec<String>,
    /// Part numbers that a proposed order must not use.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub never_use: Vec<String>,
    /// Makers the buyer prefers.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub prefer_makers: Vec<String>,
    /// How much dearer an order may be for each line that is of a preferred maker; absent = `line_cost`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub prefer_worth: Option<f64>,
    /// Whether each ordered part needs a part of another maker that passes everywhere it is used; absent = no.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub second_source: Option<bool>,
    /// Margins.
    pub policy: Policy,
    /// How far the inputs of the life may be off; absent = nobody said, so there is no spread.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub uncertainty: Option<Uncertainty>,
    /// Ambient of every position whose board and own stress do not say otherwise.
    #[serde(skip_serializing_if = "Conditions::is_empty")]
    pub conditions: Conditions,
    /// Other conditions somebody looked at and wants to look at again; they change nothing of the job.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub variants: Vec<Variant>,
    /// Units at the bench, whose rebuild is not in the record yet.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub bench: Vec<UnitAtBench>,
    /// The boards of one unit.
    pub boards: Vec<Board>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub extra: Extra,
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
    #[must_use]
    pub fn position(&self, id: PositionId) -> Option<&Position> {
        self.boards.get(id.board)?.positions.get(id.index)
    }

    /// The position at a place, to change it.
    pub fn position_mut(&mut self, id: PositionId) -> Option<&mut Position> {
        self.boards.get_mut(id.board)?.positions.get_mut(id.index)
    }

    /// The references of positions in a row, as in `C1, C4` with `", "` between them; places the job does not have are left out.
    #[must_use]
    pub fn references(&self, ids: &[PositionId], between: &str) -> String {
        let names: Vec<&str> = ids.iter().filter_map(|&id| Some(self.position(id)?.reference.as_str())).collect();
        names.join(between)
    }

    /// Target life of the board, h: interval times energised hours in a year.
    #[must_use]
    pub fn interval_h(&self) -> Option<f64> {
        Some(self.interval_years? * self.hours_per_year?)
    }
}
