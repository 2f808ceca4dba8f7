//! The app's files, built in.
//!
//! A crate by itself, which only the program and the tests in a browser use: building the app takes
//! longest, and everything else is compiled meanwhile. The build script tells how it is left out.

use server::Embedded;

/// All files of the app, or the one page that says it was left out.
pub static FILES: &[Embedded] = &include!(concat!(env!("OUT_DIR"), "/embedded.rs"));
