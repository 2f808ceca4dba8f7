//! Accessibility rules, checked in the page by axe-core (see `assets/axe-core/PROVENANCE.md`).

use serde_json::Value;

use crate::browser::Browser;

const AXE: &str = include_str!("../assets/axe-core/axe.min.js");

/// All rules that stand for WCAG 2.2, levels A and AA, and the project's own good practices.
const RUN: &str = "const done = arguments[arguments.length - 1];\
    const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];\
    axe.run(document, { runOnly: { type: 'tag', values: tags } }).then(\
      (found) => done({ checked: found.passes.length, broken: found.violations.map((rule) =>\
        `${rule.id}: ${rule.nodes.map((node) => `${node.html.slice(0, 160)} (${node.failureSummary})`).join(' | ')}`) }),\
      (why) => done({ checked: 0, broken: [String(why)] }));";

/// The rules that the page breaks, each with what breaks it. The whole page is looked at: a target that
/// happens to lie half under the navigation at the window's foot can be scrolled from under it.
pub async fn violations(browser: &Browser) -> Vec<String> {
    let size = browser.stretch().await;
    browser
        .client
        .execute(AXE, vec![])
        .await
        .expect("the checker loads");
    let told = browser.client.execute_async(RUN, vec![]).await;
    let told = told.expect("the checker runs");
    browser.resize(size).await;
    assert!(
        told["checked"].as_u64().unwrap_or_default() > 5,
        "the checker looked at nothing: {told}"
    );
    let broken = told["broken"].as_array().cloned().unwrap_or_default();
    let words = |rule: &Value| rule.as_str().unwrap_or_default().to_owned();
    broken.iter().map(words).collect()
}
