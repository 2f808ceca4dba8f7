//! The export format: JSON Lines, one entry a line after a header.
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

use crate::error::LineFault;
use crate::hash::Hash;
use crate::record::{MAX_ENTRY, Record};

/// Version of the export format that this program writes.
pub const FORMAT_VERSION: u64 = 1;

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

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Line<'a> {
    prev: String,
    hash: String,
    #[serde(borrow)]
    entry: &'a RawValue,
}

/// A whole export.
pub fn export(mut records: Vec<Record>) -> String {
    records.sort_by_key(|record| (record.device, record.seq, record.hash));
    let entries = records.len();
    let mut text = header(entries as u64);
    for record in &records {
        text.push('\n');
        text.push_str(&record.json());
    }
    text.push('\n');
    text
}

/// Reads a whole export, proving every record; all or nothing.
///
/// # Errors
/// The number of the line, from 1, and what is wrong with it.
pub fn import(text: &str) -> Result<Vec<Record>, (usize, LineFault)> {
    let mut lines = (1..)
        .zip(text.lines())
        .filter(|(_, line)| !line.trim().is_empty());
    let (number, first) = lines.next().ok_or((1, LineFault::Empty))?;
    let announced = read_header(first.as_bytes()).map_err(|fault| (number, fault))?;
    let mut records = Vec::new();
    let mut last = number;
    for (number, line) in lines {
        last = number;
        records.push(read_line(line.as_bytes()).map_err(|fault| (number, fault))?);
    }
    let found = records.len() as u64;
    if found == announced {
        Ok(records)
    } else {
        Err((last, LineFault::Count { announced, found }))
    }
}

/// The header line of an export with so many entries, without its end.
pub fn header(entries: u64) -> String {
    format!(r#"{{"journal":"{NAME}","version":{FORMAT_VERSION},"entries":{entries}}}"#)
}

/// Reads the header; gives how many entries it announces.
///
/// # Errors
/// [`LineFault::Header`] or [`LineFault::NewerFormat`].
pub fn read_header(line: &[u8]) -> Result<u64, LineFault> {
    let bad = |why: String| LineFault::Header { why };
    let text = std::str::from_utf8(line).map_err(|_| bad("it is not text".into()))?;
    let text = text.trim_start_matches('\u{feff}');
    // an object, whatever else it holds: a newer header must be told from a wrong one
    let header: Header =
        serde_json::from_str(text).map_err(|_| bad("it is another kind of file".into()))?;
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
///
/// # Errors
/// [`LineFault`] says which part of the line is not right.
pub fn read_line(line: &[u8]) -> Result<Record, LineFault> {
    if line.len() > MAX_LINE {
        return Err(LineFault::TooLong);
    }
    let text = std::str::from_utf8(line).map_err(|why| LineFault::NotText {
        at: why.valid_up_to() + 1,
    })?;
    let line: Line<'_> = serde_json::from_str(text).map_err(|why| {
        if why.is_eof() {
            return LineFault::CutOff;
        }
        LineFault::Form {
            why: why.to_string(),
        }
    })?;
    let hash = |text: &str, field| {
        text.parse::<Hash>()
            .map_err(|_| LineFault::NotAHash { field })
    };
    let (record, _) = Record::proved(
        hash(&line.prev, "prev")?,
        hash(&line.hash, "hash")?,
        line.entry.get().to_owned(),
    )?;
    Ok(record)
}
