//! A maker's life table against the life law: different by design, so the relation is tested.

use refarad::domain::Technology;
use refarad::physics::life::Conditions;

/// Vishay Roederstein EYC (105 °C snap-in), lifetime table for rated voltages up to 100 V: ripple current over rated ripple
/// current at 120 Hz; life over rated life at 40, 45 ... 105 °C. The column order was restored from a scrambled text layer;
/// 0 where the combination is not permitted or not readable.
const EYC: [(f64, [f64; 14]); 8] = [
    (0.0, [879., 514., 291., 162., 90., 51., 29., 17., 10., 6.2, 3.9, 2.6, 1.83, 1.34]),
    (0.2, [833., 486., 275., 153., 85., 48., 27., 16., 9.5, 5.9, 3.8, 2.6, 1.8, 1.33]),
    (0.4, [763., 443., 252., 141., 78., 44., 25., 15., 8.9, 5.6, 3.6, 2.4, 1.73, 1.28]),
    (0.6, [680., 397., 226., 126., 71., 40., 23., 13., 8.2, 5.1, 3.4, 2.3, 1.65, 1.23]),
    (0.8, [588., 342., 192., 107., 60., 34., 20., 12., 7.2, 4.6, 3.0, 2.1, 1.5, 1.13]),
    (1.0, [470., 268., 150., 84., 47., 27., 16., 9.5, 5.9, 3.8, 2.6, 1.8, 1.31, 1.0]),
    (1.2, [322., 181., 101., 56., 32., 19., 11., 6.8, 4.3, 2.8, 2.0, 1.4, 1.05, 0.]),
    (1.4, [179., 95., 52., 29., 17., 10., 6.5, 4.2, 2.8, 1.9, 1.4, 0., 0., 0.]),
];

/// Life over rated life by the program's law, with the default core rise of a 105 °C part, 5 K.
fn ours(current_ratio: f64, ambient_c: f64) -> f64 {
    let conditions = Conditions {
        endurance_h: 1.0,
        temp_max_c: 105.0,
        rated_rise_k: 5.0,
        rise_assumed: true,
        tested_with_ripple: true,
        ambient_c,
        rise_share: current_ratio * current_ratio,
        voltage_factor: 1.0,
    };
    conditions.life(Technology::Wet).nominal_h
}

/// Every printed cell: current ratio, ambient in °C, life over rated life.
fn cells() -> impl Iterator<Item = (f64, f64, f64)> {
    let ambients_c = (40..=105).step_by(5).map(f64::from);
    let row =
        move |(ratio, row): (f64, [f64; 14])| row.into_iter().zip(ambients_c.clone()).map(move |(l, t)| (ratio, t, l));
    EYC.into_iter().flat_map(row).filter(|cell| cell.2 > 0.0)
}

#[test]
fn both_are_one_at_rated_ripple_and_the_upper_category_temperature() {
    let printed = cells().find(|cell| (cell.0, cell.1) == (1.0, 105.0)).unwrap().2;
    assert_eq!(printed, 1.0);
    assert!((ours(1.0, 105.0) - 1.0).abs() < 1e-12);
}

#[test]
fn the_law_falls_wherever_the_table_falls() {
    let all: Vec<_> = cells().collect();
    for a in &all {
        for b in &all {
            if a.0 <= b.0 && a.1 <= b.1 && a != b {
                assert!(a.2 >= b.2, "table: {a:?} {b:?}");
                assert!(ours(a.0, a.1) > ours(b.0, b.1), "law: {a:?} {b:?}");
            }
        }
    }
}

/// The maker's table rises faster towards low ambients than a factor of two in 10 K, so that the law is the careful one
/// nearly everywhere. Where it is not, it is by an eighth at most. The ratios are recorded in the output.
#[test]
fn the_law_promises_hardly_more_than_the_maker_anywhere() {
    let mut range = (f64::INFINITY, 0.0f64);
    for (ratio, ambient_c, printed) in cells() {
        let over = ours(ratio, ambient_c) / printed;
        println!("EYC {ratio:.1} of rated ripple, {ambient_c} °C: law over table {over:.3}");
        range = (range.0.min(over), range.1.max(over));
    }
    println!("EYC: law over table from {:.3} to {:.3}", range.0, range.1);
    assert!(range.0 > 0.14 && range.1 < 1.125, "{range:?}");
}

#[test]
fn ripple_moves_the_law_by_as_much_as_the_table_within_a_third() {
    // Life without ripple over life at rated ripple, over the ambients.
    let gain = |at: &dyn Fn(f64, f64) -> f64, ambient_c: f64| at(0.0, ambient_c) / at(1.0, ambient_c);
    let table = |ratio: f64, ambient_c: f64| cells().find(|c| (c.0, c.1) == (ratio, ambient_c)).unwrap().2;
    for ambient_c in (40..=105).step_by(5).map(f64::from) {
        let both = gain(&ours, ambient_c) / gain(&table, ambient_c);
        assert!((0.7..1.1).contains(&both), "{ambient_c} °C: {both}");
    }
}
