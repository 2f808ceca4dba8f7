//! The browser's own recogniser: its microphone, its turns and silences, its events. Only the service that
//! makes words of the sound is the test's.

mod visiting;

use std::time::Duration;

use serde_json::json;
use visiting::{arrived, assert_spoken, at_the_hive_heard_by, kept, within, yard};
use web_tests::browser::{Browser, PHONE};
use web_tests::recognition::Recognition;
use web_tests::stage::Stage;

/// A browser at the hive with the right end open, told to listen.
async fn listening(stage: &mut Stage, recognition: &Recognition) -> Browser {
    let browser = at_the_hive_heard_by(stage, PHONE, recognition).await;
    browser.click("#end-right").await;
    browser.click("#listen").await;
    browser
}

#[tokio::test(flavor = "multi_thread")]
async fn a_visit_is_heard_by_the_browsers_own_recogniser() {
    within(async {
        let mut stage = Stage::start();
        let recognition = Recognition::start();
        let browser = at_the_hive_heard_by(&mut stage, PHONE, &recognition).await;
        let own = "return window.webkitSpeechRecognition.toString().includes('[native code]')";
        assert_eq!(browser.script(own).await, json!(true));
        browser.click("#listen").await;
        browser.find("#listen.hears").await;
        // nobody says a word: the browser ends the turn, and is started again
        recognition.turns(3).await;
        browser.see("#recording", "being recorded").await;
        for (nth, words) in yard::SPOKEN.iter().enumerate() {
            recognition.hear(words).await;
            let heard = nth + 1;
            let counted = format!(
                "return document.querySelectorAll('#phrases li').length >= {}",
                heard.min(5)
            );
            visiting::comes_true(&browser, &counted).await;
        }
        browser.see("#in-hand", "Bar 9").await;
        browser.see("#recording", "being recorded").await;
        kept(&browser).await;
        browser.click("#stop").await;
        let asked = recognition.asked();
        assert!(asked.flac && asked.sound > 1000, "{asked:?}");
        assert!(asked.language.starts_with("en"), "{asked:?}");
        let hive = arrived(&mut stage, &browser).await;
        assert_spoken(&hive);
        browser.end().await;
    })
    .await;
}

/// The phrase on pollen is as a general recogniser heard it (see `talk`'s `readings`), the others are invented.
#[tokio::test(flavor = "multi_thread")]
async fn the_reading_that_makes_sense_at_the_hive_is_heard() {
    within(async {
        let mut stage = Stage::start();
        let recognition = Recognition::start();
        let browser = listening(&mut stage, &recognition).await;
        recognition
            .hear_as(&[
                "bar thirty all kept",
                "bar twenty all kept",
                "bar plenty all kept",
            ])
            .await;
        browser.see("#in-hand", "Bar 20").await;
        recognition
            .hear_as(&["third chrome has palin", "third comb has pollen"])
            .await;
        browser.see("#phrases", "third comb has pollen").await;
        // a command to the program, and talk of other things
        recognition.hear_as(&["on do", "undo"]).await;
        let undone = "return !document.body.textContent.includes('third comb has pollen')";
        visiting::comes_true(&browser, undone).await;
        recognition
            .hear_as(&["did you see the match", "did you sea the match"])
            .await;
        browser.see("#phrases", "did you see the match").await;
        assert!(
            recognition.asked().readings > 1,
            "{:?}",
            recognition.asked()
        );
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_network_that_goes_is_told_and_one_that_comes_back_too() {
    within(async {
        let mut stage = Stage::start();
        let recognition = Recognition::start();
        let browser = listening(&mut stage, &recognition).await;
        recognition.hear("bar twenty all capped both sides").await;
        browser.see("#in-hand", "Bar 20").await;
        recognition.set_gone(true);
        browser.see("#listen", "no network").await;
        tokio::time::sleep(Duration::from_secs(3)).await;
        browser.see("#listen", "no network").await;
        recognition.set_gone(false);
        recognition.hear("take it").await;
        browser.see("#phrases", "take it").await;
        browser.find("#listen.hears").await;
        browser.end().await;
    })
    .await;
}
