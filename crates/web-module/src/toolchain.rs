//! Finds a Rust that can build for the browser.
//!
//! In this order: the running toolchain, when its library for the target is installed; rustup,
//! asked to install it; Debian's packages, which carry the library's source and build it once.
//! `COMBWRIGHT_WASM` = `installed`, `rustup` or `debian` picks one.

use std::path::{Path, PathBuf};
use std::process::Command;

use crate::error::ModuleError;

/// The target of the app.
pub const TARGET: &str = "wasm32-unknown-unknown";

/// A Rust that can build for the browser.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Toolchain {
    /// The running one: its library for the target is there.
    Installed {
        /// Its cargo.
        cargo: PathBuf,
    },
    /// Debian's, which builds the library from source.
    Debian {
        /// The linker to use.
        linker: PathBuf,
    },
}

/// Debian's compiler, its cargo, and the library's source.
const DEBIAN_RUSTC: &str = "/usr/bin/rustc";
pub(crate) const DEBIAN_CARGO: &str = "/usr/bin/cargo";
const DEBIAN_SOURCE: &str = "lib/rustlib/src/rust/library/std/Cargo.toml";

/// Finds one, installing the target by rustup where that is possible.
pub fn find() -> Result<Toolchain, ModuleError> {
    let choice = std::env::var("COMBWRIGHT_WASM").unwrap_or_default();
    let ways: &[Way] = match choice.as_str() {
        "" => &[installed, rustup, debian],
        "installed" => &[installed],
        "rustup" => &[installed, rustup],
        "debian" => &[debian],
        _ => return Err(ModuleError::Choice { value: choice }),
    };
    let mut tried = Vec::new();
    for way in ways {
        match way() {
            Ok(found) => return Ok(found),
            Err(why) => tried.push(why),
        }
    }
    Err(ModuleError::NoStandardLibrary {
        tried: tried.join("; "),
    })
}

/// One way to a toolchain; the error says why it is barred.
type Way = fn() -> Result<Toolchain, String>;

fn installed() -> Result<Toolchain, String> {
    let rustc = std::env::var_os("RUSTC").unwrap_or_else(|| "rustc".into());
    let said = output(Command::new(rustc).args(["--print", "target-libdir", "--target", TARGET]))?;
    // the folder's name is printed whether or not anything is in it
    if holds(Path::new(said.trim()), "libcore-") {
        let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
        Ok(Toolchain::Installed {
            cargo: cargo.into(),
        })
    } else {
        Err(format!("{TARGET} is not installed"))
    }
}

fn rustup() -> Result<Toolchain, String> {
    let mut rustup = Command::new("rustup");
    rustup.args(["target", "add", TARGET]);
    if let Ok(name) = std::env::var("RUSTUP_TOOLCHAIN") {
        rustup.args(["--toolchain", &name]);
    }
    output(&mut rustup)?;
    installed()
}

fn debian() -> Result<Toolchain, String> {
    let rustc = Path::new(DEBIAN_RUSTC);
    if !rustc.exists() || !Path::new(DEBIAN_CARGO).exists() {
        return Err("Debian's rustc-web and cargo-web are not installed".to_owned());
    }
    let root = output(Command::new(rustc).args(["--print", "sysroot"]))?;
    if !Path::new(root.trim()).join(DEBIAN_SOURCE).exists() {
        return Err("Debian's rust-web-src is not installed".to_owned());
    }
    linker()
        .map(|linker| Toolchain::Debian { linker })
        .ok_or_else(|| "no linker for WebAssembly: neither rust-lld nor wasm-ld".to_owned())
}

/// rust-lld of the running toolchain, or a wasm-ld of the system.
fn linker() -> Option<PathBuf> {
    let rustc = std::env::var_os("RUSTC").unwrap_or_else(|| "rustc".into());
    let ours = output(Command::new(rustc).args(["--print", "target-libdir"]))
        .ok()
        .and_then(|folder| Some(Path::new(folder.trim()).parent()?.join("bin/rust-lld")));
    let system = [
        "wasm-ld",
        "wasm-ld-21",
        "wasm-ld-20",
        "wasm-ld-19",
        "wasm-ld-18",
    ]
    .map(|name| Path::new("/usr/bin").join(name));
    ours.into_iter().chain(system).find(|path| path.exists())
}

/// Whether the folder holds a file whose name begins so.
fn holds(folder: &Path, start: &str) -> bool {
    std::fs::read_dir(folder).is_ok_and(|files| {
        files
            .flatten()
            .any(|file| file.file_name().to_string_lossy().starts_with(start))
    })
}

/// What the command prints, or why not.
fn output(command: &mut Command) -> Result<String, String> {
    let name = command.get_program().to_string_lossy().into_owned();
    match command.output() {
        Err(why) => Err(format!("{name}: {why}")),
        Ok(done) if done.status.success() => Ok(String::from_utf8_lossy(&done.stdout).into_owned()),
        Ok(done) => {
            let words = String::from_utf8_lossy(&done.stderr);
            let last = words
                .lines()
                .rfind(|line| !line.trim().is_empty())
                .unwrap_or_default();
            Err(format!("{name}: {}", last.trim()))
        }
    }
}
