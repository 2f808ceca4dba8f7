//! How a journal is opened.

use std::fmt;
use std::sync::Arc;
use std::time::Duration;

use hive::DeviceId;

/// Whether a journal is opened to be written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Access {
    /// Read and write; folder and file are made on first use.
    Write,
    /// Read only; nothing is made, and the folder may be one that cannot be written.
    Read,
}

/// How a journal is opened.
#[derive(Clone)]
pub struct OpenOptions {
    pub(crate) access: Access,
    pub(crate) fresh_device: Arc<dyn Fn() -> DeviceId + Send + Sync>,
    pub(crate) patience: Duration,
    pub(crate) max_bytes: Option<u64>,
}

impl OpenOptions {
    /// To read and write. `fresh_device` makes an id that no device had before; it is called when
    /// the file first writes, and again when the file finds itself in another place.
    pub fn write(fresh_device: impl Fn() -> DeviceId + Send + Sync + 'static) -> Self {
        Self {
            access: Access::Write,
            fresh_device: Arc::new(fresh_device),
            patience: Duration::from_secs(10),
            max_bytes: None,
        }
    }

    /// Only to read.
    pub fn read() -> Self {
        Self {
            access: Access::Read,
            // never called: a journal opened to be read writes nothing
            ..Self::write(|| DeviceId(uuid::Uuid::nil()))
        }
    }

    /// How long to wait for another program that is writing; 10 seconds unless told.
    #[must_use]
    pub fn patience(mut self, patience: Duration) -> Self {
        self.patience = patience;
        self
    }

    /// The size that the file may not exceed, for a small card; a full file reads as a full disk.
    #[must_use]
    pub fn max_bytes(mut self, bytes: u64) -> Self {
        self.max_bytes = Some(bytes);
        self
    }
}

impl fmt::Debug for OpenOptions {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("OpenOptions")
            .field("access", &self.access)
            .field("patience", &self.patience)
            .field("max_bytes", &self.max_bytes)
            .finish_non_exhaustive()
    }
}
