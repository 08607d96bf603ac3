//! The fields of a position: what sits there, its operating conditions, what it must do, what room it has.

use super::{Absent, Access, Bounds, Kind, PRACTICE, fields};
use crate::domain::{LifeBasis, Mounting, Phase, Position, RippleLine, RippleOrigin, Role, Side, Technology};
use Absent::{Assumed, Derived, Nothing, Unknown};
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

/// What a person says is no longer assumed.
const ROLE: Access<Position> = Access::Word(
    |position| position.role.map(Into::into),
    |position, word| {
        position.role = word.and_then(|word| word.parse().ok());
        position.role_assumed = false;
    },
);

fields! {
    /// Every field of a position but the figures its original shares with a part.
    pub POSITION: Position;
    "" [] {
        name reference as "ref" (Line) Identity, Nothing("empty"), "Reference",
            "Reference designator of the position on the board, such as C12.";
        by role (Kind::Word(Role::VARIANTS), ROLE) Purpose, Unknown, "Role",
            "What the capacitor does there; decides how far the capacitance may differ from the original's.",
            "reservoir, link, filter: 1 to 2 C0; start-up: 1 to 1.5 C0; timing, coupling: 0.98 to 1.02 C0", PRACTICE;
        flag role_assumed () Elsewhere, Nothing("false"), "Role assumed",
            "An import filled the role in and nobody has set it yet; the editor says so.";
        said potted () Identity, Nothing("false"), "Potted",
            "Whether it sits in potting that has to be dug out; the worksheet says so.";
        text parallel_group (Line) Identity, Nothing("none"), "Parallel group",
            "A name shared by capacitors that work in parallel; the ripple entered at each is its own share.";
        text series_group (Line) Identity, Nothing("none"), "Series group",
            "A name shared by capacitors that work in series as one string; the string's voltage is shared among them.";
        text note (Note) Identity, Nothing("empty"), "Note", "Whatever else is to be remembered.";
        text traced_from (Line) Elsewhere, Nothing("not from a photo"), "Traced from",
            "Photo in which place and diameter were measured, and what was, to about a millimetre.";
        text pick (Line) Elsewhere, Nothing("proposed by the program"), "Pick", "The part number a person chose.";
        text original.label (Line) Printed, Nothing("empty"), "Marking",
            "What is printed on the old part, word for word.";
        text original.read_from (Note) Elsewhere, Nothing("empty"), "Read from",
            "File, line and cells its figures were read from, where a list gave them.";
        number original.made_year (Number Year) OriginalPart, Unknown, "Year of manufacture",
            "Year of manufacture, from the date code or the machine.";
        number stress.dc_v (Volt Volts) Voltage, Derived("from the original's rated voltage (assumed)"),
            "Operating voltage (DC)", "Direct voltage across the part in operation; negative where it is reversed.",
            USE, PRACTICE;
        number stress.ripple_peak_v (Volt PeakVolts) Stress,
            Derived("from the ripple and the part's impedance (assumed)"), "Ripple voltage (peak)",
            "How far the ripple rises over the operating voltage; worked out from the ripple and the part where nothing is entered.",
            "peak = dc + ripple peak", "definition";
        number stress.transient_v (Volt Volts) Voltage, Derived("the peak (assumed)"), "Highest transient",
            "Highest short overvoltage, such as mains surges or braking; the peak where nothing is entered.",
            "transient <= surge voltage", "IEC 60384-1 as quoted";
        number stress.min_v (Volt Volts) Stress, Derived("operating voltage less ripple peak (assumed)"),
            "Lowest voltage", "Lowest voltage across the part, negative where it is reversed.",
            ">= 0 pass, >= -1 V marginal", "makers print 1 to 1.5 V; common practice";
        number stress.ambient_rise_k (Kelvin Signed) Ambient, Assumed("0"), "Ambient rise over the board",
            "How much warmer it is beside this part than the load profile of the board or the job says.";
        number stress.ambient_min_c (Celsius Celsius) Ambient,
            Derived("that of the board or job, else the coolest phase"), "Lowest ambient",
            "Lowest ambient, also while switched off; that of the board or job where nothing is entered, else the coolest phase.";
        number stress.airflow_lfm (AirSpeed NotNegative) Stress,
            Derived("that of the conditions the phases come from, else still air"), "Air speed",
            "Air speed at the part; still air where nothing is entered.",
            "dT / m^2, m = 1 at 0, 1.25 at 100, 1.5 at 200, 1.7 at 300 ft/min",
            "GE Capacitor application data, table AP3 (published)";
        special stress.ripple (Kind::Rows) Ripple,
            Derived("the original's rating (assumed); an empty list means no ripple"), "Ripple spectrum",
            "Currents by frequency; where nothing is entered the original's rating counts, an empty list means that there is no ripple.",
            RIPPLE, VISHAY;
        special stress.phases (Kind::Rows) Ambient, Derived("those of the board or job"), "Load profile",
            "Operating phases: share of operating time, ambient, ripple; without any those of the board or the job count.",
            "1/L = sum w_i / L_i", "Cosel technical information (published)";
        special stress.ripple_from (Kind::Object) Elsewhere, Nothing("typed in"), "Origin of the ripple",
            "The circuit, oscilloscope record or measured rise the spectrum was worked out from; without it the lines were typed in.";
        number needs.life_h (Hour NotNegative) Needs, Derived("the job's service interval"), "Target life",
            "Energised hours this position must last; the job's service interval where nothing is entered.",
            "interval in years x energised hours per year", "8 to 10 years: common practice";
        word needs.end_of_life (LifeBasis) Needs, Assumed("endurance"), "Wear at the end of life",
            "Useful where the circuit still works with the wear that ends a useful life, else only an endurance counts in full.",
            "useful life ends at -30 to -45 % capacitance and 3 times the ESR", "makers' data sheets";
        number needs.capacitance_min_uf (Microfarad NotNegative) Needs, Derived("window by role"),
            "Minimum capacitance",
            "Least nominal capacitance the circuit works with; with it the window by role no longer counts.";
        number needs.capacitance_max_uf (Microfarad Positive) Needs, Derived("window by role"), "Maximum capacitance",
            "Greatest nominal capacitance the circuit works with; with it the window by role no longer counts.";
        number needs.esr_max_mohm (Milliohm Positive) Needs, Derived("the original's ESR (assumed)"), "Maximum ESR",
            "Greatest ESR the circuit works with.", "else the original's ESR at the same frequency",
            "KEMET A4001; Nichicon data sheets (published)";
        number needs.esr_min_mohm (Milliohm NotNegative) Needs, Assumed("no limit"), "Minimum ESR",
            "Least ESR, where a regulator or a loop needs one to stay stable.";
        number needs.esr_hz (Hertz Positive) Needs, Derived("100000"), "Frequency of the ESR limits",
            "Frequency at which the ESR limits apply; 100 kHz where nothing is entered.";
        number needs.esr_cold_max_mohm (Milliohm Positive) Needs, Assumed("no limit"), "Maximum ESR in the cold",
            "Greatest ESR at the lowest ambient.", "ESR_cold = ESR z_ratio", "definition of the impedance ratio";
        number needs.leakage_max_ua (Microampere NotNegative) Needs, Assumed("no limit"), "Maximum leakage current",
            "Greatest leakage current the circuit works with; no limit where nothing is entered.";
        number needs.balance_kohm (Kilohm Positive) Needs, Unknown, "Balancing resistor",
            "Resistor across each part of a series string; it limits how far unequal leakage shifts the voltages.";
        number space.diameter_max_mm (Millimetre Positive) Room, Derived("the original's largest body"),
            "Max. diameter", "Greatest body diameter that fits.", "else the original's largest body", PRACTICE;
        number space.height_max_mm (Millimetre Positive) Room,
            Derived("the original's largest body and its vent space"), "Max. component height",
            "Free height above the board, up to the lid or the next board.",
            "else the original's largest body + space for its vent: 2 mm to 16 mm diameter, 3 mm to 40 mm, 5 mm above",
            "KEMET ESC A4006 (published)";
        number space.pitch_mm (Millimetre Positive) Room, Derived("the original's lead spacing"),
            "Lead spacing (holes)",
            "Distance between the holes; the original's lead spacing where nothing is entered.",
            "radial: off by 0.5 mm pass, within lead forming marginal; snap-in, screw: 0.3 mm",
            "makers' tolerances; common practice";
        number space.pitch_reach_mm (Millimetre NotNegative) Space, Derived("the policy's limit"),
            "Max. lead forming",
            "How far radial leads may be formed here; the policy's limit where nothing is entered.";
        number space.hole_mm (Millimetre Positive) Space, Assumed("not checked"), "Hole diameter",
            "Diameter of the finished holes; without it leads are not checked against the hole.",
            "lead + 0.05 + 0.20 <= hole pass; + 0.15 marginal", "IPC-2222 levels B and C as quoted";
        special space.accepts (Kind::Words(Mounting::VARIANTS)) Space, Nothing("none"), "Other mountings accepted",
            "Mountings besides the original's that can be made to fit; they count as marginal.";
        within_number measured.capacitance_uf (Microfarad NotNegative) Measured, Nothing("not measured"),
            "Measured capacitance", "Capacitance of the old part, measured out of circuit.",
            "< 0.8 C0 worn out, < 0.9 C0 ageing", "makers' endurance limits; common practice";
        within_number measured.esr_mohm (Milliohm NotNegative) Measured, Nothing("not measured"), "Measured ESR",
            "ESR of the old part.", "> 2 x limit worn out, > 1.5 x limit ageing",
            "makers' endurance limits; common practice";
        within_number measured.esr_hz (Hertz Positive) Measured, Unknown, "Frequency of the measurement",
            "Frequency the ESR was measured at.";
        within_text measured.unit (Line) Measured, Nothing("empty"), "Measured unit",
            "Serial number of the unit it was measured on; of several at the bench the one with the most worn part.";
        within_text measured.date (Date) Measured, Unknown, "Measured on",
            "Day of the measurement, such as 2026-10-02.";
        within_text measured.note (Note) Measured, Nothing("empty"), "Findings on the old part",
            "Whatever else was seen: a lifted vent, a stain, a hot spot.";
        number x_mm (Millimetre Signed) Location, Unknown, "x",
            "Centre of the body from the lower left corner of the board.";
        number y_mm (Millimetre Signed) Location, Unknown, "y",
            "Centre of the body from the lower left corner of the board, upwards.";
        number rotation_deg (Degree Signed) Location, Unknown, "Rotation",
            "Direction from the negative to the positive lead, anticlockwise from the x axis.";
        word side (Side) Location, Assumed("top"), "Side",
            "The side of the board the body is on; the component side where nothing is entered.";
    }
}

fields! {
    /// A line of the ripple spectrum.
    pub RIPPLE_LINE: RippleLine;
    "stress.ripple." [] {
        number hz (Hertz Positive) Stress, Unknown, "Frequency", "Frequency of this line of the spectrum.";
        number a (Ampere NotNegative) Stress, Unknown, "Current", "Current of this line, rms.";
    }
}

fields! {
    /// An operating phase.
    pub PHASE: Phase;
    "stress.phases." [] {
        text name (Line) Elsewhere, Nothing("empty"), "Phase", "What the shop calls the phase.";
        number share (Share NotNegative) Stress, Assumed("1"), "Share of operating time",
            "Share of the energised time; shares are counted as parts of their sum.";
        number ambient_c (Celsius Celsius) Stress, Unknown, "Ambient",
            "Air temperature beside the part, not of the room.", LIFE, RUBYCON;
        number ripple_scale (Number NotNegative) Stress, Assumed("1"), "Ripple factor",
            "Factor on every line of the spectrum in this phase; 1 where nothing is entered.";
    }
}

fields! {
    /// Where a spectrum came from; written by the panels of Life.
    pub ORIGIN: RippleOrigin;
    "stress.ripple_from." [] {
        text method (Line) Elsewhere, Nothing("typed in"), "Method",
            "How the spectrum was found: circuit, oscilloscope or case_rise.";
        text circuit (Line) Elsewhere, Nothing("none"), "Circuit", "Which circuit, such as buck_input.";
        special figures (Kind::Figures(Bounds::Signed)) Elsewhere, Nothing("none"), "Figures",
            "The figures entered, each name with its unit.";
        special assumed (Kind::Texts) Elsewhere, Nothing("none"), "Assumed",
            "Names of figures nobody entered that were assumed or derived.";
        text file (Line) Elsewhere, Nothing("none"), "File", "Name of the oscilloscope's file.";
        text channel (Line) Elsewhere, Nothing("none"), "Channel", "Its channel.";
        number rms_a (Ampere NotNegative) Elsewhere, Unknown, "Current, rms",
            "Root mean square of the lines it gave: tells whether they were changed since.";
    }
}

/// Entries of a position that contradict each other: the path of the field to look at, and what is wrong. The checks take the
/// worse figure.
pub fn contradictions(position: &Position) -> Vec<(&'static str, String)> {
    let (stress, needs, can) = (&position.stress, &position.needs, &position.original.can);
    // A non-polar part is judged by the size of a voltage, either way.
    let size = |v: f64| if can.technology == Some(Technology::NonPolar) { v.abs() } else { v };
    let peak_v = stress.dc_v.map(|dc_v| size(dc_v) + stress.ripple_peak_v.unwrap_or(0.0));
    let coolest = stress.phases.iter().flatten().filter_map(|phase| phase.ambient_c).reduce(f64::min);
    let pairs = [
        (
            "stress.transient_v",
            peak_v,
            stress.transient_v.map(size),
            "the highest transient is below the peak of the operation",
        ),
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
