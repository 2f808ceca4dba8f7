//! What was written last, taken back or brought back; and entries that cannot be.

use hive::yard::Standing;
use leptos::prelude::*;

use super::desk::{Desk, Way};
use crate::browser::clock;
use crate::texts;
use crate::texts::honey_house as words;

/// Entries that cannot be as they stand.
pub(super) fn refused(desk: Desk) -> AnyView {
    let list = move || {
        let lines: Vec<AnyView> = desk.seen.with(|seen| {
            let lines = seen.kept.refused.iter();
            lines
                .map(|why| {
                    view! { <li>{texts::sentence(&texts::days::spelled(why))}</li> }.into_any()
                })
                .collect()
        });
        (!lines.is_empty()).then(|| {
            view! {
                <div class="notice" id="refused">
                    <p>{words::refused(lines.len())}</p>
                    <ul>{lines}</ul>
                </div>
            }
        })
    };
    view! { {list} }.into_any()
}

/// The last entries, each with its way back.
pub(super) fn written(desk: Desk) -> AnyView {
    let list = move || {
        // the units of its words
        desk.units();
        let rows: Vec<AnyView> = desk.seen.with(|seen| {
            let rows = seen.written.iter();
            rows.map(|(entry, stands)| row(desk, entry, *stands))
                .collect()
        });
        if rows.is_empty() {
            view! { <p class="hint">{words::NOTHING_WRITTEN}</p> }.into_any()
        } else {
            view! { <ol class="entries written">{rows}</ol> }.into_any()
        }
    };
    view! {
        <section id="written" aria-labelledby="written-head">
            <h2 id="written-head">{words::MISTAKES}</h2>
            <p class="hint">{words::MISTAKES_HINT}</p>
            {list}
        </section>
    }
    .into_any()
}

fn row(desk: Desk, entry: &hive::Entry, stands: Standing) -> AnyView {
    let id = entry.id;
    let told = desk.entry_words(entry);
    let day = texts::days::day_and_year(clock::day_of(entry.at, &entry.zone));
    let head = texts::sentence(&told);
    if stands == Standing::Undone {
        let again = move |_| {
            if let Some(undo) = desk.undo_of(id) {
                desk.undo(vec![undo], Way::Again, told.clone());
            }
        };
        return view! {
            <li class="entry heard taken-back">
                <span class="entry-head">{head}</span>
                <span class="when">{day} ". " {words::IS_TAKEN_BACK} "."</span>
                <button type="button" class="quiet-button" on:click=again>{words::STAND_AGAIN}</button>
            </li>
        }
        .into_any();
    }
    let back = move |_| desk.undo(vec![id], Way::TakenBack, told.clone());
    view! {
        <li class="entry heard">
            <span class="entry-head">{head}</span>
            <span class="when">{day}</span>
            <button type="button" class="quiet-button" on:click=back>{words::TAKE_BACK}</button>
        </li>
    }
    .into_any()
}
