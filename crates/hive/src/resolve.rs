//! Which entries stand, and what they say after corrections; the order of arrival plays no part.
//!
//! - An entry is undone while at least one undo that itself stands is aimed at it. Undoing an undo
//!   lets the entry stand again, unless another undo is aimed at it.
//! - Of several standing corrections of one entry the one latest in the journal's order counts. A
//!   corrected entry keeps its place in time, its hive and its visit.
//! - A correction of a correction replaces what the first one says. A correction of an entry that
//!   is undone waits: it shows again when the undo is undone.
//! - A target that is not in the journal (yet) is listed; when it arrives, the undo or correction
//!   acts. Entries that aim at each other in a circle do nothing and are listed.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::entry::{Entry, Known, What};
use crate::fault::{Fault, Why};
use crate::id::EntryId;
use crate::order::Rank;

/// What became of the entries that were aimed at.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Resolved {
    /// Entries taken back.
    pub(crate) undone: BTreeSet<EntryId>,
    /// What corrected entries say now.
    pub(crate) says: BTreeMap<EntryId, Arc<What>>,
    /// Targets that are not there.
    pub(crate) awaited: BTreeSet<EntryId>,
    /// What could not be done.
    pub(crate) faults: Vec<Fault>,
}

/// The entry that an undo or a correction is aimed at.
pub(crate) fn target_of(what: &What) -> Option<EntryId> {
    match what.known()? {
        Known::Undone { target } | Known::Corrected { target, .. } => Some(*target),
        _ => None,
    }
}

/// Settles all undos and corrections of a journal; `rank_of` gives the order among corrections.
pub(crate) fn resolve(
    log: &BTreeMap<EntryId, Arc<Entry>>,
    rank_of: impl Fn(&Entry) -> Rank,
) -> Resolved {
    let mut resolving = Resolving::of(log);
    let mut free: Vec<&Entry> = resolving.not_aimed_at();
    while let Some(entry) = free.pop() {
        resolving.settle(entry, rank_of(entry));
        free.extend(resolving.freed_by(entry));
    }
    resolving.finish()
}

struct Proposal {
    rank: Rank,
    says: Arc<What>,
}

struct Resolving<'a> {
    log: &'a BTreeMap<EntryId, Arc<Entry>>,
    /// Undos and corrections with a target that is there, not settled yet.
    open: BTreeMap<EntryId, &'a Entry>,
    /// How many of them are aimed at an entry.
    aimed: BTreeMap<EntryId, usize>,
    proposals: BTreeMap<EntryId, Proposal>,
    done: Resolved,
}

impl<'a> Resolving<'a> {
    fn of(log: &'a BTreeMap<EntryId, Arc<Entry>>) -> Self {
        let mut resolving = Self {
            log,
            open: BTreeMap::new(),
            aimed: BTreeMap::new(),
            proposals: BTreeMap::new(),
            done: Resolved::default(),
        };
        for entry in log.values() {
            let Some(target) = target_of(&entry.what) else {
                continue;
            };
            if log.contains_key(&target) {
                resolving.open.insert(entry.id, entry);
                *resolving.aimed.entry(target).or_default() += 1;
            } else {
                resolving.done.awaited.insert(target);
                resolving.fault(entry, Why::NoSuchEntry { target });
            }
        }
        resolving
    }

    fn fault(&mut self, entry: &Entry, why: Why) {
        self.done.faults.push(Fault {
            entry: entry.id,
            hive: entry.hive,
            applied: false,
            why,
        });
    }

    fn not_aimed_at(&self) -> Vec<&'a Entry> {
        let free = |entry: &&&Entry| !self.aimed.contains_key(&entry.id);
        self.open.values().filter(free).copied().collect()
    }

    /// Lets one entry act; everything aimed at it has been settled before.
    fn settle(&mut self, entry: &'a Entry, rank: Rank) {
        self.open.remove(&entry.id);
        if self.done.undone.contains(&entry.id) {
            return;
        }
        match entry.what.known() {
            Some(Known::Undone { target }) => {
                self.done.undone.insert(*target);
            }
            Some(Known::Corrected { target, what }) => {
                let corrected = self.proposals.remove(&entry.id);
                let says = corrected.map_or_else(|| Arc::new(what.clone()), |p| p.says);
                self.propose(entry, *target, rank, &says);
            }
            _ => {}
        }
    }

    fn propose(&mut self, by: &Entry, target: EntryId, rank: Rank, says: &Arc<What>) {
        let Some(says) = self.fitting(target, says) else {
            self.fault(by, Why::NotCorrectable);
            return;
        };
        let standing = self.proposals.get(&target);
        if standing.is_none_or(|standing| standing.rank < rank) {
            self.proposals.insert(target, Proposal { rank, says });
        }
    }

    /// What an entry may be corrected into: anything but an undo or a correction. A correction is
    /// corrected either by what it should have said, or by a whole correction of the same target.
    fn fitting(&self, target: EntryId, says: &Arc<What>) -> Option<Arc<What>> {
        let wrong = self.log.get(&target).and_then(|entry| entry.what.known());
        match (wrong, says.known()) {
            (
                Some(Known::Corrected { target: first, .. }),
                Some(Known::Corrected { target, what }),
            ) if first == target && target_of(what).is_none() => Some(Arc::new(what.clone())),
            (Some(Known::Undone { .. }), _)
            | (_, Some(Known::Undone { .. } | Known::Corrected { .. })) => None,
            _ => Some(Arc::clone(says)),
        }
    }

    /// The target, when nothing unsettled is aimed at it any more and it is aimed itself.
    fn freed_by(&mut self, entry: &Entry) -> Option<&'a Entry> {
        let target = target_of(&entry.what)?;
        let left = self.aimed.get_mut(&target)?;
        *left -= 1;
        if *left > 0 {
            return None;
        }
        self.open.get(&target).copied()
    }

    fn finish(mut self) -> Resolved {
        // each entry has one target, so what was never freed lies on a circle
        for entry in std::mem::take(&mut self.open).into_values() {
            self.fault(entry, Why::Circle);
        }
        let proposals = std::mem::take(&mut self.proposals);
        self.done.says = proposals
            .into_iter()
            .map(|(target, p)| (target, p.says))
            .collect();
        self.done
    }
}
