//! What goes over the wire, as JSON. The same shapes stand in the server's OpenAPI description.

use serde::{Deserialize, Serialize};

use crate::hash::Hash;
use crate::record::Record;

/// Most records in one message, either way.
pub const MOST_RECORDS: usize = 500;

/// Bytes of entries after which a message is closed, so that a slow link gets on in steps.
/// One record alone may be larger.
pub const ENOUGH_BYTES: usize = 256 * 1024;

/// What a journal says of itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct About {
    /// How many entries it holds.
    pub entries: u64,
}

/// Records given to the far side; each device's in rising order of their numbers.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Push {
    /// The records, at most [`MOST_RECORDS`].
    pub records: Vec<Record>,
}

/// What the far side says to a [`Push`]: all of it is durable there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Pushed {
    /// How many were new to it.
    pub new: u64,
    /// How many it held already.
    pub known: u64,
}

/// A place in the order in which records reached a journal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Position {
    /// The place; rising, not necessarily by ones.
    pub place: u64,
    /// The hash of the record there, which tells this journal from any other and from itself
    /// before it was restored.
    pub hash: Hash,
}

/// Asks for records that arrived after a position.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Pull {
    /// After this one; `None` is from the beginning.
    pub since: Option<Position>,
    /// At most so many; never more than [`MOST_RECORDS`].
    pub limit: usize,
}

/// The answer to a [`Pull`].
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "PulledShape", into = "PulledShape")]
pub enum Pulled {
    /// Records in the order in which they arrived.
    Page {
        /// The records.
        records: Vec<Record>,
        /// Where to ask on from; as asked when there are no records.
        next: Option<Position>,
        /// Whether there are more now.
        more: bool,
    },
    /// There is no such record at that place: this is another journal, or it was restored. Ask from
    /// the beginning.
    Elsewhere,
}

/// A [`Pulled`] on the wire. Not a tagged enum: reading one of those would rewrite the records' text.
#[derive(Serialize, Deserialize)]
struct PulledShape {
    answer: Answered,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    records: Option<Vec<Record>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    next: Option<Position>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    more: Option<bool>,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum Answered {
    Page,
    Elsewhere,
}

impl From<Pulled> for PulledShape {
    fn from(pulled: Pulled) -> Self {
        match pulled {
            Pulled::Page {
                records,
                next,
                more,
            } => Self {
                answer: Answered::Page,
                records: Some(records),
                next,
                more: Some(more),
            },
            Pulled::Elsewhere => Self {
                answer: Answered::Elsewhere,
                records: None,
                next: None,
                more: None,
            },
        }
    }
}

impl TryFrom<PulledShape> for Pulled {
    type Error = &'static str;

    fn try_from(shape: PulledShape) -> Result<Self, Self::Error> {
        match (shape.answer, shape.records, shape.more) {
            (Answered::Elsewhere, _, _) => Ok(Self::Elsewhere),
            (Answered::Page, Some(records), Some(more)) => Ok(Self::Page {
                records,
                next: shape.next,
                more,
            }),
            (Answered::Page, _, _) => Err("a page needs records and more"),
        }
    }
}

/// Why the far side refused, in the shape of RFC 9457 (problem details for HTTP APIs).
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Problem {
    /// One of a few fixed words that a program can act on, e.g. `unpaired`, `conflict`.
    pub code: String,
    /// The same in a few words.
    pub title: String,
    /// The HTTP status.
    pub status: u16,
    /// What was wrong here, with the value and the bound, and what to do.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub detail: Option<String>,
}

/// How many of the first records make up [`ENOUGH_BYTES`], at least one if there is one.
pub fn first_bytes<'a>(records: impl Iterator<Item = &'a Record>) -> usize {
    first_sizes(records.map(|record| record.text.len()))
}

/// The same when only the lengths of the records' texts are known.
pub fn first_sizes(sizes: impl Iterator<Item = usize>) -> usize {
    let mut bytes = 0_usize;
    let fits = sizes
        .take_while(|size| {
            let before = bytes;
            bytes = bytes.saturating_add(*size);
            before < ENOUGH_BYTES
        })
        .count();
    fits.min(MOST_RECORDS)
}
