//! One entry with its exact text and its link in the chain.

use hive::{DeviceId, Entry, EntryId};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use serde_json::value::RawValue;

use crate::error::RecordFault;
use crate::hash::Hash;

/// The longest text of an entry, in bytes: an hour of talk is about 60 KB.
pub const MAX_ENTRY: usize = 1024 * 1024;

/// An entry as it is kept: the text decides, everything else is read from it.
///
/// As JSON: `{"prev":"..","hash":"..","entry":{..}}`, the entry byte for byte. Reading proves it.
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
    ///
    /// # Errors
    /// [`RecordFault`] says which part is not right.
    pub fn proved(prev: Hash, hash: Hash, text: String) -> Result<(Self, Entry), RecordFault> {
        let entry = read(&text)?;
        if prev.followed_by(text.as_bytes()) != hash {
            return Err(RecordFault::Changed { id: entry.id });
        }
        if entry.seq == 0 || i64::try_from(entry.seq).is_err() {
            return Err(RecordFault::Number { seq: entry.seq });
        }
        if (entry.seq == 1) != (prev == Hash::ORIGIN) {
            return Err(RecordFault::Origin { seq: entry.seq });
        }
        let (device, seq, id) = (entry.device, entry.seq, entry.id);
        Ok((
            Self {
                device,
                seq,
                id,
                prev,
                hash,
                text,
            },
            entry,
        ))
    }

    /// Writes an entry down after the one with hash `prev`. Gives it back as it will be read, which
    /// is what callers must work with.
    ///
    /// # Errors
    /// [`RecordFault::NotFaithful`] or what [`Record::proved`] refuses.
    pub fn written(entry: &Entry, prev: Hash) -> Result<(Self, Entry), RecordFault> {
        let text = serde_json::to_string(entry).map_err(|_| RecordFault::NotFaithful)?;
        let hash = prev.followed_by(text.as_bytes());
        let (record, again) = Self::proved(prev, hash, text)?;
        // a foreign kind may be known here after all; what is known must come back the same
        if entry.what.known().is_some() && again != *entry {
            return Err(RecordFault::NotFaithful);
        }
        Ok((record, again))
    }

    /// The entry.
    ///
    /// # Errors
    /// None for a record that was proved by this version.
    pub fn entry(&self) -> Result<Entry, RecordFault> {
        read(&self.text)
    }

    /// Its JSON, on one line. The text is on one line already: JSON strings hold no bare line feed,
    /// and between its tokens none was let in.
    pub fn json(&self) -> String {
        format!(
            r#"{{"prev":"{}","hash":"{}","entry":{}}}"#,
            self.prev, self.hash, self.text
        )
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Shape {
    prev: Hash,
    hash: Hash,
    entry: Box<RawValue>,
}

/// Reads an entry's text without its place in the chain.
///
/// # Errors
/// [`RecordFault`] when it is no entry, too long, or not on one line.
pub fn read(text: &str) -> Result<Entry, RecordFault> {
    if text.len() > MAX_ENTRY {
        return Err(RecordFault::TooLong { bytes: text.len() });
    }
    if text.contains(['\n', '\r']) || text.trim_ascii().len() != text.len() {
        return Err(RecordFault::NotOneLine);
    }
    Ok(Entry::parse(text)?)
}

impl Serialize for Record {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let raw = RawValue::from_string(self.json()).map_err(serde::ser::Error::custom)?;
        raw.serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for Record {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let shape = Shape::deserialize(deserializer)?;
        Self::proved(shape.prev, shape.hash, shape.entry.get().to_owned())
            .map(|(record, _)| record)
            .map_err(serde::de::Error::custom)
    }
}
