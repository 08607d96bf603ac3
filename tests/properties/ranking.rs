//! A part that is better in every figure never ranks lower.

use std::cmp::Ordering;
use std::sync::Arc;

use proptest::prelude::*;
use refarad::domain::{Part, Status};
use refarad::sizing::{CatalogIndex, PositionContext, better, evaluate_part, size};

use super::scenes::{Dice, dice, job_of, nearly_good, part, runs, stressed};
use super::support::{HERE, catalog};

/// The same part, better in every figure that has a better and a worse, as long as the circuit needs no resistance.
///
/// Capacitance, rated voltage, nominal body, pitch and lead have no better: a circuit wants a window, a hole one size. Upper
/// category temperature and core rise have none either: they choose between default tables and say how the endurance was
/// tested.
fn improved(base: &Part, dice: &mut Dice) -> Part {
    let mut part = base.clone();
    let mut more = || dice.between(1.001, 2.0);
    let can = &mut part.can;
    for figure in [&mut can.endurance_h, &mut can.ripple_a, &mut can.surge_v] {
        *figure = figure.map(|value| value * more());
    }
    for figure in [&mut can.esr_mohm, &mut can.tan_delta, &mut can.z_ratio, &mut can.leakage_ua, &mut can.tolerance_pct]
    {
        *figure = figure.map(|value| value / more());
    }
    can.temp_min_c = can.temp_min_c.map(|c| c - more());
    // Tighter tolerances of the same nominal body.
    can.diameter_max_mm = can.diameter_max_mm.map(|mm| mm - 0.1);
    can.height_max_mm = can.height_max_mm.map(|mm| mm - 0.1);
    part.trade.unit_price = part.trade.unit_price.map(|price| price / more());
    part.trade.stock = part.trade.stock.map(|stock| stock * more());
    part.status = part.status.map(|status| if status == Status::Obsolete { Status::Nrnd } else { Status::Active });
    // The worst name for ties.
    part.part_number = format!("Z{}", base.part_number);
    part
}

proptest! {
    #![proptest_config(runs(1000))]

    #[test]
    fn a_part_better_in_every_figure_never_ranks_lower(mut dice in dice(), mut rolled in dice(), mut gain in dice()) {
        let missing = rolled.pick(&[0.0, 0.05, 0.2]);
        let mut base = part(&mut rolled, "A".into(), missing);
        base.trade.unit_price = base.trade.unit_price.or(Some(1.0));
        let mut position = stressed(&mut dice);
        if dice.chance(0.5) {
            (base.can, position) = nearly_good(&mut dice);
            base.status = Some(Status::Active);
        }
        let better_part = improved(&base, &mut gain);
        let job = job_of(&mut dice, position);
        let catalog_index = CatalogIndex::new(Arc::new(catalog(&[base, better_part])));
        let place = PositionContext::new(&job, catalog_index.catalog(), HERE).unwrap();
        let [worse, better_one] =
            ["A", "ZA"].map(|n| evaluate_part(&place, catalog_index.catalog(), catalog_index.catalog().find(n).unwrap()));
        prop_assert_ne!(better(catalog_index.catalog(), &better_one, &worse), Ordering::Greater, "{:?} {:?}", better_one, worse);
        // Parts ruled out at a glance fail for certain and stand behind all others, the nearest first.
        let best = &size(&job, &catalog_index).positions[0].best;
        let first = catalog_index.catalog().part_number(best[0].id);
        prop_assert!(first == "ZA" || best[0].excess.is_some(), "{best:?}");
    }
}
