//! Every row of data/figures.csv recomputed: one published figure with its source. The last test counts them.

use std::collections::{BTreeMap, BTreeSet};

use refarad::domain::{Can, EnduranceBasis, Mounting, Technology};
use refarad::physics::circuits::converters::{buck_input, rectified_sine_output};
use refarad::physics::circuits::pfc::storage_capacitor;
use refarad::physics::condition::reforming;
use refarad::physics::energy::{CAUTION_J, CAUTION_V, hold_up_s, time_to_v_s};
use refarad::physics::esr::{Ladder, cold_factor, from_tan_delta_mohm, usual_tan_delta};
use refarad::physics::frequency::Multipliers;
use refarad::physics::groups::{Branch, parallel_split_a, worst_share_v};
use refarad::physics::heat::{AmbientFactors, air_multiplier, core_to_case_ratio, default_rated_rise_k, rise_per_watt};
use refarad::physics::life::{Conditions, arrhenius_factor, capped_h, voltage_factor};
use refarad::physics::voltage::usual_surge_v;
use refarad::physics::{body, leakage};
use refarad::sizing::inspection::Limits;

const FIGURES: &str = include_str!("data/figures.csv");

/// Two cans of the ngspice netlists 06: 1000 µF 25 mΩ beside 470 µF 80 mΩ.
const PAIR: [Branch; 2] =
    [Branch { capacitance_f: 1000e-6, esr_ohm: 0.025 }, Branch { capacitance_f: 470e-6, esr_ohm: 0.080 }];

struct Inputs(BTreeMap<String, String>);

impl Inputs {
    fn get(&self, name: &str) -> Option<f64> {
        self.0.get(name).map(|value| value.parse().unwrap())
    }

    #[track_caller]
    fn of(&self, name: &str) -> f64 {
        self.get(name).unwrap_or_else(|| panic!("no {name} in {:?}", self.0))
    }

    fn can(&self) -> Can {
        let mountings = [("radial", Mounting::Radial), ("snap_in", Mounting::SnapIn)];
        let mounting = self.0.get("mounting").and_then(|name| mountings.iter().find(|known| known.0 == name));
        Can {
            mounting: mounting.map(|known| known.1),
            rated_v: self.get("rated_v"),
            capacitance_uf: self.get("capacitance_uf"),
            ripple_hz: self.get("ripple_hz"),
            temp_max_c: self.get("temp_max_c"),
            diameter_mm: self.get("diameter_mm"),
            height_mm: self.get("height_mm"),
            ripple_temp_factors: self.0.get("own").map(|table| table.parse().unwrap()),
            endurance_basis: Some(EnduranceBasis::Voltage),
            ..Can::default()
        }
    }

    /// Life without ripple, h.
    fn life_h(&self, technology: Technology) -> f64 {
        let conditions = Conditions {
            endurance_h: self.of("endurance_h"),
            temp_max_c: self.of("temp_max_c"),
            rated_rise_k: 5.0,
            rise_assumed: false,
            tested_with_ripple: false,
            ambient_c: self.of("ambient_c"),
            rise_share: 0.0,
            voltage_factor: 1.0,
        };
        conditions.life(technology).nominal_h
    }
}

/// What the program makes of the inputs of a row.
fn ours(quantity: &str, i: &Inputs) -> f64 {
    let can = i.can();
    let farad = || i.of("capacitance_uf") * 1e-6;
    let pfc = || storage_capacitor(i.of("output_a"), i.of("output_v"), i.of("peak_v"), i.of("line_hz"), i.of("hz"));
    let screw = || rise_per_watt(i.of("diameter_mm"), i.of("height_mm"), Some(Mounting::Screw));
    let recipe = || reforming(i.of("rated_v")).unwrap();
    match quantity {
        "multiplier" => {
            let table = Multipliers::of(&can).unwrap();
            assert!(table.assumed, "a default table is marked");
            table.at(i.of("hz")) / table.at(i.of("reference_hz"))
        }
        "ambient_factor" => AmbientFactors::of(&can).unwrap().at(i.of("ambient_c")),
        "core_over_case" => core_to_case_ratio(i.of("diameter_mm")),
        "air" => air_multiplier(i.of("airflow_lfm"), i.get("diameter_mm")).0,
        "rated_rise_k" => default_rated_rise_k(Technology::Wet, i.of("temp_max_c")),
        "case_k_per_w" => screw().case_k,
        "core_k_per_w" => screw().core_k,
        "life_h" => i.life_h(Technology::Wet),
        "polymer_life_h" => i.life_h(Technology::Polymer),
        "cap_h" => capped_h(i.of("life_h")),
        "arrhenius_h" => i.of("endurance_h") * arrhenius_factor(i.of("ev"), i.of("ambient_c"), i.of("temp_max_c")),
        "doubling_ev" => 2f64.ln() / arrhenius_factor(1.0, i.of("hot_c") - 10.0, i.of("hot_c")).ln(),
        "voltage_factor" => voltage_factor(400.0 * i.of("use"), 400.0),
        "tan_delta_part" => usual_tan_delta(Ladder::Part, i.of("rated_v"), i.of("capacitance_uf")),
        "tan_delta_limit" => usual_tan_delta(Ladder::Limit, i.of("rated_v"), i.of("capacitance_uf")),
        "esr_mohm" => from_tan_delta_mohm(i.of("tan_delta"), i.of("capacitance_uf")),
        "cold_ratio" => cold_factor(i.of("celsius"), i.of("z_ratio"), i.of("z_cold_c"), i.of("rated_v")).unwrap(),
        "leakage_ua" => leakage::usual_ua(Technology::Wet, i.of("capacitance_uf"), i.of("rated_v")),
        "leakage_high_ua" => leakage::high_voltage_ua(i.of("capacitance_uf"), i.of("rated_v")),
        "leakage_hot" => leakage::hot_factor(i.of("celsius")),
        "surge_most_v" => usual_surge_v(Technology::Wet, i.of("rated_v")).most_v,
        "surge_sure_v" => usual_surge_v(Technology::Wet, i.of("rated_v")).sure_v,
        "diameter_max_mm" => body::of(&can).diameter_max_mm.unwrap(),
        "height_max_mm" => body::of(&can).height_max_mm.unwrap(),
        "vent_mm" => body::vent_clearance_mm(i.of("diameter_mm")),
        "weight_g" => Limits::of(&can).weight_g.unwrap(),
        "buck_input_a" => buck_input(i.of("output_a"), 0.0, i.of("duty"), i.of("hz")).unwrap().rms_a,
        "pfc_low_a" => pfc().unwrap().lines[0].a,
        "pfc_high_a" => {
            let all = pfc().unwrap();
            (all.rms_a.powi(2) - all.lines[0].a.powi(2)).sqrt()
        }
        "pfc_a" => pfc().unwrap().rms_a,
        "hold_up_ms" => hold_up_s(farad(), i.of("from_v"), i.of("to_v"), i.of("power_w")).unwrap() * 1e3,
        "caution_v" => CAUTION_V,
        "caution_j" => CAUTION_J,
        "reform_ohm" => recipe().series_ohm,
        "reform_h" => recipe().hold_h,
        "worst_share_v" => {
            let spread_a = i.of("spread_ma") * 1e-3;
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count of cans")]
            worst_share_v(i.of("string_v"), i.of("count") as u32, i.of("ohm"), spread_a).unwrap()
        }
        "parallel_first_a" => parallel_split_a(i.of("a"), i.of("hz"), &PAIR).unwrap()[0],
        "parallel_second_a" => parallel_split_a(i.of("a"), i.of("hz"), &PAIR).unwrap()[1],
        "discharge_s" => time_to_v_s(farad(), i.of("ohm"), i.of("from_v"), i.of("to_v")).unwrap(),
        "sine_a" => rectified_sine_output(i.of("output_a"), i.of("hz")).unwrap().rms_a,
        other => panic!("nothing computes {other}"),
    }
}

/// Source, quantity, inputs, figure as printed, how it is met.
fn rows() -> Vec<[String; 5]> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(FIGURES.as_bytes());
    let rows = reader.records().map(|row| row.unwrap().iter().map(str::to_owned).collect::<Vec<_>>());
    rows.map(|row| row.try_into().unwrap()).collect()
}

#[test]
fn every_published_figure_is_met_as_its_row_says() {
    let mut missed = Vec::new();
    for [source, quantity, inputs, printed, met] in rows() {
        let pairs = inputs.split_whitespace().map(|pair| pair.split_once('=').unwrap());
        let inputs = Inputs(pairs.map(|(name, value)| (name.to_owned(), value.to_owned())).collect());
        let value = ours(&quantity, &inputs);
        let figure: f64 = printed.parse().unwrap();
        let words: Vec<&str> = met.split_whitespace().collect();
        let at = format!("{source}, {quantity} {:?}: computed {value}, printed {printed}", inputs.0);
        match words[..] {
            ["="] => {
                let decimals = printed.split_once('.').map_or(0, |(_, decimals)| decimals.len());
                let half_a_digit = 0.5 * 10f64.powi(-i32::try_from(decimals).unwrap());
                if (value - figure).abs() > half_a_digit * (1.0 + 1e-9) + 1e-12 {
                    missed.push(at);
                }
            }
            ["ratio", low, high] => {
                let ratio = value / figure;
                println!("{at}: ratio {ratio:.3}");
                let (low, high): (f64, f64) = (low.parse().unwrap(), high.parse().unwrap());
                if ratio < low - 1e-9 || ratio > high + 1e-9 {
                    missed.push(format!("{at}: ratio {ratio}"));
                }
            }
            _ => panic!("{met}: expected = or ratio LOW HIGH"),
        }
    }
    assert!(missed.is_empty(), "{missed:#?}");
}

#[test]
fn there_are_enough_separate_figures_of_enough_sources_and_they_are_listed() {
    let rows = rows();
    let mut by_source: BTreeMap<&str, usize> = BTreeMap::new();
    for row in &rows {
        *by_source.entry(&row[0]).or_default() += 1;
    }
    by_source.iter().for_each(|(source, count)| println!("{count:3} {source}"));
    println!("{} figures of {} sources", rows.len(), by_source.len());
    let separate: BTreeSet<_> = rows.iter().collect();
    assert_eq!(separate.len(), rows.len(), "a figure stands twice");
    let own = by_source.keys().filter(|source| source.starts_with("our ")).count();
    assert!(rows.len() >= 150 && by_source.len() - own >= 30, "{} figures, {} sources", rows.len(), by_source.len());
}
