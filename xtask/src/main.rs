//! Chores of the workspace, in Rust so that they run wherever cargo does.
//!
//! `cargo xtask tidy` fails where documents and code have come apart; `cargo xtask audit` checks the
//! dependencies' licences, sources and, where the network allows, known weaknesses;
//! `cargo xtask ci` runs what CI runs.

mod audit;
mod tidy;

use std::path::PathBuf;
use std::process::{Command, ExitCode};

fn main() -> ExitCode {
    let chore = std::env::args().nth(1).unwrap_or_default();
    let outcome = match chore.as_str() {
        "tidy" => tidy::tidy(&root()),
        "audit" => audit::audit(&root()),
        "ci" => run(Command::new("bash").arg(".ci/run").current_dir(root())),
        _ => Err("usage: cargo xtask tidy | audit | ci".to_owned()),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(faults) => {
            eprintln!("{faults}");
            ExitCode::FAILURE
        }
    }
}

/// The workspace's folder.
fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .parent()
        .expect("xtask lies in the workspace")
        .to_path_buf()
}

/// Runs a command to its end.
fn run(command: &mut Command) -> Result<(), String> {
    let status = command
        .status()
        .map_err(|e| format!("{} does not start: {e}", command.get_program().display()))?;
    if status.success() {
        Ok(())
    } else {
        Err(format!(
            "{} ended with {status}",
            command.get_program().display()
        ))
    }
}
