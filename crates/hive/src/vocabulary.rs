//! The small words that entries are made of: ends, faces, pieces of the row, decisions.

use comb::{Length, Mass, Share, Temperature};
use serde::{Deserialize, Serialize};

use crate::id::BarId;

/// An end of the hive, as seen from where the keeper stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum End {
    /// Left end.
    Left,
    /// Right end.
    Right,
}

/// A face of a comb, by the end that it looks to while the bar hangs in its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Face {
    /// Looks to the left end.
    Left,
    /// Looks to the right end.
    Right,
}

/// What hangs from a bar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Hanging {
    /// A comb, drawn or being drawn.
    Comb,
    /// A strip of comb left after cutting.
    Strip,
    /// Nothing, or a starter strip of wax or wood.
    Nothing,
}

/// One thing that lies in the row of bars, left end first.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "piece", rename_all = "snake_case", deny_unknown_fields)]
pub enum Piece {
    /// A bar.
    Bar {
        /// Which bar.
        bar: BarId,
    },
    /// A follower board.
    Follower {
        /// Its width along the row.
        width_mm: Length,
    },
    /// A shim.
    Shim {
        /// Its width along the row.
        width_mm: Length,
    },
}

/// How much must stay in a hive.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Reserve {
    /// Full honey combs.
    Combs(f64),
    /// Kilograms of honey.
    Kg(Mass),
}

/// What the winter of a place is like; sets the default reserve.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Climate {
    /// A mild coast with winter forage.
    MildCoast,
    /// A winter without forage, with frost.
    RealWinter,
    /// A hard, long winter.
    HardWinter,
}

/// Where an apiary stands.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Place {
    /// Degrees north, south negative.
    pub latitude: f64,
    /// Degrees east, west negative.
    pub longitude: f64,
    /// Metres above the sea, when known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub altitude_m: Option<f64>,
}

/// The keeper's word on one comb.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Decision {
    /// It is taken.
    Take,
    /// It stays.
    Leave,
    /// Not settled; a word taken back counts as this.
    Undecided,
}

/// What became of a comb that left its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Harvest {
    /// Cut from the bar, a strip left; the bar goes back as a cut bar.
    Cut,
    /// Carried away on its bar.
    Whole,
    /// Broke off and was carried away.
    Broken,
}

/// Weather at the visit, as far as it was said.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Weather {
    /// Air temperature.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub temperature_c: Option<Temperature>,
    /// Sky, wind and rain in the keeper's words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub words: Option<String>,
}

/// One comb met and the bar it was taken to be.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Match {
    /// The bar, `None` for a comb that the record does not know.
    pub bar: Option<BarId>,
    /// Posterior probability that this is right.
    pub sure: Share,
}

/// One piece of a closing order as it is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ClosingWord {
    /// A full comb.
    Full,
    /// A cut bar.
    Cut,
    /// An empty bar.
    Empty,
    /// The follower board.
    Follower,
    /// A shim.
    Shim,
}

impl End {
    /// The other end.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }

    /// The face that looks at the opened gap while this end is worked ("this side").
    #[must_use]
    pub const fn near_face(self) -> Face {
        match self {
            Self::Left => Face::Left,
            Self::Right => Face::Right,
        }
    }
}
