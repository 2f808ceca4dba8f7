//! What the caller decides.

use std::path::PathBuf;

use crate::embedded::Embedded;

/// How the server is to run.
#[derive(Debug, Clone)]
pub struct Config {
    /// Port of the plain listener; 0 lets the system choose. The secure one is the next above it
    /// (or chosen as well).
    pub port: u16,
    /// Whether other devices are let in.
    pub lan: Lan,
    /// Where the authority and the list of paired devices are kept.
    pub data: PathBuf,
    /// What this machine calls itself to the phones.
    pub name: String,
    /// The app's files; without any, only the exchange is served.
    pub app: &'static [Embedded],
}

/// Whether the local network is let in.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Lan {
    /// Bind to loopback only.
    #[default]
    Off,
    /// Bind to every address: HTTPS for paired devices, and a plain page that says how to get there.
    On {
        /// Further names or addresses under which phones reach this machine.
        also: Vec<String>,
    },
}

impl Config {
    /// The port used when nothing else is said: our own choice, not looked up in IANA's registry.
    pub const PORT: u16 = 8427;

    /// Loopback only, on the usual port.
    pub fn new(data: PathBuf) -> Self {
        Self {
            port: Self::PORT,
            lan: Lan::Off,
            data,
            name: "this machine".to_owned(),
            app: &[],
        }
    }
}
