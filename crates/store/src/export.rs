//! Writing a journal out as JSON Lines; the format is told in [`crate::lines`].

use std::io;
use std::path::{Path, PathBuf};

use futures_util::TryStreamExt;
use tokio::io::{AsyncWrite, AsyncWriteExt, BufWriter};

use crate::error::StoreError;
use crate::hash::Hash;
use crate::journal::{Journal, sync_folder_of};
use crate::lines;
use crate::record::Record;
use crate::sql;

/// How far a long work is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// Entries so far.
    pub entries: u64,
    /// Bytes read or written so far; 0 where none are counted.
    pub bytes: u64,
}

/// Entries between two words of progress.
pub(crate) const STRIDE: u64 = 500;

impl Journal {
    /// Writes all entries to `writer`, as they stand at this moment; gives their number. Little is
    /// held in memory. Only sound entries leave: what a damaged journal cannot prove, no other can
    /// take.
    ///
    /// # Errors
    /// [`StoreError::DamagedEntry`] names the first entry that is not sound.
    pub async fn export<W>(
        &self,
        writer: W,
        mut progress: impl FnMut(Progress) + Send,
    ) -> Result<u64, StoreError>
    where
        W: AsyncWrite + Unpin + Send,
    {
        let out = PathBuf::from("the export");
        self.export_to(writer, &out, &mut progress).await
    }

    /// Writes all entries to a file, whole or not at all: it is written beside `path` and takes its
    /// place, and that of a file there before, when it is done and on the disk.
    pub async fn export_file(
        &self,
        path: impl AsRef<Path>,
        mut progress: impl FnMut(Progress) + Send,
    ) -> Result<u64, StoreError> {
        let path = path.as_ref();
        let mut part = path.as_os_str().to_owned();
        part.push(".part");
        let part = PathBuf::from(part);
        let done = self.export_part(&part, &mut progress).await;
        let placed = match done {
            Ok(entries) => std::fs::rename(&part, path)
                .map(|()| entries)
                .map_err(|why| StoreError::io(path, &why)),
            Err(why) => Err(why),
        };
        match &placed {
            Ok(_) => sync_folder_of(path),
            Err(_) => drop(std::fs::remove_file(&part)),
        }
        placed
    }

    async fn export_part(
        &self,
        part: &Path,
        progress: &mut (dyn FnMut(Progress) + Send),
    ) -> Result<u64, StoreError> {
        let fault = |why: io::Error| StoreError::io(part, &why);
        let mut file = tokio::fs::File::create(part).await.map_err(fault)?;
        let entries = self.export_to(&mut file, part, progress).await?;
        file.sync_all().await.map_err(fault)?;
        Ok(entries)
    }

    async fn export_to<W>(
        &self,
        writer: W,
        out: &Path,
        progress: &mut (dyn FnMut(Progress) + Send),
    ) -> Result<u64, StoreError>
    where
        W: AsyncWrite + Unpin + Send,
    {
        let fault = |why: io::Error| StoreError::io(out, &why);
        let mut writer = BufWriter::with_capacity(256 * 1024, writer);
        let mut tx = self.reading().await?;
        let (announced, _) = self.said(sql::count(&mut tx).await)?;
        let mut so_far = Progress {
            entries: 0,
            bytes: 0,
        };
        let mut line = lines::header(announced);
        let mut rows = sql::rows(&mut tx);
        loop {
            line.push('\n');
            writer.write_all(line.as_bytes()).await.map_err(fault)?;
            so_far.bytes += line.len() as u64;
            let Some(row) = self.said(rows.try_next().await)? else {
                break;
            };
            let record = self.sound(&row)?;
            line = lines::line(&record.prev, &record.hash, &record.text);
            so_far.entries += 1;
            if so_far.entries.is_multiple_of(STRIDE) {
                progress(so_far);
            }
        }
        writer.flush().await.map_err(fault)?;
        progress(so_far);
        Ok(so_far.entries)
    }

    /// A row of this journal proved, or the error that names it.
    fn sound(&self, row: &sql::Row) -> Result<Record, StoreError> {
        let damaged = |why: String| StoreError::DamagedEntry {
            path: self.place.path.clone(),
            device: row.device_told(),
            seq: row.seq,
            why,
        };
        let (prev, hash) = hashes(row).ok_or_else(|| damaged("its hash is not one".into()))?;
        let (record, _) =
            Record::proved(prev, hash, &row.text).map_err(|why| damaged(why.to_string()))?;
        Ok(record)
    }
}

pub(crate) fn hashes(row: &sql::Row) -> Option<(Hash, Hash)> {
    Some((sql::hash(&row.prev)?, sql::hash(&row.hash)?))
}
