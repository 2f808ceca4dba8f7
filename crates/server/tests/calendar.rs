//! The calendar feed: what it hands out, to whom, and its key.

mod support;

use std::sync::Arc;

use axum::http::StatusCode;
use server::calendar::{PATH, address};
use server::memory::MemoryJournal;
use server::{Answer, Calendar, FeedKey, Offer, Server};
use support::{PHONE, Told, ask, bench, config, folder};

/// A calendar without events (RFC 5545, 3.4 and 3.6), as any program may offer it.
const EMPTY: &str = "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//x//x//EN\r\nEND:VCALENDAR\r\n";

struct Fixed;

impl Calendar for Fixed {
    fn due(&self) -> Answer<'_, String> {
        Box::pin(async { Ok(EMPTY.to_owned()) })
    }
}

/// A server that offers a calendar; its folder.
fn offering() -> (axum::Router, std::path::PathBuf) {
    let data = folder();
    let offer = Offer {
        journal: Arc::new(MemoryJournal::new()),
        calendar: Some(Arc::new(Fixed)),
        further: None,
    };
    let server = Server::bind_with(&config(data.clone()), offer, |_| {}).expect("binds");
    (server.routes(), data)
}

async fn from_phone(routes: &axum::Router, query: &str) -> Told {
    ask("GET", &format!("{PATH}{query}"))
        .from(PHONE)
        .of(routes)
        .await
}

#[tokio::test]
async fn the_desk_needs_no_key_and_gets_a_calendar() {
    let (routes, _) = offering();
    let told = ask("GET", PATH).of(&routes).await;
    assert_eq!(told.status, StatusCode::OK);
    assert_eq!(told.headers["content-type"], "text/calendar; charset=utf-8");
    assert_eq!(told.headers["cache-control"], "private, no-store");
    assert_eq!(told.headers["x-content-type-options"], "nosniff");
    assert_eq!(told.text, EMPTY);
}

#[tokio::test]
async fn from_the_network_only_the_key_opens_it_and_it_opens_nothing_else() {
    let (routes, _) = offering();
    for query in ["", "?key=", "?key=0", "?other=1"] {
        let told = from_phone(&routes, query).await;
        assert_eq!(told.status, StatusCode::UNAUTHORIZED, "{query}");
        assert_eq!(told.problem(), "wrong_key");
    }
    let made = ask("POST", "/api/v1/calendar-key").of(&routes).await;
    let key = made.json()["key"].as_str().expect("a key").to_owned();
    // 32 bytes in hexadecimal
    assert_eq!(key.len(), 64);
    let told = from_phone(&routes, &format!("?key={key}")).await;
    assert_eq!((told.status, told.text.as_str()), (StatusCode::OK, EMPTY));
    let elsewhere = ask("GET", &format!("/api/v1/journal?key={key}"))
        .from(PHONE)
        .token(&key)
        .of(&routes)
        .await;
    assert_eq!(elsewhere.status, StatusCode::UNAUTHORIZED);
    // a page of another site in the desk's browser is not the desk
    let bent = ask("GET", PATH).field("sec-fetch-site", "cross-site");
    assert_eq!(bent.of(&routes).await.status, StatusCode::UNAUTHORIZED);
}

#[tokio::test]
async fn a_new_key_ends_the_one_before_and_a_key_taken_back_opens_nothing() {
    let (routes, data) = offering();
    let renew = || async {
        let made = ask("POST", "/api/v1/calendar-key").of(&routes).await;
        made.json()["key"].as_str().expect("a key").to_owned()
    };
    let first = renew().await;
    // the command line makes one in the same folder while the server runs
    let second = FeedKey::in_folder(&data).renew().expect("makes one");
    assert_ne!(first, second);
    let ask_with = |key: String| {
        let routes = routes.clone();
        async move { from_phone(&routes, &format!("?key={key}")).await.status }
    };
    assert_eq!(ask_with(first).await, StatusCode::UNAUTHORIZED);
    assert_eq!(ask_with(second.clone()).await, StatusCode::OK);
    let is_set = || async {
        let told = ask("GET", "/api/v1/calendar-key").of(&routes).await;
        told.json()["set"].as_bool()
    };
    assert_eq!(is_set().await, Some(true));
    let gone = ask("DELETE", "/api/v1/calendar-key").of(&routes).await;
    assert_eq!(gone.status, StatusCode::NO_CONTENT);
    assert_eq!(ask_with(second).await, StatusCode::UNAUTHORIZED);
    assert_eq!(is_set().await, Some(false));
    let again = ask("DELETE", "/api/v1/calendar-key").of(&routes).await;
    assert_eq!(again.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn the_key_itself_is_nowhere_on_disk_and_its_hash_does_not_open() {
    let (routes, data) = offering();
    let key = FeedKey::in_folder(&data).renew().expect("makes one");
    let mut hash = String::new();
    for file in std::fs::read_dir(&data).expect("lists") {
        let text = std::fs::read_to_string(file.expect("an entry").path()).unwrap_or_default();
        assert!(!text.contains(&key));
        if let Some(at) = text.find("key_sha256") {
            hash = text[at..].split('"').nth(2).expect("a value").to_owned();
        }
    }
    assert_eq!(hash.len(), 64, "the hash is kept");
    let told = from_phone(&routes, &format!("?key={hash}")).await;
    assert_eq!(told.status, StatusCode::UNAUTHORIZED);
}

#[tokio::test]
async fn whoever_asks_too_often_waits() {
    let (routes, _) = offering();
    let mut last = StatusCode::OK;
    for _ in 0..12 {
        last = from_phone(&routes, "?key=guess").await.status;
    }
    assert_eq!(last, StatusCode::TOO_MANY_REQUESTS);
    // each address for itself
    assert_eq!(ask("GET", PATH).of(&routes).await.status, StatusCode::OK);
}

#[tokio::test]
async fn a_paired_device_needs_no_key_and_a_server_without_a_calendar_says_so() {
    let bench = bench();
    let token = bench.pair().await;
    let told = ask("GET", PATH)
        .from(PHONE)
        .token(&token)
        .of(&bench.routes)
        .await;
    assert_eq!(told.status, StatusCode::NOT_FOUND);
    assert_eq!(told.problem(), "not_found");
}

#[test]
fn the_address_holds_the_key() {
    assert_eq!(
        address("https://192.0.2.20:8428/", "ab"),
        "https://192.0.2.20:8428/calendar.ics?key=ab"
    );
}
