//! The end points, under `/api/v1`; `openapi.json` beside the sources describes them.

mod calendar;
mod description;
mod devices;
mod health;
mod journal;
mod pairing;

use std::net::SocketAddr;
use std::sync::Arc;

use axum::extract::{ConnectInfo, DefaultBodyLimit, Request, State as Shared};
use axum::http::StatusCode;
use axum::middleware::{from_fn, from_fn_with_state};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{delete, get, post};
use axum::{Json, Router};
use serde::de::DeserializeOwned;
use tower::ServiceExt as _;

use crate::files;
use crate::guard::{headers, limits, rate, who};
use crate::phone::PhonePage;
use crate::problem::{not_found, problem};
use crate::state::{State, peer};

/// Bytes of one message of records.
const MESSAGE_BYTES: usize = 4 * 1024 * 1024;

/// Bytes of any other message.
const SMALL_BYTES: usize = 16 * 1024;

/// One end point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Route {
    /// The method, in capitals.
    pub method: &'static str,
    /// The path, as in the OpenAPI description.
    pub path: &'static str,
}

/// Every end point of the API; the test compares them with the description.
pub const ROUTES: [Route; 14] = [
    Route {
        method: "GET",
        path: "/health",
    },
    Route {
        method: "GET",
        path: "/api/v1/openapi.json",
    },
    Route {
        method: "GET",
        path: "/api/v1/journal",
    },
    Route {
        method: "GET",
        path: "/api/v1/journal/records",
    },
    Route {
        method: "POST",
        path: "/api/v1/journal/records",
    },
    Route {
        method: "POST",
        path: "/api/v1/pairing",
    },
    Route {
        method: "GET",
        path: "/api/v1/pairing",
    },
    Route {
        method: "GET",
        path: "/api/v1/devices",
    },
    Route {
        method: "DELETE",
        path: "/api/v1/devices/{id}",
    },
    Route {
        method: "GET",
        path: "/api/v1/me",
    },
    Route {
        method: "GET",
        path: "/calendar.ics",
    },
    Route {
        method: "GET",
        path: "/api/v1/calendar-key",
    },
    Route {
        method: "POST",
        path: "/api/v1/calendar-key",
    },
    Route {
        method: "DELETE",
        path: "/api/v1/calendar-key",
    },
];

/// Everything, with its guards. `page` is there when the local network is let in; `further` routes
/// are behind the same guard as the journal.
pub(crate) fn router(
    state: &Arc<State>,
    page: Option<Arc<PhonePage>>,
    further: Router<()>,
) -> Router {
    let guard = from_fn_with_state(Arc::clone(state), who::known);
    let desk = Router::new()
        .route("/api/v1/pairing", get(pairing::show))
        .route("/api/v1/devices", get(devices::list))
        .route("/api/v1/devices/{id}", delete(devices::revoke))
        .route(
            "/api/v1/calendar-key",
            get(calendar::show)
                .post(calendar::renew)
                .delete(calendar::revoke),
        )
        .route_layer(from_fn(who::desk_only))
        .route_layer(guard.clone());
    let paired = Router::new()
        .route("/api/v1/openapi.json", get(description::openapi))
        .route("/api/v1/me", get(pairing::me))
        .route("/api/v1/journal", get(journal::about))
        .route(
            "/api/v1/journal/records",
            get(journal::pull).post(journal::push),
        )
        .route_layer(DefaultBodyLimit::max(MESSAGE_BYTES))
        .route_layer(guard.clone());
    let keyed = Router::new()
        .route(crate::calendar::PATH, get(calendar::feed))
        .route_layer(from_fn_with_state(Arc::clone(state), calendar::keyed));
    let open = Router::new()
        .route("/health", get(health::health))
        .route("/api/v1/pairing", post(pairing::pair))
        .route_layer(DefaultBodyLimit::max(SMALL_BYTES));
    let unknown = Router::new()
        .route("/api/{*rest}", axum::routing::any(unknown))
        .merge(further.with_state(()))
        .route_layer(guard);
    let mut all = Router::new()
        .merge(desk)
        .merge(paired)
        .merge(keyed)
        .merge(open)
        .merge(unknown);
    if let Some(page) = page {
        all = all.merge(phone_routes(page));
    }
    all.fallback(get(files::file))
        .method_not_allowed_fallback(wrong_method)
        .with_state(Arc::clone(state))
        .layer(from_fn_with_state(Arc::clone(state), rate::limited))
        .layer(from_fn_with_state(Arc::clone(state), limits::bounded))
        .layer(from_fn(headers::secure))
}

/// The plain listener when the local network is let in: the app for this machine's own browser,
/// the explaining page and nothing else for everyone outside.
pub(crate) fn plain_on_the_network(app: Router, page: Arc<PhonePage>) -> Router {
    let outside: Router = phone_routes(page)
        .fallback(get(|| async { Redirect::temporary("/phone") }))
        .layer(from_fn(headers::secure));
    Router::new().fallback(
        move |ConnectInfo(from): ConnectInfo<SocketAddr>, request: Request| {
            let router = if peer(from).is_loopback() {
                app.clone()
            } else {
                outside.clone()
            };
            async move {
                match router.oneshot(request).await {
                    Ok(response) => response,
                    Err(never) => match never {},
                }
            }
        },
    )
}

fn phone_routes<S: Clone + Send + Sync + 'static>(page: Arc<PhonePage>) -> Router<S> {
    let certificate = Arc::clone(&page);
    Router::new()
        .route("/phone", get(move || async move { page.page() }))
        .route(
            "/authority.crt",
            get(move || async move { certificate.download() }),
        )
        .route("/phone.css", get(|| async { PhonePage::style() }))
}

async fn unknown(request: Request) -> Response {
    not_found(request.uri().path())
}

async fn wrong_method(request: Request) -> Response {
    problem(
        StatusCode::METHOD_NOT_ALLOWED,
        "method",
        "this cannot be done there",
        format!("{} is not for {}", request.method(), request.uri().path()),
    )
}

/// A JSON body, refused in our words.
struct Body<T>(T);

impl<T: DeserializeOwned, S: Send + Sync> axum::extract::FromRequest<S> for Body<T> {
    type Rejection = Response;

    async fn from_request(request: Request, state: &S) -> Result<Self, Response> {
        match Json::<T>::from_request(request, state).await {
            Ok(Json(read)) => Ok(Self(read)),
            Err(why) => Err(malformed(why.status(), why.body_text())),
        }
    }
}

/// A query, refused in our words.
struct Query<T>(T);

impl<T: DeserializeOwned, S: Send + Sync> axum::extract::FromRequestParts<S> for Query<T> {
    type Rejection = Response;

    async fn from_request_parts(
        parts: &mut axum::http::request::Parts,
        state: &S,
    ) -> Result<Self, Response> {
        match axum::extract::Query::<T>::from_request_parts(parts, state).await {
            Ok(axum::extract::Query(read)) => Ok(Self(read)),
            Err(why) => Err(malformed(why.status(), why.body_text())),
        }
    }
}

fn malformed(status: StatusCode, why: String) -> Response {
    match status {
        StatusCode::PAYLOAD_TOO_LARGE => problem(status, "too_large", "too much at once", why),
        StatusCode::UNSUPPORTED_MEDIA_TYPE => problem(status, "media_type", "JSON is needed", why),
        _ => problem(
            StatusCode::UNPROCESSABLE_ENTITY,
            "malformed",
            "cannot be read",
            why,
        ),
    }
}

/// What the handlers need.
pub(crate) type Here = Shared<Arc<State>>;

fn json(value: impl serde::Serialize) -> Response {
    let mut response = Json(value).into_response();
    response.headers_mut().insert(
        axum::http::header::CACHE_CONTROL,
        axum::http::HeaderValue::from_static("no-store"),
    );
    response
}
