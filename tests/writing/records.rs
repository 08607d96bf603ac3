use super::{demo, refarad, rows, text};

#[test]
fn a_rebuild_is_recorded_listed_exported_and_compared_with_the_next_one() {
    let (folder, job) = demo();
    let values = folder.path().join("values.csv");
    let add = |date: &str, list: &str| {
        std::fs::write(&values, list).unwrap();
        let call = ["record", "add", text(&job), "--serial", "D1", "--technician", "N. N.", "--date", date];
        refarad(&[&call[..], &["--values", text(&values)]].concat())
    };
    let columns = "board,ref,lot,before_capacitance_uf,after_capacitance_uf,after_esr_mohm,after_esr_hz\n";
    let first = add("2016-11-25", &format!("{columns}Supply,C1,L7,176,222,400,100000\n"));
    assert!(first.status.success(), "{}", String::from_utf8_lossy(&first.stderr));
    let record = folder.path().join("observatory.units.jsonl");
    let before = std::fs::read(&record).unwrap();

    // A list with a fault adds nothing.
    let refused = add("2026-11-25", &format!("{columns}Supply,C1,L8,many,,,\n"));
    assert_eq!(refused.status.code(), Some(2));
    assert_eq!(std::fs::read(&record).unwrap(), before);

    let second = add("2026-11-25", &format!("{columns}Supply,C1,L8,199.8,221,395,100000\n"));
    let said = String::from_utf8_lossy(&second.stdout).into_owned();
    // 10 % of 222 uF lost is half of the 20 % at the end of life; 30 000 h of 131 400 h are 23 %.
    assert!(said.contains("Supply C1 SKARN-400-220U: 10 years, life used by capacitance 50 %, by ESR unknown, predicted 22.8 %: faster"), "{said}");
    assert!(std::fs::read(&record).unwrap().starts_with(&before));

    let due = refarad(&["record", "due", text(&job)]);
    assert!(String::from_utf8_lossy(&due.stdout).starts_with("2036-11-25  D1  rebuilt 2026-11-25"));
    let out = folder.path().join("units.csv");
    refarad(&["record", "export", text(&job), text(&out)]);
    let exported = rows(&out);
    assert_eq!(exported.len(), 2 * 64);
    assert_eq!((exported[0]["lot"].as_str(), exported[0]["after_capacitance_uf"].as_str()), ("L7", "222"));
}
