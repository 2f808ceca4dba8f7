//! A bar: known by its identity, wherever it hangs and whatever is painted on it.

use comb::{Contents, Length};
use jiff::{Timestamp, civil::Date};
use serde::Serialize;

use crate::entry::{Decision, Hanging};
use crate::history::{Event, Look};
use crate::id::{BarId, EntryId};

/// Where a bar is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Lies {
    /// In its place in the row.
    InRow,
    /// Lifted out and leaned somewhere, its place in the row kept.
    Aside,
    /// In the hive's stock, in no place of the row.
    Loose,
    /// Carried away with its comb; it may come back.
    Away,
    /// Taken out of the hive's stock.
    Removed,
}

impl Lies {
    /// True for a bar of the hive's stock: in the row, aside or loose.
    pub const fn at_hand(self) -> bool {
        matches!(self, Self::InRow | Self::Aside | Self::Loose)
    }

    /// In words, after "bar 7".
    pub const fn words(self) -> &'static str {
        match self {
            Self::InRow => "is in its place",
            Self::Aside => "is set aside",
            Self::Loose => "lies in no place of the row",
            Self::Away => "was carried away",
            Self::Removed => "was removed",
        }
    }
}

/// One bar of a hive and what is known of the comb on it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Bar {
    /// Its identity.
    pub id: BarId,
    /// Its number in this hive.
    pub number: u32,
    /// Its width along the row.
    pub width_mm: Length,
    /// What hangs from it.
    pub hanging: Hanging,
    /// Where it is; its place is in the hive's row.
    pub lies: Lies,
    /// When this comb was first drawn, as the keeper said; `None` is not known, or no comb.
    pub drawn: Option<Date>,
    /// When this comb was first seen here; a bound on its age when `drawn` is not known.
    pub first_seen: Option<Timestamp>,
    /// When the bar last bore no comb: the comb that hangs here was begun after it. `None` is not
    /// known, or its comb came with it.
    pub bare_at: Option<Timestamp>,
    /// What the latest look found, faces as they hang NOW. A new visit's look starts anew, so a
    /// part not looked at this time is unknown here and still to be found in [`Bar::looks`].
    /// All unknown after a cut, and for a bar without comb.
    pub contents: Contents,
    /// When the latest look at this comb was; `None` when this comb was not looked at yet.
    pub seen: Option<Timestamp>,
    /// The keeper's word in the hive's latest visit; while one is open, a "leave" of the one before counts until
    /// the comb is looked at. `None` when none was said.
    pub decision: Option<Decision>,
    /// Every look at combs on this bar, oldest first, earlier combs included.
    pub looks: Vec<Look>,
    /// Everything that happened to this bar, in order, in every hive it was in.
    pub history: Vec<Event>,
    /// Which comb hangs here, counted up at every cut, loss and return; see [`Look::comb`].
    pub comb: u32,
    /// How often it was turned end for end; see [`Look::turns`].
    pub turns: u32,
    /// The visit in which the last comb was taken, to tell what is said of it afterwards.
    pub(crate) taken_in: Option<EntryId>,
}

impl Bar {
    /// The looks at the comb that hangs here now, oldest first, each with its faces as they hang
    /// NOW: the same side of the same comb through time.
    pub fn looks_at_this_comb(&self) -> impl DoubleEndedIterator<Item = Look> + '_ {
        self.of_this_comb()
            .map(|look| look.as_hanging_after(self.turns))
    }

    fn of_this_comb(&self) -> impl DoubleEndedIterator<Item = &Look> {
        self.looks.iter().filter(|look| look.comb == self.comb)
    }

    /// The latest known word on each part of the comb that hangs here, over all looks at it; the
    /// age of each part differs, see [`Bar::looks_at_this_comb`].
    pub fn known_contents(&self) -> Contents {
        let mut known = Contents::default();
        for look in self.of_this_comb() {
            if look.turns % 2 == self.turns % 2 {
                crate::look::add(&mut known, &look.contents);
            } else {
                crate::look::add(&mut known, &look.contents_after(self.turns));
            }
        }
        known
    }

    /// True for a bar that bears a comb.
    pub fn has_comb(&self) -> bool {
        self.hanging == Hanging::Comb
    }
}
