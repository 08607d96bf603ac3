//! One place on a board: what sits there, what it goes through, what it must do, what room it has.

use std::collections::BTreeMap;

use strum::VariantNames;

use super::can::{Can, LifeBasis, Mounting};
use super::schema::Absent::{Assumed, Derived, Nothing, Unknown};
use super::schema::{Access, Bounds, Kind, LIFE, PRACTICE, RIPPLE, RUBYCON, VISHAY, fields};
use super::written::{records, words};

words! {
    /// What the capacitor does there; decides how far the capacitance may differ.
    pub enum Role {
        /// Behind a rectifier.
        Reservoir,
        /// Between two converters.
        DcLink,
        /// At the input of a converter.
        InputFilter,
        /// At the output of a converter.
        OutputFilter,
        /// Beside a load.
        Decoupling,
        /// Supplies a controller while it starts.
        Startup,
        /// Sets a time.
        Timing,
        /// Passes a signal.
        Coupling,
    }

    /// The side of the board the body is on.
    #[derive(Default)]
    pub enum Side {
        /// Component side.
        #[default]
        Top,
        /// The other side.
        Bottom,
    }
}

records! {
    /// The part that was built in.
    pub struct Original {
        /// What is printed on it.
        pub label: Option<String>,
        /// Its figures.
        #[serde(flatten)]
        pub can: Can,
        /// Year of manufacture.
        pub made_year: Option<f64>,
        /// File, line and cells its figures were read from, where a list gave them.
        pub read_from: Option<String>,
    }

    /// What the circuit asks of the part.
    pub struct Needs {
        /// Least nominal capacitance, µF.
        pub capacitance_min_uf: Option<f64>,
        /// Largest nominal capacitance, µF.
        pub capacitance_max_uf: Option<f64>,
        /// Largest ESR at `esr_hz`, mΩ.
        pub esr_max_mohm: Option<f64>,
        /// Least ESR at `esr_hz`, mΩ: a regulator or loop that needs a zero.
        pub esr_min_mohm: Option<f64>,
        /// Frequency of the ESR limits, Hz; absent = 100 kHz.
        pub esr_hz: Option<f64>,
        /// Largest ESR in the cold, mΩ.
        pub esr_cold_max_mohm: Option<f64>,
        /// Largest leakage current, µA.
        pub leakage_max_ua: Option<f64>,
        /// Target life, h; absent = the job's interval.
        pub life_h: Option<f64>,
        /// The wear at which the circuit still works: `useful` takes parts by their useful life; absent = endurance.
        pub end_of_life: Option<LifeBasis>,
        /// Balancing resistor across each can of a series string, kΩ.
        pub balance_kohm: Option<f64>,
    }

    /// One place on a board.
    pub struct Position {
        /// Reference designator.
        #[serde(rename = "ref")]
        pub reference: String,
        /// What the capacitor does; absent = unknown.
        pub role: Option<Role>,
        /// The role was filled in by an import and nobody has set it yet.
        #[serde(skip_serializing_if = "std::ops::Not::not")]
        pub role_assumed: bool,
        /// Centre of the body from the board's lower left corner, mm.
        pub x_mm: Option<f64>,
        /// Centre of the body from the board's lower left corner, mm.
        pub y_mm: Option<f64>,
        /// The photo in which place and diameter were measured, and what was, to about a millimetre; absent = not from a photo.
        pub traced_from: Option<String>,
        /// Direction from the negative to the positive lead, degrees anticlockwise from the x axis.
        pub rotation_deg: Option<f64>,
        /// Side of the board; absent = top.
        pub side: Option<Side>,
        /// The part that was built in.
        pub original: Original,
        /// What it goes through.
        pub stress: Stress,
        /// What the circuit asks.
        pub needs: Needs,
        /// What room there is.
        pub space: Space,
        /// What was measured on the old part.
        pub measured: Option<Measured>,
        /// Whether it sits in potting that has to be dug out; absent = no.
        pub potted: Option<bool>,
        /// Name shared by cans that work in parallel.
        pub parallel_group: Option<String>,
        /// Name shared by cans that work in series as one string.
        pub series_group: Option<String>,
        /// Part number chosen by a person.
        pub pick: Option<String>,
        /// Remark.
        pub note: Option<String>,
    }
}

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
    }
    /// What the capacitor goes through.
    struct Stress "stress." [.stress] {
        number dc_v (Volt Volts) Voltage, Derived("from the original's rated voltage (assumed)"),
            "Operating voltage (DC)", "Direct voltage across the part in operation; negative where it is reversed.",
            USE, PRACTICE;
        number ripple_peak_v (Volt PeakVolts) Stress,
            Derived("from the ripple and the part's impedance (assumed)"), "Ripple voltage (peak)",
            "How far the ripple rises over the operating voltage; worked out from the ripple and the part where nothing is entered.",
            "peak = dc + ripple peak", "definition";
        number transient_v (Volt Volts) Voltage, Derived("the peak (assumed)"), "Highest transient",
            "Highest short overvoltage, such as mains surges or braking; the peak where nothing is entered.",
            "transient <= surge voltage", "IEC 60384-1 as quoted";
        number min_v (Volt Volts) Stress, Derived("operating voltage less ripple peak (assumed)"),
            "Lowest voltage", "Lowest voltage across the part, negative where it is reversed.",
            ">= 0 pass, >= -1 V marginal", "makers print 1 to 1.5 V; common practice";
        special ripple [Option<Vec<RippleLine>>] (Kind::Rows) Ripple,
            Derived("the original's rating (assumed); an empty list means no ripple"), "Ripple spectrum",
            "Currents by frequency; where nothing is entered the original's rating counts, an empty list means that there is no ripple.",
            RIPPLE, VISHAY;
        special ripple_from [Option<RippleOrigin>] (Kind::Object) Elsewhere, Nothing("typed in"), "Origin of the ripple",
            "The circuit, oscilloscope record or measured rise the spectrum was worked out from; without it the lines were typed in.";
        special phases [Option<Vec<Phase>>] (Kind::Rows) Ambient, Derived("those of the board or job"), "Load profile",
            "Operating phases: share of operating time, ambient, ripple; without any those of the board or the job count.",
            "1/L = sum w_i / L_i", "Cosel technical information (published)";
        number ambient_rise_k (Kelvin Signed) Ambient, Assumed("0"), "Ambient rise over the board",
            "How much warmer it is beside this part than the load profile of the board or the job says.";
        number ambient_min_c (Celsius Celsius) Ambient,
            Derived("that of the board or job, else the coolest phase"), "Lowest ambient",
            "Lowest ambient, also while switched off; that of the board or job where nothing is entered, else the coolest phase.";
        number airflow_lfm (AirSpeed NotNegative) Stress,
            Derived("that of the conditions the phases come from, else still air"), "Air speed",
            "Air speed at the part; still air where nothing is entered.",
            "dT / m^2, m = 1 at 0, 1.25 at 100, 1.5 at 200, 1.7 at 300 ft/min",
            "GE Capacitor application data, table AP3 (published)";
    }
    "" [] {
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
    }
    /// The room for the part.
    struct Space "space." [.space] {
        number diameter_max_mm (Millimetre Positive) Room, Derived("the original's largest body"),
            "Max. diameter", "Greatest body diameter that fits.", "else the original's largest body", PRACTICE;
        number height_max_mm (Millimetre Positive) Room,
            Derived("the original's largest body and its vent space"), "Max. component height",
            "Free height above the board, up to the lid or the next board.",
            "else the original's largest body + space for its vent: 2 mm to 16 mm diameter, 3 mm to 40 mm, 5 mm above",
            "KEMET ESC A4006 (published)";
        number pitch_mm (Millimetre Positive) Room, Derived("the original's lead spacing"),
            "Lead spacing (holes)",
            "Distance between the holes; the original's lead spacing where nothing is entered.",
            "radial: off by 0.5 mm pass, within lead forming marginal; snap-in, screw: 0.3 mm",
            "makers' tolerances; common practice";
        number pitch_reach_mm (Millimetre NotNegative) Space, Derived("the policy's limit"),
            "Max. lead forming",
            "How far radial leads may be formed here; the policy's limit where nothing is entered.";
        number hole_mm (Millimetre Positive) Space, Assumed("not checked"), "Hole diameter",
            "Diameter of the finished holes; without it leads are not checked against the hole.",
            "lead + 0.05 + 0.20 <= hole pass; + 0.15 marginal", "IPC-2222 levels B and C as quoted";
        special accepts [Option<Vec<Mounting>>] (Kind::Words(Mounting::VARIANTS)) Space, Nothing("none"), "Other mountings accepted",
            "Mountings besides the original's that can be made to fit; they count as marginal.";
    }
    /// What was measured on the old part.
    struct Measured "measured." [.measured] {
        within_number capacitance_uf (Microfarad NotNegative) Measured, Nothing("not measured"),
            "Measured capacitance", "Capacitance of the old part, measured out of circuit.",
            "< 0.8 C0 worn out, < 0.9 C0 ageing", "makers' endurance limits; common practice";
        within_number esr_mohm (Milliohm NotNegative) Measured, Nothing("not measured"), "Measured ESR",
            "ESR of the old part.", "> 2 x limit worn out, > 1.5 x limit ageing",
            "makers' endurance limits; common practice";
        within_number esr_hz (Hertz Positive) Measured, Unknown, "Frequency of the measurement",
            "Frequency the ESR was measured at.";
        within_text unit (Line) Measured, Nothing("empty"), "Measured unit",
            "Serial number of the unit it was measured on; of several at the bench the one with the most worn part.";
        within_text date (Date) Measured, Unknown, "Measured on",
            "Day of the measurement, such as 2026-10-02.";
        within_text note (Note) Measured, Nothing("empty"), "Findings on the old part",
            "Whatever else was seen: a lifted vent, a stain, a hot spot.";
    }
    "" [] {
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
    /// One line of the ripple spectrum.
    struct RippleLine "stress.ripple." [] {
        number hz (Hertz Positive) Stress, Unknown, "Frequency", "Frequency of this line of the spectrum.";
        number a (Ampere NotNegative) Stress, Unknown, "Current", "Current of this line, rms.";
    }
}

fields! {
    /// An operating phase.
    pub PHASE: Phase;
    /// A part of the duty with steady conditions.
    struct Phase "stress.phases." [] {
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
    /// Where a ripple spectrum came from when it was not typed in: what somebody needs to check it later.
    struct RippleOrigin "stress.ripple_from." [] {
        text method (Line) Elsewhere, Nothing("typed in"), "Method",
            "How the spectrum was found: circuit, oscilloscope or case_rise.";
        text circuit (Line) Elsewhere, Nothing("none"), "Circuit", "Which circuit, such as buck_input.";
        special figures [BTreeMap<String, f64>] (Kind::Figures(Bounds::Signed)) Elsewhere, Nothing("none"), "Figures",
            "The figures entered, each name with its unit.";
        special assumed [Vec<String>] (Kind::Texts) Elsewhere, Nothing("none"), "Assumed",
            "Names of figures nobody entered that were assumed or derived.";
        text file (Line) Elsewhere, Nothing("none"), "File", "Name of the oscilloscope's file.";
        text channel (Line) Elsewhere, Nothing("none"), "Channel", "Its channel.";
        number rms_a (Ampere NotNegative) Elsewhere, Unknown, "Current, rms",
            "Root mean square of the lines it gave: tells whether they were changed since.";
    }
}

impl RippleLine {
    /// A line whose figures are both known.
    pub fn of(hz: f64, a: f64) -> Self {
        Self { hz: Some(hz), a: Some(a), ..Self::default() }
    }
}

impl Position {
    /// Centre of the body, mm, when the position was located.
    pub fn centre_mm(&self) -> Option<(f64, f64)> {
        Some((self.x_mm?, self.y_mm?))
    }
}
