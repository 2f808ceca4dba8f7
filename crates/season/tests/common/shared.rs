//! Finding the shared weather.

use std::path::PathBuf;

use season::weather::{Read, read_csv};

/// A shared daily weather series. The folder stands beside the repository; where it is missing the
/// check cannot be made, and in CI that is a failure, not a pass.
pub(crate) fn shared_weather(name: &str) -> Option<Read> {
    let path: PathBuf = [
        env!("CARGO_MANIFEST_DIR"),
        "../../../shared/data/weather",
        &format!("{name}.csv"),
    ]
    .iter()
    .collect();
    match std::fs::read_to_string(&path) {
        Ok(text) => Some(read_csv(&text).expect("a shared weather file reads")),
        Err(error) if std::env::var("CI").is_ok_and(|ci| ci == "true") => {
            panic!("{}: {error}; CI must have the shared data", path.display())
        }
        Err(error) => {
            eprintln!("NOT CHECKED: {}: {error}", path.display());
            None
        }
    }
}
