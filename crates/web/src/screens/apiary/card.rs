//! One hive on the apiary screen.

use advice::taking::Combs;
use leptos::prelude::*;
use paper::PictureOptions;

use super::Card;
use crate::parts::gauge::Gauge;
use crate::parts::go::Go;
use crate::parts::section::Section;
use crate::route::Route;
use crate::texts;

/// A hive: its section, its stores, what it needs next, the ways to it.
#[component]
pub(super) fn HiveCard(card: Card) -> impl IntoView {
    let Card {
        needs,
        next,
        carry,
        section,
        visit_open,
    } = card;
    let hive = needs.hive;
    let stores = texts::apiary::stores(
        needs.combs,
        &Combs(needs.stores_combs).to_string(),
        &Combs(needs.reserve_combs).to_string(),
    );
    let needed: Vec<_> = next
        .iter()
        .map(|need| view! { <li>{texts::sentence(&need.words)}</li> })
        .collect();
    let needed = if needed.is_empty() {
        view! { <p>{texts::apiary::NOTHING}</p> }.into_any()
    } else {
        view! { <ul class="next">{needed}</ul> }.into_any()
    };
    let options = PictureOptions {
        with_heading: false,
        with_legend: false,
        // small enough to keep the whole hive in one row
        least_bar_px: 4,
        ..PictureOptions::default()
    };
    let drawn = Signal::stored(Some(section));
    let visit = if visit_open {
        texts::apiary::GO_ON
    } else {
        texts::apiary::OPEN_VISIT
    };
    view! {
        <article class="card" id=format!("hive-{hive}")>
            <header class="card-head">
                <h3><Go to=Route::Hive(Some(hive))>{needs.name.clone()}</Go></h3>
                <p class="quiet-line">{texts::apiary::visited(needs.days_since_visit)}</p>
            </header>
            <Section id=format!("section-{hive}") section=drawn options />
            <div class="stores-line">
                <Gauge there=needs.stores_combs needed=needs.reserve_combs words=stores.clone() />
                <p aria-hidden="true">{stores}</p>
            </div>
            {needed}
            <details>
                <summary>{texts::apiary::CARRY}</summary>
                <ul>{carry.into_iter().map(|thing| view! { <li>{thing}</li> }).collect_view()}</ul>
            </details>
            <div class="acts">
                <Go to=Route::Visit(Some(hive)) class="button">{visit}</Go>
                <Go to=Route::Hive(Some(hive)) class="button quiet-button">{texts::apiary::LOOK}</Go>
            </div>
        </article>
    }
}
