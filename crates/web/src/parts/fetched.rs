//! A screen whose part of the app is fetched when it is first asked for (without a network, from what
//! the service worker keeps).

use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;
use wasm_split_helpers::SplitLoaderError;

use super::changing;
use super::empty::Empty;
use super::screen::Screen;
use crate::route::Route;
use crate::texts;

/// Shows a screen of a part.
pub type Show = fn(Route) -> AnyView;

/// Where the fetching stands.
#[derive(Clone, Copy)]
enum Fetching {
    Going,
    Done(Show),
    Failed,
}

/// The screen, once its part is here.
pub fn screen<Part>(route: Route, part: fn() -> Part) -> impl IntoView
where
    Part: Future<Output = Result<Show, SplitLoaderError>> + 'static,
{
    let fetching = RwSignal::new(Fetching::Going);
    let fetch = move || {
        fetching.set(Fetching::Going);
        spawn_local(async move {
            let done = part().await.map_or(Fetching::Failed, Fetching::Done);
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
