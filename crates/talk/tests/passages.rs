//! Short invented visits by many different keepers, each with what a careful listener would write
//! down. `> ` begins a phrase, `= ` the fields of the visit, `c ` those of a comb in the order met:
//! t this side, o other side, h holds, f fill, a attached, s straight, d decision. What is not
//! named is not said.

mod support;

use std::fs;
use std::path::Path;

use serde_json::{Map, Value, json};
use support::{Score, score};
use talk::{Summary, hear_text};

fn number(value: &str) -> Value {
    value.parse::<i64>().map_or_else(
        |_| json!(value.parse::<f64>().expect("a number")),
        |n| json!(n),
    )
}

fn hold(short: &str) -> &'static str {
    match short {
        "hon" => "honey",
        "un" => "unripe",
        "wb" => "worker brood",
        "db" => "drone brood",
        "e" => "eggs",
        "p" => "pollen",
        "em" => "empty",
        "new" => "new comb",
        other => panic!("no such hold: {other}"),
    }
}

fn comb(line: &str) -> Value {
    let mut all = Map::new();
    let mut holds: Vec<&str> = Vec::new();
    for part in line.split_whitespace() {
        let (name, value) = part.split_once('=').expect("name=value");
        let (name, value) = match name {
            "t" => ("this", number(value)),
            "o" => ("other", number(value)),
            "f" => {
                let fill = match value {
                    "F" => "full",
                    "P" => "part",
                    _ => "light",
                };
                ("fill", json!(fill))
            }
            "a" => ("attached", json!(value == "y")),
            "s" => ("straight", json!(value == "y")),
            "d" => (
                "decision",
                json!(if value == "T" { "take" } else { "leave" }),
            ),
            "h" => {
                holds.extend(value.split(',').map(hold));
                continue;
            }
            _ => (name, number(value)),
        };
        all.insert(name.to_owned(), value);
    }
    let capped = |name: &str| {
        all.get(name)
            .and_then(Value::as_f64)
            .is_some_and(|s| s > 0.0)
    };
    if (capped("this") || capped("other")) && !holds.contains(&"honey") {
        holds.push("honey");
    }
    all.insert("holds".to_owned(), json!(holds));
    Value::Object(all)
}

fn visit(block: &str) -> (String, Value) {
    let mut text = String::new();
    let mut combs: Vec<Value> = Vec::new();
    let mut all = json!({ "eggs_seen": false, "queen_cells": 0 });
    for line in block.lines() {
        if let Some(said) = line.strip_prefix("> ") {
            text.push_str(said);
            text.push('\n');
        } else if let Some(fields) = line.strip_prefix("= ") {
            for part in fields.split_whitespace() {
                let (name, value) = part.split_once('=').expect("name=value");
                match name {
                    "end" | "queen" => all[name] = json!(value),
                    "eggs" => all["eggs_seen"] = json!(true),
                    "temp" => all["temperature_c"] = number(value),
                    "cells" => all["queen_cells"] = number(value),
                    "closing" => all["closing"] = json!(value.split(',').collect::<Vec<_>>()),
                    "mites" => {
                        let (count, bees) = value.split_once('/').expect("count/bees");
                        all["mites"] = json!({ "count": number(count), "bees": number(bees) });
                    }
                    "fed" => {
                        let (litres, kind) = value.split_once('/').expect("litres/kind");
                        let litres = if litres == "?" {
                            Value::Null
                        } else {
                            number(litres)
                        };
                        all["fed"] = json!({ "litres": litres, "kind": kind.replace('_', " ") });
                    }
                    other => panic!("no such field: {other}"),
                }
            }
        } else if let Some(fields) = line.strip_prefix('c') {
            combs.push(comb(fields));
        }
    }
    let taken = combs.iter().filter(|c| c["decision"] == "take").count();
    all["taken"] = json!(taken);
    all["combs"] = Value::Array(combs);
    (text, all)
}

/// Each block of a file: what is said, what is wanted, what is got.
fn passages(name: &str) -> Vec<(String, Value, Value)> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/cases")
        .join(name);
    fs::read_to_string(path)
        .expect("the file is in the repository")
        .split("\n\n")
        .filter(|b| b.contains("> "))
        .map(|block| {
            let (text, want) = visit(block);
            let got = serde_json::to_value(Summary::from(&hear_text(&text).0)).expect("plain data");
            (block.to_owned(), want, got)
        })
        .collect()
}

#[test]
fn rules_hold_to_the_last_field() {
    let mut wrong = Vec::new();
    let all = [
        "passages_rules.txt",
        "passages_ends.txt",
        "passages_speakers.txt",
        "passages_heard.txt",
        "passages_said_again.txt",
        "passages_entrance.txt",
        "passages_another.txt",
        "passages_of_else.txt",
        "passages_hands.txt",
        "passages_cutting.txt",
        "passages_goes_on.txt",
        "passages_in_a_row.txt",
        "passages_not_meant.txt",
        "passages_told_so.txt",
        "passages_by_the_way.txt",
    ];
    for (block, want, got) in all.into_iter().flat_map(passages) {
        if score(&want, &got).f1() < 1.0 {
            wrong.push(format!("{block}\n{got:#}"));
        }
    }
    assert!(wrong.is_empty(), "{}\n{}", wrong.len(), wrong.join("\n\n"));
}

/// The bar for each passage is low, the one for all of them high: a passage tells whether a rule
/// holds, the sum whether the grammar does.
#[test]
fn passages_of_many_keepers_are_understood() {
    let mut total = Score::default();
    let mut count = 0;
    for (block, want, got) in passages("passages.txt") {
        let one = score(&want, &got);
        assert!(one.f1() >= 0.8, "{:.3}\n{block}\n{got:#}", one.f1());
        total = total.plus(one);
        count += 1;
    }
    assert!(count >= 60, "{count} passages");
    assert!(total.f1() >= 0.98, "micro F1 {:.3}", total.f1());
}
