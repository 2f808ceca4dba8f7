//! Takes an export line by line off a reader; the lines are told in [`exchange::lines`].

use std::io;

use exchange::LineFault;
use exchange::lines::MAX_LINE;
use tokio::io::{AsyncBufRead, AsyncBufReadExt};

/// Why there is no line.
pub(crate) enum NotRead {
    /// It is too long to be one.
    Line(LineFault),
    /// The reader failed.
    System(io::Error),
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
    pub(crate) async fn next(&mut self) -> Result<Option<&[u8]>, NotRead> {
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
    async fn fill(&mut self) -> Result<bool, NotRead> {
        let mut any = false;
        loop {
            let part = self.reader.fill_buf().await.map_err(NotRead::System)?;
            if part.is_empty() {
                return Ok(any);
            }
            any = true;
            let end = part.iter().position(|&byte| byte == b'\n');
            let taken = end.unwrap_or(part.len());
            if self.line.len() + taken > MAX_LINE {
                return Err(NotRead::Line(LineFault::TooLong));
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
