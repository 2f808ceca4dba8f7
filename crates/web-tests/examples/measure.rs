//! Measures the app in the browser; prints, and asserts only that all arrived.
//!
//! `COMBWRIGHT_SKIP_WEB=0 cargo run -p web-tests --features browser --example measure -- [ENTRIES]`
//! (5000 if not said). Times are the page's own clock; the processor is slowed down four times for
//! the start and the append, as a phone of the middle class is against a desk.
#![expect(clippy::print_stdout, reason = "an example speaks on the terminal")]

use std::time::Instant;

use exchange::{Hash, Record, lines};
use hive::pen::{Pen, Stamp, Subject};
use hive::{DeviceId, EntryId, Known};
use serde_json::Value;
use web_tests::browser::{Browser, PHONE};
use web_tests::home;
use web_tests::stage::Stage;

const FIRST_MS: i64 = 1_760_000_000_000;

/// A device's journal of notes, as an export.
fn journal(entries: u64) -> String {
    let device = DeviceId(uuid::Uuid::from_u128(7));
    let mut pen = Pen::new(device, 1, "keeper", "Australia/Sydney");
    let mut prev = Hash::ORIGIN;
    let records = (0..entries)
        .map(|n| {
            let at = jiff::Timestamp::from_millisecond(FIRST_MS + n.cast_signed() * 1000);
            let id = EntryId(uuid::Uuid::from_u64_pair(7, n));
            let text = format!("comb {n}: two thirds capped on this side, brood on the other");
            let note = Known::Note { text };
            let entry = pen.write(
                Stamp::now(id, at.expect("in range")),
                Subject::YARD,
                note.into(),
            );
            let (record, _) = Record::written(&entry, prev).expect("sound");
            prev = record.hash;
            record
        })
        .collect();
    lines::export(records)
}

/// Writes notes one after the other, each when the one before is durable; milliseconds of each.
const APPENDS: &str = "const done = arguments[arguments.length - 1];\
    (async () => { const field = document.querySelector('#note'); const times = [];\
      for (let n = 0; n < 30; n++) { field.value = `note ${n}`; const from = performance.now();\
        field.form.requestSubmit();\
        while (field.value !== '') await new Promise((next) => { const c = new MessageChannel();\
          c.port1.onmessage = next; c.port2.postMessage(0); });\
        times.push(performance.now() - from); }\
      done(times); })();";

const START: &str = "return performance.getEntriesByName('journal-open')[0].startTime";

#[tokio::main]
async fn main() {
    let entries: u64 = std::env::args()
        .nth(1)
        .and_then(|word| word.parse().ok())
        .unwrap_or(5000);
    let mut stage = Stage::start();
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("journal.jsonl");
    let text = journal(entries);
    println!("{entries} entries, {} kB as an export", text.len() / 1000);
    std::fs::write(&file, text).expect("written");

    let browser = Browser::start(home::empty(), PHONE).await;
    browser.open(&stage.at("/records")).await;
    browser.offline_ready().await;
    let from = Instant::now();
    browser
        .type_into("#import", &file.display().to_string())
        .await;
    browser
        .see_within("#count", &format!("{entries} entries"), 900)
        .await;
    println!("import: {:.1} s", from.elapsed().as_secs_f64());
    browser
        .see_within("#link-state", "With the server", 900)
        .await;
    println!("and with the server: {:.1} s", from.elapsed().as_secs_f64());
    assert_eq!(stage.journal.records().len() as u64, entries);

    stage.stop().await;
    for slower in [1.0, 4.0] {
        browser.slow_down(slower).await;
        browser.open(&stage.at("/")).await;
        let time = browser.script(START).await.as_f64().unwrap_or(f64::NAN);
        println!("start without a network, processor 1/{slower}: {time:.0} ms");
    }
    browser.open(&stage.at("/records")).await;
    for slower in [1.0, 4.0] {
        browser.slow_down(slower).await;
        let times = browser
            .client
            .execute_async(APPENDS, vec![])
            .await
            .expect("the script runs");
        let mut times: Vec<f64> = times
            .as_array()
            .into_iter()
            .flatten()
            .filter_map(Value::as_f64)
            .collect();
        times.sort_by(f64::total_cmp);
        let (median, worst) = (times[times.len() / 2], times[times.len() - 1]);
        println!("append, processor 1/{slower}: median {median:.1} ms, worst {worst:.1} ms");
    }
    browser.end().await;
}
