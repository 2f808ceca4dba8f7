//! Whether the page is being left: a transaction begun then is never finished, and one engine (WebKit
//! 2.50 measured) has every later page wait for it.

use std::cell::Cell;

use wasm_bindgen::JsCast as _;
use wasm_bindgen::closure::Closure;
use web_sys::PageTransitionEvent;

use super::{document, window};

thread_local! {
    // a fact of the page, of which there is one
    static LEAVING: Cell<bool> = const { Cell::new(false) };
}

/// Whether the page is being left.
pub fn leaving() -> bool {
    LEAVING.get()
}

/// Watches for as long as the page lives. A page that the browser kept aside and shows again is loaded
/// anew: what it wanted to write meanwhile was refused.
pub fn watch() {
    let hide = Closure::<dyn Fn()>::new(|| LEAVING.set(true));
    let show = Closure::<dyn Fn(PageTransitionEvent)>::new(|shown: PageTransitionEvent| {
        LEAVING.set(false);
        if shown.persisted()
            && let Some(window) = window()
        {
            // refused, the page goes on as it is
            let _ = window.location().reload();
        }
    });
    let seen = Closure::<dyn Fn()>::new(|| {
        if document().is_some_and(|document| !document.hidden()) {
            LEAVING.set(false);
        }
    });
    // where the browser refuses, it is as if it had never been watched
    if let Some(window) = window() {
        let _ = window.add_event_listener_with_callback("pagehide", hide.as_ref().unchecked_ref());
        let _ = window.add_event_listener_with_callback("pageshow", show.as_ref().unchecked_ref());
    }
    if let Some(document) = document() {
        let _ = document
            .add_event_listener_with_callback("visibilitychange", seen.as_ref().unchecked_ref());
    }
    hide.forget();
    show.forget();
    seen.forget();
}
