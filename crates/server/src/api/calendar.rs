//! The calendar feed, and its key for the desk.

use std::net::SocketAddr;
use std::sync::Arc;
use std::time::Instant;

use axum::extract::{ConnectInfo, Request, State as Shared};
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::http::{HeaderMap, StatusCode};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use serde_json::json;

use super::{Here, Query};
use crate::calendar::address;
use crate::error::ServerError;
use crate::guard::rate::CALENDAR;
use crate::guard::who::{Who, who};
use crate::problem::{not_found, problem, wait};
use crate::state::{State, peer};

/// What the address of the feed holds.
#[derive(Debug, Deserialize)]
pub(super) struct Asked {
    /// The key.
    key: Option<String>,
}

/// Lets the desk, paired devices and whoever names the key through. It works out the whole yard, so
/// it is asked for seldom.
pub(super) async fn keyed(
    Shared(state): Shared<Arc<State>>,
    ConnectInfo(from): ConnectInfo<SocketAddr>,
    Query(asked): Query<Asked>,
    request: Request,
    next: Next,
) -> Response {
    let now = Instant::now();
    if let Err(seconds) = state.rates.take(peer(from), "calendar", CALENDAR, now) {
        return wait(seconds);
    }
    let known: Option<Who> = who(&state, from, &request);
    let named = asked.key.as_deref().unwrap_or_default();
    match state.feed_key.knows(named) {
        _ if known.is_some() => next.run(request).await,
        Ok(true) => next.run(request).await,
        Ok(false) => problem(
            StatusCode::UNAUTHORIZED,
            "wrong_key",
            "that is not the key of the calendar",
            "make an address at the server's own machine: combwright paper feed --new".to_owned(),
        ),
        Err(why) => broken(&why),
    }
}

pub(super) async fn feed(Shared(state): Here) -> Response {
    let Some(calendar) = &state.calendar else {
        return not_found("calendar");
    };
    match calendar.due().await {
        Ok(text) => {
            let mut headers = HeaderMap::new();
            headers.insert(
                CONTENT_TYPE,
                axum::http::HeaderValue::from_static("text/calendar; charset=utf-8"),
            );
            headers.insert(
                CACHE_CONTROL,
                axum::http::HeaderValue::from_static("private, no-store"),
            );
            (headers, text).into_response()
        }
        Err(why) => why.into_response(),
    }
}

/// Whether there is a key.
pub(super) async fn show(Shared(state): Here) -> Response {
    match state.feed_key.is_set() {
        Ok(set) => super::json(json!({ "set": set })),
        Err(why) => broken(&why),
    }
}

/// Makes a key in place of any before; told this once.
pub(super) async fn renew(Shared(state): Here) -> Response {
    match state.feed_key.renew() {
        Ok(key) => {
            let addresses: Vec<String> = state.secure.iter().map(|at| address(at, &key)).collect();
            super::json(json!({ "key": key, "addresses": addresses }))
        }
        Err(why) => broken(&why),
    }
}

/// Takes the key back.
pub(super) async fn revoke(Shared(state): Here) -> Response {
    match state.feed_key.revoke() {
        Ok(true) => StatusCode::NO_CONTENT.into_response(),
        Ok(false) => not_found("key of the calendar"),
        Err(why) => broken(&why),
    }
}

fn broken(why: &ServerError) -> Response {
    problem(
        StatusCode::INTERNAL_SERVER_ERROR,
        "broken",
        "the key of the calendar cannot be kept",
        why.to_string(),
    )
}
