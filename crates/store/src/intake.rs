//! Taking in entries from elsewhere: a set union of proved entries, in one transaction.
//!
//! An entry proves itself (its hash covers its text and the hash before it), so entries may come in
//! any order and from any file, and journals merged in any order hold the same. Two branches of one
//! device's chain are both kept and reported as a [`Fork`]; a forerunner that is not there is
//! reported as a [`Gap`] and may come later.

use std::collections::BTreeMap;

use exchange::{Hash, Record, RecordFault};
use hive::{DeviceId, EntryId};
use sqlx::{Sqlite, SqliteConnection, Transaction};

use crate::error::StoreError;
use crate::export::hashes;
use crate::journal::Journal;
use crate::sql::{self, Row};

/// One device id was used in two places: from this number on it has two chains. All entries of both
/// are kept and count.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fork {
    /// The device id.
    pub device: DeviceId,
    /// The first number that was given twice.
    pub seq: u64,
    /// The entries with that number.
    pub ids: Vec<EntryId>,
}

/// Entries are missing before this one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Gap {
    /// The device.
    pub device: DeviceId,
    /// The first entry whose forerunner is not in the journal.
    pub before: u64,
}

/// What an import or a merge did.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Joined {
    /// Entries looked at.
    pub read: u64,
    /// Entries that are new here.
    pub new: u64,
    /// Entries that were here already.
    pub known: u64,
    /// Damaged entries of this journal that gave way to their sound copies.
    pub mended: u64,
    /// Device ids used in two places, in the whole journal.
    pub forks: Vec<Fork>,
    /// Devices with missing entries, in the whole journal.
    pub gaps: Vec<Gap>,
    /// The device id that this file gave up, because entries came in that another file wrote under
    /// it (this file was copied, or restored from a backup). It goes on under a fresh one.
    pub gave_up: Option<DeviceId>,
}

/// What taking records over from a device did.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Taken {
    /// Records that are new here.
    pub new: u64,
    /// Records that were here already.
    pub known: u64,
    /// Damaged entries of this journal that gave way to their sound copies.
    pub mended: u64,
}

impl Journal {
    /// Takes proved records over from another device, all of them or none. When this returns they
    /// are on the disk. Its cost hangs on the records, not on how long the journal is, so forks and
    /// gaps are not looked for: [`Journal::verify`] tells of them.
    ///
    /// # Errors
    /// [`StoreError::NotTaken`] when another entry is here under a record's id, and what the file
    /// may say; nothing is recorded then.
    pub async fn take(&self, records: &[Record]) -> Result<Taken, StoreError> {
        let mut intake = Intake::begin(self).await?;
        for record in records {
            intake.take(record).await.map_err(|why| match why {
                NotTaken::Store(why) => why,
                NotTaken::Record(why) => StoreError::NotTaken { why },
            })?;
        }
        intake.settle().await?;
        let Joined {
            new, known, mended, ..
        } = intake.joined;
        self.said(intake.tx.commit().await)?;
        Ok(Taken { new, known, mended })
    }
}

/// Takes records in until [`Intake::finish`]; dropped before, nothing is recorded.
pub(crate) struct Intake<'a> {
    journal: &'a Journal,
    tx: Transaction<'static, Sqlite>,
    own: Option<(DeviceId, u64)>,
    heads: BTreeMap<DeviceId, (u64, Hash)>,
    joined: Joined,
}

/// Why a record was not taken.
pub(crate) enum NotTaken {
    Record(RecordFault),
    Store(StoreError),
}

impl<'a> Intake<'a> {
    pub(crate) async fn begin(journal: &'a Journal) -> Result<Self, StoreError> {
        let mut tx = journal.writing().await?;
        let own = match journal.said(sql::here(&mut tx).await)?.device {
            None => None,
            Some(device) => {
                let head = journal.said(sql::head_of(&mut tx, device).await)?;
                Some((device, head.map_or(0, |(seq, _)| seq)))
            }
        };
        Ok(Self {
            journal,
            tx,
            own,
            heads: BTreeMap::new(),
            joined: Joined::default(),
        })
    }

    pub(crate) fn read(&self) -> u64 {
        self.joined.read
    }

    /// Takes one proved record in.
    pub(crate) async fn take(&mut self, record: &Record) -> Result<(), NotTaken> {
        self.joined.read += 1;
        if self.insert(record).await? {
            self.joined.new += 1;
            self.note_elsewhere(record).await?;
        } else {
            let (known, damaged) = self.judge_rivals(record).await?;
            if known {
                self.joined.known += 1;
            } else {
                self.mend(record, &damaged).await?;
            }
        }
        let head = self
            .heads
            .entry(record.device)
            .or_insert((record.seq, record.hash));
        if record.seq > head.0 || (record.seq == head.0 && record.hash < head.1) {
            *head = (record.seq, record.hash);
        }
        Ok(())
    }

    /// Records all that was taken, durable when this returns.
    pub(crate) async fn finish(mut self) -> Result<Joined, StoreError> {
        self.settle().await?;
        self.joined.forks = forks(self.journal, &mut self.tx).await?;
        self.joined.gaps = gaps(self.journal, &mut self.tx).await?;
        self.journal.said(self.tx.commit().await)?;
        Ok(self.joined)
    }

    /// What the records taken mean for the heads and for this file's own id.
    async fn settle(&mut self) -> Result<(), StoreError> {
        for (device, (seq, hash)) in &self.heads {
            let moved = sql::move_head(&mut self.tx, *device, *seq, *hash).await;
            self.journal.said(moved)?;
        }
        if self.joined.gave_up.is_some() {
            let cleared = sql::set_device(&mut self.tx, None, "").await;
            self.journal.said(cleared)?;
        }
        Ok(())
    }

    async fn insert(&mut self, record: &Record) -> Result<bool, NotTaken> {
        let inserted = sql::insert(&mut self.tx, record).await;
        self.journal.said(inserted).map_err(NotTaken::Store)
    }

    /// Another file wrote under our id when its entry goes beyond ours or stands beside one of ours.
    async fn note_elsewhere(&mut self, record: &Record) -> Result<(), NotTaken> {
        let Some((device, last)) = self.own else {
            return Ok(());
        };
        if record.device != device || self.joined.gave_up.is_some() {
            return Ok(());
        }
        let count = sql::count_at(&mut self.tx, device, record.seq).await;
        let count = self.journal.said(count).map_err(NotTaken::Store)?;
        if record.seq > last || count > 1 {
            self.joined.gave_up = Some(device);
        }
        Ok(())
    }

    /// The rows that keep a record out: is one of them this very record, and which are damaged?
    async fn judge_rivals(&mut self, record: &Record) -> Result<(bool, Vec<i64>), NotTaken> {
        let rivals = sql::rivals(&mut self.tx, record).await;
        let rivals = self.journal.said(rivals).map_err(NotTaken::Store)?;
        let mut known = false;
        let mut damaged = Vec::new();
        for row in rivals {
            if row.is(record) {
                known = true;
                continue;
            }
            match sound(&row) {
                None => damaged.push(row.arrival),
                Some(ours) => {
                    return Err(NotTaken::Record(RecordFault::Conflict {
                        id: ours.id,
                        device: ours.device,
                        seq: ours.seq,
                    }));
                }
            }
        }
        Ok((known, damaged))
    }

    async fn mend(&mut self, record: &Record, damaged: &[i64]) -> Result<(), NotTaken> {
        for arrival in damaged {
            let removed = sql::remove(&mut self.tx, *arrival).await;
            self.journal.said(removed).map_err(NotTaken::Store)?;
        }
        self.insert(record).await?;
        self.joined.mended += 1;
        Ok(())
    }
}

/// The record in a row, if its columns, its text and its hash agree.
pub(crate) fn sound(row: &Row) -> Option<Record> {
    let (prev, hash) = hashes(row)?;
    let record = row.proved(prev, hash).ok()?;
    let agrees = sql::device(&row.device) == Some(record.device)
        && sql::entry_id(&row.id) == Some(record.id)
        && row.seq == record.seq.cast_signed();
    agrees.then_some(record)
}

pub(crate) async fn forks(
    journal: &Journal,
    conn: &mut SqliteConnection,
) -> Result<Vec<Fork>, StoreError> {
    let mut found: Vec<Fork> = Vec::new();
    for (device, seq, id) in journal.said(sql::forks(conn).await)? {
        let (Some(device), Some(id)) = (sql::device(&device), sql::entry_id(&id)) else {
            continue;
        };
        match found.last_mut() {
            Some(fork) if fork.device == device => fork.ids.push(id),
            _ => found.push(Fork {
                device,
                seq: seq.unsigned_abs(),
                ids: vec![id],
            }),
        }
    }
    Ok(found)
}

async fn gaps(journal: &Journal, conn: &mut SqliteConnection) -> Result<Vec<Gap>, StoreError> {
    let found = journal.said(sql::gaps(conn).await)?;
    let told = found.into_iter().filter_map(|(device, before)| {
        Some(Gap {
            device: sql::device(&device)?,
            before: before.unsigned_abs(),
        })
    });
    Ok(told.collect())
}
