//! The voice in the browser: deaf and back, one microphone for two, what Settings say of it, the screen
//! kept awake.

mod visiting;

use std::time::Duration;

use serde_json::json;
use visiting::{at_the_hive, at_the_hive_with, comes_true, speak, visit, within, write};
use web_tests::browser::PHONE;
use web_tests::stage::Stage;

#[tokio::test(flavor = "multi_thread")]
async fn a_deaf_recogniser_says_so_and_comes_back() {
    within(async {
        let mut stage = Stage::start();
        let browser = at_the_hive(&mut stage, PHONE).await;
        browser.click("#end-right").await;
        browser.click("#listen").await;
        browser.find("#listen.hears").await;
        browser.script("window.failIt('network')").await;
        browser.see("#deaf", "over the network").await;
        browser.picture("visit-deaf-390").await;
        // it tries again by itself, and words prove that it hears
        speak(&browser, "bar twenty all capped both sides").await;
        browser.see("#in-hand", "Bar 20").await;
        let gone = "return document.querySelector('#deaf') === null";
        assert_eq!(browser.script(gone).await, json!(true));
        // silence is nothing
        browser.find("#listen.hears").await;
        browser.script("window.failIt('no-speech')").await;
        speak(&browser, "quiet").await;
        speak(&browser, "take it").await;
        browser.see("#phrases", "take it").await;
        let aloud = "return document.querySelector('#aloud').checked";
        assert_eq!(browser.script(aloud).await, json!(false));
        browser.find("#listen.hears").await;
        browser.script("window.failIt('not-allowed')").await;
        browser.see("#deaf", "Allow the microphone").await;
        browser.see("#listen", "Listen").await;
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn what_else_the_recogniser_heard_is_one_tap_away() {
    within(async {
        let mut stage = Stage::start();
        let browser = at_the_hive(&mut stage, PHONE).await;
        browser.click("#end-right").await;
        browser.click("#listen").await;
        browser.find("#listen.hears").await;
        let heard = "return window.speakToIt('bar eighteen half capped both sides',\
             ['bar nineteen half capped both sides', 'bar eighteen have capped both sides'])";
        comes_true(&browser, heard).await;
        browser.see("#in-hand", "Bar 18").await;
        speak(&browser, "leave that one").await;
        browser
            .see("#phrases li:first-child", "leave that one")
            .await;
        browser.click("#phrases li:nth-child(2) .phrase").await;
        browser.see(".readings", "bar eighteen have capped").await;
        browser.picture("visit-readings-390").await;
        browser.click(".readings button:nth-of-type(1)").await;
        browser.see("#in-hand", "Bar 19").await;
        browser.see(".decided", "You leave it").await;
        // nothing else was heard of this one
        browser.click("#phrases li:first-child .phrase").await;
        browser.see(".putting-right", "What you said").await;
        let none = "return document.querySelector('.readings') === null";
        assert_eq!(browser.script(none).await, json!(true));
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_recogniser_that_never_begins_shows_the_way_to_the_keyboard() {
    within(async {
        let mut stage = Stage::start();
        let browser = at_the_hive_with(&mut stage, PHONE, "window.mute = true;").await;
        browser.click("#end-right").await;
        browser.click("#listen").await;
        browser.see("#listen", "one moment").await;
        browser.see("#deaf", "has not begun to hear").await;
        browser.see("#listen", "Listen").await;
        browser.picture("visit-mute-390").await;
        write(&browser, "bar twenty all capped both sides").await;
        browser.see("#in-hand", "Bar 20").await;
        // the browser itself, and another try
        browser.script("window.mute = false").await;
        browser.click("#listen").await;
        browser.find("#listen.hears").await;
        speak(&browser, "take it").await;
        browser.see("#phrases", "take it").await;
        browser.end().await;
    })
    .await;
}

/// Web Speech API: `available`, `install`, `processLocally`, `phrases`.
#[tokio::test(flavor = "multi_thread")]
async fn what_works_on_the_device_is_fetched_and_told_what_to_expect() {
    within(async {
        let mut stage = Stage::start();
        let offered = "window.onDevice = 'downloadable';";
        let browser = at_the_hive_with(&mut stage, PHONE, offered).await;
        browser.click("#end-right").await;
        browser.click("#listen").await;
        browser.find("#listen.hears").await;
        speak(&browser, "bar twenty all capped both sides").await;
        browser.see("#in-hand", "Bar 20").await;
        let last = |is: &str| format!("const last = window.starts.at(-1); return {is}");
        let told =
            "last.local && last.phrases.some(([phrase, boost]) => phrase === 'brood' && boost > 0)";
        comes_true(&browser, &last(told)).await;
        assert_eq!(browser.script("return window.installed").await, json!(1));
        // one that cannot be told, and then one that has not the language after all
        browser.find("#listen.hears").await;
        browser
            .script("window.failIt('phrases-not-supported')")
            .await;
        comes_true(&browser, &last("last.local && last.phrases.length === 0")).await;
        browser.find("#listen.hears").await;
        browser
            .script("window.failIt('language-not-supported')")
            .await;
        comes_true(&browser, &last("!last.local && last.phrases.length === 0")).await;
        speak(&browser, "take it").await;
        browser.see("#phrases", "take it").await;
        browser.end().await;
    })
    .await;
}

const RECORDS: &str = "return document.querySelector('#record-sound').checked";

#[tokio::test(flavor = "multi_thread")]
async fn where_both_hear_the_recording_goes_on() {
    within(async {
        let mut stage = Stage::start();
        let browser = at_the_hive(&mut stage, PHONE).await;
        browser.click("#end-right").await;
        browser.click("#listen").await;
        // the browser's own microphone beeps once a second
        browser.see("#recording", "being recorded").await;
        tokio::time::sleep(Duration::from_secs(2)).await;
        for words in yard_phrases() {
            speak(&browser, words).await;
        }
        for _ in 0..12 {
            browser.script("window.failIt('no-speech')").await;
            tokio::time::sleep(Duration::from_secs(1)).await;
        }
        browser.see("#recording", "being recorded").await;
        assert_eq!(browser.script(RECORDS).await, json!(true));
        browser.end().await;
    })
    .await;
}

/// Enough of them to be sure of a silent recording.
fn yard_phrases() -> &'static [&'static str] {
    &visiting::yard::SPOKEN[..6]
}

#[tokio::test(flavor = "multi_thread")]
async fn a_recogniser_that_cannot_hear_beside_the_recording_is_given_way() {
    within(async {
        let mut stage = Stage::start();
        let browser = at_the_hive_with(&mut stage, PHONE, TONE).await;
        browser.click("#end-right").await;
        browser.click("#listen").await;
        browser.see("#recording", "being recorded").await;
        // on such phones it ends by itself, and says nothing else
        for _ in 0..40 {
            browser.script("window.failIt('no-speech')").await;
            tokio::time::sleep(Duration::from_millis(500)).await;
            if browser.script(RECORDS).await == json!(false) {
                break;
            }
        }
        browser.see("#one-at-a-time", "one at a time").await;
        browser
            .script("document.querySelector('.voicing').scrollIntoView()")
            .await;
        browser.picture("visit-one-microphone-390").await;
        comes_true(
            &browser,
            "return document.querySelector('#recording') === null",
        )
        .await;
        // it listens, and what was recorded up to here is kept
        speak(&browser, "bar twenty all capped both sides").await;
        browser.see("#in-hand", "Bar 20").await;
        browser.open(&stage.at("/visit")).await;
        browser.find("#sounds").await;
        // remembered on this device, until it is wanted again
        browser.open(&stage.at(&visit())).await;
        browser.see("#one-at-a-time", "Tick it to try again").await;
        browser.click("#listen").await;
        browser.find("#listen.hears").await;
        let silent = "return document.querySelector('#recording') === null";
        assert_eq!(browser.script(silent).await, json!(true));
        browser.click("#listen").await;
        browser.click("#record-sound").await;
        browser.click("#listen").await;
        browser.see("#recording", "being recorded").await;
        let gone = "return document.querySelector('#one-at-a-time') === null";
        assert_eq!(browser.script(gone).await, json!(true));
        // a phone that says why is believed at once
        browser.find("#listen.hears").await;
        browser.script("window.failIt('audio-capture')").await;
        browser.see("#one-at-a-time", "one at a time").await;
        speak(&browser, "take it").await;
        browser.see("#phrases", "take it").await;
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_recording_that_is_silent_beside_words_ends() {
    within(async {
        let mut stage = Stage::start();
        let browser = at_the_hive_with(&mut stage, PHONE, SILENCE).await;
        browser.click("#end-right").await;
        browser.click("#listen").await;
        browser.see("#recording", "being recorded").await;
        // on a slow machine the meter runs a moment later, and only words beside it count
        tokio::time::sleep(Duration::from_secs(2)).await;
        for words in yard_phrases() {
            speak(&browser, words).await;
        }
        browser.see("#one-at-a-time", "one at a time").await;
        browser.find("#listen.hears").await;
        browser.end().await;
    })
    .await;
}

/// A microphone of the test's own, as loud as told.
macro_rules! microphone {
    ($gain:literal) => {
        concat!(
            "navigator.mediaDevices.getUserMedia = async () => {\
               const context = new AudioContext(); await context.resume();\
               const tone = context.createOscillator(); const gain = context.createGain();\
               gain.gain.value = ",
            $gain,
            "; const out = context.createMediaStreamDestination();\
               tone.connect(gain).connect(out); tone.start(); return out.stream; };"
        )
    };
}
const TONE: &str = microphone!("0.3");
const SILENCE: &str = microphone!("0");

#[tokio::test(flavor = "multi_thread")]
async fn what_settings_say_of_the_voice_holds_at_the_hive() {
    within(async {
        let mut stage = Stage::start();
        let tones = "window.tones = 0; const make = BaseAudioContext.prototype.createOscillator;\
            BaseAudioContext.prototype.createOscillator = function () {\
              window.tones += 1; return make.call(this); };";
        let browser = at_the_hive_with(&mut stage, PHONE, tones).await;
        browser.click("#end-right").await;
        browser.click("#listen").await;
        speak(&browser, "how many so far").await;
        comes_true(&browser, "return window.spoken.length > 0").await;
        speak(&browser, "bar twenty all capped both sides").await;
        comes_true(&browser, "return window.tones > 0").await;

        browser.open(&stage.at("/settings")).await;
        for switch in ["#spoken", "#sounds", "#recorded"] {
            browser.click(switch).await;
        }
        browser.choose("#english", "New Zealand").await;
        browser.open(&stage.at(&visit())).await;
        browser.click("#listen").await;
        browser.find("#listen.hears").await;
        assert_eq!(
            browser.script("return window.heardIn").await,
            json!("en-NZ")
        );
        assert_eq!(browser.script(RECORDS).await, json!(false));
        let aloud = "return document.querySelector('#aloud').checked";
        assert_eq!(browser.script(aloud).await, json!(false));
        speak(&browser, "take it").await;
        browser.see("#phrases", "take it").await;
        speak(&browser, "how many so far").await;
        browser.see("#answer", "1 taken").await;
        let done =
            "return [window.spoken.length, window.tones, document.querySelector('#recording')]";
        assert_eq!(browser.script(done).await, json!([0, 0, null]));
        // and the other way round
        speak(&browser, "speak").await;
        comes_true(&browser, "return document.querySelector('#aloud').checked").await;
        browser.open(&stage.at("/settings")).await;
        browser.find("#spoken").await;
        let settled = "return document.querySelector('#spoken').checked";
        assert_eq!(browser.script(settled).await, json!(true));
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn the_screen_is_kept_awake_at_the_hive_and_nowhere_else() {
    within(async {
        let mut stage = Stage::start();
        let count = "window.locks = 0; const ask = navigator.wakeLock.request.bind(navigator.wakeLock);\
            navigator.wakeLock.request = async (kind) => { const lock = await ask(kind);\
              window.locks += 1; lock.addEventListener('release', () => { window.locks -= 1; });\
              return lock; };";
        let browser = at_the_hive_with(&mut stage, PHONE, count).await;
        comes_true(&browser, "return window.locks === 1").await;
        browser.click("#end-right").await;
        write(&browser, "bar twenty all capped both sides").await;
        comes_true(&browser, "return window.locks === 1").await;
        // closing up is work at the hive, too
        browser.click("#stop").await;
        browser.find("#step, #otherwise").await;
        comes_true(&browser, "return window.locks === 1").await;
        browser.script("document.querySelector('a.brand').click()").await;
        browser.find("article.card").await;
        comes_true(&browser, "return window.locks === 0").await;
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_share_without_a_side_is_asked_for_when_its_comb_is_left() {
    within(async {
        let mut stage = Stage::start();
        let browser = at_the_hive(&mut stage, PHONE).await;
        browser.click("#end-right").await;
        browser.click("#listen").await;
        speak(&browser, "bar twenty half capped").await;
        browser.see("#in-hand", "Bar 20").await;
        browser.see("#loose", "50 % capped was said").await;
        browser.picture("visit-no-side-390").await;
        // nobody is interrupted who may be about to say it
        assert_eq!(
            browser.script("return window.spoken").await,
            json!([]),
            "not asked at once"
        );
        speak(&browser, "next one all brood").await;
        browser.see("#answer", "which side of bar 20").await;
        comes_true(
            &browser,
            "return window.spoken.some((words) => words.includes('which side of bar 20'))",
        )
        .await;
        speak(&browser, "both sides").await;
        browser
            .see("#phrases", "bar 20, 50 % capped both sides")
            .await;
        browser.see("#in-hand", "Bar 19").await;
        browser.end().await;
    })
    .await;
}

/// Puts the page away or in front, as far as it can tell.
fn put_away(away: bool) -> String {
    format!(
        "Object.defineProperty(document, 'hidden', {{ configurable: true, get: () => {away} }});\
         document.dispatchEvent(new Event('visibilitychange'));"
    )
}

#[tokio::test(flavor = "multi_thread")]
async fn a_phone_put_in_the_pocket_hears_again_when_it_is_taken_out() {
    within(async {
        let mut stage = Stage::start();
        let browser = at_the_hive(&mut stage, PHONE).await;
        browser.click("#end-right").await;
        browser.click("#listen").await;
        speak(&browser, "bar twenty all capped both sides").await;
        browser.see("#in-hand", "Bar 20").await;
        browser.find("#listen.hears").await;
        browser.script(&put_away(true)).await;
        browser.find("#listen.deaf").await;
        // what phones say to a page that nobody sees
        browser.script("window.failIt('not-allowed')").await;
        tokio::time::sleep(Duration::from_secs(1)).await;
        let heard = "return window.speakToIt('take it')";
        assert_eq!(browser.script(heard).await, json!(false));
        browser.script(&put_away(false)).await;
        browser.find("#listen.hears").await;
        speak(&browser, "take it").await;
        browser.see("#running-count", "1\ntaken").await;
        browser.end().await;
    })
    .await;
}
