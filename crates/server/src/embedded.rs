//! The app's files, as they are handed out. They come from outside: this crate knows no build of them.

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

/// Whether these files are an app, and not the one page that says it was left out of the build.
pub fn has_app(files: &[Embedded]) -> bool {
    files.iter().any(|file| file.immutable)
}
