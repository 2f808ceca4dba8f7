//! The journal's entries: what is written, never edited.
//!
//! An [`Entry`] is the envelope (who, which device, when, which hive, which visit, which words) and
//! [`What`] the thing that happened. Kinds that a newer program writes are kept whole as
//! [`What::Foreign`] and passed on unchanged, so that an old phone loses nothing of a new desk's.

use jiff::Timestamp;
use serde::Serialize;
use serde_json::{Map, Value};

use crate::id::{DeviceId, EntryId, HiveId};
pub use crate::known::Known;
pub use crate::vocabulary::{
    Climate, ClosingWord, Decision, End, Face, Hanging, Harvest, Match, Piece, Place, Reserve,
    Weather,
};

/// The version of the entry format that this program writes.
pub const FORMAT: u32 = 1;

/// One entry of the append-only journal.
///
/// Made with [`crate::Pen`], read with [`Entry::parse`].
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Entry {
    /// Format version of this entry, see [`FORMAT`].
    pub v: u32,
    /// Its name, given once.
    pub id: EntryId,
    /// The device that wrote it.
    pub device: DeviceId,
    /// Running number on that device, from 1, without gaps.
    pub seq: u64,
    /// When it happened in the hive.
    pub at: Timestamp,
    /// When it was written; the same as `at` unless it was entered later.
    pub recorded: Timestamp,
    /// Time zone in which the keeper's day is counted, an IANA name or an offset such as `+10:00`.
    pub zone: String,
    /// Who says so.
    pub by: String,
    /// The hive it is about; `None` for matters of the yard.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hive: Option<HiveId>,
    /// The visit it belongs to: the id of its [`Known::VisitOpened`] entry.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub visit: Option<EntryId>,
    /// The words it came from, when it was spoken.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub said: Option<String>,
    /// What happened.
    pub what: What,
    /// Fields beside these that a newer program wrote; empty in an entry of this version.
    #[serde(flatten)]
    pub extra: Map<String, Value>,
}

/// What happened. Serialised with its name in `kind`.
///
/// Bars named here must have been added before (in the fold's order); an entry about a bar that
/// the hive does not have is kept, does nothing, and is listed as a fault of the fold.
#[derive(Debug, Clone, PartialEq)]
pub enum What {
    /// A kind known to this program.
    Known(Box<Known>),
    /// A kind, or a version of one, that this program does not know; kept as it came.
    Foreign(Map<String, Value>),
}

impl From<Known> for What {
    fn from(known: Known) -> Self {
        Self::Known(Box::new(known))
    }
}

impl What {
    /// The known kind, if it is one.
    pub fn known(&self) -> Option<&Known> {
        match self {
            Self::Known(known) => Some(known),
            Self::Foreign(_) => None,
        }
    }

    /// The kind's name as it is written, for known and foreign kinds alike.
    pub fn kind(&self) -> &str {
        match self {
            Self::Known(known) => known.kind(),
            Self::Foreign(map) => map.get("kind").and_then(Value::as_str).unwrap_or(""),
        }
    }
}

impl Serialize for What {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Known(known) => known.serialize(serializer),
            Self::Foreign(map) => map.serialize(serializer),
        }
    }
}
