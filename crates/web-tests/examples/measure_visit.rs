//! Measures a visit in the browser: from a phrase to the advice shown, with many entries in the journal.
//!
//! `COMBWRIGHT_SKIP_WEB=0 cargo run -p web-tests --features browser --example measure_visit -- [ENTRIES]`
//! (5000 if not said). Times are the page's own clock, from the field's submission to the turn in which
//! the page holds the answer; the processor is slowed down four times, as a phone of the middle class is
//! against a desk.
#![expect(clippy::print_stdout, reason = "an example speaks on the terminal")]

#[path = "../tests/yard/mod.rs"]
mod yard;

use serde_json::{Value, json};
use web_tests::browser::{Browser, PHONE};
use web_tests::home;
use web_tests::stage::Stage;

/// Types phrases one after the other; for each the milliseconds until the page holds what follows from it,
/// and until it is kept.
const SAY: &str = "const phrases = arguments[0]; const done = arguments[arguments.length - 1];\
    const turn = () => new Promise((next) => { const c = new MessageChannel();\
      c.port1.onmessage = next; c.port2.postMessage(0); });\
    (async () => { const field = document.querySelector('#phrase'); const times = [];\
      for (const phrase of phrases) {\
        const before = document.querySelector('#phrases li')?.textContent;\
        field.value = phrase; const from = performance.now(); field.form.requestSubmit();\
        while (document.querySelector('#phrases li')?.textContent === before) await turn();\
        const shown = performance.now() - from;\
        while (!document.querySelector('#keeping').textContent.startsWith('Kept')) await turn();\
        times.push([shown, performance.now() - from]);\
      }\
      done(times); })();";

#[tokio::main]
async fn main() {
    let entries: usize = std::env::args()
        .nth(1)
        .and_then(|word| word.parse().ok())
        .unwrap_or(5000);
    let mut stage = Stage::start();
    let folder = tempfile::tempdir().expect("a folder");
    let file = yard::journal(folder.path(), entries);
    let browser = Browser::start(home::empty(), PHONE).await;
    browser.open(&stage.at("/records")).await;
    browser.offline_ready().await;
    browser
        .type_into("#import", &file.display().to_string())
        .await;
    let least = format!("{} entries", entries / 10);
    let digits = least.len() - " entries".len() + 1;
    let there = format!(
        "const done = arguments[arguments.length - 1]; const wait = setInterval(() => {{\
         const count = document.querySelector('#count')?.textContent.replaceAll(/\\D/g, '') ?? '';\
         if (count.length >= {digits}) {{ clearInterval(wait); done(count); }} }}, 50);"
    );
    let count = browser.client.execute_async(&there, vec![]).await;
    println!(
        "entries in the browser: {}",
        count.expect("the script runs")
    );
    stage.stop().await;
    for slower in [1.0, 4.0] {
        browser.slow_down(1.0).await;
        browser
            .open(&stage.at(&format!("/visit/{}", yard::IRONBARK)))
            .await;
        browser.find(".visit-live").await;
        browser.slow_down(slower).await;
        // nothing may be said twice in a row: the list tells that something came
        let phrases: Vec<Value> = yard::SPOKEN.iter().map(|phrase| json!(phrase)).collect();
        let times = browser
            .client
            .execute_async(SAY, vec![Value::Array(phrases)])
            .await
            .expect("the script runs");
        for (name, at) in [("shown", 0), ("kept", 1)] {
            let mut times: Vec<f64> = times
                .as_array()
                .into_iter()
                .flatten()
                .filter_map(|two| two[at].as_f64())
                .collect();
            times.sort_by(f64::total_cmp);
            let median = times[times.len() / 2];
            let most = times[times.len() * 95 / 100];
            let worst = times[times.len() - 1];
            println!(
                "{entries} entries, processor 1/{slower}: phrase to {name}: median {median:.1} ms, \
                 95 % {most:.1} ms, worst {worst:.1} ms, {} phrases",
                times.len()
            );
        }
    }
    browser.end().await;
}
