//! A home folder for the browser: empty, or one that trusts the server's authority.

use std::path::Path;
use std::process::Command;

use tempfile::TempDir;

/// An empty home.
pub fn empty() -> TempDir {
    tempfile::tempdir().expect("a folder for the browser")
}

/// A home whose browser trusts this authority, as a phone does that has installed it: Chromium on
/// Linux reads the user's NSS database.
pub fn trusting(authority: &Path) -> TempDir {
    let home = empty();
    let database = home.path().join(".pki/nssdb");
    std::fs::create_dir_all(&database).expect("a folder for the database");
    let database = format!("sql:{}", database.display());
    let certutil = |words: &[&str]| {
        let done = Command::new("certutil")
            .arg("-d")
            .arg(&database)
            .args(words)
            .status();
        let done = done.expect("certutil must be installed (Debian: libnss3-tools)");
        assert!(done.success(), "certutil {words:?}: {done}");
    };
    certutil(&["-N", "--empty-password"]);
    let file = authority.display().to_string();
    certutil(&["-A", "-n", "authority", "-t", "C,,", "-i", &file]);
    home
}
