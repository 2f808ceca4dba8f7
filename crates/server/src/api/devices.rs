//! The devices that are in, for the desk.

use axum::extract::{Path, State as Shared};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use serde_json::json;
use uuid::Uuid;

use super::Here;
use crate::problem::{not_found, problem};
use crate::serve::News;

pub(super) async fn list(Shared(state): Here) -> Response {
    let devices: Vec<_> = state
        .pairing
        .devices()
        .into_iter()
        .map(|d| json!({ "id": d.id, "name": d.name, "paired_at_s": d.paired_at_s }))
        .collect();
    super::json(json!({ "devices": devices }))
}

pub(super) async fn revoke(Shared(state): Here, Path(id): Path<String>) -> Response {
    let Ok(uuid) = id.parse::<Uuid>() else {
        return not_found("such device");
    };
    let name = state
        .pairing
        .devices()
        .into_iter()
        .find(|d| d.id == uuid)
        .map(|d| d.name);
    match state.pairing.revoke(uuid) {
        Ok(true) => {
            (state.news)(News::Revoked {
                name: name.unwrap_or_default(),
            });
            StatusCode::NO_CONTENT.into_response()
        }
        Ok(false) => not_found("such device"),
        Err(why) => problem(
            StatusCode::INTERNAL_SERVER_ERROR,
            "broken",
            "the list cannot be kept",
            why.to_string(),
        ),
    }
}
