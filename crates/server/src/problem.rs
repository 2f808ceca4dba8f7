//! Refusals, as RFC 9457 tells them: `application/problem+json`.

use axum::http::header::{CONTENT_TYPE, RETRY_AFTER, WWW_AUTHENTICATE};
use axum::http::{HeaderValue, StatusCode};
use axum::response::{IntoResponse, Response};
use exchange::Problem;

use crate::exchange::ExchangeError;

/// After how many seconds a busy journal may be asked again.
const BUSY_SECONDS: u32 = 5;

/// A refusal with its words.
pub(crate) fn problem(
    status: StatusCode,
    code: &str,
    title: &str,
    detail: impl Into<Option<String>>,
) -> Response {
    let told = Problem {
        code: code.to_owned(),
        title: title.to_owned(),
        status: status.as_u16(),
        detail: detail.into(),
    };
    let mut response = (status, axum::Json(told)).into_response();
    response.headers_mut().insert(
        CONTENT_TYPE,
        HeaderValue::from_static("application/problem+json"),
    );
    response
}

pub(crate) fn not_found(path: &str) -> Response {
    let path: String = path.chars().take(80).collect();
    problem(
        StatusCode::NOT_FOUND,
        "not_found",
        "nothing is there",
        format!("no {path} here"),
    )
}

pub(crate) fn unpaired() -> Response {
    let mut response = problem(
        StatusCode::UNAUTHORIZED,
        "unpaired",
        "this device is not paired",
        "pair it with the code on the server's screen".to_owned(),
    );
    response
        .headers_mut()
        .insert(WWW_AUTHENTICATE, HeaderValue::from_static("Bearer"));
    response
}

pub(crate) fn wait(seconds: u32) -> Response {
    let mut response = problem(
        StatusCode::TOO_MANY_REQUESTS,
        "wait",
        "too many requests",
        format!("ask again in {seconds} s"),
    );
    response
        .headers_mut()
        .insert(RETRY_AFTER, HeaderValue::from(seconds));
    response
}

pub(crate) fn only_here() -> Response {
    problem(
        StatusCode::FORBIDDEN,
        "only_here",
        "only in the browser of the server's own machine",
        None,
    )
}

impl IntoResponse for ExchangeError {
    fn into_response(self) -> Response {
        let detail = self.to_string();
        let (status, code, title) = match self {
            Self::Busy(_) => {
                let mut response = problem(
                    StatusCode::SERVICE_UNAVAILABLE,
                    "busy",
                    "too much at once",
                    detail,
                );
                response
                    .headers_mut()
                    .insert(RETRY_AFTER, HeaderValue::from(BUSY_SECONDS));
                return response;
            }
            Self::Conflict { .. } => (
                StatusCode::CONFLICT,
                "conflict",
                "another entry is there already",
            ),
            Self::Full(_) => (StatusCode::INSUFFICIENT_STORAGE, "full", "no more room"),
            Self::Broken(_) => (
                StatusCode::INTERNAL_SERVER_ERROR,
                "broken",
                "the journal cannot be used",
            ),
        };
        problem(status, code, title, detail)
    }
}
