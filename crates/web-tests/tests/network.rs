//! A phone on the local network: HTTPS by the server's own authority, paired by the code.

use std::time::Duration;

use web_tests::browser::{Browser, PHONE};
use web_tests::home;
use web_tests::stage::Stage;

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
        browser.type_into("#code", &phones.code).await;
        browser.click("form:has(#code) button").await;
        browser.see("main", "Paired.").await;
        browser.see("#link-state", "With the server").await;

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
        browser.end().await;
    };
    tokio::time::timeout(Duration::from_mins(3), test)
        .await
        .expect("it takes too long");
}
