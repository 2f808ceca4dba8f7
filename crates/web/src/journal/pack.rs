//! Packs: the texts of rows that are long there, many in one value, so that a start asks the database for a
//! few values instead of thousands.
//!
//! A pack repeats what its rows hold and is never the only place of it. Only sound rows are packed, and a
//! row's text never changes, so a pack is written once and stays true. Where there is none, or it is not
//! whole, the rows are read.

use std::fmt::Write as _;
use std::time::Duration;

use super::db::{For, Tx};
use super::error::JournalError;
use super::kept::Kept;
use crate::browser::nap::Nap;
use crate::browser::storage;

/// Rows in a pack.
const ROWS: usize = 500;

/// No packs are made where less is left to this app, in bytes: what is left is for entries.
const SPARE: f64 = 64e6;

/// Between two packs, for whatever else wants the database.
const BREATH: Duration = Duration::from_millis(100);

/// What a pack holds.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Pack<'a> {
    /// The place behind which its rows begin.
    pub(super) after: u64,
    /// The place of its last row.
    pub(super) upto: u64,
    /// One a row, in order.
    pub(super) texts: Vec<&'a str>,
}

impl<'a> Pack<'a> {
    /// Packs the texts of rows; `None` when one of them is damaged, or would not come back as it was.
    fn of(after: u64, upto: u64, texts: &'a [Option<String>]) -> Option<Self> {
        let sound = |text: &'a Option<String>| text.as_deref().filter(|text| !text.contains('\n'));
        Some(Self {
            after,
            upto,
            texts: texts.iter().map(sound).collect::<Option<_>>()?,
        })
    }

    /// As it is kept: a line about itself, then a line a row.
    fn written(&self) -> String {
        let length: usize = self.texts.iter().map(|text| text.len() + 1).sum();
        let mut written = String::with_capacity(length + 64);
        // writing to a string cannot fail
        let _ = write!(written, "{} {} {}", self.after, self.upto, self.texts.len());
        for text in &self.texts {
            written.push('\n');
            written.push_str(text);
        }
        written
    }

    /// Reads what [`Pack::written`] wrote; `None` when it is not whole.
    pub(super) fn read(written: &'a str) -> Option<Self> {
        let (about, texts) = written.split_once('\n')?;
        let mut about = about.split(' ');
        let mut number = || about.next()?.parse::<u64>().ok();
        let (after, upto, rows) = (number()?, number()?, number()?);
        let texts: Vec<_> = texts.split('\n').collect();
        (texts.len() as u64 == rows).then_some(Self { after, upto, texts })
    }
}

impl Kept {
    /// Packs what has come to be enough for it. What fails is tried again at a later round, and costs
    /// nothing but time at the next start.
    pub(super) async fn pack(&self) {
        let enough = |packed: u64| self.folded() >= packed + ROWS as u64;
        if !enough(self.packed.get()) || storage::room().await.is_some_and(|room| room < SPARE) {
            return;
        }
        while enough(self.packed.get()) {
            match self.pack_next().await {
                Ok(Some(upto)) => self.packed.set(upto),
                Ok(None) | Err(_) => return,
            }
            Nap::default().sleep(BREATH).await;
        }
    }

    /// Writes the next pack, over one of the same rows that was not whole; the place of its last row, `None`
    /// when there are not yet rows for it.
    async fn pack_next(&self) -> Result<Option<u64>, JournalError> {
        let after = self.packed.get();
        let page = self
            .db
            .begin(For::Reading)?
            .texts(after, ROWS as u32)
            .await?;
        if page.texts.len() < ROWS {
            return Ok(None);
        }
        let Some(pack) = Pack::of(after, page.last, &page.texts) else {
            return Ok(None);
        };
        // another tab writes the same rows under the same name
        let tx = self.db.begin(For::Writing)?;
        tx.set_text(&name(pack.upto), &pack.written()).await?;
        tx.finish().await?;
        Ok(Some(pack.upto))
    }
}

const BEGINNING: &str = "pack:";

/// Under which name a pack is kept: in the order of names they follow each other.
fn name(upto: u64) -> String {
    format!("{BEGINNING}{upto:016}")
}

impl Tx {
    /// All packs, in order, as they are kept.
    pub(super) async fn packs(&self) -> Result<Vec<String>, JournalError> {
        self.texts_named(BEGINNING).await
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(texts: &[&str]) -> Vec<Option<String>> {
        texts.iter().map(|text| Some((*text).to_owned())).collect()
    }

    #[test]
    fn what_is_packed_comes_back() {
        let rows = texts(&[r#"{"v":1,"by":"Ä\n"}"#, r#"{"v":2}"#, ""]);
        let pack = Pack::of(500, 1004, &rows).expect("sound");
        let written = pack.written();
        assert_eq!(Pack::read(&written), Some(pack));
    }

    #[test]
    fn what_is_not_whole_is_not_read() {
        let rows = texts(&["{}", "{}", "{}"]);
        let written = Pack::of(0, 3, &rows).expect("sound").written();
        let cut = &written[..written.len() - 3];
        assert_eq!(Pack::read(cut), None);
        for spoilt in ["", "0 3", "\n{}", "0 x 1\n{}", "0 3 2\n{}"] {
            assert_eq!(Pack::read(spoilt), None, "{spoilt}");
        }
    }

    #[test]
    fn a_damaged_row_is_not_packed_nor_one_of_two_lines() {
        assert_eq!(Pack::of(0, 2, &[Some("{}".to_owned()), None]), None);
        assert_eq!(Pack::of(0, 1, &texts(&["{\n}"])), None);
    }

    #[test]
    fn names_follow_in_the_order_of_places() {
        let mut names = [name(100_000), name(999), name(1_000_000_000)];
        names.sort();
        assert_eq!(names, [name(999), name(100_000), name(1_000_000_000)]);
    }
}
