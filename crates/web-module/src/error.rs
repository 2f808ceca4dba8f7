//! Why the app could not be compiled, and what to do.

use std::error::Error;
use std::fmt;
use std::path::PathBuf;
use std::process::ExitStatus;

/// One variant a cause. Written out by hand: what derives it would have to be compiled first.
#[derive(Debug)]
pub enum ModuleError {
    /// No standard library for the browser anywhere.
    NoStandardLibrary {
        /// What was looked at and why it would not do.
        tried: String,
    },
    /// `COMBWRIGHT_WASM` says something else.
    Choice {
        /// As set.
        value: String,
    },
    /// A program did not start.
    Start {
        /// Which.
        program: String,
        /// The system's words.
        source: std::io::Error,
    },
    /// The inner cargo failed; its own words are above.
    Cargo {
        /// How it ended.
        status: ExitStatus,
    },
    /// The list of sources could not be read.
    Read {
        /// Which file.
        path: PathBuf,
        /// The system's words.
        source: std::io::Error,
    },
}

impl fmt::Display for ModuleError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoStandardLibrary { tried } => write!(
                f,
                "the app for the browser needs Rust's standard library for WebAssembly, and there is none.\n\
                 Either:  rustup target add wasm32-unknown-unknown\n\
                 or, on Debian and Ubuntu:  sudo apt-get install rustc-web cargo-web rust-web-src lld-19\n\
                 or leave the app out of this build:  COMBWRIGHT_SKIP_WEB=1\n\
                 (tried: {tried})"
            ),
            Self::Choice { value } => write!(
                f,
                "COMBWRIGHT_WASM is {value:?}; it must be installed, rustup or debian"
            ),
            Self::Start { program, source } => write!(f, "{program} does not start: {source}"),
            Self::Cargo { status } => write!(
                f,
                "cargo could not build the app for the browser ({status}); its words are above"
            ),
            Self::Read { path, source } => write!(f, "cannot read {}: {source}", path.display()),
        }
    }
}

impl Error for ModuleError {
    fn source(&self) -> Option<&(dyn Error + 'static)> {
        match self {
            Self::Start { source, .. } | Self::Read { source, .. } => Some(source),
            _ => None,
        }
    }
}
