//! Random jobs and parts. Many values come from short lists, so that limits are hit exactly now and then.

use proptest::prelude::*;
use refarad::domain::{Can, EnduranceBasis, Job, Mounting, Part, Position, Role, Status, Technology, Trade};

use super::support::{self, job, line, phase, position};

/// How many random numbers a part or a position takes at most.
const ROLLS: usize = 96;

/// Random numbers from 0 to 1, taken one after another; what they are used for shrinks towards the first choice.
#[derive(Clone)]
pub(crate) struct Dice {
    rolls: Vec<f64>,
    next: usize,
}

/// What is made of the numbers says more than the numbers.
impl std::fmt::Debug for Dice {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let nonzero = self.rolls.iter().enumerate().filter(|roll| *roll.1 > 0.0);
        f.debug_map().entries(nonzero).finish()
    }
}

impl Dice {
    fn roll(&mut self) -> f64 {
        let roll = self.rolls[self.next % self.rolls.len()];
        self.next += 1;
        roll
    }

    /// One of some values.
    pub(crate) fn pick<T: Clone>(&mut self, choices: &[T]) -> T {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a roll is from 0 to 1")]
        let at = (self.roll() * choices.len() as f64) as usize;
        choices[at.min(choices.len() - 1)].clone()
    }

    /// A value between two.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.roll()
    }

    /// True with this probability.
    pub(crate) fn chance(&mut self, probability: f64) -> bool {
        self.roll() > 1.0 - probability
    }

    /// A value, or nothing with this probability.
    fn unless<T>(&mut self, missing: f64, value: T) -> Option<T> {
        (!self.chance(missing)).then_some(value)
    }
}

/// Random numbers to make things from.
pub(crate) fn dice() -> impl Strategy<Value = Dice> {
    prop::collection::vec(0.0..1.0f64, ROLLS).prop_map(|rolls| Dice { rolls, next: 0 })
}

/// Own ripple multipliers over ambient, all falling, as makers print them.
const TEMP_FACTORS: [&str; 3] = ["65:2.1;85:1.7;105:1", "60:1.3", "40:2.4;70:1.6;85:1"];

/// A part, each figure missing with a probability.
pub(crate) fn can(dice: &mut Dice, missing: f64) -> Can {
    let technologies = [Technology::Wet, Technology::Hybrid, Technology::Polymer, Technology::NonPolar];
    let mountings = [Mounting::Radial, Mounting::SnapIn, Mounting::Screw, Mounting::Axial, Mounting::Smd];
    let technology = dice.pick(&technologies);
    let mounting = dice.pick(&mountings[..dice.clone().pick(&[1, 5])]);
    let basis = dice.pick(&[EnduranceBasis::Ripple, EnduranceBasis::Voltage]);
    let own_factors = dice.pick(&[None, Some(0), Some(1), Some(2)]);
    let own_multipliers = dice.chance(0.5);
    let factor = |own: bool, value| own.then_some(value);
    let mut can = Can {
        ripple_temp_factors: own_factors.map(|at: usize| TEMP_FACTORS[at].parse().unwrap()),
        f120: factor(own_multipliers, dice.between(0.3, 0.9)),
        f10k: factor(own_multipliers && dice.chance(0.7), 0.95),
        f100k: factor(own_multipliers && dice.chance(0.7), 1.0),
        ..Can::default()
    };
    can.technology = dice.unless(missing, technology);
    can.mounting = dice.unless(missing, mounting);
    can.endurance_basis = dice.unless(missing, basis);
    let mut given = |value: f64| dice.unless(missing, value);
    can.rated_v = given(25.0);
    can.surge_v = given(28.75);
    let mut number = |choices: &[f64]| {
        let value = dice.pick(choices);
        dice.unless(missing, value)
    };
    can.capacitance_uf = number(&[470.0, 220.0, 376.0, 1000.0, 1410.0, 940.0, 2200.0]);
    can.tolerance_pct = number(&[20.0, 10.0]);
    if can.rated_v.is_some() {
        can.rated_v = number(&[25.0, 16.0, 12.5, 50.0, 160.0, 400.0]);
    }
    can.temp_min_c = number(&[-40.0, -25.0, -55.0]);
    can.temp_max_c = number(&[105.0, 85.0, 95.0, 125.0]);
    can.endurance_h = number(&[5000.0, 1000.0, 10_000.0, 2000.0]);
    can.core_rise_k = number(&[5.0, 3.0, 10.0, 20.0]);
    can.ripple_a = number(&[1.0, 0.3, 0.6, 2.0]);
    can.ripple_hz = number(&[1e5, 120.0, 100.0]);
    can.esr_mohm = number(&[60.0, 30.0, 80.0, 88.0, 200.0]);
    can.esr_hz = number(&[1e5, 120.0]);
    can.tan_delta = number(&[0.14, 0.08, 0.2]);
    can.z_ratio = number(&[3.0, 8.0]);
    can.z_cold_c = number(&[-40.0, -25.0, 0.0]);
    can.leakage_ua = number(&[100.0, 150.0, 300.0]);
    can.diameter_mm = number(&[10.0, 8.0, 12.5, 16.0]);
    can.height_mm = number(&[16.0, 12.5, 20.0, 25.0]);
    can.diameter_max_mm = can.diameter_mm.filter(|_| dice.chance(0.5)).map(|d| d + 0.5);
    can.height_max_mm = can.height_mm.filter(|_| dice.chance(0.5)).map(|h| h + 1.5);
    can.pitch_mm = dice.pick(&[Some(5.0), Some(3.5), Some(5.5), Some(7.5), Some(28.0)]);
    can.lead_d_mm = dice.pick(&[Some(0.6), Some(0.5), Some(0.8)]);
    can
}

/// A position with every stress given; needs and room vary.
pub(crate) fn stressed(dice: &mut Dice) -> Position {
    let mut position = position();
    let stress = &mut position.stress;
    stress.dc_v = Some(dice.pick(&[12.0, 8.0, 20.0, 24.0, 140.0]));
    stress.ripple_peak_v = Some(dice.pick(&[0.5, 0.0, 1.0, 5.0]));
    stress.transient_v = Some(dice.pick(&[16.0, 25.0, 28.75, 160.0]));
    stress.min_v = Some(dice.pick(&[0.0, -0.5, -1.0, -2.0]));
    let lines = 1 + usize::from(dice.chance(0.5));
    let frequencies = [1e5, 100.0, 120.0, 2e3, 66e3];
    stress.ripple = Some((0..lines).map(|_| line(dice.pick(&frequencies), dice.between(0.0, 1.2))).collect());
    let phases = 1 + usize::from(dice.chance(0.5));
    stress.phases = Some(
        (0..phases)
            .map(|_| phase(dice.between(0.01, 1.0), dice.between(20.0, 110.0), dice.pick(&[1.0, 0.5, 1.3, 0.0])))
            .collect(),
    );
    stress.ambient_min_c = Some(dice.pick(&[-10.0, -30.0, -40.0]));
    stress.airflow_lfm = Some(dice.pick(&[0.0, 100.0, 300.0]));
    position.role = Some(dice.pick(&[Role::OutputFilter, Role::Reservoir, Role::Startup, Role::Timing]));
    position.needs.life_h = Some(dice.pick(&[30_000.0, 5000.0, 1000.0, 80_000.0]));
    position.needs.esr_cold_max_mohm = dice.pick(&[None, Some(200.0)]);
    position
}

/// A part and a position where it passes or comes near it, with every figure known.
pub(crate) fn nearly_good(dice: &mut Dice) -> (Can, Position) {
    let part = Can {
        endurance_h: Some(dice.pick(&[5000.0, 2000.0])),
        endurance_basis: Some(dice.pick(&[EnduranceBasis::Ripple, EnduranceBasis::Voltage])),
        esr_mohm: Some(dice.pick(&[60.0, 78.0, 82.0])),
        ..support::can()
    };
    let mut position = position();
    let stress = &mut position.stress;
    stress.dc_v = Some(dice.pick(&[12.0, 19.0, 22.0]));
    stress.ripple = Some(vec![line(1e5, dice.between(0.05, 1.2)), line(120.0, dice.between(0.0, 0.2))]);
    stress.phases = Some(vec![phase(0.6, dice.between(30.0, 85.0), 1.0), phase(0.4, dice.between(30.0, 85.0), 1.1)]);
    stress.airflow_lfm = Some(dice.pick(&[0.0, 200.0]));
    (part, position)
}

/// A position where anything may be missing or contradict itself.
pub(crate) fn anything(dice: &mut Dice) -> Position {
    let mut position = stressed(dice);
    position.original.can = can(dice, 0.2);
    position.stress.dc_v = dice.pick(&[Some(12.0), None, Some(25.0), Some(16.0)]);
    position.needs.capacitance_min_uf = dice.pick(&[None, None, Some(220.0), Some(1000.0)]);
    position.needs.capacitance_max_uf = dice.pick(&[None, None, Some(470.0), Some(940.0)]);
    position.needs.esr_max_mohm = dice.pick(&[Some(80.0), None]);
    position.role = dice.pick(&[position.role, None]);
    let space = &mut position.space;
    space.diameter_max_mm = dice.pick(&[Some(10.5), None, Some(10.0), Some(8.0), Some(16.5)]);
    space.height_max_mm = dice.pick(&[Some(20.0), None, Some(17.5), Some(12.0)]);
    space.pitch_mm = dice.pick(&[Some(5.0), None]);
    space.accepts = dice.pick(&[None, Some(vec![Mounting::SnapIn, Mounting::Axial])]);
    position
}

/// A job of one such position, with other margins now and then.
pub(crate) fn job_of(dice: &mut Dice, position: Position) -> Job {
    let mut job = job(vec![position]);
    job.policy.count_voltage_derating = dice.chance(0.5);
    job.policy.ripple_use_max = dice.pick(&[0.8, 1.0, 0.5]);
    job
}

/// A part on sale.
pub(crate) fn part(dice: &mut Dice, number: String, missing: f64) -> Part {
    Part {
        part_number: number,
        can: can(dice, missing),
        status: dice.pick(&[Some(Status::Active), None, Some(Status::Nrnd), Some(Status::Obsolete)]),
        trade: Trade {
            stock: dice.pick(&[Some(1e6), None, Some(2.0)]),
            unit_price: dice.pick(&[Some(1.0), None, Some(0.5), Some(2.0)]),
            ..Trade::default()
        },
        ..Part::default()
    }
}

/// Test runs that leave no files behind.
pub(crate) fn runs(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, failure_persistence: None, ..ProptestConfig::default() }
}
