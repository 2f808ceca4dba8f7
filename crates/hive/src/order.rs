//! The one order in which entries are folded, the same on every device and for every order of
//! arrival.
//!
//! Entries are sorted by rank: effective time, then level, device, running number, id.
//!
//! The **effective time** of an entry is found so:
//! 1. A *prompt* entry (written within [`PROMPT`] of what it tells) takes the latest `at` of its
//!    device's prompt entries up to it by running number. A clock that jumps back never reorders
//!    a device's own entries; the date that is shown stays the one written.
//! 2. An entry written later than that is *backdated* and takes its own `at`.
//! 3. An entry of a visit is kept inside that visit: not before its opening, not after its closing
//!    (the last one said within [`LONGEST_VISIT`] of the opening; without one, that long after the
//!    opening), and not before an earlier entry of the same device in the same visit. So a word
//!    added days later to an old visit counts at the end of that visit.
//! 4. Nothing is used before it is made: an entry comes after the ones that made its hive, its
//!    apiary, its bars, its treatment or its sign, whatever two devices' clocks say. The **level** puts it after them when
//!    the times are equal.

use std::collections::BTreeMap;

use jiff::{SignedDuration, Timestamp};
use uuid::Uuid;

use crate::entry::{Entry, Known, Piece, What};
use crate::id::{DeviceId, EntryId};

/// How long after it happened an entry may be written and still count as written on the spot.
/// Spoken notes are written when the phrase is understood. (Common practice, no source.)
pub const PROMPT: SignedDuration = SignedDuration::from_mins(10);
/// The longest time that one visit is taken to last (common practice, no source).
pub const LONGEST_VISIT: SignedDuration = SignedDuration::from_hours(12);
/// A device's clock that falls back by more than this is listed as a fault; less is its setting
/// itself by the network.
pub const CLOCK_PLAY: SignedDuration = SignedDuration::from_mins(2);

/// An entry's place in the order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Rank {
    pub(crate) time: Timestamp,
    pub(crate) level: u32,
    pub(crate) device: DeviceId,
    pub(crate) seq: u64,
    pub(crate) id: EntryId,
}

impl Rank {
    pub(crate) const fn plain(entry: &Entry, time: Timestamp) -> Self {
        Self {
            time,
            level: 0,
            device: entry.device,
            seq: entry.seq,
            id: entry.id,
        }
    }

    /// The same, moved behind another that must come before.
    fn after(self, made: Self) -> Self {
        if made < self {
            return self;
        }
        Self {
            time: made.time,
            level: made.level + 1,
            ..self
        }
    }
}

/// One device's clock as far as its entries were read, in the order of their numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct DeviceClock {
    pub(crate) last_seq: u64,
    pub(crate) last_recorded: Timestamp,
    latest: Timestamp,
}

impl Default for DeviceClock {
    fn default() -> Self {
        Self {
            last_seq: 0,
            last_recorded: Timestamp::MIN,
            latest: Timestamp::MIN,
        }
    }
}

/// Reads one device's entries by rising number and gives each its time by rules 1 and 2.
pub(crate) struct Read {
    pub(crate) time: Timestamp,
    pub(crate) went_back: bool,
}

impl DeviceClock {
    pub(crate) fn read(&mut self, entry: &Entry) -> Read {
        let went_back = self.last_recorded.duration_since(entry.recorded) > CLOCK_PLAY;
        self.last_seq = self.last_seq.max(entry.seq);
        self.last_recorded = self.last_recorded.max(entry.recorded);
        let time = if entry.recorded.duration_since(entry.at) <= PROMPT {
            self.latest = self.latest.max(entry.at);
            self.latest
        } else {
            entry.at
        };
        Read { time, went_back }
    }
}

/// What was made when, and how long visits last: what rules 3 and 4 need.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Timeline {
    /// Hives, apiaries, bars, visits, treatments and signs, by their id.
    made: BTreeMap<Uuid, Rank>,
    closings: BTreeMap<EntryId, Timestamp>,
    /// Latest time of a device in a visit, apart for what is ranked before the rest.
    runs: BTreeMap<(EntryId, DeviceId, Round), Timestamp>,
}

/// In which round an entry is ranked: what makes comes before what uses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Round {
    Apiaries,
    Hives,
    Visits,
    Closings,
    Bars,
    Findings,
    Rest,
}

impl Round {
    pub(crate) fn of(what: &What) -> Self {
        match what.known() {
            Some(Known::Apiary { .. }) => Self::Apiaries,
            Some(Known::HiveStarted { .. }) => Self::Hives,
            Some(Known::VisitOpened { .. }) => Self::Visits,
            Some(Known::VisitClosed {}) => Self::Closings,
            Some(Known::BarAdded { .. }) => Self::Bars,
            Some(Known::TreatmentBegun(_) | Known::SignSeen(_)) => Self::Findings,
            _ => Self::Rest,
        }
    }

    /// True for entries that others may need.
    pub(crate) const fn makes(self) -> bool {
        matches!(
            self,
            Self::Apiaries | Self::Hives | Self::Visits | Self::Bars | Self::Findings
        )
    }
}

impl Timeline {
    /// The rank of one entry that says `what`, its time by rules 1 and 2 given. Called by rising
    /// [`Round`], and in each round by device and rising number.
    pub(crate) fn rank(&mut self, entry: &Entry, what: &What, time: Timestamp) -> Rank {
        let round = Round::of(what);
        let mut rank = Rank::plain(entry, time);
        let visit = entry.visit.filter(|visit| *visit != entry.id);
        if let Some(visit) = visit {
            rank.time = self.kept_inside(visit, entry.device, rank.time, round);
        }
        let mut need = |id: Uuid| {
            if let Some(made) = self.made.get(&id) {
                rank = rank.after(*made);
            }
        };
        if let Some(hive) = entry.hive.filter(|_| round != Round::Hives) {
            need(hive.0);
        }
        if let Some(visit) = visit {
            need(visit.0);
        }
        if let Some(known) = what.known() {
            for_each_needed(known, &mut need);
            if let Some(id) = made_by(entry, known) {
                let first = self.made.entry(id).or_insert(rank);
                *first = rank.min(*first);
            }
        }
        rank
    }

    /// True when this visit's closing was ranked before.
    pub(crate) fn has_closing(&self, visit: EntryId) -> bool {
        self.closings.contains_key(&visit)
    }

    /// Forgets how far the devices of a visit came in it, so that its entries can be ranked again.
    pub(crate) fn forget_runs(&mut self, visit: EntryId) {
        let first = (visit, DeviceId(Uuid::nil()), Round::Apiaries);
        let of_visit = self.runs.range(first..);
        let of_visit = of_visit.map(|(key, _)| *key);
        let of_visit: Vec<_> = of_visit.take_while(|(of, ..)| *of == visit).collect();
        for key in of_visit {
            self.runs.remove(&key);
        }
    }

    /// Rule 3.
    fn kept_inside(
        &mut self,
        visit: EntryId,
        device: DeviceId,
        time: Timestamp,
        round: Round,
    ) -> Timestamp {
        let Some(opened) = self.made.get(&visit.0).map(|rank| rank.time) else {
            return time;
        };
        let longest = opened
            .saturating_add(LONGEST_VISIT)
            .unwrap_or(Timestamp::MAX);
        if round == Round::Closings {
            let time = time.clamp(opened, longest);
            let last = self.closings.entry(visit).or_insert(time);
            *last = time.max(*last);
            return time;
        }
        let closed = self.closings.get(&visit).copied().unwrap_or(longest);
        let time = time.clamp(opened, closed.max(opened));
        let run = self.runs.entry((visit, device, round)).or_insert(time);
        *run = time.max(*run);
        *run
    }
}

fn made_by(entry: &Entry, known: &Known) -> Option<Uuid> {
    match known {
        Known::Apiary { apiary, .. } => Some(apiary.0),
        Known::HiveStarted { .. } => entry.hive.map(|hive| hive.0),
        Known::VisitOpened { .. } | Known::TreatmentBegun(_) | Known::SignSeen(_) => {
            Some(entry.id.0)
        }
        Known::BarAdded { bar, .. } => Some(bar.0),
        _ => None,
    }
}

/// What an entry needs beside its hive and its visit.
fn for_each_needed(known: &Known, need: &mut impl FnMut(Uuid)) {
    match known {
        Known::HiveStarted {
            apiary: Some(apiary),
            ..
        }
        | Known::HiveMoved { apiary } => need(apiary.0),
        Known::Arranged { row } => needed_pieces(row, need),
        Known::EndArranged { beyond, row, .. } => {
            if let Some(bar) = beyond {
                need(bar.0);
            }
            needed_pieces(row, need);
        }
        Known::BarMoved { bar, beside, .. } => {
            need(bar.0);
            need(beside.0);
        }
        Known::BarTurned { bar }
        | Known::BarHangs { bar, .. }
        | Known::SetAside { bar }
        | Known::PutBack { bar }
        | Known::CombTaken { bar, .. }
        | Known::BarRemoved { bar }
        | Known::CombSeen { bar, .. }
        | Known::Decided { bar, .. }
        | Known::QueenSeen { bar: Some(bar) }
        | Known::QueenCells { bar: Some(bar), .. } => need(bar.0),
        Known::SplitTo { bars, to } => {
            for bar in bars {
                need(bar.0);
            }
            need(to.0);
        }
        Known::SignSeen(sign) => {
            if let Some(bar) = sign.bar {
                need(bar.0);
            }
        }
        Known::TreatmentEnded(end) => need(end.treatment.0),
        Known::SignReported(report) => need(report.sign.0),
        Known::SignCleared(clearing) => need(clearing.sign.0),
        Known::Matched { bars } => {
            bars.iter()
                .filter_map(|m| m.bar)
                .for_each(|bar| need(bar.0));
        }
        _ => {}
    }
}

fn needed_pieces(row: &[Piece], need: &mut impl FnMut(Uuid)) {
    row.iter()
        .filter_map(Piece::bar)
        .for_each(|bar| need(bar.0));
}
