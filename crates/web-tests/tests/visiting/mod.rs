//! At a hive with a browser: what the tests of the visit and of the voice share.
#![allow(dead_code, reason = "each test uses a part")]

#[path = "../yard/mod.rs"]
pub(crate) mod yard;

use std::path::Path;
use std::time::Duration;

use serde_json::json;
use web_tests::browser::{Browser, Size};
use web_tests::home;
use web_tests::stage::Stage;

/// A hard end for a test that hangs, so that its browser ends too.
pub(crate) async fn within(test: impl Future<Output = ()>) {
    tokio::time::timeout(Duration::from_mins(5), test)
        .await
        .expect("it takes too long");
}

/// A recogniser and a voice of the test's own, under the names that pages know: it ends after each
/// sentence, as on phones.
pub(crate) const FAKE_VOICE: &str = include_str!("../fake_voice.js");

/// The visit's address.
pub(crate) fn visit() -> String {
    format!("/visit/{}", yard::IRONBARK)
}

/// A browser with the yard in it, and the server stopped.
pub(crate) async fn at_the_hive(stage: &mut Stage, size: Size) -> Browser {
    at_the_hive_with(stage, size, "").await
}

/// The same, where every page begins with a script.
pub(crate) async fn at_the_hive_with(stage: &mut Stage, size: Size, script: &str) -> Browser {
    let folder = tempfile::tempdir().expect("a folder");
    let file = yard::journal(folder.path(), 0);
    let browser = Browser::start(home::empty(), size).await;
    begin_with(&browser, script).await;
    come_to_the_hive(browser, stage, &file, yard::ENTRIES as usize).await
}

/// The same with the yard of a file with so many entries.
pub(crate) async fn at_the_hive_of(
    stage: &mut Stage,
    size: Size,
    file: &Path,
    entries: usize,
) -> Browser {
    let browser = Browser::start(home::empty(), size).await;
    come_to_the_hive(browser, stage, file, entries).await
}

async fn come_to_the_hive(
    browser: Browser,
    stage: &mut Stage,
    file: &Path,
    entries: usize,
) -> Browser {
    begin_with(&browser, FAKE_VOICE).await;
    browser.open(&stage.at("/records")).await;
    browser.offline_ready().await;
    browser
        .type_into("#import", &file.display().to_string())
        .await;
    browser.see("#count", &format!("{entries} entries")).await;
    stage.stop().await;
    browser.open(&stage.at(&visit())).await;
    browser.find(".visit-live").await;
    browser
}

/// Every page from now on begins with a script.
pub(crate) async fn begin_with(browser: &Browser, script: &str) {
    let script = json!({ "source": script });
    browser
        .devtools("Page.addScriptToEvaluateOnNewDocument", script)
        .await;
}

/// Types a phrase.
pub(crate) async fn write(browser: &Browser, words: &str) {
    browser.type_into("#phrase", words).await;
    browser.type_into("#phrase", "\u{e007}").await;
}

/// Speaks a phrase, once it is heard.
pub(crate) async fn speak(browser: &Browser, words: &str) {
    let script = format!("return window.speakToIt({})", json!(words));
    for _ in 0..400 {
        if browser.script(&script).await == json!(true) {
            return;
        }
        tokio::time::sleep(Duration::from_millis(25)).await;
    }
    panic!("it does not listen, {words:?} is lost");
}

/// Waits until a script says so.
pub(crate) async fn comes_true(browser: &Browser, script: &str) {
    for _ in 0..200 {
        if browser.script(script).await == json!(true) {
            return;
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    panic!("it does not come true: {script}");
}

/// Waits until everything is kept.
pub(crate) async fn kept(browser: &Browser) {
    browser.see("#keeping", "Kept on this device").await;
}
