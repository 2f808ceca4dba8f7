//! The app in other engines than Chromium's: a visit typed without a server, a page left and come back to,
//! every screen without a network. These browsers recognise no speech, so that the keyboard's dictation
//! key is the voice.
//!
//! Firefox wants a driver that Debian does not have: `cargo install geckodriver`, then
//! `COMBWRIGHT_SKIP_WEB=0 cargo test -p web-tests --features engines --test engines -- --ignored`.

mod visiting;

use serde_json::json;
use visiting::{arrived, assert_spoken, comes_true, kept, visit, within, write, yard};
use web_tests::browser::{Browser, PHONE};
use web_tests::engine::Engine;
use web_tests::home;
use web_tests::stage::Stage;

#[tokio::test(flavor = "multi_thread")]
async fn a_visit_in_webkit() {
    within(a_visit_in(Engine::WebKit)).await;
}

#[tokio::test(flavor = "multi_thread")]
#[ignore = "needs firefox-esr and geckodriver"]
async fn a_visit_in_firefox() {
    within(a_visit_in(Engine::Firefox)).await;
}

/// Every screen by its path.
const SCREENS: [&str; 9] = [
    "/",
    "/visit",
    "/closing-up",
    "/hive",
    "/records",
    "/settings",
    "/season",
    "/honey-house",
    "/new-hive",
];

async fn a_visit_in(engine: Engine) {
    let mut stage = Stage::start();
    let folder = tempfile::tempdir().expect("a folder");
    let file = yard::journal(folder.path(), 0);
    let browser = Browser::start_other(engine, home::empty(), PHONE).await;
    browser.open(&stage.at("/records")).await;
    // whatever the browser asks the keeper meanwhile
    browser.see("#link-state", "With the server").await;
    browser.offline_ready().await;
    browser
        .type_into("#import", &file.display().to_string())
        .await;
    let entries = yard::ENTRIES;
    browser.see("#count", &format!("{entries} entries")).await;
    browser.see("#link-state", "With the server").await;
    let newer = "return document.body.textContent.includes('newer version')";
    assert_eq!(browser.script(newer).await, json!(false), "it is the first");
    stage.stop().await;

    browser.open(&stage.at(&visit())).await;
    browser.see("#listen", "Dictate").await;
    browser.click("#listen").await;
    comes_true(&browser, "return document.activeElement.id === 'phrase'").await;
    let (before, after) = yard::SPOKEN.split_at(17);
    for words in before {
        write(&browser, words).await;
    }
    browser.see("#in-hand", "Bar 14").await;
    kept(&browser).await;
    // left and come back to, again and again: the journal must open each time
    for path in ["/", &visit(), "/records", &visit()] {
        browser.open(&stage.at(path)).await;
    }
    browser.see("#in-hand", "Bar 14").await;
    for words in after {
        write(&browser, words).await;
        if *words == "how many are left" {
            browser.see("#answer", "10 of 12 looked at stay").await;
        }
    }
    browser.see("#in-hand", "Bar 9").await;
    kept(&browser).await;
    // Firefox's driver reloads past the service worker, so the address is opened again
    browser.open(&stage.at(&visit())).await;
    browser.see("#in-hand", "Bar 9").await;
    browser.click("#stop").await;
    browser.see("h1", "Closing up").await;
    comes_true(&browser, "return scrollY === 0").await;
    for path in SCREENS {
        browser.open(&stage.at(path)).await;
        browser.find("h1").await;
    }
    let hive = arrived(&mut stage, &browser).await;
    assert_spoken(&hive);
    browser.end().await;
}
