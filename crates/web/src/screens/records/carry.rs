//! Import and export.

use leptos::html::Input;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::browser::{clock, files};
use crate::journal::use_journal;
use crate::parts::notice::Outcome;
use crate::texts;
use crate::texts::records as words;

/// Saves everything to a file, and takes entries in from one.
#[component]
pub(super) fn Carry() -> impl IntoView {
    let journal = use_journal();
    let field = NodeRef::<Input>::new();
    let outcome = RwSignal::new(String::new());
    let export = move |_| {
        spawn_local(async move {
            match journal.export().await {
                Ok(text) => {
                    let name = format!("combwright-{}.jsonl", clock::today());
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
        outcome.set(words::READING.to_owned());
        spawn_local(async move {
            let text = match files::chosen(&input).await {
                Ok(Some(text)) => text,
                Ok(None) => {
                    outcome.set(String::new());
                    return;
                }
                Err(thrown) => {
                    outcome.set(crate::browser::words(&thrown));
                    return;
                }
            };
            outcome.set(match journal.import(&text).await {
                Ok(done) => words::imported(done.new, done.known),
                Err(why) => texts::journal_error(&why),
            });
            input.set_value("");
        });
    };
    view! {
        <section>
            <h2>{words::CARRY}</h2>
            <div class="stack">
                <button type="button" id="export" on:click=export>{words::EXPORT}</button>
                <label for="import">{words::IMPORT}</label>
                <input id="import" type="file" accept=".jsonl,application/jsonl" node_ref=field on:change=import />
            </div>
            <Outcome words=outcome />
        </section>
    }
}
