//! A bar's life: looks at its comb, and what happened to it.

use comb::{Contents, Share};
use jiff::Timestamp;
use serde::Serialize;

use crate::entry::{Decision, Hanging, Harvest};
use crate::id::{EntryId, HiveId};
use crate::sign::Certainty;

/// One look at a comb: all that was judged of it in one visit.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Look {
    /// In which visit; `None` when outside any.
    pub visit: Option<EntryId>,
    /// When it began.
    pub at: Timestamp,
    /// In which place of the row, counted from the left end; `None` when in none.
    pub place: Option<u32>,
    /// At which comb of this bar, see [`crate::Bar::comb`].
    pub comb: u32,
    /// How often the bar had been turned when the look ended.
    pub turns: u32,
    /// What was judged, faces as they hung when the look ended.
    pub contents: Contents,
}

impl Look {
    /// The same look with the faces named as they hang after so many turns.
    #[must_use]
    pub fn as_hanging_after(&self, turns: u32) -> Self {
        Self {
            contents: self.contents_after(turns),
            turns,
            ..*self
        }
    }

    /// What was seen, the faces named as they hang after so many turns.
    pub fn contents_after(&self, turns: u32) -> Contents {
        let contents = self.contents.clone();
        if self.turns % 2 == turns % 2 {
            contents
        } else {
            contents.turned()
        }
    }
}

/// One thing that happened to a bar.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Event {
    /// When it happened.
    pub at: Timestamp,
    /// The entry that says so.
    pub entry: EntryId,
    /// In which hive.
    pub hive: HiveId,
    /// In which visit, if in one.
    pub visit: Option<EntryId>,
    /// In which place of the row after it happened, counted from the left end; `None` when in none.
    pub place: Option<u32>,
    /// What happened.
    pub what: Happened,
}

/// What can happen to a bar.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "happened", rename_all = "snake_case")]
pub enum Happened {
    /// Came into a hive's stock.
    Added {
        /// Under this number.
        number: u32,
    },
    /// Came to its place from another, or from none.
    Placed {
        /// Its place before.
        from: Option<u32>,
    },
    /// Left the row and lies in no place.
    LeftOut {
        /// Its place before.
        from: Option<u32>,
    },
    /// Turned end for end.
    Turned,
    /// Said to bear this.
    Hangs {
        /// What hangs from it.
        hanging: Hanging,
    },
    /// Lifted out and leaned somewhere.
    SetAside,
    /// Back in its place.
    PutBack,
    /// Looked at.
    Seen {
        /// What was judged in this entry alone.
        contents: Box<Contents>,
    },
    /// Decided upon.
    Decided {
        /// The keeper's word.
        decision: Decision,
    },
    /// Its comb was harvested or lost.
    Taken {
        /// How.
        how: Harvest,
    },
    /// Came back after its comb was carried away.
    Returned,
    /// Taken out of the stock.
    Removed,
    /// Went to another hive with its comb.
    Split {
        /// From this hive.
        from: HiveId,
        /// Its number there.
        old_number: u32,
        /// Its number here; another one when the old was in use.
        number: u32,
    },
    /// The queen was on it.
    QueenSeen,
    /// Queen cells on it were counted.
    QueenCells {
        /// How many.
        count: u32,
    },
    /// A sign of a disease or pest was seen on it, or looked for.
    SignSeen {
        /// The disease or pest.
        condition: String,
        /// How sure.
        certainty: Certainty,
    },
    /// Recognised by what it holds.
    Matched {
        /// How surely.
        sure: Share,
    },
}
