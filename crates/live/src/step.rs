//! One step of a visit: a phrase, a tap, a closing.

use hive::entry::{End, Piece};
use hive::{BarId, HiveId};
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
    /// Where all combs of this visit go that are carried away whole on their bars; said anew, the
    /// last word counts.
    CarriedTo {
        /// The hive that they hang in from now on, with their record; `None` is no hive of this yard.
        to: Option<HiveId>,
        /// The words, where it was spoken or typed.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        said: Option<String>,
    },
    /// A phrase of this visit was misheard: what follows is as if this had been heard in its place.
    PutRight {
        /// Its place among all steps.
        nth: usize,
        /// The words that were said; `None` leaves the phrase out.
        words: Option<String>,
    },
    /// The visit is over.
    Over,
}
