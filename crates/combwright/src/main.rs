//! The one binary: the command line with the app built in.
//!
//! It is no more than that, so that everything else is compiled while the app is built.

use std::process::ExitCode;

fn main() -> ExitCode {
    cli::run(app::FILES)
}
