//! What can be wrong with one record or one line of an export.

use hive::{EntryId, HiveError};
use thiserror::Error;

use crate::lines::FORMAT_VERSION;
use crate::record::MAX_ENTRY;

/// One variant a cause, with the value and the bound.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum RecordFault {
    /// Not an entry that this version can read.
    #[error("{0}")]
    Unreadable(#[source] Box<HiveError>),
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
    /// A value that is lost when it is written down, such as a number that is not finite.
    #[error("it would not read back as it was given (is a number in it not finite?)")]
    NotFaithful,
    /// Not JSON of a record's form.
    #[error("{why}")]
    Form {
        /// The reader's words, with the column.
        why: String,
    },
    /// The first line of an export is not our header.
    #[error("not an exported journal: the first line must be its header ({why})")]
    Header {
        /// What is wrong with it.
        why: String,
    },
    /// A newer export format.
    #[error("exported by a newer version (format {found}; this one knows up to {FORMAT_VERSION})")]
    NewerFormat {
        /// Its version.
        found: u64,
    },
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
