//! The way to the screens: a row at the thumb on a phone, a column on the desk.

use leptos::prelude::*;

use super::go::Go;
use super::icon::ScreenIcon;
use crate::route::Route;
use crate::texts;

/// The navigation.
#[component]
pub fn Navigation() -> impl IntoView {
    let main = Route::MAIN.map(|route| (route, ""));
    let desk = Route::AT_THE_DESK.map(|route| (route, "desk-only"));
    let links = main.into_iter().chain(desk).map(|(route, class)| {
        view! {
            <li class=class>
                <Go to=route class="nav-link">
                    <ScreenIcon of=route />
                    <span>{texts::screen(route)}</span>
                </Go>
            </li>
        }
    });
    view! {
        <nav class="nav" aria-label=texts::NAVIGATION>
            <ul>{links.collect_view()}</ul>
        </nav>
    }
}
