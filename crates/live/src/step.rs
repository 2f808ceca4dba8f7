//! One step of a visit: a phrase, a tap, a closing.

use hive::BarId;
use hive::entry::{End, Piece};
use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use talk::Tap;

/// One step, and when it was taken. Undo takes back whole steps.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Step {
    /// When.
    pub at: Timestamp,
    /// What.
    pub did: Did,
}

/// What a step is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Did {
    /// A phrase as it was heard or typed.
    Said(String),
    /// Taps that belong together.
    Tapped(Vec<Tap>),
    /// An end was closed in this order.
    Arranged {
        /// Which end.
        end: End,
        /// The last bar that was not moved.
        beyond: BarId,
        /// Pieces from there outward, the one at the end wall last.
        row: Vec<Piece>,
    },
    /// The visit is over.
    Over,
}
