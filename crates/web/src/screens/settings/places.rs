//! Apiaries: name, winter, place.

use hive::ApiaryId;
use hive::pen::Subject;
use leptos::ev::SubmitEvent;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::journal::{JournalError, Saying, use_journal};
use crate::parts::notice::Outcome;
use crate::parts::place_form::{PlaceDraft, PlaceFields};
use crate::texts;
use crate::texts::new_hive;
use crate::texts::settings as words;

/// Which form is open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Open {
    None,
    New,
    Known(ApiaryId),
}

/// The list, and the form for one of them or another.
#[component]
pub(super) fn Places() -> impl IntoView {
    let journal = use_journal();
    let open = RwSignal::new(Open::None);
    let outcome = RwSignal::new(String::new());
    let known = Memo::new(move |_| {
        journal
            .yard
            .with(|yard| yard.apiaries().cloned().collect::<Vec<_>>())
    });
    let list = move || {
        let known = known.get();
        if known.is_empty() {
            return view! { <p>{words::NO_PLACES}</p> }.into_any();
        }
        let rows = known.into_iter().map(|apiary| {
            let id = apiary.id;
            let down = move || {
                if open.get() == Open::Known(id) {
                    "true"
                } else {
                    "false"
                }
            };
            view! {
                <li>
                    <button type="button" class="row-button" aria-expanded=down
                        on:click=move |_| open.set(Open::Known(id))>
                        <span>{apiary.name}</span>
                        <span class="when">{new_hive::winter(apiary.climate)}</span>
                    </button>
                </li>
            }
        });
        view! { <ul class="rows">{rows.collect_view()}</ul> }.into_any()
    };
    let form = move || {
        let draft = match open.get() {
            Open::None => return None,
            Open::New => PlaceDraft::empty(),
            Open::Known(id) => journal
                .yard
                .with_untracked(|yard| yard.apiary(id).map(PlaceDraft::of))?,
        };
        Some(view! { <OnePlace draft open outcome /> })
    };
    view! {
        <section>
            <h2>{words::PLACES}</h2>
            {list}
            <button type="button" id="another-place" class="quiet-button" on:click=move |_| open.set(Open::New)>
                {words::NEW_PLACE}
            </button>
            {form}
            <Outcome words=outcome />
        </section>
    }
}

#[component]
fn OnePlace(draft: PlaceDraft, open: RwSignal<Open>, outcome: RwSignal<String>) -> impl IntoView {
    let journal = use_journal();
    let tried = RwSignal::new(false);
    let keep = move |event: SubmitEvent| {
        event.prevent_default();
        tried.set(true);
        let id = match open.get_untracked() {
            Open::Known(id) => Ok(id),
            Open::New | Open::None => Saying::fresh_id().map(|id| ApiaryId(id.0)),
        };
        let id = match id {
            Ok(id) => id,
            Err(why) => {
                outcome.set(texts::journal_error(&why));
                return;
            }
        };
        // what is wrong stands beside the fields now
        let Ok(known) = draft.read(id) else { return };
        spawn_local(async move {
            let done: Result<_, JournalError> = journal
                .append(vec![Saying::now(Subject::YARD, known)])
                .await;
            outcome.set(match done {
                Ok(_) => {
                    open.set(Open::None);
                    texts::records::KEPT.to_owned()
                }
                Err(why) => texts::journal_error(&why),
            });
        });
    };
    view! {
        <form class="form place-form" on:submit=keep novalidate>
            <PlaceFields draft tried />
            <button type="submit" id="keep-place">{words::KEEP_PLACE}</button>
        </form>
    }
}
