//! A picture of paper's in the page: as wide as its place, in the page's colours and print.

use std::sync::Arc;

use hive::BarId;
use leptos::ev::{self, MouseEvent};
use leptos::html::Div;
use leptos::prelude::*;
use paper::{PictureOptions, Theme, svg};
use wasm_bindgen::JsCast as _;

use crate::preferences::{Looks, Units};

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
    let units = expect_context::<RwSignal<Units>>();
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
            told_in: units.get().told_in(),
            id_prefix: prefix.clone(),
            ..options.clone()
        })
    });
    let before = StoredValue::new(String::new());
    Effect::new(move || {
        if let Some(place) = place.get() {
            drawn.with(|now| {
                before.update_value(|before| {
                    put(&place, before, now);
                    now.clone_into(before);
                });
            });
        }
    });
    let click = move |event: MouseEvent| {
        if let (Some(on_bar), Some(bar)) = (on_bar, touched(&event)) {
            on_bar.run(bar);
        }
    };
    view! { <div id=id class="picture" node_ref=place on:click=click></div> }
}

/// Puts a picture in its place. A browser takes long over a whole one, and from one phrase to the next
/// hardly a bar changes: where the former picture stands and has as many parts, only those that differ
/// are put in.
fn put(place: &web_sys::Element, before: &str, now: &str) {
    if before == now {
        return;
    }
    if change(place, before, now).is_none() {
        place.set_inner_html(now);
    }
}

fn change(place: &web_sys::Element, before: &str, now: &str) -> Option<()> {
    let ((start, parts), (start_now, parts_now)) = (svg::parts(before)?, svg::parts(now)?);
    let standing = place.first_element_child()?.children();
    let alike = start == start_now
        && parts.len() == parts_now.len()
        && standing.length() as usize == parts.len();
    if !alike {
        return None;
    }
    for (at, (part, now)) in (0..).zip(parts.iter().zip(&parts_now)) {
        if part != now {
            standing.item(at)?.set_outer_html(now);
        }
    }
    Some(())
}

/// The bar that was touched in a picture.
fn touched(event: &MouseEvent) -> Option<BarId> {
    let at: web_sys::Element = event.target()?.dyn_into().ok()?;
    let bar = at.closest("[data-bar]").ok()??;
    bar.get_attribute("data-bar")?.parse().ok()
}
