//! Where a journal file is at home.
//!
//! Two machines must never write under one device id. A file that is copied, restored from a
//! backup or moved carries its device id with it, so the file also remembers a fingerprint of the
//! place where it got the id; when it finds itself elsewhere it goes on under a fresh one. A fresh
//! id too often costs nothing; the same id in two places forks a chain.

use std::fs;
use std::path::Path;
use std::time::UNIX_EPOCH;

use exchange::Hash;

/// Fingerprint of machine, path and file. Hashed, so that the file that is passed on tells nothing
/// of the machine it comes from.
pub(crate) fn fingerprint(path: &Path) -> String {
    let path_told = path.canonicalize().unwrap_or_else(|_| path.to_path_buf());
    let told = format!(
        "journal home\n{}\n{}\n{}",
        machine(),
        path_told.display(),
        file(path)
    );
    Hash::ORIGIN.followed_by(told.as_bytes()).to_string()
}

fn machine() -> String {
    ["/etc/machine-id", "/var/lib/dbus/machine-id"]
        .iter()
        .find_map(|path| fs::read_to_string(path).ok())
        .or_else(|| std::env::var("COMPUTERNAME").ok())
        .unwrap_or_default()
}

/// What tells this file from a copy of it under the same path: a backup put back is a new file.
fn file(path: &Path) -> String {
    let Ok(metadata) = fs::metadata(path) else {
        return String::new();
    };
    let born = metadata
        .created()
        .ok()
        .and_then(|born| born.duration_since(UNIX_EPOCH).ok())
        .map(|since| since.as_nanos().to_string());
    match born {
        // FAT has no lasting file numbers under Linux, but it has times of birth
        Some(born) if cfg!(any(target_os = "linux", not(unix))) => born,
        born => format!("{} {}", born.unwrap_or_default(), number(&metadata)),
    }
}

#[cfg(unix)]
fn number(metadata: &fs::Metadata) -> u64 {
    std::os::unix::fs::MetadataExt::ino(metadata)
}

#[cfg(not(unix))]
fn number(_: &fs::Metadata) -> u64 {
    0
}
