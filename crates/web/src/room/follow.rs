//! What Records, another tab or another device changes in the journal, the open visit follows.

use hive::{EntryId, HiveId, Yard};
use leptos::prelude::*;
use live::{Due, Live};

use super::{Phase, Room};
use crate::texts;

/// Follows the journal for as long as the room is there.
pub(super) fn follow(room: Room) {
    let yard = room.journal().yard;
    Effect::new(move || {
        yard.track();
        room.follow();
    });
}

/// How far the journal was followed.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Followed {
    /// Entries in the journal.
    all: usize,
    /// Those of the hive that are not of the visit.
    others: usize,
}

impl Followed {
    /// All of it.
    pub(super) fn of(yard: &Yard, hive: HiveId, visit: EntryId) -> Self {
        let others = yard.journal();
        let others = others.filter(|e| e.hive == Some(hive) && e.visit != Some(visit));
        Self {
            all: yard.journal().len(),
            others: others.count(),
        }
    }

    /// Own entries were written.
    pub(super) fn wrote(&mut self, due: &Due) {
        self.all += due.writings.len();
    }
}

impl Room {
    /// Brings the visit to what the journal says. Own entries are in the journal a moment before the visit
    /// knows that they are written: while any are, this waits for the end of it.
    pub(super) fn follow(self) {
        if !self.is_keeping() && self.phase.get_untracked() == Phase::Ready && self.follow_in() {
            self.keep();
        }
    }

    /// The same, where it is kept anyway; tells whether anything of the visit changed.
    pub(super) fn follow_in(self) -> bool {
        let yard = self.journal().yard.get_untracked();
        let before = self.saver.with_value(|saver| saver.followed);
        if yard.journal().len() == before.all {
            return false;
        }
        let (mut moved, mut based_anew) = (false, false);
        self.live.update_untracked(|live| {
            let Some(live) = live else { return };
            let visit = live.session().visit;
            let now = Followed::of(&yard, self.hive, visit);
            self.saver.update_value(|saver| saver.followed = now);
            if now.others != before.others
                && let Some(base) = live::session::before(&yard, self.hive, visit)
            {
                *live = Live::new(live.session().clone(), base);
                based_anew = true;
            }
            moved = live.mind(&yard);
        });
        if moved || based_anew {
            self.refresh();
        }
        if moved {
            self.tell(texts::visit::CHANGED_ELSEWHERE.to_owned(), false);
        }
        moved
    }
}
