//! The invented yard Wattle Bend as its season ends on 20 November 2026: its hives and visits in a file
//! that the command line exported, without a place and with nothing done in the honey house, so that tests
//! see both told; [`bottled`] tells the latter.

use std::path::{Path, PathBuf};

use exchange::{Hash, Record, lines};
use hive::pen::{Pen, Stamp, Subject};
use hive::{DeviceId, EntryId, Known};
use serde_json::{Map, Value, json};
use uuid::Uuid;

use crate::browser::Browser;
use crate::stage::Stage;

/// A morning two days after the season was told.
pub const MORNING: &str = "2026-11-22T08:00:00Z";
/// Entries in it.
pub const ENTRIES: usize = 581;

/// Its journal, one entry a line.
pub fn journal() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("assets/wattle-bend.jsonl")
}

/// Has a browser begin on that morning and take the journal in by its file.
pub async fn bring(browser: &Browser, stage: &Stage) {
    browser.begin_at(MORNING).await;
    browser.open(&stage.at("/records")).await;
    browser
        .type_into("#import", &journal().display().to_string())
        .await;
    browser.see("#count", &format!("{ENTRIES} entries")).await;
}

/// The day on which things of the honey house were done, and what; combs by hive and bar in the order
/// in which they were taken. As the command line's demo tells them, counted back from 20 November.
const DONE: [(&str, &str); 12] = [
    (
        "2026-07-04",
        r#"{"event":"seller_told","region":"australia","business":"Wattle Bend, 1 Bend Lane","country":"Australia"}"#,
    ),
    (
        "2026-07-04",
        r#"{"event":"pail_filled","pail":"one","combs":["Tea-tree 20","Tea-tree 21","Ironbark 9","Ironbark 10"],"mass_kg":7.9}"#,
    ),
    (
        "2026-07-05",
        r#"{"event":"lot_made","lot":"WB-1","pails":["one"],"method":"drained","honey_kg":6.3,"wax_kg":0.3,"country":"Australia"}"#,
    ),
    (
        "2026-07-05",
        r#"{"event":"moisture_read","lot":"WB-1","reading":{"scale":"index","index":1.4885,"temperature_c":24.0}}"#,
    ),
    (
        "2026-09-02",
        r#"{"event":"pail_filled","pail":"two","combs":["Grevillea 12","Grevillea 13","Banksia 15","Banksia 16","Banksia 14","Banksia 29","Grevillea 11"],"mass_kg":18.0}"#,
    ),
    (
        "2026-09-04",
        r#"{"event":"lot_made","lot":"WB-2","pails":["two"],"method":"drained","honey_kg":14.4,"wax_kg":0.6,"country":"Australia"}"#,
    ),
    (
        "2026-09-04",
        r#"{"event":"lot_filtered","lot":"WB-2","mesh_um":400,"loss_kg":0.2}"#,
    ),
    (
        "2026-09-04",
        r#"{"event":"moisture_read","lot":"WB-2","reading":{"scale":"index","index":1.4942,"temperature_c":21.0}}"#,
    ),
    (
        "2026-09-11",
        r#"{"event":"jars_filled","fill":"WB-2/1","lot":"WB-2","net_kg":0.5,"count":14,"mark":"WB-2","best_before":"2028-09-04"}"#,
    ),
    (
        "2026-09-11",
        r#"{"event":"jars_filled","fill":"WB-2/2","lot":"WB-2","net_kg":0.25,"count":8,"mark":"WB-2","best_before":"2028-09-04"}"#,
    ),
    (
        "2026-09-19",
        r#"{"event":"jars_out","fill":"WB-2/1","count":6,"how":"sold","to":"the gate stall","taken":{"minor_units":7200,"currency":"AUD"}}"#,
    ),
    (
        "2026-11-10",
        r#"{"event":"pail_filled","pail":"three","combs":["Ironbark 8","Tea-tree 6"],"mass_kg":3.4}"#,
    ),
];

/// Entries of [`bottled`].
pub const BOTTLED: usize = DONE.len();

/// What was done in the honey house with combs of that yard, as a file to take in beside its journal.
pub fn bottled(folder: &Path) -> PathBuf {
    let mut taken = takings();
    let mut pen = Pen::new(DeviceId(Uuid::from_u128(0x40)), 1, "Mara", "Etc/UTC");
    let (mut prev, mut records) = (Hash::ORIGIN, Vec::new());
    for (nth, (day, event)) in DONE.iter().enumerate() {
        let mut event: Map<String, Value> = serde_json::from_str(event).expect("an object");
        if event["event"] != "seller_told" {
            event.insert("on".into(), (*day).into());
        }
        if let Some(combs) = event.get_mut("combs") {
            let named = combs.as_array().expect("a list").iter();
            *combs = named.map(|name| take(&mut taken, name)).collect();
        }
        let at = format!("{day}T10:{nth:02}:00Z")
            .parse()
            .expect("an instant");
        let id = EntryId(Uuid::from_u64_pair(
            0x0199_0000_0000_7000,
            0x8000_0000_0000_4000 + nth as u64,
        ));
        let what = Known::HoneyHouse { event };
        let entry = pen.write(Stamp::now(id, at), Subject::YARD, what.into());
        let (record, _) = Record::written(&entry, prev).expect("sound");
        prev = record.hash;
        records.push(record);
    }
    let file = folder.join("bottled.jsonl");
    std::fs::write(&file, lines::export(records)).expect("written");
    file
}

/// Every comb taken, as it goes into a pail, in the order of the journal.
fn takings() -> Vec<Value> {
    let text = std::fs::read_to_string(journal()).expect("the journal is there");
    let lines = text.lines().skip(1);
    let entries =
        lines.map(|line| serde_json::from_str::<Value>(line).expect("JSON")["entry"].take());
    let (mut hives, mut bars, mut taken) = (Map::new(), Map::new(), Vec::new());
    for entry in entries {
        let what = &entry["what"];
        let key = |value: &Value| value.as_str().unwrap_or_default().to_owned();
        match what["kind"].as_str() {
            Some("hive_started") => {
                hives.insert(key(&entry["hive"]), what["name"].clone());
            }
            Some("bar_added") => {
                bars.insert(key(&what["bar"]), what["number"].clone());
            }
            Some("comb_taken") => {
                let day: String = key(&entry["at"]).chars().take(10).collect();
                taken.push(json!({
                    "comb": entry["id"], "hive": hives[&key(&entry["hive"])],
                    "bar": bars[&key(&what["bar"])].to_string(), "visit": entry["visit"], "taken_on": day,
                }));
            }
            _ => {}
        }
    }
    taken
}

/// The first of these combs that bears this name.
fn take(taken: &mut Vec<Value>, name: &Value) -> Value {
    let named = |comb: &Value| {
        let (hive, bar) = (comb["hive"].as_str(), comb["bar"].as_str());
        name.as_str()
            == hive
                .zip(bar)
                .map(|(hive, bar)| format!("{hive} {bar}"))
                .as_deref()
    };
    let at = taken
        .iter()
        .position(named)
        .unwrap_or_else(|| panic!("no comb {name} was taken"));
    taken.remove(at)
}

/// Brings the yard with what its honey house did.
pub async fn bring_bottled(browser: &Browser, stage: &Stage) {
    bring(browser, stage).await;
    let folder = tempfile::tempdir().expect("a folder for the file");
    let file = bottled(folder.path());
    browser
        .type_into("#import", &file.display().to_string())
        .await;
    browser
        .see("#count", &format!("{} entries", ENTRIES + BOTTLED))
        .await;
}
