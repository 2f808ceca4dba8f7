//! Taking in an exported journal; the format is told in [`exchange::lines`].

use std::path::Path;

use exchange::LineFault;
use exchange::lines::{read_header, read_line};
use tokio::io::{AsyncBufRead, BufReader};

use crate::error::StoreError;
use crate::export::{Progress, STRIDE};
use crate::intake::{Intake, Joined, NotTaken};
use crate::journal::Journal;
use crate::line_reader::{Lines, NotRead};

impl Journal {
    /// Takes in an exported journal, all of it or nothing. Entries that are here already are passed
    /// over; little is held in memory.
    ///
    /// # Errors
    /// [`StoreError::Line`] with the first line that is not right; nothing is recorded then.
    pub async fn import<R>(
        &self,
        reader: R,
        mut progress: impl FnMut(Progress) + Send,
    ) -> Result<Joined, StoreError>
    where
        R: AsyncBufRead + Unpin + Send,
    {
        self.import_from(reader, "the import", &mut progress).await
    }

    /// Takes in an exported journal from a file; as [`Journal::import`].
    pub async fn import_file(
        &self,
        path: impl AsRef<Path>,
        mut progress: impl FnMut(Progress) + Send,
    ) -> Result<Joined, StoreError> {
        let path = path.as_ref();
        let told = path.display().to_string();
        let file = tokio::fs::File::open(path)
            .await
            .map_err(|why| StoreError::Unreadable {
                source_name: told.clone(),
                why,
            })?;
        let reader = BufReader::with_capacity(256 * 1024, file);
        self.import_from(reader, &told, &mut progress).await
    }

    async fn import_from<R>(
        &self,
        reader: R,
        source_name: &str,
        progress: &mut (dyn FnMut(Progress) + Send),
    ) -> Result<Joined, StoreError>
    where
        R: AsyncBufRead + Unpin + Send,
    {
        let mut lines = Lines::new(reader);
        let outcome = self.take_lines(&mut lines, progress).await;
        outcome.map_err(|why| match why {
            Stop::Store(why) => why,
            Stop::System(why) => StoreError::Unreadable {
                source_name: source_name.to_owned(),
                why,
            },
            Stop::Line(why) => StoreError::Line {
                source_name: source_name.to_owned(),
                line: lines.number().max(1),
                why,
            },
        })
    }

    async fn take_lines<R>(
        &self,
        lines: &mut Lines<R>,
        progress: &mut (dyn FnMut(Progress) + Send),
    ) -> Result<Joined, Stop>
    where
        R: AsyncBufRead + Unpin + Send,
    {
        let announced = match lines.next().await? {
            None => return Err(LineFault::Empty.into()),
            Some(line) => read_header(line)?,
        };
        let mut intake = Intake::begin(self).await?;
        while let Some(line) = lines.next().await? {
            let record = read_line(line)?;
            intake.take(&record).await?;
            if intake.read().is_multiple_of(STRIDE) {
                progress(Progress {
                    entries: intake.read(),
                    bytes: lines.bytes(),
                });
            }
        }
        let found = intake.read();
        if found != announced {
            return Err(LineFault::Count { announced, found }.into());
        }
        progress(Progress {
            entries: found,
            bytes: lines.bytes(),
        });
        Ok(intake.finish().await?)
    }
}

/// Why an import stops: a line, the file it comes from, or the journal itself.
enum Stop {
    Line(LineFault),
    System(std::io::Error),
    Store(StoreError),
}

impl From<LineFault> for Stop {
    fn from(why: LineFault) -> Self {
        Self::Line(why)
    }
}

impl From<NotRead> for Stop {
    fn from(why: NotRead) -> Self {
        match why {
            NotRead::Line(why) => Self::Line(why),
            NotRead::System(why) => Self::System(why),
        }
    }
}

impl From<StoreError> for Stop {
    fn from(why: StoreError) -> Self {
        Self::Store(why)
    }
}

impl From<NotTaken> for Stop {
    fn from(why: NotTaken) -> Self {
        match why {
            NotTaken::Record(why) => Self::Line(why.into()),
            NotTaken::Store(why) => Self::Store(why),
        }
    }
}
