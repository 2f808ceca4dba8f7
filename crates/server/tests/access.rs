//! Who gets in, and what everyone is told.

mod support;

use axum::http::StatusCode;
use server::{News, ROUTES};
use support::{DESK, PHONE, ask, bench};

/// Open to everyone by design: that the server runs, the question to be let in; and the calendar,
/// which has a key of its own (`calendar.rs`).
const OPEN: [(&str, &str); 3] = [
    ("GET", "/health"),
    ("POST", "/api/v1/pairing"),
    ("GET", "/calendar.ics"),
];

#[tokio::test]
async fn on_the_network_everything_else_is_401() {
    let bench = bench();
    for route in ROUTES {
        if OPEN.contains(&(route.method, route.path)) {
            continue;
        }
        for token in [None, Some(""), Some("0000"), Some(&*"f".repeat(64))] {
            let path = route
                .path
                .replace("{id}", "01890a5d-ac96-774b-bcce-b302099a8057");
            let mut question = ask(route.method, &path).from(PHONE);
            if let Some(token) = token {
                question = question.token(token);
            }
            let told = question.of(&bench.routes).await;
            assert_eq!(
                told.status,
                StatusCode::UNAUTHORIZED,
                "{} {path}",
                route.method
            );
            assert_eq!(told.problem(), "unpaired");
        }
    }
    let told = ask("GET", "/api/v1/nothing")
        .from(PHONE)
        .of(&bench.routes)
        .await;
    assert_eq!(
        told.status,
        StatusCode::UNAUTHORIZED,
        "not even what there is not"
    );
}

#[tokio::test]
async fn the_desk_is_free_and_a_page_from_elsewhere_in_its_browser_is_not() {
    let bench = bench();
    let free = ask("GET", "/api/v1/journal").of(&bench.routes).await;
    assert_eq!(free.status, StatusCode::OK);
    let bent = ask("GET", "/api/v1/journal").field("sec-fetch-site", "cross-site");
    assert_eq!(
        bent.of(&bench.routes).await.status,
        StatusCode::UNAUTHORIZED
    );
}

#[tokio::test]
async fn a_code_lets_one_device_in_and_revoking_puts_it_out() {
    let bench = bench();
    let token = bench.pair().await;
    let me = ask("GET", "/api/v1/me")
        .from(PHONE)
        .token(&token)
        .of(&bench.routes)
        .await;
    assert_eq!(me.json()["who"], "paired");
    let again = serde_json::json!({ "code": bench.code, "name": "other" });
    let told = ask("POST", "/api/v1/pairing")
        .from(PHONE)
        .json(&again)
        .of(&bench.routes)
        .await;
    assert_eq!(
        (told.status, told.problem().as_str()),
        (StatusCode::FORBIDDEN, "wrong_code")
    );

    let seen = ask("GET", "/api/v1/devices")
        .from(PHONE)
        .token(&token)
        .of(&bench.routes)
        .await;
    assert_eq!(
        seen.status,
        StatusCode::FORBIDDEN,
        "the list is for the desk"
    );
    let list = ask("GET", "/api/v1/devices")
        .from(DESK)
        .of(&bench.routes)
        .await
        .json();
    assert_eq!(list["devices"][0]["name"], "phone");
    let id = list["devices"][0]["id"].as_str().expect("an id").to_owned();
    let gone = ask("DELETE", &format!("/api/v1/devices/{id}"))
        .of(&bench.routes)
        .await;
    assert_eq!(gone.status, StatusCode::NO_CONTENT);
    let me = ask("GET", "/api/v1/me")
        .from(PHONE)
        .token(&token)
        .of(&bench.routes)
        .await;
    assert_eq!(me.status, StatusCode::UNAUTHORIZED);

    let news = bench.news.lock().expect("not poisoned").clone();
    assert!(matches!(&news[0], News::Paired { name, next_code }
        if name == "phone" && *next_code != bench.code));
    assert_eq!(
        news[1],
        News::Revoked {
            name: "phone".into()
        }
    );
}

#[tokio::test]
async fn guessing_codes_is_slowed_down() {
    let bench = bench();
    let mut told = Vec::new();
    for guess in 0..8 {
        let body = serde_json::json!({ "code": format!("{guess:08}"), "name": "x" });
        let answer = ask("POST", "/api/v1/pairing")
            .from(PHONE)
            .json(&body)
            .of(&bench.routes)
            .await;
        told.push(answer.status.as_u16());
    }
    assert_eq!(told, [403, 403, 403, 403, 403, 429, 429, 429]);
    let now = ask("GET", "/api/v1/pairing")
        .from(DESK)
        .of(&bench.routes)
        .await
        .json();
    assert_ne!(
        now["code"],
        bench.code.as_str(),
        "and the code on the screen has changed"
    );
}

#[tokio::test]
async fn every_answer_carries_the_strict_policy() {
    let bench = bench();
    for (path, from) in [
        ("/", DESK),
        ("/api/v1/journal", PHONE),
        ("/phone", PHONE),
        ("/no", DESK),
    ] {
        let told = ask("GET", path).from(from).of(&bench.routes).await;
        let field = |name: &str| told.headers[name].to_str().expect("text").to_owned();
        let policy = field("content-security-policy");
        assert!(policy.starts_with("default-src 'none'; script-src 'self' 'wasm-unsafe-eval';"));
        assert!(!policy.contains("unsafe-inline") && !policy.contains("'unsafe-eval'"));
        assert_eq!(field("x-content-type-options"), "nosniff");
        assert_eq!(field("referrer-policy"), "no-referrer");
    }
}

#[tokio::test]
async fn the_page_for_phones_obeys_the_policy_itself() {
    let bench = bench();
    let page = ask("GET", "/phone")
        .from(PHONE)
        .of(&bench.routes)
        .await
        .text;
    assert!(!page.contains("<style") && !page.contains("<script") && !page.contains(" style="));
    let crt = ask("GET", "/authority.crt")
        .from(PHONE)
        .of(&bench.routes)
        .await;
    assert_eq!(crt.headers["content-type"], "application/x-x509-ca-cert");
}

#[tokio::test]
async fn a_flood_from_one_address_is_told_to_wait() {
    let bench = bench();
    let mut last = StatusCode::OK;
    for _ in 0..400 {
        last = ask("GET", "/health")
            .from(PHONE)
            .of(&bench.routes)
            .await
            .status;
        if last != StatusCode::OK {
            break;
        }
    }
    assert_eq!(last, StatusCode::TOO_MANY_REQUESTS);
    let other = ask("GET", "/health").from(DESK).of(&bench.routes).await;
    assert_eq!(other.status, StatusCode::OK);
}
