//! Whether the page is being left, and what must not be left behind.
//!
//! Browsers keep a page that was left as it stood, to show it again. What it still holds then, later
//! pages wait for: a transaction begun at the last moment is never finished (WebKit 2.50), and a lock
//! asked for or held is never given back (Firefox 153). Both were measured; `web-tests/tests/engines.rs`
//! leaves pages at every turn.

use std::cell::Cell;

use js_sys::Promise;
use wasm_bindgen::JsCast as _;
use wasm_bindgen::closure::Closure;
use web_sys::{AbortController, AbortSignal};

use super::{document, window};

thread_local! {
    // facts of the page, of which there is one
    static LEAVING: Cell<bool> = const { Cell::new(false) };
    static CONTROLLER: Option<AbortController> = AbortController::new().ok();
}

/// Whether the page is being left.
pub fn leaving() -> bool {
    LEAVING.get()
}

/// Aborted when the page is left.
pub fn signal() -> Option<AbortSignal> {
    CONTROLLER.with(|controller| controller.as_ref().map(AbortController::signal))
}

/// Settled when the page is left.
pub fn left() -> Promise {
    Promise::new(&mut |resolve, _| {
        // without a signal it is never settled
        if let Some(signal) = signal() {
            let _ = signal.add_event_listener_with_callback("abort", &resolve);
        }
    })
}

/// Watches for as long as the page lives. A page that was left and is shown again is loaded anew: it has
/// given up what it was about.
pub fn watch() {
    let hide = Closure::<dyn Fn()>::new(|| {
        LEAVING.set(true);
        CONTROLLER.with(|controller| {
            if let Some(controller) = controller {
                controller.abort();
            }
        });
    });
    let show = Closure::<dyn Fn()>::new(|| {
        let seen = document().is_some_and(|document| !document.hidden());
        if let (true, true, Some(window)) = (leaving(), seen, window()) {
            // refused, the keeper does it
            let _ = window.location().reload();
        }
    });
    let shown = show.as_ref().unchecked_ref();
    // where the browser refuses, it is as if it had never been watched
    if let Some(window) = window() {
        let _ = window.add_event_listener_with_callback("pagehide", hide.as_ref().unchecked_ref());
        let _ = window.add_event_listener_with_callback("pageshow", shown);
    }
    if let Some(document) = document() {
        let _ = document.add_event_listener_with_callback("visibilitychange", shown);
    }
    hide.forget();
    show.forget();
}
