//! What is to be written: the entries that should be there against those that are.
//!
//! The journal only grows and entries act in the order in which they were written, so what changed is
//! corrected in place where the order allows it, and else taken back and written anew behind the
//! rest. Entries about different bars commute; those about one bar are kept in their order. Bars that go
//! to another hive are told of before they go: a split is written anew behind what is new about them.

use std::collections::{BTreeMap, BTreeSet};

use comb::order::InOrder as _;
use hive::check::bars_named;
use hive::{BarId, EntryId, Known};
use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use crate::rematched::rematched;
use crate::session::{Live, Session, Target};

/// An entry written for a session.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Written {
    pub(crate) id: EntryId,
    /// What it says now, by this session.
    pub(crate) known: Known,
    /// Somebody else has corrected it or taken it back: hands off what it is about.
    #[serde(default)]
    pub(crate) theirs: bool,
    /// Then what it says by the journal; `None` when it was taken back.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) says: Option<Known>,
}

impl Written {
    /// What it says by the journal, as far as this session knows.
    pub(crate) const fn says(&self) -> Option<&Known> {
        if self.theirs {
            self.says.as_ref()
        } else {
            Some(&self.known)
        }
    }
}

/// An entry to be written.
#[derive(Debug, Clone, PartialEq)]
pub struct Writing {
    /// Its id.
    pub id: EntryId,
    /// When it happened; `None` for a correction, which happens now.
    pub at: Option<Timestamp>,
    /// The words it came from.
    pub said: Option<String>,
    /// What it says.
    pub known: Known,
}

/// How much is to be written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Upto {
    /// Everything but what is about the bar in hand, of which more is likely to be said.
    Settled,
    /// Everything.
    All,
}

/// What is to be written, and the session as it is once that is done. Both belong into one
/// transaction.
#[derive(Debug, Clone, PartialEq)]
pub struct Due {
    /// In the order in which they must be written.
    pub writings: Vec<Writing>,
    /// The session to be kept with them.
    pub session: Session,
}

/// Entries of one group keep their order; entries of different groups commute.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Group {
    Opening,
    Bar(BarId),
    Kind(&'static str),
    /// Bars that go to another hive: after everything that names them.
    Split,
    /// Rows and the closing words: after everything said of bars.
    Closing,
    End,
}

pub(crate) fn group(known: &Known) -> Group {
    match known {
        Known::VisitOpened { .. } => Group::Opening,
        Known::CombSeen { bar, .. }
        | Known::SetAside { bar }
        | Known::PutBack { bar }
        | Known::Decided { bar, .. }
        | Known::CombTaken { bar, .. }
        | Known::BarTurned { bar }
        | Known::BarHangs { bar, .. } => Group::Bar(*bar),
        Known::EndArranged { .. } | Known::Arranged { .. } => Group::Closing,
        Known::SplitTo { .. } => Group::Split,
        Known::VisitClosed {} => Group::End,
        other => Group::Kind(other.kind()),
    }
}

impl Live {
    /// Takes over that what was due is written.
    pub fn wrote(&mut self, due: &Due) {
        self.session_mut().written.clone_from(&due.session.written);
    }

    /// The entries of a group that should be there, in the order in which they must act, each with
    /// its place among all.
    pub(crate) fn wanted(&self, of: Group) -> Vec<(usize, &Target)> {
        let all = self.targets.iter().enumerate();
        let mut wanted: Vec<_> = all.filter(|(_, t)| group(&t.known) == of).collect();
        if matches!(of, Group::Bar(_)) {
            // a look tells of the comb as it hung then: it keeps its place to turns alone, so that a
            // later word on it corrects one entry
            let mut turns = 0;
            wanted.sort_by_cached_key(|(_, target)| {
                turns += usize::from(matches!(target.known, Known::BarTurned { .. }));
                (
                    turns,
                    !matches!(target.known, Known::BarTurned { .. }),
                    !matches!(target.known, Known::CombSeen { .. }),
                )
            });
        }
        let mut last = 0;
        for (place, _) in &mut wanted {
            last = last.max(*place);
            *place = last;
        }
        wanted
    }

    /// The split as it should be, without bars that somebody else has the word on, and its place.
    fn split_but(&self, theirs: impl Fn(&BarId) -> bool) -> Option<(usize, Target)> {
        let mut targets = self.targets.iter().enumerate();
        let (place, mut split) = targets.find_map(|(place, target)| {
            matches!(target.known, Known::SplitTo { .. }).then(|| (place, target.clone()))
        })?;
        if let Known::SplitTo { bars, .. } = &mut split.known {
            bars.retain(|bar| !theirs(bar));
            if bars.is_empty() {
                return None;
            }
        }
        Some((place, split))
    }

    /// What is to be written now; `fresh` gives ids.
    pub fn due(&self, upto: Upto, mut fresh: impl FnMut() -> EntryId) -> Due {
        let mut session = self.session().clone();
        let written = std::mem::take(&mut session.written);
        let goes = |known: &Known, bar| {
            matches!(known, Known::SplitTo { .. }) && bars_named(known).contains(&bar)
        };
        let held = match upto {
            Upto::Settled => self.in_hand(),
            Upto::All => None,
        };
        // one that goes to another hive is settled with the others that go
        let stays = |bar: &BarId| {
            !written.iter().any(|w| goes(&w.known, *bar))
                && !self.targets.iter().any(|t| goes(&t.known, *bar))
        };
        let held = held.filter(stays).map(Group::Bar);
        let gone = theirs_to_say(&written);
        let split = self.split_but(|bar| {
            gone.contains(bar) || written.iter().any(|w| w.theirs && is_of(&w.known, *bar))
        });
        let names_gone = |known: &Known| bars_named(known).iter().any(|bar| gone.contains(bar));
        let moved = rematched(self, &written, |bar| {
            gone.contains(&bar) || written.iter().any(|w| w.theirs && is_of(&w.known, bar))
        });
        let groups: BTreeSet<Group> = written
            .iter()
            .map(|w| group(&w.known))
            .chain(self.targets.iter().map(|t| group(&t.known)))
            .collect();
        let mut plan = Plan::default();
        for of in groups {
            let all = written.iter().enumerate();
            let mut mine: Vec<_> = all.filter(|(_, w)| group(&w.known) == of).collect();
            let mut wanted = self.wanted(of);
            if let Group::Bar(bar) = of {
                mine = plan.matched_anew(mine, bar, &written, &moved);
            }
            if of == Group::Split {
                let theirs: Vec<_> = mine.extract_if(.., |(_, w)| w.theirs).collect();
                plan.keep(&theirs);
                wanted = split.iter().map(|(place, split)| (*place, split)).collect();
            }
            let anew = match of {
                // a row is closed over everything that was said of bars
                Group::Closing | Group::End => plan.touched,
                Group::Split => splits_anew(&mine, &wanted, &plan.renewed),
                _ => false,
            };
            let theirs = mine.iter().any(|(_, w)| w.theirs || names_gone(&w.known))
                || wanted.iter().any(|(_, t)| names_gone(&t.known));
            // what goes to another bar, goes at once: half of it would mix two combs
            let matched = |bar| moved.iter().any(|(from, to)| bar == *from || bar == *to);
            let waits = held == Some(of) && !matches!(of, Group::Bar(bar) if matched(bar));
            if theirs || waits {
                plan.keep(&mine);
            } else if of == Group::Opening {
                plan.opening(&mine, &wanted);
            } else {
                plan.group(&mine, &wanted, anew);
            }
        }
        plan.into_due(session, &mut fresh)
    }
}

#[derive(Default)]
struct Plan<'a> {
    /// With its place in the order of writing.
    kept: Vec<(usize, Written)>,
    undone: Vec<&'a Written>,
    corrected: Vec<(EntryId, &'a Target)>,
    /// With its place among all that should be there.
    new: Vec<(usize, &'a Target)>,
    /// Something about bars changes.
    touched: bool,
    /// Bars of which something is taken back, written behind the rest, or told where another was.
    renewed: BTreeSet<BarId>,
}

fn is_of(known: &Known, bar: BarId) -> bool {
    group(known) == Group::Bar(bar)
}

/// Bars of which somebody else has the last word on where they went: there, or here again.
fn theirs_to_say(written: &[Written]) -> BTreeSet<BarId> {
    let splits = written.iter().filter(|w| group(&w.known) == Group::Split);
    let theirs = splits.filter(|w| w.theirs);
    theirs.flat_map(|w| bars_named(&w.known)).collect()
}

/// A split can be corrected where it stands only as to the hive: of other bars, or of bars of which
/// something new is told, it must be written behind that.
fn splits_anew(
    mine: &[(usize, &Written)],
    wanted: &[(usize, &Target)],
    renewed: &BTreeSet<BarId>,
) -> bool {
    let were: Vec<_> = mine.iter().map(|(_, w)| bars_named(&w.known)).collect();
    let are: Vec<_> = wanted.iter().map(|(_, t)| bars_named(&t.known)).collect();
    were != are || were.iter().flatten().any(|bar| renewed.contains(bar))
}

impl<'a> Plan<'a> {
    fn keep(&mut self, mine: &[(usize, &'a Written)]) {
        let kept = mine.iter().map(|(place, w)| (*place, (*w).clone()));
        self.kept.extend(kept);
    }

    fn correct(&mut self, (place, written): (usize, &'a Written), target: &'a Target) {
        self.corrected.push((written.id, target));
        let known = target.known.clone();
        let written = Written {
            known,
            ..written.clone()
        };
        self.kept.push((place, written));
    }

    /// The entries that are about a bar once combs are matched anew; those that were and go to none are
    /// taken back.
    fn matched_anew(
        &mut self,
        mine: Vec<(usize, &'a Written)>,
        bar: BarId,
        written: &'a [Written],
        moved: &BTreeMap<BarId, BarId>,
    ) -> Vec<(usize, &'a Written)> {
        let from = moved
            .iter()
            .find(|(_, to)| **to == bar)
            .map(|(from, _)| from);
        let goes = moved.contains_key(&bar);
        if goes || from.is_some() {
            self.touched = true;
            self.renewed.insert(bar);
        }
        let Some(from) = from else {
            return if goes { Vec::new() } else { mine };
        };
        if !goes {
            self.undone.extend(mine.iter().map(|(_, w)| *w));
        }
        let all = written.iter().enumerate();
        all.filter(|(_, w)| is_of(&w.known, *from)).collect()
    }

    /// The opening names the visit: it stands as long as anything may be said.
    fn opening(&mut self, mine: &[(usize, &'a Written)], wanted: &[(usize, &'a Target)]) {
        match (mine, wanted) {
            ([first, ..], [(_, target), ..]) if first.1.known != target.known => {
                self.correct(*first, target);
            }
            ([], wanted) => self.new.extend(wanted),
            (mine, _) => self.keep(mine),
        }
    }

    fn group(&mut self, mine: &[(usize, &'a Written)], wanted: &[(usize, &'a Target)], anew: bool) {
        let fits = |((_, written), (_, target)): &(&(usize, &Written), &(usize, &Target))| {
            written.known.kind() == target.known.kind()
        };
        let same = if anew {
            0
        } else {
            mine.iter().zip(wanted).take_while(fits).count()
        };
        for (mine, (_, target)) in mine.iter().zip(wanted).take(same) {
            if mine.1.known == target.known {
                self.keep(&[*mine]);
            } else {
                self.correct(*mine, target);
                self.touched = true;
                // another bar, which may have gone before this entry acts
                let named = bars_named(&mine.1.known);
                let now = bars_named(&target.known).into_iter();
                self.renewed.extend(now.filter(|bar| !named.contains(bar)));
            }
        }
        self.touched |= mine.len() > same || wanted.len() > same;
        let back = mine[same..].iter().map(|(_, w)| &w.known);
        let behind = wanted[same..].iter().map(|(_, t)| &t.known);
        self.renewed.extend(back.chain(behind).flat_map(bars_named));
        self.undone.extend(mine[same..].iter().map(|(_, w)| *w));
        self.new.extend(&wanted[same..]);
    }

    fn into_due(mut self, mut session: Session, fresh: &mut dyn FnMut() -> EntryId) -> Due {
        let mut writings = Vec::new();
        // the latest first, so that each can be taken back as it stands
        for written in self.undone.iter().rev() {
            let target = written.id;
            let known = Known::Undone { target };
            let (id, at, said) = (fresh(), None, None);
            writings.push(Writing {
                id,
                at,
                said,
                known,
            });
        }
        // an entry acts where it was written first, corrected or not
        self.kept.order_by_key(|(place, _)| *place);
        session.written = self.kept.into_iter().map(|(_, w)| w).collect();
        for (wrong, target) in self.corrected {
            let known = Known::Corrected {
                target: wrong,
                what: target.known.clone().into(),
            };
            let (id, at, said) = (fresh(), None, target.said.clone());
            writings.push(Writing {
                id,
                at,
                said,
                known,
            });
        }
        self.new.order_by_key(|(place, _)| *place);
        for (_, target) in self.new {
            let id = match target.known {
                Known::VisitOpened { .. } => session.visit,
                _ => fresh(),
            };
            writings.push(Writing {
                id,
                at: Some(target.at),
                said: target.said.clone(),
                known: target.known.clone(),
            });
            session.written.push(Written {
                id,
                known: target.known.clone(),
                theirs: false,
                says: None,
            });
        }
        Due { writings, session }
    }
}
