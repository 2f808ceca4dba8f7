//! Why the journal did not do it. The words for people are in [`crate::texts::journal_error`].

use exchange::{LineFault, RecordFault};
use hive::{EntryId, HiveError};
use thiserror::Error;
use wasm_bindgen::{JsCast as _, JsValue};

use crate::browser::words;

/// One variant a cause.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum JournalError {
    /// Asked too early.
    #[error("the journal is not open yet")]
    NotOpen,
    /// The browser has no database, or not for this window.
    #[error("no database: {0}")]
    Unavailable(String),
    /// No more room (the browser's `QuotaExceededError`).
    #[error("no more room")]
    Full,
    /// The database was made by a newer version of this app.
    #[error("the database is of a newer version")]
    Newer,
    /// The browser closed the database, or another tab made it new.
    #[error("the database was closed")]
    Closed,
    /// The yard refuses the entry.
    #[error(transparent)]
    Refused(#[from] HiveError),
    /// The entry cannot be written down.
    #[error(transparent)]
    Record(#[from] RecordFault),
    /// A line of an import.
    #[error("line {line}: {why}")]
    Line {
        /// From 1.
        line: usize,
        /// What is wrong with it.
        why: LineFault,
    },
    /// Another entry is kept under this id.
    #[error("another entry is kept as {id}")]
    Conflict {
        /// The id.
        id: EntryId,
    },
    /// Anything else that the browser says.
    #[error("{0}")]
    Browser(String),
}

impl JournalError {
    /// Sorts what the browser threw, by the names of the Web IDL standard.
    pub(super) fn of(thrown: &JsValue) -> Self {
        let name = thrown
            .dyn_ref::<web_sys::DomException>()
            .map(web_sys::DomException::name)
            .unwrap_or_default();
        Self::named(&name, words(thrown))
    }

    fn named(name: &str, words: String) -> Self {
        match name {
            "QuotaExceededError" => Self::Full,
            "VersionError" => Self::Newer,
            "InvalidStateError" => Self::Closed,
            "SecurityError" | "NotSupportedError" => Self::Unavailable(words),
            _ => Self::Browser(words),
        }
    }
}

impl From<idb::Error> for JournalError {
    fn from(error: idb::Error) -> Self {
        use idb::Error as E;
        match error {
            E::AddFailed(thrown)
            | E::UpdateFailed(thrown)
            | E::GetFailed(thrown)
            | E::GetAllFailed(thrown)
            | E::TransactionOpenFailed(thrown)
            | E::IndexedDbOpenFailed(thrown)
            | E::ObjectStoreNotFound(thrown)
            | E::OpenCursorFailed(thrown) => Self::of(&thrown),
            E::DomException(thrown) => Self::of(&thrown),
            other => Self::Browser(other.to_string()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_full_storage_is_told_apart_from_other_faults() {
        let named = |name| JournalError::named(name, "words".into());
        assert_eq!(named("QuotaExceededError"), JournalError::Full);
        assert_eq!(named("VersionError"), JournalError::Newer);
        assert_eq!(named("UnknownError"), JournalError::Browser("words".into()));
    }
}
