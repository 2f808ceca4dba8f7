//! How many requests at once, and how long one may take.

use std::sync::Arc;
use std::time::Duration;

use axum::extract::{Request, State};
use axum::http::StatusCode;
use axum::middleware::Next;
use axum::response::Response;

use crate::problem::problem;
use crate::state;

/// Requests at work at once; each may hold one message in memory.
pub(crate) const AT_ONCE: usize = 64;

/// Longest time for one request, its body's arrival among it.
const LONGEST: Duration = Duration::from_mins(1);

pub(crate) async fn bounded(
    State(state): State<Arc<state::State>>,
    request: Request,
    next: Next,
) -> Response {
    let Ok(_turn) = state.at_work.try_acquire() else {
        return problem(
            StatusCode::SERVICE_UNAVAILABLE,
            "busy",
            "too much at once",
            None,
        );
    };
    match tokio::time::timeout(LONGEST, next.run(request)).await {
        Ok(response) => response,
        Err(_) => problem(
            StatusCode::REQUEST_TIMEOUT,
            "timeout",
            "the request took too long",
            format!("more than {} s", LONGEST.as_secs()),
        ),
    }
}
