//! One entry with its exact text and its link in the chain.

use std::str;

use hive::{DeviceId, Entry, EntryId};

use crate::error::RecordFault;
use crate::hash::Hash;
use crate::lines::MAX_ENTRY;

/// An entry as it is kept: the text decides, everything else is read from it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Record {
    /// Who wrote it.
    pub device: DeviceId,
    /// Its number on that device.
    pub seq: u64,
    /// Its id.
    pub id: EntryId,
    /// Hash of the entry before it on that device; [`Hash::ORIGIN`] for the first.
    pub prev: Hash,
    /// `SHA-256(prev || text)`.
    pub hash: Hash,
    /// The entry's JSON, byte for byte as its device wrote it.
    pub text: String,
}

impl Record {
    /// Reads a record and proves it: the text is an entry, and the hash is the one of this text.
    pub(crate) fn proved(
        prev: Hash,
        hash: Hash,
        text: &[u8],
    ) -> Result<(Self, Entry), RecordFault> {
        let entry = read(text)?;
        if prev.followed_by(text) != hash {
            return Err(RecordFault::Changed { id: entry.id });
        }
        if entry.seq == 0 || i64::try_from(entry.seq).is_err() {
            return Err(RecordFault::Number { seq: entry.seq });
        }
        if (entry.seq == 1) != (prev == Hash::ORIGIN) {
            return Err(RecordFault::Origin { seq: entry.seq });
        }
        let record = Self {
            device: entry.device,
            seq: entry.seq,
            id: entry.id,
            prev,
            hash,
            text: str::from_utf8(text)
                .map_err(|_| RecordFault::NotText)?
                .to_owned(),
        };
        Ok((record, entry))
    }

    /// Writes an entry down after the one with hash `prev`. Gives it back as it will be read, which
    /// is what callers must work with.
    pub(crate) fn written(entry: &Entry, prev: Hash) -> Result<(Self, Entry), RecordFault> {
        let text = serde_json::to_string(entry).map_err(|_| RecordFault::NotFaithful)?;
        let again = read(text.as_bytes())?;
        // a foreign kind may be known here after all; what is known must come back the same
        if entry.what.known().is_some() && again != *entry {
            return Err(RecordFault::NotFaithful);
        }
        let record = Self {
            device: entry.device,
            seq: entry.seq,
            id: entry.id,
            prev,
            hash: prev.followed_by(text.as_bytes()),
            text,
        };
        Ok((record, again))
    }
}

/// Reads an entry's text.
pub(crate) fn read(text: &[u8]) -> Result<Entry, RecordFault> {
    if text.len() > MAX_ENTRY {
        return Err(RecordFault::TooLong { bytes: text.len() });
    }
    let text = str::from_utf8(text).map_err(|_| RecordFault::NotText)?;
    if text.contains(['\n', '\r']) || text.trim_ascii().len() != text.len() {
        return Err(RecordFault::NotOneLine);
    }
    Ok(Entry::parse(text)?)
}
