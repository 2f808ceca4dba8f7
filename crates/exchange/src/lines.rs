//! The export format: JSON Lines, one record a line, after a header.
//!
//! ```text
//! {"journal":"combwright","version":1,"entries":2}
//! {"prev":"0000…","hash":"51ab…","entry":{"v":1,"id":"…","device":"…","seq":1,…}}
//! {"prev":"51ab…","hash":"9c02…","entry":{"v":1,"id":"…","device":"…","seq":2,…}}
//! ```
//!
//! UTF-8; lines end with LF (CR LF is read too, empty lines are passed over). Records come by device,
//! number and hash, so two journals with the same entries give the same file to the byte; a reader
//! takes them in any order. The header says how many follow, so that a file cut off is noticed.

use serde::{Deserialize, Serialize};

use crate::error::RecordFault;
use crate::record::Record;

/// Version of the export format that this program writes.
pub const FORMAT_VERSION: u64 = 1;

const NAME: &str = "combwright";

#[derive(Serialize, Deserialize)]
struct Header {
    journal: String,
    version: u64,
    #[serde(default)]
    entries: u64,
}

/// A whole export.
pub fn export(mut records: Vec<Record>) -> String {
    records.sort_by_key(|record| (record.device, record.seq, record.hash));
    let entries = records.len();
    let mut text =
        format!(r#"{{"journal":"{NAME}","version":{FORMAT_VERSION},"entries":{entries}}}"#);
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
pub fn import(text: &str) -> Result<Vec<Record>, (usize, RecordFault)> {
    let mut lines = (1..)
        .zip(text.trim_start_matches('\u{feff}').lines())
        .filter(|(_, line)| !line.trim().is_empty());
    let (number, first) = lines.next().ok_or((
        1,
        RecordFault::Header {
            why: "the file is empty".into(),
        },
    ))?;
    let announced = header(first).map_err(|fault| (number, fault))?;
    let mut records = Vec::new();
    let mut last = number;
    for (number, line) in lines {
        last = number;
        records.push(Record::parse(line).map_err(|fault| (number, fault))?.0);
    }
    let found = records.len() as u64;
    if found == announced {
        Ok(records)
    } else {
        Err((last, RecordFault::Count { announced, found }))
    }
}

fn header(line: &str) -> Result<u64, RecordFault> {
    let bad = |why: String| RecordFault::Header { why };
    let header: Header = serde_json::from_str(line).map_err(|why| bad(why.to_string()))?;
    if header.journal != NAME {
        return Err(bad(format!("`journal` is not \"{NAME}\"")));
    }
    match header.version {
        FORMAT_VERSION => Ok(header.entries),
        0 => Err(bad("`version` is 0".into())),
        found => Err(RecordFault::NewerFormat { found }),
    }
}
