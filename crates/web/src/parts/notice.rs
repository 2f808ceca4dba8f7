//! What must be seen: an error that loses nothing silently, or a newer version.

use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use wasm_bindgen::closure::Closure;

use super::changing;
use crate::browser::{reflect, window};
use crate::journal::{Opened, use_journal};
use crate::texts;

/// Words about the outcome of something, said aloud by screen readers when they change.
#[component]
pub fn Outcome(
    /// The words; empty when there is nothing to say.
    #[prop(into)]
    words: Signal<String>,
) -> impl IntoView {
    view! { <p class="outcome" role="status">{words}</p> }
}

/// The journal could not be opened.
#[component]
pub fn JournalNotice() -> impl IntoView {
    let journal = use_journal();
    let fault = move || match journal.opened.get() {
        Opened::Failed(why) => Some(texts::journal_error(&why)),
        _ => None,
    };
    let notice = changing::view(move || {
        fault().map(|words| view! { <p class="notice" role="alert">{words}</p> })
    });
    view! { {notice} }
}

/// A newer version of the app is there; the keeper decides when it starts.
#[component]
pub fn UpdateNotice() -> impl IntoView {
    let ready = RwSignal::new(false);
    // told by the page's own script, which watches the service worker
    let heard = Closure::<dyn Fn()>::new(move || ready.set(true));
    if let Some(window) = window() {
        let _ =
            window.add_event_listener_with_callback("app-ready", heard.as_ref().unchecked_ref());
    }
    heard.forget();
    let start = move |_| {
        let update = window().and_then(|window| reflect::method(&window, "startNewVersion"));
        if let Some(update) = update {
            // refused, the newer version starts with the next visit to the page
            let _ = update.call0(&wasm_bindgen::JsValue::NULL);
        }
    };
    view! {
        <Show when=move || ready.get()>
            <p class="notice calm" role="status">
                {texts::UPDATE_READY} " "
                <button type="button" on:click=start>{texts::UPDATE}</button>
            </p>
        </Show>
    }
}
