//! The running count, always in sight.

use advice::opening::Weight;
use leptos::prelude::*;

use crate::parts::changing;
use crate::preferences::Units;
use crate::room::{Room, Shown};
use crate::texts::visit as words;

/// The count.
#[component]
pub fn RunningCount(
    /// The work.
    room: Room,
) -> impl IntoView {
    let units = expect_context::<RwSignal<Units>>();
    let advice = super::part(room, move |shown| {
        let stops = cautions(shown, units.get(), |weight| weight == Weight::Stop);
        let advice = &shown.advice;
        let concerns = shown.concerns.iter().map(words::concern);
        let unrecorded = shown.refused.iter().cloned();
        let mind: Vec<String> = unrecorded.chain(stops).chain(concerns).collect();
        (advice.count.clone(), advice.may_take.clone(), mind)
    });
    let figures = changing::view(move || {
        let (count, may_take, mind) = advice.get()?;
        let mind = mind
            .into_iter()
            .map(|line| view! { <p class="wrong mind">{line}</p> });
        let mind = mind.collect_view();
        let figure = |value: String, name: &'static str| {
            view! { <li><b>{value}</b> <span>{name}</span></li> }
        };
        let aside = (count.aside > 0).then(|| figure(count.aside.to_string(), words::ASIDE));
        let stores = match count.not_looked_at {
            0 => words::STORES,
            _ => words::STORES_SEEN,
        };
        Some(view! {
            <ul class="figures" aria-label=words::COUNT>
                {figure(count.taken.to_string(), words::TAKEN)}
                {aside}
                {figure(count.ripening.to_string(), words::RIPENING)}
                {figure(count.brood.to_string(), words::BROOD)}
                {figure(words::stores(&count), stores)}
            </ul>
            <p class="may-take">{words::may_take(&may_take, count.taken)}</p>
            {mind}
        })
    });
    view! { <div class="running-count" id="running-count">{figures}</div> }
}

fn cautions(shown: &Shown, units: Units, of: fn(Weight) -> bool) -> Vec<String> {
    let all = shown.advice.cautions.iter();
    all.filter(|caution| of(caution.weight))
        .map(|caution| words::caution(caution, units))
        .collect()
}

/// What is to be minded without stopping the work: a warm or cool day, honey that may have to wait.
#[component]
pub fn Cautions(
    /// The work.
    room: Room,
) -> impl IntoView {
    let units = expect_context::<RwSignal<Units>>();
    let mild = super::part(room, move |shown| {
        cautions(shown, units.get(), |weight| weight != Weight::Stop)
    });
    changing::view(move || {
        let lines = mild.get().filter(|lines| !lines.is_empty())?;
        let lines = lines
            .into_iter()
            .map(|line| view! { <p class="caution">{line}</p> });
        Some(view! { <div id="cautions">{lines.collect_view()}</div> })
    })
}
