//! A hive as the journal leaves it: body, row, bars, visits and what was counted.

use std::collections::BTreeMap;

use comb::order::InOrder as _;
use comb::{Body, Length, Mass, Share};
use jiff::Timestamp;
use serde::Serialize;

use crate::HiveError;
use crate::bar::{Bar, Lies};
use crate::entry::{Climate, End, Place, Reserve};
use crate::health::{SignOnRecord, Treated};
use crate::id::{ApiaryId, BarId, EntryId, HiveId};
use crate::row::Row;
use crate::visit::Visit;

/// A place where hives stand.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Apiary {
    /// Which.
    pub id: ApiaryId,
    /// Its name.
    pub name: String,
    /// Where it is, when told.
    pub place: Option<Place>,
    /// Its winter, when told.
    pub climate: Option<Climate>,
}

/// One hive.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Hive {
    /// Which.
    pub id: HiveId,
    /// Its name.
    pub name: String,
    /// Where it stands.
    pub apiary: Option<ApiaryId>,
    /// Its body.
    pub body: Body,
    /// True when numbers are painted on the bars.
    pub numbered: bool,
    /// What must stay, when the keeper settled it; `None` is the place's default.
    pub reserve: Option<Reserve>,
    /// Mean capped share from which a comb counts as ripe, when settled; `None` is the default.
    pub ripeness: Option<Share>,
    /// When it began.
    pub started: Timestamp,
    /// When and why it ended; `None` for a living hive.
    pub ended: Option<Ended>,
    /// What lies under the roof, left end first. Bars set aside keep their place in it.
    pub row: Row,
    /// Every bar that belongs to this hive, wherever it lies, removed ones included.
    pub bars: BTreeMap<BarId, Bar>,
    /// Bars that went to other hives, in order.
    pub departed: Vec<Departed>,
    /// Visits, in order.
    pub visits: Vec<Visit>,
    /// Sightings of the queen, in order.
    pub queen_seen: Vec<QueenSeen>,
    /// Counts of queen cells, in order; a count of 0 is "looked and found none".
    pub queen_cells: Vec<QueenCells>,
    /// Mite washes, in order.
    pub washes: Vec<MiteWash>,
    /// Feeds, in order.
    pub feeds: Vec<Fed>,
    /// Treatments, in order.
    pub treatments: Vec<Treated>,
    /// Signs of disease and pests, in order.
    pub signs: Vec<SignOnRecord>,
    /// Notes, in order.
    pub notes: Vec<Note>,
}

/// The end of a hive.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Ended {
    /// When.
    pub at: Timestamp,
    /// Why.
    pub why: String,
}

/// A bar that went to another hive.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Departed {
    /// When.
    pub at: Timestamp,
    /// Which bar.
    pub bar: BarId,
    /// Its number here.
    pub number: u32,
    /// Where to.
    pub to: HiveId,
}

/// When, and by which entry, something was noted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct When {
    /// The instant.
    pub at: Timestamp,
    /// The entry.
    pub entry: EntryId,
    /// The visit, if in one.
    pub visit: Option<EntryId>,
}

/// The queen was seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct QueenSeen {
    /// When.
    #[serde(flatten)]
    pub when: When,
    /// On which bar, if known.
    pub bar: Option<BarId>,
}

/// Queen cells were counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct QueenCells {
    /// When.
    #[serde(flatten)]
    pub when: When,
    /// On which bar, if known.
    pub bar: Option<BarId>,
    /// How many; 0 is "looked and found none".
    pub count: u32,
}

/// Bees were washed for mites.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct MiteWash {
    /// When.
    #[serde(flatten)]
    pub when: When,
    /// Mites counted.
    pub mites: u32,
    /// Bees in the sample.
    pub bees: u32,
}

/// The colony was fed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Fed {
    /// When.
    #[serde(flatten)]
    pub when: When,
    /// What.
    pub food: String,
    /// How much, in litres.
    pub litres: Option<f64>,
    /// How much, by mass.
    pub mass_kg: Option<Mass>,
}

/// Anything else worth keeping.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Note {
    /// When.
    #[serde(flatten)]
    pub when: When,
    /// The keeper's words.
    pub text: String,
}

impl Hive {
    /// True until its end is recorded.
    pub const fn is_living(&self) -> bool {
        self.ended.is_none()
    }

    /// A bar of this hive, by identity.
    pub fn bar(&self, bar: BarId) -> Option<&Bar> {
        self.bars.get(&bar)
    }

    /// A bar by its number; a removed bar gives its number free.
    ///
    /// # Errors
    /// [`HiveError::NoSuchBar`] with the numbers that are there.
    pub fn bar_numbered(&self, number: u32) -> Result<&Bar, HiveError> {
        let found = self.numbered_bars().find(|bar| bar.number == number);
        found.ok_or_else(|| self.no_such_bar(&number))
    }

    /// The bars in the row, left end first; those set aside are among them, in their place.
    pub fn bars_in_row(&self) -> impl DoubleEndedIterator<Item = &Bar> {
        self.row.bars().filter_map(|bar| self.bars.get(&bar))
    }

    /// The bars in the row as they are met from an end inward.
    pub fn bars_from(&self, end: End) -> Vec<&Bar> {
        let met = self.row.bars_from(end);
        met.iter().filter_map(|bar| self.bars.get(bar)).collect()
    }

    /// Bars of the stock that lie in no place of the row, by number.
    pub fn loose_bars(&self) -> Vec<&Bar> {
        let mut loose: Vec<_> = self
            .bars
            .values()
            .filter(|bar| bar.lies == Lies::Loose)
            .collect();
        loose.order_by_key(|bar| (bar.number, bar.id));
        loose
    }

    /// The place of a bar, counted from the left end, the first is 1.
    pub fn place_of(&self, bar: BarId) -> Option<u32> {
        self.row.place_of(bar)
    }

    /// Numbers in use, rising.
    pub fn numbers(&self) -> Vec<u32> {
        let mut numbers: Vec<_> = self.numbered_bars().map(|bar| bar.number).collect();
        numbers.put_in_order();
        numbers
    }

    /// The next number above all in use.
    pub fn free_number(&self) -> u32 {
        let highest = self.numbered_bars().map(|bar| bar.number).max();
        highest.unwrap_or(0).saturating_add(1)
    }

    /// Length of the row: bars, follower boards and shims together.
    pub fn row_length(&self) -> Length {
        let width = |bar| self.bars.get(&bar).map(|bar| bar.width_mm);
        self.row.length(width).unwrap_or(Length::ZERO)
    }

    /// What the row leaves free of the cavity's length; negative when it is too long.
    pub fn free_length(&self) -> Length {
        self.body.cavity_length() - self.row_length()
    }

    /// A visit by its id.
    pub fn visit(&self, visit: EntryId) -> Option<&Visit> {
        self.visits.iter().rev().find(|v| v.id == visit)
    }

    /// The latest visit.
    pub fn last_visit(&self) -> Option<&Visit> {
        self.visits.last()
    }

    /// The latest visit, while its end is not said.
    pub fn open_visit(&self) -> Option<&Visit> {
        self.last_visit().filter(|visit| visit.is_open())
    }

    fn numbered_bars(&self) -> impl Iterator<Item = &Bar> {
        self.bars.values().filter(|bar| bar.lies != Lies::Removed)
    }

    pub(crate) fn no_such_bar(&self, bar: &impl ToString) -> HiveError {
        HiveError::NoSuchBar {
            hive: self.name.clone(),
            bar: bar.to_string(),
            numbers: self.numbers(),
        }
    }
}
