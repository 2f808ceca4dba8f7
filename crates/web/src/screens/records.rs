//! The journal: its entries in words, corrections, a note, and carrying it by file.

mod carry;
mod correction;
mod entry;
mod subject;
mod verify;

use std::collections::BTreeSet;
use std::sync::Arc;

use hive::pen::Subject as About;
use hive::undo::Scope;
use hive::{Entry, EntryId, HiveId, Known, Yard, undo_last};
use leptos::ev::SubmitEvent;
use leptos::html::Input;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::browser::clock;
use crate::journal::{JournalError, Saying, use_journal};
use crate::parts::empty::Empty;
use crate::parts::notice::Outcome;
use crate::parts::screen::Screen;
use crate::preferences::Units;
use crate::route::Route;
use crate::texts;
use crate::texts::records as words;

use carry::Carry;
use entry::EntryRow;
use subject::Subject;
use verify::Verify;

/// Entries listed at once.
const LISTED: usize = 50;

/// The screen.
#[component]
pub fn Records() -> impl IntoView {
    view! {
        <Screen title=texts::screen(Route::Records)>
            <Note />
            <Entries />
            <Carry />
            <Verify />
        </Screen>
    }
}

/// Writes a note of the yard.
#[component]
fn Note() -> impl IntoView {
    let journal = use_journal();
    let field = NodeRef::<Input>::new();
    let outcome = RwSignal::new(String::new());
    let write = move |event: SubmitEvent| {
        event.prevent_default();
        let Some(input) = field.get() else { return };
        let text = input.value().trim().to_owned();
        if text.is_empty() {
            return;
        }
        spawn_local(async move {
            let note = Saying::now(About::YARD, Known::Note { text });
            match journal.append(vec![note]).await {
                Ok(_) => {
                    input.set_value("");
                    outcome.set(words::KEPT.to_owned());
                }
                Err(why) => outcome.set(texts::journal_error(&why)),
            }
        });
    };
    view! {
        <form class="line" on:submit=write>
            <label for="note">{words::NOTE}</label>
            <input id="note" node_ref=field autocomplete="off" />
            <button type="submit" id="write">{words::WRITE}</button>
        </form>
        <Outcome words=outcome />
    }
}

/// Whose entries are listed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Whose {
    All,
    Yard,
    Hive(HiveId),
}

impl Whose {
    fn of(key: &str) -> Self {
        match key {
            "yard" => Self::Yard,
            key => key.parse().map_or(Self::All, Self::Hive),
        }
    }

    fn has(self, entry: &Entry) -> bool {
        match self {
            Self::All => true,
            Self::Yard => entry.hive.is_none(),
            Self::Hive(hive) => entry.hive == Some(hive),
        }
    }
}

/// Entries that pass both filters, latest first.
fn found(yard: &Yard, whose: Whose, subject: Subject) -> Vec<Arc<Entry>> {
    let mut entries: Vec<_> = yard
        .journal()
        .filter(|entry| whose.has(entry) && subject.has(yard, entry))
        .cloned()
        .collect();
    // a batch is written at one instant; its numbers keep its order
    entries.sort_by_key(|entry| std::cmp::Reverse((entry.at, entry.recorded, entry.seq, entry.id)));
    entries
}

/// The day, the hive and who wrote: entries that share them stand under one heading.
fn heading_of(yard: &Yard, entry: &Entry) -> String {
    let day = clock::time_zone().to_datetime(entry.at).date();
    let hive = entry.hive.and_then(|hive| yard.hive(hive));
    words::heading(
        &texts::days::day_and_year(day),
        hive.map(|hive| hive.name.as_str()),
        &entry.by,
    )
}

/// The list with its filters.
#[component]
fn Entries() -> impl IntoView {
    let journal = use_journal();
    let whose = RwSignal::new(Whose::All);
    let subject = RwSignal::new(Subject::Everything);
    let most = RwSignal::new(LISTED);
    let opened = RwSignal::new(None::<EntryId>);
    let outcome = RwSignal::new(String::new());
    let entries = Memo::new(move |_| {
        journal
            .yard
            .with(|yard| found(yard, whose.get(), subject.get()))
    });
    let count = move || journal.yard.with(|yard| yard.journal().len());
    let hives = Memo::new(move |_| {
        journal.yard.with(|yard| {
            let mut hives: Vec<_> = yard
                .hives()
                .map(|hive| (hive.name.clone(), hive.id.to_string()))
                .collect();
            hives.sort();
            hives
        })
    });
    let hive_options = move || {
        let hives = hives.get().into_iter();
        hives
            .map(|(name, id)| view! { <option value=id>{name}</option> })
            .collect_view()
    };
    let subjects = Subject::ALL
        .into_iter()
        .zip(words::SUBJECTS)
        .map(|(subject, words)| view! { <option value=subject.key()>{words}</option> })
        .collect_view();
    let list = move || {
        let shown = entries.get();
        if shown.is_empty() {
            return if count() == 0 {
                view! { <Empty words=texts::empty::RECORDS /> }.into_any()
            } else {
                view! { <p>{words::NONE_FOUND}</p> }.into_any()
            };
        }
        let all = shown.len();
        let mut last = None;
        let rows = shown
            .into_iter()
            .take(most.get())
            .map(|entry| {
                let heading = journal.yard.with_untracked(|yard| heading_of(yard, &entry));
                let head = (last.as_ref() != Some(&heading)).then(|| {
                    view! { <li class="entries-head"><h3>{heading.clone()}</h3></li> }
                });
                last = Some(heading);
                view! { {head} <EntryRow entry opened outcome /> }
            })
            .collect_view();
        let more = (all > most.get()).then(|| {
            let show = move |_| most.update(|most| *most += LISTED);
            view! {
                <button type="button" id="more" class="quiet-button" on:click=show>{words::MORE}</button>
            }
        });
        view! { <p class="hint">{words::CHANGE_HINT}</p> <ol class="entries">{rows}</ol> {more} }
            .into_any()
    };
    let counted = move || {
        let all = count();
        match entries.with(Vec::len) {
            found if found == all => words::count(all),
            found => words::found(found, all),
        }
    };
    let damaged = move || {
        let count = journal.damaged.get();
        (count > 0).then(|| view! { <p class="notice" role="alert">{words::damaged(count)}</p> })
    };
    view! {
        <section>
            <h2>{words::LATEST}</h2>
            {damaged}
            <div class="pairs filters">
                <div class="field">
                    <label for="of-hive">{words::OF_HIVE}</label>
                    <select id="of-hive" on:change=move |event| {
                        whose.set(Whose::of(&event_target_value(&event)));
                        most.set(LISTED);
                    }>
                        <option value="all">{words::ALL_HIVES}</option>
                        <option value="yard">{words::THE_YARD}</option>
                        {hive_options}
                    </select>
                </div>
                <div class="field">
                    <label for="of-subject">{words::OF_SUBJECT}</label>
                    <select id="of-subject" on:change=move |event| {
                        subject.set(Subject::of(&event_target_value(&event)));
                        most.set(LISTED);
                    }>{subjects}</select>
                </div>
            </div>
            <p id="count">{counted}</p>
            <UndoLast whose outcome />
            <Outcome words=outcome />
            {list}
            <Faults />
        </section>
    }
}

/// Takes back the last act at the chosen hive.
#[component]
fn UndoLast(whose: RwSignal<Whose>, outcome: RwSignal<String>) -> impl IntoView {
    let journal = use_journal();
    let units = expect_context::<RwSignal<Units>>().get_untracked();
    let act = move |_| {
        let Whose::Hive(hive) = whose.get_untracked() else {
            return;
        };
        let undos = journal
            .yard
            .with_untracked(|yard| undo_last(yard, Scope::Hive(hive), 1));
        let undos = match undos {
            Ok(undos) => undos,
            Err(why) => {
                outcome.set(texts::journal_error(&JournalError::from(why)));
                return;
            }
        };
        let told = journal.yard.with_untracked(|yard| {
            let words = undos.iter().rev().filter_map(|undo| match undo {
                Known::Undone { target } => yard
                    .entry(*target)
                    .map(|target| entry::words_of(yard, target, units)),
                _ => None,
            });
            words.collect::<Vec<_>>().join("; ")
        });
        let sayings = undos
            .into_iter()
            .map(|undo| Saying::now(About::hive(hive), undo))
            .collect();
        spawn_local(async move {
            outcome.set(match journal.append(sayings).await {
                Ok(_) => words::undone(&told),
                Err(why) => texts::journal_error(&why),
            });
        });
    };
    let of_hive = move || matches!(whose.get(), Whose::Hive(_));
    view! {
        <Show when=of_hive fallback=|| view! { <p class="hint">{words::UNDO_OF}</p> }>
            <button type="button" id="undo-last" class="quiet-button" on:click=act>{words::UNDO}</button>
        </Show>
    }
}

/// Entries that could not be applied, with the reason.
#[component]
fn Faults() -> impl IntoView {
    let journal = use_journal();
    let units = expect_context::<RwSignal<Units>>().get_untracked();
    let list = move || {
        journal.yard.with(|yard| {
            let mut met = BTreeSet::new();
            let faults: Vec<_> = yard
                .faults()
                .filter(|fault| met.insert(fault.entry))
                .map(|fault| {
                    let words = yard
                        .entry(fault.entry)
                        .map(|entry| entry::words_of(yard, entry, units))
                        .unwrap_or_default();
                    view! { <li>{texts::sentence(&format!("{words}: {}", fault.why))}</li> }
                })
                .collect();
            (!faults.is_empty()).then(|| {
                view! {
                    <details class="faults">
                        <summary>{words::faults(faults.len())}</summary>
                        <p>{words::FAULTS_HINT}</p>
                        <ul>{faults}</ul>
                    </details>
                }
            })
        })
    };
    view! { {list} }
}
