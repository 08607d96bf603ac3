//! One place on a board: what sits there, what it goes through, what it must do, what room it has.

use std::collections::BTreeMap;

use super::can::{Can, LifeBasis, Mounting};
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

    /// One line of the ripple spectrum.
    pub struct RippleLine {
        /// Frequency, Hz.
        pub hz: Option<f64>,
        /// Current, A rms.
        pub a: Option<f64>,
    }

    /// A part of the duty with steady conditions.
    pub struct Phase {
        /// What the shop calls it.
        pub name: Option<String>,
        /// Share of the energised time; shares are normalised.
        pub share: Option<f64>,
        /// Ambient beside the can, °C.
        pub ambient_c: Option<f64>,
        /// Factor on every ripple line; absent = 1.
        pub ripple_scale: Option<f64>,
    }

    /// Where a ripple spectrum came from when it was not typed in: what somebody needs to check it later.
    pub struct RippleOrigin {
        /// `circuit`, `oscilloscope` or `case_rise`.
        pub method: Option<String>,
        /// Which circuit, such as `buck_input`.
        pub circuit: Option<String>,
        /// The figures entered, by their names with units, such as `source_ohm`.
        pub figures: BTreeMap<String, f64>,
        /// Names of the figures nobody entered that were assumed or derived.
        pub assumed: Vec<String>,
        /// Name of the oscilloscope's file.
        pub file: Option<String>,
        /// Its channel.
        pub channel: Option<String>,
        /// Root mean square of the lines it gave, A: tells whether they were changed since.
        pub rms_a: Option<f64>,
    }

    /// What the capacitor goes through.
    pub struct Stress {
        /// Working voltage, V dc.
        pub dc_v: Option<f64>,
        /// Peak of the ripple voltage over `dc_v`, V.
        pub ripple_peak_v: Option<f64>,
        /// Highest short overvoltage, V.
        pub transient_v: Option<f64>,
        /// Lowest voltage, negative where the part is reversed, V.
        pub min_v: Option<f64>,
        /// Ripple spectrum; absent = unknown, empty = no ripple.
        pub ripple: Option<Vec<RippleLine>>,
        /// Where the spectrum came from; absent = typed in.
        pub ripple_from: Option<RippleOrigin>,
        /// Duty; absent or empty = that of the board's conditions, else of the job's.
        pub phases: Option<Vec<Phase>>,
        /// How much warmer it is beside this can than the phases of the board or the job say, K; absent = 0.
        pub ambient_rise_k: Option<f64>,
        /// Lowest ambient, °C; absent = that of the board's or the job's conditions, else the coolest phase.
        pub ambient_min_c: Option<f64>,
        /// Air speed at the can, ft/min; absent = that of the conditions the phases come from, else still air.
        pub airflow_lfm: Option<f64>,
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

    /// The room for the part.
    pub struct Space {
        /// Largest body diameter, mm; absent = the original's largest body.
        pub diameter_max_mm: Option<f64>,
        /// Room above the board, mm; absent = the original's largest body and its vent clearance.
        pub height_max_mm: Option<f64>,
        /// Hole pitch, mm; absent = the original's pitch.
        pub pitch_mm: Option<f64>,
        /// How far radial leads may be formed here, mm; absent = the policy's reach.
        pub pitch_reach_mm: Option<f64>,
        /// Hole diameter, mm.
        pub hole_mm: Option<f64>,
        /// Mountings other than the original's that are accepted.
        pub accepts: Option<Vec<Mounting>>,
    }

    /// What was measured on the old part.
    pub struct Measured {
        /// Capacitance, µF.
        pub capacitance_uf: Option<f64>,
        /// ESR at `esr_hz`, mΩ.
        pub esr_mohm: Option<f64>,
        /// Frequency of `esr_mohm`, Hz.
        pub esr_hz: Option<f64>,
        /// Serial number of the unit it was measured on.
        pub unit: Option<String>,
        /// When, as `2026-10-02`.
        pub date: Option<String>,
        /// Whatever else was seen.
        pub note: Option<String>,
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
