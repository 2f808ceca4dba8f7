//! Moving between screens.

use leptos::ev::MouseEvent;
use leptos::prelude::*;

use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};

use super::changing;
use crate::browser::window;
use crate::route::Route;

/// Where the app is; copies are the same place.
#[derive(Clone, Copy)]
pub struct Place {
    route: RwSignal<Route>,
    moved: RwSignal<bool>,
}

/// The place, from anywhere below [`crate::app::App`].
pub fn use_place() -> Place {
    expect_context()
}

impl Place {
    /// Reads the address line and follows the browser's back and forward.
    pub fn of_address_line() -> Self {
        let place = Self {
            route: RwSignal::new(read()),
            moved: RwSignal::new(false),
        };
        let moved = Closure::<dyn Fn()>::new(move || {
            place.moved.set(true);
            place.route.set(read());
        });
        if let Some(window) = window() {
            window.set_onpopstate(Some(moved.as_ref().unchecked_ref()));
        }
        // for as long as the page lives
        moved.forget();
        place
    }

    /// The screen shown.
    pub fn route(self) -> Route {
        self.route.get()
    }

    /// The screen shown, for who must not be told when it changes.
    pub fn route_untracked(self) -> Route {
        self.route.get_untracked()
    }

    /// Whether the app has moved since the page was loaded.
    pub fn has_moved(self) -> bool {
        self.moved.get_untracked()
    }

    /// Goes to a screen.
    pub fn go(self, route: Route) {
        if self.route.get_untracked() == route {
            return;
        }
        if let Some(history) = window().and_then(|window| window.history().ok()) {
            // refused, the screen changes all the same and only the address line is behind
            let _ = history.push_state_with_url(&JsValue::NULL, "", Some(&route.path()));
        }
        self.moved.set(true);
        self.route.set(route);
    }
}

fn read() -> Route {
    let path = window()
        .and_then(|window| window.location().pathname().ok())
        .unwrap_or_default();
    Route::parse(&path)
}

/// A link to a screen of the app.
#[component]
pub fn Go(
    /// Where to.
    to: Route,
    /// Its class in the style sheet.
    #[prop(optional)]
    class: &'static str,
    /// What it says.
    children: Children,
) -> impl IntoView {
    let place = use_place();
    let click = move |event: MouseEvent| {
        // a new tab or window is the browser's business
        if event.button() != 0 || event.ctrl_key() || event.meta_key() || event.shift_key() {
            return;
        }
        event.prevent_default();
        place.go(to);
    };
    let here = changing::value(move || place.route().same_screen(to).then_some("page"));
    view! { <a href=to.path() class=class aria-current=here on:click=click>{children()}</a> }
}
