//! The writing side: well-formed entries from what happened and where it belongs.

use jiff::Timestamp;
use serde_json::Map;

use crate::entry::{Entry, FORMAT, What};
use crate::id::{DeviceId, EntryId, HiveId};

/// Writes the entries of one device, numbering them without gaps.
///
/// It has no clock and makes no ids: both come in with a [`Stamp`].
///
/// ```
/// use hive::{DeviceId, EntryId, Known, pen::{Pen, Stamp, Subject}};
/// use uuid::Uuid;
///
/// let mut pen = Pen::new(DeviceId(Uuid::from_u128(1)), 1, "keeper", "+10:00");
/// let stamp = Stamp::now(EntryId(Uuid::from_u128(2)), "2026-09-12T02:00:00Z".parse()?);
/// let note = Known::Note { text: "wattle in flower".into() };
/// let entry = pen.write(stamp, Subject::YARD, note.into());
/// assert_eq!((entry.seq, pen.next_seq()), (1, 2));
/// # Ok::<(), jiff::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pen {
    device: DeviceId,
    next_seq: u64,
    by: String,
    zone: String,
}

/// Name and time of one entry, from outside.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stamp {
    /// A fresh UUID, version 7.
    pub id: EntryId,
    /// When it happened.
    pub at: Timestamp,
    /// When it is written.
    pub recorded: Timestamp,
}

/// What an entry is about.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Subject {
    /// The hive, unless it is a matter of the yard.
    pub hive: Option<HiveId>,
    /// The visit, if in one.
    pub visit: Option<EntryId>,
}

impl Stamp {
    /// Written as it happens.
    pub const fn now(id: EntryId, now: Timestamp) -> Self {
        Self {
            id,
            at: now,
            recorded: now,
        }
    }
}

impl Subject {
    /// A matter of the yard.
    pub const YARD: Self = Self {
        hive: None,
        visit: None,
    };

    /// A hive, outside any visit.
    pub const fn hive(hive: HiveId) -> Self {
        Self {
            hive: Some(hive),
            visit: None,
        }
    }

    /// A hive in a visit.
    pub const fn visit(hive: HiveId, visit: EntryId) -> Self {
        Self {
            hive: Some(hive),
            visit: Some(visit),
        }
    }
}

impl Pen {
    /// A pen for this device, whose next entry bears this number: 1 more than its last, see
    /// the fold.
    pub fn new(
        device: DeviceId,
        next_seq: u64,
        by: impl Into<String>,
        zone: impl Into<String>,
    ) -> Self {
        Self {
            device,
            next_seq,
            by: by.into(),
            zone: zone.into(),
        }
    }

    /// The number that the next entry will bear.
    pub const fn next_seq(&self) -> u64 {
        self.next_seq
    }

    /// Writes one entry. An opening of a visit belongs to the visit that it opens.
    pub fn write(&mut self, stamp: Stamp, about: Subject, what: What) -> Entry {
        let seq = self.next_seq;
        self.next_seq += 1;
        let opens = what.kind() == "visit_opened";
        Entry {
            v: FORMAT,
            id: stamp.id,
            device: self.device,
            seq,
            at: stamp.at,
            recorded: stamp.recorded,
            zone: self.zone.clone(),
            by: self.by.clone(),
            hive: about.hive,
            visit: if opens { Some(stamp.id) } else { about.visit },
            said: None,
            what,
            extra: Map::new(),
        }
    }

    /// Writes one entry with the words it came from.
    pub fn write_said(&mut self, stamp: Stamp, about: Subject, said: &str, what: What) -> Entry {
        Entry {
            said: Some(said.to_owned()),
            ..self.write(stamp, about, what)
        }
    }
}
