//! A picture of paper's in the page: as wide as its place, in the page's colours and print.

use std::sync::Arc;

use hive::BarId;
use leptos::ev::{self, MouseEvent};
use leptos::html::Div;
use leptos::prelude::*;
use paper::{PictureOptions, Theme};
use wasm_bindgen::JsCast as _;

use crate::preferences::Looks;

/// How a picture is drawn into the width that it gets.
pub type Draw = Arc<dyn Fn(&PictureOptions) -> String + Send + Sync>;

/// A picture. It is drawn anew when what `draw` reads changes, when its place gets wider or
/// narrower, and when the print changes. All its colours are attributes with the page's own
/// properties, so that it obeys a policy without inline styles.
#[component]
pub fn Picture(
    /// Its id in the page, and the beginning of all ids in it.
    #[prop(into)]
    id: String,
    /// Draws it; runs as an effect.
    draw: Draw,
    /// Options beside width, print, colours and ids, which the page decides.
    #[prop(optional)]
    options: PictureOptions,
    /// What to do when a bar was touched; the same must be offered for the keyboard beside it.
    #[prop(optional)]
    on_bar: Option<Callback<BarId>>,
) -> impl IntoView {
    let looks = expect_context::<RwSignal<Looks>>();
    let place = NodeRef::<Div>::new();
    let width = RwSignal::new(0);
    let measure = move || {
        if let Some(place) = place.get_untracked() {
            let measured = u32::try_from(place.client_width()).unwrap_or_default();
            // a place that is not shown is no reason to draw narrower
            if measured > 0 && measured != width.get_untracked() {
                width.set(measured);
            }
        }
    };
    Effect::new(move || {
        if place.get().is_some() {
            measure();
        }
    });
    let resized = window_event_listener(ev::resize, move |_| measure());
    on_cleanup(move || resized.remove());
    let prefix = id.clone();
    let drawn = Memo::new(move |_| {
        let width_px = width.get();
        if width_px == 0 {
            return String::new();
        }
        draw(&PictureOptions {
            width_px,
            large_print: looks.get().large_print,
            theme: Theme::Page,
            id_prefix: prefix.clone(),
            ..options.clone()
        })
    });
    let click = move |event: MouseEvent| {
        if let (Some(on_bar), Some(bar)) = (on_bar, touched(&event)) {
            on_bar.run(bar);
        }
    };
    view! { <div id=id class="picture" node_ref=place on:click=click inner_html=move || drawn.get()></div> }
}

/// The bar that was touched in a picture.
fn touched(event: &MouseEvent) -> Option<BarId> {
    let at: web_sys::Element = event.target()?.dyn_into().ok()?;
    let bar = at.closest("[data-bar]").ok()??;
    bar.get_attribute("data-bar")?.parse().ok()
}
