//! Proving a journal entry by entry.

use std::collections::BTreeMap;
use std::fmt;

use exchange::{Hash, RecordFault};
use hive::EntryId;

use crate::error::StoreError;
use crate::export::hashes;
use crate::intake::{self, Fork};
use crate::journal::Journal;
use crate::sql::{self, Row, Rows};

/// What a look at the whole journal found.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Verification {
    /// Entries looked at.
    pub entries: u64,
    /// Devices that wrote them.
    pub devices: u64,
    /// The first damaged entry of each device.
    pub faults: Vec<Fault>,
    /// Device ids used in two places; nothing is lost by it.
    pub forks: Vec<Fork>,
    /// What SQLite says of the file's structure; empty when it is sound.
    pub structure: Vec<String>,
}

impl Verification {
    /// True when every entry is there and as it was recorded.
    pub fn is_sound(&self) -> bool {
        self.faults.is_empty() && self.structure.is_empty()
    }
}

/// One damaged place in one device's chain.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// The device, as the table says; an id unless the table was edited.
    pub device: String,
    /// The entry's number, as the table says; for missing entries the first of them.
    pub seq: u64,
    /// The entry's id, when there is one.
    pub id: Option<EntryId>,
    /// What is wrong.
    pub damage: Damage,
}

/// What can be wrong with an entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Damage {
    /// Its text, or the hash beside it, is not what was recorded.
    Changed,
    /// Entries are missing up to and with this number.
    Missing {
        /// The last one missing.
        through: u64,
    },
    /// It stands in another place than it says, or does not follow the entry before it.
    OutOfOrder(String),
    /// It is no entry any more.
    Unreadable(String),
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { device, seq, .. } = self;
        match &self.damage {
            Damage::Missing { through } if through == seq => {
                return write!(f, "device {device}: entry {seq} is missing");
            }
            Damage::Missing { through } => {
                return write!(f, "device {device}: entries {seq} to {through} are missing");
            }
            _ => write!(f, "device {device}: entry {seq}")?,
        }
        if let Some(id) = self.id {
            write!(f, " ({id})")?;
        }
        match &self.damage {
            Damage::Changed => f.write_str(" was changed after it was recorded"),
            Damage::OutOfOrder(how) => write!(f, " is out of order: {how}"),
            Damage::Unreadable(why) => write!(f, " cannot be read: {why}"),
            Damage::Missing { .. } => Ok(()),
        }
    }
}

impl Journal {
    /// Proves every entry: its text against its hash, its hash against the entry before it, its
    /// place against what it says, and the last of each device against its head.
    ///
    /// # Errors
    /// Only when the file cannot be read; what is found is in the [`Verification`].
    pub async fn verify(&self) -> Result<Verification, StoreError> {
        let mut tx = self.reading().await?;
        let mut found = Verification {
            structure: self.said(sql::structure(&mut tx).await)?,
            ..Verification::default()
        };
        let mut chains = Chains::default();
        let mut rows = Rows::all();
        while let Some(row) = self.said(rows.next(&mut tx).await)? {
            found.entries += 1;
            chains.look_at(&row);
        }
        for (device, seq, hash) in self.said(sql::heads(&mut tx).await)? {
            chains.end(&device, seq, &hash);
        }
        found.devices = chains.devices.len() as u64;
        found.faults = chains.first_faults();
        found.forks = intake::forks(self, &mut tx).await?;
        Ok(found)
    }
}

/// The chains as they are met, rows coming by device, number and hash.
#[derive(Default)]
struct Chains {
    devices: BTreeMap<Vec<u8>, Chain>,
}

#[derive(Default)]
struct Chain {
    /// The number last met.
    seq: u64,
    /// Hashes of the entries with that number, as stated: one unless the chain is forked.
    tips: Vec<Hash>,
    /// Those of the number before.
    before: Vec<Hash>,
    fault: Option<Fault>,
}

impl Chains {
    fn look_at(&mut self, row: &Row) {
        let chain = self.devices.entry(row.device.clone()).or_default();
        let seq = row.seq.unsigned_abs();
        let missing = seq.saturating_sub(chain.seq + 1);
        if missing > 0 {
            chain.blame(
                row,
                chain.seq + 1,
                None,
                Damage::Missing { through: seq - 1 },
            );
        }
        if seq != chain.seq {
            chain.before = std::mem::take(&mut chain.tips);
            chain.seq = seq;
        }
        if let Err(damage) = proved(row) {
            chain.blame(row, seq, sql::entry_id(&row.id), damage);
        } else if missing == 0 && seq > 1 && !follows(row, &chain.before) {
            let how = format!(
                "it does not follow entry {}; one of the two was changed",
                seq - 1
            );
            chain.blame(row, seq, sql::entry_id(&row.id), Damage::OutOfOrder(how));
        }
        chain.tips.extend(sql::hash(&row.hash));
    }

    /// Compares a chain with the head kept for it.
    fn end(&mut self, device: &[u8], seq: i64, hash: &[u8]) {
        let chain = self.devices.entry(device.to_vec()).or_default();
        let seq = seq.unsigned_abs();
        let told =
            || sql::device(device).map_or_else(|| format!("{device:02x?}"), |id| id.to_string());
        if seq > chain.seq {
            let first = chain.seq + 1;
            chain.fault.get_or_insert_with(|| Fault {
                device: told(),
                seq: first,
                id: None,
                damage: Damage::Missing { through: seq },
            });
        } else if seq == chain.seq && !chain.tips.iter().any(|tip| tip.0[..] == *hash) {
            chain.fault.get_or_insert_with(|| Fault {
                device: told(),
                seq,
                id: None,
                damage: Damage::Changed,
            });
        }
    }

    fn first_faults(self) -> Vec<Fault> {
        self.devices
            .into_values()
            .filter_map(|chain| chain.fault)
            .collect()
    }
}

impl Chain {
    fn blame(&mut self, row: &Row, seq: u64, id: Option<EntryId>, damage: Damage) {
        self.fault.get_or_insert_with(|| Fault {
            device: row.device_told(),
            seq,
            id,
            damage,
        });
    }
}

fn follows(row: &Row, before: &[Hash]) -> bool {
    before.iter().any(|hash| hash.0[..] == row.prev[..])
}

/// A row alone: its text proved by its hash, its columns by its text.
fn proved(row: &Row) -> Result<(), Damage> {
    let (prev, hash) = hashes(row).ok_or(Damage::Changed)?;
    let record = row.proved(prev, hash).map_err(|fault| match fault {
        RecordFault::Changed { .. } => Damage::Changed,
        RecordFault::Origin { .. } => Damage::OutOfOrder(fault.to_string()),
        other => Damage::Unreadable(other.to_string()),
    })?;
    let misplaced = |field: &str, says: &dyn fmt::Display| {
        Err(Damage::OutOfOrder(format!("its own {field} is {says}")))
    };
    if sql::device(&row.device) != Some(record.device) {
        return misplaced("device", &record.device);
    }
    if row.seq != record.seq.cast_signed() {
        return misplaced("number", &record.seq);
    }
    if sql::entry_id(&row.id) != Some(record.id) {
        return misplaced("id", &record.id);
    }
    Ok(())
}
