//! The sound that is kept on this device, a visit a line, to be deleted.

use std::collections::BTreeMap;

use leptos::prelude::*;

use crate::browser::clock;
use crate::parts::changing;
use crate::sound::use_sound;
use crate::texts::days;
use crate::texts::sound as words;

/// What is kept.
#[component]
pub fn Sounds() -> impl IntoView {
    let sound = use_sound();
    let visits = move || {
        let mut visits: BTreeMap<String, (i64, i64, u64)> = BTreeMap::new();
        for piece in sound.pieces.get() {
            let visit = visits.entry(piece.visit).or_insert((piece.from_ms, 0, 0));
            visit.0 = visit.0.min(piece.from_ms);
            visit.1 += piece.to_ms - piece.from_ms;
            visit.2 += piece.bytes;
        }
        visits
    };
    let list = changing::view(move || {
        let visits = visits();
        if visits.is_empty() {
            return None;
        }
        let rows = visits.into_iter().map(|(visit, (from_ms, long_ms, bytes))| {
            let at = jiff::Timestamp::from_millisecond(from_ms).unwrap_or_default();
            let when = days::instant(at, &clock::time_zone());
            let told = words::of_visit(&when, long_ms as f64 / 60_000.0, bytes as f64 / 1e6);
            let delete = move |_| sound.delete(visit.clone());
            view! {
                <li class="own-piece">
                    <span>{told}</span>
                    <button type="button" class="plain" aria-label=words::delete(&when) on:click=delete>{words::DELETE}</button>
                </li>
            }
        });
        Some(view! {
            <section aria-labelledby="sounds">
                <h2 id="sounds">{words::KEPT}</h2>
                <ul class="own">{rows.collect_view()}</ul>
            </section>
        })
    });
    view! { {list} }
}
