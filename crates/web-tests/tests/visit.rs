//! A visit in the browser: by text, by taps, undone, broken off, without a server from first to last.

mod yard;

use std::time::Duration;

use web_tests::browser::{Browser, DESK, PHONE};
use web_tests::home;
use web_tests::stage::Stage;

/// A hard end for a test that hangs, so that its browser ends too.
async fn within(test: impl Future<Output = ()>) {
    tokio::time::timeout(Duration::from_mins(4), test)
        .await
        .expect("it takes too long");
}

/// The visit's address.
fn visit() -> String {
    format!("/visit/{}", yard::IRONBARK)
}

/// A browser with the yard in it, and the server stopped.
async fn at_the_hive(stage: &mut Stage, size: web_tests::browser::Size) -> Browser {
    let folder = tempfile::tempdir().expect("a folder");
    let file = yard::journal(folder.path(), 0);
    let browser = Browser::start(home::empty(), size).await;
    browser.open(&stage.at("/records")).await;
    browser.offline_ready().await;
    browser
        .type_into("#import", &file.display().to_string())
        .await;
    browser.see("#count", "entries").await;
    stage.stop().await;
    browser.open(&stage.at(&visit())).await;
    browser.find(".visit-live").await;
    browser
}

async fn say(browser: &Browser, words: &str) {
    browser.type_into("#phrase", words).await;
    browser.type_into("#phrase", "\u{e007}").await;
}

async fn kept(browser: &Browser) {
    browser.see("#keeping", "Kept on this device").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_visit_typed_without_a_server_is_shown_and_kept() {
    within(async {
        let mut stage = Stage::start();
        let browser = at_the_hive(&mut stage, PHONE).await;
        browser.picture("visit-begin-390").await;
        for words in yard::SPOKEN {
            say(&browser, words).await;
            if words.starts_with("bar nineteen") {
                browser.see("#in-hand", "Bar 19").await;
                browser.picture("visit-one-side-390").await;
            }
        }
        browser.see("#in-hand", "Bar 9").await;
        browser.see("#running-count", "2").await;
        kept(&browser).await;
        browser.picture("visit-spoken-390").await;
        browser.resize(DESK).await;
        browser.picture("visit-spoken-1280").await;
        let complaints = browser.complaints().await;
        let faults: Vec<_> = complaints
            .iter()
            .filter(|line| !line.contains("ERR_CONNECTION_REFUSED"))
            .collect();
        assert_eq!(faults, Vec::<&String>::new());
        browser.end().await;
    })
    .await;
}
