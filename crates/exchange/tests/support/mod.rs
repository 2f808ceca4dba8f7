//! Journals in memory, and records to fill them.
#![allow(dead_code, reason = "each test file uses its part")]

use std::cell::{Cell, RefCell};
use std::collections::BTreeSet;
use std::convert::Infallible;

use exchange::{
    Exchanged, Far, FarError, Hash, Near, Position, Pull, Pulled, Push, Pushed, Record, RoundError,
    round,
};
use hive::{DeviceId, Entry, EntryId, Known};
use jiff::Timestamp;
use uuid::Uuid;

pub(crate) fn entry(of: u64, seq: u64, words: &str) -> Entry {
    let at = Timestamp::from_second(1_760_000_000 + seq.cast_signed()).expect("in range");
    Entry {
        v: hive::entry::FORMAT,
        id: EntryId(Uuid::from_u64_pair(
            of << 32 | u64::from(words.len() as u32),
            seq,
        )),
        device: DeviceId(Uuid::from_u64_pair(0xd0, of)),
        seq,
        at,
        recorded: at,
        zone: "UTC".into(),
        by: "keeper".into(),
        hive: None,
        visit: None,
        said: None,
        what: Known::Note {
            text: words.to_owned(),
        }
        .into(),
        extra: serde_json::Map::new(),
    }
}

/// A device's chain from its first entry.
pub(crate) fn chain(of: u64, upto: u64, words: &str) -> Vec<Record> {
    chain_after(of, 1, upto, words, Hash::ORIGIN)
}

/// Entries `from..=upto` after the one with hash `prev`.
pub(crate) fn chain_after(of: u64, from: u64, upto: u64, words: &str, prev: Hash) -> Vec<Record> {
    let mut prev = prev;
    (from..=upto)
        .map(|seq| {
            let (record, _) = Record::written(&entry(of, seq, words), prev).expect("sound");
            prev = record.hash;
            record
        })
        .collect()
}

/// A journal in memory, in order of arrival; near and far at once.
#[derive(Default)]
pub(crate) struct Journal {
    pub(crate) records: RefCell<Vec<Record>>,
    held: RefCell<BTreeSet<Hash>>,
    pub(crate) waiting: RefCell<BTreeSet<Hash>>,
    pub(crate) position: Cell<Option<Position>>,
    /// Calls after which the far side is gone; `None` is never.
    pub(crate) breaks_after: Cell<Option<u32>>,
    /// Pulls answered.
    pub(crate) pulls: Cell<u32>,
    /// After storing a push, lose the answer.
    pub(crate) loses_answers: Cell<bool>,
}

impl Journal {
    pub(crate) fn of(records: Vec<Record>) -> Self {
        let hashes: BTreeSet<Hash> = records.iter().map(|record| record.hash).collect();
        Self {
            records: records.into(),
            held: RefCell::new(hashes.clone()),
            waiting: RefCell::new(hashes),
            ..Self::default()
        }
    }

    pub(crate) fn holding(&self) -> BTreeSet<Hash> {
        self.held.borrow().clone()
    }

    pub(crate) fn len(&self) -> usize {
        self.records.borrow().len()
    }

    /// Writes records of its own, which wait.
    pub(crate) fn write(&self, records: Vec<Record>) {
        for record in records {
            self.add(&record);
            self.waiting.borrow_mut().insert(record.hash);
        }
    }

    fn add(&self, record: &Record) -> bool {
        let new = self.held.borrow_mut().insert(record.hash);
        if new {
            self.records.borrow_mut().push(record.clone());
        }
        new
    }

    fn answers(&self) -> Result<(), FarError> {
        match self.breaks_after.get() {
            Some(0) => Err(FarError::Unreachable {
                why: "cut off".into(),
            }),
            Some(left) => {
                self.breaks_after.set(Some(left - 1));
                Ok(())
            }
            None => Ok(()),
        }
    }
}

impl Near for Journal {
    type Error = Infallible;

    async fn position(&self) -> Result<Option<Position>, Infallible> {
        Ok(self.position.get())
    }
    async fn holds_any(&self, records: &[Record]) -> Result<bool, Infallible> {
        let held = self.held.borrow();
        Ok(records.iter().any(|record| held.contains(&record.hash)))
    }
    async fn begin_anew(&self) -> Result<(), Infallible> {
        self.position.set(None);
        self.waiting.replace(self.holding());
        Ok(())
    }
    async fn keep(&self, records: Vec<Record>, upto: Position) -> Result<(), Infallible> {
        for record in records {
            self.add(&record);
            self.waiting.borrow_mut().remove(&record.hash);
        }
        self.position.set(Some(upto));
        Ok(())
    }
    async fn waiting(&self, after: u64, most: usize) -> Result<Vec<(u64, Record)>, Infallible> {
        let waiting = self.waiting.borrow();
        let records = self.records.borrow();
        let placed = (1..).zip(records.iter().cloned());
        let found = placed.filter(|(at, record)| *at > after && waiting.contains(&record.hash));
        Ok(found.take(most).collect())
    }
}

impl Far for Journal {
    async fn push(&self, push: &Push) -> Result<Pushed, FarError> {
        self.answers()?;
        let new = push
            .records
            .iter()
            .filter(|record| self.add(record))
            .count() as u64;
        if self.loses_answers.take() {
            return Err(FarError::Unreachable {
                why: "the answer got lost".into(),
            });
        }
        Ok(Pushed {
            new,
            known: push.records.len() as u64 - new,
        })
    }
    async fn pull(&self, pull: Pull) -> Result<Pulled, FarError> {
        self.answers()?;
        self.pulls.set(self.pulls.get() + 1);
        let records = self.records.borrow();
        let from = match pull.since {
            None => 0,
            Some(Position { place, hash }) => {
                let place = place as usize;
                match place.checked_sub(1).and_then(|at| records.get(at)) {
                    Some(record) if record.hash == hash => place,
                    _ => return Ok(Pulled::Elsewhere),
                }
            }
        };
        let upto = (from + pull.limit).min(records.len());
        let last = upto.checked_sub(1).and_then(|at| records.get(at));
        Ok(Pulled::Page {
            records: records[from..upto].to_vec(),
            next: last.map(|last| Position {
                place: upto as u64,
                hash: last.hash,
            }),
            more: upto < records.len(),
        })
    }
}

pub(crate) fn run(near: &Journal, far: &Journal) -> Result<Exchanged, RoundError<Infallible>> {
    pollster::block_on(round(near, far))
}
