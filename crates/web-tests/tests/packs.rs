//! A start reads the journal's texts in packs, and every row where a pack is not whole.

#[path = "yard/mod.rs"]
mod yard;

use std::time::Duration;

use serde_json::json;
use web_tests::browser::{Browser, PHONE};
use web_tests::home;
use web_tests::stage::Stage;

/// Does something with the database's stores and waits for it; `records` and `facts` are at hand.
fn with_stores(what: &str) -> String {
    format!(
        "const done = arguments[arguments.length - 1]; const open = indexedDB.open('combwright');\
         open.onsuccess = () => {{ const db = open.result;\
           const tx = db.transaction(['records', 'facts'], 'readwrite');\
           const records = tx.objectStore('records'), facts = tx.objectStore('facts');\
           let told = null; {what}\
           tx.oncomplete = () => {{ db.close(); done(told); }}; }};"
    )
}

async fn ask(browser: &Browser, what: &str) -> serde_json::Value {
    let script = with_stores(what);
    let told = browser.client.execute_async(&script, vec![]).await;
    told.expect("the script runs")
}

async fn packs(browser: &Browser) -> serde_json::Value {
    let names = "facts.getAllKeys(IDBKeyRange.bound('pack:', 'pack:z')).onsuccess =\
                 (event) => { told = event.target.result; };";
    ask(browser, names).await
}

#[tokio::test(flavor = "multi_thread")]
async fn a_start_reads_packs_and_goes_back_to_the_rows() {
    let test = async {
        let stage = Stage::start();
        let folder = tempfile::tempdir().expect("a folder");
        let file = yard::journal(folder.path(), 1100);
        let written = std::fs::read_to_string(&file).map_or(0, |text| text.lines().count() - 1);
        let all = format!("{written} entries");
        let browser = Browser::start(home::empty(), PHONE).await;
        browser.open(&stage.at("/records")).await;
        browser
            .type_into("#import", &file.display().to_string())
            .await;
        browser.see_within("#count", &all, 60).await;
        let both = json!(["pack:0000000000000500", "pack:0000000000001000"]);
        while packs(&browser).await != both {
            tokio::time::sleep(Duration::from_millis(200)).await;
        }
        // a pack that is cut short is not believed: the rows are read, and packed again
        let cut = "facts.get('pack:0000000000000500').onsuccess = (event) => {\
                     const text = event.target.result;\
                     facts.put(text.slice(0, text.lastIndexOf('\\n')), 'pack:0000000000000500'); };";
        let first = "facts.get('pack:0000000000000500').onsuccess =\
                     (event) => { told = event.target.result; };";
        let whole = ask(&browser, first).await;
        ask(&browser, cut).await;
        browser.open(&stage.at("/records")).await;
        browser.see("#count", &all).await;
        while ask(&browser, first).await != whole {
            tokio::time::sleep(Duration::from_millis(200)).await;
        }
        // a text that lies in its pack only is not missed: the pack is what was read
        let lost = "records.get(7).onsuccess = (event) => {\
                      const row = event.target.result; delete row.text; records.put(row); };";
        ask(&browser, lost).await;
        browser.open(&stage.at("/records")).await;
        browser.see("#count", &all).await;
        // nor is it packed while a row of it is damaged
        ask(&browser, cut).await;
        browser.open(&stage.at("/records")).await;
        let but_one = format!("{} entries", written - 1);
        browser.see("#count", &but_one).await;
    };
    tokio::time::timeout(Duration::from_mins(4), test)
        .await
        .expect("it takes too long");
}
