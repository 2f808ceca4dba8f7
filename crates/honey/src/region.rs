//! Where honey is sold: whose rules are asked.

use serde::{Deserialize, Serialize};

/// A market with rules of its own. Rules change; every figure that hangs on one of these carries
/// the instrument it was taken from and the month it was collected.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Region {
    /// The world's food code, where nothing nearer is known.
    Codex,
    /// European Union.
    Eu,
    /// United Kingdom.
    Uk,
    /// United States.
    Us,
    /// Australia.
    Australia,
    /// New Zealand.
    NewZealand,
}

/// All of them, in the order of tables.
pub const REGIONS: [Region; 6] = [
    Region::Codex,
    Region::Eu,
    Region::Uk,
    Region::Us,
    Region::Australia,
    Region::NewZealand,
];

/// Said beside every rule of law.
pub const CHECK_WITH_AUTHORITY: &str = "collected November 2026; check with your authority";

/// How a figure of law came here.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Status {
    /// Read in a stored page.
    Seen,
    /// Known from the named work, not opened.
    Memory,
    /// Habit of the trade, no source.
    Practice,
}

impl Region {
    /// Its name on screen.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Codex => "Codex",
            Self::Eu => "EU",
            Self::Uk => "UK",
            Self::Us => "US",
            Self::Australia => "Australia",
            Self::NewZealand => "New Zealand",
        }
    }
}

impl std::fmt::Display for Region {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.name())
    }
}

impl std::str::FromStr for Region {
    type Err = crate::HoneyError;
    /// By its name, its serialised name or a common short form, in any case.
    fn from_str(text: &str) -> Result<Self, Self::Err> {
        match text.trim().to_ascii_lowercase().as_str() {
            "codex" => Ok(Self::Codex),
            "eu" => Ok(Self::Eu),
            "uk" | "gb" => Ok(Self::Uk),
            "us" | "usa" => Ok(Self::Us),
            "au" | "australia" => Ok(Self::Australia),
            "nz" | "new zealand" | "new_zealand" => Ok(Self::NewZealand),
            _ => Err(crate::HoneyError::UnknownRegion(text.to_owned())),
        }
    }
}
