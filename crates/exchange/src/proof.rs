//! Whether records are as they were written, and whether any are missing.

use std::collections::{BTreeMap, BTreeSet};

use hive::DeviceId;

use crate::hash::Hash;
use crate::record::Record;

/// What the proof of a set of records found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Proof {
    /// Records looked at.
    pub records: usize,
    /// Devices that wrote them.
    pub devices: usize,
    /// Records whose hash is not that of their text.
    pub changed: usize,
    /// Places where a record follows one that is not here.
    pub gaps: usize,
    /// Numbers that one device used more than once; both branches are kept.
    pub forks: usize,
}

impl Proof {
    /// True when every record is as it was written and none is missing between others.
    pub const fn is_sound(&self) -> bool {
        self.changed == 0 && self.gaps == 0 && self.forks == 0
    }

    /// Proves records, in whatever order they come.
    pub fn of<'a>(records: impl IntoIterator<Item = &'a Record>) -> Self {
        let mut proof = Self::default();
        let mut hashes: BTreeSet<Hash> = BTreeSet::new();
        let mut follows: Vec<Hash> = Vec::new();
        let mut numbers: BTreeMap<(DeviceId, u64), usize> = BTreeMap::new();
        for record in records {
            proof.records += 1;
            *numbers.entry((record.device, record.seq)).or_default() += 1;
            hashes.insert(record.hash);
            if record.prev != Hash::ORIGIN {
                follows.push(record.prev);
            }
            let again = Record::proved(record.prev, record.hash, record.text.clone());
            proof.changed += usize::from(again.is_err());
        }
        let devices: BTreeSet<DeviceId> = numbers.keys().map(|(device, _)| *device).collect();
        proof.devices = devices.len();
        proof.gaps = follows.iter().filter(|prev| !hashes.contains(prev)).count();
        proof.forks = numbers.values().filter(|times| **times > 1).count();
        proof
    }
}
