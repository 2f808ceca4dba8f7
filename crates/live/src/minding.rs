//! What others change in the journal, a visit that goes on follows.
//!
//! Records, another tab or another device may take back or correct what a visit wrote. Where leaving out
//! steps comes to just what the journal says now, they are left out, as if they had been taken back at the
//! hive. Elsewhere the journal's word stands over the steps, and nothing more is written of what it is about.

use std::collections::BTreeSet;

use hive::{BarId, Known, What, Yard};

use crate::due::{Group, Written, group};
use crate::session::{Live, Session, Target};
use crate::step::{Did, Step};

/// So many of the last steps may be what was taken back: one act in Records is seldom more.
const MOST: usize = 12;

impl Live {
    /// Follows what somebody else has corrected or taken back of this session since, or let stand again;
    /// true if anything of it changed.
    pub fn mind(&mut self, yard: &Yard) -> bool {
        if !self.note(yard) {
            return false;
        }
        if let Some(steps) = self.steps_left() {
            self.session_mut().steps = steps;
            self.session_mut().settle();
            self.fold();
        } else {
            self.come_to();
        }
        true
    }

    /// Bars on which somebody else has the word.
    pub fn bars_of_others(&self) -> Vec<BarId> {
        let theirs = self.session().written.iter().filter(|w| w.theirs);
        let bars = theirs.filter_map(|w| match group(&w.known) {
            Group::Bar(bar) => Some(bar),
            _ => None,
        });
        bars.collect::<BTreeSet<_>>().into_iter().collect()
    }

    fn note(&mut self, yard: &Yard) -> bool {
        let says = |id| yard.says(id).and_then(What::known);
        let moved = |w: &Written| yard.entry(w.id).is_some() && w.says() != says(w.id);
        let Session { written, gone, .. } = self.session();
        // nearly always: nobody has
        if !written.iter().any(moved) && !gone.iter().any(|w| says(w.id).is_some()) {
            return false;
        }
        let is_told = |known: &Known| self.targets.iter().any(|target| target.known == *known);
        let (mut written, mut gone) = (written.clone(), gone.clone());
        // no step tells any more what was let stand again
        written.extend(gone.extract_if(.., |w| says(w.id).is_some()));
        for written in &mut written {
            // one that is not there yet is being written
            if yard.entry(written.id).is_none() {
                continue;
            }
            let now = says(written.id);
            if written.says() != now {
                let mine = now == Some(&written.known);
                written.theirs = !mine || (written.theirs && !is_told(&written.known));
                written.says = now.filter(|_| written.theirs).cloned();
            }
        }
        let session = self.session_mut();
        (session.written, session.gone) = (written, gone);
        true
    }

    /// The steps without those that were taken back; `None` where it cannot be told which they are.
    fn steps_left(&self) -> Option<Vec<Step>> {
        let all = &self.session().steps;
        let each = (0..all.len()).rev().zip(self.told().rev());
        let changing = each.filter(|(_, (_, told))| told.changed).take(MOST);
        let without_last = changing.map(|(nth, _)| all[..nth].to_vec());
        let theirs = self.session().written.iter().filter(|w| w.theirs);
        let told_of = theirs.flat_map(|w| self.targets.iter().filter(|t| t.known == w.known));
        let at = |target: &Target| all.iter().position(|step| step.at == target.at);
        let without_one = told_of.take(MOST).filter_map(at);
        let without_one = without_one.map(|nth| without(all, nth));
        without_last
            .chain(without_one)
            .find(|steps: &Vec<Step>| self.agrees(&self.with_steps(steps.clone())))
    }

    fn with_steps(&self, steps: Vec<Step>) -> Self {
        let mut session = self.session().clone();
        session.steps = steps;
        Self::new(session, self.before().clone())
    }

    /// Whether a visit comes to what the journal says where others changed it, and to the same as this one
    /// elsewhere.
    fn agrees(&self, other: &Self) -> bool {
        let written = &self.session().written;
        let theirs: BTreeSet<Group> = written
            .iter()
            .filter(|w| w.theirs)
            .map(|w| group(&w.known))
            .collect();
        let (changed, others): (Vec<_>, Vec<_>) = other
            .targets
            .iter()
            .map(|target| &target.known)
            .partition(|known| theirs.contains(&group(known)));
        let as_told = written.iter().filter(|w| theirs.contains(&group(&w.known)));
        let is_elsewhere = |known: &&Known| !theirs.contains(&group(known));
        let mine = self.targets.iter().map(|target| &target.known);
        // a visit of which nothing is told stays open
        let opening = |known: &&Known| group(known) == Group::Opening;
        same(changed, as_told.filter_map(Written::says).collect())
            && same(
                others.into_iter().filter(|k| !opening(k)).collect(),
                mine.filter(is_elsewhere).filter(|k| !opening(k)).collect(),
            )
    }

    /// The targets, the journal's word in place of those that others changed.
    pub(crate) fn standing_targets(&self) -> Vec<Target> {
        let written = &self.session().written;
        let theirs = || written.iter().filter(|w| w.theirs);
        if theirs().next().is_none() {
            return self.targets.clone();
        }
        let changed: BTreeSet<Group> = theirs().map(|w| group(&w.known)).collect();
        let kept = |of: &Group| *of == Group::Opening || !changed.contains(of);
        let mut targets: Vec<Target> = self
            .targets
            .iter()
            .filter(|t| kept(&group(&t.known)))
            .cloned()
            .collect();
        let at = targets
            .first()
            .map_or(self.before().started, |target| target.at);
        let opened = targets
            .first()
            .is_some_and(|t| group(&t.known) == Group::Opening);
        let opening = written
            .iter()
            .filter(|w| !opened && group(&w.known) == Group::Opening);
        let told = opening.chain(written.iter().filter(|w| !kept(&group(&w.known))));
        for known in told.filter_map(Written::says).cloned() {
            // a row is closed and bars go after everything that is said of them
            let of = group(&known);
            let before = targets.iter().position(|t| group(&t.known) > of);
            let place = before.unwrap_or(targets.len());
            let said = None;
            targets.insert(place, Target { at, said, known });
        }
        targets
    }
}

/// All steps but the one at this place, and what put it right; words put right keep to their phrases.
fn without(all: &[Step], left_out: usize) -> Vec<Step> {
    let others = all.iter().enumerate().filter(|(at, _)| *at != left_out);
    let others = others.filter_map(|(_, step)| {
        let mut step = step.clone();
        match &mut step.did {
            Did::PutRight { nth, .. } if *nth == left_out => return None,
            Did::PutRight { nth, .. } if *nth > left_out => *nth -= 1,
            _ => {}
        }
        Some(step)
    });
    others.collect()
}

/// The same, in whatever order.
fn same(mut some: Vec<&Known>, others: Vec<&Known>) -> bool {
    some.len() == others.len()
        && others.into_iter().all(|known| {
            let found = some.iter().position(|one| *one == known);
            found.map(|at| some.swap_remove(at)).is_some()
        })
}
