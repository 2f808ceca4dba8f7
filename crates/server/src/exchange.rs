//! What the server needs of whatever keeps the journal.

use std::future::Future;
use std::pin::Pin;

use exchange::{About, Pull, Pulled, Pushed, Record};
use hive::EntryId;
use thiserror::Error;

/// What a call of [`Exchange`] gives, later.
pub type Answer<'a, T> = Pin<Box<dyn Future<Output = Result<T, ExchangeError>> + Send + 'a>>;

/// A journal that is exchanged with devices; see the crate [`::exchange`] for the idea.
pub trait Exchange: Send + Sync + 'static {
    /// What the journal says of itself.
    fn about(&self) -> Answer<'_, About>;

    /// Takes proved records over, all or none, and answers only when they are durable. Records held
    /// already are passed over.
    ///
    /// # Errors
    /// [`ExchangeError::Conflict`] is the giver's fault, the rest are ours.
    fn push(&self, records: Vec<Record>) -> Answer<'_, Pushed>;

    /// Records in the order in which they arrived, after the place asked for; or that there is no
    /// such record at that place.
    fn pull(&self, pull: Pull) -> Answer<'_, Pulled>;
}

/// Why the journal did not do it.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum ExchangeError {
    /// Another entry is here under this id.
    #[error("another entry is here already as {id}")]
    Conflict {
        /// The id.
        id: EntryId,
    },
    /// There is no more room.
    #[error("no more room for the journal: {0}")]
    Full(String),
    /// Something else writes to it; asking again in a moment helps.
    #[error("the journal is busy: {0}")]
    Busy(String),
    /// It could not be read or written.
    #[error("the journal cannot be used: {0}")]
    Broken(String),
}
