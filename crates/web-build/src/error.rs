//! Why the app could not be built, and what to do.

use std::path::PathBuf;

use thiserror::Error;

/// One variant a cause.
#[derive(Debug, Error)]
pub enum BuildError {
    /// No standard library for the browser anywhere.
    #[error(
        "the app for the browser needs Rust's standard library for WebAssembly, and there is none.\n\
         Either:  rustup target add wasm32-unknown-unknown\n\
         or, on Debian and Ubuntu:  sudo apt-get install rustc-web cargo-web rust-web-src lld-19\n\
         or leave the app out of this build:  COMBWRIGHT_SKIP_WEB=1\n\
         (tried: {tried})"
    )]
    NoStandardLibrary {
        /// What was looked at and why it would not do.
        tried: String,
    },
    /// `COMBWRIGHT_WASM` says something else.
    #[error("COMBWRIGHT_WASM is {value:?}; it must be installed, rustup or debian")]
    Choice {
        /// As set.
        value: String,
    },
    /// A program did not start.
    #[error("{program} does not start: {source}")]
    Start {
        /// Which.
        program: String,
        /// The system's words.
        source: std::io::Error,
    },
    /// The inner cargo failed; its own words are above.
    #[error("cargo could not build the app for the browser ({status}); its words are above")]
    Cargo {
        /// How it ended.
        status: std::process::ExitStatus,
    },
    /// The module could not be taken apart.
    #[error("the module could not be split: {0}")]
    Split(String),
    /// The module could not be made ready for the browser.
    #[error("wasm-bindgen: {0}")]
    Bindgen(String),
    /// A file could not be read.
    #[error("cannot read {}: {source}", path.display())]
    Read {
        /// Which.
        path: PathBuf,
        /// The system's words.
        source: std::io::Error,
    },
    /// A file could not be written.
    #[error("cannot write {}: {source}", path.display())]
    Write {
        /// Which.
        path: PathBuf,
        /// The system's words.
        source: std::io::Error,
    },
    /// A placeholder in one of the app's own files that nothing fills.
    #[error("{file}: {{{{{name}}}}} is not known")]
    Placeholder {
        /// In which file.
        file: String,
        /// Its name.
        name: String,
    },
}
