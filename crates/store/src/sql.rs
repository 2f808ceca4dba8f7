//! Every statement on the journal's tables, `schema.sql` aside.

use std::collections::VecDeque;

use exchange::{Hash, Record, RecordFault};
use hive::{DeviceId, EntryId};
use sqlx::sqlite::SqliteRow;
use sqlx::{Error, Row as _, SqliteConnection};
use uuid::Uuid;

/// A row as it lies in the table, before anything in it is believed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Row {
    pub(crate) arrival: i64,
    pub(crate) device: Vec<u8>,
    pub(crate) seq: i64,
    pub(crate) id: Vec<u8>,
    pub(crate) prev: Vec<u8>,
    pub(crate) hash: Vec<u8>,
    pub(crate) text: Vec<u8>,
}

impl Row {
    /// True when the row is this very record.
    pub(crate) fn is(&self, record: &Record) -> bool {
        self.device == record.device.0.as_bytes()
            && self.seq == record.seq.cast_signed()
            && self.id == record.id.0.as_bytes()
            && self.prev == record.prev.0
            && self.hash == record.hash.0
            && self.text == record.text.as_bytes()
    }

    /// The entry's text.
    pub(crate) fn text(&self) -> Result<&str, RecordFault> {
        std::str::from_utf8(&self.text).map_err(|_| RecordFault::NotText)
    }

    /// The record that its text is, proved by these hashes; the row's other columns are not asked.
    pub(crate) fn proved(&self, prev: Hash, hash: Hash) -> Result<Record, RecordFault> {
        let (record, _) = Record::proved(prev, hash, self.text()?.to_owned())?;
        Ok(record)
    }

    /// The device for messages; what is no id is shown as it lies.
    pub(crate) fn device_told(&self) -> String {
        device(&self.device).map_or_else(|| format!("{:02x?}", self.device), |id| id.to_string())
    }
}

pub(crate) fn device(bytes: &[u8]) -> Option<DeviceId> {
    Uuid::from_slice(bytes).ok().map(DeviceId)
}

pub(crate) fn entry_id(bytes: &[u8]) -> Option<EntryId> {
    Uuid::from_slice(bytes).ok().map(EntryId)
}

pub(crate) fn hash(bytes: &[u8]) -> Option<Hash> {
    bytes.try_into().ok().map(Hash)
}

fn to_row(row: &SqliteRow) -> Result<Row, Error> {
    Ok(Row {
        arrival: row.try_get(0)?,
        device: row.try_get(1)?,
        seq: row.try_get(2)?,
        id: row.try_get(3)?,
        prev: row.try_get(4)?,
        hash: row.try_get(5)?,
        text: row.try_get(6)?,
    })
}

/// All rows by device, number and hash, some at a time. A page is fetched whole: handing rows over
/// one by one would wake two threads for each.
pub(crate) struct Rows {
    page: VecDeque<Row>,
    after: (Vec<u8>, i64, Vec<u8>),
}

/// Rows in a page. An entry has about 500 bytes and never more than 1 MiB.
const PAGE: i64 = 200;

impl Rows {
    pub(crate) fn all() -> Self {
        Self {
            page: VecDeque::new(),
            // before every row: no device id is empty
            after: (Vec::new(), 0, Vec::new()),
        }
    }

    /// The next row. In one transaction, so that the pages belong together.
    pub(crate) async fn next(&mut self, conn: &mut SqliteConnection) -> Result<Option<Row>, Error> {
        if self.page.is_empty() {
            self.fetch(conn).await?;
        }
        Ok(self.page.pop_front())
    }

    async fn fetch(&mut self, conn: &mut SqliteConnection) -> Result<(), Error> {
        let rows = sqlx::query(
            "SELECT arrival, device, seq, id, prev, hash, text FROM entry
             WHERE (device, seq, hash) > (?1, ?2, ?3) ORDER BY device, seq, hash LIMIT ?4",
        )
        .bind(&self.after.0[..])
        .bind(self.after.1)
        .bind(&self.after.2[..])
        .bind(PAGE)
        .fetch_all(conn)
        .await?;
        self.page = rows.iter().map(to_row).collect::<Result<_, _>>()?;
        if let Some(last) = self.page.back() {
            self.after = (last.device.clone(), last.seq, last.hash.clone());
        }
        Ok(())
    }
}

/// Rows that arrived after this one, in the order of arrival.
pub(crate) async fn rows_since(
    conn: &mut SqliteConnection,
    arrival: i64,
) -> Result<Vec<Row>, Error> {
    sqlx::query(
        "SELECT arrival, device, seq, id, prev, hash, text FROM entry WHERE arrival > ?1 ORDER BY arrival",
    )
    .bind(arrival)
    .fetch_all(conn)
    .await?
    .iter()
    .map(to_row)
    .collect()
}

/// Places and text lengths in bytes of the rows that arrived after this one, at most so many.
pub(crate) async fn sizes_since(
    conn: &mut SqliteConnection,
    arrival: i64,
    most: i64,
) -> Result<Vec<(i64, i64)>, Error> {
    sqlx::query(
        "SELECT arrival, octet_length(text) FROM entry WHERE arrival > ?1 ORDER BY arrival LIMIT ?2",
    )
    .bind(arrival)
    .bind(most)
    .fetch_all(conn)
    .await?
    .iter()
    .map(|row| Ok((row.try_get(0)?, row.try_get(1)?)))
    .collect()
}

/// Rows that arrived after one place and up to another, in the order of arrival.
pub(crate) async fn rows_between(
    conn: &mut SqliteConnection,
    after: i64,
    upto: i64,
) -> Result<Vec<Row>, Error> {
    sqlx::query(
        "SELECT arrival, device, seq, id, prev, hash, text FROM entry
         WHERE arrival > ?1 AND arrival <= ?2 ORDER BY arrival",
    )
    .bind(after)
    .bind(upto)
    .fetch_all(conn)
    .await?
    .iter()
    .map(to_row)
    .collect()
}

/// The hash stated for the row that arrived at this place.
pub(crate) async fn hash_at(
    conn: &mut SqliteConnection,
    arrival: i64,
) -> Result<Option<Vec<u8>>, Error> {
    sqlx::query_scalar("SELECT hash FROM entry WHERE arrival = ?1")
        .bind(arrival)
        .fetch_optional(conn)
        .await
}

/// Number of entries.
pub(crate) async fn count(conn: &mut SqliteConnection) -> Result<u64, Error> {
    let count: i64 = sqlx::query_scalar("SELECT count(*) FROM entry")
        .fetch_one(conn)
        .await?;
    Ok(count.unsigned_abs())
}

/// The arrival of the newest entry, 0 when there is none. A look-up, however long the journal.
pub(crate) async fn last_arrival(conn: &mut SqliteConnection) -> Result<i64, Error> {
    sqlx::query_scalar("SELECT coalesce(max(arrival), 0) FROM entry")
        .fetch_one(conn)
        .await
}

/// Adds one row. False when there is one with the same id or place and hash.
pub(crate) async fn insert(conn: &mut SqliteConnection, record: &Record) -> Result<bool, Error> {
    let done = sqlx::query(
        "INSERT INTO entry (device, seq, id, prev, hash, text) VALUES (?1, ?2, ?3, ?4, ?5, ?6) ON CONFLICT DO NOTHING",
    )
    .bind(&record.device.0.as_bytes()[..])
    .bind(record.seq.cast_signed())
    .bind(&record.id.0.as_bytes()[..])
    .bind(&record.prev.0[..])
    .bind(&record.hash.0[..])
    .bind(record.text.as_str())
    .execute(conn)
    .await?;
    Ok(done.rows_affected() == 1)
}

/// The rows that keep this record out.
pub(crate) async fn rivals(
    conn: &mut SqliteConnection,
    record: &Record,
) -> Result<Vec<Row>, Error> {
    sqlx::query(
        "SELECT arrival, device, seq, id, prev, hash, text FROM entry WHERE id = ?1 OR (device = ?2 AND seq = ?3 AND hash = ?4)",
    )
    .bind(&record.id.0.as_bytes()[..])
    .bind(&record.device.0.as_bytes()[..])
    .bind(record.seq.cast_signed())
    .bind(&record.hash.0[..])
    .fetch_all(conn)
    .await?
    .iter()
    .map(to_row)
    .collect()
}

/// Takes a damaged row away, to put its sound copy in its place.
pub(crate) async fn remove(conn: &mut SqliteConnection, arrival: i64) -> Result<(), Error> {
    sqlx::query("DELETE FROM entry WHERE arrival = ?1")
        .bind(arrival)
        .execute(conn)
        .await?;
    Ok(())
}

/// How many entries a device has under one number: more than 1 is a fork.
pub(crate) async fn count_at(
    conn: &mut SqliteConnection,
    device: DeviceId,
    seq: u64,
) -> Result<i64, Error> {
    sqlx::query("SELECT count(*) FROM entry WHERE device = ?1 AND seq = ?2")
        .bind(&device.0.as_bytes()[..])
        .bind(seq.cast_signed())
        .fetch_one(conn)
        .await?
        .try_get(0)
}

/// Last number and hash of each device, as kept apart from the entries.
pub(crate) async fn heads(
    conn: &mut SqliteConnection,
) -> Result<Vec<(Vec<u8>, i64, Vec<u8>)>, Error> {
    sqlx::query("SELECT device, seq, hash FROM head ORDER BY device")
        .fetch_all(conn)
        .await?
        .iter()
        .map(|row| Ok((row.try_get(0)?, row.try_get(1)?, row.try_get(2)?)))
        .collect()
}

/// The last number and hash of one device, by its head or its entries, whichever is further.
pub(crate) async fn head_of(
    conn: &mut SqliteConnection,
    device: DeviceId,
) -> Result<Option<(u64, Hash)>, Error> {
    let row = sqlx::query(
        "SELECT seq, hash FROM entry WHERE device = ?1
         UNION SELECT seq, hash FROM head WHERE device = ?1
         ORDER BY seq DESC, hash LIMIT 1",
    )
    .bind(&device.0.as_bytes()[..])
    .fetch_optional(conn)
    .await?;
    row.map(|row| {
        let bytes: Vec<u8> = row.try_get(1)?;
        let hash = hash(&bytes).ok_or_else(|| Error::Decode("a hash is not 32 bytes".into()))?;
        Ok((row.try_get::<i64, _>(0)?.unsigned_abs(), hash))
    })
    .transpose()
}

/// Moves a device's head on; never back. Of two branches with one length the lesser hash stays, so
/// that merges in any order agree.
pub(crate) async fn move_head(
    conn: &mut SqliteConnection,
    device: DeviceId,
    seq: u64,
    hash: Hash,
) -> Result<(), Error> {
    sqlx::query(
        "INSERT INTO head (device, seq, hash) VALUES (?1, ?2, ?3)
         ON CONFLICT (device) DO UPDATE SET seq = excluded.seq, hash = excluded.hash
         WHERE excluded.seq > seq OR (excluded.seq = seq AND excluded.hash < hash)",
    )
    .bind(&device.0.as_bytes()[..])
    .bind(seq.cast_signed())
    .bind(&hash.0[..])
    .execute(conn)
    .await?;
    Ok(())
}

/// The first number of each device from which on it was written in two places, with the ids there.
pub(crate) async fn forks(
    conn: &mut SqliteConnection,
) -> Result<Vec<(Vec<u8>, i64, Vec<u8>)>, Error> {
    sqlx::query(
        "WITH twice AS (SELECT device, seq FROM entry GROUP BY device, seq HAVING count(*) > 1),
              first AS (SELECT device, min(seq) AS seq FROM twice GROUP BY device)
         SELECT e.device, e.seq, e.id FROM entry e JOIN first f ON e.device = f.device AND e.seq = f.seq
         ORDER BY e.device, e.hash",
    )
    .fetch_all(conn)
    .await?
    .iter()
    .map(|row| Ok((row.try_get(0)?, row.try_get(1)?, row.try_get(2)?)))
    .collect()
}

/// The first entry of each device whose forerunner is not in this file.
pub(crate) async fn gaps(conn: &mut SqliteConnection) -> Result<Vec<(Vec<u8>, i64)>, Error> {
    sqlx::query(
        "SELECT e.device, min(e.seq) FROM entry e WHERE e.seq > 1 AND NOT EXISTS
             (SELECT 1 FROM entry p WHERE p.device = e.device AND p.seq = e.seq - 1 AND p.hash = e.prev)
         GROUP BY e.device ORDER BY e.device",
    )
    .fetch_all(conn)
    .await?
    .iter()
    .map(|row| Ok((row.try_get(0)?, row.try_get(1)?)))
    .collect()
}

/// Who this file is, where it got that name, and what its keeper calls it.
pub(crate) struct Here {
    pub(crate) device: Option<DeviceId>,
    pub(crate) home: String,
    pub(crate) name: Option<String>,
}

pub(crate) async fn here(conn: &mut SqliteConnection) -> Result<Here, Error> {
    let row = sqlx::query("SELECT device, home, name FROM here")
        .fetch_one(conn)
        .await?;
    let bytes: Option<Vec<u8>> = row.try_get(0)?;
    Ok(Here {
        device: bytes.as_deref().and_then(device),
        home: row.try_get(1)?,
        name: row.try_get(2)?,
    })
}

pub(crate) async fn set_device(
    conn: &mut SqliteConnection,
    device: Option<DeviceId>,
    home: &str,
) -> Result<(), Error> {
    sqlx::query("UPDATE here SET device = ?1, home = ?2")
        .bind(device.map(|device| device.0.as_bytes().to_vec()))
        .bind(home)
        .execute(conn)
        .await?;
    Ok(())
}

pub(crate) async fn set_name(conn: &mut SqliteConnection, name: &str) -> Result<(), Error> {
    sqlx::query("UPDATE here SET name = ?1")
        .bind(name)
        .execute(conn)
        .await?;
    Ok(())
}

/// What SQLite itself says of the file's structure; empty when it is sound.
pub(crate) async fn structure(conn: &mut SqliteConnection) -> Result<Vec<String>, Error> {
    let said: Vec<String> = sqlx::query_scalar("PRAGMA quick_check(20)")
        .fetch_all(conn)
        .await?;
    Ok(said.into_iter().filter(|line| line != "ok").collect())
}
