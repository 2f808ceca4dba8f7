//! Measures a visit in the browser, with many entries in the journal and no server: from the navigation
//! to the usable screen, and from a phrase to the advice shown.
//!
//! `COMBWRIGHT_SKIP_WEB=0 cargo run -p web-tests --features browser --example measure_visit -- [ENTRIES]`
//! (5000 if not said). Times are the page's own clock: of a start, from the navigation until the page
//! holds every hive with its advice, or the field for phrases; of a phrase, from the field's submission to
//! the turn in which the page holds the answer. The processor is slowed down four times, as a phone of the
//! middle class is against a desk. Each speed has a visit of its own, at a hive of its own.
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

/// Notes when the page first holds what a selector finds so many times.
fn watch(css: &str, times: usize) -> Value {
    let source = format!(
        "new MutationObserver((_, watch) => {{\
           if (document.querySelectorAll('{css}').length < {times}) return;\
           watch.disconnect(); window.usable = performance.now();\
         }}).observe(document, {{ childList: true, subtree: true }});"
    );
    json!({ "source": source })
}

/// Starts the app at a path, several times; the milliseconds from the navigation until it is usable.
async fn start(browser: &Browser, address: &str, css: &str, times: usize) -> Vec<f64> {
    const ADD: &str = "Page.addScriptToEvaluateOnNewDocument";
    let watched = browser.devtools(ADD, watch(css, times)).await;
    let mut took = Vec::new();
    for _ in 0..7 {
        browser.client.goto("about:blank").await.expect("it opens");
        browser.client.goto(address).await.expect("it opens");
        let usable = "const done = arguments[arguments.length - 1]; const wait = setInterval(() => {\
             if (window.usable) { clearInterval(wait); done(window.usable); } }, 50);";
        let at = browser.client.execute_async(usable, vec![]).await;
        took.extend(at.expect("the script runs").as_f64());
    }
    browser
        .devtools("Page.removeScriptToEvaluateOnNewDocument", watched)
        .await;
    took.sort_by(f64::total_cmp);
    took
}

fn file_kb(file: &std::path::Path) -> u64 {
    std::fs::metadata(file).map_or(0, |told| told.len() / 1000)
}

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
    // the first line says what follows
    let written = std::fs::read_to_string(&file).map_or(0, |text| text.lines().count() - 1);
    let all = format!("{written} entries");
    browser.see_within("#count", &all, 600).await;
    let there = "With the server";
    browser.see_within("#link-state", there, 600).await;
    println!("{all} in the browser, {} kB as an export", file_kb(&file));
    stage.stop().await;
    for (slower, hive) in [(1.0, yard::hive_of(1)), (4.0, yard::IRONBARK)] {
        browser.slow_down(slower).await;
        let visit = stage.at(&format!("/visit/{hive}"));
        for (screen, address, css, times) in [
            ("yard", stage.at("/"), "article.card", yard::HIVES),
            ("visit", visit.clone(), "#phrase", 1),
        ] {
            let took = start(&browser, &address, css, times).await;
            println!(
                "{entries} entries, processor 1/{slower}: navigation to usable {screen}: median {:.0} ms, \
                 worst {:.0} ms, {} starts",
                took[took.len() / 2],
                took[took.len() - 1],
                took.len()
            );
        }
        browser.slow_down(1.0).await;
        browser.open(&visit).await;
        browser.find(".visit-live").await;
        // nobody speaks at once, and the app uses the time
        tokio::time::sleep(std::time::Duration::from_secs(3)).await;
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
