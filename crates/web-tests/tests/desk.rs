//! The yard looked after at the desk: a hive set up, looked at through time, corrected, settled.

use std::time::Duration;

use serde_json::json;
use web_tests::browser::{Browser, DESK, PHONE};
use web_tests::stage::Stage;
use web_tests::{home, wattle_bend};

async fn within(test: impl Future<Output = ()>) {
    tokio::time::timeout(Duration::from_mins(3), test)
        .await
        .expect("it takes too long");
}

async fn number(browser: &Browser, script: &str) -> u64 {
    browser.script(script).await.as_u64().expect("a number")
}

/// What the entries of a kind say, in the order in which they were written.
fn told(stage: &Stage, kind: &str) -> Vec<serde_json::Value> {
    let records = stage.journal.records().into_iter();
    records
        .map(|record| serde_json::from_str::<serde_json::Value>(&record.text).expect("JSON"))
        .filter(|entry| entry["what"]["kind"] == kind)
        .collect()
}

#[tokio::test(flavor = "multi_thread")]
async fn a_hive_is_made_by_the_form_and_stands_in_the_apiary() {
    within(async {
        let stage = Stage::start();
        let browser = Browser::start(home::empty(), PHONE).await;
        browser.open(&stage.at("/")).await;
        browser.see("main", "No hive yet").await;
        browser.click("main a[href='/new-hive']").await;
        browser.see("h1", "New hive").await;
        // the first outline: 1200 mm long, 33 bars of 35 mm beside two follower boards
        browser.find("#planned svg").await;
        let drawn = "return document.querySelectorAll('#planned [data-bar]').length";
        assert_eq!(number(&browser, drawn).await, 33);

        browser.write_into("#top", "15").await;
        browser
            .see("#top-told", "If you measured in inches, write 381")
            .await;
        browser
            .see(".drawing", "the last measures that can be")
            .await;
        browser.picture("new-hive-refused-390").await;
        browser.write_into("#top", "381").await;
        browser.write_into("#count", "40").await;
        browser.see("#count-told", "From 1 to 33").await;
        browser.write_into("#count", "20").await;
        browser.write_into("#combs-from", "1").await;
        browser.write_into("#combs-to", "8").await;

        browser.click("#begin").await;
        browser.see("#hive-name-told", "Give the hive a name").await;
        browser
            .see("#place-name-told", "Give the apiary a name")
            .await;
        // the form is long: the first field that is wrong is gone to
        browser.find("#hive-name:focus").await;
        assert!(
            stage.journal.records().is_empty(),
            "nothing is half-written"
        );
        browser.write_into("#hive-name", "Boronia").await;
        browser.write_into("#place-name", "Creek paddock").await;
        browser.write_into("#latitude", "-34.4").await;
        browser.click("#begin").await;
        browser.see("#longitude-told", "Give both").await;
        browser.write_into("#longitude", "150.9").await;
        browser.click("#winter-mild_coast").await;
        browser.click("#begin").await;

        browser.see("h1", "Boronia").await;
        browser.see("main", "Stands in Creek paddock").await;
        browser.see("main", "To ask the local authority").await;
        let bars = "return document.querySelectorAll('#section [data-bar]').length";
        browser.find("#section svg").await;
        assert_eq!(number(&browser, bars).await, 20);
        browser.see("#link-state", "With the server").await;
        let started = told(&stage, "hive_started");
        assert_eq!(started.len(), 1);
        assert_eq!(started[0]["what"]["body"]["top_width_mm"], json!(381.0));
        let combs = told(&stage, "bar_added");
        let with_comb = combs.iter().filter(|bar| bar["what"]["hanging"] == "comb");
        assert_eq!((combs.len(), with_comb.count()), (20, 8));
        let place = &told(&stage, "apiary")[0]["what"]["place"];
        assert_eq!(place["latitude"], json!(-34.4));

        browser.open(&stage.at("/")).await;
        browser.see(".card", "Boronia").await;
        browser.see(".card", "A first visit").await;
        browser.see("main", "Creek paddock").await;
        browser.open(&stage.at("/new-hive")).await;
        browser.write_into("#hive-name", "boronia").await;
        browser.click("#begin").await;
        browser
            .see("#hive-name-told", "There is a living hive named boronia")
            .await;
        assert_eq!(browser.complaints().await, Vec::<String>::new());
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn the_hive_is_shown_as_it_stood_on_any_day_and_each_comb_has_its_life() {
    within(async {
        let stage = Stage::start();
        let browser = Browser::start(home::empty(), DESK).await;
        wattle_bend::bring(&browser, &stage).await;
        browser.open(&stage.at("/")).await;
        browser.see("main", "Ironbark").await;
        browser.open(&stage.at("/hive")).await;
        browser
            .client
            .find(fantoccini::Locator::LinkText("Ironbark"))
            .await
            .expect("a link")
            .click()
            .await
            .expect("it can be clicked");
        browser.see("h1", "Ironbark").await;
        browser.see("#through-time", "Sun 22 Nov 2026").await;
        browser.find("#section svg").await;
        let picture = "return document.querySelector('#section').innerHTML";
        let now = browser.script(picture).await;

        // by the keyboard: Home is the first day
        browser.type_into("#day", "\u{e011}").await;
        let first = browser
            .script("return document.querySelector('#through-time').textContent")
            .await;
        assert_ne!(first, json!("The hive on Sun 22 Nov 2026"));
        let then = browser.script(picture).await;
        assert_ne!(then, now, "it stood otherwise on its first day");
        assert_eq!(
            number(
                &browser,
                "return Number(document.querySelector('#day').value)"
            )
            .await,
            0
        );
        browser.click("#later").await;
        let step = number(
            &browser,
            "return Number(document.querySelector('#day').value)",
        )
        .await;
        assert!(step > 0, "the next day with a record");
        browser.click("#now").await;
        browser.see("#through-time", "Sun 22 Nov 2026").await;
        assert_eq!(browser.script(picture).await, now);

        let tap = "document.querySelector('#section [data-bar] path, #section [data-bar] rect')\
            .dispatchEvent(new MouseEvent('click', { bubbles: true }))";
        browser.script(tap).await;
        browser.see("#life h3", "Bar ").await;
        browser.click("#life summary").await;
        browser.see("#life", "Came as bar").await;
        browser.find("#life-strip svg").await;
        browser.click("#close-life").await;
        browser.click(".bar-numbers summary").await;
        browser.click(".bar-numbers li:nth-child(12) button").await;
        browser.see("#life h3", "Bar 12").await;
        browser.click("#life summary").await;
        browser.see("#life", "Seen:").await;
        browser.picture("hive-life-1280").await;
        browser.see("main", "The reserve is").await;
        browser.see("main", "3 in 300 bees").await;
        // on paper it is light whatever the screen is, and nothing is there to press
        browser
            .script("document.documentElement.dataset.light = 'dark'")
            .await;
        let media = json!({ "media": "print" });
        browser.devtools("Emulation.setEmulatedMedia", media).await;
        let paper = "const of = (css) => getComputedStyle(document.querySelector(css));\
            return [of('body').backgroundColor, of('body').color, of('.nav').display, of('#print').display];";
        assert_eq!(
            browser.script(paper).await,
            json!(["rgb(255, 255, 255)", "rgb(0, 0, 0)", "none", "none"])
        );
        let media = json!({ "media": "" });
        browser.devtools("Emulation.setEmulatedMedia", media).await;
        assert_eq!(browser.complaints().await, Vec::<String>::new());
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_wrong_entry_is_corrected_taken_back_and_stands_again() {
    within(async {
        let stage = Stage::start();
        let browser = Browser::start(home::empty(), PHONE).await;
        wattle_bend::bring(&browser, &stage).await;
        browser.choose("#of-hive", "Ironbark").await;
        browser.choose("#of-subject", "Mites, feeds, weather").await;
        browser.see(".entries", "3 mites in 300 bees").await;
        let row = browser
            .script(
                "const rows = [...document.querySelectorAll('.entries > li')];\
                 return rows.find((row) => row.textContent.includes('3 mites in 300 bees')).id",
            )
            .await;
        let row = format!("#{}", row.as_str().expect("an id"));
        browser.click(&format!("{row} .change")).await;
        browser.write_into("#correct-0", "many").await;
        browser.click(".correct").await;
        browser
            .see("main", "Mites: a whole number, 0 or more, is needed.")
            .await;
        browser.write_into("#correct-0", "13").await;
        browser.picture("records-correction-390").await;
        browser.click(".correct").await;
        browser.see(&row, "13 mites in 300 bees").await;
        browser.see(&row, "Corrected").await;
        browser.see(&row, "Written as: 3 mites in 300 bees").await;

        browser.click(&format!("{row} .change")).await;
        browser.click(".take-back").await;
        browser.see(&row, "Taken back").await;
        browser.click(&format!("{row} .change")).await;
        browser.click(".stand-again").await;
        browser.see(&row, "Corrected").await;

        browser.reload().await;
        browser.choose("#of-hive", "Ironbark").await;
        browser
            .choose("#of-subject", "Taken back or corrected")
            .await;
        browser.see(&row, "13 mites in 300 bees").await;
        browser
            .see(
                "#count",
                &format!("of {} entries", wattle_bend::ENTRIES + 3),
            )
            .await;
        browser.open(&stage.at("/")).await;
        browser.see("main", "13 in 300 bees").await;

        browser.open(&stage.at("/records")).await;
        browser.choose("#of-hive", "Banksia").await;
        browser.click("#undo-last").await;
        browser.see("main", "Taken back: ").await;
        browser.click("#verify").await;
        browser.see("main", "each is as it was written").await;
        assert_eq!(browser.complaints().await, Vec::<String>::new());
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn what_is_settled_outlives_a_reload() {
    within(async {
        let stage = Stage::start();
        let browser = Browser::start(home::empty(), PHONE).await;
        wattle_bend::bring(&browser, &stage).await;
        browser.open(&stage.at("/settings")).await;
        browser.click("#units-inches").await;
        browser.click("#light-dark").await;
        browser.click("#spoken").await;
        browser.write_into("#worth", "3").await;
        browser.write_into("#by", "Mara").await;
        browser.click("#by + button").await;
        browser.choose("#for-hive", "Banksia").await;
        browser.click("#reserve-mass").await;
        browser.write_into("#amount", "none").await;
        browser.click("#keep-rules").await;
        browser.see("#amount-told", "Give a number above 0").await;
        browser.write_into("#amount", "22").await;
        browser.click("#ripe-2").await;
        browser.click("#keep-rules").await;
        browser.see("#rules-now", "22 lb").await;
        browser.see("#rules-now", "75").await;
        // what was just written down is told so, too: 22 lb
        browser.open(&stage.at("/records")).await;
        browser.see("main", "22.0 lb must stay").await;
        browser.open(&stage.at("/settings")).await;

        browser.reload().await;
        let kept = "const on = (id) => document.querySelector(id).checked;\
            return [on('#units-inches'), on('#light-dark'), on('#spoken'), on('#sounds'),\
              document.querySelector('#worth').value, document.querySelector('#by').value,\
              document.documentElement.getAttribute('data-light')]";
        browser.find("#units-inches").await;
        assert_eq!(
            browser.script(kept).await,
            json!([true, true, false, true, "3", "Mara", "dark"])
        );
        browser.choose("#for-hive", "Banksia").await;
        browser.see("#rules-now", "22 lb").await;
        browser.open(&stage.at("/new-hive")).await;
        browser.see("#length ~ .unit", "in").await;
        browser.see(".drawing", "15 in").await;
        // the picture's scale, and what of the length is free
        browser.see("#planned", "4 in").await;
        let mm = "return document.querySelector('.drawing').textContent.match(/\\bmm\\b/)";
        assert_eq!(browser.script(mm).await, json!(null));
        browser.open(&stage.at("/")).await;
        browser.click(".days summary").await;
        browser.see(".days", "Open from 55 \u{b0}F").await;
        assert_eq!(browser.complaints().await, Vec::<String>::new());
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn the_season_is_reckoned_once_the_place_is_told() {
    within(async {
        let stage = Stage::start();
        let browser = Browser::start(home::empty(), PHONE).await;
        wattle_bend::bring(&browser, &stage).await;
        browser.open(&stage.at("/season")).await;
        browser
            .see("main", "Where this hive stands is not told")
            .await;
        browser.open(&stage.at("/settings")).await;
        browser.click(".row-button").await;
        browser.write_into("#latitude", "95").await;
        browser.write_into("#longitude", "150.9").await;
        browser.click("#keep-place").await;
        browser.see("#latitude-told", "from -90 to 90").await;
        browser.write_into("#latitude", "-34.4").await;
        browser.click("#keep-place").await;
        browser.see("main", "Kept on this device").await;

        browser.open(&stage.at("/season")).await;
        browser.see("main", "invented monthly means").await;
        browser.write_into("#sure", "120").await;
        browser.click("#reckon").await;
        browser.see("main", "Give years from 50 to 99").await;
        browser.write_into("#sure", "95").await;
        browser.click("#reckon").await;
        browser
            .see_within("#season-answer", "Stores needed", 90)
            .await;
        browser
            .see(
                "#season-answer",
                "5 full combs (common practice, no source)",
            )
            .await;
        browser
            .see("#season-answer", "To live from Sun 22 Nov 2026 to")
            .await;
        let charts = "return document.querySelectorAll('.chart svg').length";
        assert_eq!(number(&browser, charts).await, 4);
        browser.whole_picture("season-answer-390").await;
        // wider than the phone, and said so; in the dark as dark as the page
        let chart = "const chart = document.querySelector('.chart');\
            const ground = getComputedStyle(chart.querySelector('rect')).fill;\
            const page = getComputedStyle(chart).backgroundColor;\
            return [chart.scrollWidth > chart.clientWidth, ground === page, ground]";
        browser
            .see("#season-answer .slides", "slide it sideways")
            .await;
        let light = browser.script(chart).await;
        assert_eq!((&light[0], &light[1]), (&json!(true), &json!(true)));
        for (word, prefers) in [("dark", "light"), ("", "dark")] {
            let set = format!("document.documentElement.setAttribute('data-light', '{word}')");
            browser.script(&set).await;
            let media = json!({"features": [{"name": "prefers-color-scheme", "value": prefers}]});
            browser.devtools("Emulation.setEmulatedMedia", media).await;
            let dark = browser.script(chart).await;
            assert_eq!(dark[1], json!(true), "{word} {prefers}");
            assert_ne!(dark[2], light[2], "{word} {prefers}");
            assert_eq!(
                web_tests::axe::violations(&browser).await,
                Vec::<String>::new()
            );
        }
        browser.whole_picture("season-answer-dark-390").await;
        assert_eq!(
            web_tests::axe::violations(&browser).await,
            Vec::<String>::new()
        );

        // in the units of the device, pictures and sentences too
        browser
            .script("localStorage.setItem('units', 'inches')")
            .await;
        browser.open(&stage.at("/season")).await;
        browser.click("#reckon").await;
        browser
            .see_within("#season-answer", "Stores needed", 90)
            .await;
        browser.see("#season-answer", "needed now").await;
        browser.see("#season-answer", "2.7 F warmer").await;
        browser.see("#season-answer", "lb a winter").await;
        // what a handbook says is quoted as it says it
        let metric = "return document.querySelector('#season-answer').textContent\
            .replace(/a winter \\([^)]*\\)/g, '').match(/\\bkg\\b|\\d C\\b/g)";
        assert_eq!(browser.script(metric).await, json!(null));
        assert_eq!(browser.complaints().await, Vec::<String>::new());
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn days_that_suit_move_the_returns() {
    within(async {
        let stage = Stage::start();
        let browser = Browser::start(home::empty(), DESK).await;
        wattle_bend::bring(&browser, &stage).await;
        browser.open(&stage.at("/")).await;
        browser.see("main", "No day is marked yet").await;
        browser.see("main", "Come back on the next good day").await;
        // the third day from now
        browser.click(".day-row li:nth-child(4) button").await;
        browser.see(".next-good", "Next good day: Wed 25 Nov").await;
        browser.see("main", "Come back about Wed 25 Nov").await;
        browser.reload().await;
        browser.see(".next-good", "Next good day: Wed 25 Nov").await;
        assert_eq!(browser.complaints().await, Vec::<String>::new());
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_treatment_and_a_sign_are_noted_with_their_cautions_and_end() {
    within(async {
        let stage = Stage::start();
        let browser = Browser::start(home::empty(), PHONE).await;
        wattle_bend::bring(&browser, &stage).await;
        browser.open(&stage.at("/hive")).await;
        browser
            .client
            .find(fantoccini::Locator::LinkText("Banksia"))
            .await
            .expect("it is listed")
            .click()
            .await
            .expect("it can be tapped");
        browser.see("h1", "Banksia").await;
        browser.see("main", "No treatment is on").await;

        browser.click("#note-treatment summary").await;
        browser.click("#note-treatment button").await;
        browser.see("#treat-product-told", "Name the product").await;
        browser.write_into("#treat-product", "Acme Oxalic").await;
        browser.write_into("#treat-active", "oxalic acid").await;
        // what must be minded stands there before anything is written
        browser.see("#note-treatment", "Acids burn skin").await;
        browser.see("#note-treatment", "was not copied in").await;
        browser.click("#treat-label-days").await;
        browser.click("#note-treatment button").await;
        browser
            .see("#treat-days-told", "A whole number of days")
            .await;
        browser.write_into("#treat-days", "14").await;
        browser.whole_picture("hive-treatment-390").await;
        assert_eq!(
            web_tests::axe::violations(&browser).await,
            Vec::<String>::new()
        );
        assert!(told(&stage, "treatment_begun").is_empty());
        browser.click("#note-treatment button").await;
        browser
            .see("#health-told", "withheld while Acme Oxalic is in the hive")
            .await;
        browser.see("#link-state", "With the server").await;
        let begun = &told(&stage, "treatment_begun")[0]["what"];
        assert_eq!(begun["withholding"], json!({ "says": "days", "days": 14 }));
        assert_eq!(begun.get("batch"), None, "not said");

        browser.click("#note-sign summary").await;
        browser.write_into("#sign-condition", "AFB").await;
        browser.see("#note-sign", "Move nothing off the site").await;
        browser.write_into("#sign-bar", "999").await;
        browser.click("#note-sign button").await;
        browser.see("#sign-bar-told", "no such bar").await;
        browser.write_into("#sign-bar", "14").await;
        browser.click("#note-sign button").await;
        browser.see("#health-told", "move no combs, report").await;
        browser.whole_picture("hive-health-390").await;

        // the strips come out, the suspicion was wrong
        browser.see("main", "Acme Oxalic comes out").await;
        browser.click("form.line button.quiet-button").await;
        browser.see("#health-told", "withheld through").await;
        browser.click("form.line button.quiet-button").await;
        browser.see("main", "say why it no longer stands").await;
        browser
            .write_into("form.line input[id^='end-']", "the laboratory found none")
            .await;
        browser.click("form.line button.quiet-button").await;
        browser.see("#link-state", "With the server").await;
        browser.see("#health-told", "withheld through").await;
        let cleared = told(&stage, "sign_cleared");
        assert_eq!(
            cleared[0]["what"]["why"],
            json!("the laboratory found none")
        );
        assert_eq!(told(&stage, "treatment_ended").len(), 1);
        assert_eq!(browser.complaints().await, Vec::<String>::new());
        browser.end().await;
    })
    .await;
}
