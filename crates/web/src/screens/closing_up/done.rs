//! After the closing: what was done, and when to come back.

use std::sync::Arc;

use advice::advise::advise;
use leptos::prelude::*;
use paper::calendar::{Due, calendar};

use crate::browser::{clock, files};
use crate::journal::use_journal;
use crate::parts::changing;
use crate::parts::go::Go;
use crate::parts::notice::Outcome;
use crate::parts::section::Section;
use crate::room::{Room, Shown};
use crate::route::Route;
use crate::texts;
use crate::texts::closing_up as words;

/// The hive is closed.
#[component]
pub fn Done(
    /// The work.
    room: Room,
) -> impl IntoView {
    let journal = use_journal();
    let advice = Memo::new(move |_| {
        let yard = journal.yard.get_untracked();
        room.shown.track();
        room.with(|live| {
            let hive = &live.hive_with_history();
            let around = room.around(&yard, hive);
            let others = yard.hives().filter(|other| other.id != hive.id);
            advise(hive, others.chain([hive]), &around).ok()
        })
        .flatten()
        .map(|advice| (advice.return_visit.day, advice.return_visit.reason))
    });
    let section = Signal::derive(move || {
        room.shown
            .with(|shown| shown.as_ref().map(|shown| shown.section.clone()))
    });
    let count = changing::value(move || {
        room.shown.with(|shown| {
            shown
                .as_ref()
                .map(|shown| texts::visit::count(&shown.advice.count))
        })
    });
    let went = changing::view(move || {
        let shown = room.shown.get()?;
        shown.carried.to?;
        let told = texts::visit::carried_to(&shown.carried)?;
        Some(view! { <p>{told}</p> })
    });
    let there = changing::view(move || {
        let shown = room.shown.get()?;
        let to = shown
            .carried
            .to
            .filter(|_| !shown.carried.bars.is_empty())?;
        let name = words::to_hive(shown.carried.name.as_deref());
        Some(view! { <Go to=Route::Hive(Some(to)) class="button plain">{name}</Go> })
    });
    let outcome = RwSignal::new(String::new());
    let save = move |_| {
        let Some((Some(day), reason)) = advice.get_untracked() else {
            return;
        };
        let name = room
            .with(|live| live.hive().name.clone())
            .unwrap_or_default();
        let due = Due {
            uid: format!("return-{}@combwright", room.hive),
            day,
            summary: words::due(&name),
            description: format!("{reason}."),
            location: None,
        };
        let text = calendar(texts::APP, &[due], clock::now());
        let saved = files::save("return.ics", "text/calendar", &text);
        outcome.set(saved.map_or_else(
            |thrown| crate::browser::words(&thrown),
            |()| words::SAVED.to_owned(),
        ));
    };
    let back = changing::view(move || {
        let (day, reason) = advice.get()?;
        let reason = texts::sentence(&texts::days::spelled(&reason));
        let told = day.map_or_else(|| words::NO_DAY.to_owned(), texts::days::day_and_year);
        let button = day.map(|_| {
            view! { <button type="button" id="save-return" class="wide" on:click=save>{words::CALENDAR}</button> }
        });
        Some(view! {
            <section aria-labelledby="return">
                <h2 id="return">{words::RETURN}</h2>
                <p class="return-day">{told}</p>
                <p>{reason}</p>
                {button}
                <Outcome words=outcome />
            </section>
        })
    });
    view! {
        <div class="visit-done" id="closed">
            <p class="answer" role="status">{words::CLOSED}</p>
            <button type="button" id="undo" class="wide plain" on:click=move |_| room.undo()>{words::OPEN_AGAIN}</button>
            <p>{count} "."</p>
            {went}
            <Section id="closed-section" section options=super::super::visit::plain_picture() />
            {back}
            <p class="keeping" role="status" id="keeping">{move || room.keeping.with(texts::visit::keeping)}</p>
            {move || has_taken(room).then(|| view! {
                <Go to=Route::HoneyHouse class="button plain">{words::TO_HONEY_HOUSE}</Go>
            })}
            {there}
            <Go to=Route::Apiary class="button plain">{texts::empty::TO_APIARY}</Go>
        </div>
    }
}

/// Whether combs wait in the honey house.
fn has_taken(room: Room) -> bool {
    let taken = |shown: &Arc<Shown>| shown.advice.count.taken > 0;
    room.shown.with(|shown| shown.as_ref().is_some_and(taken))
}
