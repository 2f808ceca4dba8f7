//! What is said and typed, what was heard and understood, and what the program answers.

use leptos::ev::SubmitEvent;
use leptos::html::Input;
use leptos::prelude::*;

use crate::room::{Phrase, Room};
use crate::texts::visit as words;

/// What the program says back.
#[component]
pub fn Answer(
    /// The work.
    room: Room,
) -> impl IntoView {
    let class = move || {
        room.answer
            .with(|answer| match (answer.words.is_empty(), answer.asks) {
                (true, _) => "answer none",
                (false, true) => "answer asks",
                (false, false) => "answer",
            })
    };
    view! { <p class=class id="answer" role="status">{move || room.answer.get().words}</p> }
}

/// The field for a phrase; the keyboard's own dictation key works in it.
#[component]
pub fn Field(
    /// The work.
    room: Room,
) -> impl IntoView {
    let field = NodeRef::<Input>::new();
    let enter = move |event: SubmitEvent| {
        event.prevent_default();
        let Some(input) = field.get() else { return };
        room.say(&input.value());
        input.set_value("");
    };
    view! {
        <form class="line" on:submit=enter>
            <label for="phrase">{words::PHRASE}</label>
            <input id="phrase" node_ref=field autocomplete="off" autocapitalize="off"
                enterkeyhint="done" placeholder=words::PHRASE_EXAMPLE />
            <button type="submit" id="enter">{words::ENTER}</button>
        </form>
    }
}

/// Phrases, the latest first.
#[component]
pub fn Phrases(
    /// The work.
    room: Room,
) -> impl IntoView {
    let phrases = super::part(room, |shown| shown.phrases.clone());
    let list = move || phrases.get().unwrap_or_default();
    let any = move || !list().is_empty();
    view! {
        <Show when=any>
            <section aria-labelledby="heard">
                <h2 id="heard">{words::HEARD}</h2>
                <ol class="entries" id="phrases">
                    <For each=list key=|phrase| (phrase.nth, phrase.at_ms, phrase.understood.clone()) children=row />
                </ol>
            </section>
        </Show>
    }
}

fn row(phrase: Phrase) -> impl IntoView {
    let Phrase {
        heard, understood, ..
    } = phrase;
    let nothing = understood.is_empty();
    let understood = if nothing {
        words::NOT_ABOUT_THE_HIVE.to_owned()
    } else {
        understood
    };
    let class = if nothing {
        "understood nothing"
    } else {
        "understood"
    };
    view! {
        <li class="entry">
            {heard.map(|heard| view! { <q>{heard}</q> })}
            <span class=class>{understood}</span>
        </li>
    }
}
