//! Runs cargo on the `web` crate, mostly inside another cargo's build.

use std::path::{Path, PathBuf};
use std::process::Command;

use crate::error::ModuleError;
use crate::toolchain::{DEBIAN_CARGO, TARGET, Toolchain};

/// The profile of the app, in the workspace's manifest.
const PROFILE: &str = "web";

/// The splitter reads from the linker's relocations which function needs which. The framework compiles much of
/// its machinery once for all views and not once for each, which saves 6 % (compressed).
const FLAGS: &str = "-Clink-arg=--emit-relocs --cfg erase_components";

/// The module that cargo made and what it was made of.
#[derive(Debug, Clone)]
pub struct Module {
    /// The WebAssembly file, before wasm-bindgen.
    pub wasm: PathBuf,
    /// Every file of this workspace that went into it.
    pub sources: Vec<PathBuf>,
}

/// Builds the `web` crate.
pub fn build(
    workspace: &Path,
    target: &Path,
    toolchain: &Toolchain,
) -> Result<Module, ModuleError> {
    let mut cargo = clean_command(toolchain);
    cargo
        .current_dir(workspace)
        .args(["build", "--package", "web", "--bin", "web"])
        .args(["--profile", PROFILE, "--target", TARGET])
        .arg("--target-dir")
        .arg(target)
        .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS", FLAGS);
    if let Toolchain::Debian { .. } = toolchain {
        cargo.arg("-Zbuild-std=std,panic_abort");
    }
    let program = cargo.get_program().to_string_lossy().into_owned();
    let status = cargo
        .status()
        .map_err(|source| ModuleError::Start { program, source })?;
    if !status.success() {
        return Err(ModuleError::Cargo { status });
    }
    let folder = target.join(TARGET).join(PROFILE);
    let sources = sources(&folder.join("web.d"), workspace)?;
    Ok(Module {
        wasm: folder.join("web.wasm"),
        sources,
    })
}

/// Cargo without what the outer cargo set for itself; the jobserver alone is shared.
fn clean_command(toolchain: &Toolchain) -> Command {
    let mut command = match toolchain {
        Toolchain::Installed { cargo } => Command::new(cargo),
        Toolchain::Debian { .. } => Command::new(DEBIAN_CARGO),
    };
    for (name, _) in std::env::vars_os() {
        let text = name.to_string_lossy();
        let kept = ["CARGO_MAKEFLAGS", "CARGO_HOME", "CARGO_TERM_COLOR"].contains(&&*text)
            || text.starts_with("CARGO_NET_")
            || text.starts_with("CARGO_HTTP_")
            || text.starts_with("CARGO_REGISTR");
        let set = ["CARGO", "RUSTC", "RUSTDOC", "RUSTFLAGS", "DEP_"]
            .iter()
            .any(|start| text.starts_with(start));
        let host = [
            "LD_LIBRARY_PATH",
            "TARGET",
            "HOST",
            "PROFILE",
            "OPT_LEVEL",
            "DEBUG",
        ]
        .contains(&&*text);
        if host || (set && !kept) {
            command.env_remove(&name);
        }
    }
    if let Toolchain::Debian { linker } = toolchain {
        let path = std::env::var("PATH").unwrap_or_default();
        command
            .env_remove("RUSTUP_TOOLCHAIN")
            .env("PATH", format!("/usr/bin:{path}"))
            .env("RUSTC", "/usr/bin/rustc")
            // building the library from source is not stable; Debian's cargo lets it through so
            .env("RUSTC_BOOTSTRAP", "1")
            .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER", linker);
    }
    command
}

/// The workspace's files named in a dependency file (`out: in in ..`, spaces escaped), and the
/// manifests beside them.
fn sources(dep_info: &Path, workspace: &Path) -> Result<Vec<PathBuf>, ModuleError> {
    let text = std::fs::read_to_string(dep_info).map_err(|source| ModuleError::Read {
        path: dep_info.to_path_buf(),
        source,
    })?;
    let mut sources = named(&text);
    let manifests: Vec<PathBuf> = sources
        .iter()
        .filter_map(|source| {
            source
                .ancestors()
                .find(|folder| folder.ends_with("src"))?
                .parent()
        })
        .map(|folder| folder.join("Cargo.toml"))
        .collect();
    sources.extend(manifests);
    sources.push(workspace.join("Cargo.toml"));
    sources.sort();
    sources.dedup();
    Ok(sources)
}

fn named(dep_info: &str) -> Vec<PathBuf> {
    dep_info
        .lines()
        .filter_map(|line| line.split_once(": "))
        .flat_map(|(_, list)| {
            let held = list.replace("\\ ", "\0");
            held.split_whitespace()
                .map(|path| path.replace('\0', " ").into())
                .collect::<Vec<_>>()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_dependency_file_names_its_sources_spaces_and_all() {
        let read = named("/t/web.wasm: /a/src/lib.rs /b\\ c/src/main.rs\n\n/a/src/lib.rs:\n");
        assert_eq!(
            read,
            [
                PathBuf::from("/a/src/lib.rs"),
                PathBuf::from("/b c/src/main.rs")
            ]
        );
    }
}
