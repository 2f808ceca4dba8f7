//! The OpenAPI description, kept by hand and compared with the routes and shapes by a test.

use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};

pub(super) async fn openapi() -> Response {
    (
        [(CONTENT_TYPE, "application/json")],
        include_str!("../../openapi.json"),
    )
        .into_response()
}
