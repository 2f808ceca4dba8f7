//! The journal's exchange.

use axum::extract::State as Shared;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use exchange::wire::MOST_RECORDS;
use exchange::{Hash, Position, Pull, Push};
use serde::Deserialize;

use super::{Body, Here, Query};
use crate::problem::problem;

pub(super) async fn about(Shared(state): Here) -> Response {
    answer(state.journal.about().await)
}

pub(super) async fn push(Shared(state): Here, Body(push): Body<Push>) -> Response {
    if push.records.len() > MOST_RECORDS {
        return problem(
            StatusCode::PAYLOAD_TOO_LARGE,
            "too_large",
            "too much at once",
            format!(
                "{} records, at most {MOST_RECORDS} are taken",
                push.records.len()
            ),
        );
    }
    answer(state.journal.push(push.records).await)
}

/// A [`Pull`] as it stands in the address: place and hash together or neither.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Asked {
    place: Option<u64>,
    hash: Option<Hash>,
    limit: Option<usize>,
}

pub(super) async fn pull(Shared(state): Here, Query(asked): Query<Asked>) -> Response {
    let since = match (asked.place, asked.hash) {
        (None, None) => None,
        (Some(place), Some(hash)) => Some(Position { place, hash }),
        _ => {
            return super::malformed(
                StatusCode::UNPROCESSABLE_ENTITY,
                "place and hash belong together".to_owned(),
            );
        }
    };
    let limit = asked.limit.unwrap_or(MOST_RECORDS).clamp(1, MOST_RECORDS);
    answer(state.journal.pull(Pull { since, limit }).await)
}

fn answer<T: serde::Serialize>(given: Result<T, crate::ExchangeError>) -> Response {
    match given {
        Ok(value) => super::json(value),
        Err(why) => why.into_response(),
    }
}
