//! The journal's file behind the server.
//!
//! [`Kept`] is the store's [`Journal`] as what the server exchanges with devices. It stands between
//! the two because neither may know the other: the server nothing of files, the store nothing of
//! HTTP. The command line may write to the same file meanwhile; its entries go out to the devices
//! like those of any other.

use exchange::{About, Pull, Pulled, Pushed, Record, RecordFault};
use server::{Answer, Exchange, ExchangeError};
use store::{Journal, StoreError};
use tokio::sync::Mutex;

/// A journal file that is exchanged with devices.
#[derive(Debug)]
pub struct Kept {
    journal: Journal,
    /// Devices that give at once come one after the other, first come first served. SQLite would
    /// let one in at a time as well, but those who wait there only try again and again, and every
    /// connection would wait with them while readers need one.
    turn: Mutex<()>,
}

impl Kept {
    /// What the server exchanges is kept in this journal.
    pub fn new(journal: Journal) -> Self {
        Self {
            journal,
            turn: Mutex::new(()),
        }
    }

    /// The journal.
    pub const fn journal(&self) -> &Journal {
        &self.journal
    }

    async fn take(&self, records: &[Record]) -> Result<Pushed, ExchangeError> {
        let _turn = self.turn.lock().await;
        let taken = self.journal.take(records).await.map_err(told)?;
        Ok(Pushed {
            // an entry mended is one that nobody could have had from here
            new: taken.new + taken.mended,
            known: taken.known,
        })
    }
}

impl Exchange for Kept {
    fn about(&self) -> Answer<'_, About> {
        Box::pin(async {
            let entries = self.journal.len().await.map_err(told)?;
            Ok(About { entries })
        })
    }

    fn push(&self, records: Vec<Record>) -> Answer<'_, Pushed> {
        Box::pin(async move { self.take(&records).await })
    }

    fn pull(&self, pull: Pull) -> Answer<'_, Pulled> {
        Box::pin(async move { self.journal.pull(pull).await.map_err(told) })
    }
}

/// The store's word in the server's. What a device is told names no file of this machine.
fn told(why: StoreError) -> ExchangeError {
    match why {
        StoreError::NotTaken {
            why: RecordFault::Conflict { id, .. },
        } => ExchangeError::Conflict { id },
        StoreError::DiskFull { .. } => {
            ExchangeError::Full("the server's disk is full; nothing of this was recorded".into())
        }
        StoreError::Busy { patience, .. } => ExchangeError::Busy(format!(
            "another program has been writing to it for {} s",
            patience.as_secs()
        )),
        StoreError::ReadOnly { .. } => {
            ExchangeError::Broken("the server may not write to its file".into())
        }
        StoreError::Disk { why, .. } | StoreError::DamagedFile { why, .. } => {
            ExchangeError::Broken(why)
        }
        StoreError::NotTaken { why } => ExchangeError::Broken(why.to_string()),
        _ => ExchangeError::Broken("see the server's own screen or `journal verify`".into()),
    }
}
