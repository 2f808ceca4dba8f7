//! Carrying the journal by file.

use comb::order::InOrder as _;
use exchange::{Proof, Record, lines};

use super::db::For;
use super::error::JournalError;
use super::kept::Kept;
use super::row::Row;

/// What an import did.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Imported {
    /// Entries that were new here.
    pub new: usize,
    /// Entries that were here already.
    pub known: usize,
}

impl Kept {
    /// Every record, also those whose entry this version cannot read.
    pub(super) async fn export(&self) -> Result<String, JournalError> {
        Ok(lines::export(self.all().await?.0))
    }

    /// Proves every record; a row that cannot be read counts as changed.
    pub(super) async fn prove(&self) -> Result<Proof, JournalError> {
        let (records, damaged) = self.all().await?;
        let mut proof = Proof::of(&records);
        proof.changed += damaged;
        Ok(proof)
    }

    /// Every record, and how many rows cannot be read.
    async fn all(&self) -> Result<(Vec<Record>, usize), JournalError> {
        let tx = self.db.begin(For::Reading)?;
        let (mut records, mut damaged, mut after) = (Vec::new(), 0, 0);
        loop {
            let page = tx.page(after).await?;
            let more = page.last > after;
            after = page.last;
            damaged += page.damaged;
            records.extend(page.rows.into_iter().map(|row| row.record));
            if !more {
                return Ok((records, damaged));
            }
        }
    }

    /// Takes an export in, all of it or nothing.
    pub(super) async fn import(&self, text: &str) -> Result<Imported, JournalError> {
        let mut records =
            lines::import(text).map_err(|(line, why)| JournalError::Line { line, why })?;
        // in the order of each chain, so that the server gets them in it
        records.order_by_key(|record| (record.device, record.seq));
        let tx = self.db.begin(For::Writing)?;
        let mut imported = Imported::default();
        for record in records {
            match self.take_in(&tx, record, true).await {
                Ok(true) => imported.new += 1,
                Ok(false) => imported.known += 1,
                Err(why) => {
                    return Err(tx.give_up(why));
                }
            }
        }
        tx.finish().await?;
        self.fold_new().await?;
        self.wrote(0);
        Ok(imported)
    }

    /// Takes one proved record in; whether it was new. One that is known and comes from the server
    /// (`waits` is false) waits no longer.
    pub(super) async fn take_in(
        &self,
        tx: &super::db::Tx,
        record: Record,
        waits: bool,
    ) -> Result<bool, JournalError> {
        if let Some(known) = tx.by_hash(record.hash).await? {
            if known.waits && !waits {
                tx.replace(&Row { waits, ..known }).await?;
            }
            return Ok(false);
        }
        if tx.by_id(record.id).await?.is_some() {
            return Err(JournalError::Conflict { id: record.id });
        }
        let device = self.device(tx).await?;
        if record.device == device.id {
            // someone else writes under our id (a copied profile): go on under a fresh one
            let fresh = self.fresh_device(tx, device.by).await?;
            leptos::prelude::Set::set(&self.journal.device, Some(fresh));
        }
        tx.add(&Row::new(record, waits)).await?;
        Ok(true)
    }
}
