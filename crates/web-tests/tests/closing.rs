//! Closing up with both hands full: begun, ticked, taken back and ended by words, or in an order of the
//! keeper's own; and what the visit says back when something stands against it.

mod visiting;

use serde_json::json;
use visiting::{arrived, at_the_hive, comes_true, kept, speak, within, write, yard};
use web_tests::browser::{Browser, DESK, PHONE};
use web_tests::stage::Stage;

async fn begin(browser: &Browser) {
    for words in yard::SPOKEN {
        write(browser, words).await;
    }
    browser.see("#in-hand", "Bar 9").await;
}

async fn step(browser: &Browser) -> String {
    let step = browser.script("return document.querySelector('.step-head')?.textContent ?? ''");
    step.await.as_str().unwrap_or_default().to_owned()
}

#[tokio::test(flavor = "multi_thread")]
async fn a_hive_is_closed_by_words_alone() {
    within(async {
        let mut stage = Stage::start();
        let browser = at_the_hive(&mut stage, PHONE).await;
        write(&browser, "close up").await;
        browser.see("#answer", "Nothing to close yet").await;
        begin(&browser).await;
        browser.click("#listen").await;
        speak(&browser, "that's the nest so stop").await;
        browser.find("#step").await;
        browser.see("#last-heard", "so stop").await;
        browser.see("#last-heard", "closing up").await;
        comes_true(
            &browser,
            "return window.spoken.some((words) => words.includes('Closing up'))",
        )
        .await;
        let example = "return document.querySelector('#phrase').placeholder.includes('done')";
        assert_eq!(browser.script(example).await, json!(true));
        browser.picture("closing-begun-390").await;
        // a word that is none is not swallowed
        write(&browser, "skip").await;
        browser.see("#last-heard", "not understood").await;
        // undo takes back the tick, and nothing of the visit
        browser.see(".step-head", "Step 1 of").await;
        write(&browser, "done").await;
        browser.see(".step-head", "Step 2 of").await;
        write(&browser, "undo").await;
        browser.see(".step-head", "Step 1 of").await;
        browser.see("#answer", "step 1 is to do again").await;
        browser.picture("closing-undone-390").await;
        // without a tick it says what of the visit it took
        write(&browser, "undo").await;
        browser.see("#answer", "Taken back: ").await;
        for _ in 0..30 {
            if browser
                .script("return !!document.querySelector('#recorded')")
                .await
                == json!(true)
            {
                break;
            }
            let before = step(&browser).await;
            write(&browser, "done").await;
            let changed = format!(
                "return document.querySelector('.step-head')?.textContent !== {}",
                json!(before)
            );
            comes_true(&browser, &changed).await;
        }
        browser.see("#recorded", "the right end is closed").await;
        browser.picture("closing-recorded-390").await;
        write(&browser, "done").await;
        browser.find("#closed").await;
        // and not yet, after all
        browser.click("#undo").await;
        browser.see("#recorded", "the right end is closed").await;
        browser
            .see("#answer", "Taken back: the end of the visit")
            .await;
        write(&browser, "done").await;
        browser.find("#closed").await;
        kept(&browser).await;
        let hive = arrived(&mut stage, &browser).await;
        assert!(hive.open_visit().is_none(), "the visit is over");
        assert_eq!(visiting::taken(&hive).len(), 2);
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn an_order_of_ones_own_is_cautioned_recorded_and_taken_back() {
    within(async {
        let mut stage = Stage::start();
        let browser = at_the_hive(&mut stage, PHONE).await;
        begin(&browser).await;
        write(&browser, "closing up now").await;
        browser.find("#otherwise").await;
        // shims that are none leave the plan
        let plan = browser
            .script("return document.querySelector('#step').textContent")
            .await;
        for wrong in ["abc", "-3, 9999", "3.5"] {
            browser.write_into("#shims", wrong).await;
            browser.type_into("#shims", "\u{e007}").await;
            browser.see("#shims-wrong", "is no shim").await;
            let now = browser
                .script("return document.querySelector('#step').textContent")
                .await;
            assert_eq!(plan, now, "{wrong}");
        }
        browser.write_into("#shims", "3, 5 mm 8").await;
        browser.type_into("#shims", "\u{e007}").await;
        comes_true(
            &browser,
            "return document.querySelector('#shims-wrong').textContent === ''",
        )
        .await;
        // in the keeper's inches
        browser
            .script("localStorage.setItem('units', 'inches')")
            .await;
        browser.reload().await;
        browser.see("label[for=shims]", "inches").await;
        browser.write_into("#shims", "1/8, 0.2 3/8\u{e007}").await;
        comes_true(
            &browser,
            "return document.querySelector('#shims').value === '1/8 0.2 3/8'\
                && localStorage.getItem('shims-mm') === '3.175 5.080 9.525'",
        )
        .await;
        browser.whole_picture("closing-inches-390").await;
        browser.click("#otherwise").await;
        browser.find(".own-piece").await;
        // the follower board up to the nest
        for _ in 0..6 {
            let up = "const up = [...document.querySelectorAll('.own-piece')].find((piece) =>\
                piece.textContent.includes('follower'))?.querySelector('button');\
                if (up && !up.disabled) up.click();";
            browser.script(up).await;
        }
        browser
            .see("#own-cautions", "behind the follower board")
            .await;
        browser.whole_picture("closing-own-390").await;
        browser.click("#keep-order").await;
        browser.see("#recorded", "the right end is closed").await;
        browser
            .see("#answer.minds", "behind the follower board")
            .await;
        write(&browser, "undo").await;
        browser.find("#otherwise").await;
        browser
            .see("#answer", "Taken back: the right end as closed")
            .await;
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn what_stands_against_a_word_is_said_once_and_marked() {
    within(async {
        let mut stage = Stage::start();
        let browser = at_the_hive(&mut stage, PHONE).await;
        browser.click("#end-right").await;
        browser.see("#running-count", "0\ntaken").await;
        browser.click("#listen").await;
        // reference/colony.md G: no cutting from 30 C
        speak(&browser, "thirty one degrees").await;
        comes_true(
            &browser,
            "return window.spoken.some((words) => words.startsWith('31 degrees C: cut and shake no comb'))",
        )
        .await;
        browser.see("#cautions", "31 degrees C: cut and shake").await;
        speak(&browser, "bar twelve all brood").await;
        speak(&browser, "take it").await;
        comes_true(
            &browser,
            "return window.spoken.some((words) => words.includes('bar 12 has brood'))",
        )
        .await;
        browser
            .see("#running-count .mind", "bar 12 has brood")
            .await;
        browser.picture("visit-mind-390").await;
        speak(&browser, "take it back").await;
        browser.see("#answer", "Taken back: TAKE").await;
        comes_true(
            &browser,
            "return !document.querySelector('#running-count .mind')",
        )
        .await;
        write(&browser, "all capped this side").await;
        write(&browser, "scratch that").await;
        browser
            .see("#answer", "aken back: 100 % capped this side")
            .await;
        browser
            .see("#phrases li:first-child", "taken back: 100 %")
            .await;
        // twelve presses are one line and one step
        let lines = "return document.querySelectorAll('#phrases li').length";
        let before = browser.script(lines).await.as_i64().expect("a count");
        for _ in 0..6 {
            browser
                .click(".face:first-child .face-steps button:last-child")
                .await;
        }
        browser.see(".face-share", "75 % capped").await;
        assert_eq!(browser.script(lines).await, json!(before + 1));
        browser.click("#undo").await;
        comes_true(
            &browser,
            "return !document.querySelector('.face-share').textContent.includes('75')",
        )
        .await;
        // large print: the comb and the answer are in sight
        browser
            .script("document.documentElement.dataset.print = 'large'; scrollTo(0, 0)")
            .await;
        write(&browser, "how many so far").await;
        browser.see("#answer", "looked at and staying").await;
        browser.picture("visit-large-390").await;
        browser.resize(DESK).await;
        browser.script("scrollTo(0, 0)").await;
        browser.picture("visit-large-1280").await;
        browser.end().await;
    })
    .await;
}
