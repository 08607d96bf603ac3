//! The fields of the job, its policy, its uncertainty and its boards.

use super::{About, Absent, Bounds, Kind, PRACTICE, Section, Several, Unit, fields};
use crate::domain::{Board, Job, Side};
use Absent::{Assumed, Derived, Nothing, Unknown};

/// A figure of a point, with its bounds.
type Coordinate = (&'static str, Bounds);
const X: Coordinate = ("x", Bounds::Signed);
const Y: Coordinate = ("y", Bounds::Signed);
const AREA: [Coordinate; 4] = [X, Y, ("width", Bounds::Positive), ("depth", Bounds::Positive)];

fields! {
    /// Every field of the job but its boards and its shelf.
    pub JOB: Job;
    "job." [] {
        name name (Line) Job, Nothing("empty"), "Name of the job", "What the shop calls the job.";
        said invented () Elsewhere, Nothing("false"), "Invented",
            "Whether everything in the job is invented, as in the demo.";
        number interval_years (Year Positive) Job, Unknown, "Service interval",
            "Years until the next scheduled rebuild.", "target = interval x hours per year",
            "8 to 10 years: common practice";
        number hours_per_year (Hour HoursOfYear) Job, Unknown, "Energised hours per year",
            "Hours in a year with power on; without it years cannot be counted, always on is 8766 h.";
        number units (Piece Count) Job, Assumed("1"), "Units", "Units to rebuild; 1 where nothing is entered.";
        number spare_pct (Percent NotNegative) Job, Assumed("0 %"), "Spares",
            "Pieces bought over the need; none where nothing is entered.";
        number line_cost (Money NotNegative) Job, Assumed("0"), "Cost of an order line",
            "What one more order line costs in work and postage; nothing where nothing is entered.";
        number teardown_cost (Money NotNegative) Job, Unknown, "Cost of a teardown",
            "What it costs to open and close the machine once.";
        text currency (Line) Job, Derived("assumed from the parts where they agree"), "Currency",
            "Currency of all costs, such as EUR.";
        number conditions.ambient_min_c (Celsius Celsius) Job, Nothing("the coolest phase"), "Lowest ambient",
            "Lowest ambient, also while switched off, of every position of the job that has none of its own.";
        number conditions.airflow_lfm (AirSpeed NotNegative) Job, Nothing("still air"), "Air speed",
            "Air speed at every position that takes its load profile from the job.";
        special conditions.phases (Kind::Rows) Elsewhere, Unknown, "Load profile",
            "Operating phases of every position of the job that has none of its own; a position adds its own rise.";
        special catalogs (Kind::Texts) Elsewhere, Nothing("none"), "Catalogues",
            "Catalogue files beside the job file.";
        special offers (Kind::Texts) Elsewhere, Nothing("none"), "Offers",
            "Lists of further suppliers' offers beside the job file.";
        special currency_rates (Kind::Figures(Bounds::Positive)) Elsewhere, Nothing("none"), "Currency rates",
            "Units of the job's currency for one unit of another, entered by the buyer.";
        special suppliers (Kind::TextMap) Elsewhere, Nothing("the cheapest that has enough"), "Suppliers",
            "Supplier the buyer chose for a part, by part number.";
        special must_use (Kind::Texts) Elsewhere, Nothing("none"), "Required parts",
            "Part numbers a proposed order has to use.";
        special never_use (Kind::Texts) Elsewhere, Nothing("none"), "Excluded parts",
            "Part numbers a proposed order must not use.";
        special prefer_makers (Kind::Texts) Elsewhere, Nothing("none"), "Preferred manufacturers",
            "Manufacturers the buyer prefers.";
        number prefer_worth (Money NotNegative) Elsewhere, Derived("the cost of an order line"),
            "Max. premium per line", "How much more an order may cost for each line of a preferred manufacturer.";
        said second_source () Elsewhere, Nothing("false"), "Second source",
            "Whether each ordered part needs a part of another manufacturer that passes everywhere it is used.";
    }
    "" [] {
        default policy.voltage_use_max_wet_lv (Share Share) Policy, Absent::Default,
            "Max. voltage utilisation, liquid electrolyte <160 V",
            "Greatest share of the rated voltage for parts with liquid electrolyte rated below 160 V.",
            "(dc + ripple peak) / U_R <= 80 %", PRACTICE;
        default policy.voltage_use_max_wet_hv (Share Share) Policy, Absent::Default,
            "Max. voltage utilisation, liquid electrolyte from 160 V",
            "Greatest share of the rated voltage for parts with liquid electrolyte rated 160 V or more.",
            "(dc + ripple peak) / U_R <= 90 %", PRACTICE;
        default policy.voltage_use_max_polymer (Share Share) Policy, Absent::Default,
            "Max. voltage utilisation, hybrid and solid polymer",
            "Greatest share of the rated voltage for hybrid and solid polymer parts.",
            "(dc + ripple peak) / U_R <= 80 %", PRACTICE;
        default policy.ripple_use_max (Share Share) Policy, Absent::Default, "Max. ripple utilisation",
            "Greatest share of the ripple current allowed at the ambient.", "I_eq / I_allow(Ta) <= 80 %", PRACTICE;
        default policy.life_margin (Number Margin) Policy, Absent::Default, "Life margin factor",
            "How much longer than the target the part must last to pass.", "L >= 1.25 target", PRACTICE;
        flag policy.count_voltage_derating () Policy, Absent::Default, "Credit voltage derating in life",
            "Whether operation below the rated voltage counts as longer life, for liquid electrolyte from 160 V.",
            "K_V = clamp(U/U_R, 0.6, 1)^-2.5", "Albertsen, Jianghai Europe 2010 (published, second-hand)";
        default policy.calendar_cap_years (Year Positive) Policy, Absent::Default, "Calendar life limit",
            "No part is expected to last longer than this, whatever the formula says.",
            "years = min(L / hours per year, cap)", "15 years: Beckhoff PS9011 manual (published)";
        default policy.can_gap_mm (Millimetre NotNegative) Policy, Absent::Default, "Clearance between components",
            "Free space between the largest bodies of neighbours as the map draws them, lying parts as rectangles.",
            "centre distance - (D1 + D2)/2 >= gap", PRACTICE;
        default policy.pitch_reach_mm (Millimetre NotNegative) Policy, Absent::Default, "Max. lead forming",
            "How far radial leads may be formed.", "|lead spacing - hole spacing| <= reach", PRACTICE;
        within_number uncertainty.ambient_sigma_k (Kelvin NotNegative) Uncertainty, Derived("3 (assumed)"),
            "Ambient uncertainty (1σ)", "Standard deviation of the ambient.", "normal distribution", PRACTICE;
        within_number uncertainty.ripple_sigma_rel (Share Spread) Uncertainty, Derived("0.2 (assumed)"),
            "Ripple uncertainty (1σ)", "Relative standard deviation of the ripple current.", "normal distribution",
            PRACTICE;
        within_number uncertainty.endurance_sigma_rel (Share Spread) Uncertainty, Derived("0.15 (assumed)"),
            "Endurance uncertainty (1σ)", "Relative standard deviation of the endurance of a part.",
            "lognormal distribution", PRACTICE;
        special uncertainty.samples (Kind::Number(Unit::Number, Bounds::Samples)) Elsewhere,
            Derived("2000 (assumed)"), "Samples", "How many lives are drawn, 1 to 1000000.";
        special uncertainty.seed (Kind::Number(Unit::Number, Bounds::Seed)) Elsewhere, Derived("1 (assumed)"), "Seed",
            "Start of the random sequence: the same seed gives the same figures.";
    }
}

fields! {
    /// Every field of a board but its positions.
    pub BOARD: Board;
    "board." [] {
        name name (Line) Board, Nothing("empty"), "Name of the board", "What the shop calls the board.";
        number per_unit (Piece Count) Board, Assumed("1"), "Boards per unit",
            "Boards of this kind in a unit; 1 where nothing is entered.";
        special outline_mm (Kind::Points(&[("Board width (x)", Bounds::Positive), ("Board depth (y)", Bounds::Positive)], Several::One)) Board,
            Unknown, "Board size", "Width (x) and depth (y) of the board as the map shows it.";
        number lid_mm (Millimetre Positive) Board, Unknown, "Lid height", "Height of the lid above the board.";
        number conditions.ambient_min_c (Celsius Celsius) Board, Nothing("the coolest phase"), "Lowest ambient",
            "Lowest ambient, also while switched off, of every position of the board that has none of its own.";
        number conditions.airflow_lfm (AirSpeed NotNegative) Board, Nothing("still air"), "Air speed",
            "Air speed at every position that takes its load profile from the board.";
        special conditions.phases (Kind::Rows) Elsewhere, Unknown, "Load profile",
            "Operating phases of every position of the board that has none of its own; a position adds its own rise.";
        text photo (File) Board, Nothing("none"), "Photo",
            "Picture of the board (PNG, JPEG), a file in the folder of the job.";
        special photo_corners_mm (Kind::Points(&[X, Y], Several::Many)) Elsewhere, Nothing("not calibrated"),
            "Corners of the photo",
            "Where the upper left, upper right, lower right and lower left corner of the picture lie, each x and y.";
        number photo_opacity_pct (Percent Percent) Elsewhere, Nothing("60"), "Opacity of the photo",
            "How strongly the photo shows.";
        number photo_distance_mm (Millimetre Positive) Elsewhere, Nothing("not corrected"), "Camera above the board",
            "How far the camera was from the board: tall cans traced on the photo are corrected by it.";
        word photo_side (Side) Elsewhere, Nothing("top"), "Side of the photo", "The side the photo shows.";
        special holes_mm (Kind::Points(&[X, Y, ("Ø", Bounds::Positive)], Several::Many)) Elsewhere, Nothing("none"),
            "Mounting holes", "Holes with the hardware in them: x, y, diameter.";
        special keepouts_mm (Kind::Points(&AREA, Several::Many)) Elsewhere, Nothing("none"), "Keep-outs", "Areas to stay out of: x and y of the lower left corner, width, depth.";
    }
}

/// What holds the fields above: an object or a list, its path, label, what its absence means, its own meaning.
macro_rules! holders {
    ($($kind:ident $path:literal $label:literal, $absent:literal, $meaning:literal;)*) => {
        /// Objects and lists that hold the fields above.
        pub static CONTAINERS: &[About] = &[$(About {
            path: $path, kind: Kind::$kind, absent: Nothing($absent), label: $label, meaning: $meaning, formula: "", source: "",
            section: Section::Elsewhere,
        }),*];
    };
}

holders! {
    Object "job.policy" "Policy", "the defaults below", "The shop's margins.";
    Object "job.uncertainty" "Uncertainty", "no spread", "How far the inputs of the life may be off.";
    Rows "job.shelf" "Stock", "none", "Parts already in the shop.";
    Rows "job.bench" "At the bench", "none", "Units that are being rebuilt and are not in the record yet.";
    Rows "job.variants" "Variants", "none", "Other conditions to look at; they change nothing of the job.";
    Object "job.conditions" "Conditions", "unknown",
        "Ambient of every position whose board and own stress do not say otherwise.";
    Object "board.conditions" "Conditions", "those of the job",
        "Ambient of every position of the board whose own stress does not say otherwise.";
    Rows "job.boards" "Boards", "none", "The boards.";
    Rows "job.unit_types" "Types of units", "one type with every board",
        "Units that are built alike, each type with its number of units and its boards.";
    Rows "job.other_parts" "Other parts", "none", "Parts beside the electrolytics that are on no board.";
    Rows "job.test_points" "Test points", "none", "Test points that are on no board.";
    Rows "board.other_parts" "Other parts", "none", "Parts beside the electrolytics that are replaced too.";
    Rows "board.test_points" "Test points", "none", "Where to measure before the unit goes back.";
    Object "other_parts.original" "Original part", "all unknown", "The part that was built in.";
    Object "other_parts.replacement" "Replacement", "all unknown", "What goes in, with the terms of its sale.";
    Rows "board.positions" "Positions", "none", "The positions.";
    Object "original" "Original part", "all unknown", "The part that was built in.";
    Object "stress" "Stress", "all unknown", "Operating conditions of the part.";
    Object "needs" "Needs of the circuit", "no limits", "What the circuit asks of the part.";
    Object "space" "Room", "the original's body", "The room there is for the part.";
    Object "measured" "Measured on the old part", "not measured", "What was measured on the old part.";
}
