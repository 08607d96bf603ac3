//! `refarad changes`, and what a part costs wherever it is told.

use refarad::domain::Place;
use refarad::files::job_file::{Expect, save_job};
use refarad::files::load::load;
use refarad::sizing::changed::{State, records};
use refarad::sizing::{PositionContext, purchase, size};

use crate::{demo, refarad, rows, text};

fn said(output: &std::process::Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr)
}

#[test]
fn changes_are_told_against_an_older_catalogue_and_against_what_was_saved() {
    let (folder, job) = demo();
    let none = refarad(&["changes", text(&job)]);
    assert_eq!(none.status.code(), Some(2), "{}", said(&none));
    assert!(said(&none).contains("--against"), "{}", said(&none));
    let loaded = load(&job, &[]).unwrap();
    let sizing = size(&loaded.job, &loaded.catalog_index);
    let state = State { job: &loaded.job, catalog_index: &loaded.catalog_index, sizing: &sizing };
    save_job(&job, &loaded.job, &records(state), Expect::Anything).unwrap();
    assert_eq!(load(&job, &[]).unwrap().job, loaded.job, "the job itself is the same");
    let same = refarad(&["changes", text(&job)]);
    assert_eq!(same.status.code(), Some(0), "{}", said(&same));
    let parts = folder.path().join("parts.csv");
    let old = folder.path().join("old.csv");
    std::fs::copy(&parts, &old).unwrap();
    let content = std::fs::read_to_string(&parts).unwrap();
    let kept: Vec<&str> = content.lines().filter(|line| !line.starts_with("GNEISS-200-4700U,")).collect();
    std::fs::write(&parts, kept.join("\n")).unwrap();
    for against in [vec!["changes", text(&job)], vec!["changes", text(&job), "--against", text(&old)]] {
        let changed = refarad(&against);
        assert_eq!(changed.status.code(), Some(1));
        let told = said(&changed);
        assert!(told.contains("Servo C101 GNEISS-200-4700U: GNEISS-200-4700U is gone"), "{told}");
        assert!(told.contains(" of 35 positions changed against"), "{told}");
        assert!(!told.contains("Supply"), "what stands on other boards is as it was: {told}");
    }
}

#[test]
fn offers_of_the_job_count_on_both_sides_of_a_comparison() {
    let (folder, job) = demo();
    let parts = folder.path().join("parts.csv");
    let cheap = "part_number,supplier,currency,unit_price,moq,stock\nSERAC-25-330U,Cheap Counter,EUR,0.0001,,\n";
    std::fs::write(folder.path().join("offers.csv"), cheap).unwrap();
    let without = ["changes", text(&job), "--against", text(&parts)].map(str::to_owned);
    crate::change(&job, "offers", serde_json::json!(["offers.csv"]));
    let same = refarad(&without.each_ref().map(String::as_str));
    assert_eq!(same.status.code(), Some(0), "{}", said(&same));
}

#[test]
fn what_a_plan_says_a_part_costs_is_what_the_order_charges() {
    let (folder, job) = demo();
    let offers = "part_number,supplier,currency,unit_price,moq,stock\n\
        GNEISS-200-4700U,Yen House,JPY,100,,\nGNEISS-200-4700U,Franc Counter,CHF,61.15,,\n\
        GNEISS-200-2200U,Few Left,EUR,0.5,,3\nSKARN-400-220U,Big Lots,EUR,9,40,\n";
    std::fs::write(folder.path().join("offers.csv"), offers).unwrap();
    crate::change(&job, "offers", serde_json::json!(["offers.csv"]));
    crate::change(&job, "currency_rates", serde_json::json!({"JPY": 0.4, "CHF": 1.0}));
    for chosen in [serde_json::json!({}), serde_json::json!({"GNEISS-200-4700U": "Franc Counter"})] {
        crate::change(&job, "suppliers", chosen.clone());
        let loaded = load(&job, &[]).unwrap();
        let (job, catalog) = (&loaded.job, loaded.catalog_index.catalog());
        let sizing = size(job, &loaded.catalog_index);
        let bought = purchase(job, &loaded.catalog_index, &sizing, None);
        let mut compared = 0;
        for line in &bought.lines {
            let [Place::Position(id)] = line.places[..] else { continue };
            let place = PositionContext::new(job, catalog, id).unwrap();
            let (planned, charged) = (place.cost_of_need(catalog, line.part.unwrap()), line.total_job);
            assert!(
                (planned.unwrap() - charged.unwrap()).abs() < 1e-9,
                "{}: {planned:?} {charged:?}",
                line.part_number
            );
            compared += 1;
        }
        assert!(compared > 15, "{compared}");
        let big = bought.lines.iter().find(|line| line.part_number == "GNEISS-200-4700U").unwrap();
        let is_chosen = big.supplier() == "Franc Counter";
        assert_eq!(is_chosen, chosen.as_object().unwrap().len() == 1, "{}", big.supplier());
    }
    let out = folder.path().join("out");
    refarad(&["size", text(&job), "--out", text(&out)]);
    let lines = rows(&out.join("purchase.csv"));
    assert!(lines.iter().any(|line| line["supplier"] == "Franc Counter" && line["unit_price"] == "61.15"));
    // The candidates tell the price of the offer that gives the cost they are ranked by, in its currency.
    let candidates = rows(&out.join("candidates.csv"));
    let big = candidates.iter().find(|row| row["part_number"] == "GNEISS-200-4700U").unwrap();
    assert_eq!((big["unit_price"].as_str(), big["currency"].as_str()), ("61.15", "CHF"));
    let need: f64 = big["need_cost"].parse().unwrap();
    let pieces = need / 61.15;
    assert!(pieces > 0.5 && (pieces - pieces.round()).abs() < 1e-9, "{need}");
}
