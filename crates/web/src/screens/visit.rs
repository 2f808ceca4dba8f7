//! The visit at a hive: for gloves and glare, by voice or by taps.

pub mod begin;
pub mod carried;
pub mod comb;
pub mod count;
pub mod face;
pub mod listen;
pub mod measures;
pub mod phrases;
pub mod putting_right;
pub mod safety;
pub mod sounds;

use std::sync::Arc;

use hive::{BarId, HiveId};
use leptos::prelude::*;
use paper::PictureOptions;
use talk::Tap;

use crate::journal::{Opened, use_journal};
use crate::parts::afterwards::afterwards;
use crate::parts::changing;
use crate::parts::empty::Empty;
use crate::parts::go::{Go, use_place};
use crate::parts::screen::Screen;
use crate::parts::section::Section;
use crate::room::{Command, Phase, Room, Shown, use_rooms};
use crate::route::Route;
use crate::texts;
use crate::texts::visit as words;

/// The screen.
#[component]
pub fn Visit(
    /// Which hive.
    hive: Option<HiveId>,
) -> impl IntoView {
    match hive {
        None => view! { <Choice /> }.into_any(),
        Some(hive) => view! { <AtHive hive /> }.into_any(),
    }
}

/// The choice of a hive.
#[component]
fn Choice() -> impl IntoView {
    let journal = use_journal();
    let hives = move || {
        journal.yard.with(|yard| {
            let living = yard.living_hives();
            let open = |hive: &hive::Hive| hive.open_visit().is_some();
            living
                .iter()
                .map(|hive| (hive.id, hive.name.clone(), open(hive)))
                .collect::<Vec<_>>()
        })
    };
    let list = changing::view(move || {
        let hives = hives();
        if hives.is_empty() {
            return view! {
                <Empty words=texts::empty::NO_HIVE>
                    <Go to=Route::NewHive class="button">{texts::apiary::NEW_HIVE}</Go>
                </Empty>
            }
            .into_any();
        }
        let items = hives.into_iter().map(|(id, name, open)| {
            view! {
                <li>
                    <Go to=Route::Visit(Some(id)) class="row">
                        {name} {open.then(|| view! { <span class="tag">{words::GOES_ON}</span> })}
                    </Go>
                </li>
            }
        });
        view! {
            <p>{words::CHOOSE}</p>
            <ul class="rows">{items.collect_view()}</ul>
        }
        .into_any()
    });
    view! { <Screen title=texts::screen(Route::Visit(None))>{list} <sounds::Sounds /></Screen> }
}

/// The visit at one hive.
#[component]
fn AtHive(
    /// Which hive.
    hive: HiveId,
) -> impl IntoView {
    let journal = use_journal();
    let name = move || {
        journal
            .yard
            .with(|yard| yard.hive(hive).map(|hive| hive.name.clone()))
    };
    let title = Signal::derive(move || {
        let screen = texts::screen(Route::Visit(Some(hive)));
        name().map_or_else(|| screen.to_owned(), |name| format!("{screen}: {name}"))
    });
    if journal.opened.get_untracked() != Opened::Open {
        return view! { <Screen title><Empty words=words::NO_HIVE /></Screen> }.into_any();
    }
    let room = use_rooms().of(hive);
    let content = changing::view(move || match room.phase.get() {
        Phase::Opening => {
            view! { <p class="opening" role="status">{words::OPENING}</p> }.into_any()
        }
        Phase::Elsewhere => view! { <Empty words=words::ELSEWHERE /> }.into_any(),
        Phase::NoHive => view! {
            <Empty words=words::NO_HIVE>
                <Go to=Route::Apiary class="button">{texts::empty::TO_APIARY}</Go>
            </Empty>
        }
        .into_any(),
        Phase::Ended => view! {
            <Empty words=words::ENDED>
                <Go to=Route::Hive(Some(hive)) class="button">{words::TO_RECORD}</Go>
            </Empty>
        }
        .into_any(),
        Phase::Failed(why) => view! { <p class="notice" role="alert">{why}</p> }.into_any(),
        Phase::Ready => view! { <Work room /> }.into_any(),
    });
    view! { <Screen title>{content}</Screen> }.into_any()
}

/// What is shown of a visit, in parts that change each for itself.
fn part<T: PartialEq + Send + Sync + 'static>(
    room: Room,
    of: impl Fn(&Shown) -> T + Send + Sync + 'static,
) -> Memo<Option<T>> {
    Memo::new(move |_| {
        room.shown
            .with(|shown| shown.as_ref().map(|shown| of(shown)))
    })
}

/// The work itself.
#[component]
fn Work(
    /// The work.
    room: Room,
) -> impl IntoView {
    let drawn = afterwards(move || {
        room.shown.with(|shown| {
            let shown = shown.as_ref()?;
            Some((shown.section.clone(), shown.highlight))
        })
    });
    let ends = part(room, |shown| shown.ends.clone());
    let in_picture = plain_picture();
    let touched = Callback::new(move |bar: BarId| take_in_hand(room, bar));
    let opened = move || ends.get().is_some_and(|ends| !ends.is_empty());
    let hand = changing::view(move || {
        if opened() {
            view! { <comb::Comb room /> }.into_any()
        } else {
            view! { <begin::Ends room /> }.into_any()
        }
    });
    let place = use_place();
    let to_close = use_place();
    let stop = move |_| {
        room.keep_all();
        place.go(Route::ClosingUp(Some(room.hive)));
    };
    Effect::new(move |before: Option<u32>| {
        let (command, nth) = room.command.get();
        let new = before.is_some_and(|before| before != nth);
        if new && command == Some(Command::CloseUp) && untrack(|| room.has_begun()) {
            to_close.go(Route::ClosingUp(Some(room.hive)));
        }
        nth
    });
    let more = changing::view(move || opened().then(|| view! { <begin::OtherEnd room /> }));
    let keeping = changing::value(move || room.keeping.with(words::keeping));
    let keeping_class = changing::value(move || match room.keeping.get() {
        crate::room::Keeping::Failed(_) => "keeping notice",
        _ => "keeping",
    });
    view! {
        <div class="visit-live">
            <div class="in-sight">
                <count::RunningCount room />
                <phrases::Answer room />
            </div>
            <count::Cautions room />
            <safety::Safety />
            <Section id="hive-section" section=Signal::derive(move || Some(drawn.get()?.0))
                highlight=Signal::derive(move || drawn.with(|drawn| drawn.as_ref()?.1))
                options=in_picture on_bar=touched />
            {hand}
            <carried::Carried room />
            <phrases::Field room />
            <listen::Voicing room />
            <measures::Measures room />
            {more}
            <button type="button" id="stop" class="wide" on:click=stop>{words::STOP}</button>
            <phrases::Phrases room />
            <p class=keeping_class role="status" id="keeping">{keeping}</p>
            <comb::Bottom room />
        </div>
    }
}

/// The section without heading and legend, in one row.
pub fn plain_picture() -> PictureOptions {
    PictureOptions {
        least_bar_px: 0,
        with_heading: false,
        with_legend: false,
        ..PictureOptions::default()
    }
}

/// Takes the bar that was touched in the picture in hand.
fn take_in_hand(room: Room, bar: BarId) {
    let tap = room.with(|live| {
        if let Some(nth) = live.bars().iter().position(|met| *met == bar) {
            return Some(Tap::BackTo(nth));
        }
        let number = live.hive().bar(bar)?.number;
        Some(Tap::Meet { bar: Some(number) })
    });
    let opened = room
        .shown
        .with_untracked(|shown| shown.as_ref().is_some_and(|shown| !shown.ends.is_empty()));
    if let (Some(Some(tap)), true) = (tap, opened) {
        room.tap(tap);
    }
}

/// Shared by the parts: what is shown, or nothing.
fn shown(room: Room) -> Option<Arc<Shown>> {
    room.shown.get()
}
