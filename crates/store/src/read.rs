//! Reading what is recorded.

use exchange::Hash;
use hive::{DeviceId, Entry};
use sqlx::SqliteConnection;

use crate::error::StoreError;
use crate::journal::Journal;
use crate::sql::{self, Row, Rows};

/// A place in one file's order of arrival; it means nothing in another file.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cursor(pub i64);

/// The last entry of one device.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Head {
    /// Which device.
    pub device: DeviceId,
    /// Number of its last entry.
    pub seq: u64,
    /// Hash of that entry, which covers all before it.
    pub hash: Hash,
}

impl Journal {
    /// All entries, by device and number. The fold needs no order.
    ///
    /// # Errors
    /// [`StoreError::DamagedEntry`] for an entry that cannot be read; [`Journal::verify`] finds those
    /// that can be read and were changed.
    pub async fn entries(&self) -> Result<Vec<Entry>, StoreError> {
        let mut tx = self.reading().await?;
        entries(self, &mut tx).await
    }

    /// Entries that arrived after `cursor` (the default is before all), in the order of arrival, and
    /// the cursor to ask with next time.
    pub async fn entries_since(&self, cursor: Cursor) -> Result<(Vec<Entry>, Cursor), StoreError> {
        let mut conn = self.connection().await?;
        let rows = self.said(sql::rows_since(&mut conn, cursor.0).await)?;
        let last = rows.last().map_or(cursor, |row| Cursor(row.arrival));
        let found = rows.iter().map(|row| self.entry(row));
        Ok((found.collect::<Result<_, _>>()?, last))
    }

    /// How many entries there are.
    pub async fn len(&self) -> Result<u64, StoreError> {
        let mut conn = self.connection().await?;
        self.said(sql::count(&mut conn).await)
    }

    /// True when nothing is recorded yet.
    pub async fn is_empty(&self) -> Result<bool, StoreError> {
        Ok(self.len().await? == 0)
    }

    /// The last entry of each device, by device. Two journals with the same heads, no gap and no
    /// fork hold the same entries.
    pub async fn heads(&self) -> Result<Vec<Head>, StoreError> {
        let mut conn = self.connection().await?;
        let heads = self.said(sql::heads(&mut conn).await)?;
        let told = heads.into_iter().filter_map(|(device, seq, hash)| {
            Some(Head {
                device: sql::device(&device)?,
                seq: seq.unsigned_abs(),
                hash: sql::hash(&hash)?,
            })
        });
        Ok(told.collect())
    }

    pub(crate) fn entry(&self, row: &Row) -> Result<Entry, StoreError> {
        let read = row.text().and_then(exchange::record::read);
        read.map_err(|why| StoreError::DamagedEntry {
            path: self.place.path.clone(),
            device: row.device_told(),
            seq: row.seq,
            why: why.to_string(),
        })
    }
}

pub(crate) async fn entries(
    journal: &Journal,
    conn: &mut SqliteConnection,
) -> Result<Vec<Entry>, StoreError> {
    let mut rows = Rows::all();
    let mut found = Vec::new();
    while let Some(row) = journal.said(rows.next(conn).await)? {
        found.push(journal.entry(&row)?);
    }
    Ok(found)
}
