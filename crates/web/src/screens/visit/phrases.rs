//! What is said and typed, what was heard and understood, and what the program answers.

use leptos::ev::SubmitEvent;
use leptos::html::Input;
use leptos::prelude::*;

use super::putting_right::PuttingRight;
use crate::browser::document;
use crate::parts::changing;
use crate::room::{Answer as Told, Last, Part, Phrase, Room};
use crate::sound::use_sound;
use crate::texts;
use crate::texts::visit as words;
use crate::voice::use_voice;

/// What the program says back.
#[component]
pub fn Answer(
    /// The work.
    room: Room,
) -> impl IntoView {
    let class = changing::value(move || {
        room.answer
            .with(|answer| match (hidden(answer), answer.minds, answer.asks) {
                (true, ..) => "answer none",
                (false, true, _) => "answer minds",
                (false, false, true) => "answer asks",
                (false, false, false) => "answer",
            })
    });
    let words = changing::value(move || {
        room.answer.with(|answer| {
            if hidden(answer) {
                String::new()
            } else {
                answer.words.clone()
            }
        })
    });
    view! { <p class=class id="answer" role="status">{words}</p> }
}

fn hidden(answer: &Told) -> bool {
    answer.words.is_empty() || answer.spoken_only
}

/// The last phrase and what it came to, while closing: the list of phrases stands at the combs.
#[component]
pub fn LastHeard(
    /// The work.
    room: Room,
) -> impl IntoView {
    changing::view(move || {
        let Last { heard, understood } = room.answer.with(|answer| answer.to.clone())?;
        let class = if understood.is_empty() {
            "understood nothing"
        } else {
            "understood"
        };
        let understood = if understood.is_empty() {
            texts::closing_up::NO_WORD.to_owned()
        } else {
            understood
        };
        Some(view! {
            <p class="last-heard" id="last-heard">
                <q>{heard}</q> " " <span class=class>{understood}</span>
            </p>
        })
    })
}

/// The field's id.
const FIELD: &str = "phrase";

/// Puts the cursor into the field.
pub(super) fn to_the_field() {
    if let Some(field) = document().and_then(|document| document.get_element_by_id(FIELD)) {
        crate::browser::focus(&field);
    }
}

/// The field for a phrase; the keyboard's own dictation key works in it.
#[component]
pub fn Field(
    /// The work.
    room: Room,
) -> impl IntoView {
    let field = NodeRef::<Input>::new();
    let voice = use_voice();
    let example = move || match room.part.get() {
        Part::Combs => words::PHRASE_EXAMPLE,
        Part::Closing { .. } => texts::closing_up::PHRASE_EXAMPLE,
    };
    let enter = move |event: SubmitEvent| {
        event.prevent_default();
        let Some(input) = field.get() else { return };
        room.say(&input.value());
        input.set_value("");
    };
    view! {
        <form class="line" novalidate on:submit=enter>
            <label for=FIELD>{words::PHRASE}</label>
            // the tap, not the phrase: what speech costs the first time is paid before
            <input id=FIELD on:click=move |_| voice.may_answer() node_ref=field autocomplete="off" autocapitalize="off"
                enterkeyhint="done" placeholder=example />
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
                <p class="hint">{words::HEARD_MORE}</p>
                <ol class="entries" id="phrases">
                    <For each=list key=Phrase::clone children=move |phrase| row(room, phrase) />
                </ol>
            </section>
        </Show>
    }
}

fn row(room: Room, phrase: Phrase) -> impl IntoView {
    let sound = use_sound();
    let Phrase {
        nth,
        heard,
        spoken,
        was,
        left_out,
        understood,
        asked,
        at_ms,
    } = phrase;
    let nothing = understood.is_empty();
    let understood = match (left_out, nothing, asked) {
        (true, ..) => words::LEFT_OUT.to_owned(),
        (_, _, true) => words::A_QUESTION.to_owned(),
        (_, true, false) => words::NOT_ABOUT_THE_HIVE.to_owned(),
        (_, false, false) => understood,
    };
    let class = if nothing {
        "understood nothing"
    } else {
        "understood"
    };
    let name = heard.clone().unwrap_or_else(|| understood.clone());
    let visit = room
        .with(|live| live.session().visit.to_string())
        .unwrap_or_default();
    // once its piece is kept, it can be heard again
    let again = changing::view(move || {
        let piece = sound.at(&visit, at_ms)?;
        let play = move |_| sound.play(&piece, at_ms);
        Some(view! {
            <button type="button" class="plain" aria-label=texts::sound::hear(&name) on:click=play>"\u{25b6}"</button>
        })
    });
    let open = RwSignal::new(false);
    let expanded = changing::value(move || if open.get() { "true" } else { "false" });
    let form = {
        let heard = heard.clone().unwrap_or_default();
        changing::view(move || {
            open.get()
                .then(|| view! { <PuttingRight room nth at_ms heard=heard.clone() open /> })
        })
    };
    let told = view! {
        {heard.map(|heard| view! { <q>{heard}</q> })}
        {was.map(|was| view! { <span class="was">{words::was_heard(&was)}</span> })}
        <span class=class>{understood}</span>
    };
    let told = if spoken {
        let toggle = move |_| open.update(|open| *open = !*open);
        let told = view! {
            <button type="button" class="phrase" aria-expanded=expanded on:click=toggle>{told}</button>
        };
        told.into_any()
    } else {
        view! { <div class="phrase">{told}</div> }.into_any()
    };
    view! { <li class="entry heard">{told} {again} {form}</li> }
}
