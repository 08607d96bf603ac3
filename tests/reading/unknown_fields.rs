//! Fields of a later version, at every object of the job file, are still there after it was read and written.

use refarad::files::{demo, job};
use serde_json::{Value, json};

/// The demo with every kind of object that it has no need of.
fn full() -> Value {
    let mut content: Value = serde_json::from_str(demo::FILES[0].1).unwrap();
    content["shelf"] = json!([{"part_number": "SKARN-400-220U", "qty": 4, "date_code": "1901"}]);
    content["uncertainty"] = json!({"ambient_sigma_k": 3, "samples": 100, "seed": 1});
    content["boards"][0]["positions"][0]["stress"]["ripple_from"] =
        json!({"method": "circuit", "figures": {"line_hz": 50}});
    content
}

/// Where the objects are. `figures` is a table of the person's own, any of its fields is known.
fn objects(content: &Value, place: String, found: &mut Vec<String>) {
    match content {
        Value::Object(fields) => {
            let nested = fields.iter().filter(|(name, _)| *name != "figures");
            nested.for_each(|(name, field)| objects(field, format!("{place}/{name}"), found));
            found.push(place);
        }
        Value::Array(items) => {
            items.iter().enumerate().for_each(|(at, item)| objects(item, format!("{place}/{at}"), found));
        }
        _ => {}
    }
}

#[test]
fn an_unknown_field_survives_at_every_object_of_the_job() {
    let mut content = full();
    let mut places = Vec::new();
    objects(&content, String::new(), &mut places);
    for kind in ["/policy", "/shelf/0", "/uncertainty", "/boards/0", "/boards/0/positions/0/stress/ripple_from"] {
        assert!(places.iter().any(|place| place == kind), "{kind}");
    }
    assert!(places.len() > 200, "{}", places.len());
    for (at, place) in places.iter().enumerate() {
        content.pointer_mut(place).unwrap()["of_a_later_version"] =
            json!({"deep": [at, {"text": "ä <&\"", "yes": true, "open": null}], "figure": 0.1, "nothing": null});
        content.pointer_mut(place).unwrap()["null_of_a_later_version"] = Value::Null;
    }
    let read = job::from_slice(content.to_string().as_bytes(), "a.json".as_ref()).unwrap();
    let written: Value = serde_json::from_str(&job::to_text(&read.job)).unwrap();
    for place in &places {
        let field = |job: &Value| job.pointer(place).map(|object| object["of_a_later_version"].clone());
        assert_eq!(field(&written), field(&content), "{place}");
        let null = written.pointer(place).and_then(|object| object.get("null_of_a_later_version"));
        assert_eq!(null, Some(&Value::Null), "{place}");
    }
    let again = job::from_slice(job::to_text(&read.job).as_bytes(), "a.json".as_ref()).unwrap();
    assert_eq!(again.job, read.job);
}
