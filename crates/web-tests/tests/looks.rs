//! Every screen in light, dark and large print, on the phone and at the desk: no rule of
//! accessibility broken, no target too small, nothing sticking out.

use std::time::Duration;

use web_tests::browser::{Browser, DESK, PHONE};
use web_tests::looks::{LOOKS, faults, faults_in_every_look, put_on};
use web_tests::stage::Stage;
use web_tests::{home, wattle_bend};

/// Name for the picture, where it is, what to do there before it is looked at.
const SCREENS: [(&str, &str, &str); 7] = [
    ("apiary", "/", ""),
    (
        "hive",
        "HIVE",
        "document.querySelector('.bar-numbers li:nth-child(9) button').click()",
    ),
    ("new-hive", "/new-hive", ""),
    (
        "records",
        "/records",
        "document.querySelector('.change').click()",
    ),
    (
        "settings",
        "/settings",
        "document.querySelector('#another-place').click()",
    ),
    ("choose-hive", "/hive", ""),
    ("season", "/season", ""),
];

#[tokio::test(flavor = "multi_thread")]
async fn every_screen_obeys_the_rules_in_every_look() {
    let test = async {
        let stage = Stage::start();
        let browser = Browser::start(home::empty(), PHONE).await;
        wattle_bend::bring(&browser, &stage).await;
        let ironbark = "const done = arguments[arguments.length - 1];\
            const wait = setInterval(() => {\
              const link = [...document.querySelectorAll('a.row')].find((a) => a.textContent === 'Ironbark');\
              if (link) { clearInterval(wait); done(link.getAttribute('href')); } }, 20);";
        browser.open(&stage.at("/hive")).await;
        let hive = browser.client.execute_async(ironbark, vec![]).await;
        let hive = hive.expect("the script runs");
        let hive = hive.as_str().expect("an address").to_owned();
        let mut broken = Vec::new();
        for (name, path, act) in SCREENS {
            let path = if path == "HIVE" { hive.as_str() } else { path };
            broken.extend(faults_in_every_look(&browser, name, &stage.at(path), act).await);
        }
        assert_eq!(browser.complaints().await, Vec::<String>::new());
        assert!(broken.is_empty(), "{}", broken.join("\n"));
        browser.end().await;
    };
    tokio::time::timeout(Duration::from_mins(6), test)
        .await
        .expect("it takes too long");
}

/// A visit that goes on and its closing, which lead on from where they were left at each opening.
#[tokio::test(flavor = "multi_thread")]
async fn an_open_visit_obeys_the_rules_in_every_look() {
    let test = async {
        let stage = Stage::start();
        let browser = Browser::start(home::empty(), PHONE).await;
        wattle_bend::bring(&browser, &stage).await;
        browser.open(&stage.at("/visit")).await;
        let first = "const done = arguments[arguments.length - 1];\
            const wait = setInterval(() => {\
              const link = document.querySelector('ul.rows a.row');\
              if (link) { clearInterval(wait); done(link.getAttribute('href')); } }, 20);";
        let visit = browser.client.execute_async(first, vec![]).await;
        let visit = visit.expect("the script runs");
        let visit = visit.as_str().expect("an address").to_owned();
        browser.open(&stage.at(&visit)).await;
        browser.click("#end-right").await;
        browser
            .type_into("#phrase", "next one two thirds capped both sides")
            .await;
        browser.type_into("#phrase", "\u{e007}").await;
        browser.see("#in-hand", "Bar").await;
        // with what may stand on the screen beside the comb
        browser
            .type_into("#phrase", "next one half capped\u{e007}")
            .await;
        browser.see("#loose", "of no side").await;
        browser.see("#keeping", "Kept on this device").await;
        browser
            .script("localStorage.setItem('voice-recorded', 'gave-way')")
            .await;
        let mut broken = Vec::new();
        let unfold = "for (const one of document.querySelectorAll('details')) one.open = true";
        for (name, path, there) in [
            ("visit-open", visit.clone(), "#take"),
            (
                "closing-open",
                visit.replace("/visit", "/closing-up"),
                "#step",
            ),
        ] {
            for (look, light, print) in LOOKS {
                put_on(&browser, light, print).await;
                for (size, wide) in [(PHONE, "390"), (DESK, "1280")] {
                    browser.resize(size).await;
                    browser.open(&stage.at(&path)).await;
                    browser.find(there).await;
                    browser.script(unfold).await;
                    broken.extend(faults(&browser, &format!("{name}-{look}-{wide}")).await);
                }
            }
        }
        assert_eq!(browser.complaints().await, Vec::<String>::new());
        assert!(broken.is_empty(), "{}", broken.join("\n"));
        browser.end().await;
    };
    tokio::time::timeout(Duration::from_mins(6), test)
        .await
        .expect("it takes too long");
}
