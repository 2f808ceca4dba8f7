//! The screens that nobody needs at an open hive. They are a part of the module of their own, fetched
//! when the first of them is opened (without a network, from what the service worker keeps), so that
//! the app is there sooner. A new screen for the desk is one more line in `show` and in
//! [`crate::app`].

use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;
use wasm_split_helpers::{SplitLoaderError, wasm_split};

use super::{hive, honey_house, new_hive, records, season, settings, unknown};
use crate::parts::changing;
use crate::parts::empty::Empty;
use crate::parts::screen::Screen;
use crate::route::Route;
use crate::texts;

/// Shows a screen of the desk.
type Show = fn(Route) -> AnyView;

fn show(route: Route) -> AnyView {
    match route {
        Route::Hive(hive) => view! { <hive::Hive hive /> }.into_any(),
        Route::Season(hive) => view! { <season::Season hive /> }.into_any(),
        Route::HoneyHouse => view! { <honey_house::HoneyHouse lot=None /> }.into_any(),
        Route::Lot(lot) => view! { <honey_house::HoneyHouse lot=Some(lot) /> }.into_any(),
        Route::NewHive => view! { <new_hive::NewHive /> }.into_any(),
        Route::Records => view! { <records::Records /> }.into_any(),
        Route::Settings => view! { <settings::Settings /> }.into_any(),
        // these are there from the start
        Route::Apiary | Route::Visit(_) | Route::ClosingUp(_) | Route::Unknown => {
            view! { <unknown::Unknown /> }.into_any()
        }
    }
}

/// What only this function leads to is what the build takes out of the module.
#[wasm_split(desk, fallible)]
#[allow(
    clippy::unnecessary_wraps,
    reason = "the fetching may fail, this cannot"
)]
fn fetched() -> Result<Show, SplitLoaderError> {
    Ok(show)
}

/// Where the fetching stands.
#[derive(Clone, Copy)]
enum Fetching {
    Going,
    Done(Show),
    Failed,
}

/// A screen of the desk, once its part of the app is here.
#[component]
pub fn Desk(
    /// Which.
    route: Route,
) -> impl IntoView {
    let fetching = RwSignal::new(Fetching::Going);
    let fetch = move || {
        fetching.set(Fetching::Going);
        spawn_local(async move {
            let done = fetched().await.map_or(Fetching::Failed, Fetching::Done);
            // who has gone on to another screen does not wait for this one any more
            let _ = fetching.try_set(done);
        });
    };
    fetch();
    changing::view(move || {
        match fetching.get() {
        Fetching::Going => {
            view! { <p class="opening waiting" role="status">{texts::FETCHING}</p> }.into_any()
        }
        Fetching::Done(show) => show(route),
        Fetching::Failed => view! {
            <Screen title=texts::screen(route)>
                <div role="alert">
                    <Empty words=texts::empty::NOT_FETCHED>
                        <button type="button" id="fetch" on:click=move |_| fetch()>{texts::FETCH_AGAIN}</button>
                    </Empty>
                </div>
            </Screen>
        }
        .into_any(),
    }
    })
}
