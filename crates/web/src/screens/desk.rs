//! The screens that nobody needs at an open hive. They are a part of the module of their own
//! ([`crate::parts::fetched`]), so that the app is there sooner. A new screen for the desk is one more
//! line in `show` and in [`crate::app`].

use leptos::prelude::*;
use wasm_split_helpers::{SplitLoaderError, wasm_split};

use super::{hive, honey_house, new_hive, records, season, settings, unknown};
use crate::parts::fetched::{self, Show};
use crate::route::Route;

fn show(route: Route) -> AnyView {
    match route {
        Route::Hive(hive) => view! { <hive::Hive hive /> }.into_any(),
        Route::Season(hive) => view! { <season::Season hive /> }.into_any(),
        Route::HoneyHouse => view! { <honey_house::HoneyHouse lot=None /> }.into_any(),
        Route::Lot(lot) => view! { <honey_house::HoneyHouse lot=Some(lot) /> }.into_any(),
        Route::NewHive => view! { <new_hive::NewHive /> }.into_any(),
        Route::Records => view! { <records::Records /> }.into_any(),
        Route::Settings => view! { <settings::Settings /> }.into_any(),
        // these are elsewhere
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
fn part() -> Result<Show, SplitLoaderError> {
    Ok(show)
}

/// A screen of the desk, once its part of the app is here.
#[component]
pub fn Desk(
    /// Which.
    route: Route,
) -> impl IntoView {
    fetched::screen(route, part)
}
