//! What is due, as the server hands it to calendar programs.

use std::path::PathBuf;

use hive::Yard;
use paper::calendar::calendar;
use server::{Answer, Calendar, ExchangeError};
use store::Journal;

use crate::commands::advise::Choices;
use crate::commands::paper::due::due_things;
use crate::surroundings;

/// The journal's due things, reckoned anew at each question.
pub(crate) struct DueThings {
    /// Where it is kept.
    pub(crate) journal: Journal,
    /// The data folder, for the weather kept beside it.
    pub(crate) folder: PathBuf,
}

impl Calendar for DueThings {
    fn due(&self) -> Answer<'_, String> {
        Box::pin(async move {
            let broken = |why: String| ExchangeError::Broken(why);
            let entries = self.journal.entries().await;
            let entries = entries.map_err(|why| broken(why.to_string()))?;
            let folder = self.folder.clone();
            // folding and reckoning take their time: not where requests are served
            let written = tokio::task::spawn_blocking(move || {
                let now = surroundings::now();
                let choices = Choices::in_folder(folder);
                let due = due_things(&Yard::fold(entries), &now, &choices);
                due.map(|due| calendar("Combwright", &due, now.timestamp()))
                    .map_err(|why| why.to_string())
            });
            let written = written.await.map_err(|why| broken(why.to_string()))?;
            written.map_err(broken)
        })
    }
}
