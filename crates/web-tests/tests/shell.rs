//! The shell in a real browser: works without the server, loses nothing, doubles nothing.

use std::collections::BTreeSet;
use std::time::Duration;

use serde_json::json;
use web_tests::browser::{Browser, DESK, PHONE};
use web_tests::stage::{FIRST, Stage};
use web_tests::{home, looks};

/// A hard end for a test that hangs, so that its browser ends too.
async fn within(test: impl Future<Output = ()>) {
    tokio::time::timeout(Duration::from_mins(3), test)
        .await
        .expect("it takes too long");
}

async fn write_note(browser: &Browser, words: &str) {
    browser.type_into("#note", words).await;
    browser.click("#write").await;
}

/// Errors of the console, without those that a stopped server makes on purpose.
async fn faults(browser: &Browser) -> Vec<String> {
    let all = browser.complaints().await;
    all.into_iter()
        // reset: it was stopped while it was asked
        .filter(|line| {
            !line.contains("ERR_CONNECTION_REFUSED") && !line.contains("ERR_CONNECTION_RESET")
        })
        .collect()
}

/// Firefox asks the keeper whether the storage shall stay, and waits for the answer.
#[tokio::test(flavor = "multi_thread")]
async fn a_question_about_the_storage_that_nobody_answers_keeps_nothing_from_the_server() {
    within(async {
        let stage = Stage::start();
        let browser = Browser::start(home::empty(), PHONE).await;
        let never = json!({ "source": "navigator.storage.persist = () => new Promise(() => {});" });
        browser
            .devtools("Page.addScriptToEvaluateOnNewDocument", never)
            .await;
        browser.open(&stage.at("/records")).await;
        write_note(&browser, "wattle in flower").await;
        browser.see("#link-state", "With the server").await;
        assert_eq!(stage.journal.records().len(), 1);
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn entries_outlive_server_and_reload_and_arrive_once() {
    within(async {
        let mut stage = Stage::start();
        let browser = Browser::start(home::empty(), PHONE).await;
        browser.open(&stage.at("/records")).await;
        browser.offline_ready().await;
        write_note(&browser, "wattle in flower").await;
        browser.see("#count", "1 entry").await;
        browser.see("#link-state", "With the server").await;
        assert_eq!(stage.journal.records().len(), 1);

        stage.stop().await;
        browser.reload().await;
        browser.see("#count", "1 entry").await;
        write_note(&browser, "smoker left at the shed").await;
        browser.see("#count", "2 entries").await;
        browser.see("#link-state", "On this device only: 1").await;
        browser.open(&stage.at("/")).await;
        browser.open(&stage.at("/records")).await;
        browser.see("#count", "2 entries").await;
        browser.picture("records-without-server-390").await;

        stage.start_again();
        browser.see("#link-state", "With the server").await;
        browser.reload().await;
        browser.see("#link-state", "With the server").await;
        let held = stage.journal.records();
        let seqs: Vec<u64> = held.iter().map(|record| record.seq).collect();
        assert_eq!(seqs, [1, 2], "each once, in their order");
        assert_eq!(faults(&browser).await, Vec::<String>::new());
        browser.end().await;
    })
    .await;
}

/// Waits until the server's journal holds so many records.
async fn holds(stage: &Stage, records: usize) {
    for _ in 0..200 {
        if stage.journal.records().len() == records {
            return;
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    panic!("the server holds {} records", stage.journal.records().len());
}

#[tokio::test(flavor = "multi_thread")]
async fn another_journal_at_the_same_address_is_not_mixed_in_until_it_is_joined() {
    within(async {
        let mut stage = Stage::start();
        let browser = Browser::start(home::empty(), PHONE).await;
        browser.open(&stage.at("/records")).await;
        write_note(&browser, "the gate sticks").await;
        browser.see("#count", "1 entry").await;
        holds(&stage, 1).await;
        // it must have seen it come back
        browser.open(&stage.at("/records")).await;
        browser.see("#link-state", "With the server").await;
        stage.stop().await;

        // another data folder on the same port, empty at first
        stage.keep_in("another.sqlite");
        stage.start_again();
        write_note(&browser, "the gate is mended").await;
        browser.see("#count", "2 entries").await;
        browser.open(&stage.at("/records")).await;
        browser
            .see("#another-journal", "keeps another journal")
            .await;
        browser
            .see("#link-state", "Another journal at the server")
            .await;
        assert!(stage.journal.records().is_empty());

        // and then with a record of somebody else
        let other = Browser::start(home::empty(), PHONE).await;
        other.open(&stage.at("/records")).await;
        write_note(&other, "wax moth in the shed").await;
        holds(&stage, 1).await;
        other.end().await;
        browser.open(&stage.at("/records")).await;
        browser
            .see("#another-journal", "keeps another journal")
            .await;
        browser.see("#count", "2 entries").await;
        assert_eq!(stage.journal.records().len(), 1);
        let mut broken = Vec::new();
        for (look, light, print) in looks::LOOKS {
            looks::put_on(&browser, light, print).await;
            for (size, wide) in [(PHONE, "390"), (DESK, "1280")] {
                browser.resize(size).await;
                browser.open(&stage.at("/")).await;
                browser.find("#join").await;
                broken.extend(
                    looks::faults(&browser, &format!("another-journal-{look}-{wide}")).await,
                );
                browser.click("#join").await;
                browser.find("#join-now").await;
                broken.extend(
                    looks::faults(&browser, &format!("another-journal-sure-{look}-{wide}")).await,
                );
            }
        }
        assert_eq!(broken, Vec::<String>::new());
        browser.resize(PHONE).await;

        // with the right one it goes on by itself
        stage.stop().await;
        stage.keep_in(FIRST);
        stage.start_again();
        browser.open(&stage.at("/records")).await;
        browser.see("#link-state", "With the server").await;
        let notice = "return document.getElementById('another-journal') !== null";
        assert_eq!(browser.script(notice).await, serde_json::json!(false));
        holds(&stage, 2).await;

        stage.stop().await;
        stage.keep_in("another.sqlite");
        stage.start_again();
        browser.open(&stage.at("/records")).await;
        browser.click("#join").await;
        browser.see("#another-journal", "cannot be undone").await;
        // thought better of it
        browser.click("#join-not").await;
        browser.click("#join").await;
        assert_eq!(stage.journal.records().len(), 1);
        browser.click("#join-now").await;
        browser.see("#link-state", "With the server").await;
        browser.see("#count", "3 entries").await;
        holds(&stage, 3).await;
        // joined for good: a round more changes nothing
        browser.open(&stage.at("/records")).await;
        browser.see("#link-state", "With the server").await;
        assert_eq!(stage.journal.records().len(), 3);
        assert_eq!(faults(&browser).await, Vec::<String>::new());
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn two_tabs_that_write_at_once_make_one_chain() {
    const EACH: usize = 25;
    // writes in a row, as fast as the page takes it; timers would be slowed down in the tab behind
    let many = "const [tab, each] = arguments; const field = document.querySelector('#note');\
        const turn = () => new Promise((done) => { const c = new MessageChannel();\
          c.port1.onmessage = done; c.port2.postMessage(0); });\
        (async () => { for (let n = 0; n < each; n++) { field.value = `${tab} ${n}`;\
          field.form.requestSubmit(); await turn(); } })();";
    within(async {
        let stage = Stage::start();
        let browser = Browser::start(home::empty(), DESK).await;
        browser.open(&stage.at("/records")).await;
        let first = browser.client.window().await.expect("a window");
        let second = browser.client.new_window(true).await.expect("a tab").handle;
        browser
            .client
            .switch_to_window(second.clone())
            .await
            .expect("switches");
        browser.open(&stage.at("/records")).await;
        browser.find("#note").await;
        for (window, name) in [(&second, "second"), (&first, "first")] {
            browser
                .client
                .switch_to_window(window.clone())
                .await
                .expect("switches");
            let words = vec![name.into(), EACH.into()];
            browser
                .client
                .execute(many, words)
                .await
                .expect("the script runs");
        }
        browser
            .see("#count", &format!("{} entries", 2 * EACH))
            .await;
        browser
            .client
            .switch_to_window(second)
            .await
            .expect("switches");
        browser
            .see("#count", &format!("{} entries", 2 * EACH))
            .await;
        browser.see("#link-state", "With the server").await;
        let held = stage.journal.records();
        let devices: BTreeSet<_> = held.iter().map(|record| record.device).collect();
        let seqs: Vec<u64> = held.iter().map(|record| record.seq).collect();
        let all: Vec<u64> = (1..=2 * EACH as u64).collect();
        assert_eq!(
            (devices.len(), seqs),
            (1, all),
            "one device, one chain, no number twice"
        );
        assert!(
            held.windows(2).all(|two| two[1].prev == two[0].hash),
            "each follows the last"
        );
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn what_was_exported_is_taken_in_elsewhere() {
    within(async {
        let stage = Stage::start();
        let browser = Browser::start(home::empty(), DESK).await;
        browser.open(&stage.at("/records")).await;
        write_note(&browser, "five bars set back").await;
        browser.see("#count", "1 entry").await;
        let text = browser.saved_by("#export").await;
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("journal.jsonl");
        std::fs::write(&file, &text).expect("written");
        browser.end().await;

        let other = Stage::start();
        let browser = Browser::start(home::empty(), DESK).await;
        browser.open(&other.at("/records")).await;
        browser
            .type_into("#import", &file.display().to_string())
            .await;
        browser.see("#count", "1 entry").await;
        browser.see(".entries", "five bars set back").await;
        browser.see("#link-state", "With the server").await;
        assert_eq!(
            other.journal.records(),
            stage.journal.records(),
            "to the byte"
        );
        std::fs::write(&file, text.replace("five bars", "nine bars")).expect("written");
        browser
            .type_into("#import", &file.display().to_string())
            .await;
        browser.see("main", "Nothing was taken in. Line 2").await;
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn every_screen_is_drawn_at_both_sizes_without_complaint() {
    let screens = [
        "/",
        "/visit",
        "/closing-up",
        "/hive",
        "/new-hive",
        "/season",
        "/records",
        "/settings",
        "/nothing",
    ];
    within(async {
        let stage = Stage::start();
        let browser = Browser::start(home::empty(), PHONE).await;
        browser.open(&stage.at("/records")).await;
        write_note(&browser, "robbers at the entrance of Grevillea").await;
        for (look, light, print) in [
            ("light", "light", ""),
            ("dark", "dark", ""),
            ("large", "light", "large"),
        ] {
            let set = format!(
                "localStorage.setItem('light','{light}');localStorage.setItem('print','{print}')"
            );
            browser.script(&set).await;
            for (size, name) in [(PHONE, "390"), (DESK, "1280")] {
                browser.resize(size).await;
                for screen in screens {
                    browser.open(&stage.at(screen)).await;
                    browser.find("h1").await;
                    let small = browser.script(TOO_SMALL).await;
                    assert_eq!(small, serde_json::json!([]), "{screen} {name} {look}");
                    let word = screen.trim_start_matches('/');
                    let word = if word.is_empty() { "apiary" } else { word };
                    browser.picture(&format!("{word}-{look}-{name}")).await;
                }
            }
        }
        assert_eq!(faults(&browser).await, Vec::<String>::new());
        browser.end().await;
    })
    .await;
}

/// Targets under 64 px in height or width, and anything that sticks out to the side.
const TOO_SMALL: &str = "const seen = (e) => e.getClientRects().length > 0 && !e.matches('.skip');\
    const target = (e) => (e.closest('label') ?? e).getBoundingClientRect();\
    const small = [...document.querySelectorAll('a, button, input')].filter(seen)\
      .filter((e) => target(e).height < 63.5 || target(e).width < 63.5)\
      .map((e) => e.outerHTML.slice(0, 80));\
    const wide = document.documentElement.scrollWidth > innerWidth ? ['the page is too wide'] : [];\
    return [...small, ...wide];";
