//! The fields of the job, its policy, its uncertainty, its shelf and its boards.

use super::{About, Absent, Access, Bounds, Field, Kind, PRACTICE, Section, Several, Text, Unit};
use super::{default, name, number, text, within, word, words};
use crate::domain::{Board, Job, ShelfStock, Side, Variant};
use Absent::{Assumed, Derived, Nothing, Unknown, UnknownBut};

const LINE: Kind = Kind::Text(Text::Line);

/// A figure.
const fn of(unit: Unit, bounds: Bounds) -> Kind {
    Kind::Number(unit, bounds)
}

/// What a list in a job names.
const fn list(path: &'static str, kind: Kind, label: &'static str, meaning: &'static str) -> Field<Job> {
    Field::new(Section::Elsewhere, path, kind, Access::Special, label, meaning).absent(Nothing("none"))
}

/// Every field of the job but its boards and its shelf.
pub static JOB: &[Field<Job>] = &[
    Field::<Job>::new(Section::Job, "job.name", LINE, name!(name), "Name of the job", "What the shop calls the job.")
        .absent(Nothing("empty")),
    Field::<Job>::new(
        Section::Elsewhere,
        "job.invented",
        Kind::Flag,
        Access::Flag(|job| job.invented == Some(true), |job, on| job.invented = on.then_some(true)),
        "Invented",
        "Whether everything in the job is invented, as in the demo.",
    )
    .absent(Nothing("false")),
    Field::<Job>::new(
        Section::Job,
        "job.interval_years",
        of(Unit::Year, Bounds::Positive),
        number!(interval_years),
        "Service interval",
        "Years until the next scheduled rebuild.",
    )
    .formula("target = interval x hours per year", "8 to 10 years: common practice"),
    Field::<Job>::new(
        Section::Job,
        "job.hours_per_year",
        of(Unit::Hour, Bounds::HoursOfYear),
        number!(hours_per_year),
        "Energised hours per year",
        "Hours in a year with power on; without it years cannot be counted, always on is 8766 h.",
    ),
    Field::<Job>::new(
        Section::Job,
        "job.units",
        of(Unit::Piece, Bounds::Count),
        number!(units),
        "Units",
        "Units to rebuild; 1 where nothing is entered.",
    )
    .absent(Assumed("1")),
    Field::<Job>::new(
        Section::Job,
        "job.spare_pct",
        of(Unit::Percent, Bounds::NotNegative),
        number!(spare_pct),
        "Spares",
        "Pieces bought over the need; none where nothing is entered.",
    )
    .absent(Assumed("0 %")),
    Field::<Job>::new(
        Section::Job,
        "job.line_cost",
        of(Unit::Money, Bounds::NotNegative),
        number!(line_cost),
        "Cost of an order line",
        "What one more order line costs in work and postage; nothing where nothing is entered.",
    )
    .absent(Assumed("0")),
    Field::<Job>::new(
        Section::Job,
        "job.teardown_cost",
        of(Unit::Money, Bounds::NotNegative),
        number!(teardown_cost),
        "Cost of a teardown",
        "What it costs to open and close the machine once.",
    ),
    Field::<Job>::new(
        Section::Job,
        "job.currency",
        LINE,
        text!(currency),
        "Currency",
        "Currency of all costs, such as EUR.",
    )
    .absent(Derived("assumed from the parts where they agree")),
    Field::<Job>::new(
        Section::Job,
        "job.conditions.ambient_min_c",
        of(Unit::Celsius, Bounds::Celsius),
        number!(conditions.ambient_min_c),
        "Lowest ambient",
        "Lowest ambient, also while switched off, of every position of the job that has none of its own.",
    )
    .absent(Nothing("the coolest phase")),
    Field::<Job>::new(
        Section::Job,
        "job.conditions.airflow_lfm",
        of(Unit::AirSpeed, Bounds::NotNegative),
        number!(conditions.airflow_lfm),
        "Air speed",
        "Air speed at every position that takes its load profile from the job.",
    )
    .absent(Nothing("still air")),
    Field::<Job>::new(
        Section::Elsewhere,
        "job.conditions.phases",
        Kind::Rows,
        Access::Special,
        "Load profile",
        "Operating phases of every position of the job that has none of its own; a position adds its own rise.",
    ),
    list("job.catalogs", Kind::Texts, "Catalogues", "Catalogue files beside the job file."),
    list("job.offers", Kind::Texts, "Offers", "Lists of further suppliers' offers beside the job file."),
    list(
        "job.currency_rates",
        Kind::Figures(Bounds::Positive),
        "Currency rates",
        "Units of the job's currency for one unit of another, entered by the buyer.",
    ),
    list("job.suppliers", Kind::TextMap, "Suppliers", "Supplier the buyer chose for a part, by part number.")
        .absent(Nothing("the cheapest that has enough")),
    list("job.must_use", Kind::Texts, "Required parts", "Part numbers a proposed order has to use."),
    list("job.never_use", Kind::Texts, "Excluded parts", "Part numbers a proposed order must not use."),
    list("job.prefer_makers", Kind::Texts, "Preferred manufacturers", "Manufacturers the buyer prefers."),
    Field::<Job>::new(
        Section::Elsewhere,
        "job.prefer_worth",
        of(Unit::Money, Bounds::NotNegative),
        number!(prefer_worth),
        "Max. premium per line",
        "How much more an order may cost for each line of a preferred manufacturer.",
    )
    .absent(Derived("the cost of an order line")),
    Field::<Job>::new(
        Section::Elsewhere,
        "job.second_source",
        Kind::Flag,
        Access::Flag(|job| job.second_source == Some(true), |job, on| job.second_source = on.then_some(true)),
        "Second source",
        "Whether each ordered part needs a part of another manufacturer that passes everywhere it is used.",
    )
    .absent(Nothing("false")),
    Field::<Job>::new(
        Section::Policy,
        "policy.voltage_use_max_wet_lv",
        of(Unit::Share, Bounds::Share),
        default!(Job, policy.voltage_use_max_wet_lv),
        "Max. voltage utilisation, liquid electrolyte <160 V",
        "Greatest share of the rated voltage for parts with liquid electrolyte rated below 160 V.",
    )
    .formula("(dc + ripple peak) / U_R <= 80 %", PRACTICE)
    .absent(Absent::Default),
    Field::<Job>::new(
        Section::Policy,
        "policy.voltage_use_max_wet_hv",
        of(Unit::Share, Bounds::Share),
        default!(Job, policy.voltage_use_max_wet_hv),
        "Max. voltage utilisation, liquid electrolyte from 160 V",
        "Greatest share of the rated voltage for parts with liquid electrolyte rated 160 V or more.",
    )
    .formula("(dc + ripple peak) / U_R <= 90 %", PRACTICE)
    .absent(Absent::Default),
    Field::<Job>::new(
        Section::Policy,
        "policy.voltage_use_max_polymer",
        of(Unit::Share, Bounds::Share),
        default!(Job, policy.voltage_use_max_polymer),
        "Max. voltage utilisation, hybrid and solid polymer",
        "Greatest share of the rated voltage for hybrid and solid polymer parts.",
    )
    .formula("(dc + ripple peak) / U_R <= 80 %", PRACTICE)
    .absent(Absent::Default),
    Field::<Job>::new(
        Section::Policy,
        "policy.ripple_use_max",
        of(Unit::Share, Bounds::Share),
        default!(Job, policy.ripple_use_max),
        "Max. ripple utilisation",
        "Greatest share of the ripple current allowed at the ambient.",
    )
    .formula("I_eq / I_allow(Ta) <= 80 %", PRACTICE)
    .absent(Absent::Default),
    Field::<Job>::new(
        Section::Policy,
        "policy.life_margin",
        of(Unit::Number, Bounds::Margin),
        default!(Job, policy.life_margin),
        "Life margin factor",
        "How much longer than the target the part must last to pass.",
    )
    .formula("L >= 1.25 target", PRACTICE)
    .absent(Absent::Default),
    Field::<Job>::new(
        Section::Policy,
        "policy.count_voltage_derating",
        Kind::Flag,
        Access::Flag(|job| job.policy.count_voltage_derating, |job, on| job.policy.count_voltage_derating = on),
        "Credit voltage derating in life",
        "Whether operation below the rated voltage counts as longer life, for liquid electrolyte from 160 V.",
    )
    .formula("K_V = clamp(U/U_R, 0.6, 1)^-2.5", "Albertsen, Jianghai Europe 2010 (published, second-hand)")
    .absent(Absent::Default),
    Field::<Job>::new(
        Section::Policy,
        "policy.calendar_cap_years",
        of(Unit::Year, Bounds::Positive),
        default!(Job, policy.calendar_cap_years),
        "Calendar life limit",
        "No part is expected to last longer than this, whatever the formula says.",
    )
    .formula("years = min(L / hours per year, cap)", "15 years: Beckhoff PS9011 manual (published)")
    .absent(Absent::Default),
    Field::<Job>::new(
        Section::Policy,
        "policy.can_gap_mm",
        of(Unit::Millimetre, Bounds::NotNegative),
        default!(Job, policy.can_gap_mm),
        "Clearance between components",
        "Free space between the largest bodies of neighbours as the map draws them, lying parts as rectangles.",
    )
    .formula("centre distance - (D1 + D2)/2 >= gap", PRACTICE)
    .absent(Absent::Default),
    Field::<Job>::new(
        Section::Policy,
        "policy.pitch_reach_mm",
        of(Unit::Millimetre, Bounds::NotNegative),
        default!(Job, policy.pitch_reach_mm),
        "Max. lead forming",
        "How far radial leads may be formed.",
    )
    .formula("|lead spacing - hole spacing| <= reach", PRACTICE)
    .absent(Absent::Default),
    Field::<Job>::new(
        Section::Uncertainty,
        "uncertainty.ambient_sigma_k",
        of(Unit::Kelvin, Bounds::NotNegative),
        within!(Number, uncertainty, ambient_sigma_k),
        "Ambient uncertainty (1σ)",
        "Standard deviation of the ambient.",
    )
    .formula("normal distribution", PRACTICE)
    .absent(Derived("3 (assumed)")),
    Field::<Job>::new(
        Section::Uncertainty,
        "uncertainty.ripple_sigma_rel",
        of(Unit::Share, Bounds::NotNegative),
        within!(Number, uncertainty, ripple_sigma_rel),
        "Ripple uncertainty (1σ)",
        "Relative standard deviation of the ripple current.",
    )
    .formula("normal distribution", PRACTICE)
    .absent(Derived("0.2 (assumed)")),
    Field::<Job>::new(
        Section::Uncertainty,
        "uncertainty.endurance_sigma_rel",
        of(Unit::Share, Bounds::NotNegative),
        within!(Number, uncertainty, endurance_sigma_rel),
        "Endurance uncertainty (1σ)",
        "Relative standard deviation of the endurance of a part.",
    )
    .formula("lognormal distribution", PRACTICE)
    .absent(Derived("0.15 (assumed)")),
    Field::<Job>::new(
        Section::Elsewhere,
        "uncertainty.samples",
        of(Unit::Number, Bounds::Samples),
        Access::Special,
        "Samples",
        "How many lives are drawn, 1 to 1000000.",
    )
    .absent(Derived("2000 (assumed)")),
    Field::<Job>::new(
        Section::Elsewhere,
        "uncertainty.seed",
        of(Unit::Number, Bounds::Seed),
        Access::Special,
        "Seed",
        "Start of the random sequence: the same seed gives the same figures.",
    )
    .absent(Derived("1 (assumed)")),
];

/// A lot of the shelf.
pub static SHELF: &[Field<ShelfStock>] = &[
    Field::<ShelfStock>::new(
        Section::Shelf,
        "shelf.part_number",
        LINE,
        name!(part_number),
        "Part number",
        "The manufacturer's part number.",
    )
    .absent(Nothing("empty")),
    Field::<ShelfStock>::new(
        Section::Shelf,
        "shelf.qty",
        of(Unit::Piece, Bounds::Pieces),
        number!(qty),
        "Pieces",
        "Pieces in stock in the shop.",
    )
    .absent(UnknownBut("counted as none")),
    Field::<ShelfStock>::new(
        Section::Shelf,
        "shelf.date_code",
        LINE,
        text!(date_code),
        "Date code",
        "Date code on the parts, 2319 (year and week) or 2023-05.",
    )
    .absent(UnknownBut("treated as over two years old")),
];

/// A question "what if" kept in the job.
pub static VARIANT: &[Field<Variant>] = &[
    Field::<Variant>::new(
        Section::Elsewhere,
        "variants.name",
        LINE,
        name!(name),
        "Name of the variant",
        "What the shop calls the variant.",
    )
    .absent(Nothing("empty")),
    Field::<Variant>::new(
        Section::Elsewhere,
        "variants.ambient_shift_k",
        of(Unit::Kelvin, Bounds::Signed),
        number!(ambient_shift_k),
        "Ambient shift",
        "Added to every ambient of the job, the lowest ones too.",
    )
    .absent(Nothing("0")),
    Field::<Variant>::new(
        Section::Elsewhere,
        "variants.ripple_factor",
        of(Unit::Number, Bounds::NotNegative),
        number!(ripple_factor),
        "Ripple factor",
        "Factor on every ripple current, over the scale of each phase.",
    )
    .absent(Nothing("1")),
    Field::<Variant>::new(
        Section::Elsewhere,
        "variants.hours_per_year",
        of(Unit::Hour, Bounds::HoursOfYear),
        number!(hours_per_year),
        "Energised hours per year",
        "Hours in a year with power on.",
    )
    .absent(Nothing("those of the job")),
    Field::<Variant>::new(
        Section::Elsewhere,
        "variants.interval_years",
        of(Unit::Year, Bounds::Positive),
        number!(interval_years),
        "Service interval",
        "Years until the next scheduled rebuild.",
    )
    .absent(Nothing("those of the job")),
];

/// Every field of a board but its positions.
pub static BOARD: &[Field<Board>] = &[
    Field::<Board>::new(
        Section::Board,
        "board.name",
        LINE,
        name!(name),
        "Name of the board",
        "What the shop calls the board.",
    )
    .absent(Nothing("empty")),
    Field::<Board>::new(
        Section::Board,
        "board.per_unit",
        of(Unit::Piece, Bounds::Count),
        number!(per_unit),
        "Boards per unit",
        "Boards of this kind in a unit; 1 where nothing is entered.",
    )
    .absent(Assumed("1")),
    Field::<Board>::new(
        Section::Board,
        "board.outline_mm",
        Kind::Points(&[("Board width (x)", Bounds::Positive), ("Board depth (y)", Bounds::Positive)], Several::One),
        Access::Special,
        "Board size",
        "Width (x) and depth (y) of the board as the map shows it.",
    )
    .absent(Unknown),
    Field::<Board>::new(
        Section::Board,
        "board.lid_mm",
        of(Unit::Millimetre, Bounds::Positive),
        number!(lid_mm),
        "Lid height",
        "Height of the lid above the board.",
    ),
    Field::<Board>::new(
        Section::Board,
        "board.conditions.ambient_min_c",
        of(Unit::Celsius, Bounds::Celsius),
        number!(conditions.ambient_min_c),
        "Lowest ambient",
        "Lowest ambient, also while switched off, of every position of the board that has none of its own.",
    )
    .absent(Nothing("the coolest phase")),
    Field::<Board>::new(
        Section::Board,
        "board.conditions.airflow_lfm",
        of(Unit::AirSpeed, Bounds::NotNegative),
        number!(conditions.airflow_lfm),
        "Air speed",
        "Air speed at every position that takes its load profile from the board.",
    )
    .absent(Nothing("still air")),
    Field::<Board>::new(
        Section::Elsewhere,
        "board.conditions.phases",
        Kind::Rows,
        Access::Special,
        "Load profile",
        "Operating phases of every position of the board that has none of its own; a position adds its own rise.",
    ),
    Field::<Board>::new(
        Section::Board,
        "board.photo",
        Kind::Text(Text::File),
        text!(photo),
        "Photo",
        "Picture of the board (PNG, JPEG), a file in the folder of the job.",
    )
    .absent(Nothing("none")),
    Field::<Board>::new(
        Section::Elsewhere,
        "board.photo_corners_mm",
        Kind::Points(&[("x", Bounds::Signed), ("y", Bounds::Signed)], Several::Many),
        Access::Special,
        "Corners of the photo",
        "Where the upper left, upper right, lower right and lower left corner of the picture lie, each x and y.",
    )
    .absent(Nothing("not calibrated")),
    Field::<Board>::new(
        Section::Elsewhere,
        "board.photo_opacity_pct",
        of(Unit::Percent, Bounds::Percent),
        number!(photo_opacity_pct),
        "Opacity of the photo",
        "How strongly the photo shows.",
    )
    .absent(Nothing("60")),
    Field::<Board>::new(
        Section::Elsewhere,
        "board.photo_distance_mm",
        of(Unit::Millimetre, Bounds::Positive),
        number!(photo_distance_mm),
        "Camera above the board",
        "How far the camera was from the board: tall cans traced on the photo are corrected by it.",
    )
    .absent(Nothing("not corrected")),
    Field::<Board>::new(
        Section::Elsewhere,
        "board.photo_side",
        words::<Side>(),
        word!(photo_side),
        "Side of the photo",
        "The side the photo shows.",
    )
    .absent(Nothing("top")),
    Field::<Board>::new(
        Section::Elsewhere,
        "board.holes_mm",
        Kind::Points(&[("x", Bounds::Signed), ("y", Bounds::Signed), ("Ø", Bounds::Positive)], Several::Many),
        Access::Special,
        "Mounting holes",
        "Holes with the hardware in them: x, y, diameter.",
    )
    .absent(Nothing("none")),
    Field::<Board>::new(
        Section::Elsewhere,
        "board.keepouts_mm",
        Kind::Points(
            &[("x", Bounds::Signed), ("y", Bounds::Signed), ("width", Bounds::Positive), ("depth", Bounds::Positive)],
            Several::Many,
        ),
        Access::Special,
        "Keep-outs",
        "Areas to stay out of: x and y of the lower left corner, width, depth.",
    )
    .absent(Nothing("none")),
];

/// Objects and lists that hold the fields above.
pub static CONTAINERS: &[About] = &[
    holder("job.policy", "Policy", "The shop's margins.", "the defaults below"),
    holder("job.uncertainty", "Uncertainty", "How far the inputs of the life may be off.", "no spread"),
    holder("job.shelf", "Stock", "Parts already in the shop.", "none"),
    holder("job.bench", "At the bench", "Units that are being rebuilt and are not in the record yet.", "none"),
    holder("bench.positions", "Positions", "What was done at each position so far.", "none"),
    holder("bench.positions.before", "Old part", "What was measured on the old part.", "not measured"),
    holder("bench.positions.after", "New part", "What was measured on the new part.", "not measured"),
    holder("job.variants", "Variants", "Other conditions to look at; they change nothing of the job.", "none"),
    holder(
        "job.conditions",
        "Conditions",
        "Ambient of every position whose board and own stress do not say otherwise.",
        "unknown",
    ),
    holder(
        "board.conditions",
        "Conditions",
        "Ambient of every position of the board whose own stress does not say otherwise.",
        "those of the job",
    ),
    holder("job.boards", "Boards", "The boards.", "none"),
    holder(
        "job.unit_types",
        "Types of units",
        "Units that are built alike, each type with its number of units and its boards.",
        "one type with every board",
    ),
    holder("job.other_parts", "Other parts", "Parts beside the electrolytics that are on no board.", "none"),
    holder("job.test_points", "Test points", "Test points that are on no board.", "none"),
    holder("board.other_parts", "Other parts", "Parts beside the electrolytics that are replaced too.", "none"),
    holder("board.test_points", "Test points", "Where to measure before the unit goes back.", "none"),
    holder("other_parts.original", "Original part", "The part that was built in.", "all unknown"),
    holder("other_parts.replacement", "Replacement", "What goes in, with the terms of its sale.", "all unknown"),
    holder("board.positions", "Positions", "The positions.", "none"),
    holder("original", "Original part", "The part that was built in.", "all unknown"),
    holder("stress", "Stress", "Operating conditions of the part.", "all unknown"),
    holder("needs", "Needs of the circuit", "What the circuit asks of the part.", "no limits"),
    holder("space", "Room", "The room there is for the part.", "the original's body"),
    holder("measured", "Measured on the old part", "What was measured on the old part.", "not measured"),
];

const fn holder(path: &'static str, label: &'static str, meaning: &'static str, absent: &'static str) -> About {
    About {
        path,
        kind: Kind::Rows,
        absent: Nothing(absent),
        label,
        meaning,
        formula: "",
        source: "",
        section: Section::Elsewhere,
    }
}
