//! Writing a journal out as JSON Lines; the format is told in [`exchange::lines`].

use std::io;
use std::path::{Path, PathBuf};

use exchange::{Hash, Record, lines};
use sqlx::SqliteConnection;
use tokio::io::{AsyncWrite, AsyncWriteExt, BufWriter};

use crate::error::StoreError;
use crate::journal::{Journal, sync_folder_of};
use crate::sql::{self, Rows};

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

/// What a rescue brought out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rescue {
    /// Entries written.
    pub entries: u64,
    /// Damaged entries that were left out, each as a sentence with device and number.
    pub left_out: Vec<String>,
}

impl Journal {
    /// Writes all entries to `writer`, as they stand at this moment; gives their number. Little is
    /// held in memory. Only sound entries leave: what a damaged journal cannot prove, no other can
    /// take.
    ///
    /// # Errors
    /// [`StoreError::DamagedEntry`] names the first entry that is not sound; see
    /// [`Journal::rescue_file`].
    pub async fn export<W>(
        &self,
        writer: W,
        mut progress: impl FnMut(Progress) + Send,
    ) -> Result<u64, StoreError>
    where
        W: AsyncWrite + Unpin + Send,
    {
        let mut tx = self.reading().await?;
        let entries = self.said(sql::count(&mut tx).await)?;
        let mut out = Out::new(writer, "the export", &mut progress);
        self.write_out(&mut tx, &mut out, entries, Damaged::Stop)
            .await?;
        Ok(entries)
    }

    /// Writes all entries to a file, whole or not at all: it is written beside `path` and takes its
    /// place, and that of a file there before, when it is done and on the disk.
    pub async fn export_file(
        &self,
        path: impl AsRef<Path>,
        mut progress: impl FnMut(Progress) + Send,
    ) -> Result<u64, StoreError> {
        let path = path.as_ref();
        let mut tx = self.reading().await?;
        let entries = self.said(sql::count(&mut tx).await)?;
        self.write_file(&mut tx, path, entries, Damaged::Stop, &mut progress)
            .await?;
        Ok(entries)
    }

    /// Writes the sound entries of a damaged journal to a file, as [`Journal::export_file`] does,
    /// and tells which it had to leave out. Another journal can take them in; the gaps close when a
    /// sound copy of the rest turns up.
    pub async fn rescue_file(
        &self,
        path: impl AsRef<Path>,
        mut progress: impl FnMut(Progress) + Send,
    ) -> Result<Rescue, StoreError> {
        let path = path.as_ref();
        let mut tx = self.reading().await?;
        let mut left_out = Vec::new();
        // the header tells how many follow, so they are counted first
        let entries = self.count_sound(&mut tx, &mut left_out).await?;
        self.write_file(&mut tx, path, entries, Damaged::LeaveOut, &mut progress)
            .await?;
        Ok(Rescue { entries, left_out })
    }

    async fn count_sound(
        &self,
        conn: &mut SqliteConnection,
        left_out: &mut Vec<String>,
    ) -> Result<u64, StoreError> {
        let mut rows = Rows::all();
        let mut sound = 0;
        while let Some(row) = self.said(rows.next(conn).await)? {
            match self.sound(&row) {
                Ok(_) => sound += 1,
                Err(why) => left_out.push(why.to_string()),
            }
        }
        Ok(sound)
    }

    async fn write_file(
        &self,
        conn: &mut SqliteConnection,
        path: &Path,
        entries: u64,
        damaged: Damaged,
        progress: &mut (dyn FnMut(Progress) + Send),
    ) -> Result<(), StoreError> {
        let mut part = path.as_os_str().to_owned();
        part.push(".part");
        let part = PathBuf::from(part);
        let fault = |why: io::Error| StoreError::io(path, &why);
        let done = async {
            let mut file = tokio::fs::File::create(&part).await.map_err(fault)?;
            let mut out = Out::new(&mut file, &path.to_string_lossy(), progress);
            self.write_out(conn, &mut out, entries, damaged).await?;
            file.sync_all().await.map_err(fault)?;
            std::fs::rename(&part, path).map_err(fault)
        }
        .await;
        match &done {
            Ok(()) => sync_folder_of(path),
            Err(_) => drop(std::fs::remove_file(&part)),
        }
        done
    }

    async fn write_out<W>(
        &self,
        conn: &mut SqliteConnection,
        out: &mut Out<'_, W>,
        entries: u64,
        damaged: Damaged,
    ) -> Result<(), StoreError>
    where
        W: AsyncWrite + Unpin + Send,
    {
        out.line(lines::header(entries)).await?;
        let mut rows = Rows::all();
        while let Some(row) = self.said(rows.next(conn).await)? {
            match (self.sound(&row), damaged) {
                (Ok(record), _) => {
                    out.line(record.json()).await?;
                    out.count();
                }
                (Err(why), Damaged::Stop) => return Err(why),
                (Err(_), Damaged::LeaveOut) => {}
            }
        }
        out.finish().await
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
        row.proved(prev, hash)
            .map_err(|why| damaged(why.to_string()))
    }
}

/// What to do when an entry is not sound.
#[derive(Clone, Copy)]
enum Damaged {
    Stop,
    LeaveOut,
}

/// Where lines go, and how many went.
struct Out<'a, W> {
    writer: BufWriter<W>,
    told: PathBuf,
    so_far: Progress,
    progress: &'a mut (dyn FnMut(Progress) + Send),
}

impl<'a, W: AsyncWrite + Unpin + Send> Out<'a, W> {
    fn new(writer: W, told: &str, progress: &'a mut (dyn FnMut(Progress) + Send)) -> Self {
        Self {
            writer: BufWriter::with_capacity(256 * 1024, writer),
            told: PathBuf::from(told),
            so_far: Progress {
                entries: 0,
                bytes: 0,
            },
            progress,
        }
    }

    async fn line(&mut self, mut line: String) -> Result<(), StoreError> {
        line.push('\n');
        self.so_far.bytes += line.len() as u64;
        let written = self.writer.write_all(line.as_bytes()).await;
        written.map_err(|why| StoreError::io(&self.told, &why))
    }

    fn count(&mut self) {
        self.so_far.entries += 1;
        if self.so_far.entries.is_multiple_of(STRIDE) {
            (self.progress)(self.so_far);
        }
    }

    async fn finish(&mut self) -> Result<(), StoreError> {
        let flushed = self.writer.flush().await;
        flushed.map_err(|why| StoreError::io(&self.told, &why))?;
        (self.progress)(self.so_far);
        Ok(())
    }
}

pub(crate) fn hashes(row: &sql::Row) -> Option<(Hash, Hash)> {
    Some((sql::hash(&row.prev)?, sql::hash(&row.hash)?))
}
