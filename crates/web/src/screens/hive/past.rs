//! What has been: visits, queen and health, notes.

use hive::pen::Subject;
use hive::{BarId, HiveId, Known};
use jiff::Timestamp;
use jiff::civil::Date;
use leptos::ev::SubmitEvent;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::browser::clock;
use crate::journal::{Saying, use_journal};
use crate::parts::notice::Outcome;
use crate::preferences::Units;
use crate::texts;
use crate::texts::hive as words;

/// Visits, latest first.
#[component]
pub(super) fn Visits(
    /// Which hive.
    hive: HiveId,
    /// The day that the section shows.
    shown: RwSignal<Option<Date>>,
) -> impl IntoView {
    let journal = use_journal();
    let zone = StoredValue::new(clock::time_zone());
    let list = move || {
        journal.yard.with(|yard| {
            let visits = yard
                .hive(hive)
                .map(|hive| hive.visits.as_slice())
                .unwrap_or_default();
            if visits.is_empty() {
                return view! { <p>{words::NO_VISITS}</p> }.into_any();
            }
            let rows = visits.iter().rev().map(|visit| {
                let day = zone.with_value(|zone| zone.to_datetime(visit.opened).date());
                let open = visit.is_open().then_some(words::STILL_OPEN);
                let aim = visit.aim.clone();
                let show = move |_| {
                    shown.set(Some(day));
                    crate::browser::scroll_to("through-time");
                };
                view! {
                    <li>
                        <button type="button" class="row-button" title=words::SHOW_DAY on:click=show>
                            <strong>{texts::days::day_and_year(day)}</strong>
                            <span class="when">
                                {words::visit(visit.seen.len(), visit.taken.len(), &visit.by)}
                                {aim.map(|aim| format!(", {aim}"))}
                                {open.map(|open| view! { " " <em>{open}</em> })}
                            </span>
                        </button>
                    </li>
                }
            });
            view! { <p class="hint">{words::VISITS_HINT}</p> <ol class="entries">{rows.collect_view()}</ol> }
                .into_any()
        })
    };
    view! { <section><h2>{words::VISITS}</h2>{list}</section> }
}

/// Sightings, cells, washes, feeds, latest first.
#[component]
pub(super) fn QueenAndHealth(
    /// Which hive.
    hive: HiveId,
) -> impl IntoView {
    let journal = use_journal();
    let units = expect_context::<RwSignal<Units>>();
    let list = move || {
        let units = units.get();
        journal.yard.with(|yard| {
            let hive = yard.hive(hive)?;
            let number =
                |bar: Option<BarId>| bar.and_then(|bar| hive.bar(bar)).map(|bar| bar.number);
            let mut noted: Vec<(Timestamp, String)> = Vec::new();
            let seen = hive.queen_seen.iter();
            noted.extend(seen.map(|seen| (seen.when.at, words::queen_seen(number(seen.bar)))));
            let cells = hive.queen_cells.iter();
            noted.extend(cells.map(|cells| {
                (
                    cells.when.at,
                    words::queen_cells(cells.count, number(cells.bar)),
                )
            }));
            let washes = hive.washes.iter();
            noted.extend(washes.map(|wash| (wash.when.at, words::wash(wash.mites, wash.bees))));
            noted.extend(hive.feeds.iter().map(|fed| {
                let mass = fed.mass_kg.map(|mass| units.mass_words(mass));
                (fed.when.at, words::fed(&fed.food, fed.litres, mass))
            }));
            noted.sort_by_key(|(at, _)| std::cmp::Reverse(*at));
            Some(rows(noted, words::NO_QUEEN))
        })
    };
    view! {
        <section>
            <h2>{words::QUEEN}</h2>
            {list}
        </section>
    }
}

/// Notes, and the field for one more.
#[component]
pub(super) fn Notes(
    /// Which hive.
    hive: HiveId,
) -> impl IntoView {
    let journal = use_journal();
    let typed = RwSignal::new(String::new());
    let outcome = RwSignal::new(String::new());
    let write = move |event: SubmitEvent| {
        event.prevent_default();
        let text = typed.get_untracked().trim().to_owned();
        if text.is_empty() {
            return;
        }
        spawn_local(async move {
            let note = Saying::now(Subject::hive(hive), Known::Note { text });
            outcome.set(match journal.append(vec![note]).await {
                Ok(_) => {
                    typed.set(String::new());
                    texts::records::KEPT.to_owned()
                }
                Err(why) => texts::journal_error(&why),
            });
        });
    };
    let list = move || {
        journal.yard.with(|yard| {
            let latest_first = yard.hive(hive)?.notes.iter().rev();
            let noted = latest_first
                .map(|note| (note.when.at, note.text.clone()))
                .collect();
            Some(rows(noted, ""))
        })
    };
    view! {
        <section>
            <h2>{words::NOTES}</h2>
            <form class="line" on:submit=write>
                <label for="hive-note">{words::NOTE}</label>
                <input id="hive-note" autocomplete="off" prop:value=typed
                    on:input=move |event| typed.set(event_target_value(&event)) />
                <button type="submit">{words::WRITE}</button>
            </form>
            <Outcome words=outcome />
            {list}
        </section>
    }
}

/// What was noted, each with its day.
fn rows(noted: Vec<(Timestamp, String)>, none: &'static str) -> AnyView {
    if noted.is_empty() {
        return view! { <p>{none}</p> }.into_any();
    }
    let zone = clock::time_zone();
    let rows = noted.into_iter().map(|(at, words)| {
        let day = texts::days::day_and_year(zone.to_datetime(at).date());
        view! { <li class="entry"><span>{words}</span><span class="when">{day}</span></li> }
    });
    view! { <ol class="entries">{rows.collect_view()}</ol> }.into_any()
}
