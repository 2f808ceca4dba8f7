//! Builds the app for the browser and lays it out to be embedded; called by the build script of `app`.
//!
//! [`build`] has `web-module` compile the `web` crate, takes its module apart ([`split`]), makes the browser's files of it
//! ([`bundle`]), compresses them ([`pack`]) and writes a Rust table of them ([`embed`]). [`left_out`] writes the same table with
//! one plain page that says the app was left out. It writes nowhere but below the build script's
//! `OUT_DIR` and the target folder around it.

pub mod bundle;
pub mod embed;
pub mod error;
pub mod pack;
pub mod split;

use std::path::{Path, PathBuf};

pub use error::BuildError;

/// Where things are.
#[derive(Debug, Clone)]
pub struct Places {
    /// The workspace's folder.
    pub workspace: PathBuf,
    /// The build script's `OUT_DIR`.
    pub out: PathBuf,
}

impl Places {
    /// The folder of the `web` crate.
    pub fn web(&self) -> PathBuf {
        self.workspace.join("crates/web")
    }

    /// The inner cargo's target folder: beside the profiles' folders, so that it outlives a new
    /// `OUT_DIR` and debug and release builds share one app; `OUT_DIR` itself where the layout is
    /// another.
    pub fn target(&self) -> PathBuf {
        self.out
            .ancestors()
            .find(|folder| folder.file_name().is_some_and(|name| name == "build"))
            .and_then(Path::parent)
            .and_then(Path::parent)
            .map_or_else(|| self.out.join("web-target"), web_module::folder)
    }
}

/// Builds the app and writes the table [`embed::TABLE`] into `OUT_DIR`.
///
/// Gives the files that it was made of, for `cargo::rerun-if-changed`.
///
/// # Errors
/// [`BuildError`], whose text says what to do.
pub fn build(places: &Places) -> Result<Vec<PathBuf>, BuildError> {
    let module = web_module::build(&places.workspace, &places.target())?;
    let files = bundle::bundle(&module.wasm, &places.web().join("assets"), &places.out)?;
    embed::write(&places.out, &pack::pack(files))?;
    let mut sources = module.sources;
    sources.push(places.web().join("assets"));
    sources.push(places.workspace.join("Cargo.lock"));
    Ok(sources)
}

/// Writes the table with one plain page that says why there is no app in it.
///
/// # Errors
/// [`BuildError::Write`] only.
pub fn left_out(places: &Places) -> Result<(), BuildError> {
    embed::write(&places.out, &pack::pack(vec![bundle::plain_page()]))
}
