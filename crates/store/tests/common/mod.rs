//! Journals to test with.
#![allow(dead_code, reason = "each test file uses a part of it")]

use std::path::Path;

use hive::{DeviceId, EntryId, Known};
use jiff::{SignedDuration, Timestamp};
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{AssertSqlSafe, Connection as _, SqliteConnection};
use store::{Journal, OpenOptions, Pending, StoreError};
use uuid::Uuid;

pub(crate) fn block_on<T>(work: impl Future<Output = T>) -> T {
    tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .expect("a runtime can be made")
        .block_on(work)
}

pub(crate) fn device(n: u128) -> DeviceId {
    DeviceId(Uuid::from_u128(0xD00 + n))
}

pub(crate) fn id(n: u128) -> EntryId {
    EntryId(Uuid::from_u128(n))
}

pub(crate) fn note(n: u128) -> Pending {
    said(
        n,
        Known::Note {
            text: format!("note {n}"),
        },
    )
}

pub(crate) fn said(n: u128, known: Known) -> Pending {
    let start: Timestamp = "2026-09-12T00:00:00Z".parse().expect("a timestamp");
    let at = start + SignedDuration::from_mins(i64::try_from(n % 100_000).expect("small"));
    Pending {
        id: id(n),
        at,
        recorded: at,
        zone: "+10:00".into(),
        by: "keeper".into(),
        hive: None,
        visit: None,
        said: None,
        what: known.into(),
    }
}

/// Opens a journal whose first device id is `device(n)`, its next `device(n + 1)` and so on.
pub(crate) async fn open(path: &Path, n: u128) -> Result<Journal, StoreError> {
    Journal::open(path, OpenOptions::write(devices(n))).await
}

pub(crate) async fn in_memory(n: u128) -> Journal {
    Journal::in_memory(OpenOptions::write(devices(n)))
        .await
        .expect("memory can be had")
}

fn devices(n: u128) -> impl Fn() -> DeviceId + Send + Sync {
    let next = std::sync::atomic::AtomicU64::new(u64::try_from(n).expect("small"));
    move || {
        device(
            next.fetch_add(1, std::sync::atomic::Ordering::Relaxed)
                .into(),
        )
    }
}

/// A journal in memory that holds notes `from..from + count`.
pub(crate) async fn with_notes(device: u128, from: u128, count: u128) -> Journal {
    let journal = in_memory(device).await;
    let batch = (from..from + count).map(note).collect();
    journal.append(batch).await.expect("notes are recorded");
    journal
}

pub(crate) async fn exported(journal: &Journal) -> String {
    let mut out = Vec::new();
    journal
        .export(&mut out, |_| ())
        .await
        .expect("a sound journal is exported");
    String::from_utf8(out).expect("an export is text")
}

/// Edits a journal file by hand, as a person with a SQLite shell would.
pub(crate) async fn edit(path: &Path, sql: &str) {
    let connect = SqliteConnectOptions::new().filename(path);
    let mut conn = SqliteConnection::connect_with(&connect)
        .await
        .expect("the file opens");
    sqlx::raw_sql(AssertSqlSafe(format!(
        "DROP TRIGGER IF EXISTS entry_is_never_changed; {sql}"
    )))
    .execute(&mut conn)
    .await
    .expect("the edit is made");
    conn.close().await.expect("the file closes");
}
