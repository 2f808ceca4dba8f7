//! What is printed: text for people within 80 columns, JSON for programs.

use crate::support::{Desk, TODAY};

const VISIT: &str = "banksia right end twenty three degrees\nboard's out\n\
    bar fifteen three quarters capped this side two thirds the other\n\
    take it one point eight kilos\nbar fourteen half capped both sides leave that\none in the bucket\n";

/// Commands that only read.
const READING: [&[&str]; 9] = [
    &["yard"],
    &["show", "Ironbark"],
    &["show", "Tea-tree", "--table"],
    &["show", "Ironbark", "--bar", "9"],
    &["show", "Banksia", "--on", "2024-11-01"],
    &["advise", "Banksia"],
    &["advise", "Grevillea", "--flow", "dearth", "--shims", "5,10"],
    &["journal", "list"],
    &["journal", "verify"],
];

#[test]
fn text_keeps_to_eighty_columns_without_colour() {
    let desk = Desk::at_wattle_bend();
    let tour: &[&str] = &["tour", "--no-pause"];
    for args in READING.iter().chain([&tour]) {
        let out = desk.does(args);
        assert!(!out.is_empty(), "{args:?} printed nothing");
        assert!(
            !out.contains('\u{1b}'),
            "{args:?} in colour where no terminal is"
        );
        for line in out.lines() {
            assert!(line.chars().count() <= 80, "{args:?}: {line}");
        }
    }
}

/// 25.4 mm to the inch and 0.45359237 kg to the pound by definition, 231 cubic inches to the US gallon, 22 C are
/// 72 F: the same figures in either system, and none left of the other.
#[test]
fn text_is_told_in_the_units_asked_for() {
    let desk = Desk::at_wattle_bend();
    let us = |args: &[&str]| desk.does(&[&["--units", "us"], args].concat());
    let metric_unit = |out: &str| {
        let mut words = out.split(|letter: char| !letter.is_alphanumeric());
        words.any(|word| ["kg", "mm", "litres", "C"].contains(&word))
    };
    let advise: &[&str] = &["advise", "Ironbark", "--shims", "3,5,8"];
    for args in READING.iter().chain([&advise]) {
        let out = us(args);
        assert!(!metric_unit(&out), "{args:?}: {out}");
        for line in out.lines() {
            assert!(line.chars().count() <= 80, "{args:?}: {line}");
        }
    }
    let file = desk.file(
        "visit.txt",
        "left end seventy two degrees\nbar one full five pounds\nfed half a gallon of syrup\n",
    );
    let heard = us(&["hear", file.to_str().unwrap()]);
    for words in ["72 degrees F", "5.0 lb", "Fed 2.0 quarts of syrup"] {
        assert!(heard.contains(words), "{heard}");
    }
    let (kg, pounds) = (
        desk.does(&["advise", "Ironbark"]),
        us(&["advise", "Ironbark"]),
    );
    let first = |out: &str, sign: &str| -> f64 {
        let words: Vec<&str> = out.split_whitespace().collect();
        let at = words.iter().position(|word| *word == sign).unwrap();
        words[at - 1].parse().unwrap()
    };
    let (kg, pounds) = (first(&kg, "kg"), first(&pounds, "lb"));
    // both are shown to a tenth
    assert!(
        (kg - pounds * 0.453_592_37).abs() < 0.075,
        "{kg} kg, {pounds} lb"
    );
    // what does not close, too
    let out = us(&["advise", "Ironbark", "--follower", "60"]);
    assert!(out.contains("It does not close"), "{out}");
    assert!(!metric_unit(&out), "{out}");
    // programs always read metric
    assert_eq!(
        desk.json(&["--units", "us", "advise", "Ironbark"]),
        desk.json(&["advise", "Ironbark"])
    );
}

#[test]
fn every_command_gives_json() {
    let desk = Desk::at_wattle_bend();
    for args in READING {
        desk.json(args);
    }
    let file = desk.file("visit.txt", VISIT);
    let file = file.to_str().unwrap();
    desk.json(&["hear", file]);
    desk.json(&["hear", file, "--into", "Banksia", "--dry-run"]);
    let walk = desk.json(&["tour"]);
    assert_eq!(walk["phrases"].as_array().unwrap().len(), 12);
    desk.json(&["hear", file, "--into", "Banksia"]);
    desk.json(&["journal", "undo", "Banksia"]);
    desk.json(&["journal", "redo", "Banksia"]);
    desk.json(&["journal", "note", "Banksia", "calm today"]);
    let id = desk.json(&["journal", "list", "-n", "1"])[0].clone();
    let what = r#"{"kind":"note","text":"calm at noon"}"#;
    desk.json(&["journal", "correct", id["id"].as_str().unwrap(), what]);
    desk.json(&["yard", "reserve", "Banksia", "--combs", "6"]);
    desk.json(&["yard", "ripe", "Banksia", "70"]);
    desk.json(&["yard", "apiary", "Far Gate", "--winter", "real"]);
    desk.json(&["yard", "new", "Waratah", "--apiary", "Far Gate"]);
    desk.json(&["yard", "rename", "Waratah", "Boronia"]);
    desk.json(&["yard", "end", "Boronia", "joined to Ironbark"]);
    let svg = desk.path().join("hive.svg");
    desk.json(&["show", "Banksia", "--svg", svg.to_str().unwrap()]);
    let copy = desk.path().join("copy.jsonl");
    desk.json(&["journal", "export", copy.to_str().unwrap()]);
    desk.json(&["journal", "import", copy.to_str().unwrap()]);
}

/// The fields of the spoken test visits, see the talk crate's summary.
#[test]
fn the_summary_has_the_agreed_fields() {
    let desk = Desk::empty();
    let ran = desk.run_with(&["hear", "--summary", "-"], Some(VISIT));
    assert_eq!(ran.code, 0, "{}", ran.err);
    let told: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    let keys = |value: &serde_json::Value| {
        let fields = value.as_object().unwrap().keys().cloned();
        fields.collect::<std::collections::BTreeSet<_>>()
    };
    let wanted = |names: &[&str]| names.iter().map(ToString::to_string).collect();
    let visit = [
        "end",
        "combs",
        "queen",
        "eggs_seen",
        "queen_cells",
        "temperature_c",
        "mites",
        "fed",
        "taken",
        "closing",
    ];
    assert_eq!(keys(&told), wanted(&visit));
    let comb = [
        "bar", "this", "other", "holds", "fill", "attached", "straight", "decision", "kg", "mm",
    ];
    assert_eq!(keys(&told["combs"][0]), wanted(&comb));
    assert_eq!(told["end"], "right");
    assert_eq!(told["taken"], 1);
    assert_eq!(told["combs"][0]["bar"], 15);
    assert_eq!(told["combs"][0]["decision"], "take");
    // it keeps nothing, not even a folder
    assert_eq!(std::fs::read_dir(desk.path()).unwrap().count(), 0);
}

#[test]
fn a_share_without_a_side_is_printed_and_asked_about() {
    let desk = Desk::at_wattle_bend();
    let said = "right end\nfifteen, half capped\nleave it\nbar fourteen half capped both sides\n";
    let file = desk.file("visit.txt", said);
    let file = file.to_str().unwrap();
    let out = desk.does(&["hear", file]);
    let line = |name: &str| out.lines().find(|line| line.contains(name)).unwrap();
    assert_eq!(
        line("bar 15").trim(),
        "bar 15   50 % capped, side not said; leave"
    );
    assert!(!line("bar 14").contains("not said"), "{out}");
    let out = desk.does(&["hear", file, "--into", "Banksia", "--dry-run"]);
    let asked = "? Half capped on which side of bar 15, or both?";
    assert!(out.lines().any(|line| line == asked), "{out}");
    let told = desk.json(&["hear", "--summary", file]);
    assert_eq!(told["combs"][0]["this"], serde_json::Value::Null);
}

#[test]
fn what_the_keeper_reads() {
    let desk = Desk::at_wattle_bend();
    insta::assert_snapshot!(
        "show_tea_tree",
        desk.does(&["show", "Tea-tree", "--on", TODAY])
    );
    insta::assert_snapshot!(
        "advise_banksia",
        desk.does(&["advise", "Banksia", "--on", TODAY])
    );
    let err = desk.run(&["show", "Bankisa"]).err;
    insta::assert_snapshot!("no_such_hive", err);
    insta::assert_snapshot!("tour", desk.does(&["tour", "--no-pause", "--on", TODAY]));
}

#[test]
fn a_hive_can_be_shown_as_it_stood() {
    let desk = Desk::at_wattle_bend();
    let early = desk.does(&["show", "Ironbark", "--on", "2024-09-01"]);
    assert!(early.contains("16 combs"), "{early}");
    let ran = desk.run(&["show", "Ironbark", "--on", "2020-01-01"]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("began on"), "{}", ran.err);
}

#[test]
fn completions_and_manual_pages_are_printed() {
    let desk = Desk::empty();
    for shell in ["bash", "zsh", "fish"] {
        assert!(
            desk.does(&["completions", shell]).contains("combwright"),
            "{shell}"
        );
    }
    assert!(desk.does(&["man"]).contains(".TH combwright 1"));
    let pages = desk.path().join("pages");
    desk.does(&["man", pages.to_str().unwrap()]);
    assert!(std::fs::read_dir(pages).unwrap().count() > 5);
}
