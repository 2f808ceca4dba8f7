//! A phone on the local network: HTTPS by the server's own authority, paired by the code.

use std::time::Duration;

use web_tests::browser::{Browser, DESK, PHONE};
use web_tests::stage::Stage;
use web_tests::{home, looks};

#[tokio::test(flavor = "multi_thread")]
async fn a_phone_that_trusts_the_authority_pairs_and_works_without_the_server() {
    let test = async {
        let mut stage = Stage::start_on_the_network();
        let phones = stage.welcome.phones.clone().expect("the network is let in");
        let app = phones
            .app
            .first()
            .expect("this machine has an address")
            .clone();
        let browser = Browser::start(home::trusting(&stage.authority()), PHONE).await;

        let page = phones.explains.first().expect("and a page that explains");
        browser.client.goto(page).await.expect("the page opens");
        browser.see("h1", "Let this phone in").await;
        browser.see(".print", &phones.fingerprint[..20]).await;
        browser.picture("phone-page-390").await;

        browser.open(&app).await;
        assert_eq!(
            browser.script("return isSecureContext").await,
            serde_json::json!(true)
        );
        let offers = browser.script("return 'mediaDevices' in navigator").await;
        assert_eq!(
            offers,
            serde_json::json!(true),
            "a microphone can be asked for"
        );
        browser.offline_ready().await;
        browser.open(&format!("{app}settings")).await;
        browser.see("main", "not paired").await;
        browser.picture("settings-unpaired-390").await;
        // an empty yard does not look like a fresh one: what to do first stands above it
        browser.open(&app).await;
        browser.see("#link-state", "Not paired").await;
        browser.see("#not-paired", "Pair this device").await;
        let broken = looks::faults_in_every_look(&browser, "unpaired", &app, "").await;
        assert_eq!(broken, Vec::<String>::new());
        looks::put_on(&browser, "light", "").await;
        browser.resize(PHONE).await;
        browser.open(&app).await;
        browser.type_into("#pair-by", "Mara").await;
        browser.click("#not-paired button").await;
        browser.see("#code-wrong", "Type the eight digits").await;
        browser.type_into("#code", "0000 0000").await;
        browser.click("#not-paired button").await;
        browser.see("#code-wrong", "not the code").await;
        browser.whole_picture("pairing-wrong-390").await;
        let doubled = "return document.querySelector('#not-paired').textContent.includes('..')";
        assert_eq!(browser.script(doubled).await, serde_json::json!(false));
        browser.write_into("#code", &phones.code).await;
        browser.click("#not-paired button").await;
        browser.see("#link-state", "With the server").await;
        let gone = "return document.querySelector('#not-paired') === null";
        assert_eq!(browser.script(gone).await, serde_json::json!(true));

        stage.stop().await;
        browser.open(&format!("{app}records")).await;
        browser
            .type_into("#note", "queen seen on the third comb")
            .await;
        browser.click("#write").await;
        browser.see("#link-state", "On this device only: 1").await;
        assert!(stage.journal.records().is_empty());
        stage.start_again();
        browser.see("#link-state", "With the server").await;
        assert_eq!(
            stage.journal.records().len(),
            1,
            "paired still after the restart"
        );

        // the server's desk has the list, and takes it off with two taps; the phone is told nothing of it
        browser.open(&format!("{app}settings")).await;
        browser.see("main", "With the server").await;
        let none = "return document.querySelector('#let-in') === null";
        assert_eq!(browser.script(none).await, serde_json::json!(true));
        let desk = Browser::start(home::empty(), DESK).await;
        desk.open(&stage.at("/settings")).await;
        desk.see("#let-in", "Mara, since").await;
        desk.see("#let-in", "pairs with the code").await;
        desk.see("#let-in", "/phone, which tells").await;
        desk.click("#let-in li button").await;
        desk.script("document.querySelector('#let-in').scrollIntoView()")
            .await;
        let broken = looks::faults(&desk, "settings-let-in-1280").await;
        assert_eq!(broken, Vec::<String>::new());
        desk.click("#let-in .sure").await;
        desk.see("#let-in", "let in no longer").await;
        desk.see("#let-in", "No device is paired yet").await;
        desk.end().await;
        browser.open(&app).await;
        browser.see("#not-paired", "Pair this device").await;
        browser.end().await;
    };
    tokio::time::timeout(Duration::from_mins(3), test)
        .await
        .expect("it takes too long");
}
