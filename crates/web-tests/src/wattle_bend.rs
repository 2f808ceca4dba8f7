//! The invented yard Wattle Bend as its season ends on 20 November 2026, as the command line exports
//! it: `combwright yard demo --on 2026-11-20T17:00`, then `combwright journal export`.

use std::path::PathBuf;

use crate::browser::Browser;
use crate::stage::Stage;

/// A morning two days after the season was told.
pub const MORNING: &str = "2026-11-22T08:00:00Z";
/// Entries in it.
pub const ENTRIES: usize = 581;

/// Its journal, one entry a line.
pub fn journal() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("assets/wattle-bend.jsonl")
}

/// Has a browser begin on that morning and take the journal in by its file.
pub async fn bring(browser: &Browser, stage: &Stage) {
    browser.begin_at(MORNING).await;
    browser.open(&stage.at("/records")).await;
    browser
        .type_into("#import", &journal().display().to_string())
        .await;
    browser.see("#count", &format!("{ENTRIES} entries")).await;
}
