//! Small cases: what a keeper may say, and what must be understood of it. One file a subject in
//! `tests/cases`; the phrases are invented and stand in no visit.

use std::fs;
use std::path::Path;

use serde_json::Value;
use talk::{Listener, Summary};

/// Cases of a file: phrases, and what is expected.
fn cases(name: &str) -> Vec<(String, String)> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/cases")
        .join(name);
    fs::read_to_string(path)
        .expect("the file is in the repository")
        .lines()
        .filter(|l| !l.starts_with('#') && !l.trim().is_empty())
        .map(|l| {
            let (said, want) = l.split_once("=>").expect("phrase => fields");
            (said.trim().to_owned(), want.trim().to_owned())
        })
        .collect()
}

fn hear(before: &[&str], said: &str) -> Value {
    let mut listener = Listener::new();
    for phrase in before.iter().copied().chain(said.split(" / ")) {
        listener.hear(phrase);
    }
    serde_json::to_value(Summary::from(listener.visit())).expect("plain data")
}

fn fields(want: &str) -> Vec<(&str, String)> {
    let mut all: Vec<(&str, String)> = Vec::new();
    for part in want.split(' ') {
        match part.split_once('=') {
            Some((name, value)) => all.push((name, value.to_owned())),
            None => {
                if let Some((_, value)) = all.last_mut() {
                    value.push(' ');
                    value.push_str(part);
                }
            }
        }
    }
    all
}

fn shown(value: &Value) -> String {
    match value {
        Value::Array(all) => all.iter().map(shown).collect::<Vec<_>>().join(","),
        Value::String(s) => s.replace(' ', "_"),
        Value::Object(map) => map
            .values()
            .map(|v| match v {
                Value::String(s) => s.clone(),
                v => v.to_string(),
            })
            .collect::<Vec<_>>()
            .join(","),
        other => other.to_string(),
    }
}

fn agrees(got: &Value, want: &str) -> bool {
    if let (Some(a), Ok(b)) = (got.as_f64(), want.parse::<f64>()) {
        return (a - b).abs() <= 0.051;
    }
    // sets have no order; decisions and the closing row have one
    let ordered = ["take", "leave", "full"].iter().any(|w| want.contains(w));
    let sorted = |s: &str| {
        let mut all: Vec<_> = s.split(',').map(str::to_owned).collect();
        all.sort();
        all
    };
    let got = shown(got);
    got == want || !ordered && sorted(&got) == sorted(want)
}

fn check(name: &str, before: &[&str], view: impl Fn(&Value, &str) -> Value) {
    let mut wrong = Vec::new();
    let cases = cases(name);
    for (said, want) in &cases {
        let got = hear(before, said);
        for (field, value) in fields(want) {
            let found = view(&got, field);
            if !agrees(&found, &value) {
                wrong.push(format!(
                    "  {said:?}: {field} want {value} got {}",
                    shown(&found)
                ));
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{name}: {} of {} cases\n{}",
        wrong.len(),
        cases.len(),
        wrong.join("\n")
    );
}

fn comb(got: &Value, field: &str) -> Value {
    got["combs"]
        .as_array()
        .and_then(|c| c.last())
        .map_or(Value::Null, |c| c[field].clone())
}

fn combs_or_decisions(got: &Value, field: &str) -> Value {
    let combs = got["combs"].as_array().into_iter().flatten();
    if field == "combs" {
        Value::from(combs.count())
    } else {
        Value::Array(combs.map(|c| c["decision"].clone()).collect())
    }
}

#[test]
fn shares_go_to_their_faces() {
    check("shares.txt", &["left end", "first comb honey"], comb);
}

#[test]
fn decisions_are_heard() {
    check("decisions.txt", &["left end", "first comb honey"], comb);
}

#[test]
fn contents_and_shape_are_heard() {
    check("holds.txt", &["left end", "first comb"], comb);
}

#[test]
fn weights_and_thickness_are_heard() {
    check("measures.txt", &["left end", "first comb honey"], comb);
}

#[test]
fn facts_of_the_visit_are_heard() {
    check("visit.txt", &["left end"], |got, field| got[field].clone());
}

#[test]
fn combs_are_told_apart() {
    check("combs.txt", &["left end"], combs_or_decisions);
}

#[test]
fn more_decisions_are_heard() {
    check(
        "more_decisions.txt",
        &["left end", "first comb honey"],
        comb,
    );
}

#[test]
fn short_visits_are_understood() {
    check("more_combs.txt", &["left end"], combs_or_decisions);
}

#[test]
fn more_contents_are_heard() {
    check("more_contents.txt", &["left end", "first comb"], comb);
}

#[test]
fn faces_are_told_apart() {
    check("faces.txt", &["left end", "first comb honey"], comb);
}

#[test]
fn combs_are_described() {
    check("filling.txt", &["left end", "first comb"], comb);
}

#[test]
fn more_amounts_are_heard() {
    check("amounts.txt", &["left end", "first comb honey"], comb);
}

#[test]
fn counts_are_heard() {
    check("counts.txt", &["left end"], |got, field| got[field].clone());
}

#[test]
fn verdicts_of_many_mouths_are_heard() {
    check("verdicts.txt", &["left end"], combs_or_decisions);
}

#[test]
fn more_faces_are_told_apart() {
    check("faces_more.txt", &["left end", "first comb honey"], comb);
}

#[test]
fn more_combs_are_described() {
    check("filling_more.txt", &["left end", "first comb"], comb);
}

#[test]
fn still_more_amounts_are_heard() {
    check("amounts_more.txt", &["left end", "first comb honey"], comb);
}

#[test]
fn more_counts_are_heard() {
    check("counts_more.txt", &["left end"], |got, field| {
        got[field].clone()
    });
}
