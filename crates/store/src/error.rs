//! What can go wrong with the journal, each with what, where and what to do.

use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

use exchange::{LineFault, RecordFault};
use hive::EntryId;
use thiserror::Error;

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
    /// The file to import cannot be read, or not on. Nothing was recorded.
    #[error("{source_name} cannot be read: {why}")]
    Unreadable {
        /// The file, or "the import".
        source_name: String,
        /// The system's words.
        why: io::Error,
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
    /// A record given by a device contradicts what is recorded. Nothing was recorded.
    #[error("{why}")]
    NotTaken {
        /// How.
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
            Self::Line { why, .. } => return line_help(why).map(str::to_owned),
            Self::Unreadable { .. } => {
                "Look whether the file is still there and sound. Nothing was recorded."
            }
            Self::Other { why, .. } | Self::NotTaken { why } => {
                return record_help(why).map(str::to_owned);
            }
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

fn line_help(fault: &LineFault) -> Option<&'static str> {
    Some(match fault {
        LineFault::Empty | LineFault::Header { .. } => {
            "Give a file that `journal export` made. Nothing was recorded."
        }
        LineFault::NewerFormat { .. } => {
            "Use the newer version of this program. Nothing was recorded."
        }
        LineFault::Record(fault) => return record_help(fault),
        LineFault::CutOff => "Copy the file anew, whole, or export again. Nothing was recorded.",
        LineFault::Count { .. } => {
            "Export again: the file was cut off or added to. Nothing was recorded."
        }
        _ => "Export again: the file was damaged or edited. Nothing was recorded.",
    })
}

fn record_help(fault: &RecordFault) -> Option<&'static str> {
    Some(match fault {
        RecordFault::Conflict { .. } => {
            "One of the two journals was tampered with: run `journal verify` on both. Nothing was recorded."
        }
        RecordFault::NotFaithful => return None,
        _ => "The entry was damaged or edited: take it from another copy. Nothing was recorded.",
    })
}
