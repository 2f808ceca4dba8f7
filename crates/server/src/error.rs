//! Why the server does not run.

use std::path::PathBuf;

use thiserror::Error;

/// One variant a cause.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum ServerError {
    /// The port is taken or not allowed.
    #[error("cannot listen on port {port}: {source}")]
    Listen {
        /// Which.
        port: u16,
        /// The system's words.
        source: std::io::Error,
    },
    /// A file of the data folder.
    #[error("cannot {act} {}: {source}", path.display())]
    File {
        /// "read" or "write".
        act: &'static str,
        /// Which.
        path: PathBuf,
        /// The system's words.
        source: std::io::Error,
    },
    /// A file of the data folder that is not what it was.
    #[error("{} is damaged: {why}; move it away and it is made anew, and pair devices again", path.display())]
    Damaged {
        /// Which.
        path: PathBuf,
        /// What is wrong.
        why: String,
    },
    /// The certificate could not be made.
    #[error("cannot make the certificate: {0}")]
    Certificate(String),
    /// The system gives no randomness.
    #[error("the system gives no random numbers: {0}")]
    Random(String),
    /// The listener broke off.
    #[error("the server stopped: {0}")]
    Stopped(std::io::Error),
}
