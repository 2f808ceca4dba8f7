//! The days ahead, marked by the keeper.

use advice::opening::{BROOD_FROM, CUT_BELOW, OPEN_FROM};
use jiff::civil::Date;
use leptos::prelude::*;

use crate::browser::clock;
use crate::parts::changing;
use crate::preferences::{DaysAhead, Units};
use crate::texts;

/// Days offered, today first: as far as a forecast is worth looking at.
const OFFERED: usize = 10;

/// The days, each a button that is down when it suits.
#[component]
pub(super) fn Days() -> impl IntoView {
    let ahead = expect_context::<RwSignal<DaysAhead>>();
    let units = expect_context::<RwSignal<Units>>();
    let today = clock::today();
    let days = std::iter::successors(Some(today), |day| day.tomorrow().ok()).take(OFFERED);
    let turn = move |day: Date| {
        ahead.update(|ahead| {
            if !ahead.good.remove(&day) {
                ahead.good.insert(day);
            }
            // days that have been are no longer offered
            ahead.good.retain(|day| *day >= today);
            ahead.keep();
        });
    };
    let buttons = days.map(|day| {
        let down = changing::value(move || {
            let good = ahead.with(|ahead| ahead.good.contains(&day));
            if good { "true" } else { "false" }
        });
        view! {
            <li>
                <button type="button" class="day" aria-pressed=down on:click=move |_| turn(day)>
                    <span class="day-name">{texts::days::weekday(day)}</span>
                    <span>{texts::days::short(day)}</span>
                </button>
            </li>
        }
    });
    let next = changing::value(move || {
        let good = ahead.with(|ahead| ahead.good_from(today).first().copied());
        texts::apiary::next_good(good, today)
    });
    let limits = move || texts::apiary::limits([OPEN_FROM, BROOD_FROM, CUT_BELOW], units.get());
    view! {
        <section class="days" aria-labelledby="days">
            <h2 id="days">{texts::apiary::DAYS}</h2>
            <p class="next-good" role="status">{next}</p>
            <ul class="day-row">{buttons.collect_view()}</ul>
            <details>
                <summary>{texts::apiary::DAYS_HEAD}</summary>
                <p>{texts::apiary::DAYS_HINT}</p>
                <p>{limits}</p>
            </details>
        </section>
    }
}
