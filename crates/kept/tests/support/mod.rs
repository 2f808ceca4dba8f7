//! Journals and chains to exchange.
#![allow(dead_code, reason = "each test file uses its part")]

use std::path::Path;

use exchange::{Hash, Record};
use hive::{DeviceId, Entry, EntryId, Known};
use jiff::Timestamp;
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{AssertSqlSafe, Connection as _, SqliteConnection};
use store::{Journal, OpenOptions};
use uuid::Uuid;

pub(crate) fn device(n: u64) -> DeviceId {
    DeviceId(Uuid::from_u64_pair(0xd0, n))
}

pub(crate) fn entry(of: u64, seq: u64, text: &str) -> Entry {
    let at = Timestamp::from_second(1_760_000_000 + seq.cast_signed()).expect("in range");
    Entry {
        v: hive::entry::FORMAT,
        id: EntryId(Uuid::from_u64_pair(of, seq)),
        device: device(of),
        seq,
        at,
        recorded: at,
        zone: "UTC".into(),
        by: "keeper".into(),
        hive: None,
        visit: None,
        said: None,
        what: Known::Note { text: text.into() }.into(),
        extra: serde_json::Map::new(),
    }
}

/// A device's chain from its first entry.
pub(crate) fn chain(of: u64, upto: u64) -> Vec<Record> {
    chain_of(of, upto, "note")
}

/// The same with another text; the entry's number follows it.
pub(crate) fn chain_of(of: u64, upto: u64, text: &str) -> Vec<Record> {
    let mut prev = Hash::ORIGIN;
    (1..=upto)
        .map(|seq| {
            let entry = entry(of, seq, &format!("{text} {seq}"));
            let (record, _) = Record::written(&entry, prev).expect("sound");
            prev = record.hash;
            record
        })
        .collect()
}

/// The journal file in a folder, made when it is not there.
pub(crate) async fn open(folder: &Path) -> Journal {
    let path = folder.join(store::FILE_NAME);
    let options = OpenOptions::write(|| device(0xde));
    Journal::open(path, options).await.expect("it opens")
}

pub(crate) async fn in_memory() -> Journal {
    let options = OpenOptions::write(|| device(0xde));
    Journal::in_memory(options)
        .await
        .expect("memory can be had")
}

async fn by_hand(folder: &Path) -> SqliteConnection {
    let path = folder.join(store::FILE_NAME);
    let connect = SqliteConnectOptions::new().filename(path);
    let opened = SqliteConnection::connect_with(&connect).await;
    opened.expect("the file opens")
}

/// Edits a journal file as a person with a SQLite shell would.
pub(crate) async fn edit(folder: &Path, sql: &str) {
    let mut conn = by_hand(folder).await;
    let sql = format!("DROP TRIGGER IF EXISTS entry_is_never_changed; {sql}");
    let edited = sqlx::raw_sql(AssertSqlSafe(sql)).execute(&mut conn).await;
    edited.expect("the edit is made");
    conn.close().await.expect("the file closes");
}

/// Keeps others from writing until it is dropped.
pub(crate) async fn hold(folder: &Path) -> SqliteConnection {
    let mut conn = by_hand(folder).await;
    let begun = sqlx::raw_sql("BEGIN IMMEDIATE").execute(&mut conn).await;
    begun.expect("the right to write is free");
    conn
}
