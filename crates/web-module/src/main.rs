//! Begins to compile the app for the browser, ahead of the build that needs it.
//!
//! Silent: whatever fails here fails again there, and is told then.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

fn main() -> ExitCode {
    let workspace = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let workspace = workspace.canonicalize().unwrap_or(workspace);
    let target = std::env::var_os("CARGO_TARGET_DIR").map_or_else(
        || workspace.join("target"),
        // a relative one is meant from the workspace, where cargo was called
        |told| workspace.join(PathBuf::from(told)),
    );
    match web_module::build(&workspace, &web_module::folder(&target)) {
        Ok(_) => ExitCode::SUCCESS,
        Err(_) => ExitCode::FAILURE,
    }
}
