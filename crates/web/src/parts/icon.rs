//! Small drawings of our own, in the current ink.

use leptos::prelude::*;

use crate::route::Route;

/// The drawing for a screen; its name stands beside it, so it says nothing to those who hear the page.
#[component]
pub fn ScreenIcon(
    /// Which screen.
    of: Route,
) -> impl IntoView {
    // drawn on 24 by 24; a comb is a bar with a tapered shape below
    let strokes = match of {
        // two hives with their roofs
        Route::Apiary | Route::NewHive | Route::Unknown => {
            "M3 9h8M4 9v7h6V9M3 9l4-3 4 3M13 13h8M14 13v6h6v-6M13 13l4-3 4 3"
        }
        // one comb hanging from its bar
        Route::Visit(_) => "M2 5h20M5 5l2 13q5 3 10 0l2-13M9 10h6M10 14h4",
        // combs, and the follower board pushed up to them
        Route::ClosingUp(_) => "M2 6h20M4 6l1 11h3l1-11M11 6l1 11h3l1-11M19 6v13M22 13h-3",
        // the long section
        Route::Hive(_) => "M2 7h20M3 7l2 10h14l2-10M8 7l.6 8M12 7v8M16 7l-.6 8",
        // stores over the months, and the line below which they must not fall
        Route::Season(_) => "M3 20h18M3 4v16M4 9q4-5 7 1t9 3M4 16h3M10 16h3M16 16h3",
        // a jar with its lid, filled to a line
        Route::HoneyHouse | Route::Lot(_) => "M7 3h10v3H7zM6 8h12v11q0 2-2 2H8q-2 0-2-2zM6 13h12",
        // written lines
        Route::Records => "M5 3h14v18H5zM8 8h8M8 12h8M8 16h5",
        // three sliders
        Route::Settings => "M4 6h9M17 6h3M15 4v4M4 12h3M11 12h9M9 10v4M4 18h9M17 18h3M15 16v4",
    };
    view! {
        <svg class="icon" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
            <path d=strokes />
        </svg>
    }
}
