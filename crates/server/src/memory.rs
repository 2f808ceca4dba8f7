//! A journal in memory, for tests and the example: gone when the program ends.

use std::collections::BTreeMap;
use std::sync::{Mutex, MutexGuard, PoisonError};

use exchange::{About, Hash, Position, Pull, Pulled, Pushed, Record};
use hive::EntryId;

use crate::exchange::{Answer, Exchange, ExchangeError};

/// A journal in memory.
#[derive(Debug, Default)]
pub struct MemoryJournal {
    held: Mutex<Held>,
}

#[derive(Debug, Default)]
struct Held {
    arrived: Vec<Record>,
    hashes: BTreeMap<EntryId, Hash>,
}

impl MemoryJournal {
    /// An empty one.
    pub fn new() -> Self {
        Self::default()
    }

    /// All records in order of arrival.
    pub fn records(&self) -> Vec<Record> {
        self.held().arrived.clone()
    }

    fn held(&self) -> MutexGuard<'_, Held> {
        // all changes are checked before the first is made, so a panic leaves nothing half done
        self.held.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn push_now(&self, records: Vec<Record>) -> Result<Pushed, ExchangeError> {
        let mut held = self.held();
        let came = records.len() as u64;
        let mut hashes = BTreeMap::new();
        let mut fresh = Vec::new();
        for record in records {
            match held
                .hashes
                .get(&record.id)
                .or_else(|| hashes.get(&record.id))
            {
                Some(hash) if *hash == record.hash => {}
                Some(_) => return Err(ExchangeError::Conflict { id: record.id }),
                None => {
                    hashes.insert(record.id, record.hash);
                    fresh.push(record);
                }
            }
        }
        let new = fresh.len() as u64;
        held.arrived.extend(fresh);
        held.hashes.extend(hashes);
        Ok(Pushed {
            new,
            known: came - new,
        })
    }

    fn pull_now(&self, pull: Pull) -> Pulled {
        let held = self.held();
        let arrived = &held.arrived;
        let hash_at = |place: usize| Some(arrived.get(place.checked_sub(1)?)?.hash);
        let from = match pull.since {
            None => 0,
            Some(Position { place, hash }) => match usize::try_from(place) {
                Ok(place) if hash_at(place) == Some(hash) => place,
                _ => return Pulled::Elsewhere,
            },
        };
        let upto = from.saturating_add(pull.limit).min(arrived.len());
        Pulled::Page {
            records: arrived[from..upto].to_vec(),
            next: hash_at(upto).map(|hash| Position {
                place: upto as u64,
                hash,
            }),
            more: upto < arrived.len(),
        }
    }
}

impl Exchange for MemoryJournal {
    fn about(&self) -> Answer<'_, About> {
        Box::pin(async {
            Ok(About {
                entries: self.held().arrived.len() as u64,
            })
        })
    }

    fn push(&self, records: Vec<Record>) -> Answer<'_, Pushed> {
        Box::pin(async { self.push_now(records) })
    }

    fn pull(&self, pull: Pull) -> Answer<'_, Pulled> {
        Box::pin(async move { Ok(self.pull_now(pull)) })
    }
}
