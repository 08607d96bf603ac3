//! A board and the positions on it, and the types of units boards stand in.

use super::conditions::Conditions;
use super::other_part::{OtherPart, TestPoint};
use super::position::{Position, Side};
use super::schema::Absent::{Assumed, Nothing};
use super::schema::{Kind, fields};
use super::written::records;

records! {
    /// One kind of board in a unit.
    pub struct Board {
        /// What the shop calls it.
        pub name: String,
        /// Boards of this kind in a unit; absent = 1.
        pub per_unit: Option<f64>,
        /// Path of a photo, relative to the job file.
        pub photo: Option<String>,
        /// Where the corners of the photo lie on the board, x and y in mm: upper left, upper right, lower right, lower left
        /// corner of the picture; absent = not calibrated.
        pub photo_corners_mm: Option<[[f64; 2]; 4]>,
        /// How strongly the photo shows, percent; absent = 60.
        pub photo_opacity_pct: Option<f64>,
        /// How far above the board the camera was, mm; absent = tall cans are not corrected.
        pub photo_distance_mm: Option<f64>,
        /// The side the photo shows; absent = top.
        pub photo_side: Option<Side>,
        /// Width and height, mm.
        pub outline_mm: Option<[f64; 2]>,
        /// Mounting holes: x, y, diameter, mm.
        pub holes_mm: Vec<[f64; 3]>,
        /// Areas to stay out of: x, y of the lower left corner, width, height, mm.
        pub keepouts_mm: Vec<[f64; 4]>,
        /// Height of the lid over the board, mm.
        pub lid_mm: Option<f64>,
        /// Ambient of every position of the board whose own stress does not say otherwise.
        pub conditions: Conditions,
        /// The positions.
        #[serde_with(skip_apply)]
        pub positions: Vec<Position>,
        /// Parts beside the electrolytics that are replaced too.
        pub other_parts: Vec<OtherPart>,
        /// Where to measure before the unit goes back.
        pub test_points: Vec<TestPoint>,
    }
}

impl Board {
    /// Boards of this kind in a unit.
    pub fn per_unit_or_one(&self) -> f64 {
        self.per_unit.unwrap_or(1.0)
    }
}

fields! {
    /// Every field of a type of unit.
    pub UNIT_TYPE: UnitType;
    /// Units that are built alike. Without any, the units of the job all have every board.
    struct UnitType "unit_types." [] {
        name name (Line) Job, Nothing("empty"), "Name of the type", "What the shop calls units of this type.";
        number units (Piece Count) Job, Assumed("1"), "Units of the type",
            "Units of this type; they count instead of the units of the job.";
        special boards [Vec<String>] (Kind::Texts) Job, Nothing("none"), "Boards of the type",
            "Names of the boards in such a unit; one that stands in it twice is named twice.";
    }
}

impl UnitType {
    /// Units of this type.
    pub fn units_or_one(&self) -> f64 {
        self.units.unwrap_or(1.0)
    }

    /// Boards of this kind in one such unit.
    pub fn copies_in_one(&self, board: &Board) -> f64 {
        let named = self.boards.iter().filter(|name| name.trim() == board.name.trim()).count();
        named as f64 * board.per_unit_or_one()
    }
}
