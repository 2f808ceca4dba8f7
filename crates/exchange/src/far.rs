//! The journal over the wire.

use thiserror::Error;

use crate::wire::{Problem, Pull, Pulled, Push, Pushed};

/// The journal over the wire.
#[expect(async_fn_in_trait, reason = "used from one thread, never boxed")]
pub trait Far {
    /// Gives it records; when it answers they are durable there.
    async fn push(&self, push: &Push) -> Result<Pushed, FarError>;
    /// Asks for records in order of arrival.
    async fn pull(&self, pull: Pull) -> Result<Pulled, FarError>;
}

/// Why the far side did not do it.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum FarError {
    /// No answer: off the air, switched off, too slow. Try again later.
    #[error("the server cannot be reached")]
    Unreachable {
        /// The browser's or system's words, for the log.
        why: String,
    },
    /// This device is not paired, or no longer.
    #[error("this device is not paired with the server")]
    Unpaired,
    /// Too many requests; try again after so many seconds.
    #[error("the server asks to wait {seconds} s")]
    Wait {
        /// How long.
        seconds: u32,
    },
    /// It was refused; asking the same again will not help.
    #[error("the server refused: {}", .0.detail.as_deref().unwrap_or(&.0.title))]
    Refused(Problem),
    /// It answered with something that is not the exchange's language.
    #[error("the server's answer cannot be read: {why}")]
    Garbled {
        /// The reader's words.
        why: String,
    },
}

impl FarError {
    /// Whether trying again later, unchanged, can help.
    pub const fn passes(&self) -> bool {
        matches!(self, Self::Unreachable { .. } | Self::Wait { .. })
    }
}
