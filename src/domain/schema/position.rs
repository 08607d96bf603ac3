//! The fields of a position: what sits there, its operating conditions, what it must do, what room it has.

use super::{Absent, Access, Bounds, Field, Kind, PRACTICE, Section, Text, Unit, number, text, within, word, words};
use crate::domain::{LifeBasis, Mounting, Phase, Position, RippleLine, RippleOrigin, Role, Side};
use Absent::{Assumed, Derived, Nothing};
use strum::VariantNames;

/// Life law of the checks.
pub(in crate::domain) const LIFE: &str = "L = L0 2^((T0-Ta)/10) 2^((dT0-dT)/10)";
/// Where it stands.
pub(in crate::domain) const RUBYCON: &str = "Rubycon life sheet (published)";
/// How a spectrum becomes one current.
pub(in crate::domain) const RIPPLE: &str = "I_eq = sqrt(sum (I_k / F(f_k))^2)";
/// Where its multipliers stand.
pub(in crate::domain) const VISHAY: &str =
    "tables where the part has none: Vishay BCcomponents doc. 28340 and 28321 (published)";
const USE: &str = "use = (dc + ripple peak) / U_R";
const LINE: Kind = Kind::Text(Text::Line);

/// A figure.
const fn of(unit: Unit, bounds: Bounds) -> Kind {
    Kind::Number(unit, bounds)
}

/// Every field of a position but the figures its original shares with a part.
pub static POSITION: &[Field<Position>] = &[
    Field::<Position>::new(
        Section::Identity,
        "ref",
        LINE,
        Access::Text(|p| Some(p.reference.clone()), |p, text| text.unwrap_or_default().clone_into(&mut p.reference)),
        "Reference",
        "Reference designator of the position on the board, such as C12.",
    )
    .absent(Nothing("empty")),
    Field::<Position>::new(
        Section::Purpose,
        "role",
        words::<Role>(),
        Access::Word(
            |p| p.role.map(Into::into),
            |p, word| {
                p.role = word.and_then(|word| word.parse().ok());
                // A person has said it.
                p.role_assumed = false;
            },
        ),
        "Role",
        "What the capacitor does there; decides how far the capacitance may differ from the original's.",
    )
    .formula(
        "reservoir, link, filter: 1 to 2 C0; start-up: 1 to 1.5 C0; timing, coupling: 0.98 to 1.02 C0",
        PRACTICE,
    ),
    Field::<Position>::new(
        Section::Elsewhere,
        "role_assumed",
        Kind::Flag,
        Access::Flag(|p| p.role_assumed, |p, on| p.role_assumed = on),
        "Role assumed",
        "An import filled the role in and nobody has set it yet; the editor says so.",
    )
    .absent(Nothing("false")),
    Field::<Position>::new(
        Section::Identity,
        "potted",
        Kind::Flag,
        Access::Flag(|p| p.potted == Some(true), |p, on| p.potted = on.then_some(true)),
        "Potted",
        "Whether it sits in potting that has to be dug out; the worksheet says so.",
    )
    .absent(Nothing("false")),
    Field::<Position>::new(
        Section::Identity,
        "parallel_group",
        LINE,
        text!(parallel_group),
        "Parallel group",
        "A name shared by capacitors that work in parallel; the ripple entered at each is its own share.",
    )
    .absent(Nothing("none")),
    Field::<Position>::new(
        Section::Identity,
        "series_group",
        LINE,
        text!(series_group),
        "Series group",
        "A name shared by capacitors that work in series as one string; the string's voltage is shared among them.",
    )
    .absent(Nothing("none")),
    Field::<Position>::new(
        Section::Identity,
        "note",
        Kind::Text(Text::Note),
        text!(note),
        "Note",
        "Whatever else is to be remembered.",
    )
    .absent(Nothing("empty")),
    Field::<Position>::new(
        Section::Elsewhere,
        "traced_from",
        LINE,
        text!(traced_from),
        "Traced from",
        "Photo in which place and diameter were measured, and what was, to about a millimetre.",
    )
    .absent(Nothing("not from a photo")),
    Field::<Position>::new(Section::Elsewhere, "pick", LINE, text!(pick), "Pick", "The part number a person chose.")
        .absent(Nothing("proposed by the program")),
    Field::<Position>::new(
        Section::Printed,
        "original.label",
        LINE,
        text!(original.label),
        "Marking",
        "What is printed on the old part, as it stands there.",
    )
    .absent(Nothing("empty")),
    Field::<Position>::new(
        Section::Elsewhere,
        "original.read_from",
        LINE,
        text!(original.read_from),
        "Read from",
        "File, line and cells its figures were read from, where a list gave them.",
    )
    .absent(Nothing("empty")),
    Field::<Position>::new(
        Section::OriginalPart,
        "original.made_year",
        of(Unit::Number, Bounds::Year),
        number!(original.made_year),
        "Year of manufacture",
        "Year of manufacture, from the date code or the machine.",
    ),
    Field::<Position>::new(
        Section::Voltage,
        "stress.dc_v",
        of(Unit::Volt, Bounds::Volts),
        number!(stress.dc_v),
        "Operating voltage (DC)",
        "Direct voltage across the part in operation; negative where it is reversed.",
    )
    .formula(USE, PRACTICE)
    .absent(Derived("from the original's rated voltage (assumed)")),
    Field::<Position>::new(
        Section::Stress,
        "stress.ripple_peak_v",
        of(Unit::Volt, Bounds::PeakVolts),
        number!(stress.ripple_peak_v),
        "Ripple voltage (peak)",
        "How far the ripple rises over the operating voltage; worked out from the ripple and the part where nothing is entered.",
    )
    .formula("peak = dc + ripple peak", "definition")
    .absent(Derived("from the ripple and the part's impedance (assumed)")),
    Field::<Position>::new(
        Section::Voltage,
        "stress.transient_v",
        of(Unit::Volt, Bounds::Volts),
        number!(stress.transient_v),
        "Highest transient",
        "Highest short overvoltage, such as mains surges or braking; the peak where nothing is entered.",
    )
    .formula("transient <= surge voltage", "IEC 60384-1 as quoted")
    .absent(Derived("the peak (assumed)")),
    Field::<Position>::new(
        Section::Stress,
        "stress.min_v",
        of(Unit::Volt, Bounds::Volts),
        number!(stress.min_v),
        "Lowest voltage",
        "Lowest voltage across the part, negative where it is reversed.",
    )
    .formula(">= 0 pass, >= -1 V marginal", "makers print 1 to 1.5 V; common practice")
    .absent(Derived("operating voltage less ripple peak (assumed)")),
    Field::<Position>::new(
        Section::Ambient,
        "stress.ambient_rise_k",
        of(Unit::Kelvin, Bounds::Signed),
        number!(stress.ambient_rise_k),
        "Ambient rise over the board",
        "How much warmer it is beside this part than the load profile of the board or the job says.",
    )
    .absent(Assumed("0")),
    Field::<Position>::new(
        Section::Ambient,
        "stress.ambient_min_c",
        of(Unit::Celsius, Bounds::Celsius),
        number!(stress.ambient_min_c),
        "Lowest ambient",
        "Lowest ambient, also while switched off; that of the board or job where nothing is entered, else the coolest phase.",
    )
    .absent(Derived("that of the board or job, else the coolest phase")),
    Field::<Position>::new(
        Section::Stress,
        "stress.airflow_lfm",
        of(Unit::AirSpeed, Bounds::NotNegative),
        number!(stress.airflow_lfm),
        "Air speed",
        "Air speed at the part; still air where nothing is entered.",
    )
    .formula(
        "dT / m^2, m = 1 at 0, 1.25 at 100, 1.5 at 200, 1.7 at 300 ft/min",
        "GE Capacitor application data, table AP3 (published)",
    )
    .absent(Derived("that of the conditions the phases come from, else still air")),
    Field::<Position>::new(
        Section::Ripple,
        "stress.ripple",
        Kind::Rows,
        Access::Special,
        "Ripple spectrum",
        "Currents by frequency; where nothing is entered the original's rating counts, an empty list means that there is no ripple.",
    )
    .formula(RIPPLE, VISHAY)
    .absent(Derived("the original's rating (assumed); an empty list means no ripple")),
    Field::<Position>::new(
        Section::Ambient,
        "stress.phases",
        Kind::Rows,
        Access::Special,
        "Load profile",
        "Operating phases: share of operating time, ambient, ripple; without any those of the board or the job count.",
    )
    .formula("1/L = sum w_i / L_i", "Cosel technical information (published)")
    .absent(Derived("those of the board or job")),
    Field::<Position>::new(
        Section::Elsewhere,
        "stress.ripple_from",
        Kind::Rows,
        Access::Special,
        "Origin of the ripple",
        "The circuit, oscilloscope record or measured rise the spectrum was worked out from; without it the lines were typed in.",
    )
    .absent(Nothing("typed in")),
    Field::<Position>::new(
        Section::Needs,
        "needs.life_h",
        of(Unit::Hour, Bounds::NotNegative),
        number!(needs.life_h),
        "Target life",
        "Energised hours this position must last; the job's service interval where nothing is entered.",
    )
    .formula("interval in years x energised hours per year", "8 to 10 years: common practice")
    .absent(Derived("the job's service interval")),
    Field::<Position>::new(
        Section::Needs,
        "needs.end_of_life",
        words::<LifeBasis>(),
        word!(needs.end_of_life),
        "Wear at the end of life",
        "Useful where the circuit still works with the wear that ends a useful life, else only an endurance counts in full.",
    )
    .formula("useful life ends at -30 to -45 % capacitance and 3 times the ESR", "makers' data sheets")
    .absent(Assumed("endurance")),
    Field::<Position>::new(
        Section::Needs,
        "needs.capacitance_min_uf",
        of(Unit::Microfarad, Bounds::NotNegative),
        number!(needs.capacitance_min_uf),
        "Minimum capacitance",
        "Least nominal capacitance the circuit works with; with it the window by role no longer counts.",
    )
    .absent(Derived("window by role")),
    Field::<Position>::new(
        Section::Needs,
        "needs.capacitance_max_uf",
        of(Unit::Microfarad, Bounds::Positive),
        number!(needs.capacitance_max_uf),
        "Maximum capacitance",
        "Greatest nominal capacitance the circuit works with; with it the window by role no longer counts.",
    )
    .absent(Derived("window by role")),
    Field::<Position>::new(
        Section::Needs,
        "needs.esr_max_mohm",
        of(Unit::Milliohm, Bounds::Positive),
        number!(needs.esr_max_mohm),
        "Maximum ESR",
        "Greatest ESR the circuit works with.",
    )
    .formula("else the original's ESR at the same frequency", "KEMET A4001; Nichicon data sheets (published)")
    .absent(Derived("the original's ESR (assumed)")),
    Field::<Position>::new(
        Section::Needs,
        "needs.esr_min_mohm",
        of(Unit::Milliohm, Bounds::NotNegative),
        number!(needs.esr_min_mohm),
        "Minimum ESR",
        "Least ESR, where a regulator or a loop needs one to stay stable.",
    )
    .absent(Assumed("no limit")),
    Field::<Position>::new(
        Section::Needs,
        "needs.esr_hz",
        of(Unit::Hertz, Bounds::Positive),
        number!(needs.esr_hz),
        "Frequency of the ESR limits",
        "Frequency at which the ESR limits apply; 100 kHz where nothing is entered.",
    )
    .absent(Derived("100000")),
    Field::<Position>::new(
        Section::Needs,
        "needs.esr_cold_max_mohm",
        of(Unit::Milliohm, Bounds::Positive),
        number!(needs.esr_cold_max_mohm),
        "Maximum ESR in the cold",
        "Greatest ESR at the lowest ambient.",
    )
    .formula("ESR_cold = ESR z_ratio", "definition of the impedance ratio")
    .absent(Assumed("no limit")),
    Field::<Position>::new(
        Section::Needs,
        "needs.leakage_max_ua",
        of(Unit::Microampere, Bounds::NotNegative),
        number!(needs.leakage_max_ua),
        "Maximum leakage current",
        "Greatest leakage current the circuit works with; no limit where nothing is entered.",
    )
    .absent(Assumed("no limit")),
    Field::<Position>::new(
        Section::Needs,
        "needs.balance_kohm",
        of(Unit::Kilohm, Bounds::Positive),
        number!(needs.balance_kohm),
        "Balancing resistor",
        "Resistor across each part of a series string; it limits how far unequal leakage shifts the voltages.",
    ),
    Field::<Position>::new(
        Section::Room,
        "space.diameter_max_mm",
        of(Unit::Millimetre, Bounds::Positive),
        number!(space.diameter_max_mm),
        "Max. diameter",
        "Greatest body diameter that fits.",
    )
    .formula("else the original's largest body", PRACTICE)
    .absent(Derived("the original's largest body")),
    Field::<Position>::new(
        Section::Room,
        "space.height_max_mm",
        of(Unit::Millimetre, Bounds::Positive),
        number!(space.height_max_mm),
        "Max. component height",
        "Free height above the board, up to the lid or the next board.",
    )
    .formula(
        "else the original's largest body + space for its vent: 2 mm to 16 mm diameter, 3 mm to 40 mm, 5 mm above",
        "KEMET ESC A4006 (published)",
    )
    .absent(Derived("the original's largest body and its vent space")),
    Field::<Position>::new(
        Section::Room,
        "space.pitch_mm",
        of(Unit::Millimetre, Bounds::Positive),
        number!(space.pitch_mm),
        "Lead spacing (holes)",
        "Distance between the holes; the original's lead spacing where nothing is entered.",
    )
    .formula(
        "radial: off by 0.5 mm pass, within lead forming marginal; snap-in, screw: 0.3 mm",
        "makers' tolerances; common practice",
    )
    .absent(Derived("the original's lead spacing")),
    Field::<Position>::new(
        Section::Space,
        "space.pitch_reach_mm",
        of(Unit::Millimetre, Bounds::NotNegative),
        number!(space.pitch_reach_mm),
        "Max. lead forming",
        "How far radial leads may be formed here; the policy's limit where nothing is entered.",
    )
    .absent(Derived("the policy's limit")),
    Field::<Position>::new(
        Section::Space,
        "space.hole_mm",
        of(Unit::Millimetre, Bounds::Positive),
        number!(space.hole_mm),
        "Hole diameter",
        "Diameter of the finished holes; without it leads are not checked against the hole.",
    )
    .formula("lead + 0.05 + 0.20 <= hole pass; + 0.15 marginal", "IPC-2222 levels B and C as quoted")
    .absent(Assumed("not checked")),
    Field::<Position>::new(
        Section::Space,
        "space.accepts",
        Kind::Words(Mounting::VARIANTS),
        Access::Special,
        "Other mountings accepted",
        "Mountings besides the original's that can be made to fit; they count as marginal.",
    )
    .absent(Nothing("none")),
    Field::<Position>::new(
        Section::Measured,
        "measured.capacitance_uf",
        of(Unit::Microfarad, Bounds::NotNegative),
        within!(Number, measured, capacitance_uf),
        "Measured capacitance",
        "Capacitance of the old part, measured out of circuit.",
    )
    .formula("< 0.8 C0 worn out, < 0.9 C0 ageing", "makers' endurance limits; common practice")
    .absent(Nothing("not measured")),
    Field::<Position>::new(
        Section::Measured,
        "measured.esr_mohm",
        of(Unit::Milliohm, Bounds::NotNegative),
        within!(Number, measured, esr_mohm),
        "Measured ESR",
        "ESR of the old part.",
    )
    .formula("> 2 x limit worn out, > 1.5 x limit ageing", "makers' endurance limits; common practice")
    .absent(Nothing("not measured")),
    Field::<Position>::new(
        Section::Measured,
        "measured.esr_hz",
        of(Unit::Hertz, Bounds::Positive),
        within!(Number, measured, esr_hz),
        "Frequency of the measurement",
        "Frequency the ESR was measured at.",
    ),
    Field::<Position>::new(
        Section::Measured,
        "measured.unit",
        LINE,
        within!(Text, measured, unit),
        "Measured unit",
        "Serial number of the unit it was measured on; of several at the bench the one with the most worn part.",
    )
    .absent(Nothing("empty")),
    Field::<Position>::new(
        Section::Measured,
        "measured.date",
        Kind::Text(Text::Date),
        within!(Text, measured, date),
        "Measured on",
        "Day of the measurement, such as 2026-10-02.",
    ),
    Field::<Position>::new(
        Section::Measured,
        "measured.note",
        Kind::Text(Text::Note),
        within!(Text, measured, note),
        "Findings on the old part",
        "Whatever else was seen: a lifted vent, a stain, a hot spot.",
    )
    .absent(Nothing("empty")),
    Field::<Position>::new(
        Section::Location,
        "x_mm",
        of(Unit::Millimetre, Bounds::Signed),
        number!(x_mm),
        "x",
        "Centre of the body from the lower left corner of the board.",
    ),
    Field::<Position>::new(
        Section::Location,
        "y_mm",
        of(Unit::Millimetre, Bounds::Signed),
        number!(y_mm),
        "y",
        "Centre of the body from the lower left corner of the board, upwards.",
    ),
    Field::<Position>::new(
        Section::Location,
        "rotation_deg",
        of(Unit::Degree, Bounds::Signed),
        number!(rotation_deg),
        "Rotation",
        "Direction from the negative to the positive lead, anticlockwise from the x axis.",
    ),
    Field::<Position>::new(
        Section::Location,
        "side",
        words::<Side>(),
        word!(side),
        "Side",
        "The side of the board the body is on; the component side where nothing is entered.",
    )
    .absent(Assumed("top")),
];

/// A line of the ripple spectrum.
pub static RIPPLE_LINE: &[Field<RippleLine>] = &[
    Field::<RippleLine>::new(
        Section::Stress,
        "stress.ripple.hz",
        of(Unit::Hertz, Bounds::Positive),
        number!(hz),
        "Frequency",
        "Frequency of this line of the spectrum.",
    ),
    Field::<RippleLine>::new(
        Section::Stress,
        "stress.ripple.a",
        of(Unit::Ampere, Bounds::NotNegative),
        number!(a),
        "Current",
        "Current of this line, rms.",
    ),
];

/// An operating phase.
pub static PHASE: &[Field<Phase>] = &[
    Field::<Phase>::new(
        Section::Elsewhere,
        "stress.phases.name",
        LINE,
        text!(name),
        "Phase",
        "What the shop calls the phase.",
    )
    .absent(Nothing("empty")),
    Field::<Phase>::new(
        Section::Stress,
        "stress.phases.share",
        of(Unit::Share, Bounds::NotNegative),
        number!(share),
        "Share of operating time",
        "Share of the energised time; shares are counted as parts of their sum.",
    )
    .absent(Assumed("1")),
    Field::<Phase>::new(
        Section::Stress,
        "stress.phases.ambient_c",
        of(Unit::Celsius, Bounds::Celsius),
        number!(ambient_c),
        "Ambient",
        "Air temperature beside the part, not of the room.",
    )
    .formula(LIFE, RUBYCON),
    Field::<Phase>::new(
        Section::Stress,
        "stress.phases.ripple_scale",
        of(Unit::Number, Bounds::NotNegative),
        number!(ripple_scale),
        "Ripple factor",
        "Factor on every line of the spectrum in this phase; 1 where nothing is entered.",
    )
    .absent(Assumed("1")),
];

/// Where a spectrum came from; written by the panels of Life.
pub static ORIGIN: &[Field<RippleOrigin>] = &[
    Field::<RippleOrigin>::new(
        Section::Elsewhere,
        "stress.ripple_from.method",
        LINE,
        text!(method),
        "Method",
        "How the spectrum was found: circuit, oscilloscope or case_rise.",
    )
    .absent(Nothing("typed in")),
    Field::<RippleOrigin>::new(
        Section::Elsewhere,
        "stress.ripple_from.circuit",
        LINE,
        text!(circuit),
        "Circuit",
        "Which circuit, such as buck_input.",
    )
    .absent(Nothing("none")),
    Field::<RippleOrigin>::new(
        Section::Elsewhere,
        "stress.ripple_from.figures",
        Kind::Figures(Bounds::Signed),
        Access::Special,
        "Figures",
        "The figures entered, each name with its unit.",
    )
    .absent(Nothing("none")),
    Field::<RippleOrigin>::new(
        Section::Elsewhere,
        "stress.ripple_from.assumed",
        Kind::Texts,
        Access::Special,
        "Assumed",
        "Names of figures nobody entered that were assumed or derived.",
    )
    .absent(Nothing("none")),
    Field::<RippleOrigin>::new(
        Section::Elsewhere,
        "stress.ripple_from.file",
        LINE,
        text!(file),
        "File",
        "Name of the oscilloscope's file.",
    )
    .absent(Nothing("none")),
    Field::<RippleOrigin>::new(
        Section::Elsewhere,
        "stress.ripple_from.channel",
        LINE,
        text!(channel),
        "Channel",
        "Its channel.",
    )
    .absent(Nothing("none")),
    Field::<RippleOrigin>::new(
        Section::Elsewhere,
        "stress.ripple_from.rms_a",
        of(Unit::Ampere, Bounds::NotNegative),
        number!(rms_a),
        "Current, rms",
        "Root mean square of the lines it gave: tells whether they were changed since.",
    ),
];

/// Entries of a position that contradict each other: the path of the field to look at, and what is wrong. The checks take the
/// worse figure.
#[must_use]
pub fn contradictions(position: &Position) -> Vec<(&'static str, String)> {
    let (stress, needs, can) = (&position.stress, &position.needs, &position.original.can);
    let peak_v = stress.dc_v.zip(stress.ripple_peak_v).map(|(dc_v, peak_v)| dc_v + peak_v).or(stress.dc_v);
    let coolest = stress.phases.iter().flatten().filter_map(|phase| phase.ambient_c).reduce(f64::min);
    let pairs = [
        ("stress.transient_v", peak_v, stress.transient_v, "the highest transient is below the peak of the operation"),
        ("stress.min_v", stress.min_v, stress.dc_v, "the lowest voltage is above the operating voltage"),
        (
            "stress.ambient_min_c",
            stress.ambient_min_c,
            coolest,
            "the lowest ambient is above that of the coolest phase",
        ),
        (
            "needs.capacitance_min_uf",
            needs.capacitance_min_uf,
            needs.capacitance_max_uf,
            "the minimum capacitance is above the maximum",
        ),
        ("needs.esr_min_mohm", needs.esr_min_mohm, needs.esr_max_mohm, "the minimum ESR is above the maximum"),
        ("original.temp_min_c", can.temp_min_c, can.temp_max_c, "the lower category temperature is above the upper"),
        ("original.surge_v", can.rated_v, can.surge_v, "the surge voltage is below the rated voltage"),
        ("original.diameter_max_mm", can.diameter_mm, can.diameter_max_mm, "the largest diameter is below the nominal"),
        ("original.height_max_mm", can.height_mm, can.height_max_mm, "the largest height is below the nominal"),
    ];
    let wrong = |(path, less, more, words): (&'static str, Option<f64>, Option<f64>, &str)| {
        let (less, more) = less.zip(more)?;
        (less > more + 1e-9 * less.abs()).then(|| (path, format!("{words}; the worse figure counts")))
    };
    pairs.into_iter().filter_map(wrong).collect()
}
