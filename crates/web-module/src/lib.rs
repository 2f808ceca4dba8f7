//! Compiles the browser app to a WebAssembly module.
//!
//! [`build`] finds a standard library for WebAssembly ([`toolchain`]) and runs cargo on the `web` crate in a
//! folder of its own ([`cargo`]). That takes longest of everything, most of it on one core, so this
//! crate needs nothing but the standard library: `./run` has it begin before the rest is looked at, and
//! whoever asks for the module afterwards (`web-build`, for the build script of `app`) waits for the same folder and finds it done.

pub mod cargo;
pub mod error;
pub mod toolchain;

use std::path::{Path, PathBuf};

pub use cargo::Module;
pub use error::ModuleError;

/// The inner cargo's target folder, in the outer one's: beside the profiles' folders, so that debug and
/// release builds share one app.
pub fn folder(target: &Path) -> PathBuf {
    target.join("web-target")
}

/// Builds the module.
///
/// `workspace` is the workspace's folder, `folder` the inner cargo's target folder.
///
/// # Errors
/// [`ModuleError`], whose text says what to do.
pub fn build(workspace: &Path, folder: &Path) -> Result<Module, ModuleError> {
    cargo::build(workspace, folder, &toolchain::find()?)
}
