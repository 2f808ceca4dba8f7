//! What can go wrong with the journal, each with what, where and what to do.

use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

use hive::{DeviceId, EntryId, HiveError};
use thiserror::Error;

use crate::lines::{FORMAT_VERSION, MAX_ENTRY, MAX_LINE};

/// One variant a cause; [`StoreError::help`] says what to do.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum StoreError {
    /// Opened to be read, and nothing is there.
    #[error("there is no journal at {}", path.display())]
    NoJournal {
        /// Where it was looked for.
        path: PathBuf,
    },
    /// Folder or file cannot be written by this user.
    #[error("the journal at {} cannot be written: its folder or file is read-only", path.display())]
    ReadOnly {
        /// The journal.
        path: PathBuf,
    },
    /// No room. Nothing of what was being written is kept.
    #[error("no room left to write {}; nothing of this was recorded", path.display())]
    DiskFull {
        /// The file.
        path: PathBuf,
    },
    /// The system would not read or write the file.
    #[error("the system could not read or write {}: {why}", path.display())]
    Disk {
        /// The file.
        path: PathBuf,
        /// The system's words.
        why: String,
    },
    /// Some other file.
    #[error("{} is not a journal: {why}", path.display())]
    NotAJournal {
        /// The file.
        path: PathBuf,
        /// How it was told.
        why: &'static str,
    },
    /// Written by a newer program. The file is left as it is.
    #[error(
        "the journal at {} was written by a newer version (file version {found}; this one knows up to {known})",
        path.display()
    )]
    NewerFile {
        /// The journal.
        path: PathBuf,
        /// Its version.
        found: u32,
        /// The newest that this program knows.
        known: u32,
    },
    /// SQLite finds the file's structure broken.
    #[error("the journal file {} is damaged: {why}", path.display())]
    DamagedFile {
        /// The journal.
        path: PathBuf,
        /// SQLite's words.
        why: String,
    },
    /// One entry cannot be read.
    #[error("entry {seq} of device {device} in {} is damaged: {why}", path.display())]
    DamagedEntry {
        /// The journal.
        path: PathBuf,
        /// Who wrote the entry.
        device: String,
        /// Its number.
        seq: i64,
        /// What is wrong.
        why: String,
    },
    /// Another program kept the file for too long.
    #[error("another program has been writing to {} for {} s", path.display(), patience.as_secs_f64())]
    Busy {
        /// The journal.
        path: PathBuf,
        /// How long we waited.
        patience: Duration,
    },
    /// Other entries arrived since the batch was decided. Nothing was recorded.
    #[error("another program recorded something in {} meanwhile", path.display())]
    Overtaken {
        /// The journal.
        path: PathBuf,
    },
    /// Opened only to be read.
    #[error("the journal at {} is opened only to be read", path.display())]
    OpenedToRead {
        /// The journal.
        path: PathBuf,
    },
    /// The entry is in the journal already.
    #[error("the entry {id} is recorded already")]
    IdTaken {
        /// Its id.
        id: EntryId,
    },
    /// The entry would not read back as it was given.
    #[error("the entry {id} cannot be kept: {why}")]
    Unkeepable {
        /// Its id.
        id: EntryId,
        /// What is wrong with it.
        why: RecordFault,
    },
    /// The check that came with the batch said no. Nothing was recorded.
    #[error("{0}")]
    Refused(#[source] Box<dyn std::error::Error + Send + Sync>),
    /// A line of an import is not right. Nothing was recorded.
    #[error("{source_name}, line {line}: {why}")]
    Line {
        /// The file, or "the import".
        source_name: String,
        /// From 1; the header is line 1.
        line: u64,
        /// What is wrong.
        why: LineFault,
    },
    /// An entry of the journal to merge is not right. Nothing was recorded.
    #[error("{}, entry {seq} of device {device}: {why}", path.display())]
    Other {
        /// The other journal.
        path: PathBuf,
        /// Who wrote the entry, as the table says.
        device: String,
        /// Its number, as the table says.
        seq: i64,
        /// What is wrong.
        why: RecordFault,
    },
    /// A journal was to be merged into itself.
    #[error("{} is this journal itself", path.display())]
    Itself {
        /// The journal.
        path: PathBuf,
    },
    /// Anything else that the database says.
    #[error("{}: {why}", path.display())]
    Database {
        /// The journal.
        path: PathBuf,
        /// The database's words.
        why: sqlx::Error,
    },
}

/// What can be wrong with one line of an import.
#[derive(Debug, Error)]
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
    /// Not JSON of a line's form.
    #[error("{why}")]
    Form {
        /// The reader's words, with the column.
        why: String,
    },
    /// A hash that is none.
    #[error("`{field}` is not 64 hexadecimal digits")]
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
    /// The file cannot be read on.
    #[error("cannot be read: {0}")]
    Read(#[from] io::Error),
}

/// What can be wrong with one entry and its place in the chain.
#[derive(Debug, Error)]
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

impl From<HiveError> for RecordFault {
    fn from(why: HiveError) -> Self {
        Self::Unreadable(Box::new(why))
    }
}

impl StoreError {
    /// What to do about it, in one or two plain sentences.
    pub fn help(&self) -> Option<String> {
        let help = match self {
            Self::NoJournal { .. } => {
                "Record something first, or name the folder where the journal is with --data."
            }
            Self::ReadOnly { .. } => {
                "Name a folder that you may write to with --data, or change the permissions of this one."
            }
            Self::DiskFull { .. } => {
                "Make room on this disk, or name a folder on another with --data; then do it again."
            }
            Self::Disk { .. } => {
                "Look whether the disk or card is full, still there and sound. What was acknowledged before is kept."
            }
            Self::NotAJournal { .. } => "Name another file or folder. This one was left as it is.",
            Self::NewerFile { .. } => {
                "Use the newer version of this program. The file was left as it is."
            }
            Self::DamagedFile { .. } | Self::DamagedEntry { .. } => {
                "See `journal verify`. Keep a copy of the file, then import a good export or merge the journal of another device: sound entries take the place of damaged ones."
            }
            Self::Busy { .. } => "Wait until the other one is done, or close it, then do it again.",
            Self::Overtaken { .. } => "Do it again: what is new will be taken into account.",
            Self::IdTaken { .. } => "If this was sent before, it is safe: nothing is lost.",
            Self::Line { why, .. } => return why.help().map(str::to_owned),
            Self::Other { why, .. } => return why.help().map(str::to_owned),
            Self::Itself { .. } => "Name the journal of another device, or a copy of one.",
            Self::OpenedToRead { .. }
            | Self::Unkeepable { .. }
            | Self::Refused(_)
            | Self::Database { .. } => {
                return None;
            }
        };
        Some(help.to_owned())
    }

    pub(crate) fn io(path: &Path, why: &io::Error) -> Self {
        let path = path.to_path_buf();
        match why.kind() {
            io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
                Self::ReadOnly { path }
            }
            io::ErrorKind::StorageFull
            | io::ErrorKind::QuotaExceeded
            | io::ErrorKind::FileTooLarge => Self::DiskFull { path },
            _ => Self::Disk {
                path,
                why: why.to_string(),
            },
        }
    }
}

impl LineFault {
    fn help(&self) -> Option<&'static str> {
        Some(match self {
            Self::Empty | Self::Header { .. } => {
                "Give a file that `journal export` made. Nothing was recorded."
            }
            Self::NewerFormat { .. } => {
                "Use the newer version of this program. Nothing was recorded."
            }
            Self::Record(fault) => return fault.help(),
            Self::Count { .. } => {
                "Export again: the file was cut off or added to. Nothing was recorded."
            }
            Self::Read(_) => {
                "Look whether the file is still there and sound. Nothing was recorded."
            }
            Self::TooLong | Self::NotText { .. } | Self::Form { .. } | Self::NotAHash { .. } => {
                "Export again: the file was damaged or edited. Nothing was recorded."
            }
        })
    }
}

impl RecordFault {
    fn help(&self) -> Option<&'static str> {
        Some(match self {
            Self::Conflict { .. } => {
                "One of the two journals was tampered with: run `journal verify` on both. Nothing was recorded."
            }
            Self::NotFaithful => return None,
            _ => {
                "The entry was damaged or edited: take it from another copy. Nothing was recorded."
            }
        })
    }
}
