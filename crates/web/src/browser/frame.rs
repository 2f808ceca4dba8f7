//! Waiting until the screen shows what the page holds.

use std::time::Duration;

use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};

use super::{nap::Nap, window};

/// A page that is not painted (another tab is in front) waits no longer. Some frames of a slow screen.
const LONGEST: Duration = Duration::from_millis(100);

/// Sleeps until what the page holds now has been painted, until it is woken, or a tenth of a second.
pub async fn painted(nap: &Nap) {
    if let Some(window) = window() {
        let woken = nap.clone();
        // the frame is drawn after this is called; the first task after it comes when it is drawn
        let drawn = Closure::once_into_js(move |_: JsValue| {
            let wake = Closure::once_into_js(move || woken.wake());
            if let Some(window) = super::window() {
                let _ = window.set_timeout_with_callback(wake.unchecked_ref());
            }
        });
        // without frames it sleeps as long as it may
        let _ = window.request_animation_frame(drawn.unchecked_ref());
    }
    nap.sleep(LONGEST).await;
}
