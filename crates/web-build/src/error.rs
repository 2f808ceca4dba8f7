//! Why the app could not be built, and what to do.

use std::path::PathBuf;

use thiserror::Error;
use web_module::ModuleError;

/// One variant a cause.
#[derive(Debug, Error)]
pub enum BuildError {
    /// The module could not be compiled.
    #[error(transparent)]
    Module(#[from] ModuleError),
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
