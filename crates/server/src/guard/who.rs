//! Who asks.
//!
//! *Desk* is this machine's own browser, and free. It is told by three things together: the peer is
//! loopback; the address line says so too (a page from elsewhere whose name was bent to 127.0.0.1
//! still carries its own name); and no other page and no proxy stands behind the request. Anyone
//! else needs the token of a paired device.

use std::net::{IpAddr, SocketAddr};
use std::sync::Arc;

use axum::extract::{ConnectInfo, Request, State};
use axum::http::HeaderMap;
use axum::http::header::{AUTHORIZATION, FORWARDED, HOST, ORIGIN};
use axum::middleware::Next;
use axum::response::Response;

use crate::{problem, state};

/// Who asks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Who {
    /// The browser on this machine.
    Desk,
    /// A paired device.
    Paired,
}

/// Lets the desk and paired devices through; everyone else is told to pair.
pub(crate) async fn known(
    State(state): State<Arc<state::State>>,
    ConnectInfo(address): ConnectInfo<SocketAddr>,
    mut request: Request,
    next: Next,
) -> Response {
    match who(&state, address, &request) {
        Some(who) => {
            request.extensions_mut().insert(who);
            next.run(request).await
        }
        None => problem::unpaired(),
    }
}

/// Who asks; `None` is neither the desk nor a paired device.
pub(crate) fn who(state: &state::State, address: SocketAddr, request: &Request) -> Option<Who> {
    let host = request.uri().authority().map(ToString::to_string);
    if is_desk(state::peer(address), host.as_deref(), request.headers()) {
        return Some(Who::Desk);
    }
    token(request.headers())
        .filter(|token| state.pairing.knows(token))
        .map(|_| Who::Paired)
}

/// Lets only the desk through.
pub(crate) async fn desk_only(request: Request, next: Next) -> Response {
    if request.extensions().get() == Some(&Who::Desk) {
        next.run(request).await
    } else {
        problem::only_here()
    }
}

/// `authority` is the host and port of an HTTP/2 request, which has no Host field.
fn is_desk(peer: IpAddr, authority: Option<&str>, headers: &HeaderMap) -> bool {
    let text = |name| headers.get(name).and_then(|value| value.to_str().ok());
    let here = |host: &str| is_loopback_name(without_port(host));
    let asked_here = text(HOST.as_str()).or(authority).is_some_and(here);
    let proxied = ["x-forwarded-for", "x-forwarded-host", FORWARDED.as_str()]
        .iter()
        .any(|name| headers.contains_key(*name));
    let from_elsewhere = text("sec-fetch-site")
        .is_some_and(|site| !["same-origin", "none"].contains(&site))
        || text(ORIGIN.as_str()).is_some_and(|origin| {
            let host = origin.split_once("://").map(|(_, host)| host);
            host.is_none() || host != text(HOST.as_str()).or(authority)
        });
    peer.is_loopback() && asked_here && !proxied && !from_elsewhere
}

fn without_port(host: &str) -> &str {
    match host.strip_prefix('[') {
        Some(v6) => v6.split(']').next().unwrap_or(v6),
        None => host.split(':').next().unwrap_or(host),
    }
}

fn is_loopback_name(name: &str) -> bool {
    name.eq_ignore_ascii_case("localhost")
        || name
            .parse::<IpAddr>()
            .is_ok_and(|address| address.is_loopback())
}

fn token(headers: &HeaderMap) -> Option<&str> {
    headers
        .get(AUTHORIZATION)?
        .to_str()
        .ok()?
        .strip_prefix("Bearer ")
}

#[cfg(test)]
mod tests {
    use axum::http::HeaderName;

    use super::*;

    fn desk(peer: [u8; 4], fields: &[(&'static str, &str)]) -> bool {
        let headers = fields
            .iter()
            .map(|(name, value)| {
                (
                    HeaderName::from_static(name),
                    value.parse().expect("a header value"),
                )
            })
            .collect();
        is_desk(IpAddr::from(peer), None, &headers)
    }

    const HERE: [u8; 4] = [127, 0, 0, 1];

    #[test]
    fn this_machines_own_browser_is_the_desk() {
        assert!(desk(HERE, &[("host", "localhost:8427")]));
        assert!(desk(
            HERE,
            &[
                ("host", "127.0.0.1:8427"),
                ("sec-fetch-site", "same-origin")
            ]
        ));
        assert!(desk(
            HERE,
            &[("host", "[::1]:8427"), ("origin", "http://[::1]:8427")]
        ));
    }

    #[test]
    fn the_network_is_not_the_desk_whatever_it_calls_itself() {
        assert!(!desk([192, 168, 1, 9], &[("host", "localhost:8427")]));
    }

    #[test]
    fn a_name_bent_to_this_machine_is_not_the_desk() {
        assert!(!desk(HERE, &[("host", "elsewhere.example:8427")]));
        assert!(!desk(HERE, &[("host", "localhost.elsewhere.example")]));
        assert!(!desk(HERE, &[]));
    }

    #[test]
    fn another_sites_page_in_the_desks_browser_is_not_the_desk() {
        let host = ("host", "localhost:8427");
        assert!(!desk(HERE, &[host, ("sec-fetch-site", "cross-site")]));
        assert!(!desk(HERE, &[host, ("sec-fetch-site", "same-site")]));
        assert!(!desk(
            HERE,
            &[host, ("origin", "https://elsewhere.example")]
        ));
        assert!(!desk(HERE, &[host, ("origin", "http://localhost:9999")]));
        assert!(!desk(HERE, &[host, ("origin", "null")]));
    }

    #[test]
    fn whoever_stands_behind_a_proxy_is_not_the_desk() {
        assert!(!desk(
            HERE,
            &[
                ("host", "localhost:8427"),
                ("x-forwarded-for", "203.0.113.5")
            ]
        ));
    }
}
