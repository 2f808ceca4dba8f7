//! What a screen keeps beside the journal, on this device only: a visit that goes on, for instance.

use std::sync::Arc;

use hive::Entry;
use serde::Serialize;
use serde::de::DeserializeOwned;

use super::Journal;
use super::append::Saying;
use super::db::{For, Tx};
use super::error::JournalError;
use super::kept::Kept;

/// Something to be kept under a name.
pub(super) struct Beside {
    name: String,
    text: String,
}

impl Beside {
    fn of<T: Serialize>(name: &str, what: &T) -> Result<Self, JournalError> {
        let text =
            serde_json::to_string(what).map_err(|why| JournalError::Browser(why.to_string()))?;
        let name = format!("beside:{name}");
        Ok(Self { name, text })
    }

    pub(super) async fn put(&self, tx: &Tx) -> Result<(), JournalError> {
        tx.set_text(&self.name, &self.text).await
    }
}

impl Kept {
    async fn keep_beside(&self, beside: &Beside) -> Result<(), JournalError> {
        let tx = self.db.begin(For::Writing)?;
        match beside.put(&tx).await {
            Ok(()) => tx.finish().await,
            Err(why) => Err(tx.give_up(why)),
        }
    }
}

impl Journal {
    /// Keeps something on this device; durable when it returns. What was kept under the name is
    /// replaced.
    ///
    /// # Errors
    /// [`JournalError`]; then the former is still there.
    pub async fn keep_beside<T: Serialize>(self, name: &str, what: &T) -> Result<(), JournalError> {
        let beside = Beside::of(name, what)?;
        self.kept()?.keep_beside(&beside).await
    }

    /// What is kept under a name; `None` also when it cannot be read.
    ///
    /// # Errors
    /// [`JournalError`] when the browser gives nothing back.
    pub async fn beside<T: DeserializeOwned>(self, name: &str) -> Result<Option<T>, JournalError> {
        let kept = self.kept()?;
        let tx = kept.db.begin(For::Reading)?;
        Ok(tx
            .fact::<Option<T>>(&format!("beside:{name}"))
            .await?
            .flatten())
    }

    /// Writes entries down and keeps something beside them, all or none.
    ///
    /// # Errors
    /// [`JournalError`]; then nothing was written and the former is still there.
    pub async fn append_beside<T: Serialize>(
        self,
        sayings: Vec<Saying>,
        name: &str,
        what: &T,
    ) -> Result<Vec<Arc<Entry>>, JournalError> {
        let beside = Beside::of(name, what)?;
        if sayings.is_empty() {
            self.kept()?.keep_beside(&beside).await?;
            return Ok(Vec::new());
        }
        let written = self.kept()?.append(sayings, Some(beside)).await?;
        self.exchange_soon();
        Ok(written)
    }
}
