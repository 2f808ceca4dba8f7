//! Closing up a hive: one step at a time, read aloud, ticked by voice or tap.

pub mod done;
pub mod own;
pub mod plan;
mod shims;

use hive::HiveId;
use leptos::prelude::*;

use crate::journal::{Opened, use_journal};
use crate::parts::changing;
use crate::parts::empty::Empty;
use crate::parts::go::Go;
use crate::parts::screen::Screen;
use crate::room::{Part, Phase, Room, use_rooms};
use crate::route::Route;
use crate::texts;
use crate::texts::closing_up as words;

/// The screen.
#[component]
pub fn ClosingUp(
    /// Which hive.
    hive: Option<HiveId>,
) -> impl IntoView {
    let journal = use_journal();
    let name = move || {
        let hive = hive?;
        journal
            .yard
            .with(|yard| yard.hive(hive).map(|hive| hive.name.clone()))
    };
    let title = Signal::derive(move || {
        let screen = texts::screen(Route::ClosingUp(hive));
        name().map_or_else(|| screen.to_owned(), |name| format!("{screen}: {name}"))
    });
    let open = journal.opened.get_untracked() == Opened::Open;
    let Some(hive) = hive.filter(|_| open) else {
        return view! { <Screen title><OpenHives /></Screen> }.into_any();
    };
    let room = use_rooms().of(hive);
    room.part.set(Part::Closing { ticked: 0 });
    on_cleanup(move || room.part.set(Part::Combs));
    let content = changing::view(move || match room.phase.get() {
        Phase::Opening => {
            view! { <p class="opening" role="status">{texts::visit::OPENING}</p> }.into_any()
        }
        Phase::Elsewhere => view! { <Empty words=texts::visit::ELSEWHERE /> }.into_any(),
        Phase::NoHive => view! { <Empty words=texts::visit::NO_HIVE /> }.into_any(),
        Phase::Ended => view! { <Empty words=texts::visit::ENDED /> }.into_any(),
        Phase::Failed(why) => view! { <p class="notice" role="alert">{why}</p> }.into_any(),
        Phase::Ready => view! { <Closing room /> }.into_any(),
    });
    view! { <Screen title>{content}</Screen> }.into_any()
}

/// Hives that stand open.
#[component]
fn OpenHives() -> impl IntoView {
    let journal = use_journal();
    let open = move || {
        journal.yard.with(|yard| {
            let living = yard.living_hives();
            let open = living.iter().filter(|hive| hive.open_visit().is_some());
            open.map(|hive| (hive.id, hive.name.clone()))
                .collect::<Vec<_>>()
        })
    };
    changing::view(move || {
        let open = open();
        if open.is_empty() {
            return view! {
                <Empty words=texts::empty::CLOSING_UP>
                    <Go to=Route::Apiary class="button">{texts::empty::TO_APIARY}</Go>
                </Empty>
            }
            .into_any();
        }
        let items = open.into_iter().map(|(id, name)| {
            view! { <li><Go to=Route::ClosingUp(Some(id)) class="row">{name}</Go></li> }
        });
        view! { <ul class="rows">{items.collect_view()}</ul> }.into_any()
    })
}

/// The closing of the hive that stands open.
#[component]
fn Closing(
    /// The work.
    room: Room,
) -> impl IntoView {
    let state = Memo::new(move |_| {
        room.shown.with(|shown| {
            let shown = shown.as_ref();
            (
                shown.is_some_and(|shown| shown.begun),
                shown.is_some_and(|shown| shown.over),
            )
        })
    });
    changing::view(move || match state.get() {
        (_, true) => view! { <done::Done room /> }.into_any(),
        (true, false) => view! { <plan::Steps room /> }.into_any(),
        (false, false) => view! {
            <Empty words=texts::empty::CLOSING_UP>
                <Go to=Route::Visit(Some(room.hive)) class="button">{words::TO_VISIT}</Go>
            </Empty>
        }
        .into_any(),
    })
}
