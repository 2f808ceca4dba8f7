//! What was understood, one thing at a time.

use std::ops::Range;

use serde::{Deserialize, Serialize};

/// An end of the hive as the keeper stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum End {
    /// Left end.
    Left,
    /// Right end.
    Right,
}

/// A face of a comb as the keeper speaks of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// Toward the keeper, looking at the opened gap.
    This,
    /// The far one.
    Other,
}

/// What a comb may hold, in the words of the summary.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Hold {
    /// Honey, ripe or partly capped.
    #[serde(rename = "honey")]
    Honey,
    /// Nectar or honey that is not ripe.
    #[serde(rename = "unripe")]
    Unripe,
    /// Worker brood past the egg, open or sealed.
    #[serde(rename = "worker brood")]
    WorkerBrood,
    /// Drone brood.
    #[serde(rename = "drone brood")]
    DroneBrood,
    /// Eggs.
    #[serde(rename = "eggs")]
    Eggs,
    /// Pollen.
    #[serde(rename = "pollen")]
    Pollen,
    /// Nothing in the cells.
    #[serde(rename = "empty")]
    Empty,
    /// Comb built this season.
    #[serde(rename = "new comb")]
    NewComb,
}

impl Hold {
    /// The word of the summary.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Honey => "honey",
            Self::Unripe => "unripe",
            Self::WorkerBrood => "worker brood",
            Self::DroneBrood => "drone brood",
            Self::Eggs => "eggs",
            Self::Pollen => "pollen",
            Self::Empty => "empty",
            Self::NewComb => "new comb",
        }
    }
}

/// How much comb or honey there is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Fill {
    /// A full comb.
    Full,
    /// Part of one.
    Part,
    /// A little.
    Light,
}

/// The keeper's decision on a comb.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Decision {
    /// It is taken out of this hive.
    Take,
    /// It stays.
    Leave,
}

/// One thing in the row as closed, from the nest outward.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Closing {
    /// A drawn comb.
    Full,
    /// A bar with a strip of comb left on it.
    Cut,
    /// A bar with no comb.
    Empty,
    /// A shim between bars.
    Shim,
    /// The follower board.
    Follower,
}

impl Closing {
    /// As it is said.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Full => "full",
            Self::Cut => "cut",
            Self::Empty => "empty",
            Self::Shim => "shim",
            Self::Follower => "follower",
        }
    }
}

/// What happened, without the words.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Act {
    /// An end was opened.
    EndOpened(Option<End>),
    /// A comb not met before is in hand.
    CombMet {
        /// Its number, if said.
        bar: Option<u32>,
    },
    /// The comb in hand is another bar than was said.
    Renumbered(u32),
    /// Capped share of the honey on a face.
    Capped(Side, f64),
    /// The comb holds this.
    Holds(Hold),
    /// It was said to hold this, and does not.
    HoldsNot(Hold),
    /// How full it is.
    Filled(Fill),
    /// Fixed to a wall, or not.
    Attached(bool),
    /// Straight, or crossed or bent.
    Straight(bool),
    /// What the keeper decides; `None`: put aside, not settled.
    Decided(Option<Decision>),
    /// It came off its bar.
    Broke,
    /// It is carried away on its bar, not cut.
    TakenWhole,
    /// The bar was turned end for end.
    Turned,
    /// Its weight, kilograms.
    Weighs(f64),
    /// Its thickness, millimetres.
    Thick(f64),
    /// The queen was seen.
    QueenSeen,
    /// She was only spoken of: "the queen", a pause, "I didn't see her".
    QueenNotSeen,
    /// Eggs were seen.
    EggsSeen,
    /// Queen cells counted so far.
    QueenCells(u32),
    /// Air temperature, degrees Celsius.
    Temperature(f64),
    /// Mites counted, over how many bees.
    Mites {
        /// Counted.
        count: Option<u32>,
        /// In the sample.
        bees: Option<u32>,
    },
    /// Feed given.
    Fed {
        /// Litres, if said.
        litres: Option<f64>,
        /// Kilograms, if said; older steps do not know it.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        kg: Option<f64>,
        /// What: "1:1 syrup", "2:1 syrup", "syrup", "fondant", "dry sugar".
        kind: Option<String>,
    },
    /// The order said while closing goes on with these.
    Closed(Vec<Closing>),
    /// The last phrase is taken back.
    TakenBack,
}

/// An act with the words and the rule that it came from.
#[derive(Debug, Clone, PartialEq)]
pub struct Noted {
    /// What happened.
    pub act: Act,
    /// Which comb, counted from 0 in the order met.
    pub comb: Option<usize>,
    /// Bytes of the phrase.
    pub words: Range<usize>,
    /// The grammar's rule.
    pub rule: Rule,
}

/// The name of a rule of the grammar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Rule(pub &'static str);
