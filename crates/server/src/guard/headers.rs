//! What every answer tells the browser about its own safety.

use axum::extract::Request;
use axum::http::HeaderValue;
use axum::http::header::{
    CONTENT_SECURITY_POLICY, HeaderName, REFERRER_POLICY, X_CONTENT_TYPE_OPTIONS, X_FRAME_OPTIONS,
};
use axum::middleware::Next;
use axum::response::Response;

/// Nothing from elsewhere, nothing inline; WebAssembly may be compiled (`wasm-unsafe-eval` allows
/// only that). Pictures may be data or made on the page, sound may be what was recorded.
const CONTENT_POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; \
    style-src 'self'; img-src 'self' data: blob:; media-src 'self' blob:; connect-src 'self'; \
    font-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'; \
    frame-ancestors 'none'";

/// The microphone and the lit screen are for the app itself, the rest for nobody.
const PERMISSIONS: &str = "microphone=(self), screen-wake-lock=(self), geolocation=(self), \
    camera=(), payment=(), usb=(), serial=(), midi=(), display-capture=()";

/// Adds them to every answer.
pub(crate) async fn secure(request: Request, next: Next) -> Response {
    let mut response = next.run(request).await;
    let told = [
        (CONTENT_SECURITY_POLICY, CONTENT_POLICY),
        (HeaderName::from_static("permissions-policy"), PERMISSIONS),
        (
            HeaderName::from_static("cross-origin-opener-policy"),
            "same-origin",
        ),
        (
            HeaderName::from_static("cross-origin-resource-policy"),
            "same-origin",
        ),
        (REFERRER_POLICY, "no-referrer"),
        (X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (X_FRAME_OPTIONS, "DENY"),
    ];
    for (name, value) in told {
        response
            .headers_mut()
            .insert(name, HeaderValue::from_static(value));
    }
    response
}
