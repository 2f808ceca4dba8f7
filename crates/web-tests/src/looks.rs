//! How a screen must look whatever the keeper has chosen: no rule of accessibility broken, no target
//! too small, nothing sticking out.

use serde_json::json;

use crate::axe;
use crate::browser::{Browser, DESK, PHONE};

/// Name, light, print.
pub const LOOKS: [(&str, &str, &str); 3] = [
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

/// What is wrong with the screen as it stands; a picture of all of it is taken under that name.
pub async fn faults(browser: &Browser, name: &str) -> Vec<String> {
    let mut broken = Vec::new();
    let small = browser.script(TOO_SMALL).await;
    if small != json!([]) {
        broken.push(format!("{name}: too small {small}"));
    }
    let rules = axe::violations(browser).await;
    broken.extend(rules.into_iter().map(|rule| format!("{name}: {rule}")));
    browser.whole_picture(name).await;
    broken
}

/// The same in every look, on the phone and at the desk. `act` is a script that opens what is to be
/// seen.
pub async fn faults_in_every_look(
    browser: &Browser,
    name: &str,
    address: &str,
    act: &str,
) -> Vec<String> {
    let mut broken = Vec::new();
    for (look, light, print) in LOOKS {
        put_on(browser, light, print).await;
        for (size, wide) in [(PHONE, "390"), (DESK, "1280")] {
            browser.resize(size).await;
            browser.open(address).await;
            browser.find("h1").await;
            if !act.is_empty() {
                browser.script(act).await;
            }
            broken.extend(faults(browser, &format!("{name}-{look}-{wide}")).await);
        }
    }
    broken
}

/// Puts a look on, from the next page on.
pub async fn put_on(browser: &Browser, light: &str, print: &str) {
    let set =
        format!("localStorage.setItem('light','{light}');localStorage.setItem('print','{print}')");
    browser.script(&set).await;
}
