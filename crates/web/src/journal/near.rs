//! The journal at hand, as a round of the exchange sees it.

use exchange::{Near, Position, Record};

use super::db::For;
use super::error::JournalError;
use super::kept::{Kept, fact};
use super::row::Row;

impl Near for Kept {
    type Error = JournalError;

    async fn position(&self) -> Result<Option<Position>, JournalError> {
        Ok(self
            .db
            .begin(For::Reading)?
            .fact(fact::POSITION)
            .await?
            .flatten())
    }

    async fn holds_any(&self, records: &[Record]) -> Result<bool, JournalError> {
        let tx = self.db.begin(For::Reading)?;
        for record in records {
            if tx.has(record.hash).await? {
                return Ok(true);
            }
        }
        Ok(false)
    }

    async fn begin_anew(&self) -> Result<(), JournalError> {
        let tx = self.db.begin(For::Writing)?;
        tx.set_fact(fact::POSITION, &None::<Position>).await?;
        let mut after = 0;
        loop {
            let page = tx.page(after).await?;
            for row in page.rows {
                if !row.waits {
                    tx.replace(&Row { waits: true, ..row }).await?;
                }
            }
            if page.last == after {
                break;
            }
            after = page.last;
        }
        tx.finish().await?;
        self.count_waiting().await
    }

    async fn keep(&self, records: Vec<Record>, upto: Position) -> Result<(), JournalError> {
        let tx = self.db.begin(For::Writing)?;
        let mut new = false;
        for record in records {
            match self.take_in(&tx, record, false).await {
                Ok(fresh) => new |= fresh,
                Err(why) => {
                    return Err(tx.give_up(why));
                }
            }
        }
        tx.set_fact(fact::POSITION, &Some(upto)).await?;
        tx.finish().await?;
        if new {
            self.fold_new().await?;
            self.wrote(0);
            Ok(())
        } else {
            self.count_waiting().await
        }
    }

    async fn waiting(&self, after: u64, most: usize) -> Result<Vec<(u64, Record)>, JournalError> {
        let most = u32::try_from(most).unwrap_or(u32::MAX);
        let page = self.db.begin(For::Reading)?.waiting(after, most).await?;
        Ok(page
            .rows
            .into_iter()
            .map(|row| (row.place, row.record))
            .collect())
    }
}
