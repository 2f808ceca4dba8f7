//! Writing down what happened.

use std::sync::Arc;

use exchange::{Hash, Record};
use hive::pen::{Pen, Stamp, Subject};
use hive::{Entry, EntryId, What, Yard};
use jiff::Timestamp;
use leptos::prelude::*;

use super::beside::Beside;
use super::db::{For, Tx};
use super::error::JournalError;
use super::kept::Kept;
use super::row::Row;
use crate::browser::clock;

/// Something to write down.
#[derive(Debug, Clone, PartialEq)]
pub struct Saying {
    /// Its id, where something else in the same batch must name it; else one is made.
    pub id: Option<EntryId>,
    /// When it happened, if not now.
    pub at: Option<Timestamp>,
    /// What it is about.
    pub about: Subject,
    /// The words it came from.
    pub said: Option<String>,
    /// What happened.
    pub what: What,
}

impl Saying {
    /// Something that happens now.
    pub fn now(about: Subject, what: impl Into<What>) -> Self {
        Self {
            id: None,
            at: None,
            about,
            said: None,
            what: what.into(),
        }
    }

    /// The same with the words it came from.
    #[must_use]
    pub fn said(self, words: impl Into<String>) -> Self {
        Self {
            said: Some(words.into()),
            ..self
        }
    }

    /// The same with an id made before, by [`Saying::fresh_id`].
    #[must_use]
    pub fn named(self, id: EntryId) -> Self {
        Self {
            id: Some(id),
            ..self
        }
    }

    /// An id to name an entry before it is written.
    ///
    /// # Errors
    /// [`JournalError::Browser`] when the browser gives no random numbers.
    pub fn fresh_id() -> Result<EntryId, JournalError> {
        let id = clock::fresh_uuid(clock::now()).map_err(|thrown| JournalError::of(&thrown))?;
        Ok(EntryId(id))
    }
}

impl Kept {
    /// Writes all of it or nothing, with what is kept beside it; durable when it returns.
    pub(super) async fn append(
        &self,
        sayings: Vec<Saying>,
        beside: Option<Beside>,
    ) -> Result<Vec<Arc<Entry>>, JournalError> {
        let tx = self.db.begin(For::Writing)?;
        match self.write(&tx, sayings, beside).await {
            Ok(Batch {
                entries,
                upto,
                before,
                judged,
            }) => {
                tx.finish().await?;
                self.journal.yard.update(|yard| {
                    // what the batch was judged by holds most of it, unless another tab's entries were
                    // folded meanwhile
                    if Arc::ptr_eq(yard, &before) {
                        *yard = judged;
                    }
                    drop(before);
                    let yard = Arc::make_mut(yard);
                    for entry in &entries {
                        yard.add(Arc::clone(entry));
                    }
                });
                self.journal
                    .waiting
                    .update(|waiting| *waiting += entries.len());
                self.wrote(upto);
                Ok(entries)
            }
            Err(why) => Err(tx.give_up(why)),
        }
    }

    async fn write(
        &self,
        tx: &Tx,
        sayings: Vec<Saying>,
        beside: Option<Beside>,
    ) -> Result<Batch, JournalError> {
        if let Some(beside) = beside {
            beside.put(tx).await?;
        }
        let device = self.device(tx).await?;
        if self.journal.device.get_untracked().as_ref() != Some(&device) {
            self.journal.device.set(Some(device.clone()));
        }
        let _ = self.catch_up(tx).await?;
        let end = tx.end_of(device.id).await?;
        let (seq, mut prev) =
            end.map_or((0, Hash::ORIGIN), |row| (row.record.seq, row.record.hash));
        let before = self.journal.yard.get_untracked();
        let mut judged = Arc::clone(&before);
        // a clock that was set back must not stop the record: it goes on from the last entry
        let now = before
            .last_recorded(device.id)
            .map_or(clock::now(), |last| last.max(clock::now()));
        let mut pen = Pen::new(device.id, seq + 1, device.by, clock::zone());
        let (mut entries, mut upto) = (Vec::new(), 0);
        let last = sayings.len().saturating_sub(1);
        for (nth, saying) in sayings.into_iter().enumerate() {
            let entry = written(&mut pen, saying, now)?;
            hive::check::check(&judged, &entry, now)?;
            let (record, entry) = Record::written(&entry, prev)?;
            prev = record.hash;
            upto = tx.add(&Row::new(record, true)).await?;
            let entry = Arc::new(entry);
            if nth < last {
                // the next one of the batch is judged with this one there, on a copy of the yard
                Arc::make_mut(&mut judged).add(Arc::clone(&entry));
            }
            entries.push(entry);
        }
        Ok(Batch {
            entries,
            upto,
            before,
            judged,
        })
    }
}

/// A batch as it was written.
struct Batch {
    entries: Vec<Arc<Entry>>,
    /// The place of the last.
    upto: u64,
    /// The yard without it.
    before: Arc<Yard>,
    /// The yard with all of it but the last entry.
    judged: Arc<Yard>,
}

fn written(pen: &mut Pen, saying: Saying, now: Timestamp) -> Result<Entry, JournalError> {
    let id = match saying.id {
        Some(id) => id,
        None => EntryId(clock::fresh_uuid(now).map_err(|thrown| JournalError::of(&thrown))?),
    };
    let stamp = Stamp {
        id,
        at: saying.at.unwrap_or(now),
        recorded: now,
    };
    Ok(match saying.said {
        Some(said) => pen.write_said(stamp, saying.about, &said, saying.what),
        None => pen.write(stamp, saying.about, saying.what),
    })
}
