//! The job file: what survives a load and save, what is refused, and what is opened all the same.

use std::path::Path;

use refarad::domain::Policy;
use refarad::files::job::{JobError, JobRead, from_slice, to_text};
use refarad::files::load;
use refarad::progress::Progress;

fn read_text(text: &str) -> Result<JobRead, JobError> {
    from_slice(text.as_bytes(), Path::new("a.json"))
}

fn with_position(position: &str) -> String {
    format!(r#"{{"format":"refarad-job","version":1,"boards":[{{"name":"B","positions":[{position}]}}]}}"#)
}

#[test]
fn unknown_fields_survive_a_load_and_save_at_every_level() {
    let text = with_position(
        r#"{"ref":"C1","later":[1],"original":{"rated_v":10,"colour":"blue"},"stress":{"mood":"calm","phases":[{"share":1,"name":"day"}]}}"#,
    );
    let job = read_text(&text).unwrap().job;
    let again = to_text(&job);
    for kept in ["later", "colour", "mood", "\"name\": \"day\""] {
        assert!(again.contains(kept), "{kept} lost: {again}");
    }
    assert_eq!(read_text(&again).unwrap().job, job);
}

#[test]
fn null_and_absent_mean_the_same() {
    let nulls = with_position(r#"{"ref":"C1","pick":null,"stress":{"ripple":null},"needs":null}"#);
    let absent = with_position(r#"{"ref":"C1"}"#);
    assert_eq!(read_text(&nulls).unwrap(), read_text(&absent).unwrap());
}

#[test]
fn an_empty_spectrum_is_not_an_unknown_one() {
    let job = read_text(&with_position(r#"{"ref":"C1","stress":{"ripple":[]}}"#)).unwrap().job;
    assert_eq!(job.boards[0].positions[0].stress.ripple, Some(Vec::new()));
    assert!(to_text(&job).contains("\"ripple\": []"));
}

#[test]
fn faults_name_file_and_field() {
    let cases = [
        ("{", "line 1"),
        (&with_position(r#"{"ref":"C1","stress":{"ripple_peak_v":-200}}"#), "(C1): stress.ripple_peak_v"),
        (&with_position(r#"{"ref":"C1","original":{"made_year":-3}}"#), "original.made_year"),
        ("[]", "format"),
        (r#"{"format":"refarad-job"}"#, "version"),
        (&with_position(r#"{"ref":"C1","pick":"A","pick":"B"}"#), "the key \"pick\" stands twice"),
        (&with_position(r#"{"ref":"C1","stress":{"dc_v":"high"}}"#), "boards[0].positions[0] (C1): stress.dc_v"),
        (&with_position(r#"{"ref":"C1","role":"hero"}"#), "boards[0].positions[0] (C1): role"),
        (&with_position(r#"{"ref":"C1","original":{"capacitance_uf":0}}"#), "original.capacitance_uf"),
        (&with_position(r#"{"ref":"C1","space":{"height_max_mm":-3}}"#), "space.height_max_mm"),
    ];
    for (text, part) in cases {
        let message = read_text(text).unwrap_err().to_string();
        assert!(message.starts_with("a.json: ") && message.contains(part), "{message}");
    }
}

#[test]
fn a_file_with_bad_values_names_all_of_them_and_opens_with_those_unknown() {
    let text = r#"{"format":"refarad-job","version":1,"units":2.5,"hours_per_year":9999,"name":"A",
        "policy":{"ripple_use_max":80,"life_margin":0.5},"shelf":[{"qty":-4}],
        "boards":[{"name":"B","lid_mm":-5,"per_unit":1.5,"holes_mm":[[1,2,-3]],"positions":[
          {"ref":"C1","original":{"made_year":-3,"rated_v":35},"later":{"odd":null},
           "stress":{"dc_v":"high","ripple_peak_v":-200,"phases":[{"share":-1,"ambient_c":55}],"ripple":[7]},
           "measured":{"date":"soon"},"space":{"accepts":["glue"]}}]}]}"#;
    let Err(JobError::Fields { faults, .. }) = read_text(text) else { panic!() };
    let fields: Vec<&str> = faults.iter().map(|fault| fault.field.as_str()).collect();
    let c1 = |field: &str| format!("boards[0].positions[0] (C1): {field}");
    let expected = [
        "units".to_owned(),
        "hours_per_year".to_owned(),
        "policy.ripple_use_max".to_owned(),
        "policy.life_margin".to_owned(),
        "shelf[0].qty".to_owned(),
        "boards[0].lid_mm".to_owned(),
        "boards[0].per_unit".to_owned(),
        "boards[0].holes_mm".to_owned(),
        c1("original.made_year"),
        c1("stress.dc_v"),
        c1("stress.ripple_peak_v"),
        c1("stress.phases[0].share"),
        c1("stress.ripple[0]"),
        c1("measured.date"),
        c1("space.accepts"),
    ];
    assert_eq!(fields, expected);
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("a.json");
    std::fs::write(&file, text).unwrap();
    let read = load::open(&file, &Progress::default()).unwrap();
    let position = &read.job.boards[0].positions[0];
    assert_eq!((read.job.name.as_str(), read.job.units, position.stress.dc_v), ("A", None, None));
    assert_eq!(position.stress.phases.as_ref().unwrap()[0].ambient_c, Some(55.0));
    assert_eq!(read.job.policy, Policy::default());
    assert!(position.extra.contains_key("later"));
    // What is left is a job that saves and loads.
    assert_eq!(read_text(&to_text(&read.job)).unwrap().job, read.job);
}

#[test]
fn conditions_of_job_and_board_survive_a_load_and_save_and_are_checked() {
    let text = r#"{"format":"refarad-job","version":1,"conditions":{"ambient_min_c":-10,"airflow_lfm":100,"why":"log"},
        "boards":[{"name":"B","conditions":{"phases":[{"share":1,"ambient_c":45}]},"positions":[{"ref":"C1",
        "original":{"life_basis":"useful","ripple_freq_factors":"100:1;1000:1.3"},"stress":{"ambient_rise_k":5},
        "needs":{"end_of_life":"useful","balance_kohm":100}}]}]}"#;
    let job = read_text(text).unwrap().job;
    assert_eq!(job.boards[0].conditions.phases.as_ref().unwrap()[0].ambient_c, Some(45.0));
    let again = to_text(&job);
    for kept in ["life_basis", "ripple_freq_factors", "ambient_rise_k", "end_of_life", "balance_kohm", "why"] {
        assert!(again.contains(kept), "{kept}");
    }
    assert_eq!(read_text(&again).unwrap().job, job);
    for (good, bad, part) in [
        ("\"airflow_lfm\":100", "\"airflow_lfm\":-1", "conditions.airflow_lfm"),
        ("\"ambient_c\":45", "\"ambient_c\":1e9", "boards[0].conditions.phases[0].ambient_c"),
        ("\"balance_kohm\":100", "\"balance_kohm\":0", "needs.balance_kohm"),
    ] {
        let message = read_text(&text.replace(good, bad)).unwrap_err().to_string();
        assert!(message.contains(part), "{message}");
    }
}

#[test]
fn uncertainty_and_shelf_survive_a_load_and_save_and_are_checked() {
    let text = r#"{"format":"refarad-job","version":1,"uncertainty":{"ambient_sigma_k":3,"seed":7,"why":"guess"},
        "shelf":[{"part_number":"A","date_code":"2341","qty":4}],
        "boards":[{"name":"B","positions":[{"ref":"C1","series_group":"link"}]}]}"#;
    let job = read_text(text).unwrap().job;
    assert_eq!(job.uncertainty.as_ref().unwrap().ambient_sigma_k, Some(3.0));
    assert_eq!(job.boards[0].positions[0].series_group.as_deref(), Some("link"));
    assert_eq!(read_text(&to_text(&job)).unwrap().job, job);
    for (good, bad, part) in [
        ("\"ambient_sigma_k\":3", "\"ambient_sigma_k\":-3", "uncertainty.ambient_sigma_k"),
        ("\"seed\":7", "\"samples\":0", "uncertainty.samples"),
        ("\"qty\":4", "\"qty\":-4", "shelf[0].qty"),
    ] {
        let message = read_text(&text.replace(good, bad)).unwrap_err().to_string();
        assert!(message.contains(part), "{message}");
    }
}

#[test]
fn what_contradicts_itself_is_said() {
    let text = r#"{"format":"refarad-job","version":1,"unit_types":[{"name":"T"},{"name":"T"}],"test_points":[
            {"ref":"TP1","expected_low":6,"expected_high":5}],"boards":[{"name":"A"},{"name":"A","positions":[{"ref":"C1",
            "stress":{"phases":[{"share":0}]},"needs":{"capacitance_min_uf":9,"capacitance_max_uf":8}},{"ref":"C1"}]}]}"#;
    let notes = read_text(text).unwrap().notes;
    let said = ["2 boards", "2 types", "2 parts of A are C1", "A C1: the shares", "A C1: the minimum", "TP1: "];
    assert_eq!(notes.len(), said.len(), "{notes:?}");
    assert!(notes.iter().zip(said).all(|(note, said)| note.starts_with(said)), "{notes:?}");
}

#[test]
fn far_more_positions_than_the_file_is_large_are_refused_and_a_hundred_thousand_are_read() {
    let of = |count: usize, position: &str| with_position(&vec![position; count].join(","));
    let message = read_text(&of(5_000_000, "{}")).unwrap_err().to_string();
    assert!(message.starts_with("a.json: "), "{message}");
    let message = read_text(&of(400_000, "{}")).unwrap_err().to_string();
    assert!(message.contains("boards: 400000 positions"), "{message}");
    let known = format!(r#"{{"ref":"C1","note":"{}"}}"#, "as a position with its figures ".repeat(8));
    assert_eq!(read_text(&of(100_000, &known)).unwrap().job.boards[0].positions.len(), 100_000);
}

#[test]
fn a_later_version_opens_to_read_only_and_says_so() {
    let read = read_text(r#"{"format":"refarad-job","version":2}"#).unwrap();
    assert!(read.newer && read.notes.len() == 1);
}

#[test]
fn an_earlier_version_is_read_and_says_what_was_upgraded() {
    let read = read_text(r#"{"format":"refarad-job","version":0,"units":3}"#).unwrap();
    assert_eq!((read.newer, read.job.units), (false, Some(3.0)));
    assert!(read.notes[0].contains("version 0") && read.notes[0].contains("version 1"), "{:?}", read.notes);
    assert!(to_text(&read.job).contains("\"version\": 1"));
}
