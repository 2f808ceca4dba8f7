//! The dependency audit: cargo-deny, built once into the target folder.

use std::path::Path;
use std::process::Command;

use crate::run;

/// Pinned, so that a clean machine builds what was tried.
const CARGO_DENY: &str = "0.20.2";

/// Licences, sources and bans always; advisories when the database can be fetched.
pub fn audit(root: &Path) -> Result<(), String> {
    let tools = root.join("target/tools");
    let deny = tools.join("bin/cargo-deny");
    if !deny.exists() {
        println!("building cargo-deny {CARGO_DENY} (once)");
        run(Command::new("cargo")
            .args([
                "install",
                "cargo-deny",
                "--version",
                CARGO_DENY,
                "--locked",
                "--quiet",
            ])
            .arg("--no-default-features")
            .arg("--root")
            .arg(&tools))?;
    }
    run(Command::new(&deny)
        .args([
            "--log-level",
            "error",
            "check",
            "bans",
            "licenses",
            "sources",
        ])
        .current_dir(root))?;
    if !fetches_advisories(&deny, root) {
        println!("advisories: the database cannot be fetched here, NOT checked this time");
        return Ok(());
    }
    run(Command::new(&deny)
        .args(["check", "--disable-fetch", "advisories"])
        .current_dir(root))
}

fn fetches_advisories(deny: &Path, root: &Path) -> bool {
    Command::new(deny)
        .args(["--log-level", "off", "fetch", "db"])
        .current_dir(root)
        .output()
        .is_ok_and(|output| output.status.success())
}
