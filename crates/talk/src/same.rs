//! A comb that is like another: "same again", "ditto on the capping", "same as the second".

use crate::act::Act;
use crate::concept::Concept as C;
use crate::ear::{Ear, Faces};
use crate::mark::Mark;
use crate::opening::{describes, fresh, whole};
use crate::pairing::Item;
use crate::visit::Comb;

impl Ear<'_> {
    /// "same again": as the comb before.
    pub(crate) fn copies(&mut self, marks: &[Mark]) {
        let Some(m) = marks.iter().find(|m| m.concept == C::Same) else {
            return;
        };
        let at = marks.iter().position(|n| n == m).unwrap_or(0);
        if let Some((side, share)) = self.the_face_left(marks) {
            self.note_hand("the same there", &Act::Capped(side, share), &[*m]);
            return;
        }
        // "back", a pause, "the same": the face that waits
        if self.state.face.is_some()
            && self
                .comb()
                .is_some_and(|c| c.this.is_some() != c.other.is_some())
        {
            return;
        }
        // "the same goes for this one": the verdict alone
        if self.word(m.to - 1) == "goes" && self.word(m.to) == "for" {
            let first = self.state.hand.first().copied().unwrap_or(0);
            let before = self.state.visit.combs[..first].last();
            if let Some(decision) = before.and_then(|c| c.decision) {
                let hand = self.state.hand.clone();
                self.decide("same goes", Some(decision), &hand, &[*m]);
            }
            return;
        }
        if self.not_alike(marks, at) {
            return;
        }
        // "a third on this face and the same on that"
        if self.word(m.to - 1) == "that" && marks[..at].iter().any(|n| n.concept == C::This) {
            return;
        }
        let face = |i: Option<usize>| {
            i.and_then(|i| marks.get(i))
                .is_some_and(|n| matches!(n.concept, C::This | C::Other | C::Both))
        };
        // "flip, the same there"
        let there = self.said(m, "there")
            && marks[..at]
                .iter()
                .any(|n| matches!(n.concept, C::Other | C::This | C::Here));
        let one_face = |i: usize| {
            marks
                .get(i)
                .is_some_and(|n| matches!(n.concept, C::This | C::Other))
        };
        let untold = self
            .comb()
            .is_some_and(|c| c.this.is_none() && c.other.is_none());
        if there
            || one_face(at + 1) && untold
            || face(at.checked_sub(1))
            || at > 1 && marks[at - 1].concept == C::End && face(at.checked_sub(2))
            || face(Some(at + 1))
                && marks
                    .get(at + 2)
                    .is_none_or(|n| !matches!(n.concept, C::Share | C::Capped))
                && self
                    .comb()
                    .is_some_and(|c| c.this.is_some() || c.other.is_some())
        {
            return;
        }
        if self.comb().is_some_and(Comb::described) {
            let decided = self.comb().is_some_and(|c| c.decision.is_some());
            if !decided || !fresh(marks, at) {
                return;
            }
            self.meet("same again", &[None], &[*m]);
        }
        let Some(&first) = self.state.hand.first() else {
            return;
        };
        let named = self
            .likened(marks, at + 1)
            .then(|| self.like_which(&marks[at + 1..]))
            .flatten()
            .filter(|&i| i != first);
        let Some(old) = named
            .or_else(|| first.checked_sub(1))
            .and_then(|i| self.state.visit.combs.get(i))
            .cloned()
        else {
            return;
        };
        // "likewise built to the floor": in that alone
        let alike = ["likewise", "equally", "also"]
            .iter()
            .any(|w| self.said(m, w))
            || self.said(m, "so");
        if alike
            && marks[at + 1..]
                .iter()
                .any(|n| describes(n.concept) && !matches!(n.concept, C::Take | C::Leave | C::Next))
        {
            return;
        }
        self.copy(old, *m, marks);
    }

    /// "sealed from edge to edge, and the other side", a pause, "same": the face that was not told.
    fn the_face_left(&self, marks: &[Mark]) -> Option<(crate::act::Side, f64)> {
        let [_] = marks else { return None };
        let capped = |(_, act): &(Option<usize>, Act)| matches!(act, Act::Capped(..));
        if self.state.face.is_some() || !self.state.last_acts.iter().any(capped) {
            return None;
        }
        let comb = self.comb().filter(|c| c.decision.is_none())?;
        match (comb.this, comb.other) {
            (Some(share), None) => Some((crate::act::Side::Other, share)),
            (None, Some(share)) => Some((crate::act::Side::This, share)),
            _ => None,
        }
    }

    /// Words of likeness that make no comb like another.
    fn not_alike(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        // "bent the same way": in that alone
        let way = self.said(m, "way")
            && marks[..at]
                .iter()
                .any(|n| matches!(n.concept, C::StraightNo | C::AttachedYes));
        // "so is it enough": asked
        let asked = self.word(m.from) == "so" && matches!(self.word(m.to), "it" | "there");
        // "it don't weigh as much"
        let less = self.said(m, "much")
            && (m.from.saturating_sub(4)..m.from).any(|i| matches!(self.word(i), "not" | "n't"));
        // "bar nine's the same", a pause, "same as eight": said once more
        let again = self.state.copied
            && self.likened(marks, at + 1)
            && self.like_which(&marks[at + 1..]).is_some();
        way || asked || less || again
    }

    /// What the other comb holds, its caps and its verdict, of the combs in hand.
    fn copy(&mut self, old: Comb, same: Mark, marks: &[Mark]) {
        self.state.copied = true;
        // "much the same honey capped ..." of two combs: like each other
        let words = [same];
        for (side, share) in [
            (crate::act::Side::This, old.this),
            (crate::act::Side::Other, old.other),
        ] {
            if let Some(share) = share {
                self.note_hand("same as before", &Act::Capped(side, share), &words);
            }
        }
        if self.state.hand.len() > 1
            && marks
                .iter()
                .any(|m| matches!(m.concept, C::Capped | C::Share))
        {
            return;
        }
        for hold in old.holds {
            self.note_hand("same as before", &Act::Holds(hold), &words);
        }
        // "the same, all capped both sides": alike in the honey, and how far it is built is not told
        let told_anew = marks
            .iter()
            .any(|m| matches!(m.concept, C::Capped | C::Uncapped))
            && marks
                .iter()
                .any(|m| matches!(m.concept, C::Both | C::This | C::Other));
        if let Some(fill) = old.fill.filter(|_| !told_anew) {
            self.note_hand("same as before", &Act::Filled(fill), &words);
        }
        if let Some(d) = old.decision {
            self.note_hand("same as before", &Act::Decided(Some(d)), &words);
        }
    }

    /// "same on the front but less on the back": of a comb not told yet, the face is as it was on
    /// the comb before, or on the one that is named.
    pub(crate) fn as_on_another(&self, marks: &[Mark], items: &mut [Item]) {
        // "capped half", a pause, "the back's the same": as its own share that waits
        let Some(comb) = self
            .comb()
            .filter(|c| c.this.is_none() && c.other.is_none() && c.loose.is_none())
        else {
            return;
        };
        let share = |i: &Item| matches!(i, Item::Share(..) | Item::Bare(..) | Item::Differs(..));
        let first = items.iter().take_while(|i| !share(i)).count();
        let Some(at) = items[..first]
            .iter()
            .position(|i| matches!(i, Item::Same(_)))
        else {
            return;
        };
        let beside = items.get(at + 1);
        let before = at.checked_sub(1).and_then(|i| items.get(i));
        let face = [beside, before]
            .into_iter()
            .flatten()
            .find_map(|i| match i {
                Item::Face(f, m) => Some((*f, *m)),
                _ => None,
            });
        let Item::Same(same) = items[at] else { return };
        let Some((face, fm)) = face else { return };
        // "the back's the same as the front": of this comb
        let to_itself = fm.from > same.to && self.word(same.to) == "as";
        let place = marks.iter().position(|m| *m == same).unwrap_or(0);
        let named = if self.likened(marks, place + 1) {
            self.like_which(&marks[place + 1..])
        } else {
            self.state.hand.first().and_then(|h| h.checked_sub(1))
        };
        let old = named.and_then(|i| self.state.visit.combs.get(i));
        let Some(old) = old.filter(|o| !to_itself && o.end == comb.end) else {
            return;
        };
        let share = match face {
            Faces::This => old.this,
            Faces::Other => old.other,
            Faces::Both => None,
        };
        if let Some(share) = share {
            items[at] = Item::Share(share, same);
        }
    }

    /// The comb that another is said to be like.
    fn like_which(&self, marks: &[Mark]) -> Option<usize> {
        let m = marks
            .iter()
            .find(|m| !matches!(m.concept, C::Bar | C::Comb | C::Number))?;
        match m.concept {
            C::Ord => {
                let i = (m.value as usize).checked_sub(1)?;
                (i < self.here()).then_some(self.state.end_start + i)
            }
            _ => self.bar_index(whole(m)?),
        }
    }

    /// "same as the second": the comb that it is like, not one in hand now.
    pub(crate) fn likened(&self, marks: &[Mark], at: usize) -> bool {
        at > 0 && at < marks.len() && marks[at - 1].concept == C::Same && {
            let m = &marks[at - 1];
            let as_it = ["as", "like", "of", "to"];
            self.between(m, &marks[at], &as_it) || as_it.iter().any(|w| self.said(m, w))
        }
    }
}
