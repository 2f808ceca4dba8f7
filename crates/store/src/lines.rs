//! The export format: JSON Lines, one entry a line.
//!
//! ```text
//! {"journal":"combwright","version":1,"entries":2}
//! {"prev":"0000…","hash":"51ab…","entry":{"v":1,"id":"…","device":"…","seq":1,…}}
//! {"prev":"51ab…","hash":"9c02…","entry":{"v":1,"id":"…","device":"…","seq":2,…}}
//! ```
//!
//! - UTF-8, lines end with LF (CR LF is read too, empty lines are passed over).
//! - Line 1 is the header: `journal` is always `"combwright"`, `version` that of this format,
//!   `entries` how many follow, so that a file cut off is noticed.
//! - Every other line is one entry: `entry` is its text byte for byte as its device wrote it (kinds and
//!   fields that this program does not know included), `prev` the hash of the entry before it on
//!   that device (64 zeros for the first), `hash` = SHA-256 over the 32 bytes of `prev` followed by
//!   the bytes of `entry`, both as 64 lower-case hexadecimal digits. Every line can be proved alone.
//! - Entries come by device, number and hash, so two journals with the same entries give the same
//!   file to the byte. A reader takes them in any order.

use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;
use tokio::io::{AsyncBufRead, AsyncBufReadExt};

use crate::error::LineFault;
use crate::hash::Hash;
use crate::record::Record;

/// Version of the export format that this program writes.
pub const FORMAT_VERSION: u64 = 1;

/// The longest text of an entry, in bytes: an hour of talk is about 60 KB.
pub const MAX_ENTRY: usize = 1024 * 1024;

/// The longest line of an export, in bytes: an entry and its two hashes.
pub const MAX_LINE: usize = MAX_ENTRY + 1024;

const NAME: &str = "combwright";

#[derive(Serialize, Deserialize)]
struct Header {
    journal: String,
    version: u64,
    #[serde(default)]
    entries: u64,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Line<'a> {
    prev: String,
    hash: String,
    #[serde(borrow)]
    entry: &'a RawValue,
}

/// The header line, without its end.
pub(crate) fn header(entries: u64) -> String {
    format!(r#"{{"journal":"{NAME}","version":{FORMAT_VERSION},"entries":{entries}}}"#)
}

/// One entry's line, without its end. `text` is on one line already: JSON strings hold no bare LF,
/// and what was read from a line had none between its tokens.
pub(crate) fn line(prev: &Hash, hash: &Hash, text: &str) -> String {
    format!(r#"{{"prev":"{prev}","hash":"{hash}","entry":{text}}}"#)
}

/// Reads the header; gives how many entries it announces.
pub(crate) fn read_header(line: &[u8]) -> Result<u64, LineFault> {
    let bad = |why: String| LineFault::Header { why };
    let text = std::str::from_utf8(line).map_err(|_| bad("it is not text".into()))?;
    let text = text.trim_start_matches('\u{feff}');
    // an object, whatever else it holds: a newer header must be told from a wrong one
    let header: Header = serde_json::from_str(text).map_err(|why| bad(why.to_string()))?;
    if header.journal != NAME {
        return Err(bad(format!("`journal` is not \"{NAME}\"")));
    }
    match header.version {
        FORMAT_VERSION => Ok(header.entries),
        0 => Err(bad("`version` is 0".into())),
        found => Err(LineFault::NewerFormat { found }),
    }
}

/// Reads and proves one entry's line. Never panics, whatever the bytes.
pub fn read_line(line: &[u8]) -> Result<Record, LineFault> {
    if line.len() > MAX_LINE {
        return Err(LineFault::TooLong);
    }
    let text = std::str::from_utf8(line).map_err(|why| LineFault::NotText {
        at: why.valid_up_to() + 1,
    })?;
    let line: Line<'_> = serde_json::from_str(text).map_err(|why| LineFault::Form {
        why: why.to_string(),
    })?;
    let hash = |text: &str, field| {
        text.parse::<Hash>()
            .map_err(|_| LineFault::NotAHash { field })
    };
    let (record, _) = Record::proved(
        hash(&line.prev, "prev")?,
        hash(&line.hash, "hash")?,
        line.entry.get().as_bytes(),
    )?;
    Ok(record)
}

/// Takes lines off a reader, never more than [`MAX_LINE`] bytes of it in memory.
pub(crate) struct Lines<R> {
    reader: R,
    line: Vec<u8>,
    number: u64,
    bytes: u64,
}

impl<R: AsyncBufRead + Unpin> Lines<R> {
    pub(crate) fn new(reader: R) -> Self {
        Self {
            reader,
            line: Vec::new(),
            number: 0,
            bytes: 0,
        }
    }

    /// Number of the line last read, from 1.
    pub(crate) fn number(&self) -> u64 {
        self.number
    }

    /// Bytes read so far.
    pub(crate) fn bytes(&self) -> u64 {
        self.bytes
    }

    /// The next line that is not empty, without its end; `None` at the end of the file.
    pub(crate) async fn next(&mut self) -> Result<Option<&[u8]>, LineFault> {
        loop {
            self.line.clear();
            self.number += 1;
            if !self.fill().await? {
                self.number -= 1;
                return Ok(None);
            }
            if !self.line.trim_ascii().is_empty() {
                break;
            }
        }
        Ok(Some(self.line.trim_ascii()))
    }

    /// Reads up to and without the next LF; false at the end of the file.
    async fn fill(&mut self) -> Result<bool, LineFault> {
        let mut any = false;
        loop {
            let part = self.reader.fill_buf().await?;
            if part.is_empty() {
                return Ok(any);
            }
            any = true;
            let end = part.iter().position(|&byte| byte == b'\n');
            let taken = end.unwrap_or(part.len());
            if self.line.len() + taken > MAX_LINE {
                return Err(LineFault::TooLong);
            }
            self.line.extend_from_slice(&part[..taken]);
            let used = taken + usize::from(end.is_some());
            self.reader.consume(used);
            self.bytes += used as u64;
            if end.is_some() {
                return Ok(true);
            }
        }
    }
}
