//! The engines in which the app is tried.

use std::ffi::OsString;
use std::path::PathBuf;

use fantoccini::wd::Capabilities;
use serde_json::json;

use crate::display::Display;

/// What runs the pages.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Engine {
    /// Debian's chromium.
    Chromium,
    /// The engine of every browser on some phones, in its port for Debian (`webkit2gtk-driver`). It has
    /// no recogniser, and its window is no narrower than 447 px.
    WebKit,
    /// Debian's firefox-esr, driven by `geckodriver` (`cargo install geckodriver`). It has no recogniser.
    Firefox,
}

impl Engine {
    /// What it wants to be started with; Chromium gets its own in [`crate::browser`].
    pub(crate) fn capabilities(self) -> Capabilities {
        let mut wanted = Capabilities::new();
        match self {
            Self::Chromium => {}
            Self::WebKit => {
                let small = mini_browser().display().to_string();
                let options = json!({ "binary": small, "args": ["--automation"] });
                wanted.insert("webkitgtk:browserOptions".into(), options);
            }
            Self::Firefox => {
                let options = json!({ "args": ["-headless"] });
                wanted.insert("moz:firefoxOptions".into(), options);
            }
        }
        wanted
    }

    /// A screen to draw on, where it cannot do without; and what it must be told of it.
    pub(crate) fn display(self) -> Option<(Display, [(OsString, OsString); 1])> {
        (self == Self::WebKit).then(|| {
            let display = Display::start();
            let name = display.name();
            (display, [("DISPLAY".into(), name.into())])
        })
    }
}

/// The window around the engine that its port brings with it.
fn mini_browser() -> PathBuf {
    let named = |folder: PathBuf, begin: &str| -> Vec<PathBuf> {
        let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
        let entries =
            entries.filter(|entry| entry.file_name().to_string_lossy().starts_with(begin));
        entries.map(|entry| entry.path()).collect()
    };
    let libraries = named("/usr/lib".into(), "");
    let engines = libraries
        .into_iter()
        .filter(|folder| folder.is_dir())
        .flat_map(|folder| named(folder, "webkit"));
    engines
        .map(|folder| folder.join("MiniBrowser"))
        .find(|file| file.is_file())
        .expect("MiniBrowser is there (Debian: libwebkit2gtk-4.1-0, with webkit2gtk-driver)")
}
