//! A picture of paper's in the page: as wide as its place, in the page's colours and print.

use std::sync::Arc;

use hive::BarId;
use leptos::ev::{self, MouseEvent};
use leptos::html::Div;
use leptos::prelude::*;
use paper::{PictureOptions, Theme, svg};
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
    let picture = place.first_element_child()?;
    let standing = picture.children();
    if start != start_now || standing.length() as usize != parts.len() {
        return None;
    }
    if parts.len() == parts_now.len() {
        for (at, (part, now)) in (0..).zip(parts.iter().zip(&parts_now)) {
            if part != now {
                standing.item(at)?.set_outer_html(now);
            }
        }
        return Some(());
    }
    // something comes or goes: what is alike before and behind it stays
    let alike = |two: &(&&str, &&str)| two.0 == two.1;
    let first = parts.iter().zip(&parts_now).take_while(alike).count();
    let rest = parts.len().min(parts_now.len()) - first;
    let backward = parts.iter().rev().zip(parts_now.iter().rev());
    let last = backward.take(rest).take_while(alike).count();
    let new = &parts_now[first..parts_now.len() - last];
    let at = u32::try_from(first).ok()?;
    match standing.item(at) {
        Some(next) => next.insert_adjacent_html("beforebegin", &new.concat()),
        None => picture.insert_adjacent_html("beforeend", &new.concat()),
    }
    .ok()?;
    let old = at + u32::try_from(new.len()).ok()?;
    for _ in first..parts.len() - last {
        standing.item(old)?.remove();
    }
    Some(())
}

/// The bar that was touched in a picture.
fn touched(event: &MouseEvent) -> Option<BarId> {
    let at: web_sys::Element = event.target()?.dyn_into().ok()?;
    let bar = at.closest("[data-bar]").ok()??;
    bar.get_attribute("data-bar")?.parse().ok()
}
