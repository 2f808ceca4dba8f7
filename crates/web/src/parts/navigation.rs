//! The way to the screens: a row at the thumb on a phone, a column on the desk.

use leptos::prelude::*;

use super::go::Go;
use super::icon::ScreenIcon;
use crate::route::Route;
use crate::texts;

/// The navigation.
#[component]
pub fn Navigation() -> impl IntoView {
    let links = Route::MAIN.map(|route| {
        view! {
            <li>
                <Go to=route class="nav-link">
                    <ScreenIcon of=route />
                    <span>{texts::screen(route)}</span>
                </Go>
            </li>
        }
    });
    view! {
        <nav class="nav" aria-label=texts::NAVIGATION>
            <ul>{links.into_iter().collect_view()}</ul>
        </nav>
    }
}
