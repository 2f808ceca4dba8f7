//! Hands out the app's files, each in the smallest form that the browser takes.

use std::fmt::Write as _;

use axum::body::Body;
use axum::extract::State as Shared;
use axum::http::header::{
    ACCEPT, ACCEPT_ENCODING, CACHE_CONTROL, CONTENT_ENCODING, CONTENT_TYPE, ETAG, IF_NONE_MATCH,
    VARY,
};
use axum::http::{HeaderMap, HeaderValue, StatusCode, Uri};
use axum::response::{IntoResponse, Response};
use sha2::{Digest as _, Sha256};

use crate::api::Here;
use crate::embedded::Embedded;
use crate::problem;

/// Answers every path that is not the API's.
pub(crate) async fn file(Shared(state): Here, uri: Uri, headers: HeaderMap) -> Response {
    let path = uri.path();
    // an address that a person opens is a page of the app, which knows itself what to show there
    let at = |path: &str| state.app.iter().find(|file| file.path == path);
    let page = || takes_html(&headers).then(|| at("/")).flatten();
    let asked = at(path).or_else(page);
    match asked {
        Some(file) => answer(file, &headers),
        None => problem::not_found(path),
    }
}

fn takes_html(headers: &HeaderMap) -> bool {
    headers
        .get(ACCEPT)
        .and_then(|value| value.to_str().ok())
        .is_some_and(|a| a.contains("text/html"))
}

fn answer(file: &'static Embedded, headers: &HeaderMap) -> Response {
    let (encoding, bytes) = best(file, headers);
    let tag = tag(file, encoding);
    let mut response = if matches(headers, &tag) {
        StatusCode::NOT_MODIFIED.into_response()
    } else {
        let mut full = Response::new(Body::from(bytes));
        full.headers_mut().insert(
            CONTENT_TYPE,
            HeaderValue::from_static(media_type(file.path)),
        );
        if let Some(encoding) = encoding {
            full.headers_mut()
                .insert(CONTENT_ENCODING, HeaderValue::from_static(encoding));
        }
        full
    };
    let keep = if file.immutable {
        "public, max-age=31536000, immutable"
    } else {
        "no-cache"
    };
    let head = response.headers_mut();
    head.insert(CACHE_CONTROL, HeaderValue::from_static(keep));
    head.insert(VARY, HeaderValue::from_static("accept-encoding"));
    if let Ok(tag) = HeaderValue::from_str(&tag) {
        head.insert(ETAG, tag);
    }
    response
}

/// The smallest form the browser takes.
fn best(file: &'static Embedded, headers: &HeaderMap) -> (Option<&'static str>, &'static [u8]) {
    let takes = |name: &str| accepts(headers, name);
    match (file.brotli, file.gzip) {
        (Some(brotli), _) if takes("br") => (Some("br"), brotli),
        (_, Some(gzip)) if takes("gzip") => (Some("gzip"), gzip),
        _ => (None, file.raw),
    }
}

/// Whether a coding is named and not refused by `q=0` (RFC 9110, section 12.5.3).
fn accepts(headers: &HeaderMap, name: &str) -> bool {
    headers
        .get_all(ACCEPT_ENCODING)
        .iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|value| value.split(','))
        .any(|part| {
            let mut words = part.split(';').map(str::trim);
            let named = words
                .next()
                .is_some_and(|word| word.eq_ignore_ascii_case(name));
            let refused = words
                .filter_map(|word| word.strip_prefix("q="))
                .any(|q| q.parse::<f32>().is_ok_and(|q| q <= 0.0));
            named && !refused
        })
}

/// A strong tag: each form of a file has its own (RFC 9110, section 8.8.3).
fn tag(file: &Embedded, encoding: Option<&str>) -> String {
    let digest = Sha256::digest(file.raw);
    let mut tag = String::from("\"");
    for byte in &digest[..8] {
        let _ = write!(tag, "{byte:02x}");
    }
    let _ = write!(tag, "-{}\"", encoding.unwrap_or("plain"));
    tag
}

fn matches(headers: &HeaderMap, tag: &str) -> bool {
    headers
        .get(IF_NONE_MATCH)
        .and_then(|value| value.to_str().ok())
        .is_some_and(|list| {
            list.split(',')
                .any(|held| held.trim().trim_start_matches("W/") == tag)
        })
}

fn media_type(path: &str) -> &'static str {
    match path.rsplit_once('.').map(|(_, ending)| ending) {
        Some("js") => "text/javascript; charset=utf-8",
        Some("wasm") => "application/wasm",
        Some("css") => "text/css; charset=utf-8",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("webmanifest") => "application/manifest+json",
        Some("txt") => "text/plain; charset=utf-8",
        _ => "text/html; charset=utf-8",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asking(codings: &'static str) -> HeaderMap {
        HeaderMap::from_iter([(ACCEPT_ENCODING, HeaderValue::from_static(codings))])
    }

    static FILE: Embedded = Embedded {
        path: "/x.css",
        immutable: true,
        raw: b"raw",
        gzip: Some(b"gzip"),
        brotli: Some(b"br"),
    };

    #[test]
    fn the_smallest_form_that_is_taken_is_given() {
        assert_eq!(best(&FILE, &asking("gzip, deflate, br")).0, Some("br"));
        assert_eq!(best(&FILE, &asking("gzip;q=0.5, br;q=0")).0, Some("gzip"));
        assert_eq!(best(&FILE, &asking("identity")).0, None);
        assert_eq!(best(&FILE, &HeaderMap::new()).0, None);
    }

    #[test]
    fn each_form_has_its_own_tag() {
        assert_ne!(tag(&FILE, Some("br")), tag(&FILE, None));
    }
}
