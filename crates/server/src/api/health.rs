//! `/health`: that it runs, and what it is.

use axum::extract::State as Shared;
use axum::response::Response;
use serde_json::json;

use super::Here;
use crate::embedded::has_app;

pub(super) async fn health(Shared(state): Here) -> Response {
    super::json(json!({
        "status": "ok",
        "name": state.name,
        "version": env!("CARGO_PKG_VERSION"),
        "app": has_app(state.app),
    }))
}
