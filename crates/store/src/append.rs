//! Writing this device's own entries.

use exchange::{Hash, Record};
use hive::{DeviceId, Entry};
use sqlx::SqliteConnection;

use crate::error::StoreError;
use crate::journal::Journal;
use crate::pending::Pending;
use crate::read::{self, Cursor};
use crate::sql;

/// The journal as it stands while a batch is made for it; nobody else writes until that is done.
#[derive(Debug, Clone, Copy)]
pub struct Standing<'a> {
    /// All entries, by device and number.
    pub entries: &'a [Entry],
    /// The device that will write.
    pub device: DeviceId,
    /// The number that its next entry will bear.
    pub next_seq: u64,
}

impl Journal {
    /// Records a batch, all of it or nothing. When this returns, the entries are on the disk and
    /// outlast a kill and a power cut. Gives them as written, with device and number.
    ///
    /// # Errors
    /// [`StoreError::IdTaken`], [`StoreError::Unkeepable`], and what the file may say
    /// ([`StoreError::DiskFull`], [`StoreError::ReadOnly`], [`StoreError::Busy`] ..); nothing is recorded then.
    pub async fn append(&self, batch: Vec<Pending>) -> Result<Vec<Entry>, StoreError> {
        let mut tx = self.writing().await?;
        let (device, head) = self.own_head(&mut tx).await?;
        let written = self.write(&mut tx, device, head, batch).await?;
        self.said(tx.commit().await)?;
        Ok(written)
    }

    /// Records a batch unless other entries arrived since `as_of`, the cursor that came with the
    /// entries on which the batch was decided. Cheap however long the journal; otherwise as
    /// [`Journal::append`].
    ///
    /// # Errors
    /// [`StoreError::Overtaken`]: read what is new, decide again and call again.
    pub async fn append_as_of(
        &self,
        as_of: Cursor,
        batch: Vec<Pending>,
    ) -> Result<Vec<Entry>, StoreError> {
        let mut tx = self.writing().await?;
        let last = self.said(sql::last_arrival(&mut tx).await)?;
        if last > as_of.0 {
            return Err(StoreError::Overtaken {
                path: self.place.path.clone(),
            });
        }
        let (device, head) = self.own_head(&mut tx).await?;
        let written = self.write(&mut tx, device, head, batch).await?;
        self.said(tx.commit().await)?;
        Ok(written)
    }

    /// Records the batch that `make` gives for the journal as it stands. No other program can write
    /// between the look and the record, so a check made in `make` holds. Otherwise as
    /// [`Journal::append`]. It reads the whole journal: a few milliseconds per thousand entries.
    ///
    /// # Errors
    /// [`StoreError::Refused`] with the error of `make`; otherwise as [`Journal::append`].
    pub async fn append_with<F, E>(&self, make: F) -> Result<Vec<Entry>, StoreError>
    where
        F: FnOnce(Standing<'_>) -> Result<Vec<Pending>, E> + Send,
        E: Into<Box<dyn std::error::Error + Send + Sync>>,
    {
        let mut tx = self.writing().await?;
        let entries = read::entries(self, &mut tx).await?;
        let (device, head) = self.own_head(&mut tx).await?;
        let standing = Standing {
            entries: &entries,
            device,
            next_seq: head.0 + 1,
        };
        let batch = make(standing).map_err(|why| StoreError::Refused(why.into()))?;
        let written = self.write(&mut tx, device, head, batch).await?;
        self.said(tx.commit().await)?;
        Ok(written)
    }

    async fn own_head(
        &self,
        conn: &mut SqliteConnection,
    ) -> Result<(DeviceId, (u64, Hash)), StoreError> {
        let device = self.device_in(conn).await?;
        let head = self.said(sql::head_of(conn, device).await)?;
        Ok((device, head.unwrap_or((0, Hash::ORIGIN))))
    }

    async fn write(
        &self,
        conn: &mut SqliteConnection,
        device: DeviceId,
        (mut seq, mut hash): (u64, Hash),
        batch: Vec<Pending>,
    ) -> Result<Vec<Entry>, StoreError> {
        let mut written = Vec::with_capacity(batch.len());
        for pending in batch {
            seq += 1;
            let id = pending.id;
            let (record, entry) = Record::written(&pending.placed(device, seq), hash)
                .map_err(|why| StoreError::Unkeepable { id, why })?;
            if !self.said(sql::insert(conn, &record).await)? {
                return Err(StoreError::IdTaken { id });
            }
            hash = record.hash;
            written.push(entry);
        }
        if !written.is_empty() {
            self.said(sql::move_head(conn, device, seq, hash).await)?;
        }
        Ok(written)
    }
}
