//! The worked example of GUIDE.md: every printed figure is computed anew by the physics and compared digit by digit, and the
//! end of it with what the program says of the same part at the same position of the demo.
//!
//! The formulas and their sources stand in the guide; what is checked here is that page and program agree.

use std::collections::BTreeMap;

use refarad::domain::{Can, Check, Outcome, Phase, Position, Technology};
use refarad::files::demo;
use refarad::physics::energy::{bleeder_ohm, stored_j, time_to_v_s};
use refarad::physics::esr::at_hz;
use refarad::physics::frequency::{Multipliers, equivalent_current_a};
use refarad::physics::heat::{AmbientFactors, core_rise_k, default_rated_rise_k};
use refarad::physics::life::{Conditions, Life, arrhenius_factor, linear_damage};
use refarad::sizing::PositionContext;

use crate::support::IN_STOCK;

const GUIDE: &str = include_str!("../../src/app/views/help/GUIDE.md");

/// The figures the guide prints, by name: as printed.
fn printed() -> BTreeMap<String, String> {
    let chapter = GUIDE.split("\n## ").find(|chapter| chapter.starts_with("A worked example")).unwrap();
    let rows = chapter.lines().filter(|line| line.starts_with("| "));
    let cells = rows.map(|row| row.trim_matches('|').split('|').map(str::trim).collect::<Vec<_>>());
    let figures = cells.filter(|cells| cells[0] != "figure");
    figures.map(|cells| (cells[0].to_owned(), cells[2].to_owned())).collect()
}

struct Example {
    figures: BTreeMap<String, String>,
}

impl Example {
    /// The figure of this name, printed to as many decimals as the guide prints, has to be what stands there.
    #[track_caller]
    fn check(&mut self, name: &str, computed: f64) {
        let printed = self.figures.remove(name).unwrap_or_else(|| panic!("the guide prints no figure {name}"));
        let decimals = printed.split_once('.').map_or(0, |(_, decimals)| decimals.len());
        assert_eq!(format!("{computed:.decimals$}"), printed, "{name}");
    }
}

fn demo_position() -> Position {
    demo::job().unwrap().job.boards[0].positions[0].clone()
}

fn demo_part() -> Can {
    let catalog = demo::parts().unwrap().catalog;
    catalog.can(catalog.find("MORAINE-450-220U").unwrap())
}

#[test]
fn every_figure_of_the_worked_example_is_recomputed_and_none_is_left_over() {
    let (position, can) = (demo_position(), demo_part());
    let mut example = Example { figures: printed() };
    let stress = &position.stress;
    let lines: Vec<(f64, f64)> =
        stress.ripple.iter().flatten().map(|line| (line.hz.unwrap(), line.a.unwrap())).collect();
    let multipliers = Multipliers::of(&can).unwrap();
    let (rated_a, rated_hz) = (can.ripple_a.unwrap(), can.ripple_hz.unwrap());

    let equivalent = |lines: &[(f64, f64)]| equivalent_current_a(Some(&multipliers), rated_hz, lines).unwrap();
    example.check("F(100 Hz)", multipliers.at(100.0) / multipliers.at(rated_hz));
    example.check("F(66 kHz)", multipliers.at(66e3) / multipliers.at(rated_hz));
    example.check("I(100 Hz) as 120 Hz", equivalent(&lines[..1]));
    example.check("I(66 kHz) as 120 Hz", equivalent(&lines[1..]));
    let equivalent_a = equivalent(&lines);
    example.check("I_eq", equivalent_a);

    let temp_max_c = can.temp_max_c.unwrap();
    let rated_rise_k = default_rated_rise_k(Technology::Wet, temp_max_c);
    let factors = AmbientFactors::of(&can).unwrap();
    assert!(factors.assumed && can.core_rise_k.is_none());
    let phases: Vec<(&str, &Phase)> =
        ["night", "dusk", "day"].into_iter().zip(stress.phases.iter().flatten()).collect();
    let mut lives = Vec::new();
    for (name, phase) in &phases {
        let (ambient_c, scale) = (phase.ambient_c.unwrap(), phase.ripple_scale.unwrap());
        let current_a = equivalent_a * scale;
        let allowed_a = rated_a * factors.at(ambient_c);
        let rise_k = core_rise_k(rated_rise_k, current_a, rated_a, 1.0);
        example.check(&format!("{name}: I"), current_a);
        example.check(&format!("{name}: allowed"), allowed_a);
        example.check(&format!("{name}: used"), current_a / allowed_a);
        example.check(&format!("{name}: rise"), rise_k);

        let conditions = Conditions {
            endurance_h: can.endurance_h.unwrap(),
            temp_max_c,
            rated_rise_k,
            rise_assumed: true,
            tested_with_ripple: true,
            ambient_c,
            rise_share: rise_k / rated_rise_k,
            voltage_factor: 1.0,
        };
        let life = conditions.life(Technology::Wet);
        // The other laws, written out here a second time as the guide writes them.
        let at_ambient_h = can.endurance_h.unwrap() * 2f64.powf((temp_max_c - ambient_c) / 10.0);
        let slid = |rise_k: f64| rise_k / (10.0 - 0.25 * rise_k);
        let laws_h = |rated_k: f64| {
            let rise_k = rise_k * rated_k / rated_rise_k;
            [
                at_ambient_h * 2f64.powf((rated_k - rise_k) / 10.0),
                at_ambient_h * 2f64.powf((rated_k - rise_k) / 5.0),
                at_ambient_h * 2f64.powf(slid(rated_k) - slid(rise_k)),
                can.endurance_h.unwrap() * arrhenius_factor(0.68, ambient_c + rise_k, temp_max_c + rated_k),
            ]
        };
        example.check(&format!("{name}: law"), life.nominal_h);
        let (given_h, other_h) = (laws_h(rated_rise_k), laws_h(5.0));
        for (at, law) in ["a", "b", "c", "d"].into_iter().enumerate() {
            if at > 0 {
                example.check(&format!("{name}: law ({law})"), given_h[at]);
            }
            example.check(&format!("{name}: law ({law}), 5 K"), other_h[at]);
        }
        let laws_h: Vec<f64> = given_h.into_iter().chain(other_h).collect();
        let (low_h, high_h) =
            (laws_h.iter().copied().fold(f64::MAX, f64::min), laws_h.iter().copied().fold(0.0, f64::max));
        assert!((life.low_h / low_h - 1.0).abs() < 1e-12 && (life.high_h / high_h - 1.0).abs() < 1e-12);
        lives.push((phase.share.unwrap(), life));
    }

    let Life { nominal_h, low_h, high_h } = linear_damage(lives).unwrap();
    example.check("life", nominal_h);
    example.check("life, least law", low_h);
    example.check("life, longest law", high_h);
    example.check("years", nominal_h / 3000.0);
    example.check("target", 10.0 * 3000.0);
    example.check("asked for", 1.25 * 10.0 * 3000.0);
    example.check("headroom", 100.0 * (1.0 - 1.25 * 30_000.0 / nominal_h));

    let peak_v = stress.dc_v.unwrap() + stress.ripple_peak_v.unwrap();
    example.check("peak", peak_v);
    example.check("voltage used", peak_v / can.rated_v.unwrap());
    let original = &position.original.can;
    example.check("F of the original at 120 Hz", Multipliers::of(original).unwrap().at(120.0));
    example.check("ESR limit", at_hz(original, 1e5).unwrap().mohm);
    example.check("ESR", at_hz(&can, 1e5).unwrap().mohm);
    example.check("diameter left", position.space.diameter_max_mm.unwrap() - can.diameter_max_mm.unwrap());
    // Vent space of a 30 mm can: 3 mm.
    example.check("height left", position.space.height_max_mm.unwrap() - can.height_max_mm.unwrap() - 3.0);
    let (farad, transient_v) = (can.capacitance_uf.unwrap() * 1e-6, stress.transient_v.unwrap());
    example.check("energy", stored_j(farad, transient_v).unwrap());
    example.check("discharge", time_to_v_s(farad, 10e3, transient_v, 60.0).unwrap());
    example.check("largest resistor", bleeder_ohm(farad, transient_v, 60.0, 5.0).unwrap() / 1e3);

    assert!(example.figures.is_empty(), "printed, but not recomputed: {:?}", example.figures.keys());
}

#[test]
fn the_program_says_of_the_same_part_what_the_guide_prints() {
    let job = demo::job().unwrap().job;
    let catalog = demo::parts().unwrap().catalog;
    let (id, _) = job.positions().next().unwrap();
    let place = PositionContext::new(&job, &catalog, id).unwrap();
    let part = catalog.find("MORAINE-450-220U").unwrap();
    let evaluation = place.evaluate(&catalog.can(part), IN_STOCK);
    let figures = &evaluation.figures;
    let mut example = Example { figures: printed() };
    example.check("life", figures.life_uncapped_h.unwrap());
    example.check("life, least law", figures.life_low_h.unwrap());
    example.check("life, longest law", figures.life_high_h.unwrap());
    example.check("years", figures.calendar_years.unwrap());
    example.check("dusk: used", figures.ripple_usage.unwrap());
    example.check("dusk: rise", figures.core_rise_k.unwrap());
    example.check("voltage used", figures.voltage_usage.unwrap());
    example.check("ESR", figures.esr_mohm.unwrap());
    example.check("headroom", 100.0 * figures.headroom.unwrap());
    assert!(Check::ALL.iter().all(|&check| evaluation.outcome(check) == Outcome::Pass));
    assert_eq!(evaluation.assumed.list(), "core_rise_k;ripple_temp_factors;esr_max_mohm");
    assert!(GUIDE.contains("Assumed: `core_rise_k`, `ripple_temp_factors`, `esr_max_mohm`."));
}
