//! An entry before it has its place in the journal.

use hive::{DeviceId, Entry, EntryId, HiveId, What, entry::FORMAT};
use jiff::Timestamp;
use serde_json::Map;

/// What the caller says; the journal adds the device and the running number.
#[derive(Debug, Clone, PartialEq)]
pub struct Pending {
    /// A fresh id, UUID version 7.
    pub id: EntryId,
    /// When it happened in the hive.
    pub at: Timestamp,
    /// When it is written.
    pub recorded: Timestamp,
    /// Time zone in which the keeper's day is counted.
    pub zone: String,
    /// Who says so.
    pub by: String,
    /// The hive it is about, if one.
    pub hive: Option<HiveId>,
    /// The visit it belongs to, if one.
    pub visit: Option<EntryId>,
    /// The words it came from, if spoken.
    pub said: Option<String>,
    /// What happened.
    pub what: What,
}

impl From<Entry> for Pending {
    /// Forgets device and number, which the journal gives anew.
    fn from(entry: Entry) -> Self {
        Self {
            id: entry.id,
            at: entry.at,
            recorded: entry.recorded,
            zone: entry.zone,
            by: entry.by,
            hive: entry.hive,
            visit: entry.visit,
            said: entry.said,
            what: entry.what,
        }
    }
}

impl Pending {
    pub(crate) fn placed(self, device: DeviceId, seq: u64) -> Entry {
        Entry {
            v: FORMAT,
            id: self.id,
            device,
            seq,
            at: self.at,
            recorded: self.recorded,
            zone: self.zone,
            by: self.by,
            hive: self.hive,
            visit: self.visit,
            said: self.said,
            what: self.what,
            extra: Map::new(),
        }
    }
}
