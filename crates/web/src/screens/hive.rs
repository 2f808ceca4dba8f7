//! One hive: its section through time, the life of each comb, stores, visits, queen, changes.

mod change;
mod health;
mod life;
mod past;
mod stores;
mod through_time;

use advice::advise::Advice;
use hive::HiveId;
use leptos::prelude::*;

use crate::advised::advice_on;
use crate::browser::{clock, print};
use crate::journal::use_journal;
use crate::parts::changing;
use crate::parts::empty::Empty;
use crate::parts::go::Go;
use crate::parts::screen::Screen;
use crate::preferences::{DaysAhead, Units};
use crate::reserves::use_reserves;
use crate::route::Route;
use crate::texts;
use crate::texts::hive as words;

use change::Change;
use health::Health;
use past::{Notes, QueenAndHealth, Visits};
use stores::Stores;
use through_time::ThroughTime;

/// The screen.
#[component]
pub fn Hive(
    /// Which hive.
    hive: Option<HiveId>,
) -> impl IntoView {
    let journal = use_journal();
    let known = move |hive| journal.yard.with(|yard| yard.hive(hive).is_some());
    let name = move || {
        let hive = hive?;
        journal
            .yard
            .with(|yard| yard.hive(hive).map(|hive| hive.name.clone()))
    };
    let title = Signal::derive(move || {
        name().unwrap_or_else(|| texts::screen(Route::Hive(hive)).to_owned())
    });
    let there = Memo::new(move |_| hive.filter(|hive| known(*hive)));
    let content = move || match (hive, there.get()) {
        (_, Some(hive)) => view! { <OneHive hive /> }.into_any(),
        (None, None) => view! { <Choose /> }.into_any(),
        (Some(_), None) => view! {
            <Empty words=words::GONE>
                <Go to=Route::Apiary class="button">{texts::empty::TO_APIARY}</Go>
            </Empty>
        }
        .into_any(),
    };
    view! { <Screen title>{content}</Screen> }
}

/// Everything about one hive.
#[component]
fn OneHive(hive: HiveId) -> impl IntoView {
    let journal = use_journal();
    let days = expect_context::<RwSignal<DaysAhead>>();
    let units = expect_context::<RwSignal<Units>>();
    let reserves = use_reserves();
    let advice = Memo::new(move |_| -> Option<Result<Advice, String>> {
        let now = clock::now_here();
        let days = days.get();
        journal.yard.with(|yard| {
            let hive = yard.hive(hive)?;
            let model = reserves.of(hive.id);
            Some(advice_on(yard, hive, &days, model, &now).map_err(|why| why.to_string()))
        })
    });
    // a day chosen in the list of visits moves the slider
    let shown = RwSignal::new(None);
    let about = move || {
        journal.yard.with(|yard| {
            let hive = yard.hive(hive)?;
            let units = units.get();
            let length = units.length_words(hive.body.cavity_length());
            let body = units.told_in().body_words(&hive.body);
            let apiary = hive.apiary.and_then(|apiary| yard.apiary(apiary));
            Some(view! {
                <p>
                    {words::body(&body, &length, hive.row.bar_count())} " "
                    {words::stands(apiary.map(|apiary| apiary.name.as_str()))}
                </p>
            })
        })
    };
    // the first thing to know of it
    let ended = changing::view(move || {
        journal.yard.with(|yard| {
            let ended = yard.hive(hive)?.ended.as_ref()?;
            let day = clock::time_zone().to_datetime(ended.at).date();
            Some(view! { <p class="notice calm" id="ended">{words::ended(day, &ended.why)}</p> })
        })
    });
    let living = move || {
        let yard = journal.yard.get();
        yard.hive(hive).is_some_and(hive::Hive::is_living)
    };
    view! {
        {ended}
        <div class="acts">
            <Show when=living>
                <Go to=Route::Visit(Some(hive)) class="button">{texts::apiary::OPEN_VISIT}</Go>
                <Go to=Route::Season(Some(hive)) class="button quiet-button">{words::SEASON}</Go>
            </Show>
        </div>
        <ThroughTime hive shown advice />
        <Stores hive shown advice />
        <Visits hive shown />
        <Health hive />
        <QueenAndHealth hive />
        <Notes hive />
        <section>
            <h2>{words::BODY}</h2>
            {about}
            <button type="button" id="print" class="quiet-button" on:click=|_| print()>{words::PRINT}</button>
            <Show when=living><Change hive /></Show>
        </section>
    }
}

/// The choice of a hive.
#[component]
fn Choose() -> impl IntoView {
    let journal = use_journal();
    let list = move || {
        journal.yard.with(|yard| {
            let row = |hive: &hive::Hive| {
                let (id, name) = (hive.id, hive.name.clone());
                view! { <li><Go to=Route::Hive(Some(id)) class="row">{name}</Go></li> }
            };
            let living: Vec<_> = yard.living_hives().into_iter().map(row).collect();
            let ended: Vec<_> = yard
                .hives()
                .filter(|hive| !hive.is_living())
                .map(row)
                .collect();
            if living.is_empty() && ended.is_empty() {
                return view! {
                    <Empty words=texts::apiary::EMPTY>
                        <Go to=Route::NewHive class="button">{texts::apiary::NEW_HIVE}</Go>
                    </Empty>
                }
                .into_any();
            }
            let past = (!ended.is_empty()).then(|| {
                view! { <h2>{words::ENDED}</h2> <ul class="rows">{ended}</ul> }
            });
            view! { <p>{words::CHOOSE}</p> <ul class="rows">{living}</ul> {past} }.into_any()
        })
    };
    view! { {list} }
}
