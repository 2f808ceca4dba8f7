//! Pairing this device with the server.

use leptos::ev::SubmitEvent;
use leptos::html::Input;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::changing;
use super::notice::{Outcome, here_only};
use crate::browser::focus;
use crate::journal::{Why, use_journal};
use crate::texts;
use crate::texts::pairing as words;

/// The code from the server's screen, and who writes here while that is not told: the server lists its
/// devices by that name.
#[component]
pub fn PairForm() -> impl IntoView {
    let journal = use_journal();
    let (name, code) = (NodeRef::<Input>::new(), NodeRef::<Input>::new());
    let outcome = RwSignal::new(String::new());
    let wrong = RwSignal::new(String::new());
    let unnamed = Memo::new(move |_| {
        journal
            .device
            .with(|device| device.as_ref().is_none_or(|device| !device.is_named()))
    });
    let pair = move |event: SubmitEvent| {
        event.prevent_default();
        let Some(field) = code.get_untracked() else {
            return;
        };
        let code = field.value();
        let by = name.get_untracked().map(|field| field.value());
        let by = by
            .map(|by| by.trim().to_owned())
            .filter(|by| !by.is_empty());
        spawn_local(async move {
            if let Some(by) = by
                && let Err(why) = journal.set_by(by).await
            {
                outcome.set(texts::journal_error(&why));
                return;
            }
            let paired = journal.pair(&code).await;
            wrong.set(
                paired
                    .as_ref()
                    .err()
                    .map(words::not_paired)
                    .unwrap_or_default(),
            );
            if paired.is_ok() {
                field.set_value("");
                outcome.set(words::PAIRED.to_owned());
            } else {
                outcome.set(String::new());
                focus(&field);
            }
        });
    };
    let asked = changing::view(move || {
        unnamed.get().then(|| {
            view! {
                <label for="pair-by">{words::NAME}</label>
                <input id="pair-by" node_ref=name autocomplete="name" />
            }
        })
    });
    let invalid = changing::value(move || {
        if wrong.with(String::is_empty) {
            "false"
        } else {
            "true"
        }
    });
    view! {
        <form class="stack" on:submit=pair>
            {asked}
            <label for="code">{words::CODE}</label>
            <input id="code" node_ref=code inputmode="numeric" autocomplete="one-time-code"
                aria-describedby="code-wrong" aria-invalid=invalid />
            <p class="wrong" id="code-wrong" role="alert">{move || wrong.get()}</p>
            <button type="submit">{words::PAIR}</button>
        </form>
        <Outcome words=outcome />
    }
}

/// What to do on a device that the server does not know: without it, an empty yard would look like a
/// fresh one.
#[component]
pub fn NotPaired() -> impl IntoView {
    let unpaired = here_only(Why::Unpaired);
    changing::view(move || {
        unpaired.get().then(|| {
            view! {
                <section class="notice calm pairing" id="not-paired" aria-labelledby="pair-first">
                    <h2 id="pair-first">{words::FIRST}</h2>
                    <p>{words::FIRST_MORE}</p>
                    <PairForm />
                </section>
            }
        })
    })
}
