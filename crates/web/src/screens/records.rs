//! The journal: its entries, a note, and carrying it by file.

use hive::Known;
use hive::pen::Subject;
use leptos::ev::SubmitEvent;
use leptos::html::Input;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::browser::{clock, files};
use crate::journal::{Saying, use_journal};
use crate::parts::empty::Empty;
use crate::parts::notice::Outcome;
use crate::parts::screen::Screen;
use crate::route::Route;
use crate::texts;

/// Entries listed at most.
const LISTED: usize = 50;

/// The screen.
#[component]
pub fn Records() -> impl IntoView {
    view! {
        <Screen title=texts::screen(Route::Records)>
            <Note />
            <Latest />
            <Carry />
        </Screen>
    }
}

/// Writes a note of the yard.
#[component]
fn Note() -> impl IntoView {
    let journal = use_journal();
    let field = NodeRef::<Input>::new();
    let outcome = RwSignal::new(String::new());
    let write = move |event: SubmitEvent| {
        event.prevent_default();
        let Some(input) = field.get() else { return };
        let text = input.value().trim().to_owned();
        if text.is_empty() {
            return;
        }
        spawn_local(async move {
            let note = Saying::now(Subject::YARD, Known::Note { text });
            match journal.append(vec![note]).await {
                Ok(_) => {
                    input.set_value("");
                    outcome.set(texts::records::KEPT.to_owned());
                }
                Err(why) => outcome.set(texts::journal_error(&why)),
            }
        });
    };
    view! {
        <form class="line" on:submit=write>
            <label for="note">{texts::records::NOTE}</label>
            <input id="note" node_ref=field autocomplete="off" />
            <button type="submit" id="write">{texts::records::WRITE}</button>
        </form>
        <Outcome words=outcome />
    }
}

/// The latest entries.
#[component]
fn Latest() -> impl IntoView {
    let journal = use_journal();
    let list = move || {
        journal.yard.with(|yard| {
            let count = yard.journal().len();
            if count == 0 {
                return view! { <Empty words=texts::empty::RECORDS /> }.into_any();
            }
            let mut entries: Vec<_> = yard.journal().cloned().collect();
            entries.sort_by_key(|entry| std::cmp::Reverse((entry.at, entry.id)));
            let rows = entries.into_iter().take(LISTED).map(|entry| {
                let words = match entry.what.known() {
                    Some(Known::Note { text }) => text.clone(),
                    _ => entry.said.clone().unwrap_or_else(|| entry.what.kind().replace('_', " ")),
                };
                view! {
                    <li class="entry">
                        <span>{words}</span>
                        <span class="when">{clock::told(entry.at)} " \u{b7} " {entry.by.clone()}</span>
                    </li>
                }
            });
            view! {
                <h2>{texts::records::LATEST}</h2>
                <p id="count">{texts::records::count(count)}</p>
                <ol class="entries">{rows.collect_view()}</ol>
            }
            .into_any()
        })
    };
    let damaged = move || {
        let count = journal.damaged.get();
        (count > 0)
            .then(|| view! { <p class="notice" role="alert">{texts::records::damaged(count)}</p> })
    };
    view! { <section>{damaged} {list}</section> }
}

/// Import and export.
#[component]
fn Carry() -> impl IntoView {
    let journal = use_journal();
    let field = NodeRef::<Input>::new();
    let outcome = RwSignal::new(String::new());
    let export = move |_| {
        spawn_local(async move {
            match journal.export().await {
                Ok(text) => {
                    let now = clock::now().to_string();
                    let day = now.get(..10).unwrap_or(&now);
                    let name = format!("combwright-{day}.jsonl");
                    let saved = files::save(&name, "application/jsonl", &text);
                    outcome
                        .set(saved.map_or_else(|thrown| crate::browser::words(&thrown), |()| name));
                }
                Err(why) => outcome.set(texts::journal_error(&why)),
            }
        });
    };
    let import = move |_| {
        let Some(input) = field.get() else { return };
        spawn_local(async move {
            let text = match files::chosen(&input).await {
                Ok(Some(text)) => text,
                Ok(None) => return,
                Err(thrown) => {
                    outcome.set(crate::browser::words(&thrown));
                    return;
                }
            };
            outcome.set(match journal.import(&text).await {
                Ok(done) => texts::records::imported(done.new, done.known),
                Err(why) => texts::journal_error(&why),
            });
            input.set_value("");
        });
    };
    view! {
        <section>
            <h2>{texts::records::CARRY}</h2>
            <div class="stack">
                <button type="button" id="export" on:click=export>{texts::records::EXPORT}</button>
                <label for="import">{texts::records::IMPORT}</label>
                <input id="import" type="file" accept=".jsonl,application/jsonl" node_ref=field on:change=import />
            </div>
            <Outcome words=outcome />
        </section>
    }
}
