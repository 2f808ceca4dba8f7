//! Frozen journals of every format version: they must fold to the same yard forever.
//!
//! A journal here is never edited. When a snapshot changes, old records have changed their meaning:
//! mend the program, not the snapshot.

use std::fmt::Write;

use hive::{Bar, Entry, Hive, Known, Yard};

const V1: &str = include_str!("journals/v1.jsonl");
/// Kinds that version 1 gained later; an older program keeps them as foreign.
const V1_HONEY_HOUSE: &str = include_str!("journals/v1-honey-house.jsonl");
const V1_HEALTH: &str = include_str!("journals/v1-health.jsonl");

fn entries(lines: &str) -> Vec<Entry> {
    let parse =
        |(n, line)| Entry::parse(line).unwrap_or_else(|error| panic!("line {}: {error}", n + 1));
    lines.lines().enumerate().map(parse).collect()
}

#[test]
fn version_1_folds_as_it_always_did() {
    insta::assert_snapshot!(told(&Yard::fold(entries(V1))));
}

#[test]
fn honey_house_entries_change_nothing_in_the_hives() {
    let hives = Yard::fold(entries(V1));
    let both = Yard::fold(entries(V1).into_iter().chain(entries(V1_HONEY_HOUSE)));
    assert_eq!(told(&both), told(&hives));
    assert_eq!(both.acts().len(), hives.acts().len() + 2);
}

#[test]
fn health_entries_of_version_1_fold_as_they_always_did() {
    let yard = Yard::fold(entries(V1).into_iter().chain(entries(V1_HEALTH)));
    let hives = Yard::fold(entries(V1));
    let faults = |yard: &Yard| yard.faults().count();
    assert_eq!(faults(&yard), faults(&hives));
    let ironbark = yard.hive_named("Ironbark").expect("it is in the journal");
    let health = serde_json::json!({
        "treatments": ironbark.treatments,
        "signs": ironbark.signs,
        "purchases": yard.purchases(),
        "disposals": yard.disposals(),
    });
    insta::assert_json_snapshot!(health);
}

#[test]
fn version_1_is_written_again_as_it_was_read() {
    let lines = V1.lines().chain(V1_HONEY_HOUSE.lines());
    for line in lines.chain(V1_HEALTH.lines()) {
        let value: serde_json::Value = serde_json::from_str(line).expect("JSON");
        let again = serde_json::to_value(Entry::parse(line).expect("an entry")).expect("JSON");
        assert_eq!(again, value);
    }
}

#[test]
fn version_1_has_an_entry_of_every_kind() {
    let kinds: Vec<String> = entries(V1)
        .iter()
        .chain(&entries(V1_HONEY_HOUSE))
        .chain(&entries(V1_HEALTH))
        .map(|entry| entry.what.kind().to_owned())
        .collect();
    for kind in Known::KINDS {
        assert!(
            kinds.iter().any(|k| k == kind),
            "{kind} is not in the journal"
        );
    }
}

fn told(yard: &Yard) -> String {
    let mut out = String::new();
    for hive in yard.hives() {
        tell_hive(&mut out, hive);
    }
    for fault in yard.faults() {
        let number = yard.entry(fault.entry).map_or(0, |entry| entry.seq);
        writeln!(out, "fault in entry {number}: {}", fault.why).expect("a string takes all");
    }
    for id in yard.foreign() {
        let entry = yard.entry(*id).expect("it is in the journal");
        writeln!(out, "foreign entry {}: {}", entry.seq, entry.what.kind()).expect("as above");
    }
    out
}

fn tell_hive(out: &mut String, hive: &Hive) {
    let row: Vec<String> = hive
        .row
        .pieces()
        .iter()
        .map(|piece| match piece.bar() {
            Some(bar) => hive.bars[&bar].number.to_string(),
            None => serde_json::to_string(piece).expect("JSON"),
        })
        .collect();
    let ended = hive.ended.as_ref().map(|ended| ended.why.as_str());
    writeln!(
        out,
        "{} ended {ended:?}, reserve {:?}, ripe from {:?}\n  row: {}",
        hive.name,
        hive.reserve,
        hive.ripeness.map(comb::Share::to_percent),
        row.join(" ")
    )
    .expect("a string takes all");
    let mut bars: Vec<_> = hive.bars.values().collect();
    bars.sort_by_key(|bar| (bar.number, bar.id));
    for bar in bars {
        tell_bar(out, bar);
    }
    for visit in &hive.visits {
        writeln!(
            out,
            "  visit {} to {:?}: {} entries, {} combs seen, {} taken (counted {:?}), weather {}",
            visit.opened,
            visit.closed,
            visit.entries.len(),
            visit.seen.len(),
            visit.taken.len(),
            visit.taken_counted,
            serde_json::to_string(&visit.weather).expect("JSON"),
        )
        .expect("as above");
    }
    writeln!(
        out,
        "  queen {} cells {} washes {} feeds {} notes {} departed {}",
        hive.queen_seen.len(),
        hive.queen_cells.len(),
        hive.washes.len(),
        hive.feeds.len(),
        hive.notes.len(),
        hive.departed.len(),
    )
    .expect("as above");
}

fn tell_bar(out: &mut String, bar: &Bar) {
    let happened: Vec<String> = bar
        .history
        .iter()
        .map(|event| {
            let what = serde_json::to_value(&event.what).expect("JSON");
            let what = what["happened"].as_str().unwrap_or("?").to_owned();
            event
                .place
                .map_or_else(|| what.clone(), |place| format!("{what}@{place}"))
        })
        .collect();
    writeln!(
        out,
        "  bar {}: {}, {:?}, drawn {:?}, comb {}, {} looks, now {}\n    {}",
        bar.number,
        bar.lies.words(),
        bar.hanging,
        bar.drawn,
        bar.comb,
        bar.looks.len(),
        serde_json::to_string(&bar.contents).expect("JSON"),
        happened.join(" ")
    )
    .expect("as above");
}
