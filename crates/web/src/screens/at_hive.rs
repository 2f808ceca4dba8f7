//! The screens of the work at an open hive, with all that hears and understands. They are a part of the
//! module of their own ([`crate::parts::fetched`]): the yard is there before it is, and the part follows
//! soon, so that a visit begins without waiting ([`fetch_ahead`]).

use std::time::Duration;

use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;
use wasm_split_helpers::{SplitLoaderError, wasm_split};

use super::{closing_up, unknown, visit};
use crate::browser::nap::Nap;
use crate::journal::use_journal;
use crate::lasting::use_lasting;
use crate::parts::fetched::{self, Show};
use crate::parts::go::{Place, use_place};
use crate::room::Rooms;
use crate::route::Route;
use crate::sound::Sound;
use crate::voice::Voice;

fn show(route: Route) -> AnyView {
    keep_company();
    match route {
        Route::Visit(hive) => view! { <visit::Visit hive /> }.into_any(),
        Route::ClosingUp(hive) => view! { <closing_up::ClosingUp hive /> }.into_any(),
        // these are elsewhere
        _ => view! { <unknown::Unknown /> }.into_any(),
    }
}

/// The open hive, the voice and the sound outlive the screen: they go on from the combs to the
/// closing.
fn keep_company() {
    let (journal, place) = (use_journal(), use_place());
    let lasting = use_lasting();
    lasting.keep(
        || Rooms::new(journal),
        |rooms| {
            let rooms = rooms.clone();
            // other screens tell and change what is written
            when_left(place, move || rooms.settle());
        },
    );
    // these go on nowhere else
    lasting.keep(Voice::new, |voice| when_left(place, move || voice.stop()));
    lasting.keep(Sound::new, |sound| when_left(place, move || sound.end()));
}

/// Does something whenever the screen is not one of work at a hive.
fn when_left(place: Place, act: impl Fn() + 'static) {
    Effect::new(move || {
        if !place.route().is_at_hive() {
            act();
        }
    });
}

#[wasm_split(at_hive, fallible)]
#[allow(
    clippy::unnecessary_wraps,
    reason = "the fetching may fail, this cannot"
)]
fn part() -> Result<Show, SplitLoaderError> {
    Ok(show)
}

/// So long the yard is looked at first, and has the network and the processor for itself.
const FIRST_LOOK: Duration = Duration::from_secs(1);

/// Fetches the part before it is asked for.
pub fn fetch_ahead() {
    spawn_local(async {
        Nap::default().sleep(FIRST_LOOK).await;
        // what fails is tried again when it is needed, and told then
        drop(part().await);
    });
}

/// A screen of the work at a hive, once its part of the app is here.
#[component]
pub fn AtHive(
    /// Which.
    route: Route,
) -> impl IntoView {
    fetched::screen(route, part)
}
