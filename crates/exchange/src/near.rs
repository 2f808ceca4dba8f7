//! The journal at hand.

use crate::record::Record;
use crate::wire::Position;

/// The journal at hand, as one round sees it.
///
/// The futures need not be `Send`: in a browser everything happens on one thread.
#[expect(async_fn_in_trait, reason = "used from one thread, never boxed")]
pub trait Near {
    /// Why it could not be read or written.
    type Error: std::error::Error;

    /// How far the far side has been taken over; `None` at first.
    async fn position(&self) -> Result<Option<Position>, Self::Error>;

    /// Whether it holds at least one of these records.
    async fn holds_any(&self, records: &[Record]) -> Result<bool, Self::Error>;

    /// Forgets the position and has every record wait again: the far side begins anew from the same
    /// records, or the keeper wants two journals joined.
    async fn begin_anew(&self) -> Result<(), Self::Error>;

    /// Keeps records that are not there yet, has those that waited wait no longer, and notes the
    /// position: all of it or nothing.
    async fn keep(&self, records: Vec<Record>, upto: Position) -> Result<(), Self::Error>;

    /// Records that wait, in the order in which they came to be here, each with its place in that
    /// order; only those after the place `after`, at most `most`.
    async fn waiting(&self, after: u64, most: usize) -> Result<Vec<(u64, Record)>, Self::Error>;
}
