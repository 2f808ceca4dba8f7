//! The proof of every entry kept here.

use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::journal::use_journal;
use crate::parts::notice::Outcome;
use crate::texts;
use crate::texts::records as words;

/// Computes every hash again and says what came of it.
#[component]
pub(super) fn Verify() -> impl IntoView {
    let journal = use_journal();
    let outcome = RwSignal::new(String::new());
    let prove = move |_| {
        outcome.set(words::VERIFYING.to_owned());
        spawn_local(async move {
            outcome.set(match journal.prove().await {
                Ok(proof) if proof.is_sound() => words::sound(proof.records, proof.devices),
                Ok(proof) => words::unsound(proof.changed, proof.gaps, proof.forks),
                Err(why) => texts::journal_error(&why),
            });
        });
    };
    view! {
        <section>
            <h2>{words::VERIFY}</h2>
            <p class="hint">{words::VERIFY_HINT}</p>
            <button type="button" id="verify" class="quiet-button" on:click=prove>{words::VERIFY}</button>
            <Outcome words=outcome />
        </section>
    }
}
