//! The exchange in the background, and what is to be said of it.

use std::rc::Rc;
use std::time::Duration;

use exchange::{FarError, Near as _, RoundError, round};
use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use wasm_bindgen::closure::Closure;
use wasm_bindgen_futures::spawn_local;

use super::Journal;
use super::error::JournalError;
use super::far::Server;
use super::kept::Kept;
use crate::browser::{document, locks, window};
use crate::texts;

/// One tab exchanges at a time.
const LOCK: &str = "combwright-exchange";

/// Between rounds while all is well: what others wrote comes with the next one.
const CALM: Duration = Duration::from_mins(1);

/// After failures, each longer than the one before.
const PATIENCE: [Duration; 5] = [
    Duration::from_secs(3),
    Duration::from_secs(10),
    Duration::from_secs(30),
    Duration::from_mins(2),
    Duration::from_mins(5),
];

/// Where the entries are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Link {
    /// Not asked yet.
    Unknown,
    /// A round is under way.
    Busy,
    /// The server has everything.
    WithServer,
    /// On this device only.
    HereOnly(Why),
}

/// Why they are on this device only.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Why {
    /// No server in reach.
    NotReached,
    /// The server does not know this device.
    Unpaired,
    /// The server has another journal than the one that this device was with; nothing went either way.
    Another,
    /// The server's words.
    Refused(String),
    /// The words about this device's storage.
    Storage(String),
}

impl Why {
    pub(super) fn of_far(error: FarError) -> Self {
        match error {
            // garbled: some other page answers in the server's place
            FarError::Unreachable { .. } | FarError::Wait { .. } | FarError::Garbled { .. } => {
                Self::NotReached
            }
            FarError::Unpaired => Self::Unpaired,
            FarError::Refused(problem) => Self::Refused(problem.detail.unwrap_or(problem.title)),
        }
    }

    pub(super) fn of_storage(error: &JournalError) -> Self {
        Self::Storage(texts::journal_error(error))
    }
}

/// Exchanges for as long as the page lives.
pub(super) async fn keep_exchanging(journal: Journal) {
    wake_when_it_may_help(journal);
    let nap = journal.exchange.get_value();
    let mut failures = 0;
    loop {
        let Some(kept) = journal.kept.get_value() else {
            return;
        };
        journal.link.set(Link::Busy);
        let outcome = locks::alone(LOCK, one_round(Rc::clone(&kept))).await;
        let rest = match outcome {
            Ok(()) => {
                failures = 0;
                journal.link.set(Link::WithServer);
                CALM
            }
            Err(why) => {
                let another = why == Why::Another;
                journal.link.set(Link::HereOnly(why));
                // another journal is looked through each time, and seldom goes away in seconds
                failures += if another { PATIENCE.len() } else { 1 };
                PATIENCE[(failures - 1).min(PATIENCE.len() - 1)]
            }
        };
        // beside the exchange, which may be asked for again at once
        spawn_local(async move { kept.pack().await });
        nap.sleep(rest).await;
    }
}

async fn one_round(kept: Rc<Kept>) -> Result<(), Why> {
    let token = kept.token().await.map_err(|why| Why::of_storage(&why))?;
    match round(&*kept, &Server { token }).await {
        Ok(_) => Ok(()),
        Err(RoundError::Near(why)) => Err(Why::of_storage(&why)),
        Err(RoundError::Far(why)) => Err(Why::of_far(why)),
        Err(RoundError::Another) => Err(Why::Another),
    }
}

/// Takes the server at this address for this journal's own from the next round on, whatever it has:
/// the keeper wants both joined. It counts once; should yet another journal come, that is asked anew.
pub(super) async fn join(kept: Rc<Kept>) -> Result<(), JournalError> {
    locks::alone(LOCK, async move { kept.begin_anew().await }).await
}

/// A network that comes back and a page that is looked at again are worth a try at once.
fn wake_when_it_may_help(journal: Journal) {
    let wake = Closure::<dyn Fn()>::new(move || journal.exchange_soon());
    let listener = wake.as_ref().unchecked_ref();
    // where the browser refuses, the clock wakes it
    if let Some(window) = window() {
        let _ = window.add_event_listener_with_callback("online", listener);
    }
    if let Some(document) = document() {
        let _ = document.add_event_listener_with_callback("visibilitychange", listener);
    }
    // for as long as the page lives
    wake.forget();
}
