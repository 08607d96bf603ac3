//! The bags of all units and the spares hold what is ordered or lies on the shelf, part by part.

use std::collections::BTreeMap;

use refarad::domain::Place;
use refarad::files::load::load_demo;
use refarad::files::sheets::packing;
use refarad::sizing::kits::{kits, spares};
use refarad::sizing::{Purchase, purchase, size};

fn demo() -> (refarad::domain::Job, Purchase) {
    let loaded = load_demo().unwrap();
    let sizing = size(&loaded.job, &loaded.catalog_index);
    let bought = purchase(&loaded.job, &loaded.catalog_index, &sizing, None);
    (loaded.job, bought)
}

#[test]
fn bags_and_spares_add_up_to_what_is_needed_and_the_order_covers_it() {
    let (job, bought) = demo();
    let kits = kits(&job, &bought);
    let units: Vec<(&str, u64)> = kits.iter().map(|kit| (kit.of.name.as_str(), kit.bags)).collect();
    assert_eq!(units, [("dome of 1996", 4), ("drive of 2003", 1)]);
    let mut packed: BTreeMap<&str, u64> = BTreeMap::new();
    for row in kits.iter().flat_map(|kit| std::iter::repeat_n(&kit.rows, usize::try_from(kit.bags).unwrap()).flatten())
    {
        *packed.entry(&row.line.part_number).or_default() += row.pieces;
    }
    assert_eq!(packed.len(), bought.lines.len());
    for line in &bought.lines {
        let shelf: u64 = line.from_shelf.iter().map(|used| used.qty).sum();
        let need = packed[line.part_number.as_str()] + spares(line).unwrap();
        assert_eq!(Some(need), line.need_qty, "{}", line.part_number);
        assert!(line.order_qty.unwrap() + shelf >= need, "{}", line.part_number);
    }
    // The 8 A relay: K2 and, on two boards, K101 in each of four domes, K301 in one drive.
    assert_eq!(packed["CAIRNFOLD-24-2CO8"], 4 * (1 + 2) + 1);
    // Ten percent of 13 are begun pieces.
    let relay = bought.lines.iter().find(|line| line.part_number == "CAIRNFOLD-24-2CO8").unwrap();
    assert_eq!((spares(relay), relay.places.len()), (Some(2), 3));
    assert!(relay.places.iter().all(|place| matches!(place, Place::Other(_))));
}

#[test]
fn the_pages_name_every_unit_and_have_a_label_for_every_bin_bag_and_row() {
    let (job, bought) = demo();
    let kits = kits(&job, &bought);
    let [(_, list), (_, a4), (_, letter)] = packing(&job, &bought);
    for unit in ["unit 1 of 5, dome of 1996", "unit 4 of 5, dome of 1996", "unit 5 of 5, drive of 2003", "Spares"] {
        assert!(list.contains(unit), "{unit}");
    }
    let rows: usize = kits.iter().map(|kit| usize::try_from(kit.bags).unwrap() * (1 + kit.rows.len())).sum();
    let labels = bought.lines.len() + rows;
    for (page, on_a_sheet) in [(&a4, 24), (&letter, 30)] {
        assert_eq!(page.matches("class=\"label\"").count(), labels);
        assert_eq!(page.matches("class=\"sheet\"").count(), labels.div_ceil(on_a_sheet));
        assert!(!page.contains("<script"));
        // Read at arm's length on a bin.
        let sizes =
            page.split("font-size: ").chain(page.split("font: ")).skip(1).filter_map(|rest| rest.split_once("pt"));
        let sizes: Vec<f64> = sizes.filter_map(|(size, _)| size.parse().ok()).collect();
        assert!(sizes.len() > 2 && sizes.iter().all(|size| *size >= 8.0), "{sizes:?}");
    }
    assert!(list.contains("Encoder II BT301") && a4.contains("unit M1"));
}
