//! The journal on this device.
//!
//! Entries are kept in the browser's database (`db`), durable before [`Journal::append`] returns
//! (`append`), folded to the yard as they come, exchanged with the server in the background
//! (`link`, `far`, `near`) and carried by files (`carry`); at a start they are read in packs (`pack`). Two
//! tabs at once are safe: each append is one transaction that reads where the chain ends, and a tab that
//! wrote tells the others.

mod append;
mod beside;
mod carry;
mod db;
mod device;
mod error;
mod far;
mod kept;
mod let_in;
mod link;
mod near;
mod pack;
mod pairing;
mod row;

use std::rc::Rc;
use std::sync::Arc;
use std::time::Duration;

use hive::{Entry, Yard};
use jiff::ZonedDateTime;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

pub use ::exchange::Proof;
pub use append::Saying;
pub use carry::Imported;
pub use device::Device;
pub use error::JournalError;
pub use let_in::{LetIn, Paired};
pub use link::{Link, Why};
pub use pairing::NotPaired;

use crate::browser::clock;
use crate::browser::nap::Nap;
use kept::Kept;

/// How far the journal is opened.
#[derive(Debug, Clone, PartialEq)]
pub enum Opened {
    /// Being opened.
    Opening,
    /// Open.
    Open,
    /// Cannot be opened.
    Failed(JournalError),
}

/// The journal, as the screens have it. Copies are the same journal.
#[derive(Clone, Copy)]
pub struct Journal {
    /// The yard as the journal leaves it, always up to date.
    pub yard: RwSignal<Arc<Yard>>,
    /// How far it is opened.
    pub opened: RwSignal<Opened>,
    /// Where the entries are.
    pub link: RwSignal<Link>,
    /// Entries that the server is not known to have.
    pub waiting: RwSignal<usize>,
    /// Rows that the browser gave back unreadable; they are kept and exported as they are.
    pub damaged: RwSignal<usize>,
    /// Whether the browser promised to keep the storage; `None` until it has answered.
    pub persisted: RwSignal<Option<bool>>,
    /// This device.
    pub device: RwSignal<Option<Device>>,
    kept: StoredValue<Option<Rc<Kept>>, LocalStorage>,
    exchange: StoredValue<Nap, LocalStorage>,
}

/// The journal of this app, from anywhere below [`crate::app::App`].
pub fn use_journal() -> Journal {
    expect_context()
}

/// The exchange with a yard that is shown already begins after so long: by then a visit stands open on a
/// slow phone, too (BENCHMARKS.md).
const FIRST_SCREEN: Duration = Duration::from_secs(1);

impl Journal {
    /// Opens it in the background.
    pub fn open() -> Self {
        let journal = Self {
            yard: RwSignal::new(Arc::default()),
            opened: RwSignal::new(Opened::Opening),
            link: RwSignal::new(Link::Unknown),
            waiting: RwSignal::new(0),
            damaged: RwSignal::new(0),
            persisted: RwSignal::new(None),
            device: RwSignal::new(None),
            kept: StoredValue::new_local(None),
            exchange: StoredValue::new_local(Nap::default()),
        };
        spawn_local(async move {
            match Kept::open(journal).await {
                Ok(kept) => {
                    journal.kept.set_value(Some(Rc::new(kept)));
                    journal.opened.set(Opened::Open);
                    crate::browser::mark("journal-open");
                    // some browsers ask the keeper, who may leave the question standing all day
                    spawn_local(async move {
                        let promised = crate::browser::storage::persist().await;
                        journal.persisted.set(Some(promised));
                    });
                    // a screen that shows what is kept here already need not wait for the exchange's work
                    if journal
                        .yard
                        .with_untracked(|yard| yard.apiaries().next().is_some())
                    {
                        Nap::default().sleep(FIRST_SCREEN).await;
                    }
                    link::keep_exchanging(journal).await;
                }
                Err(why) => journal.opened.set(Opened::Failed(why)),
            }
        });
        journal
    }

    /// Now, as the next entry of this device would have it: a clock that was set back does not go
    /// behind what this device wrote last.
    pub fn now(self) -> ZonedDateTime {
        let device = self.device.get_untracked();
        let last = device.and_then(|device| {
            self.yard
                .with_untracked(|yard| yard.last_recorded(device.id))
        });
        let now = clock::now();
        last.map_or(now, |last| last.max(now))
            .to_zoned_datetime(clock::time_zone())
    }

    /// Writes entries down, all or none. When this returns they are durable on this device, and
    /// [`Journal::yard`] holds them.
    ///
    /// # Errors
    /// [`JournalError`]; then nothing was written, and the words for it are
    /// [`crate::texts::journal_error`].
    pub async fn append(self, sayings: Vec<Saying>) -> Result<Vec<Arc<Entry>>, JournalError> {
        let written = self.kept()?.append(sayings, None).await?;
        self.exchange_soon();
        Ok(written)
    }

    /// Everything kept, as an export (the format of [`::exchange::lines`]); works also when there is
    /// no more room.
    ///
    /// # Errors
    /// [`JournalError`] when the browser gives nothing back.
    pub async fn export(self) -> Result<String, JournalError> {
        self.kept()?.export().await
    }

    /// Takes an export in, all of it or nothing.
    ///
    /// # Errors
    /// [`JournalError::Line`] names the line; nothing was taken in then.
    pub async fn import(self, text: &str) -> Result<Imported, JournalError> {
        let imported = self.kept()?.import(text).await?;
        self.exchange_soon();
        Ok(imported)
    }

    /// Proves every record that is kept here.
    ///
    /// # Errors
    /// [`JournalError`] when the browser gives nothing back.
    pub async fn prove(self) -> Result<Proof, JournalError> {
        self.kept()?.prove().await
    }

    /// Changes who writes on this device, from the next entry on.
    ///
    /// # Errors
    /// [`JournalError`] when it could not be kept.
    pub async fn set_by(self, by: String) -> Result<(), JournalError> {
        self.kept()?.set_by(by).await
    }

    /// Joins this device's journal and the server's for good, where the server has another one
    /// ([`Why::Another`]).
    ///
    /// # Errors
    /// [`JournalError`] when it could not be kept; nothing is joined then.
    pub async fn join(self) -> Result<(), JournalError> {
        link::join(self.kept()?).await?;
        self.exchange_soon();
        Ok(())
    }

    /// Has the exchange begin at once if it sleeps.
    pub fn exchange_soon(self) {
        self.exchange.with_value(Nap::wake);
    }

    fn kept(self) -> Result<Rc<Kept>, JournalError> {
        match self.opened.get_untracked() {
            Opened::Failed(why) => Err(why),
            _ => self.kept.get_value().ok_or(JournalError::NotOpen),
        }
    }
}
