//! The yard: every hive as the journal leaves it, folded from entries in any order.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use comb::order::InOrder as _;
use jiff::Timestamp;

use crate::HiveError;
use crate::amend::Before;
use crate::entry::{Entry, What};
use crate::fault::{Fault, Why};
use crate::fold::State;
use crate::health::{Disposed, Purchased};
use crate::hive::{Apiary, Hive, Note};
use crate::id::{ApiaryId, BarId, DeviceId, EntryId, HiveId};
use crate::order::{DeviceClock, Rank, Round, Timeline};
use crate::resolve::{Resolved, resolve, target_of};

/// All hives and apiaries, with the journal they come from.
///
/// The same entries give the same yard in whatever order they come, and an entry that comes twice
/// counts once; [`crate::order`] tells in which order they act.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Yard {
    pub(crate) log: BTreeMap<EntryId, Arc<Entry>>,
    twins: BTreeSet<EntryId>,
    pub(crate) clocks: BTreeMap<DeviceId, DeviceClock>,
    pub(crate) timeline: Timeline,
    pub(crate) resolved: Resolved,
    /// Entries that act, in order.
    pub(crate) acts: Vec<Act>,
    /// Faults of the journal as a whole, not of one act.
    faults: Vec<Fault>,
    pub(crate) state: State,
    pub(crate) before: Before,
}

/// One entry that stands, and what it says after corrections.
#[derive(Debug, Clone, PartialEq)]
pub struct Act {
    pub(crate) rank: Rank,
    /// Its time by rules 1 and 2 of [`crate::order`].
    pub(crate) told: Timestamp,
    pub(crate) entry: Arc<Entry>,
    pub(crate) corrected: Option<Arc<What>>,
}

/// Whether an entry acts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// It stands as it was written.
    Stands,
    /// It stands, but says something else now.
    Corrected,
    /// It was taken back.
    Undone,
}

impl Act {
    /// The entry as it was written.
    pub fn entry(&self) -> &Entry {
        &self.entry
    }

    /// What it says, after corrections.
    pub fn what(&self) -> &What {
        self.corrected.as_deref().unwrap_or(&self.entry.what)
    }

    /// From when on it counts, see [`crate::order`].
    pub const fn effective(&self) -> Timestamp {
        self.rank.time
    }
}

impl Yard {
    /// Folds a journal, in whatever order its entries come. Nothing is dropped: what cannot be
    /// applied is listed in [`Yard::faults`], what is of a newer kind in [`Yard::foreign`].
    pub fn fold<I>(entries: I) -> Self
    where
        I: IntoIterator,
        I::Item: Into<Arc<Entry>>,
    {
        let mut yard = Self::default();
        for entry in entries {
            yard.keep(entry.into());
        }
        yard.refold();
        yard
    }

    /// Adds one entry. Cheap when it is the latest in order, or takes back or corrects one of the latest
    /// visit, as at the hive; otherwise the whole journal is folded again.
    pub fn add(&mut self, entry: impl Into<Arc<Entry>>) {
        let entry = entry.into();
        if self.log.contains_key(&entry.id) {
            if self.keep(entry) {
                self.refold();
            }
            return;
        }
        self.keep(Arc::clone(&entry));
        if !(self.append(&entry) || self.amend(&entry)) {
            self.refold();
        }
    }

    /// Adds several entries, another journal's for instance: the union of the two.
    pub fn merge<I>(&mut self, entries: I)
    where
        I: IntoIterator,
        I::Item: Into<Arc<Entry>>,
    {
        let mut changed = false;
        for entry in entries {
            changed |= self.keep(entry.into());
        }
        if changed {
            self.refold();
        }
    }

    /// The yard as it stood at an instant: everything that happened up to it, with what is known
    /// today, so later corrections of earlier entries count.
    ///
    /// For a day, pass its last instant in the keeper's zone.
    #[must_use]
    pub fn as_of(&self, instant: Timestamp) -> Self {
        let until = self.acts.partition_point(|act| act.effective() <= instant);
        let acts = self.acts[..until].to_vec();
        let state = State::of(&acts);
        Self {
            acts,
            state,
            ..self.clone_without_state()
        }
    }

    fn clone_without_state(&self) -> Self {
        Self {
            log: self.log.clone(),
            twins: self.twins.clone(),
            clocks: self.clocks.clone(),
            timeline: self.timeline.clone(),
            resolved: self.resolved.clone(),
            acts: Vec::new(),
            faults: self.faults.clone(),
            state: State::default(),
            before: Before::default(),
        }
    }

    /// Puts an entry into the log; true when the log changed.
    fn keep(&mut self, entry: Arc<Entry>) -> bool {
        let Some(known) = self.log.get_mut(&entry.id) else {
            self.log.insert(entry.id, entry);
            return true;
        };
        if *known == entry {
            return false;
        }
        let text = |entry: &Entry| serde_json::to_string(entry).unwrap_or_default();
        if text(&entry) < text(known) {
            *known = entry.clone();
        }
        self.twins.insert(entry.id);
        true
    }

    /// Applies an entry that is new to the log as the last one; false when it is not the last or
    /// changes what came before.
    fn append(&mut self, entry: &Arc<Entry>) -> bool {
        let round = Round::of(&entry.what);
        let last_seq = self
            .clocks
            .get(&entry.device)
            .map_or(0, |clock| clock.last_seq);
        let closes_again = round == Round::Closings
            && entry
                .visit
                .is_some_and(|visit| self.timeline.has_closing(visit));
        let may_heal = round.makes() && self.faults().next().is_some();
        if target_of(&entry.what).is_some()
            || self.resolved.awaited.contains(&entry.id)
            || entry.seq <= last_seq
            || closes_again
            || may_heal
        {
            return false;
        }
        let read = self.clocks.entry(entry.device).or_default().read(entry);
        let rank = self.timeline.rank(entry, &entry.what, read.time);
        if read.went_back || self.acts.last().is_some_and(|last| rank < last.rank) {
            return false;
        }
        let act = Act {
            rank,
            told: read.time,
            entry: Arc::clone(entry),
            corrected: None,
        };
        if round == Round::Visits {
            self.before.remember(self.acts.len(), &self.state);
        }
        self.state.apply(&act);
        self.acts.push(act);
        true
    }

    /// Folds the whole log.
    fn refold(&mut self) {
        let mut faults: Vec<_> = self.twins.iter().map(|id| self.twin_fault(*id)).collect();
        let (times, clocks) = read_clocks(&self.log, &mut faults);
        let time_of = |entry: &Entry| times.get(&entry.id).copied().unwrap_or(entry.at);
        self.clocks = clocks;
        self.resolved = resolve(&self.log, |entry| Rank::plain(entry, time_of(entry)));
        faults.append(&mut self.resolved.faults);
        self.faults = faults;
        (self.timeline, self.acts) = rank_acts(&self.log, &self.resolved, time_of);
        self.before.forget();
        self.state = State::default();
        // what is taken back or put right is mostly of the latest visit
        let opens = |act: &Act| Round::of(act.what()) == Round::Visits;
        let latest_visit = self.acts.iter().rposition(opens);
        for (place, act) in self.acts.iter().enumerate() {
            if Some(place) == latest_visit {
                self.before.remember(place, &self.state);
            }
            self.state.apply(act);
        }
    }

    fn twin_fault(&self, id: EntryId) -> Fault {
        Fault {
            entry: id,
            hive: self.log.get(&id).and_then(|entry| entry.hive),
            applied: true,
            why: Why::DifferentTwins,
        }
    }
}

type Log = BTreeMap<EntryId, Arc<Entry>>;

/// Reads every device's entries by rising number: rules 1 and 2 of [`crate::order`].
fn read_clocks(
    log: &Log,
    faults: &mut Vec<Fault>,
) -> (
    BTreeMap<EntryId, Timestamp>,
    BTreeMap<DeviceId, DeviceClock>,
) {
    let mut entries: Vec<&Entry> = log.values().map(Arc::as_ref).collect();
    entries.order_by_key(|entry| (entry.device, entry.seq, entry.id));
    let mut clocks: BTreeMap<DeviceId, DeviceClock> = BTreeMap::new();
    let mut times = BTreeMap::new();
    for entry in entries {
        let clock = clocks.entry(entry.device).or_default();
        let seq = entry.seq;
        let twice = seq == clock.last_seq && seq > 0;
        let read = clock.read(entry);
        let went_back = read.went_back.then_some(Why::ClockWentBack);
        let twice = twice.then_some(Why::SequenceTwice { seq });
        for why in went_back.into_iter().chain(twice) {
            faults.push(Fault {
                entry: entry.id,
                hive: entry.hive,
                applied: true,
                why,
            });
        }
        times.insert(entry.id, read.time);
    }
    (times, clocks)
}

/// Ranks the entries that act: rules 3 and 4 of [`crate::order`].
fn rank_acts(
    log: &Log,
    resolved: &Resolved,
    time_of: impl Fn(&Entry) -> Timestamp,
) -> (Timeline, Vec<Act>) {
    let mut timeline = Timeline::default();
    let mut standing: Vec<_> = log
        .values()
        .filter(|entry| target_of(&entry.what).is_none() && !resolved.undone.contains(&entry.id))
        .map(|entry| {
            let corrected = resolved.says.get(&entry.id).cloned();
            let round = Round::of(corrected.as_deref().unwrap_or(&entry.what));
            (round, entry, corrected)
        })
        .collect();
    standing.order_by_key(|(round, entry, _)| (*round, entry.device, entry.seq, entry.id));
    let mut acts: Vec<_> = standing
        .into_iter()
        .map(|(_, entry, corrected)| {
            let what = corrected.as_deref().unwrap_or(&entry.what);
            let told = time_of(entry);
            let rank = timeline.rank(entry, what, told);
            Act {
                rank,
                told,
                entry: Arc::clone(entry),
                corrected,
            }
        })
        .collect();
    acts.order_by_key(|act| act.rank);
    (timeline, acts)
}

/// Looking things up.
impl Yard {
    /// All hives, ended ones included, by id (the order in which they were made).
    pub fn hives(&self) -> impl Iterator<Item = &Hive> {
        self.state.hives.values().map(Arc::as_ref)
    }

    /// Living hives, by name.
    pub fn living_hives(&self) -> Vec<&Hive> {
        let mut living: Vec<_> = self.hives().filter(|hive| hive.is_living()).collect();
        living.order_by_key(|hive| (hive.name.to_lowercase(), hive.id));
        living
    }

    /// A hive by its id.
    pub fn hive(&self, hive: HiveId) -> Option<&Hive> {
        self.state.hives.get(&hive).map(Arc::as_ref)
    }

    /// A hive by its name, case aside; of several, a living one before an ended one, and the
    /// latest made.
    ///
    /// # Errors
    /// [`HiveError::NoSuchHive`] with names that look alike.
    pub fn hive_named(&self, name: &str) -> Result<&Hive, HiveError> {
        let found = self.hives().filter(|hive| same_name(&hive.name, name));
        found
            .max_by_key(|hive| (hive.is_living(), hive.id))
            .ok_or_else(|| {
                let known: Vec<_> = self
                    .living_hives()
                    .iter()
                    .map(|hive| hive.name.clone())
                    .collect();
                HiveError::NoSuchHive {
                    name: name.to_owned(),
                    near: near_names(name, &known),
                    known,
                }
            })
    }

    /// All apiaries, by id.
    pub fn apiaries(&self) -> impl Iterator<Item = &Apiary> {
        self.state.apiaries.values()
    }

    /// An apiary by its id.
    pub fn apiary(&self, apiary: ApiaryId) -> Option<&Apiary> {
        self.state.apiaries.get(&apiary)
    }

    /// An apiary by its name, case aside.
    ///
    /// # Errors
    /// [`HiveError::NoSuchApiary`] with names that look alike.
    pub fn apiary_named(&self, name: &str) -> Result<&Apiary, HiveError> {
        let found = self.apiaries().find(|apiary| same_name(&apiary.name, name));
        found.ok_or_else(|| {
            let known: Vec<_> = self.apiaries().map(|apiary| apiary.name.clone()).collect();
            HiveError::NoSuchApiary {
                name: name.to_owned(),
                near: near_names(name, &known),
                known,
            }
        })
    }

    /// The hive that a bar belongs to.
    pub fn hive_of_bar(&self, bar: BarId) -> Option<&Hive> {
        self.state
            .owners
            .get(&bar)
            .and_then(|hive| self.hive(*hive))
    }

    /// The hive that a visit is of.
    pub fn hive_of_visit(&self, visit: EntryId) -> Option<&Hive> {
        self.state
            .visits
            .get(&visit)
            .and_then(|hive| self.hive(*hive))
    }

    /// Notes about the yard as a whole, in order.
    pub fn notes(&self) -> &[Note] {
        &self.state.notes
    }

    /// Medicines bought, in order.
    pub fn purchases(&self) -> &[Purchased] {
        &self.state.purchases
    }

    /// Medicines disposed of, in order.
    pub fn disposals(&self) -> &[Disposed] {
        &self.state.disposals
    }

    /// What could not be taken as it was written: first the journal's faults, then in order.
    pub fn faults(&self) -> impl Iterator<Item = &Fault> {
        self.faults.iter().chain(&self.state.faults)
    }

    /// Entries of kinds or versions that this program does not know, in order. They are kept.
    pub fn foreign(&self) -> &[EntryId] {
        &self.state.foreign
    }

    /// Entries that stand, in the order in which they act, undos and corrections worked in.
    pub fn acts(&self) -> &[Act] {
        &self.acts
    }

    /// Every entry ever given, by id: what is exported and merged.
    pub fn journal(&self) -> impl ExactSizeIterator<Item = &Arc<Entry>> {
        self.log.values()
    }

    /// An entry by its id, whether it stands or not.
    pub fn entry(&self, id: EntryId) -> Option<&Entry> {
        self.log.get(&id).map(Arc::as_ref)
    }

    /// Whether an entry stands; `None` when it is not in the journal.
    pub fn standing(&self, id: EntryId) -> Option<Standing> {
        self.log.get(&id).map(|_| {
            if self.resolved.undone.contains(&id) {
                Standing::Undone
            } else if self.resolved.says.contains_key(&id) {
                Standing::Corrected
            } else {
                Standing::Stands
            }
        })
    }

    /// What an entry says, after corrections; `None` when it was taken back or is not in the journal.
    pub fn says(&self, id: EntryId) -> Option<&What> {
        let entry = self.log.get(&id)?;
        if self.resolved.undone.contains(&id) {
            return None;
        }
        Some(self.resolved.says.get(&id).map_or(&entry.what, |says| says))
    }

    /// The number that a device's next entry must bear.
    pub fn next_seq(&self, device: DeviceId) -> u64 {
        self.clocks.get(&device).map_or(0, |clock| clock.last_seq) + 1
    }

    /// When a device last wrote; `None` when it has not.
    pub fn last_recorded(&self, device: DeviceId) -> Option<Timestamp> {
        self.clocks.get(&device).map(|clock| clock.last_recorded)
    }
}

pub(crate) fn same_name(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}

/// How alike two names must be to be suggested, 0 to 1 (our own choice: two slips in a word of
/// eight letters).
const NEAR: f64 = 0.72;

/// Names that look alike, nearest first, at most three.
fn near_names(name: &str, known: &[String]) -> Vec<String> {
    let wanted = name.trim().to_lowercase();
    let likeness =
        |other: &str| strsim::normalized_damerau_levenshtein(&wanted, &other.to_lowercase());
    let mut near: Vec<_> = known
        .iter()
        .map(|other| (likeness(other), other))
        .filter(|(alike, _)| *alike >= NEAR)
        .collect();
    near.order_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
    near.into_iter()
        .take(3)
        .map(|(_, other)| other.clone())
        .collect()
}
