//! At a hive with a browser: what the tests of the visit and of the voice share.
#![allow(dead_code, reason = "each test uses a part")]

#[path = "../yard/mod.rs"]
pub(crate) mod yard;

use std::path::Path;
use std::time::Duration;

use hive::entry::{Decision, Harvest};
use hive::{Entry, Hive, Yard};
use serde_json::json;
use web_tests::browser::{Browser, Size};
use web_tests::home;
use web_tests::recognition::Recognition;
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

/// The same with the browser's own recogniser, and this service behind it.
pub(crate) async fn at_the_hive_heard_by(
    stage: &mut Stage,
    size: Size,
    recognition: &Recognition,
) -> Browser {
    let folder = tempfile::tempdir().expect("a folder");
    let file = yard::journal(folder.path(), 0);
    let home = home::empty();
    let around = recognition.around(home.path());
    let browser = Browser::start_in(home, size, around).await;
    bring_to_the_hive(browser, stage, &file, yard::ENTRIES as usize).await
}

async fn come_to_the_hive(
    browser: Browser,
    stage: &mut Stage,
    file: &Path,
    entries: usize,
) -> Browser {
    begin_with(&browser, FAKE_VOICE).await;
    bring_to_the_hive(browser, stage, file, entries).await
}

async fn bring_to_the_hive(
    browser: Browser,
    stage: &mut Stage,
    file: &Path,
    entries: usize,
) -> Browser {
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

/// Starts the server again and waits until everything is there; the hive as its journal has it.
pub(crate) async fn arrived(stage: &mut Stage, browser: &Browser) -> Hive {
    let yard = arrived_yard(stage, browser).await;
    assert_eq!(yard.faults().count(), 0, "{:?}", yard.faults().next());
    yard.hive(yard::IRONBARK).expect("Ironbark").clone()
}

/// The same for the whole yard.
pub(crate) async fn arrived_yard(stage: &mut Stage, browser: &Browser) -> Yard {
    stage.start_again();
    // a page that is opened tries at once
    browser.open(&stage.at("/records")).await;
    browser.see("#link-state", "With the server").await;
    let records = stage.journal.records();
    let entries = records
        .iter()
        .map(|record| Entry::parse(&record.text).expect("an entry"));
    let yard = Yard::fold(entries);
    // a bar that is given another number is told, too
    let refused: Vec<_> = yard.faults().filter(|fault| !fault.applied).collect();
    assert!(refused.is_empty(), "{refused:?}");
    yard
}

pub(crate) fn decisions(hive: &Hive) -> Vec<(u32, Decision)> {
    let visit = hive.last_visit().expect("a visit");
    let number = |bar| hive.bars[&bar].number;
    let mut all: Vec<_> = visit
        .decisions
        .iter()
        .map(|(bar, decision)| (number(*bar), *decision))
        .collect();
    all.sort_by_key(|(number, _)| *number);
    all
}

pub(crate) fn taken(hive: &Hive) -> Vec<(u32, Harvest)> {
    let visit = hive.last_visit().expect("a visit");
    let taken = visit.taken.iter();
    taken.map(|t| (hive.bars[&t.bar].number, t.how)).collect()
}

/// What the visit of [`yard::SPOKEN`] comes to, written down by hand.
pub(crate) fn assert_spoken(hive: &Hive) {
    assert_eq!(hive.visits.len(), 1);
    assert_eq!(taken(hive), [(20, Harvest::Cut), (19, Harvest::Cut)]);
    let mut wanted: Vec<_> = (9..=18).map(|n| (n, Decision::Leave)).collect();
    wanted.extend([(19, Decision::Take), (20, Decision::Take)]);
    assert_eq!(decisions(hive), wanted);
    let contents = |number| hive.bar_numbered(number).expect("a bar").known_contents();
    let eighteen = contents(18);
    // the right end is open: this side looks right
    let percent = |share: Option<comb::Share>| share.map(|s| s.to_percent().round());
    assert_eq!(percent(eighteen.right.capped_share()), Some(67.0));
    assert_eq!(percent(eighteen.left.capped_share()), Some(50.0));
    assert!(contents(12).has_brood() && contents(9).has_brood());
    assert_eq!(hive.queen_seen.len(), 1);
    assert_eq!(hive.queen_seen[0].bar, Some(yard::bar(11)));
    let weather = &hive.last_visit().expect("a visit").weather;
    assert_eq!(
        weather.temperature_c.map(comb::Temperature::to_celsius),
        Some(23.0)
    );
}
