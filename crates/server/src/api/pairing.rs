//! Letting a device in.

use std::net::SocketAddr;
use std::time::Instant;

use axum::Extension;
use axum::extract::{ConnectInfo, State as Shared};
use axum::http::StatusCode;
use axum::response::Response;
use serde::Deserialize;
use serde_json::json;

use super::{Body, Here};
use crate::guard::rate::PAIRING;
use crate::guard::who::Who;
use crate::pairing::Tried;
use crate::problem::{problem, wait};
use crate::serve::News;
use crate::state::peer;

/// A device asks to be let in.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Ask {
    /// The code on the server's screen.
    code: String,
    /// What the device calls itself.
    name: String,
}

pub(super) async fn pair(
    Shared(state): Here,
    ConnectInfo(from): ConnectInfo<SocketAddr>,
    Body(ask): Body<Ask>,
) -> Response {
    if let Err(seconds) = state
        .rates
        .take(peer(from), "pairing", PAIRING, Instant::now())
    {
        return wait(seconds);
    }
    match state.pairing.try_code(&ask.code, &ask.name) {
        Ok(Tried::In { device, token }) => {
            let next_code = state.pairing.code();
            (state.news)(News::Paired {
                name: device.name.clone(),
                next_code,
            });
            super::json(json!({ "token": token, "device": device.id, "server": state.name }))
        }
        Ok(Tried::Wrong { renewed }) => {
            if renewed {
                (state.news)(News::CodeRenewed {
                    next_code: state.pairing.code(),
                });
            }
            let detail = if renewed {
                "too many wrong tries: there is another code on the screen now"
            } else {
                "compare it with the server's screen"
            };
            problem(
                StatusCode::FORBIDDEN,
                "wrong_code",
                "that is not the code",
                detail.to_owned(),
            )
        }
        Ok(Tried::Full { most }) => problem(
            StatusCode::CONFLICT,
            "full",
            "too many devices",
            format!("{most} are paired already; take one off the list first"),
        ),
        Err(why) => problem(
            StatusCode::INTERNAL_SERVER_ERROR,
            "broken",
            "the device cannot be kept",
            why.to_string(),
        ),
    }
}

/// The code and the addresses, for the desk's own screen.
pub(super) async fn show(Shared(state): Here) -> Response {
    super::json(json!({
        "code": state.pairing.code(),
        "addresses": state.secure,
        "first": state.explains,
    }))
}

/// As what the server takes whoever asks.
pub(super) async fn me(Shared(state): Here, Extension(who): Extension<Who>) -> Response {
    let who = match who {
        Who::Desk => "desk",
        Who::Paired => "paired",
    };
    super::json(json!({ "who": who, "server": state.name }))
}
