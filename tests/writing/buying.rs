use serde_json::json;

use super::{change, demo, refarad, rows, text};

#[test]
fn a_purchase_list_covers_every_position_with_a_part_and_its_supplier_lists_add_up_to_it() {
    let (folder, job) = demo();
    let out = folder.path().join("out");
    let done = refarad(&["size", text(&job), "--out", text(&out), "--per-supplier", "--xlsx"]);
    assert_eq!(done.status.code(), Some(1), "one position of the demo has no part");
    let header = std::fs::read_to_string(out.join("purchase.csv")).unwrap();
    let fixed = "part_number,maker,supplier,supplier_part_number,order_qty,need_qty,unit_price,line_total,currency,total_job,refs,boards,moq,pack,lead_time_d,stock,status,note";
    assert_eq!(header.lines().next(), Some(fixed));
    let lines = rows(&out.join("purchase.csv"));
    let selected = rows(&out.join("selection.csv")).iter().filter(|row| !row["part_number"].is_empty()).count();
    let served: usize =
        lines.iter().map(|line| line["refs"].split(';').filter(|name| name.starts_with('C')).count()).sum();
    assert_eq!((served, selected), (34, 34));
    for line in &lines {
        let figure = |name: &str| line[name].parse::<f64>().unwrap();
        assert!(figure("order_qty") >= figure("need_qty"));
        assert!((figure("order_qty") * figure("unit_price") - figure("line_total")).abs() < 1e-9);
    }
    let of_suppliers: usize = ["Lisboura_Parts", "Nordkamm_Bauteile", "Quillhaven_Components"]
        .iter()
        .map(|supplier| rows(&out.join(format!("purchase_{supplier}.csv"))).len())
        .sum();
    assert_eq!(of_suppliers, lines.len());
    // A workbook is a zip archive.
    assert!(std::fs::read(out.join("purchase.xlsx")).unwrap().starts_with(b"PK"));
    assert!(String::from_utf8_lossy(&done.stderr).contains("still without a part: Supply C4"));
}

#[test]
fn offers_rates_and_shelf_of_the_job_reach_the_list_and_bad_offers_the_rejected_list() {
    let (folder, job) = demo();
    std::fs::write(
        folder.path().join("offers.csv"),
        "part_number,supplier,currency,price_breaks\nSKARN-400-220U,Elsewhere,USD,1:1.0\nSKARN-400-220U,,USD,1:1\n",
    )
    .unwrap();
    change(&job, "offers", json!(["offers.csv"]));
    change(&job, "currency_rates", json!({"USD": 0.9}));
    change(&job, "shelf", json!([{"part_number": "SKARN-400-220U", "qty": 4, "date_code": "1901"}]));
    let out = folder.path().join("out");
    refarad(&["size", text(&job), "--out", text(&out)]);
    let lines = rows(&out.join("purchase.csv"));
    let line = lines.iter().find(|line| line["part_number"] == "SKARN-400-220U").unwrap();
    let columns = ["supplier", "currency", "need_qty", "order_qty", "line_total"].map(|name| line[name].as_str());
    assert_eq!(columns, ["Elsewhere", "USD", "9", "5", "5"]);
    assert!(line["note"].contains("re-form before use (400 V through 1000 Ω"), "{}", line["note"]);
    let rejected = rows(&out.join("rejected.csv"));
    assert!(rejected.iter().any(|row| row["line"] == "3" && row["field"] == "supplier"), "{rejected:?}");
    change(&job, "offers", json!(["../offers.csv"]));
    let refused = refarad(&["size", text(&job)]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&refused.stderr).contains("outside the folder of the job"));
}

#[test]
fn an_order_applied_to_the_job_gives_the_purchase_list_it_promised() {
    let (folder, job) = demo();
    let (out, applied) = (folder.path().join("out"), folder.path().join("applied.json"));
    let done = refarad(&["order", text(&job), "--out", text(&out), "--apply", text(&applied)]);
    let said = String::from_utf8_lossy(&done.stdout).into_owned();
    assert_eq!(done.status.code(), Some(1), "{said}");
    assert!(said.contains("proven") && said.contains("gap 0.000 %"), "{said}");
    let again = folder.path().join("again");
    refarad(&["size", text(&applied), "--out", text(&again)]);
    let list = |folder: &std::path::Path| -> Vec<_> {
        rows(&folder.join("purchase.csv")).into_iter().filter(|row| row["refs"] != "C108").collect()
    };
    assert_eq!(list(&out), list(&again), "but for the marginal proposal at C108, which is not in the order");
    assert!(rows(&out.join("purchase.csv")).iter().all(|row| row["refs"] != "C108"));
    let told = String::from_utf8_lossy(&done.stderr).into_owned();
    assert!(told.contains("bought though marginal: ") && told.contains(" at C206, as picked"), "{told}");
    // C4 has no part, C108 none that passes, C106 and C206 have a pick that is marginal.
    let verdicts = rows(&again.join("selection.csv"));
    assert_eq!(verdicts.iter().filter(|row| row["verdict"] == "pass").count(), 31);
    let picks = rows(&out.join("order_picks.csv"));
    assert_eq!((picks.len(), picks.iter().filter(|row| row["note"].is_empty()).count()), (35, 33));
}
