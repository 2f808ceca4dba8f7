//! Taking back or correcting one of the latest entries without folding the whole journal again.
//!
//! At the hive, words are taken back and put right all the time, and always the latest ones. The entry aimed
//! at leaves the list of acts or says something else; the state is folded again only from a copy that was
//! made when the visit began. Whatever could change more than that (what others need, an order among
//! entries, other undos and corrections of the same entry) is left to the whole fold, so that both give the
//! same yard: a property test compares them.

use std::sync::Arc;

use crate::entry::{Entry, Known, What};
use crate::fold::State;
use crate::id::EntryId;
use crate::order::Round;
use crate::resolve::target_of;
use crate::yard::{Act, Yard};

/// The state before some of the latest acts. Whether one is there makes no difference to a yard.
#[derive(Debug, Clone, Default)]
pub(crate) struct Before(Option<Box<(usize, State)>>);

impl PartialEq for Before {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl Before {
    /// Remembers the state as it is after so many acts.
    pub(crate) fn remember(&mut self, acts: usize, state: &State) {
        self.0 = Some(Box::new((acts, state.clone())));
    }

    /// Forgets it, since acts before it changed.
    pub(crate) fn forget(&mut self) {
        self.0 = None;
    }

    /// The state before an act, and from which act on it must be folded; the acts from there on.
    fn covering(&self, act: usize) -> Option<(usize, &State)> {
        let (acts, state) = self.0.as_deref()?;
        (*acts <= act).then_some((*acts, state))
    }
}

/// An act that may be amended cheaply, and what it says from now on.
struct Amending {
    place: usize,
    /// `None` when it is taken back.
    says: Option<Arc<What>>,
}

impl Yard {
    /// Lets an undo or a correction act that is the last of its device; false when the whole journal must
    /// be folded. The log holds it already.
    pub(crate) fn amend(&mut self, entry: &Arc<Entry>) -> bool {
        let Some(amending) = self.amending(entry) else {
            return false;
        };
        let clock = self.clocks.entry(entry.device).or_default();
        if entry.seq <= clock.last_seq || clock.read(entry).went_back {
            return false;
        }
        let target = self.acts[amending.place].entry.id;
        let visit = self.acts[amending.place].entry.visit;
        match amending.says {
            None => {
                self.acts.remove(amending.place);
                self.resolved.undone.insert(target);
            }
            Some(says) => {
                self.acts[amending.place].corrected = Some(Arc::clone(&says));
                self.resolved.says.insert(target, says);
            }
        }
        if !self.ranks_stand(visit, amending.place) {
            return false;
        }
        self.fold_from(amending.place);
        true
    }

    fn amending(&self, entry: &Entry) -> Option<Amending> {
        let target = target_of(&entry.what)?;
        let is_target = |act: &Act| act.entry.id == target;
        let place = self.acts.iter().rposition(is_target)?;
        let act = &self.acts[place];
        let alone = |id: EntryId| {
            let mut aimed = self.log.values().rev().filter_map(|other| {
                (other.id != entry.id && target_of(&other.what) == Some(id)).then_some(())
            });
            aimed.next().is_none()
        };
        let changes_nothing_else = act.corrected.is_none()
            && plain(&act.entry.what)
            && !self.resolved.awaited.contains(&entry.id)
            && self.before.covering(place).is_some();
        if !changes_nothing_else || !alone(target) || !alone(entry.id) {
            return None;
        }
        match entry.what.known()? {
            Known::Undone { .. } => Some(Amending { place, says: None }),
            Known::Corrected { what, .. } if plain(what) && target_of(what).is_none() => {
                let says = Some(Arc::new(what.clone()));
                Some(Amending { place, says })
            }
            _ => None,
        }
    }

    /// Whether all acts of a visit keep the ranks that they have: rule 3 of [`crate::order`] makes one hang
    /// on the next. Outside a visit only the act that was corrected may have moved.
    fn ranks_stand(&mut self, visit: Option<EntryId>, place: usize) -> bool {
        let Some(visit) = visit else {
            let amended = self.acts.get(place).filter(|act| act.corrected.is_some());
            return amended.is_none_or(|act| {
                self.timeline.rank(&act.entry, act.what(), act.told) == act.rank
            });
        };
        let Some((since, _)) = self.before.covering(place) else {
            return false;
        };
        let (earlier, later) = self.acts.split_at(since);
        let of_visit = |act: &&Act| act.entry.visit == Some(visit);
        if earlier.iter().rev().any(|act| of_visit(&act)) {
            return false;
        }
        let mut acts: Vec<&Act> = later.iter().filter(of_visit).collect();
        acts.sort_by_key(|act| {
            let entry = &act.entry;
            (Round::of(act.what()), entry.device, entry.seq, entry.id)
        });
        self.timeline.forget_runs(visit);
        acts.into_iter()
            .all(|act| self.timeline.rank(&act.entry, act.what(), act.told) == act.rank)
    }

    /// Folds the acts again from the copy that lies before one of them.
    fn fold_from(&mut self, place: usize) {
        let (since, mut state) = match self.before.covering(place) {
            Some((since, state)) => (since, state.clone()),
            None => (0, State::default()),
        };
        for act in &self.acts[since..] {
            state.apply(act);
        }
        self.state = state;
    }
}

/// Neither makes anything that others need, nor bounds a visit.
fn plain(what: &What) -> bool {
    Round::of(what) == Round::Rest
}
