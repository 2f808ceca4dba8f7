//! Builds the browser app and embeds it, or embeds a page that says it was left out.
//!
//! `COMBWRIGHT_SKIP_WEB=1` leaves it out, `=0` builds it. If not set: a release build has it, a
//! development build (check, clippy, test, an editor) has not, so that those need no WebAssembly
//! and stay quick.

use std::path::PathBuf;
use std::process::ExitCode;

use web_build::Places;

fn main() -> ExitCode {
    println!("cargo::rerun-if-env-changed=COMBWRIGHT_SKIP_WEB");
    println!("cargo::rerun-if-env-changed=COMBWRIGHT_WASM");
    println!("cargo::rerun-if-changed=build.rs");
    let folder = |name: &str| {
        std::env::var_os(name)
            .map(PathBuf::from)
            .unwrap_or_default()
    };
    let places = Places {
        workspace: folder("CARGO_MANIFEST_DIR")
            .join("../..")
            .canonicalize()
            .unwrap_or_default(),
        out: folder("OUT_DIR"),
    };
    let outcome = if left_out() {
        web_build::left_out(&places)
    } else {
        web_build::build(&places).map(|sources| {
            for source in sources {
                println!("cargo::rerun-if-changed={}", source.display());
            }
        })
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            for line in why.to_string().lines() {
                println!("cargo::error={line}");
            }
            ExitCode::FAILURE
        }
    }
}

fn left_out() -> bool {
    match std::env::var("COMBWRIGHT_SKIP_WEB").as_deref() {
        Ok("" | "0") => false,
        Ok(_) => true,
        Err(_) => std::env::var("PROFILE").is_ok_and(|profile| profile == "debug"),
    }
}
