//! The form that begins a hive, with its drawing to scale.

#![allow(
    clippy::large_types_passed_by_value,
    reason = "a draft is a handful of handles; only builds for development make them large"
)]

mod bars;
mod body;
mod draft;
mod drawing;

use hive::pen::Subject;
use hive::{ApiaryId, BarId, HiveId, Known};
use leptos::ev::SubmitEvent;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::browser::nap::Nap;
use crate::browser::{document, frame};
use crate::journal::{Journal, JournalError, Saying, use_journal};
use crate::parts::field::{Choice, Field, Switch};
use crate::parts::go::use_place;
use crate::parts::notice::Outcome;
use crate::parts::place_form::PlaceFields;
use crate::parts::screen::Screen;
use crate::preferences::Units;
use crate::route::Route;
use crate::texts;
use crate::texts::new_hive as words;

use bars::BarFields;
use body::BodyFields;
use draft::{Draft, NEW_PLACE, NOWHERE, Told};
use drawing::Drawing;

/// The screen.
#[component]
pub fn NewHive() -> impl IntoView {
    let journal = use_journal();
    let place = use_place();
    let units = expect_context::<RwSignal<Units>>();
    let draft = journal
        .yard
        .with_untracked(|yard| Draft::usual(yard, units.get_untracked()));
    let tried = RwSignal::new(false);
    let busy = RwSignal::new(false);
    let outcome = RwSignal::new(String::new());
    let read = Memo::new(move |_| journal.yard.with(|yard| draft.read(yard, units.get())));
    let fault = move |id: &'static str, always: bool| {
        Signal::derive(move || {
            let shown = always || tried.get();
            read.with(|read| match read {
                Err(faults) if shown => faults.get(id).cloned(),
                _ => None,
            })
        })
    };
    // mended, it is no longer said
    Effect::new(move || {
        let mended = read.with(Result::is_ok) && draft.place_is_told();
        if mended && outcome.with_untracked(|words| words == words::MEND) {
            outcome.set(String::new());
        }
    });
    let begin = move |event: SubmitEvent| {
        event.prevent_default();
        tried.set(true);
        if busy.get_untracked() {
            return;
        }
        let told = match read.get_untracked() {
            Ok(told) if draft.place_is_told() => told,
            _ => {
                outcome.set(words::MEND.to_owned());
                spawn_local(async {
                    // what is wrong is marked by then
                    frame::painted(&Nap::default()).await;
                    to_the_first_fault();
                });
                return;
            }
        };
        busy.set(true);
        spawn_local(async move {
            match record(journal, draft, told).await {
                Ok(hive) => place.go(Route::Hive(Some(hive))),
                Err(why) => {
                    outcome.set(texts::journal_error(&why));
                    busy.set(false);
                }
            }
        });
    };
    let places = Signal::derive(move || {
        let known = journal.yard.with(|yard| {
            yard.apiaries()
                .map(|apiary| (apiary.id.to_string(), apiary.name.clone()))
                .collect::<Vec<_>>()
        });
        known
            .into_iter()
            .chain([
                (NEW_PLACE.to_owned(), words::NEW_PLACE.to_owned()),
                (NOWHERE.to_owned(), words::NOWHERE.to_owned()),
            ])
            .collect::<Vec<_>>()
    });
    let asks_place = move || draft.place.with(|place| place == NEW_PLACE);
    view! {
        <Screen title=words::TITLE>
            <p class="lead">{words::LEAD}</p>
            <form class="form" on:submit=begin novalidate>
                <Field id="hive-name" label=words::NAME value=draft.name hint=Signal::stored(words::NAME_HINT.to_owned())
                    fault=fault("hive-name", false) />
                <div class="beside">
                    <div>
                        <BodyFields draft fault=Callback::new(move |id| fault(id, true)) />
                        <BarFields draft read fault=Callback::new(move |id| fault(id, true)) />
                    </div>
                    <Drawing draft read />
                </div>
                <section>
                    <h2>{words::PLACE}</h2>
                    <Choice name="place" legend=words::APIARY of=places chosen=draft.place />
                    <Show when=asks_place>
                        <PlaceFields draft=draft.new_place tried />
                    </Show>
                </section>
                <section class="law">
                    <h2>{words::LAW}</h2>
                    <p>{words::LAW_LEAD}</p>
                    <ul>{words::LAW_QUESTIONS.map(|question| view! { <li>{question}</li> }).collect_view()}</ul>
                    <Switch id="law-note" label=words::LAW_NOTE on=draft.law_note
                        turn=Callback::new(move |on| draft.law_note.set(on)) />
                </section>
                <button type="submit" id="begin" disabled=move || busy.get()>{words::BEGIN}</button>
                <Outcome words=outcome />
            </form>
        </Screen>
    }
}

/// Goes to the first field that is wrong: the form is longer than a screen.
fn to_the_first_fault() {
    let fault = document().and_then(|document| {
        let found = document.query_selector("form [aria-invalid='true']");
        found.ok().flatten()
    });
    if let Some(fault) = fault {
        crate::browser::focus(&fault);
    }
}

/// Writes the hive down, with its apiary if that is new: all of it or nothing.
async fn record(journal: Journal, draft: Draft, told: Told) -> Result<HiveId, JournalError> {
    let fresh = || Saying::fresh_id().map(|id| id.0);
    let hive = HiveId(fresh()?);
    let mut founding = told.founding;
    let mut sayings = Vec::new();
    if draft.place.with_untracked(|place| place == NEW_PLACE) {
        let apiary = ApiaryId(fresh()?);
        if let Ok(known) = draft.new_place.read(apiary) {
            sayings.push(Saying::now(Subject::YARD, known));
            founding.apiary = Some(apiary);
        }
    }
    let bars = founding.bar_count()?;
    let mut ids = (0..bars)
        .map(|_| fresh().map(BarId))
        .collect::<Result<Vec<_>, _>>()?
        .into_iter();
    let about = Subject::hive(hive);
    let entries = founding.entries(|| ids.next().unwrap_or(BarId(uuid::Uuid::nil())))?;
    sayings.extend(entries.into_iter().map(|known| Saying::now(about, known)));
    if draft.law_note.get_untracked() {
        let text = words::law_note();
        sayings.push(Saying::now(about, Known::Note { text }));
    }
    journal.append(sayings).await?;
    Ok(hive)
}
