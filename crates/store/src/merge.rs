//! Taking in another journal file.

use std::path::Path;

use exchange::{Record, RecordFault};

use crate::error::StoreError;
use crate::export::{Progress, STRIDE, hashes};
use crate::intake::{Intake, Joined, NotTaken};
use crate::journal::Journal;
use crate::options::OpenOptions;
use crate::sql::{Row, Rows};

impl Journal {
    /// Takes in all entries of the journal file `other`, all of them or nothing. The other file is
    /// only read. Merging in any order, and any number of times, gives the same journal.
    ///
    /// # Errors
    /// [`StoreError::Other`] names the first entry of the other journal that is not sound or
    /// contradicts this one; the other file's faults as for [`Journal::open`].
    pub async fn merge(
        &self,
        other: impl AsRef<Path>,
        mut progress: impl FnMut(Progress) + Send,
    ) -> Result<Joined, StoreError> {
        let other = other.as_ref();
        if same_file(self.path(), other) {
            return Err(StoreError::Itself {
                path: other.to_path_buf(),
            });
        }
        let theirs = Self::open(other, OpenOptions::read()).await?;
        let joined = self.merge_from(&theirs, &mut progress).await;
        theirs.close().await;
        joined
    }

    /// Takes in all entries of another open journal; as [`Journal::merge`].
    pub async fn merge_from(
        &self,
        theirs: &Self,
        progress: &mut (dyn FnMut(Progress) + Send),
    ) -> Result<Joined, StoreError> {
        let mut intake = Intake::begin(self).await?;
        let mut reading = theirs.reading().await?;
        let mut rows = Rows::all();
        while let Some(row) = theirs.said(rows.next(&mut reading).await)? {
            let taken = match proved(&row) {
                Ok(record) => intake.take(&record).await,
                Err(why) => Err(NotTaken::Record(why)),
            };
            taken.map_err(|why| match why {
                NotTaken::Store(why) => why,
                NotTaken::Record(why) => StoreError::Other {
                    path: theirs.place.path.clone(),
                    device: row.device_told(),
                    seq: row.seq,
                    why,
                },
            })?;
            if intake.read().is_multiple_of(STRIDE) {
                progress(Progress {
                    entries: intake.read(),
                    bytes: 0,
                });
            }
        }
        progress(Progress {
            entries: intake.read(),
            bytes: 0,
        });
        intake.finish().await
    }
}

fn proved(row: &Row) -> Result<Record, RecordFault> {
    let (prev, hash) = hashes(row).ok_or(RecordFault::NotText)?;
    row.proved(prev, hash)
}

fn same_file(one: &Path, other: &Path) -> bool {
    match (one.canonicalize(), other.canonicalize()) {
        (Ok(one), Ok(other)) => one == other,
        _ => false,
    }
}
