//! What can be wrong with one record or one line of an export.

use hive::{DeviceId, EntryId, HiveError};
use thiserror::Error;

use crate::lines::{FORMAT_VERSION, MAX_LINE};
use crate::record::MAX_ENTRY;

/// What can be wrong with one entry and its place in the chain.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum RecordFault {
    /// Not an entry that this version can read.
    #[error("{0}")]
    Unreadable(#[source] Box<HiveError>),
    /// Not text.
    #[error("the entry is not UTF-8 text")]
    NotText,
    /// Broken over lines, or with blanks around it; it could not be exported as it is.
    #[error("the entry is not one line of JSON")]
    NotOneLine,
    /// Longer than an entry may be.
    #[error("the entry is {bytes} bytes long, the most is {} KiB", MAX_ENTRY / 1024)]
    TooLong {
        /// Its length.
        bytes: usize,
    },
    /// The entry's text is not the one that its hash was made of.
    #[error("the entry {id} was changed after it was recorded: its hash is not that of its text")]
    Changed {
        /// Its id, as it says now.
        id: EntryId,
    },
    /// Number out of range.
    #[error("`seq` must be from 1 to 2^63 - 1, this one is {seq}")]
    Number {
        /// As given.
        seq: u64,
    },
    /// First entries follow nothing, all others something.
    #[error("`prev` of entry {seq} must {}", if *seq == 1 { "be all zeros, it is a first entry" } else { "not be all zeros" })]
    Origin {
        /// The entry's number.
        seq: u64,
    },
    /// Two entries with one id.
    #[error(
        "the entry {id} is recorded already with another content (device {device}, number {seq})"
    )]
    Conflict {
        /// The id.
        id: EntryId,
        /// Who wrote the one that is recorded.
        device: DeviceId,
        /// Its number.
        seq: u64,
    },
    /// A value that is lost when it is written down, such as a number that is not finite.
    #[error("it would not read back as it was given (is a number in it not finite?)")]
    NotFaithful,
}

/// What can be wrong with one line of an export.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum LineFault {
    /// Nothing in the file.
    #[error("the file is empty")]
    Empty,
    /// The first line is not our header.
    #[error("not an exported journal: the first line must be its header ({why})")]
    Header {
        /// What is wrong with it.
        why: String,
    },
    /// A newer format.
    #[error("exported by a newer version (format {found}; this one knows up to {FORMAT_VERSION})")]
    NewerFormat {
        /// Its version.
        found: u64,
    },
    /// Too long to be an entry.
    #[error("longer than {} KiB", MAX_LINE / 1024)]
    TooLong,
    /// Not text.
    #[error("not UTF-8 text, from byte {at} on")]
    NotText {
        /// The first byte that is not, from 1.
        at: usize,
    },
    /// It ends in its middle.
    #[error("the line is cut off in its middle: the file is not whole")]
    CutOff,
    /// Not JSON of a line's form.
    #[error("{why}")]
    Form {
        /// The reader's words, with the column.
        why: String,
    },
    /// A hash that is none.
    #[error("`{field}` is not 64 lower-case hexadecimal digits")]
    NotAHash {
        /// `prev` or `hash`.
        field: &'static str,
    },
    /// The entry on the line is not right.
    #[error(transparent)]
    Record(#[from] RecordFault),
    /// Lines are missing at the end, or too many are there.
    #[error("the file ends after {found} entries, its header says {announced}")]
    Count {
        /// As the header says.
        announced: u64,
        /// As they were.
        found: u64,
    },
}

impl From<HiveError> for RecordFault {
    fn from(why: HiveError) -> Self {
        Self::Unreadable(Box::new(why))
    }
}
