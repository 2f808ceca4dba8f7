//! The hive's long section in the page.

use std::sync::Arc;

use hive::BarId;
use leptos::prelude::*;
use paper::{HiveSection, PictureOptions, svg};

use super::picture::Picture;

/// A hive's section, to scale.
#[component]
pub fn Section(
    /// Its id in the page.
    #[prop(into)]
    id: String,
    /// What it shows, with marks and opened ends; nothing is drawn without one.
    #[prop(into)]
    section: Signal<Option<HiveSection>>,
    /// The bar in hand.
    #[prop(optional, into)]
    highlight: Signal<Option<BarId>>,
    /// Options beside width, print, colours, ids and the bar in hand.
    #[prop(optional)]
    options: PictureOptions,
    /// What to do when a bar was touched; the same must be offered for the keyboard beside it.
    #[prop(optional)]
    on_bar: Option<Callback<BarId>>,
) -> impl IntoView {
    let draw = move |options: &PictureOptions| {
        let options = PictureOptions {
            highlight: highlight.get(),
            ..options.clone()
        };
        section.with(|section| {
            section
                .as_ref()
                .map(|section| svg::hive(section, &options))
                .unwrap_or_default()
        })
    };
    view! { <Picture id draw=Arc::new(draw) options on_bar=on_bar.unwrap_or_else(|| Callback::new(|_| ())) /> }
}
