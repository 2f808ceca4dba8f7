//! The open journal: the database, and how much of it is folded.

use std::cell::Cell;
use std::sync::Arc;

use hive::{DeviceId, Entry};
use leptos::prelude::*;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::spawn_local;

use super::Journal;
use super::db::{Db, For, PAGE, Tx};
use super::device::Device;
use super::error::JournalError;
use super::pack::Pack;
use crate::browser::clock;

/// Names of the facts kept beside the records.
pub(super) mod fact {
    pub(in crate::journal) const DEVICE: &str = "device";
    pub(in crate::journal) const TOKEN: &str = "token";
    pub(in crate::journal) const POSITION: &str = "position";
}

/// On which tabs tell each other that something was written.
const CHANNEL: &str = "combwright-journal";

/// The open journal.
pub(super) struct Kept {
    pub(super) db: Db,
    pub(super) journal: Journal,
    /// The place up to which rows are folded.
    folded: Cell<u64>,
    /// The place up to which rows are known to lie in packs that are whole.
    pub(super) packed: Cell<u64>,
    tabs: Option<web_sys::BroadcastChannel>,
}

impl Kept {
    /// Opens the database and folds everything.
    pub(super) async fn open(journal: Journal) -> Result<Self, JournalError> {
        let db = Db::open().await?;
        let kept = Self {
            db,
            journal,
            folded: Cell::new(0),
            packed: Cell::new(0),
            tabs: web_sys::BroadcastChannel::new(CHANNEL).ok(),
        };
        kept.fold_new().await?;
        let tx = kept.db.begin(For::Reading)?;
        journal.device.set(tx.fact(fact::DEVICE).await?);
        kept.hear_other_tabs();
        Ok(kept)
    }

    /// Folds rows that are new since the last time, from this tab or another.
    pub(super) async fn fold_new(&self) -> Result<(), JournalError> {
        loop {
            let tx = self.db.begin(For::Reading)?;
            if !self.catch_up(&tx).await? {
                self.journal.waiting.set(tx.count_waiting().await?);
                return Ok(());
            }
        }
    }

    /// Folds what a transaction finds new, so that who writes judges by everything kept; tells whether
    /// there was anything. All of it is folded together: at the start of the app a fold for each page
    /// would begin from the first entry again.
    pub(super) async fn catch_up(&self, tx: &Tx) -> Result<bool, JournalError> {
        let from = self.folded.get();
        let mut new = New::after(from);
        if from == 0 {
            for written in tx.packs().await? {
                match Pack::read(&written).filter(|pack| pack.after == new.upto) {
                    Some(pack) => new.read(pack.texts.iter().map(|text| Some(*text)), pack.upto),
                    // the rows are all there
                    None => break,
                }
            }
            self.packed.set(new.upto);
        }
        loop {
            let page = tx.texts(new.upto, PAGE).await?;
            if page.last == new.upto {
                break;
            }
            new.read(page.texts.iter().map(Option::as_deref), page.last);
        }
        let upto = new.upto;
        self.take(from, new);
        Ok(upto > from)
    }

    /// Folds what is new after a place, unless someone else has folded it meanwhile.
    fn take(&self, after: u64, new: New) {
        if after != self.folded.get() {
            return;
        }
        self.folded.set(new.upto);
        if new.damaged > 0 {
            self.journal.damaged.update(|count| *count += new.damaged);
        }
        if !new.entries.is_empty() {
            self.journal
                .yard
                .update(|yard| Arc::make_mut(yard).merge(new.entries));
        }
    }

    /// The place up to which rows are folded.
    pub(super) const fn folded(&self) -> u64 {
        self.folded.get()
    }

    /// Notes that this tab has written and folded up to a place itself.
    pub(super) fn wrote(&self, upto: u64) {
        self.folded.set(self.folded.get().max(upto));
        self.tell_other_tabs();
    }

    /// This device as the transaction finds it; made at the first need.
    pub(super) async fn device(&self, tx: &Tx) -> Result<Device, JournalError> {
        if let Some(device) = tx.fact::<Device>(fact::DEVICE).await? {
            return Ok(device);
        }
        let by = Device::BY.to_owned();
        self.fresh_device(tx, by).await
    }

    /// A new id for this device, kept from here on.
    pub(super) async fn fresh_device(&self, tx: &Tx, by: String) -> Result<Device, JournalError> {
        let id = clock::fresh_uuid(clock::now()).map_err(|thrown| JournalError::of(&thrown))?;
        let device = Device {
            id: DeviceId(id),
            by,
        };
        tx.set_fact(fact::DEVICE, &device).await?;
        Ok(device)
    }

    pub(super) async fn set_by(&self, by: String) -> Result<(), JournalError> {
        let tx = self.db.begin(For::Writing)?;
        let device = Device {
            by,
            ..self.device(&tx).await?
        };
        tx.set_fact(fact::DEVICE, &device).await?;
        tx.finish().await?;
        self.journal.device.set(Some(device));
        Ok(())
    }

    pub(super) async fn set_token(&self, token: String) -> Result<(), JournalError> {
        let tx = self.db.begin(For::Writing)?;
        tx.set_fact(fact::TOKEN, &token).await?;
        tx.finish().await
    }

    pub(super) async fn token(&self) -> Result<Option<String>, JournalError> {
        self.db.begin(For::Reading)?.fact(fact::TOKEN).await
    }

    pub(super) async fn count_waiting(&self) -> Result<(), JournalError> {
        let waiting = self.db.begin(For::Reading)?.count_waiting().await?;
        self.journal.waiting.set(waiting);
        Ok(())
    }

    fn tell_other_tabs(&self) {
        if let Some(tabs) = &self.tabs {
            // a tab that does not hear it reads on at its next append
            let _ = tabs.post_message(&JsValue::TRUE);
        }
    }

    fn hear_other_tabs(&self) {
        let Some(tabs) = &self.tabs else { return };
        let journal = self.journal;
        let heard = Closure::<dyn Fn()>::new(move || {
            spawn_local(async move {
                if let Some(kept) = journal.kept.get_value() {
                    // what fails here is told by the next append, where it matters
                    let _ = kept.fold_new().await;
                }
            });
        });
        tabs.set_onmessage(Some(heard.as_ref().unchecked_ref()));
        // for as long as the page lives
        heard.forget();
    }
}

/// Entries that are kept and not yet folded.
struct New {
    entries: Vec<Entry>,
    /// Rows without a readable entry.
    damaged: usize,
    /// The place of the last.
    upto: u64,
}

impl New {
    /// Nothing yet after a place.
    const fn after(place: u64) -> Self {
        Self {
            entries: Vec::new(),
            damaged: 0,
            upto: place,
        }
    }

    /// Reads the texts of the rows that follow, up to a place.
    fn read<'a>(&mut self, texts: impl Iterator<Item = Option<&'a str>>, upto: u64) {
        for text in texts {
            match text.and_then(|text| Entry::parse(text).ok()) {
                Some(entry) => self.entries.push(entry),
                None => self.damaged += 1,
            }
        }
        self.upto = upto;
    }
}
