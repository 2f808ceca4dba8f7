//! This device, and the server.

use leptos::ev::SubmitEvent;
use leptos::html::Input;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::journal::{Link, Why, use_journal};
use crate::parts::changing;
use crate::parts::notice::{Outcome, here_only};
use crate::parts::pairing::PairForm;
use crate::texts;
use crate::texts::settings as words;

/// Who writes, and whether the browser keeps it.
#[component]
pub(super) fn ThisDevice() -> impl IntoView {
    let journal = use_journal();
    let field = NodeRef::<Input>::new();
    let outcome = RwSignal::new(String::new());
    let keep = move |event: SubmitEvent| {
        event.prevent_default();
        let Some(input) = field.get() else { return };
        let by = input.value().trim().to_owned();
        if by.is_empty() {
            return;
        }
        spawn_local(async move {
            outcome.set(match journal.set_by(by).await {
                Ok(()) => texts::records::KEPT.to_owned(),
                Err(why) => texts::journal_error(&why),
            });
        });
    };
    let by = move || {
        journal
            .device
            .get()
            .map(|device| device.by)
            .unwrap_or_default()
    };
    let kept = move || match journal.persisted.get() {
        Some(true) => words::PERSISTED,
        Some(false) => words::NOT_PERSISTED,
        None => "",
    };
    view! {
        <section>
            <h2>{words::DEVICE}</h2>
            <form class="line" on:submit=keep>
                <label for="by">{words::BY}</label>
                <input id="by" node_ref=field autocomplete="name" prop:value=by />
                <button type="submit">{words::KEEP}</button>
            </form>
            <Outcome words=outcome />
            <p>{kept}</p>
        </section>
    }
}

/// Pairing and exchange.
#[component]
pub(super) fn TheServer() -> impl IntoView {
    let journal = use_journal();
    let state = move || {
        journal
            .link
            .with(|link| texts::link(link, journal.waiting.get()))
    };
    let why = move || match journal.link.get() {
        Link::HereOnly(why) => texts::why(&why),
        _ => String::new(),
    };
    let unpaired = here_only(Why::Unpaired);
    let pair = changing::view(move || unpaired.get().then(|| view! { <PairForm /> }));
    view! {
        <section>
            <h2>{words::SERVER}</h2>
            <p>{state} ". " {why}</p>
            {pair}
            <button type="button" on:click=move |_| journal.exchange_soon()>
                {words::EXCHANGE}
            </button>
        </section>
    }
}
