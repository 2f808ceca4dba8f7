//! The server, reached by the browser's fetch.

use exchange::{Far, FarError, Problem, Pull, Pulled, Push, Pushed};
use serde::de::DeserializeOwned;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::JsFuture;

use crate::browser::{window, words};

const RECORDS: &str = "/api/v1/journal/records";
pub(super) const PAIRING: &str = "/api/v1/pairing";
pub(super) const DEVICES: &str = "/api/v1/devices";

/// Longest wait for an answer, in milliseconds: a slow link must not hold up the next try for ever.
const LONGEST_MS: u32 = 30_000;

/// The server, with this device's token if it is paired.
pub(super) struct Server {
    pub(super) token: Option<String>,
}

impl Far for Server {
    async fn push(&self, push: &Push) -> Result<Pushed, FarError> {
        let body = serde_json::to_string(push).map_err(|why| garbled(&why))?;
        ask("POST", RECORDS, Some(&body), self.token.as_deref()).await
    }

    async fn pull(&self, pull: Pull) -> Result<Pulled, FarError> {
        let since = pull
            .since
            .map(|at| format!("place={}&hash={}&", at.place, at.hash))
            .unwrap_or_default();
        let path = format!("{RECORDS}?{since}limit={}", pull.limit);
        ask("GET", &path, None, self.token.as_deref()).await
    }
}

/// Asks to be let in; gives the token.
pub(super) async fn pair(code: &str, name: &str) -> Result<String, FarError> {
    let body = serde_json::json!({ "code": code, "name": name }).to_string();
    let told: serde_json::Value = ask("POST", PAIRING, Some(&body), None).await?;
    told["token"]
        .as_str()
        .map(str::to_owned)
        .ok_or_else(|| garbled(&"no token in it"))
}

/// One question.
pub(super) async fn ask<T: DeserializeOwned>(
    method: &str,
    path: &str,
    body: Option<&str>,
    token: Option<&str>,
) -> Result<T, FarError> {
    let (status, retry_after, text) =
        send(method, path, body, token)
            .await
            .map_err(|thrown| FarError::Unreachable {
                why: words(&thrown),
            })?;
    understood(status, retry_after, &text)
}

async fn send(
    method: &str,
    path: &str,
    body: Option<&str>,
    token: Option<&str>,
) -> Result<(u16, Option<u32>, String), JsValue> {
    let options = web_sys::RequestInit::new();
    options.set_method(method);
    options.set_signal(Some(&web_sys::AbortSignal::timeout_with_u32(LONGEST_MS)));
    if let Some(body) = body {
        options.set_body(&JsValue::from_str(body));
    }
    let request = web_sys::Request::new_with_str_and_init(path, &options)?;
    request.headers().set("content-type", "application/json")?;
    if let Some(token) = token {
        request
            .headers()
            .set("authorization", &format!("Bearer {token}"))?;
    }
    let window = window().ok_or(JsValue::NULL)?;
    let response: web_sys::Response = JsFuture::from(window.fetch_with_request(&request))
        .await?
        .dyn_into()?;
    let retry_after = response
        .headers()
        .get("retry-after")?
        .and_then(|seconds| seconds.parse().ok());
    let text = JsFuture::from(response.text()?).await?;
    Ok((
        response.status(),
        retry_after,
        text.as_string().unwrap_or_default(),
    ))
}

/// What an answer means.
fn understood<T: DeserializeOwned>(
    status: u16,
    retry_after: Option<u32>,
    text: &str,
) -> Result<T, FarError> {
    match status {
        204 => serde_json::from_str("null").map_err(|why| garbled(&why)),
        200 => serde_json::from_str(text).map_err(|why| garbled(&why)),
        401 => Err(FarError::Unpaired),
        408 | 429 | 502..=504 => Err(FarError::Wait {
            seconds: retry_after.unwrap_or(10),
        }),
        _ => Err(serde_json::from_str::<Problem>(text)
            .map_or_else(|why| garbled(&why), FarError::Refused)),
    }
}

fn garbled(why: &dyn ToString) -> FarError {
    FarError::Garbled {
        why: why.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(status: u16, text: &str) -> Result<Pushed, FarError> {
        understood(status, Some(7), text)
    }

    #[test]
    fn answers_are_sorted_by_what_helps() {
        assert_eq!(
            told(200, r#"{"new":1,"known":2}"#),
            Ok(Pushed { new: 1, known: 2 })
        );
        assert_eq!(told(401, ""), Err(FarError::Unpaired));
        assert_eq!(told(429, ""), Err(FarError::Wait { seconds: 7 }));
        let refused = told(409, r#"{"code":"conflict","title":"t","status":409}"#);
        assert!(matches!(refused, Err(FarError::Refused(problem)) if problem.code == "conflict"));
    }

    #[test]
    fn a_page_of_another_kind_is_not_taken_for_an_answer() {
        // as the sign-in page of a public network gives it
        for status in [200, 404] {
            assert!(matches!(
                told(status, "<html>"),
                Err(FarError::Garbled { .. })
            ));
        }
    }
}
