//! What is fetched at once is small, what comes later comes, and nothing is missed without a network.

use std::time::Duration;

use serde_json::json;
use web_tests::browser::{Browser, PHONE};
use web_tests::home;
use web_tests::stage::Stage;

/// Compressed bytes that may be fetched before the first screen is there; BENCHMARKS.md tells how many
/// they are.
const LIMIT: u64 = 500_000;

/// Screens that are a part of their own, and their headings.
const LATER: [(&str, &str); 9] = [
    ("/visit", "Visit"),
    ("/closing-up", "Closing up"),
    ("/hive", "Hive"),
    ("/season", "Season"),
    ("/honey-house", "Honey house"),
    ("/lot/7", "Lot 7"),
    ("/new-hive", "New hive"),
    ("/records", "Records"),
    ("/settings", "Settings"),
];

async fn within(test: impl Future<Output = ()>) {
    tokio::time::timeout(Duration::from_mins(3), test)
        .await
        .expect("it takes too long");
}

/// The browser's own account: what came for the page, each address once, without headers, as it was
/// compressed (Resource Timing, encodedBodySize).
const FETCHED: &str = "const all = ['navigation', 'resource']\
      .flatMap((kind) => performance.getEntriesByType(kind));\
    return Object.fromEntries(all.map((one) => [one.name, one.encodedBodySize]));";

#[tokio::test(flavor = "multi_thread")]
async fn the_first_load_stays_under_its_limit() {
    within(async {
        let stage = Stage::start();
        let browser = Browser::start(home::empty(), PHONE).await;
        browser.open(&stage.at("/")).await;
        browser.see("h1", "Apiary").await;
        let fetched = browser.script(FETCHED).await;
        let fetched = fetched.as_object().expect("addresses and their bytes");
        let holds = |name: &str| fetched.keys().any(|address| address.contains(name));
        assert!(
            holds("web_bg.wasm"),
            "the app itself is counted: {fetched:?}"
        );
        assert!(!holds("split_"), "parts come later: {fetched:?}");
        let bytes: u64 = fetched.values().filter_map(serde_json::Value::as_u64).sum();
        assert!(bytes <= LIMIT, "{bytes} bytes are fetched: {fetched:?}");
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn after_the_first_load_every_screen_opens_without_a_network() {
    within(async {
        let mut stage = Stage::start();
        let browser = Browser::start(home::empty(), PHONE).await;
        browser.open(&stage.at("/")).await;
        browser.offline_ready().await;
        stage.stop().await;
        for (path, heading) in LATER {
            browser.open(&stage.at(path)).await;
            browser.see("h1", heading).await;
        }
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_part_that_cannot_be_fetched_says_so_and_comes_when_asked_again() {
    within(async {
        let mut stage = Stage::start();
        let browser = Browser::start(home::empty(), PHONE).await;
        // a browser that keeps nothing for work without a network
        let bare = "Object.defineProperty(navigator, 'serviceWorker', { value: undefined })";
        browser
            .devtools(
                "Page.addScriptToEvaluateOnNewDocument",
                json!({ "source": bare }),
            )
            .await;
        browser.open(&stage.at("/")).await;
        stage.stop().await;
        browser.click("nav a[href='/settings']").await;
        browser
            .see("main", "This part of the app is not here")
            .await;
        browser.picture("part-missing-390").await;
        browser.click("nav a[href='/']").await;
        browser.see("h1", "Apiary").await;
        browser.click("nav a[href='/settings']").await;
        browser.click("#fetch").await;
        browser
            .see("main", "This part of the app is not here")
            .await;
        stage.start_again();
        browser.click("#fetch").await;
        browser.see("main", "Light").await;
        browser.end().await;
    })
    .await;
}
