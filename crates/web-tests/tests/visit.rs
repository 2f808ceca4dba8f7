//! A visit in the browser: typed, spoken, tapped; undone, broken off, closed; without a server from
//! first to last.

mod visiting;

use std::time::Duration;

use hive::entry::{Decision, End, Harvest};
use serde_json::json;
use visiting::{
    FAKE_VOICE, arrived, arrived_yard, assert_spoken, at_the_hive, at_the_hive_of, begin_with,
    comes_true, decisions, kept, speak, taken, visit, within, write, yard,
};
use web_tests::browser::{Browser, DESK, PHONE, Size};
use web_tests::looks;
use web_tests::stage::Stage;

/// What the console complains of beside the stopped server.
async fn faults(browser: &Browser) -> Vec<String> {
    let all = browser.complaints().await;
    all.into_iter()
        // reset: it was stopped while it was asked
        .filter(|line| {
            !line.contains("ERR_CONNECTION_REFUSED") && !line.contains("ERR_CONNECTION_RESET")
        })
        .collect()
}

#[tokio::test(flavor = "multi_thread")]
async fn a_visit_typed_without_a_server_is_shown_and_kept() {
    within(async {
        let mut stage = Stage::start();
        let browser = at_the_hive(&mut stage, PHONE).await;
        browser.picture("visit-begin-390").await;
        for words in yard::SPOKEN {
            write(&browser, words).await;
            if words.starts_with("bar nineteen") {
                browser.see("#in-hand", "Bar 19").await;
                browser.script("scrollTo(0, 0)").await;
                browser.picture("visit-one-side-390").await;
            }
            if words == "how many so far" {
                browser.see("#answer", "2 taken").await;
            }
        }
        browser.see("#in-hand", "Bar 9").await;
        kept(&browser).await;
        browser.picture("visit-typed-390").await;
        browser.resize(DESK).await;
        browser.script("scrollTo(0, 0)").await;
        browser.picture("visit-typed-1280").await;
        assert_eq!(faults(&browser).await, Vec::<String>::new());
        browser.reload().await;
        browser.see("#in-hand", "Bar 9").await;
        browser.click("#stop").await;
        let hive = arrived(&mut stage, &browser).await;
        assert_spoken(&hive);
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_visit_spoken_without_a_server_survives_a_killed_tab_and_closes() {
    within(async {
        let mut stage = Stage::start();
        let browser = at_the_hive(&mut stage, PHONE).await;
        browser.click("#listen").await;
        let (before, after) = yard::SPOKEN.split_at(17);
        for words in before {
            speak(&browser, words).await;
        }
        browser.see("#phrases", "set it aside").await;
        browser.see("#recording", "being recorded").await;
        browser.script("scrollTo(0, 0)").await;
        browser.picture("visit-listening-390").await;
        kept(&browser).await;
        // the sound up to here is kept, and stands beside the words
        browser.click("#listen").await;
        let again = "#phrases button[aria-label*='set it aside']";
        browser.find(again).await;
        let count = "const play = HTMLMediaElement.prototype.play;\
            HTMLMediaElement.prototype.play = function () {\
              return play.call(this).then(() => { window.played = this.duration > 0; }); };";
        browser.script(count).await;
        browser.click(again).await;
        comes_true(&browser, "return window.played === true").await;
        // the tab is killed, without a word to the page
        let client = &browser.client;
        let second = client.new_window(true).await.expect("a tab").handle;
        client.close_window().await.expect("closes");
        client.switch_to_window(second).await.expect("switches");
        browser.resize(PHONE).await;
        begin_with(&browser, FAKE_VOICE).await;
        browser.open(&stage.at(&visit())).await;
        browser.see("#in-hand", "Bar 14").await;
        browser.see("#running-count", "1\naside").await;
        browser.click("#listen").await;
        for words in after {
            speak(&browser, words).await;
        }
        browser.see("#in-hand", "Bar 9").await;
        // spoken answers, and none of them heard by the program itself
        let spoken = browser.script("return window.spoken").await;
        let spoken = spoken.to_string();
        assert!(spoken.contains("looked at stay"), "{spoken}");
        // closing, by voice
        browser.click("#stop").await;
        browser.find("#step").await;
        browser.picture("closing-step-390").await;
        for _ in 0..20 {
            let over = browser.script("return !!document.querySelector('#closed') || !!document.querySelector('#close-as-it-stands')").await;
            if over == json!(true) {
                break;
            }
            let step = browser.script("return document.querySelector('#step')?.textContent").await;
            speak(&browser, "done").await;
            let changed = format!("return document.querySelector('#step')?.textContent !== {step}");
            for _ in 0..100 {
                if browser.script(&changed).await == json!(true) {
                    break;
                }
                tokio::time::sleep(Duration::from_millis(50)).await;
            }
        }
        browser.click("#close-as-it-stands").await;
        browser.find("#closed").await;
        kept(&browser).await;
        browser.picture("closing-done-390").await;
        let calendar = browser.saved_by("#save-return").await;
        for line in ["BEGIN:VCALENDAR", "BEGIN:VEVENT", "DTSTART;VALUE=DATE:", "END:VCALENDAR"] {
            assert!(calendar.contains(line), "{calendar}");
        }
        let hive = arrived(&mut stage, &browser).await;
        assert_spoken(&hive);
        assert!(hive.open_visit().is_none(), "the visit is over");
        let cut = [20, 19].map(|n| hive.place_of(yard::bar(n)));
        assert!(cut.iter().all(Option::is_some), "cut bars are set back");
        // the sound of both halves is one visit's, and goes when its keeper says so
        browser.open(&stage.at("/visit")).await;
        browser.click(".own-piece button").await;
        comes_true(&browser, "return document.querySelector('#sounds') === null").await;
        browser.reload().await;
        browser.find("ul.rows").await;
        comes_true(&browser, "return document.querySelector('#sounds') === null").await;
        browser.end().await;
    })
    .await;
}

/// The same visit with a finger, as far as it goes: shares, holds, decisions.
async fn tap_through(browser: &Browser) {
    let full = |side: &str| format!("const s = document.querySelector('#{side}'); s.focus();");
    browser.click("#end-right").await;
    browser.click("#next").await;
    browser.see("#in-hand", "Bar 20").await;
    for side in ["this-side", "other-side"] {
        browser.script(&full(side)).await;
        browser.type_into(&format!("#{side}"), "\u{e010}").await;
    }
    browser.see("#verdict", "ripe, 100 % capped").await;
    browser.click("#take").await;
    browser.see("#running-count", "1\ntaken").await;
    browser.click("#next").await;
    browser.see("#in-hand", "Bar 19").await;
    // a touch on the middle of the near face
    let touch = "const box = document.querySelector('#this-side').getBoundingClientRect();\
        const at = { bubbles: true, clientX: box.left + box.width / 2, clientY: box.top + box.height * 0.55, pointerId: 1 };\
        const face = document.querySelector('#this-side');\
        face.setPointerCapture = () => {};\
        for (const kind of ['pointerdown', 'pointermove', 'pointerup']) face.dispatchEvent(new PointerEvent(kind, at));";
    browser.script(touch).await;
    browser.see(".face-share", "% capped").await;
    browser.see("#verdict", "Look first").await;
    browser.click("#leave").await;
    browser.click("#next").await;
    browser.see("#in-hand", "Bar 18").await;
    browser.click(".holds button:nth-of-type(3)").await;
    browser.see("#verdict", "Stays").await;
    browser.click("#leave").await;
}

async fn tapped_at(size: Size, name: &str) {
    let mut stage = Stage::start();
    let browser = at_the_hive(&mut stage, size).await;
    tap_through(&browser).await;
    browser.script("scrollTo(0, 0)").await;
    browser.picture(&format!("visit-tapped-{name}")).await;
    let small = browser.script(TOO_SMALL).await;
    assert_eq!(small, json!([]));
    // undo, step by step, to the comb before, and do it again
    for _ in 0..3 {
        browser.click("#undo").await;
    }
    browser.see("#in-hand", "Bar 19").await;
    browser.click("#next").await;
    browser.click(".holds button:nth-of-type(3)").await;
    browser.click("#leave").await;
    kept(&browser).await;
    browser.click("#stop").await;
    browser.find("#step").await;
    browser.picture(&format!("closing-{name}")).await;
    // the keeper closes in an order of his own
    browser.click("#otherwise").await;
    browser.find(".own").await;
    browser.picture(&format!("closing-own-{name}")).await;
    browser.click("#keep-order").await;
    browser.click("#close-as-it-stands").await;
    browser.find("#closed").await;
    kept(&browser).await;
    browser.script("scrollTo(0, 0)").await;
    browser.picture(&format!("closing-done-{name}")).await;
    let small = browser.script(TOO_SMALL).await;
    assert_eq!(small, json!([]));
    assert_eq!(faults(&browser).await, Vec::<String>::new());
    let hive = arrived(&mut stage, &browser).await;
    assert_eq!(taken(&hive), [(20, Harvest::Cut)]);
    let (leave, take) = (Decision::Leave, Decision::Take);
    assert_eq!(decisions(&hive), [(18, leave), (19, leave), (20, take)]);
    assert!(hive.open_visit().is_none());
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_visit_by_taps_on_a_phone() {
    within(tapped_at(PHONE, "390")).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_visit_by_taps_on_the_desk() {
    within(tapped_at(DESK, "1280")).await;
}

/// Closes the hive as it stands, in the order shown.
async fn close_in_own_order(browser: &Browser) {
    browser.click("#stop").await;
    browser.click("#otherwise").await;
    browser.click("#keep-order").await;
    browser.click("#close-as-it-stands").await;
    browser.find("#closed").await;
}

/// Whether the hive is the one that carried combs go to.
fn goes_to(nth: usize) -> String {
    let id = yard::hive_of(nth);
    format!("return document.getElementById('goes-to-{id}')?.ariaPressed === 'true'")
}

#[tokio::test(flavor = "multi_thread")]
async fn combs_carried_away_hang_in_the_hive_that_was_chosen() {
    within(async {
        let mut stage = Stage::start();
        let folder = tempfile::tempdir().expect("a folder");
        let (file, entries) = yard::journal_before_a_split(folder.path());
        let browser = at_the_hive_of(&mut stage, PHONE, &file, entries).await;
        let (banksia, tea_tree, grevillea) = (1, 2, 3);
        browser.click("#end-right").await;
        browser.click("#next").await;
        browser.click(".holds button:nth-of-type(3)").await;
        let asked = "return document.getElementById('carried') !== null";
        assert_eq!(browser.script(asked).await, json!(false));
        browser.click("#take-whole").await;
        browser.see(".decided", "You take it on its bar").await;
        browser.see("#carried", "on its bar: comb 20").await;
        browser.click("#next").await;
        browser.click("#take-whole").await;
        browser.see("#carried", "combs 20 and 19").await;
        browser.see("#running-count", "2\ntaken").await;
        // the empty hive first; the one that stands open is not offered
        let ids = "return [...document.querySelectorAll('.goals button')].map((button) => button.textContent)";
        let offered = json!(["no hive of this yard", "Grevillea", "Banksia"]);
        assert_eq!(browser.script(ids).await, offered);
        let open = format!("return document.getElementById('goes-to-{}')", yard::hive_of(tea_tree));
        assert_eq!(browser.script(&open).await, json!(null));
        let nowhere = "return document.getElementById('goes-nowhere')?.ariaPressed === 'true'";
        assert_eq!(browser.script(nowhere).await, json!(true));

        let choose = format!("#goes-to-{}", yard::hive_of(banksia));
        browser.click(&choose).await;
        comes_true(&browser, &goes_to(banksia)).await;
        browser.see("#carried", "bars of Banksia from now on").await;
        // carried to another hive is not harvested, and the comb in hand is the one that it was
        browser.see("#running-count", "0\ntaken").await;
        browser.see("#in-hand", "Bar 19").await;
        browser.see(".decided", "You take it on its bar").await;
        browser.click("#undo").await;
        comes_true(&browser, nowhere).await;
        write(&browser, "they go to Banksia").await;
        browser.see("#answer", "Combs 20 and 19 go to Banksia.").await;
        browser.see("#phrases", "goes to Banksia").await;
        kept(&browser).await;
        let choose = format!("#goes-to-{}", yard::hive_of(grevillea));
        browser.click(&choose).await;
        comes_true(&browser, &goes_to(grevillea)).await;
        browser.click("#next").await;
        browser.see("#in-hand", "Bar 18").await;
        browser.click("#leave").await;
        kept(&browser).await;
        // written down, they are all that hangs there; the choice stands where it stood
        browser.see("#carried", "They hang in Grevillea from now on").await;
        assert_eq!(browser.script(ids).await, offered);

        let mut broken = Vec::new();
        for (look, light, print) in looks::LOOKS {
            looks::put_on(&browser, light, print).await;
            for (size, wide) in [(PHONE, "390"), (DESK, "1280")] {
                browser.resize(size).await;
                browser.open(&stage.at(&visit())).await;
                // found again as it was left
                comes_true(&browser, &goes_to(grevillea)).await;
                broken.extend(looks::faults(&browser, &format!("visit-carried-{look}-{wide}")).await);
            }
        }
        assert_eq!(broken, Vec::<String>::new());

        close_in_own_order(&browser).await;
        browser.see("#closed", "Combs 20 and 19 go to Grevillea.").await;
        kept(&browser).await;
        browser.script("scrollTo(0, 0)").await;
        browser.picture("closing-done-split-1280").await;
        assert_eq!(faults(&browser).await, Vec::<String>::new());

        let yard = arrived_yard(&mut stage, &browser).await;
        let hive = yard.hive(yard::IRONBARK).expect("Ironbark");
        assert!(hive.open_visit().is_none() && taken(hive).is_empty());
        assert!(hive.bar(yard::bar(20)).is_none() && hive.bar(yard::bar(19)).is_none());
        assert_eq!(hive.departed.len(), 2);
        let there = yard.hive(yard::hive_of(grevillea)).expect("Grevillea");
        let row: Vec<_> = there.bars_from(End::Left).iter().map(|bar| bar.id).collect();
        assert_eq!(row, [yard::bar(20), yard::bar(19)]);
        assert!(there.bars[&yard::bar(20)].known_contents().has_brood());

        browser.open(&stage.at(&format!("/hive/{}", there.id))).await;
        browser.find("#section [data-bar]").await;
        let bars = "return document.querySelectorAll('#section [data-bar]').length";
        assert_eq!(browser.script(bars).await, json!(2));
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_comb_carried_to_a_hive_with_combs_is_given_its_place_there() {
    within(async {
        let mut stage = Stage::start();
        let folder = tempfile::tempdir().expect("a folder");
        let (file, entries) = yard::journal_before_a_split(folder.path());
        let browser = at_the_hive_of(&mut stage, PHONE, &file, entries).await;
        let banksia = yard::hive_of(1);
        browser.click("#end-right").await;
        browser.click("#next").await;
        browser.click("#take-whole").await;
        browser.click(&format!("#goes-to-{banksia}")).await;
        comes_true(&browser, &goes_to(1)).await;
        browser.click("#next").await;
        browser.click("#leave").await;
        close_in_own_order(&browser).await;
        kept(&browser).await;

        browser.open(&stage.at(&format!("/visit/{banksia}"))).await;
        browser.click("#end-right").await;
        browser.click("#next").await;
        browser.click("#leave").await;
        browser.click("#stop").await;
        browser.click("#otherwise").await;
        // its number is in use there, it has the next one that is free
        browser.see(".own", "23").await;
        browser.whole_picture("closing-own-split-390").await;
        browser.click("#keep-order").await;
        browser.click("#close-as-it-stands").await;
        browser.find("#closed").await;
        kept(&browser).await;
        assert_eq!(faults(&browser).await, Vec::<String>::new());
        let yard = arrived_yard(&mut stage, &browser).await;
        let there = yard.hive(banksia).expect("Banksia");
        let bar = there.bar(yard::bar(20)).expect("the bar that was carried");
        assert_eq!((bar.number, there.loose_bars().len()), (23, 0));
        assert_eq!(
            there.row.place_of(bar.id),
            Some(21),
            "outside the twenty combs"
        );
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn what_is_measured_and_fed_is_told_by_taps() {
    within(async {
        let mut stage = Stage::start();
        let browser = at_the_hive(&mut stage, PHONE).await;
        browser.click(".measures summary").await;
        browser
            .see(".measures", "Take a comb in hand to note its weight")
            .await;
        browser.click("#note-air").await;
        browser.see("#phrases", "20").await;
        browser.click("#end-right").await;
        browser.click("#next").await;
        browser.click("[aria-label='Weight: more']").await;
        browser.see(".measures output", "2.1 kg").await;
        browser.click("#note-weight").await;
        browser.see(".decided", "2.1 kg").await;
        for _ in 0..3 {
            browser.click("[aria-label='Mites: more']").await;
        }
        browser.click("#note-wash").await;
        browser.click("#note-cells").await;
        browser.click("#undo").await;
        browser.click("#note-feed").await;
        browser.whole_picture("visit-measures-390").await;
        assert_eq!(faults(&browser).await, Vec::<String>::new());
        assert_eq!(
            web_tests::axe::violations(&browser).await,
            Vec::<String>::new()
        );
        kept(&browser).await;
        browser.click("#stop").await;
        browser.see("h1", "Closing up").await;
        let hive = arrived(&mut stage, &browser).await;
        let wash = hive.washes.last().expect("a wash");
        assert_eq!((wash.mites, wash.bees), (3, 300));
        let fed = hive.feeds.last().expect("a feed");
        assert_eq!((fed.food.as_str(), fed.litres), ("1:1 syrup", Some(1.0)));
        let visit = hive.visits.last().expect("a visit");
        let celsius = visit
            .weather
            .temperature_c
            .map(comb::Temperature::to_celsius);
        assert_eq!(celsius, Some(20.0));
        assert_eq!(hive.queen_cells.len(), 0, "taken back");
        browser.end().await;
    })
    .await;
}

/// Targets under 64 px in height or width, and anything that sticks out to the side.
const TOO_SMALL: &str = "const seen = (e) => e.getClientRects().length > 0 && !e.matches('.skip');\
    const target = (e) => (e.closest('label') ?? e).getBoundingClientRect();\
    const small = [...document.querySelectorAll('a, button, input, summary')].filter(seen)\
      .filter((e) => target(e).height < 63.5 || target(e).width < 63.5)\
      .map((e) => e.outerHTML.slice(0, 80));\
    const wide = document.documentElement.scrollWidth > innerWidth ? ['the page is too wide'] : [];\
    return [...small, ...wide];";

/// From phrase to phrase only what differs is put into the picture: it must be what would be drawn anew.
#[tokio::test(flavor = "multi_thread")]
async fn the_picture_changed_in_parts_is_the_picture_drawn_anew() {
    within(async {
        let mut stage = Stage::start();
        let browser = at_the_hive(&mut stage, PHONE).await;
        let picture =
            "return document.querySelector('#hive-section svg').outerHTML.replace(/>\\s+</g, '><')";
        for (nth, words) in yard::SPOKEN.iter().take(20).enumerate() {
            write(&browser, words).await;
            browser.see("#phrases li:first-child", words).await;
            if [0, 1, 3, 8, 16, 19].contains(&nth) {
                kept(&browser).await;
                let changed = browser.script(picture).await;
                browser.reload().await;
                browser.find("#hive-section svg").await;
                assert_eq!(changed, browser.script(picture).await, "after {words:?}");
            }
        }
        browser.end().await;
    })
    .await;
}

/// A number misheard two phrases ago: one tap and the right words, and all that follows is understood anew.
#[tokio::test(flavor = "multi_thread")]
async fn a_misheard_phrase_is_put_right_where_it_stands() {
    within(async {
        let mut stage = Stage::start();
        let browser = at_the_hive(&mut stage, PHONE).await;
        for words in [
            "right end",
            "bar twenty all capped both sides",
            "take it",
            "bar sixty half capped both sides",
            "leave that one",
        ] {
            write(&browser, words).await;
            browser.see("#phrases li:first-child", words).await;
        }
        browser.see(".mind", "there is no bar 60").await;
        // unknown is not nothing
        browser.see("#running-count", "19 not looked at").await;
        browser
            .see("#running-count", "stores seen, of reserve")
            .await;
        let answer = "return document.querySelector('#answer').textContent";
        assert_eq!(browser.script(answer).await, "", "it is told once");
        browser.click("#phrases li:nth-child(2) .phrase").await;
        browser.see(".putting-right", "What you said").await;
        assert_eq!(browser.script(TOO_SMALL).await, json!([]));
        assert_eq!(
            web_tests::axe::violations(&browser).await,
            Vec::<String>::new()
        );
        browser.picture("visit-put-right-390").await;
        browser
            .script(
                "const field = document.querySelector('.putting-right input');\
                 field.value = 'bar nineteen half capped both sides'; field.form.requestSubmit()",
            )
            .await;
        browser
            .see("#answer", "Put right: bar 19, 50 % capped both sides")
            .await;
        browser
            .see(
                "#phrases li:nth-child(2)",
                "heard as \u{201c}bar sixty half capped both sides\u{201d}",
            )
            .await;
        browser.see("#in-hand", "Bar 19").await;
        browser.see(".decided", "You leave it").await;
        let form = "return document.querySelectorAll('.putting-right').length";
        assert_eq!(browser.script(form).await, 0);
        kept(&browser).await;
        // it stays so when the visit is come back to, and what was first heard is not lost
        browser.reload().await;
        browser.see("#in-hand", "Bar 19").await;
        browser.see("#phrases li:nth-child(2)", "heard as").await;
        // the comb taken by mistake was heard out of thin air
        browser.click("#phrases li:nth-child(3) .phrase").await;
        browser
            .script("document.querySelectorAll('.putting-right button')[1].click()")
            .await;
        browser.see("#answer", "Left out").await;
        browser.see("#phrases li:nth-child(3)", "left out").await;
        browser.click("#undo").await;
        browser
            .see("#answer", "Taken back: a phrase left out")
            .await;
        browser.see("#phrases li:nth-child(3)", "TAKE").await;
        kept(&browser).await;
        assert_eq!(faults(&browser).await, Vec::<String>::new());
        browser.click("#stop").await;
        browser.see("h1", "Closing up").await;
        let hive = arrived(&mut stage, &browser).await;
        assert_eq!(taken(&hive).len(), 1);
        let wanted = [(19, Decision::Leave), (20, Decision::Take)];
        assert_eq!(decisions(&hive), wanted);
        browser.end().await;
    })
    .await;
}

/// What the screen shows of a comb, and what the journal says: steps, the count, the last entry.
async fn heard(browser: &Browser) -> String {
    let rows = "return [...document.querySelectorAll('#phrases li')]\
        .map((row) => row.textContent).join('; ')";
    let rows = browser.script(rows).await;
    rows.as_str().expect("text").to_owned()
}

/// Goes by the links of the page, so that the visit stays open in this tab.
async fn go(browser: &Browser, to: &str) {
    let link =
        format!("document.querySelector('.nav a[href^=\"{to}\"], main a[href^=\"{to}\"]').click()");
    browser.script(&link).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn what_is_taken_back_in_records_is_taken_back_at_the_hive() {
    within(async {
        let mut stage = Stage::start();
        let browser = at_the_hive(&mut stage, PHONE).await;
        for words in [
            "right end open",
            "bar nineteen all capped both sides",
            "take it",
            "bar eighteen brood",
        ] {
            write(&browser, words).await;
        }
        browser.see("#in-hand", "Bar 18").await;
        // at once: what was said last is not written yet
        go(&browser, "/records").await;
        browser.choose("#of-hive", "Ironbark").await;
        browser.see(".entries", "Bar 18").await;
        browser.click("#undo-last").await;
        browser.see("main", "Taken back: ").await;
        go(&browser, "/visit").await;
        go(&browser, &visit()).await;
        browser.see("#in-hand", "Bar 19").await;
        browser.see("#answer", "was changed in Records").await;
        assert!(!heard(&browser).await.contains("eighteen"));
        // the next phrase brings nothing back, and is recorded
        write(&browser, "bar seventeen half capped both sides").await;
        browser.see("#in-hand", "Bar 17").await;
        kept(&browser).await;

        // in another tab
        let first = browser.client.window().await.expect("a window");
        let second = browser.client.new_window(true).await.expect("a tab").handle;
        let switch = async |window: &fantoccini::wd::WindowHandle| {
            let done = browser.client.switch_to_window(window.clone()).await;
            done.expect("it switches");
        };
        switch(&second).await;
        browser.open(&stage.at("/records")).await;
        browser.choose("#of-hive", "Ironbark").await;
        browser.see(".entries", "Bar 17").await;
        browser.click("#undo-last").await;
        browser.see("main", "Taken back: ").await;
        switch(&first).await;
        browser.see("#in-hand", "Bar 19").await;
        assert!(!heard(&browser).await.contains("seventeen"));
        browser.reload().await;
        browser.see("#in-hand", "Bar 19").await;
        assert!(!heard(&browser).await.contains("seventeen"));
        assert_eq!(faults(&browser).await, Vec::<String>::new());

        let hive = arrived(&mut stage, &browser).await;
        let visit = hive.open_visit().expect("it goes on");
        let met: Vec<u32> = visit
            .met
            .iter()
            .filter_map(|bar| hive.bar(*bar).map(|bar| bar.number))
            .collect();
        assert_eq!(met, [19]);
        browser.end().await;
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn combs_matched_anew_are_told_so_in_records() {
    within(async {
        let mut stage = Stage::start();
        let browser = at_the_hive(&mut stage, PHONE).await;
        for words in [
            "right end open",
            "next one two thirds capped both sides",
            "next one half capped both sides",
            "next one a quarter capped both sides",
        ] {
            write(&browser, words).await;
        }
        browser.see("#in-hand", "Bar 18").await;
        go(&browser, "/records").await;
        browser.see(".entries", "Bar 18: 25 %").await;
        go(&browser, "/visit").await;
        go(&browser, &visit()).await;
        write(&browser, "that was bar seventeen").await;
        browser.see("#in-hand", "Bar 17").await;
        go(&browser, "/records").await;
        browser.see(".entries", "First taken for bar 18").await;
        browser
            .see(".entries", "The comb taken for bar 19 is bar 18")
            .await;
        // each entry with its own words, and none called corrected
        let row = "return [...document.querySelectorAll('.entry')].map((row) => row.textContent)\
            .find((words) => words.startsWith('Bar 18: 50 %')) ?? ''";
        let row = browser.script(row).await;
        let row = row.as_str().expect("text");
        assert!(row.contains("next one half capped"), "{row}");
        let all = "return document.querySelector('.entries').textContent";
        let all = browser.script(all).await;
        assert!(!all.as_str().expect("text").contains("Corrected"), "{all}");
        browser.picture("records-matched-anew-390").await;
        assert_eq!(faults(&browser).await, Vec::<String>::new());
        browser.end().await;
    })
    .await;
}
