//! How much must stay for a colony in its place, and how its year may go.

mod answer;
mod reckoning;
mod weather;

use comb::typed::number;
use hive::HiveId;
use leptos::ev::SubmitEvent;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::browser::clock;
use crate::browser::nap::Nap;
use crate::journal::use_journal;
use crate::parts::empty::Empty;
use crate::parts::field::Field;
use crate::parts::go::{Go, use_place};
use crate::parts::notice::Outcome;
use crate::parts::screen::Screen;
use crate::route::Route;
use crate::texts;
use crate::texts::season as words;

use answer::Answer;
use reckoning::{Reckoned, reckon};
use weather::{Kept, Weather};

/// The screen.
#[component]
pub fn Season(
    /// Which hive; the first living one when none is chosen.
    hive: Option<HiveId>,
) -> impl IntoView {
    let journal = use_journal();
    let content = move || {
        let (hives, chosen) = journal.yard.with(|yard| {
            let living: Vec<_> = yard
                .living_hives()
                .into_iter()
                .map(|hive| (hive.id, hive.name.clone()))
                .collect();
            let chosen = hive.or_else(|| living.first().map(|(id, _)| *id));
            (living, chosen.filter(|hive| yard.hive(*hive).is_some()))
        });
        match chosen {
            None => view! {
                <Empty words=words::EMPTY>
                    <Go to=Route::NewHive class="button">{texts::apiary::NEW_HIVE}</Go>
                </Empty>
            }
            .into_any(),
            Some(hive) => view! { <Which hives hive /> <OfHive hive /> }.into_any(),
        }
    };
    view! {
        <Screen title=texts::screen(Route::Season(hive))>
            <p class="lead">{words::LEAD}</p>
            {content}
        </Screen>
    }
}

/// The choice of a hive.
#[component]
fn Which(hives: Vec<(HiveId, String)>, hive: HiveId) -> impl IntoView {
    let place = use_place();
    let options = hives.into_iter().map(|(id, name)| {
        view! { <option value=id.to_string() selected=id == hive>{name}</option> }
    });
    let choose = move |event: leptos::ev::Event| {
        if let Ok(hive) = event_target_value(&event).parse() {
            place.go(Route::Season(Some(hive)));
        }
    };
    view! {
        <div class="field">
            <label for="season-hive">{words::HIVE}</label>
            <select id="season-hive" on:change=choose>{options.collect_view()}</select>
        </div>
    }
}

/// The question and its answer.
#[component]
fn OfHive(hive: HiveId) -> impl IntoView {
    let journal = use_journal();
    let apiary = journal.yard.with_untracked(|yard| {
        let apiary = yard.hive(hive)?.apiary?;
        yard.apiary(apiary).cloned()
    });
    let there = apiary.and_then(|apiary| Some((apiary.id, apiary.place?)));
    let Some((apiary, there)) = there else {
        return view! {
            <Empty words=words::NO_PLACE>
                <Go to=Route::Settings class="button">{words::TELL_PLACE}</Go>
            </Empty>
        }
        .into_any();
    };
    let kept = RwSignal::new(Kept::of(apiary));
    let sure = RwSignal::new("95".to_owned());
    let take = RwSignal::new("0".to_owned());
    let busy = RwSignal::new(false);
    let outcome = RwSignal::new(String::new());
    let answer = RwSignal::new(None::<Reckoned>);
    let ask = move |event: SubmitEvent| {
        event.prevent_default();
        let sure = number(&sure.get()).filter(|sure| (50.0..=99.0).contains(sure));
        let take = number(&take.get()).filter(|take| (0.0..=40.0).contains(take));
        let (Some(sure), Some(take)) = (sure, take) else {
            outcome.set(words::WRONG_FIGURE.to_owned());
            return;
        };
        if busy.get_untracked() {
            return;
        }
        busy.set(true);
        outcome.set(words::RECKONING.to_owned());
        spawn_local(async move {
            // the words above must be drawn before the reckoning holds everything up
            Nap::default()
                .sleep(std::time::Duration::from_millis(60))
                .await;
            let yard = journal.yard.get_untracked();
            let done = kept.with_untracked(|kept| {
                reckon(
                    &yard,
                    hive,
                    there,
                    kept.0.as_ref(),
                    (sure / 100.0, take),
                    clock::today(),
                )
            });
            match done {
                Ok(reckoned) => {
                    outcome.set(String::new());
                    answer.set(Some(reckoned));
                }
                Err(why) => {
                    outcome.set(texts::sentence(&why));
                    answer.set(None);
                }
            }
            busy.set(false);
        });
    };
    let shown = move || answer.get().map(|reckoned| view! { <Answer reckoned /> });
    view! {
        <Weather apiary kept />
        <form class="form" on:submit=ask novalidate>
            <div class="pairs">
                <Field id="sure" label=words::SURE value=sure inputmode="numeric" />
                <Field id="take" label=words::TAKE value=take inputmode="decimal" />
            </div>
            <button type="submit" id="reckon" disabled=move || busy.get()>{words::RECKON}</button>
            <Outcome words=outcome />
        </form>
        {shown}
    }
    .into_any()
}
