//! What must be seen: an error that loses nothing silently, or a newer version.

use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use wasm_bindgen::closure::Closure;
use wasm_bindgen_futures::spawn_local;

use super::changing;
use crate::browser::{reflect, window};
use crate::journal::{Link, Opened, Why, use_journal};
use crate::parts::go::Go;
use crate::route::Route;
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

/// Whether everything stays here for this reason. It stands while a round that asks again is under way.
pub fn here_only(why: Why) -> Memo<bool> {
    let journal = use_journal();
    let stands = RwSignal::new(false);
    let link = Link::HereOnly(why);
    Effect::new(move || {
        journal.link.with(|now| {
            if !matches!(now, Link::Unknown | Link::Busy) {
                stands.set(*now == link);
            }
        });
    });
    Memo::new(move |_| stands.get())
}

/// The server has another journal: nothing flows until the keeper has its own started, or joins both.
#[component]
pub fn AnotherJournal() -> impl IntoView {
    let another = here_only(Why::Another);
    changing::view(move || another.get().then(|| view! { <Joining /> }))
}

#[component]
fn Joining() -> impl IntoView {
    let journal = use_journal();
    let asked = RwSignal::new(false);
    let outcome = RwSignal::new(String::new());
    let join = move |_| {
        spawn_local(async move {
            if let Err(why) = journal.join().await {
                outcome.set(texts::journal_error(&why));
            }
        });
    };
    let buttons = changing::view(move || {
        if asked.get() {
            view! {
                <p id="join-sure">{texts::JOIN_SURE}</p>
                <div class="stack">
                    <button type="button" id="join-not" on:click=move |_| asked.set(false)>{texts::JOIN_NOT}</button>
                    <button type="button" id="join-now" class="plain" on:click=join>{texts::JOIN_NOW}</button>
                </div>
            }
            .into_any()
        } else {
            view! {
                <div class="stack">
                    <Go to=Route::Records class="button">{texts::ANOTHER_EXPORT}</Go>
                    <button type="button" id="join" class="plain" on:click=move |_| asked.set(true)>{texts::JOIN}</button>
                </div>
            }
            .into_any()
        }
    });
    view! {
        <div class="notice" id="another-journal">
            <div role="alert">
                <p><b>{texts::ANOTHER}</b></p>
                <p>{texts::ANOTHER_MORE}</p>
            </div>
            {buttons}
            <Outcome words=outcome />
        </div>
    }
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
