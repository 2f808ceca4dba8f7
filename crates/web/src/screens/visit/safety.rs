//! Safety lines where the work happens; seen once, they are gone for the day.

use advice::opening::SAFETY_LINES;
use leptos::prelude::*;

use crate::browser::{clock, storage};
use crate::texts::visit as words;

/// The name under which the day is kept on which they were seen.
const SEEN: &str = "safety-seen";

/// The lines.
#[component]
pub fn Safety() -> impl IntoView {
    let today = clock::today().to_string();
    let seen = RwSignal::new(storage::get(SEEN).as_deref() == Some(&today));
    let dismiss = move |_| {
        storage::set(SEEN, &clock::today().to_string());
        seen.set(true);
    };
    let lines = || {
        SAFETY_LINES.map(|line| {
            let (name, rest) = line.split_once(": ").unwrap_or((words::SAFETY, line));
            view! { <li><b>{name}</b> ": " {rest}</li> }
        })
    };
    view! {
        <Show when=move || !seen.get()>
            <details class="safety">
                <summary>{words::SAFETY_SUMMARY}</summary>
                <ul>{lines().into_iter().collect_view()}</ul>
                <p>{words::SAFETY_MORE}</p>
                <button type="button" id="safety-seen" class="plain" on:click=dismiss>{words::DISMISS}</button>
            </details>
        </Show>
    }
}
