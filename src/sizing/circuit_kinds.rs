//! The circuits ripple can be worked out for: their forms, formulas and sources.

use std::f64::consts::SQRT_2;

use crate::domain::Unit;
use crate::physics::circuits::converters::{
    boost_output, buck_inductor_ripple_a, buck_input, buck_output, flyback_input, rectified_sine_output,
};
use crate::physics::circuits::inverter::three_phase_link;
use crate::physics::circuits::pfc::storage_capacitor;
use crate::physics::circuits::rectifier::{Diodes, Load, Rectifier, reservoir};
use crate::physics::spectrum::Ripple;
use Absent::{Assumed, Derived, OneOf, Required};

/// One figure of a form.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Field {
    /// Name with the unit, as it stands in files.
    pub key: &'static str,
    /// What it is called on screen.
    pub label: &'static str,
    /// Its unit.
    pub unit: Unit,
    /// Lowest value accepted.
    pub min: f64,
    /// Highest value accepted.
    pub max: f64,
    /// What happens when it is left empty.
    pub absent: Absent,
    /// Where to get it from.
    pub hint: &'static str,
}

/// What an empty field means.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Absent {
    /// The ripple stays unknown.
    Required,
    /// This value is taken and named as assumed.
    Assumed(f64),
    /// It is worked out from the others, and named as assumed.
    Derived,
    /// One of a set of alternatives: exactly one of the fields of this kind has to be given.
    OneOf,
}

/// A figure worked out on the way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// What it is.
    pub label: &'static str,
    /// Its value.
    pub value: f64,
    /// Its unit.
    pub unit: &'static str,
}

/// The figures of an entry with the assumed ones filled in.
pub(super) struct Figures<'a> {
    pub fields: &'static [Field],
    /// By the names of the fields.
    pub given: &'a [(&'static str, f64)],
}

impl Figures<'_> {
    /// The figure given or assumed; `None` where it has to be derived or another alternative was taken.
    pub(super) fn get(&self, key: &str) -> Option<f64> {
        let field = self.fields.iter().find(|field| field.key == key)?;
        let given = self.given.iter().find(|(known, _)| *known == key).map(|&(_, value)| value);
        given.or(match field.absent {
            Assumed(value) => Some(value),
            _ => None,
        })
    }
}

/// Everything a circuit kind brings, in the order of [`CircuitKind`](super::circuit::CircuitKind).
pub struct KindData {
    /// What it is called on screen.
    pub label: &'static str,
    /// What has to be entered, in the order of a form.
    pub fields: &'static [Field],
    /// The formula in words and signs.
    pub formula: &'static str,
    /// Where the formula stands.
    pub source: &'static str,
    pub(super) cautions: &'static [&'static str],
    /// What to say when the figures contradict each other.
    pub(super) impossible: &'static str,
    pub(super) ripple: fn(&Figures, &mut Vec<Step>) -> Option<Ripple>,
}

/// Figures of the forms: name, label, unit with least and greatest value, what an empty field means, where to get it from.
macro_rules! figures {
    ($($figure:ident $key:literal $label:literal, $unit:ident ($min:expr, $max:expr) $absent:expr, $hint:literal;)*) => {
        $(const $figure: Field = Field {
            key: $key, label: $label, unit: Unit::$unit, min: $min, max: $max, absent: $absent, hint: $hint,
        };)*
    };
}

figures! {
    INPUT_V "input_v" "input voltage", Volt (0.1, 1e4) Required, "mean, with a meter";
    OUTPUT_V "output_v" "output voltage", Volt (0.1, 1e4) Required, "mean, with a meter";
    OUTPUT_A "output_a" "output current", Ampere (0.0, 1e4) Required, "mean load current";
    SWITCHING_HZ "switching_hz" "switching frequency", Hertz (100.0, 1e7) Required,
        "oscilloscope at the switch, or the controller's parts";
    LINE_HZ "line_hz" "line frequency", Hertz (10.0, 1000.0) Required, "50 or 60 Hz";
    INDUCTANCE "inductance_uh" "inductance", Microhenry (0.01, 1e7) Required, "printed on the choke, or an LCR meter";
    DUTY "duty" "duty of the switch", Number (0.001, 0.999) Required,
        "share of the period the switch conducts, on an oscilloscope";
    SOURCE_V "source_v" "source voltage, open circuit, rms", Volt (0.1, 1e4) Required,
        "transformer secondary or mains, unloaded";
    SOURCE_OHM "source_ohm" "source resistance", Ohm (0.0, 1000.0) Required,
        "(open-circuit less loaded voltage) over load current; winding, wiring and inrush resistor, 0 for an ideal source";
    DROP_V "diode_drop_v" "forward voltage of a diode", Volt (0.0, 5.0) Assumed(0.9), "0.7 to 1.1 V for silicon";
    DIODES "diodes_in_path" "diodes that conduct in series", Number (1.0, 2.0) Assumed(2.0),
        "2 in a bridge, 1 with a centre tap";
    RESERVOIR "capacitance_uf" "capacitance", Microfarad (0.01, 1e7) Required, "of the reservoir, all cans together";
    ESR "esr_mohm" "ESR", Milliohm (0.0, 1e6) Assumed(0.0), "at twice the line frequency";
    LOAD_A "load_a" "load, constant current", Ampere (0.0, 1e4) OneOf, "a linear regulator or a motor";
    LOAD_W "load_w" "load, constant power in", Watt (0.0, 1e6) OneOf,
        "a switching supply: its output power over efficiency";
    LOAD_OHM "load_ohm" "load, resistance", Ohm (1e-3, 1e9) OneOf, "a heater, a lamp";
    INPUT_W "input_w" "power in", Watt (0.0, 1e6) Required,
        "output power over efficiency, or input voltage times current";
    RESONANT_HZ "resonant_hz" "frequency of the sine", Hertz (10.0, 1e7) Required, "oscilloscope at the transformer";
    LINE_V "line_v" "line voltage, rms", Volt (0.1, 1e4) Required, "the lowest counts: it gives most ripple";
    OUTPUT_W "output_w" "power out", Watt (0.0, 1e6) Required,
        "what the stage delivers; not what it takes from the line";
    PHASE_A "phase_a" "phase current, rms", Ampere (0.0, 1e4) Required, "clamp meter at the motor";
    MODULATION "modulation" "modulation", Number (0.001, 1.1547) Required,
        "peak of the phase voltage over half the link voltage; at most 1.15";
    POWER_FACTOR "power_factor" "power factor", Number (-1.0, 1.0) Required,
        "of the motor, negative while it brakes";
}

const fn derived(field: Field) -> Field {
    Field { absent: Derived, ..field }
}

/// What a stage with a choke of its own is described by; the choke and the duty can be left out.
const CONVERTER: &[Field] = &[INPUT_V, OUTPUT_V, OUTPUT_A, SWITCHING_HZ, derived(INDUCTANCE), derived(DUTY)];

pub(super) const KINDS: [KindData; 9] = [
    KindData {
        label: "reservoir behind a mains rectifier",
        fields: &[SOURCE_V, LINE_HZ, SOURCE_OHM, DROP_V, DIODES, RESERVOIR, ESR, LOAD_A, LOAD_W, LOAD_OHM],
        formula: "the circuit integrated to its periodic state: sine behind a resistance, diodes, capacitor with ESR, load",
        source: "circuit theory, integrated by us; within 0.5 % of a circuit simulator on the reference cases",
        cautions: &[
            "The closed formula for an ideal source reads up to 42 % high at 24 V and 0.2 Ω, so the source resistance matters: measure it.",
            "Leakage inductance of the transformer and the flattened mains of a real building lower the ripple; both are left out.",
        ],
        impossible: "the load pulls the reservoir to zero between two peaks: more capacitance, a higher source voltage or a lower load is needed",
        ripple: mains_rectifier,
    },
    KindData {
        label: "input of a buck stage",
        fields: CONVERTER,
        formula: "sqrt(D (Io² + dI²/12) - (D Io)²), with dI = Vo (1-D)/(L f); without the inductance Io sqrt(D (1-D)); D = Vo/Vin unless given",
        source: "Infineon IR3894 data sheet p. 27, TI LM2745 data sheet p. 18, TI TPS62000-Q1 data sheet SGLS243A p. 16",
        cautions: &[
            BUCK_DUTY,
            "Without the inductance the current is taken as flat: the ripple is then a few percent low.",
        ],
        impossible: BUCK_IMPOSSIBLE,
        ripple: |f, steps| {
            let duty = buck_duty(f, steps)?;
            let ramp_a = f.get("inductance_uh").map_or(Some(0.0), |_| inductor_ripple(f, duty, steps))?;
            buck_input(f.get("output_a")?, ramp_a, duty, f.get("switching_hz")?)
        },
    },
    KindData {
        label: "output of a buck stage",
        fields: &[INPUT_V, OUTPUT_V, SWITCHING_HZ, INDUCTANCE, derived(DUTY)],
        formula: "dI/(2 sqrt 3), with dI = Vo (1-D)/(L f); D = Vo/Vin unless given",
        source: "TI TPS62000-Q1 data sheet SGLS243A p. 16",
        cautions: &[BUCK_DUTY, "The inductance of a choke falls with its current: the value at load counts."],
        impossible: BUCK_IMPOSSIBLE,
        ripple: |f, steps| {
            let duty = buck_duty(f, steps)?;
            buck_output(inductor_ripple(f, duty, steps)?, duty, f.get("switching_hz")?)
        },
    },
    KindData {
        label: "output of a boost stage",
        fields: CONVERTER,
        formula: "the diode's pulses Io/(1-D) less the load; without the inductance Io sqrt(D/(1-D)); D = 1 - Vin/Vo unless given",
        source: "TI LM5022 data sheet SNVS480G p. 17",
        cautions: &["The duty from the voltages leaves out the losses: a measured one is a little larger.", CONTINUOUS],
        impossible: "a boost stage needs an output above its input, and the formula holds in continuous conduction only",
        ripple: |f, steps| {
            let (input_v, output_v) = (f.get("input_v")?, f.get("output_v")?);
            let duty = duty(f, 1.0 - input_v / output_v, steps)?;
            let ramp_a = match f.get("inductance_uh") {
                None => 0.0,
                // The inductor sees the input voltage while the switch conducts.
                Some(micro_h) => step(
                    steps,
                    "inductor ripple, peak to peak",
                    input_v * duty / (micro_h * 1e-6 * f.get("switching_hz")?),
                    "A",
                ),
            };
            boost_output(f.get("output_a")?, ramp_a, duty, f.get("switching_hz")?)
        },
    },
    KindData {
        label: "input of a flyback stage",
        fields: &[INPUT_V, INPUT_W, SWITCHING_HZ, DUTY],
        formula: "Iin sqrt((1-D)/D), with Iin = P/Vin",
        source: "derived from the waveform (circuit theory, no source)",
        cautions: &[
            CONTINUOUS,
            "The ramp of the switch current is left out: with a small primary inductance the ripple is higher.",
        ],
        impossible: CONTINUOUS,
        ripple: |f, steps| {
            let input_a = step(steps, "input current", f.get("input_w")? / f.get("input_v")?, "A");
            flyback_input(input_a, 0.0, f.get("duty")?, f.get("switching_hz")?)
        },
    },
    KindData {
        label: "output of a flyback stage",
        fields: &[OUTPUT_A, SWITCHING_HZ, DUTY],
        formula: "Io sqrt(D/(1-D))",
        source: "TI LM5022 data sheet SNVS480G p. 17 (same waveform); Power Integrations AN-16 p. 22",
        cautions: &[
            CONTINUOUS,
            "A supply at light load works in discontinuous conduction, where the ripple per ampere is higher.",
        ],
        impossible: CONTINUOUS,
        ripple: |f, _| boost_output(f.get("output_a")?, 0.0, f.get("duty")?, f.get("switching_hz")?),
    },
    KindData {
        label: "output behind a full-wave rectified sine",
        fields: &[OUTPUT_A, RESONANT_HZ],
        formula: "Io sqrt(pi²/8 - 1), lines from twice the frequency on",
        source: "derived; checked with a circuit simulator",
        cautions: &["Holds for a resonant stage at resonance; away from it the current is no longer a sine."],
        impossible: "the figures make no ripple",
        ripple: |f, _| rectified_sine_output(f.get("output_a")?, f.get("resonant_hz")?),
    },
    KindData {
        label: "storage capacitor behind one power factor stage, continuous mode",
        fields: &[LINE_V, LINE_HZ, OUTPUT_V, OUTPUT_W, SWITCHING_HZ],
        formula: "twice the line frequency: Io/sqrt 2; switching: Io sqrt(16 Vo/(3 pi Vpk) - 1.5); Io = P/Vo",
        source: "TI UCC28180 data sheet SLUSBQ5A p. 30",
        cautions: &[
            "The converter fed from this capacitor adds its own input ripple: enter it as more lines.",
            "It covers a single stage in continuous mode. A stage in transition mode has more switching ripple, two interleaved stages have less: measure those.",
            CONTINUOUS,
        ],
        impossible: "a power factor stage needs an output above the peak of the line",
        ripple: |f, steps| {
            let output_v = f.get("output_v")?;
            let output_a = step(steps, "output current", f.get("output_w")? / output_v, "A");
            let peak_v = step(steps, "line peak", SQRT_2 * f.get("line_v")?, "V");
            storage_capacitor(output_a, output_v, peak_v, f.get("line_hz")?, f.get("switching_hz")?)
        },
    },
    KindData {
        label: "link of a three-phase inverter",
        fields: &[PHASE_A, MODULATION, POWER_FACTOR, SWITCHING_HZ],
        formula: "Iph sqrt(2M (sqrt3/(4 pi) + cos²phi (sqrt3/pi - 9M/16)))",
        source: "Kolar and Round, IEE Proceedings Electric Power Applications 2006 (abstract read, formula from memory)",
        cautions: &[
            "The rectifier in front adds its own ripple at six times the line frequency: enter it as more lines.",
        ],
        impossible: "the formula holds up to a modulation of 2/sqrt 3",
        ripple: |f, _| {
            three_phase_link(f.get("phase_a")?, f.get("modulation")?, f.get("power_factor")?, f.get("switching_hz")?)
        },
    },
];

const BUCK_DUTY: &str = "The duty from the voltages leaves out the losses: a measured one is a little larger.";
const BUCK_IMPOSSIBLE: &str =
    "a buck stage needs an input above its output, and the formula holds in continuous conduction only";
const CONTINUOUS: &str = "The formula holds in continuous conduction: the current does not reach zero within a period.";

fn step(steps: &mut Vec<Step>, label: &'static str, value: f64, unit: &'static str) -> f64 {
    steps.push(Step { label, value, unit });
    value
}

/// The duty given, else the one derived, which must be one.
fn duty(f: &Figures, derived: f64, steps: &mut Vec<Step>) -> Option<f64> {
    let duty = f.get("duty").unwrap_or(derived);
    (duty > 0.0 && duty < 1.0).then(|| step(steps, "duty", duty, ""))
}

fn buck_duty(f: &Figures, steps: &mut Vec<Step>) -> Option<f64> {
    duty(f, f.get("output_v")? / f.get("input_v")?, steps)
}

fn inductor_ripple(f: &Figures, duty: f64, steps: &mut Vec<Step>) -> Option<f64> {
    let henry = f.get("inductance_uh")? * 1e-6;
    let ripple_a = buck_inductor_ripple_a(f.get("output_v")?, duty, henry, f.get("switching_hz")?)?;
    Some(step(steps, "inductor ripple, peak to peak", ripple_a, "A"))
}

fn mains_rectifier(f: &Figures, steps: &mut Vec<Step>) -> Option<Ripple> {
    let load = match (f.get("load_a"), f.get("load_w"), f.get("load_ohm")) {
        (Some(load_a), _, _) => Load::Current(load_a),
        (_, Some(load_w), _) => Load::Power(load_w),
        (_, _, Some(load_ohm)) => Load::Resistor(load_ohm),
        _ => return None,
    };
    let state = reservoir(&Rectifier {
        source_v: f.get("source_v")?,
        line_hz: f.get("line_hz")?,
        source_ohm: f.get("source_ohm")?,
        diodes: Diodes::Drop(f.get("diode_drop_v")?),
        diodes_in_path: if f.get("diodes_in_path")? < 1.5 { 1 } else { 2 },
        capacitance_f: f.get("capacitance_uf")? * 1e-6,
        esr_ohm: f.get("esr_mohm")? * 1e-3,
        load,
    })?;
    step(steps, "mean voltage", state.mean_v, "V");
    step(steps, "least voltage", state.valley_v, "V");
    step(steps, "largest voltage", state.peak_v, "V");
    step(steps, "largest charging current", state.peak_a, "A");
    step(steps, "source current", state.source_rms_a, "A rms");
    Some(state.ripple)
}
