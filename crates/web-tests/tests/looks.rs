//! Every screen in light, dark and large print, on the phone and at the desk: no rule of
//! accessibility broken, no target too small, nothing sticking out.

use std::time::Duration;

use serde_json::json;
use web_tests::browser::{Browser, DESK, PHONE};
use web_tests::stage::Stage;
use web_tests::{axe, home, wattle_bend};

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

const LOOKS: [(&str, &str, &str); 3] = [
    ("light", "light", ""),
    ("dark", "dark", ""),
    ("large", "light", "large"),
];

/// Targets under 64 px in height or width, and anything that sticks out to the side.
const TOO_SMALL: &str = "const seen = (e) => e.getClientRects().length > 0 && !e.matches('.skip');\
    const target = (e) => (e.closest('label') ?? e).getBoundingClientRect();\
    const small = [...document.querySelectorAll('a, button, input, select, summary')].filter(seen)\
      .filter((e) => target(e).height < 63.5 || target(e).width < 63.5)\
      .map((e) => e.outerHTML.slice(0, 120));\
    const wide = document.documentElement.scrollWidth > innerWidth ? ['the page is too wide'] : [];\
    return [...small, ...wide];";

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
        for (look, light, print) in LOOKS {
            let set = format!(
                "localStorage.setItem('light','{light}');localStorage.setItem('print','{print}')"
            );
            browser.script(&set).await;
            for (size, wide) in [(PHONE, "390"), (DESK, "1280")] {
                browser.resize(size).await;
                for (name, path, act) in SCREENS {
                    let path = if path == "HIVE" { hive.as_str() } else { path };
                    browser.open(&stage.at(path)).await;
                    browser.find("h1").await;
                    if !act.is_empty() {
                        browser.script(act).await;
                    }
                    let at = format!("{name} {look} {wide}");
                    let small = browser.script(TOO_SMALL).await;
                    if small != json!([]) {
                        broken.push(format!("{at}: too small {small}"));
                    }
                    let rules = axe::violations(&browser).await;
                    broken.extend(rules.into_iter().map(|rule| format!("{at}: {rule}")));
                    browser
                        .whole_picture(&format!("{name}-{look}-{wide}"))
                        .await;
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
