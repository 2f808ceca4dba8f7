//! Keeps what happens in a room: the steps at once, the entries as they settle.

use std::collections::VecDeque;
use std::time::Duration;

use leptos::prelude::*;
use live::{Due, Upto};
use wasm_bindgen::JsCast as _;
use wasm_bindgen::closure::Closure;
use wasm_bindgen_futures::spawn_local;

use hive::pen::Subject;

use super::Room;
use super::follow::Followed;
use crate::browser::{document, frame, nap::Nap};
use crate::journal::{JournalError, Saying};
use crate::texts;

/// After so long without a step everything is written, the comb in hand too.
const IDLE: Duration = Duration::from_secs(8);

/// Whether what is shown is kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Keeping {
    /// Every step is durable on this device.
    Kept,
    /// Being kept.
    Busy,
    /// Could not be kept; the words for it. It is tried again with the next step.
    Failed(String),
}

/// What is still to be kept.
#[derive(Default)]
pub(super) struct Saver {
    busy: bool,
    again: Option<Upto>,
    steps: u64,
    pub(super) followed: Followed,
    /// Ends the wait for the screen.
    screen: Nap,
}

impl Room {
    /// Keeps the steps, and the entries that have settled; all of them after a while.
    pub(super) fn keep(self) {
        self.saver.update_value(|saver| saver.steps += 1);
        self.keep_upto(Upto::Settled);
        let steps = self.saver.with_value(|saver| saver.steps);
        spawn_local(async move {
            Nap::default().sleep(IDLE).await;
            if self.saver.with_value(|saver| saver.steps) == steps {
                self.keep_upto(Upto::All);
            }
        });
    }

    /// Whether something is being written.
    pub(super) fn is_keeping(self) -> bool {
        self.saver.with_value(|saver| saver.busy)
    }

    /// Keeps everything now.
    pub fn keep_all(self) {
        self.keep_upto(Upto::All);
    }

    fn keep_upto(self, upto: Upto) {
        let busy = self.saver.with_value(|saver| saver.busy);
        self.saver.update_value(|saver| {
            let all = saver.again == Some(Upto::All) || upto == Upto::All;
            saver.again = Some(if all { Upto::All } else { Upto::Settled });
            saver.busy = true;
        });
        if busy {
            if upto == Upto::All {
                self.saver.with_value(|saver| saver.screen.wake());
            }
            return;
        }
        self.keeping.set(Keeping::Busy);
        let screen = Nap::default();
        self.saver
            .update_value(|saver| saver.screen = screen.clone());
        spawn_local(async move {
            // the keeper sees the answer first; a page that is put away does not wait
            if upto == Upto::Settled {
                frame::painted(&screen).await;
            }
            let outcome = self.keep_while_more().await;
            self.saver.update_value(|saver| saver.busy = false);
            // what came meanwhile was left until what was written is known to be ours
            self.follow();
            self.keeping.set(match outcome {
                Ok(()) => Keeping::Kept,
                Err(why) => Keeping::Failed(texts::journal_error(&why)),
            });
        });
    }

    async fn keep_while_more(self) -> Result<(), JournalError> {
        loop {
            let mut next = None;
            self.saver.update_value(|saver| next = saver.again.take());
            let Some(upto) = next else { return Ok(()) };
            let Some(due) = self.due(upto)? else {
                return Ok(());
            };
            let sayings = due.writings.iter().map(|writing| Saying {
                id: Some(writing.id),
                at: writing.at,
                about: Subject::visit(self.hive, due.session.visit),
                said: writing.said.clone(),
                what: writing.known.clone().into(),
            });
            self.journal()
                .append_beside(sayings.collect(), &self.name(), &due.session)
                .await?;
            self.saver.update_value(|saver| saver.followed.wrote(&due));
            self.live.update_untracked(|live| {
                if let Some(live) = live {
                    live.wrote(&due);
                }
            });
        }
    }

    fn due(self, upto: Upto) -> Result<Option<Due>, JournalError> {
        self.follow_in();
        // ids may fail, and the fold knows no failure: a few are made before
        let mut ids = VecDeque::new();
        loop {
            let mut short = false;
            let mut due = None;
            self.live.update_untracked(|live| {
                if let Some(live) = live {
                    let mut ids = ids.clone();
                    let mut fresh = || {
                        ids.pop_front().unwrap_or_else(|| {
                            short = true;
                            live.session().visit
                        })
                    };
                    due = Some(live.due(upto, &mut fresh));
                }
            });
            if !short {
                return Ok(due);
            }
            for _ in 0..16 {
                ids.push_back(Saying::fresh_id()?);
            }
        }
    }
}

/// A page that is put away may not come back: everything is written then.
pub(super) fn keep_when_hidden(room: Room) {
    let hidden = Closure::<dyn Fn()>::new(move || {
        if document().is_some_and(|document| document.hidden()) && room.shown.with(Option::is_some)
        {
            room.keep_all();
        }
    });
    if let Some(document) = document() {
        // a browser that refuses writes after the idle time all the same
        let _ = document
            .add_event_listener_with_callback("visibilitychange", hidden.as_ref().unchecked_ref());
    }
    // for as long as the page lives
    hidden.forget();
}
