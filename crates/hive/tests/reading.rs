//! Reading entries: this version strictly, newer ones kept as they came.

use hive::{Entry, What};
use serde_json::{Value, json};

fn entry(what: &Value) -> Value {
    json!({
        "v": 1,
        "id": "00000000-0000-0000-0000-000000000001",
        "device": "00000000-0000-0000-0000-000000000002",
        "seq": 1,
        "at": "2026-09-12T00:00:00Z",
        "recorded": "2026-09-12T00:00:00Z",
        "zone": "+10:00",
        "by": "keeper",
        "hive": "00000000-0000-0000-0000-000000000003",
        "what": what,
    })
}

fn turned() -> Value {
    json!({"kind": "bar_turned", "bar": "00000000-0000-0000-0000-000000000004"})
}

fn error(value: &Value) -> String {
    match Entry::parse(&value.to_string()) {
        Ok(entry) => panic!("read as {entry:?}"),
        Err(error) => error.to_string(),
    }
}

fn seen(contents: &Value) -> Value {
    entry(&json!({
        "kind": "comb_seen",
        "bar": "00000000-0000-0000-0000-000000000004",
        "contents": contents,
    }))
}

#[test]
fn an_unknown_kind_is_kept_and_written_again_as_it_came() {
    let value = entry(&json!({"kind": "sung_to", "hertz": 250.125, "deep": {"a": [1, null]}}));
    let read = Entry::parse(&value.to_string()).expect("kept");
    assert!(matches!(read.what, What::Foreign(_)));
    assert_eq!(serde_json::to_value(&read).expect("JSON"), value);
}

#[test]
fn a_newer_version_of_a_known_kind_is_kept_with_its_new_fields() {
    let mut value = entry(&json!({"kind": "bar_turned", "about": "its long side"}));
    value["v"] = json!(2);
    value["mood"] = json!("calm");
    let read = Entry::parse(&value.to_string()).expect("kept");
    assert!(matches!(read.what, What::Foreign(_)));
    assert_eq!(serde_json::to_value(&read).expect("JSON"), value);
    let again: Entry = serde_json::from_value(value).expect("by either door");
    assert_eq!(again, read);
}

#[test]
fn an_unreadable_body_of_a_known_kind_is_malformed_not_foreign() {
    let faults = [
        entry(&json!({"kind": "bar_turned"})),
        entry(&json!({"kind": "bar_turned", "bar": "seven"})),
        entry(
            &json!({"kind": "bar_turned", "bar": "00000000-0000-0000-0000-000000000004", "x": 1}),
        ),
        seen(&json!({"left": {"capped_of_honey": 1.2}})),
        seen(&json!({"left": {"capped_honey": 0.8, "pollen": 0.4}})),
        seen(&json!({"thickness_mm": -3.0})),
        entry(&json!({"kind": "undone"})),
        entry(
            &json!({"kind": "corrected", "target": "00000000-0000-0000-0000-000000000004",
            "what": {"kind": "bar_turned"}}),
        ),
        entry(&json!({"kind": "mite_wash", "mites": 3, "bees": 0})),
        entry(
            &json!({"kind": "hive_started", "name": " ", "numbered": true, "body": {
            "cavity_length_mm": 1000.0, "top_width_mm": 430.0, "bottom_width_mm": 200.0,
            "depth_mm": 300.0, "entrance": {"place": "left_end"}}}),
        ),
        entry(
            &json!({"kind": "hive_started", "name": "Ironbark", "numbered": true, "body": {
            "cavity_length_mm": 0.0, "top_width_mm": 430.0, "bottom_width_mm": 200.0,
            "depth_mm": 300.0, "entrance": {"place": "left_end"}}}),
        ),
    ];
    let told: Vec<String> = faults.iter().map(error).collect();
    insta::assert_snapshot!(told.join("\n"));
}

#[test]
fn a_fault_in_the_envelope_is_named() {
    let mut told = vec![
        error(&json!([1, 2])),
        error(&json!({"v": 1})),
        error(&entry(&json!({"no": "kind"}))),
        Entry::parse("{\"v\": 1,")
            .expect_err("cut short")
            .to_string(),
        Entry::parse("").expect_err("empty").to_string(),
    ];
    for (field, bad) in [
        ("v", json!(0)),
        ("v", json!("one")),
        ("seq", json!(-1)),
        ("at", json!("yesterday")),
        ("hive", json!("Ironbark")),
        ("mood", json!("calm")),
    ] {
        let mut value = entry(&turned());
        value[field] = bad;
        told.push(error(&value));
    }
    let mut value = entry(&turned());
    value.as_object_mut().expect("an object").remove("zone");
    told.push(error(&value));
    insta::assert_snapshot!(told.join("\n"));
}
