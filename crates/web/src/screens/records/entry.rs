//! One entry in the list: its words, its standing, and how to correct it.

use std::sync::Arc;

use hive::of_bar::rematched;
use hive::pen::Subject;
use hive::yard::Standing;
use hive::{Entry, EntryId, Known, What, Yard};
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::correction::Correction;
use crate::browser::clock;
use crate::journal::{Saying, use_journal};
use crate::preferences::Units;
use crate::texts;
use crate::texts::records as words;

/// An entry as it was written, in words.
pub(super) fn words_of(yard: &Yard, entry: &Entry, units: Units) -> String {
    if let Some(Known::Corrected { target, what }) = entry.what.known()
        && let Some(target) = yard.entry(*target)
        && let Some((from, to)) = matched_anew(yard, target, what)
    {
        return words::put_to_another(from, to, &units.told(yard, what));
    }
    match entry.what.known() {
        Some(Known::Corrected { what, .. }) if entry.said.is_some() => {
            words::told_anew(&units.told(yard, what))
        }
        _ => units.told(yard, &entry.what),
    }
}

/// The numbers of the bars from and to which an entry went by a correction that changed nothing else.
fn matched_anew(yard: &Yard, entry: &Entry, now: &What) -> Option<(u32, u32)> {
    let (from, to) = rematched(entry.what.known()?, now.known()?)?;
    let hive = yard.hive(entry.hive?)?;
    Some((hive.bar(from)?.number, hive.bar(to)?.number))
}

/// The words that what an entry says now came from: a correction by hand has none.
fn said_since(yard: &Yard, id: EntryId) -> Option<String> {
    let corrects = |entry: &&Arc<Entry>| {
        matches!(entry.what.known(), Some(Known::Corrected { target, .. }) if *target == id)
            && yard.standing(entry.id) != Some(Standing::Undone)
    };
    let last = yard
        .journal()
        .filter(corrects)
        .max_by_key(|entry| (entry.recorded, entry.seq))?;
    last.said.clone()
}

/// What an entry says now, after corrections.
fn says(yard: &Yard, entry: &Entry) -> Option<What> {
    let act = yard.acts().iter().find(|act| act.entry().id == entry.id);
    act.map(|act| act.what().clone())
}

/// Whether an entry is an undo, which is itself only taken back.
fn is_undo(entry: &Entry) -> bool {
    matches!(entry.what.known(), Some(Known::Undone { .. }))
}

/// Whether an entry is a correction.
fn is_correction(entry: &Entry) -> bool {
    matches!(entry.what.known(), Some(Known::Corrected { .. }))
}

/// What a row tells.
struct Row {
    standing: Standing,
    /// What the entry says now.
    head: String,
    state: Option<String>,
    /// The words that it came from.
    said: Option<String>,
    /// What it said before, and the words that that came from.
    before: Option<String>,
}

impl Row {
    fn of(yard: &Yard, entry: &Entry, units: Units) -> Self {
        let standing = yard.standing(entry.id).unwrap_or(Standing::Stands);
        let written = words_of(yard, entry, units);
        let plain = Self {
            standing,
            state: (standing == Standing::Undone).then(|| words::TAKEN_BACK.to_owned()),
            head: written.clone(),
            said: entry.said.clone(),
            before: None,
        };
        let now = says(yard, entry).filter(|_| standing == Standing::Corrected);
        let Some(now) = now else { return plain };
        let head = units.told(yard, &now);
        if let Some((from, _)) = matched_anew(yard, entry, &now) {
            // the words were right, only the bar was another
            return Self {
                state: Some(words::first_put_to(from)),
                head,
                ..plain
            };
        }
        let said = said_since(yard, entry.id);
        let state = if said.is_some() {
            words::TOLD_ANEW
        } else {
            words::CORRECTED
        };
        Self {
            state: Some(state.to_owned()),
            head,
            said,
            before: Some(words::before(&written, entry.said.as_deref())),
            ..plain
        }
    }
}

/// One row.
#[component]
pub(super) fn EntryRow(
    /// The entry.
    entry: Arc<Entry>,
    /// The entry whose choices are open.
    opened: RwSignal<Option<EntryId>>,
    /// Where outcomes are told.
    outcome: RwSignal<String>,
) -> impl IntoView {
    let journal = use_journal();
    // asked once: the list is made anew when the screen is
    let units = expect_context::<RwSignal<Units>>().get_untracked();
    let id = entry.id;
    let row = journal
        .yard
        .with_untracked(|yard| Row::of(yard, &entry, units));
    let standing = row.standing;
    let class = if standing == Standing::Undone {
        "entry taken-back"
    } else {
        "entry"
    };
    let time = texts::days::time(entry.at, &clock::time_zone());
    let toggle = move |_| {
        opened.update(|opened| *opened = if *opened == Some(id) { None } else { Some(id) });
    };
    let open = move || opened.get() == Some(id);
    let expanded = move || if open() { "true" } else { "false" };
    view! {
        <li class=class id=format!("entry-{id}")>
            <button type="button" class="change" aria-expanded=expanded title=words::CHANGE on:click=toggle>
                <span class="entry-head">{texts::sentence(&row.head)}</span>
                <span class="when">{time}</span>
                {row.state.map(|state| view! { <span class="state">{state}</span> })}
                {row.said.map(|said| view! { <span class="said">{words::said(&said)}</span> })}
                {row.before.map(|before| view! { <span class="was">{before}</span> })}
            </button>
            <Show when=open>
                <Choices entry=Arc::clone(&entry) standing opened outcome />
            </Show>
        </li>
    }
}

/// What can be done about an entry.
#[component]
fn Choices(
    entry: Arc<Entry>,
    standing: Standing,
    opened: RwSignal<Option<EntryId>>,
    outcome: RwSignal<String>,
) -> impl IntoView {
    let journal = use_journal();
    let units = expect_context::<RwSignal<Units>>().get_untracked();
    let about = Subject {
        hive: entry.hive,
        visit: entry.visit,
    };
    let wrong = RwSignal::new(String::new());
    let say = move |known: Known, done: String| {
        spawn_local(async move {
            match journal.append(vec![Saying::now(about, known)]).await {
                Ok(_) => {
                    opened.set(None);
                    outcome.set(done);
                }
                // right here: the list's own words may be far above
                Err(why) => wrong.set(texts::journal_error(&why)),
            }
        });
    };
    let id = entry.id;
    let told = journal
        .yard
        .with_untracked(|yard| words_of(yard, &entry, units));
    let back = if standing == Standing::Undone {
        let stand = move |_| {
            // the undo that itself stands is taken back
            let undo = journal.yard.with_untracked(|yard| {
                yard.journal()
                    .find(|undo| {
                        matches!(undo.what.known(), Some(Known::Undone { target }) if *target == id)
                            && yard.standing(undo.id) != Some(Standing::Undone)
                    })
                    .map(|undo| undo.id)
            });
            if let Some(target) = undo {
                say(Known::Undone { target }, words::KEPT.to_owned());
            }
        };
        view! {
            <button type="button" class="stand-again" on:click=stand>{words::STAND_AGAIN}</button>
        }
        .into_any()
    } else {
        let take_back = move |_| say(Known::Undone { target: id }, words::undone(&told));
        view! {
            <button type="button" class="take-back" on:click=take_back>{words::TAKE_BACK}</button>
        }
        .into_any()
    };
    let correctable = standing != Standing::Undone && !is_undo(&entry) && !is_correction(&entry);
    let form = correctable.then(|| {
        let what = journal
            .yard
            .with_untracked(|yard| says(yard, &entry))
            .unwrap_or_else(|| entry.what.clone());
        let correct = Callback::new(move |known: Known| {
            let what = What::from(known);
            say(
                Known::Corrected { target: id, what },
                words::KEPT.to_owned(),
            );
        });
        view! { <Correction hive=entry.hive what correct /> }
    });
    view! {
        <div class="choices-of">
            {form}
            <p class="wrong" role="alert">{move || wrong.get()}</p>
            {back}
        </div>
    }
}
