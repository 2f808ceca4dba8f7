//! The honey house as the journal leaves it, and how something is written down in it.

use std::sync::Arc;

use hive::pen::Subject;
use hive::yard::Standing as Stands;
use hive::{Entry, EntryId, Known};
use honey::lots::{LotEvent, Withholding};
use house::taking::waiting;
use house::withheld::withholdings;
use house::{Batch, Kept, Standing, Taking, plan};
use leptos::html::P;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::ask::{Form, Wrong};
use crate::browser::clock;
use crate::journal::{Journal, Saying, use_journal};
use crate::preferences::Units;
use crate::texts;
use crate::texts::honey_house as words;

/// Everything that the screen shows.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Seen {
    pub(super) kept: Kept,
    pub(super) waiting: Vec<Taking>,
    pub(super) withheld: Vec<Withholding>,
    /// Entries of the honey house, latest first, and whether each stands.
    pub(super) written: Vec<(Arc<Entry>, Stands)>,
}

/// Entries of the honey house that are listed.
const LISTED: usize = 6;

fn seen(journal: Journal) -> Seen {
    journal.yard.with(|yard| {
        let kept = Kept::of(yard, &clock::day_of);
        let of_house = yard
            .journal()
            .filter(|entry| matches!(entry.what.known(), Some(Known::HoneyHouse { .. })));
        let mut written: Vec<_> = of_house.map(Arc::clone).collect();
        // by when they were written, a batch in its order
        written.sort_by_key(|entry| std::cmp::Reverse((entry.recorded, entry.seq, entry.id)));
        written.truncate(LISTED);
        let standing = |entry: Arc<Entry>| {
            let stands = yard.standing(entry.id).unwrap_or(Stands::Stands);
            (entry, stands)
        };
        Seen {
            waiting: waiting(yard, &kept.house, &clock::day_of),
            withheld: withholdings(yard, &clock::day_of),
            written: written.into_iter().map(standing).collect(),
            kept,
        }
    })
}

/// What form is open at a lot or at a filling.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Doing {
    Read,
    Fill,
    More,
    Out,
    Back,
}

/// What was done last.
#[derive(Debug, Clone, Default)]
struct Done {
    way: Way,
    /// What it was, in words.
    told: String,
    /// The entries that it wrote.
    ids: Vec<EntryId>,
}

/// Which way it went.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) enum Way {
    /// Nothing was done yet.
    #[default]
    Nothing,
    /// Written down.
    Kept,
    /// Taken back.
    TakenBack,
    /// It stands again.
    Again,
    /// It was not written; the words say why.
    Failed,
}

impl Done {
    fn words(&self) -> String {
        match self.way {
            Way::Nothing => String::new(),
            Way::Kept => words::kept(&self.told),
            Way::TakenBack => words::taken_back(&self.told),
            Way::Again => words::stands_again(&self.told),
            Way::Failed => self.told.clone(),
        }
    }
}

/// What makes events of a form's answers.
pub(super) type Make = Arc<dyn Fn(&Form, &Standing<'_>) -> Result<Batch, Wrong> + Send + Sync>;

/// The honey house at hand. Copies are the same.
#[derive(Clone, Copy)]
pub(super) struct Desk {
    journal: Journal,
    units: RwSignal<Units>,
    /// What is shown.
    pub(super) seen: Memo<Seen>,
    /// Which form is open, and at which lot or filling.
    pub(super) open: RwSignal<Option<(Doing, String)>>,
    done: RwSignal<Done>,
    line: NodeRef<P>,
}

impl Desk {
    pub(super) fn new() -> Self {
        let journal = use_journal();
        Self {
            journal,
            units: expect_context(),
            seen: Memo::new(move |_| seen(journal)),
            open: RwSignal::new(None),
            done: RwSignal::default(),
            line: NodeRef::new(),
        }
    }

    /// In which units is shown and typed.
    pub(super) fn units(self) -> Units {
        self.units.get()
    }

    /// Names of the living hives.
    pub(super) fn hives(self) -> Vec<String> {
        let name = |hive: &hive::Hive| hive.name.clone();
        self.journal
            .yard
            .with(|yard| yard.living_hives().into_iter().map(name).collect())
    }

    /// Asks the yard.
    pub(super) fn yard<T>(self, ask: impl FnOnce(&hive::Yard) -> T) -> T {
        self.journal.yard.with_untracked(|yard| ask(yard))
    }

    /// An event in words, in the units of this device.
    fn told(self, event: &LotEvent) -> String {
        self.units.get_untracked().lot_event(event)
    }

    /// An entry in words.
    pub(super) fn entry_words(self, entry: &Entry) -> String {
        let Some(Known::HoneyHouse { event }) = entry.what.known() else {
            return String::new();
        };
        self.units.get_untracked().honey_house(event)
    }

    /// Thinks through what a form asks for and writes it down, or says at the form why not.
    pub(super) fn record(self, form: &Form, make: &Make) {
        if let Err(wrong) = self.try_record(form, make) {
            form.show(wrong);
        }
    }

    fn try_record(self, form: &Form, make: &Make) -> Result<(), Wrong> {
        form.clear();
        // what was done before has nothing to do with this
        self.done.set(Done::default());
        let yard = self.journal.yard.get_untracked();
        let on = form.day(DAY)?;
        let now = self.journal.now();
        let planned = plan(&yard, &now, on, &clock::day_of, &mut |standing| {
            make(form, standing)
        })?;
        let told: Vec<String> = planned
            .events
            .iter()
            .map(|event| self.told(event))
            .collect();
        let backdated = on.is_some_and(|on| on != now.date());
        let at = backdated.then_some(planned.at);
        let form = form.clone();
        let done = (Way::Kept, told.join("; "));
        self.say(planned.says, at, done, move |came| match came {
            Ok(()) if form.opens => self.open.set(None),
            Ok(()) => {}
            Err(why) => form.show(Wrong::Words(why)),
        });
        Ok(())
    }

    /// Writes entries of the yard and says that it was done; `then` hears how it went.
    fn say(
        self,
        says: Vec<Known>,
        at: Option<jiff::Timestamp>,
        (way, told): (Way, String),
        then: impl Fn(Result<(), String>) + 'static,
    ) {
        let sayings = says.into_iter().map(|what| Saying {
            at,
            ..Saying::now(Subject::YARD, what)
        });
        let sayings = sayings.collect();
        spawn_local(async move {
            match self.journal.append(sayings).await {
                Ok(entries) => {
                    let ids = entries.iter().map(|entry| entry.id).collect();
                    then(Ok(()));
                    self.done.set(Done { way, told, ids });
                    if let Some(line) = self.line.get_untracked() {
                        crate::browser::focus(&line);
                    }
                }
                Err(why) => then(Err(texts::journal_error(&why))),
            }
        });
    }

    /// Takes entries back, or takes back what took them back.
    pub(super) fn undo(self, targets: Vec<EntryId>, way: Way, told: String) {
        let says = targets
            .into_iter()
            .map(|target| Known::Undone { target })
            .collect();
        let done = self.done;
        self.say(says, None, (way, told), move |came| {
            if let Err(told) = came {
                done.set(Done {
                    way: Way::Failed,
                    told,
                    ids: Vec::new(),
                });
            }
        });
    }

    /// The undo that itself stands and keeps an entry from acting.
    pub(super) fn undo_of(self, id: EntryId) -> Option<EntryId> {
        self.yard(|yard| {
            let mut undos = yard.journal().filter(|undo| {
                matches!(undo.what.known(), Some(Known::Undone { target }) if *target == id)
                    && yard.standing(undo.id) != Some(Stands::Undone)
            });
            undos.next().map(|undo| undo.id)
        })
    }

    /// What was done last, always in sight, with the way back.
    pub(super) fn done_line(self) -> AnyView {
        let undo = move |_| {
            let Done { way, told, mut ids } = self.done.get_untracked();
            ids.reverse();
            let back = if way == Way::Kept {
                Way::TakenBack
            } else {
                Way::Again
            };
            self.undo(ids, back, told);
        };
        // the way back, as long as what was done stands
        let back = move || {
            let Done { way, ids, .. } = self.done.get();
            let stands = |id: &EntryId| {
                self.journal
                    .yard
                    .with(|yard| yard.standing(*id) != Some(Stands::Undone))
            };
            let words = match way {
                Way::Kept => words::TAKE_BACK,
                Way::TakenBack => words::STAND_AGAIN,
                Way::Nothing | Way::Again | Way::Failed => return None,
            };
            ids.iter().all(stands).then(|| {
                view! {
                    <button type="button" id="back-last" class="quiet-button" on:click=undo>{words}</button>
                }
            })
        };
        let class = move || {
            if self.done.with(|done| done.way == Way::Nothing) {
                "done-line none"
            } else {
                "done-line"
            }
        };
        view! {
            <div class=class>
                <p role="status" id="done" tabindex="-1" node_ref=self.line>
                    {move || self.done.with(Done::words)}
                </p>
                {back}
            </div>
        }
        .into_any()
    }
}

/// The field for the day on which something happened.
pub(super) const DAY: &str = "day";
