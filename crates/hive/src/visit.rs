//! A visit: one opening of one hive, as it was told.

use std::collections::BTreeMap;

use comb::Contents;
use jiff::Timestamp;
use serde::Serialize;

use crate::entry::{ClosingWord, Decision, End, Harvest, Match, Weather};
use crate::id::{BarId, EntryId};

/// One visit to one hive.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Visit {
    /// Its name: the id of the entry that opened it.
    pub id: EntryId,
    /// When it began.
    pub opened: Timestamp,
    /// When it ended; `None` while it lasts or when the end was not said.
    pub closed: Option<Timestamp>,
    /// Time zone in which the keeper's day is counted.
    pub zone: String,
    /// Who opened it.
    pub by: String,
    /// What it is for.
    pub aim: Option<String>,
    /// Weather, the latest word on each part.
    pub weather: Weather,
    /// Ends opened, in order.
    pub ends: Vec<End>,
    /// Bars handled or judged, in the order first met.
    pub met: Vec<BarId>,
    /// What was judged of each comb, added up, faces as they hung when the visit ended.
    pub seen: BTreeMap<BarId, Contents>,
    /// The keeper's last word on each comb.
    pub decisions: BTreeMap<BarId, Decision>,
    /// Combs that were harvested, in order.
    pub taken: Vec<Taken>,
    /// Combs out as the keeper counts them, the last count said.
    pub taken_counted: Option<u32>,
    /// How the combs met were matched to bars, in the order met; empty when bars are marked.
    pub matched: Vec<Match>,
    /// Closing orders as they were said.
    pub closings: Vec<ClosingSaid>,
    /// Every entry of this visit that stands, in order, the opening first.
    pub entries: Vec<EntryId>,
}

impl Visit {
    /// True until its end is said.
    pub const fn is_open(&self) -> bool {
        self.closed.is_none()
    }

    /// The end that is being worked: the one opened last.
    pub fn end(&self) -> Option<End> {
        self.ends.last().copied()
    }
}

/// One comb harvested or lost in a visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Taken {
    /// From which bar.
    pub bar: BarId,
    /// How.
    pub how: Harvest,
    /// The entry that says so.
    pub entry: EntryId,
}

/// A closing order as it was said.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ClosingSaid {
    /// Which end.
    pub end: End,
    /// From the nest outward.
    pub order: Vec<ClosingWord>,
}
