//! At the server's own desk: which devices are let in, the code for the next one, and the end of it.

use jiff::Timestamp;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::browser::clock;
use crate::journal::{LetIn, use_journal};
use crate::parts::changing;
use crate::parts::notice::Outcome;
use crate::texts;
use crate::texts::pairing as words;

/// The list; nothing on a device that is not the server's desk.
#[component]
pub(super) fn DevicesLetIn() -> impl IntoView {
    let journal = use_journal();
    let known = RwSignal::new(None::<LetIn>);
    let asked = RwSignal::new(None::<String>);
    let outcome = RwSignal::new(String::new());
    let look = move || {
        spawn_local(async move {
            known.set(journal.let_in().await);
            asked.set(None);
        });
    };
    look();
    let let_out = move |id: String| {
        spawn_local(async move {
            match journal.let_out(&id).await {
                Ok(()) => outcome.set(words::LET_OUT.to_owned()),
                Err(why) => outcome.set(texts::why(&why)),
            }
            look();
        });
    };
    let device = move |id: String, name: String, at: Timestamp| {
        let zone = clock::time_zone();
        let when = texts::days::instant(at, &zone);
        let told = words::since(&name, &when);
        let (mine, theirs) = (id.clone(), id.clone());
        let buttons = changing::view(move || {
            let id = id.clone();
            if asked.get().as_ref() == Some(&mine) {
                view! {
                    <span class="stack">
                        <button type="button" class="grave sure" on:click=move |_| let_out(id.clone())>{words::LET_OUT_NOW}</button>
                        <button type="button" class="plain" on:click=move |_| asked.set(None)>{words::LET_OUT_NOT}</button>
                    </span>
                }
                .into_any()
            } else {
                let name = words::let_out(&name);
                view! {
                    <button type="button" class="plain" aria-label=name on:click=move |_| asked.set(Some(id.clone()))>{words::LET_OUT_ASK}</button>
                }
                .into_any()
            }
        });
        view! { <li class="own-piece" data-device=theirs><span>{told}</span> {buttons}</li> }
    };
    let list = changing::view(move || {
        let LetIn {
            code,
            addresses,
            first,
            devices,
        } = known.get()?;
        let how = match (first.first(), addresses.first()) {
            (Some(first), Some(app)) => words::next_one(first, app, &code),
            _ => words::NOT_ON_NETWORK.to_owned(),
        };
        let none = devices
            .is_empty()
            .then(|| view! { <p class="hint">{words::NONE}</p> });
        let devices = devices.into_iter().map(|one| {
            let at = one.at();
            device(one.id, one.name, at)
        });
        Some(view! {
            <section id="let-in">
                <h2>{words::LET_IN}</h2>
                <p>{how}</p>
                {none}
                <ul class="own">{devices.collect_view()}</ul>
                <Outcome words=outcome />
            </section>
        })
    });
    view! { {list} }
}
