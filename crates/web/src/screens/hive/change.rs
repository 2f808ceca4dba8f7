//! Renaming, moving and ending a hive.

use hive::pen::Subject;
use hive::{HiveId, Known};
use leptos::ev::SubmitEvent;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::journal::{Saying, use_journal};
use crate::parts::notice::Outcome;
use crate::texts;
use crate::texts::hive as words;

/// The three changes, folded away.
#[component]
pub(super) fn Change(
    /// Which hive.
    hive: HiveId,
) -> impl IntoView {
    let journal = use_journal();
    let outcome = RwSignal::new(String::new());
    let (name, why, apiary) = (
        RwSignal::new(String::new()),
        RwSignal::new(String::new()),
        RwSignal::new(String::new()),
    );
    let say = move |known: Known| {
        spawn_local(async move {
            let saying = Saying::now(Subject::hive(hive), known);
            outcome.set(match journal.append(vec![saying]).await {
                Ok(_) => {
                    name.set(String::new());
                    why.set(String::new());
                    texts::records::KEPT.to_owned()
                }
                Err(why) => texts::journal_error(&why),
            });
        });
    };
    let rename = move |event: SubmitEvent| {
        event.prevent_default();
        let name = name.get_untracked().trim().to_owned();
        if !name.is_empty() {
            say(Known::HiveRenamed { name });
        }
    };
    let move_to = move |event: SubmitEvent| {
        event.prevent_default();
        if let Ok(apiary) = apiary.get_untracked().parse() {
            say(Known::HiveMoved { apiary });
        }
    };
    let end = move |event: SubmitEvent| {
        event.prevent_default();
        let why = why.get_untracked().trim().to_owned();
        if !why.is_empty() {
            say(Known::HiveEnded { why });
        }
    };
    let places = move || {
        journal.yard.with(|yard| {
            let here = yard.hive(hive).and_then(|hive| hive.apiary);
            let options: Vec<_> = yard
                .apiaries()
                .filter(|apiary| Some(apiary.id) != here)
                .map(|apiary| (apiary.id.to_string(), apiary.name.clone()))
                .collect();
            if let Some((first, _)) = options.first() {
                apiary.set(first.clone());
            }
            options
        })
    };
    let places = Memo::new(move |_| places());
    let options = move || {
        let list = places.get().into_iter();
        list.map(|(id, name)| view! { <option value=id>{name}</option> })
            .collect_view()
    };
    let elsewhere = move || places.with(|places| !places.is_empty());
    view! {
        <details class="changes">
            <summary>{words::CHANGE}</summary>
            <form class="line" on:submit=rename>
                <label for="new-name">{words::NEW_NAME}</label>
                <input id="new-name" autocomplete="off" prop:value=name
                    on:input=move |event| name.set(event_target_value(&event)) />
                <button type="submit">{words::RENAME}</button>
            </form>
            <Show when=elsewhere>
                <form class="line" on:submit=move_to>
                    <label for="move-to">{words::MOVE_TO}</label>
                    <select id="move-to" on:change=move |event| apiary.set(event_target_value(&event))>
                        {options}
                    </select>
                    <button type="submit">{words::MOVE}</button>
                </form>
            </Show>
            <form class="line" on:submit=end>
                <label for="why">{words::WHY}</label>
                <input id="why" autocomplete="off" prop:value=why
                    on:input=move |event| why.set(event_target_value(&event)) />
                <button type="submit" class="grave">{words::END}</button>
            </form>
            <Outcome words=outcome />
        </details>
    }
}
