//! The life of one comb.

use std::sync::Arc;

use advice::advise::Advice;
use hive::{BarId, HiveId};
use leptos::html::H3;
use leptos::prelude::*;
use paper::{Life, PictureOptions, svg, told};

use crate::browser::clock;
use crate::journal::use_journal;
use crate::parts::picture::Picture;
use crate::preferences::Units;
use crate::texts;
use crate::texts::hive as words;

/// What each look found, and everything that happened to the bar.
#[component]
pub(super) fn OneLife(
    /// Which hive.
    hive: HiveId,
    /// Which bar; nothing is shown without one.
    bar: RwSignal<Option<BarId>>,
    /// Advice as of now.
    advice: Memo<Option<Result<Advice, String>>>,
) -> impl IntoView {
    let journal = use_journal();
    let heading = NodeRef::<H3>::new();
    let zone = StoredValue::new(clock::time_zone());
    let units = expect_context::<RwSignal<Units>>();
    Effect::new(move || {
        if bar.get().is_some()
            && let Some(heading) = heading.get()
        {
            // a heading that does not take the focus is still there
            let _ = heading.focus();
        }
    });
    let life = move |options: &PictureOptions| {
        journal.yard.with(|yard| {
            let drawn = bar.get().and_then(|bar| {
                let hive = yard.hive(hive)?;
                let life = zone.with_value(|zone| Some(Life::of(hive.bar(bar)?, zone)))?;
                Some(svg::life_strip(&life, &hive.body, options))
            });
            drawn.unwrap_or_default()
        })
    };
    let title = move || {
        journal.yard.with(|yard| {
            let bar = yard.hive(hive)?.bar(bar.get()?)?;
            Some(words::life(bar.number, bar.lies))
        })
    };
    let advised = move || {
        let bar = bar.get()?;
        advice.with(|advice| {
            let advice = advice.as_ref()?.as_ref().ok()?;
            let comb = advice.combs.iter().find(|comb| comb.bar == bar)?;
            Some(view! { <p><strong>{words::ADVICE} ": "</strong> {texts::sentence(&comb.reason)}</p> })
        })
    };
    let history = move || {
        journal.yard.with(|yard| {
            let bar = yard.hive(hive)?.bar(bar.get()?)?;
            let events = bar.history.iter().rev().map(|event| {
                let day = zone.with_value(|zone| zone.to_datetime(event.at).date());
                let place = event
                    .place
                    .map_or_else(String::new, |place| format!(" ({})", words::place(place)));
                let what =
                    told::happened(yard, event.hive, hive, &event.what, units.get().told_in());
                view! {
                    <li class="entry">
                        <span>{texts::sentence(&format!("{what}{place}"))}</span>
                        <span class="when">{texts::days::day_and_year(day)}</span>
                    </li>
                }
            });
            Some(events.collect_view())
        })
    };
    let chosen = move || bar.get().is_some();
    view! {
        <Show when=chosen>
            <div class="life" id="life">
                <h3 node_ref=heading tabindex="-1">{title}</h3>
                {advised}
                <Picture id="life-strip" draw=Arc::new(life)
                    options=PictureOptions { with_heading: false, ..PictureOptions::default() } />
                <details>
                    <summary>{words::HISTORY}</summary>
                    <ol class="entries">{history}</ol>
                </details>
                <button type="button" class="quiet-button" id="close-life" on:click=move |_| bar.set(None)>
                    {words::CLOSE}
                </button>
            </div>
        </Show>
    }
}
