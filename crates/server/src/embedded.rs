//! The app's files, built in.

/// One file of the app.
#[derive(Debug, Clone, Copy)]
pub struct Embedded {
    /// Its path, from `/`.
    pub path: &'static str,
    /// Whether its name changes with its content, so that it may be kept for ever.
    pub immutable: bool,
    /// As it is.
    pub raw: &'static [u8],
    /// As gzip, where that is smaller.
    pub gzip: Option<&'static [u8]>,
    /// As brotli, where that is smaller.
    pub brotli: Option<&'static [u8]>,
}

/// All files of the app, or the one page that says it was left out.
pub static FILES: &[Embedded] = &include!(concat!(env!("OUT_DIR"), "/embedded.rs"));

/// Whether the app is in this build.
pub fn has_app() -> bool {
    FILES.iter().any(|file| file.immutable)
}

/// The file at a path.
pub fn at(path: &str) -> Option<&'static Embedded> {
    FILES.iter().find(|file| file.path == path)
}
