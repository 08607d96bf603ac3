//! Makers' life tables against the life laws: different by design, so the relation is tested and the ratio recorded.
//!
//! Three makers: Vishay Roederstein (EYC for 105 °C, EYN for 85 °C), Rubycon (currents of unchanged life, for 105 °C and 85 °C),
//! Kendeil (useful life from the case temperature).

use refarad::domain::Technology;
use refarad::physics::life::{Conditions, arrhenius_factor};

/// A cell of a table: ripple current over rated, ambient in °C, life over rated life.
type Cell = (f64, f64, f64);

/// The printed cells of a table of the data folder.
fn cells(table: &str) -> Vec<Cell> {
    let lines = || table.lines().filter(|line| !line.starts_with('#'));
    let head = lines().next().unwrap().split(',').skip(1);
    let ambients: Vec<f64> = head.map(|name| name.trim_start_matches("Ta_").parse().unwrap()).collect();
    let mut all = Vec::new();
    for line in lines().skip(1) {
        let mut row = line.split(',');
        let ratio = row.next().unwrap().parse().unwrap();
        let printed = row.zip(&ambients).filter(|(cell, _)| !cell.is_empty());
        all.extend(printed.map(|(cell, &ambient_c)| (ratio, ambient_c, cell.parse().unwrap())));
    }
    all
}

fn eyc() -> Vec<Cell> {
    cells(include_str!("data/life_multipliers_105c_snapin.csv"))
}

fn eyn() -> Vec<Cell> {
    cells(include_str!("data/life_multipliers_85c_snapin.csv"))
}

/// Rubycon lifetime calculation sheet: so much more current at an ambient leaves the life as it is.
const RUBYCON_105: [Cell; 3] = [(1.0, 105.0, 1.0), (1.7, 85.0, 1.0), (2.1, 65.0, 1.0)];
const RUBYCON_85: [Cell; 3] = [(1.0, 85.0, 1.0), (1.6, 70.0, 1.0), (2.0, 50.0, 1.0)];

/// Kendeil useful life note: L = Lmax 2^((Tmax + 10 - Tc) / 10), the case 10 K over the ambient at rated ripple; without ripple the
/// case is as warm as the air.
fn kendeil() -> Vec<Cell> {
    let at = |ratio: f64, ambient_c: f64| (ratio, ambient_c, ((95.0 - ambient_c - 10.0 * ratio * ratio) / 10.0).exp2());
    [40.0, 55.0, 70.0, 85.0].into_iter().flat_map(|ambient_c| [at(0.0, ambient_c), at(1.0, ambient_c)]).collect()
}

/// Life over rated life by the laws (a) to (e) of the band, with this rise at rated ripple; (c) ends at 25 K.
fn laws((ratio, ambient_c, _): Cell, temp_max_c: f64, rated_k: f64) -> [Option<f64>; 5] {
    let use_k = rated_k * ratio * ratio;
    let at_ambient = ((temp_max_c - ambient_c) / 10.0).exp2();
    let nominal = Conditions {
        endurance_h: 1.0,
        temp_max_c,
        rated_rise_k: rated_k,
        rise_assumed: false,
        tested_with_ripple: true,
        ambient_c,
        rise_share: ratio * ratio,
        voltage_factor: 1.0,
    };
    let slid = |k: f64| k / (10.0 - 0.25 * k);
    [
        Some(nominal.life(Technology::Wet).nominal_h),
        Some(at_ambient * ((rated_k - use_k) / 5.0).exp2()),
        (use_k <= 25.0).then(|| at_ambient * (slid(rated_k) - slid(use_k)).exp2()),
        Some(arrhenius_factor(0.68, ambient_c + use_k, temp_max_c + rated_k)),
        Some(at_ambient * ((rated_k - use_k) / 10.0).exp2()),
    ]
}

/// Least and largest ratio of each law over a table, up to rated ripple or over all of it.
fn ratios(table: &[Cell], temp_max_c: f64, rated_k: f64, most: f64) -> [(f64, f64); 5] {
    let mut ranges = [(f64::INFINITY, 0.0f64); 5];
    for &cell in table.iter().filter(|cell| cell.0 <= most) {
        for (range, law) in ranges.iter_mut().zip(laws(cell, temp_max_c, rated_k)) {
            if let Some(law) = law {
                let over = law / cell.2;
                *range = (range.0.min(over), range.1.max(over));
            }
        }
    }
    ranges
}

/// The recorded ratios, law over table, rounded outwards. Makers' tables rise faster towards low ambients than a factor of two in
/// 10 K, so that the laws are the careful side there.
#[test]
fn each_law_of_life_stands_to_three_makers_as_recorded() {
    #[rustfmt::skip]
    let recorded: [(&str, Vec<Cell>, f64, f64, [(f64, f64); 5]); 5] = [
        ("Vishay Roederstein EYC", eyc(), 105.0, 5.0, RECORDED[0]),
        ("Vishay Roederstein EYN", eyn(), 85.0, 10.0, RECORDED[1]),
        ("Rubycon, 105 °C", RUBYCON_105.to_vec(), 105.0, 5.0, RECORDED[2]),
        ("Rubycon, 85 °C", RUBYCON_85.to_vec(), 85.0, 10.0, RECORDED[3]),
        ("Kendeil", kendeil(), 85.0, 10.0, RECORDED[4]),
    ];
    for (maker, table, temp_max_c, rated_k, expected) in recorded {
        let found = ratios(&table, temp_max_c, rated_k, f64::INFINITY);
        for ((law, found), expected) in ["a", "b", "c", "d", "e"].into_iter().zip(found).zip(expected) {
            println!("{maker}: law ({law}) over table from {:.3} to {:.3}", found.0, found.1);
            let inside = found.0 >= expected.0 && found.1 <= expected.1;
            let near = found.0 <= expected.0 * 1.1 && found.1 >= expected.1 / 1.1;
            assert!(inside && near, "{maker}, law ({law}): {found:?}, recorded {expected:?}");
        }
    }
}

/// Least and largest ratio, law over table, by table and law.
#[rustfmt::skip]
const RECORDED: [[(f64, f64); 5]; 5] = [
    [(0.144, 1.116), (0.191, 1.547), (0.152, 1.274), (0.112, 1.256), (0.144, 1.511)],
    [(0.684, 1.217), (0.438, 2.367), (0.291, 1.533), (0.652, 1.111), (0.684, 1.217)],
    [(0.999, 1.507), (0.999, 1.507), (0.787, 1.241), (0.999, 3.716), (0.999, 4.909)],
    [(0.958, 1.416), (0.175, 1.001), (0.999, 1.001), (0.964, 1.345), (0.958, 1.416)],
    [(0.999, 1.001), (0.999, 2.001), (0.999, 1.261), (0.836, 1.001), (0.999, 1.001)],
];

#[test]
fn both_are_one_at_rated_ripple_and_the_upper_category_temperature() {
    for (table, temp_max_c, rated_k) in [(eyc(), 105.0, 5.0), (eyn(), 85.0, 10.0)] {
        let rated = *table.iter().find(|cell| (cell.0, cell.1) == (1.0, temp_max_c)).unwrap();
        assert_eq!(rated.2, 1.0);
        assert!(laws(rated, temp_max_c, rated_k).into_iter().flatten().all(|law| (law - 1.0).abs() < 1e-12));
    }
}

#[test]
fn the_law_falls_wherever_a_table_falls() {
    for (table, temp_max_c, rated_k) in [(eyc(), 105.0, 5.0), (eyn(), 85.0, 10.0)] {
        let ours = |cell: Cell| laws(cell, temp_max_c, rated_k)[0];
        for &a in &table {
            for &b in table.iter().filter(|&&b| a.0 <= b.0 && a.1 <= b.1 && a != b) {
                assert!(a.2 >= b.2, "table: {a:?} {b:?}");
                assert!(ours(a) > ours(b), "law: {a:?} {b:?}");
            }
        }
    }
}

#[test]
fn ripple_moves_the_law_by_as_much_as_the_table_within_a_third() {
    let table = eyc();
    let of = |ratio: f64, ambient_c: f64| *table.iter().find(|c| (c.0, c.1) == (ratio, ambient_c)).unwrap();
    for ambient_c in (40..=105).step_by(5).map(f64::from) {
        let (without, rated) = (of(0.0, ambient_c), of(1.0, ambient_c));
        let ours = laws(without, 105.0, 5.0)[0].unwrap() / laws(rated, 105.0, 5.0)[0].unwrap();
        let both = ours / (without.2 / rated.2);
        assert!((0.7..1.1).contains(&both), "{ambient_c} °C: {both}");
    }
}
