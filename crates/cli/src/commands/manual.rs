//! Completions for the shell, and manual pages.

use std::path::{Path, PathBuf};

use clap::CommandFactory;

use crate::args::Cli;
use crate::failure::Failure;
use crate::out;

/// Prints completions.
#[expect(clippy::unnecessary_wraps, reason = "commands share one shape")]
pub(crate) fn completions(shell: clap_complete::Shell) -> Result<(), Failure> {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Cli::command(), "combwright", &mut script);
    out::line(String::from_utf8_lossy(&script).trim_end());
    Ok(())
}

/// Prints the main page, or writes all pages.
pub(crate) fn man(folder: Option<PathBuf>) -> Result<(), Failure> {
    let command = Cli::command();
    let Some(folder) = folder else {
        let mut page = Vec::new();
        clap_mangen::Man::new(command)
            .render(&mut page)
            .map_err(|why| cannot(None, &why))?;
        out::line(String::from_utf8_lossy(&page).trim_end());
        return Ok(());
    };
    std::fs::create_dir_all(&folder).map_err(|why| cannot(Some(&folder), &why))?;
    clap_mangen::generate_to(command, &folder).map_err(|why| cannot(Some(&folder), &why))?;
    out::line(format!("Manual pages written to {}", folder.display()));
    Ok(())
}

fn cannot(folder: Option<&Path>, why: &std::io::Error) -> Failure {
    let place = folder.map_or_else(String::new, |f| format!(" into {}", f.display()));
    Failure::input(format!("the manual cannot be written{place}: {why}"))
}
