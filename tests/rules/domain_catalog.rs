//! Of `domain/catalog.rs`: the parts one can buy, held in columns so that a million of them stay small and
//! quick to search.

use refarad::domain::{Can, Catalog, CatalogBuilder, Duplicate, Part, PartId, Trade};
use refarad::progress::Progress;

fn part(number: &str, capacitance_uf: f64) -> Part {
    Part {
        part_number: number.into(),
        can: Can { capacitance_uf: Some(capacitance_uf), ..Can::default() },
        price_breaks: "1:0.5;10:0.4".parse().ok(),
        ..Part::default()
    }
}

#[test]
fn what_is_pushed_is_what_is_read() {
    let mut builder = CatalogBuilder::default();
    let parts = [part("B", 10.0), Part { maker: "Invented".into(), ..part("A", 22.0) }];
    for part in &parts {
        builder.push(part);
    }
    let (catalog, duplicates) = builder.finish();
    assert!(duplicates.is_empty());
    for (id, part) in catalog.ids().zip(&parts) {
        assert_eq!(&catalog.part(id), part);
    }
    assert_eq!(catalog.find("A"), Some(PartId(1)));
    assert_eq!(catalog.find("C"), None);
}

#[test]
fn another_order_changes_nothing_but_the_places() {
    let mut builder = CatalogBuilder::default();
    let priced = Part { trade: Trade { unit_price: Some(0.3), ..Trade::default() }, ..part("A", 22.0) };
    for part in [part("B", 10.0), priced, part("C", 1.0)] {
        builder.push(&part);
    }
    let before = builder.finish().0;
    let after = before.clone().reordered(&[PartId(2), PartId(0), PartId(1)], &Progress::default()).unwrap();
    for number in ["A", "B", "C"] {
        let part = |catalog: &Catalog| catalog.part(catalog.find(number).unwrap());
        assert_eq!(part(&before), part(&after));
    }
    assert_eq!(after.part_number(PartId(0)), "C");
    assert_eq!(before.by_number().len(), after.by_number().len());
}

#[test]
fn the_later_of_two_equal_numbers_wins_and_is_listed() {
    let mut builder = CatalogBuilder::default();
    for p in [part("A", 1.0), part("B", 2.0), part("A", 3.0)] {
        builder.push(&p);
    }
    let (catalog, duplicates) = builder.finish();
    assert_eq!(duplicates, [Duplicate { part_number: "A".into(), dropped: 0, kept: 2 }]);
    assert_eq!(catalog.len(), 2);
    let kept = catalog.find("A").map(|id| catalog.can(id).capacitance_uf);
    assert_eq!(kept, Some(Some(3.0)));
    assert_eq!(catalog.by_number().iter().map(|&id| catalog.part_number(id)).collect::<Vec<_>>(), ["A", "B"]);
}

#[test]
fn work_nobody_waits_for_any_more_leaves_nothing() {
    let mut builder = CatalogBuilder::default();
    builder.push(&part("A", 1.0));
    let cancelled = Progress::default();
    cancelled.cancel();
    let catalog = builder.finish().0;
    assert!(catalog.clone().reordered(&[PartId(0)], &cancelled).is_none());
    let mut builder = CatalogBuilder::default();
    builder.push(&part("A", 1.0));
    assert!(builder.finish_watched(&cancelled).is_none());
}
