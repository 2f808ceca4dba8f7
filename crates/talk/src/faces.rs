//! Capped shares, and the face each is for.

use crate::act::{Act, Side};
use crate::concept::Concept as C;
use crate::ear::{Ear, Faces, Fact};
use crate::mark::Mark;
use crate::pairing::{Item, pairs};

/// How much "a bit less" is. Common practice, no source.
const A_BIT: f64 = 0.1;

impl Ear<'_> {
    /// Hears the shares of a stretch of talk about the combs in hand.
    pub(crate) fn faces(&mut self, marks: &[Mark]) {
        if self.state.hand.is_empty() {
            return;
        }
        if brood_alone(marks) {
            return;
        }
        let capped = marks
            .iter()
            .any(|m| matches!(m.concept, C::Capped | C::Uncapped | C::WhiteCap))
            && !self.only_brood(marks)
            // "all over the back", after the front was told
            || self.state.fact == Fact::Share
                && matches!(marks, [a, b] if a.concept == C::Extent && b.concept == C::Other);
        let mut items = self.items(marks, capped);
        let perhaps = self.state.perhaps.take();
        if let [Item::Share(s, m)] = items.as_slice()
            && let Some(f) = perhaps
        {
            self.capped(f, *s, &[*m]);
            return;
        }
        self.tidy(&mut items);
        let implicit = items
            .iter()
            .any(|i| matches!(i, Item::Share(..) | Item::Bare(..)))
            && !marks
                .iter()
                .any(|m| matches!(m.concept, C::Share | C::Uncapped | C::Num | C::Extent));
        self.assign(&items, capped);
        self.state.implicit = implicit || self.state.share.is_some();
    }

    /// "eggs, larvae, sealed, the lot": no honey in the phrase nor on the comb before.
    fn only_brood(&self, marks: &[Mark]) -> bool {
        let honey = marks.iter().any(|m| {
            matches!(
                m.concept,
                C::Honey | C::Unripe | C::This | C::Other | C::Both
            )
        });
        let known = self.comb().is_some_and(|c| {
            c.this.is_some() || c.other.is_some() || c.holds.contains(&crate::act::Hold::Honey)
        });
        marks.iter().any(|m| brood(m.concept)) && !honey && !known
    }

    fn items(&self, marks: &[Mark], capped: bool) -> Vec<Item> {
        let mut items = Vec::new();
        let mut i = 0;
        while i < marks.len() {
            let used = self.item(marks, i, capped, &mut items);
            i += used.max(1);
        }
        items
    }

    /// The item at this place, if it is one: how many marks it takes.
    fn item(&self, marks: &[Mark], i: usize, capped: bool, items: &mut Vec<Item>) -> usize {
        let m = marks[i];
        let next = marks.get(i + 1).map(|n| n.concept);
        let said_share = |items: &[Item]| {
            items
                .iter()
                .rev()
                .find(|x| !matches!(x, Item::Gap(_)))
                .is_some_and(|x| matches!(x, Item::Share(..) | Item::Bare(..)))
        };
        match m.concept {
            C::This => {
                // "one side half, one side all": the second is the other
                let again = self.said(&m, "one")
                    && items
                        .iter()
                        .any(|x| matches!(x, Item::Face(Faces::This, f) if self.said(f, "one")));
                let face = if again { Faces::Other } else { Faces::This };
                items.push(Item::Face(face, m));
            }
            C::Other if self.not_looked_at(&m) => items.push(Item::Gap(3)),
            C::Other => items.push(Item::Face(Faces::Other, m)),
            C::Both => items.push(Item::Face(Faces::Both, m)),
            C::Same => items.push(Item::Same(m)),
            C::More => items.push(Item::Differs(A_BIT, m)),
            C::Less => items.push(Item::Differs(-A_BIT, m)),
            // "near all, far half": the near face, all
            C::Share
                if self.said(&m, "near")
                    && m.to == m.from + 2
                    && !items
                        .iter()
                        .any(|x| matches!(x, Item::Face(Faces::This, _)))
                    && marks[i + 1..]
                        .iter()
                        .find(|n| n.concept != C::Stop)
                        .is_some_and(|n| n.concept == C::Other) =>
            {
                items.extend([Item::Face(Faces::This, m), Item::Share(1.0, m)]);
            }
            C::Uncapped => items.push(Item::Share(0.0, m)),
            C::Capped if !brood_before(marks, i) && !brood_clause(marks, i) => {
                items.push(Item::Bare(1.0, m));
            }
            C::Open if !next_share_all(marks, i) => items.push(Item::Bare(0.0, m)),
            C::See | C::Here
                if self.said(&m, "here")
                    && (said_share(items)
                        || items.is_empty()
                            && (0..m.from).all(|k| self.word(k) == "and")
                            && matches!(next, Some(C::Share | C::Capped | C::Uncapped))) =>
            {
                items.push(Item::Face(Faces::This, m));
            }
            C::WhiteCap => items.push(Item::Share(1.0, m)),
            C::Extent
                if capped
                    && !items
                        .iter()
                        .rev()
                        .take(2)
                        .any(|x| matches!(x, Item::Share(..))) =>
            {
                items.push(Item::Share(1.0, m));
            }
            C::Stop if self.there(&m) && here_before(items) => {
                items.push(Item::Face(Faces::Other, m));
            }
            C::That if self.that_side(&m, next) && this_before(items) => {
                items.push(Item::Face(Faces::Other, m));
            }
            C::Stop => items.push(Item::Gap(if m.value > 0.5 { 3 } else { 1 })),
            C::But if self.word(m.from) == "so" && self.so_is(&m) => items.push(Item::Same(m)),
            C::And | C::Then | C::But => items.push(Item::Gap(1)),
            C::All if capped && self.said(&m, "everything") => items.push(Item::Share(1.0, m)),
            C::Share | C::Num => {
                return self.said_share(marks, i, capped, items);
            }
            C::Unripe | C::Open if next_share_all(marks, i) => {
                items.push(Item::Share(0.0, m));
                return 2;
            }
            C::Not => return self.not_capped(marks, i, capped, items),
            _ => {}
        }
        1
    }

    /// "the back's black with bees I can't see it": nothing is told of that face.
    fn not_looked_at(&self, face: &Mark) -> bool {
        let see = |i: usize| {
            matches!(
                self.word(i),
                "see" | "saw" | "seen" | "look" | "looked" | "tell" | "check" | "checked" | "read"
            )
        };
        let not = |i: usize| {
            (i.saturating_sub(3)..i).any(|k| matches!(self.word(k), "not" | "n't" | "never"))
        };
        let end = (face.to..face.to + 10)
            .find(|&i| {
                self.word(i).is_empty()
                    || matches!(self.word(i), "." | ";" | "but" | "and" | "this" | "capped")
            })
            .unwrap_or(face.to + 10);
        (face.to..end).any(|i| see(i) && not(i))
    }

    /// A share said in words or figures.
    fn said_share(&self, marks: &[Mark], i: usize, capped: bool, items: &mut Vec<Item>) -> usize {
        let m = marks[i];
        // "the whole ditch": of a thing that is no comb
        let thing = self.word(m.to - 1) == "whole"
            && m.concept == C::Share
            && marks
                .get(i + 1)
                .is_some_and(|n| n.concept == C::Word && n.from == m.to);
        if thing {
            return 1;
        }
        if let Some((used, share)) = self.share_at(marks, i, capped) {
            // "a quarter still open", "a third has no caps"
            if matches!(marks.get(i + used), Some(n)
                if matches!(n.concept, C::Uncapped | C::Open) && n.from <= m.to + 3)
                && !self.of_something_else(marks, i, i + used)
            {
                items.push(Item::Share(1.0 - share, m));
                return used + 1;
            }
            // "the back has a third to go"
            let last = self
                .share_at(marks, i, capped)
                .map_or(m.to, |(n, _)| marks[i + n - 1].to);
            let to_go = self.word(last) == "to"
                && matches!(
                    self.word(last + 1),
                    "go" | "do" | "cap" | "seal" | "close" | "finish"
                );
            if let Some((used, share)) = self.share_at(marks, i, capped).filter(|_| to_go)
                && (0.05..0.95).contains(&share)
            {
                items.push(Item::Share(1.0 - share, m));
                return used;
            }
            // "mostly not"
            let denied = share > 0.5
                && marks.get(i + used).is_some_and(|n| {
                    n.concept == C::Not && n.from <= m.to + 1 && self.word(n.from) == "not"
                })
                && marks.get(i + used + 1).is_none_or(|n| n.concept == C::Stop);
            if denied {
                items.push(Item::Share(1.0 - share, m));
                return used + 1;
            }
            if !self.of_something_else(marks, i, i + used) {
                items.push(Item::Share(share, m));
                if self.word(marks[i + used - 1].to) == "each"
                    && !matches!(marks.get(i + used), Some(n) if n.concept == C::Both)
                {
                    items.push(Item::Face(Faces::Both, m));
                }
            } else if share >= 0.99 && unripe_at(marks, i + used) {
                items.push(Item::Share(0.0, m));
            }
            return used;
        }
        1
    }

    /// "not capped", "not begun capping", "nothing on that side", "the other isn't".
    fn not_capped(&self, marks: &[Mark], i: usize, capped: bool, items: &mut Vec<Item>) -> usize {
        let m = marks[i];
        // "the other face I did not see": nothing is said of it
        let unseen = (m.from..m.to + 3).any(|k| {
            matches!(
                self.word(k),
                "see"
                    | "saw"
                    | "seen"
                    | "look"
                    | "looked"
                    | "turn"
                    | "turned"
                    | "check"
                    | "checked"
                    | "tell"
                    | "reach"
                    | "get"
                    | "got"
                    | "read"
            )
        }) && !(m.from..m.to)
            .any(|k| matches!(self.word(k), "any" | "none" | "nothing"));
        if unseen && self.word(m.from) != "no" {
            return 1;
        }
        let mut n = i + 1;
        while marks.get(n).is_some_and(|w| {
            w.concept == C::That
                || (w.from..w.to).any(|k| {
                    matches!(
                        self.word(k),
                        "cell"
                            | "cells"
                            | "scrap"
                            | "crumb"
                            | "trace"
                            | "hint"
                            | "sign"
                            | "speck"
                            | "lick"
                    )
                })
                || w.concept == C::Word
                    && (w.from..w.to).any(|k| {
                        matches!(
                            self.word(k),
                            "begun" | "started" | "yet" | "even" | "single" | "one" | "any" | "lot"
                        )
                    })
        }) {
            n += 1;
        }
        let next = marks.get(n).map(|n| n.concept);
        if next == Some(C::Capped) {
            items.push(Item::Share(0.0, m));
            return n + 1 - i;
        }
        let told = self
            .comb()
            .is_some_and(|c| c.this.is_some() || c.other.is_some());
        let about_caps = capped
            || told
            || items
                .iter()
                .any(|x| matches!(x, Item::Share(..) | Item::Bare(..)));
        let face_next = matches!(next, Some(C::This | C::Other | C::Both));
        let that = marks.get(i + 1).filter(|t| t.concept == C::That);
        if let Some(t) = that
            && self.that_side(t, marks.get(i + 2).map(|n| n.concept))
            && this_before(items)
            && about_caps
        {
            items.extend([
                Item::Gap(1),
                Item::Share(0.0, m),
                Item::Face(Faces::Other, *t),
            ]);
            return 2;
        }
        let none = matches!(
            self.word(m.from),
            "none" | "nothing" | "nil" | "zero" | "nowt"
        );
        let again = items
            .iter()
            .any(|x| matches!(x, Item::Share(s, _) if *s < 0.01));
        let begun = n > i + 1;
        if face_next && about_caps && (none || again || begun) && !Self::hangs(marks) {
            items.push(Item::Share(0.0, m));
            return n - i;
        }
        // "other side capped no"
        if i > 0
            && marks[i - 1].concept == C::Capped
            && m.value > 0.5
            && matches!(next, None | Some(C::Stop))
            && matches!(items.last(), Some(Item::Bare(..)))
        {
            items.pop();
            items.push(Item::Share(0.0, m));
            return 1;
        }
        let face_before = matches!(items.last(), Some(Item::Face(..)));
        let ends = matches!(
            next,
            None | Some(C::Stop | C::But | C::And | C::Leave | C::Take)
        );
        if face_before && ends && about_caps && m.value < 0.5 && !Self::hangs(marks) {
            items.push(Item::Share(0.0, m));
        }
        1
    }

    /// The phrase is about walls, not caps.
    fn hangs(marks: &[Mark]) -> bool {
        marks.iter().any(|m| {
            matches!(
                m.concept,
                C::AttachedYes | C::AttachedNo | C::Queen | C::She
            )
        })
    }

    /// "lids here, lids there".
    fn there(&self, m: &Mark) -> bool {
        (m.from..m.to).any(|i| self.word(i) == "there") && m.to <= m.from + 2
    }

    /// "half this side, none of that".
    pub(crate) fn that_side(&self, m: &Mark, next: Option<C>) -> bool {
        let that_one = self.word(m.to - 1) == "one"
            && m.to == m.from + 2
            && self.word(m.from) == "that"
            && matches!(
                self.word(m.from.wrapping_sub(1)),
                "across" | "over" | "on" | "of" | "for" | "down"
            )
            && (matches!(next, None | Some(C::Stop))
                || matches!(self.word(m.to), "too" | "also" | "as"));
        that_one
            || self.word(m.to - 1) == "that"
                && m.from > 0
                && matches!(
                    self.word(m.from - 1),
                    "on" | "of"
                        | "or"
                        | "and"
                        | "nor"
                        | "half"
                        | "third"
                        | "thirds"
                        | "quarter"
                        | "quarters"
                )
                && matches!(next, None | Some(C::Stop))
    }

    /// "so is the other", "so's the back".
    fn so_is(&self, m: &Mark) -> bool {
        matches!(self.word(m.to), "is" | "'s" | "has" | "does")
    }

    /// Joins faces said together, drops what a plainer word takes the place of.
    fn tidy(&mut self, items: &mut Vec<Item>) {
        self.corrected_in_passing(items);
        Self::bind_caps(items);
        self.join_faces(items);
        let both = items
            .iter()
            .any(|i| matches!(i, Item::Face(Faces::Both, _)));
        let single = items
            .iter()
            .any(|i| matches!(i, Item::Face(Faces::This | Faces::Other, _)));
        let share = items.iter().any(|i| matches!(i, Item::Share(..)));
        if both && !single && share {
            // "both sides the same, two thirds"
            items.retain(|i| !matches!(i, Item::Same(_)));
        }
        // "a little bit, a quarter": the closer word stands
        let vague = |m: &Mark| {
            ["little", "bit", "some", "few"]
                .iter()
                .any(|w| self.said(m, w))
        };
        let mut at = 0;
        while at + 1 < items.len() {
            let next = at + 1 + usize::from(matches!(items.get(at + 1), Some(Item::Gap(1))));
            match (items[at], items.get(next)) {
                (Item::Share(_, a), Some(Item::Share(_, b))) if vague(&a) && !vague(b) => {
                    items.drain(at..next);
                }
                _ => at += 1,
            }
        }
        // "not so much, call it a third"
        let mut at = 0;
        while at < items.len() {
            let beside = |i: Option<&Item>| matches!(i, Some(Item::Share(..)));
            let next = if matches!(items.get(at + 1), Some(Item::Gap(1))) {
                items.get(at + 2)
            } else {
                items.get(at + 1)
            };
            if matches!(items[at], Item::Differs(..))
                && (beside(next) || at > 0 && beside(items.get(at - 1)))
            {
                items.remove(at);
            } else {
                at += 1;
            }
        }
    }

    /// "half no three quarters this side": the second share stands.
    fn corrected_in_passing(&self, items: &mut Vec<Item>) {
        let mut at = 0;
        while at + 1 < items.len() {
            let mut to = at + 1;
            while matches!(items.get(to), Some(Item::Gap(_))) {
                to += 1;
            }
            if let (Item::Share(_, a), Some(Item::Share(_, b))) = (items[at], items.get(to))
                && b.from <= a.to + 4
                && (a.to..b.from).any(|i| matches!(self.word(i), "no" | "nope" | "nah"))
            {
                items.drain(at..to);
            } else {
                at += 1;
            }
        }
    }

    /// "half capped", "capped half": the word goes with the share.
    fn bind_caps(items: &mut Vec<Item>) {
        let mut at = 0;
        while at < items.len() {
            let share = |i: Option<&Item>| matches!(i, Some(Item::Share(..)));
            let bound = share(items.get(at + 1)) || at > 0 && share(items.get(at - 1));
            if matches!(items[at], Item::Bare(..)) && bound {
                items.remove(at);
            } else {
                at += 1;
            }
        }
    }

    /// "this side and the other": both, if one share is for the two.
    fn join_faces(&mut self, items: &mut Vec<Item>) {
        let mut at = 0;
        while at < items.len() {
            let mut to = at + 1;
            while matches!(items.get(to), Some(Item::Gap(1))) {
                to += 1;
            }
            let (Item::Face(f, fm), Some(Item::Face(g, gm))) = (items[at], items.get(to).copied())
            else {
                at += 1;
                continue;
            };
            let near = gm.from <= fm.to + 3;
            let joined = self.between(&fm, &gm, &["and", "or", "nor"]) || fm.to == gm.from;
            let share = |i: Option<&Item>| {
                matches!(
                    i,
                    Some(Item::Share(..) | Item::Bare(..) | Item::Same(_) | Item::Differs(..))
                )
            };
            let before = at > 0 && share(items.get(at - 1));
            let after = share(items.get(to + 1));
            if f != g && near && joined && f != Faces::Both && g != Faces::Both && before != after {
                // "... of this side and on the other": what comes next may be for the other
                if before && items.get(to + 1).is_none() {
                    self.state.perhaps = Some(g);
                }
                items.drain(at..to);
                items[at] = Item::Face(Faces::Both, gm);
            } else if f != g && g == Faces::Both && near {
                // "this side too both sides"
                items.drain(at..to);
            } else {
                at += 1;
            }
        }
    }

    /// Each share goes to its face; what is left over waits for the next phrase.
    fn assign(&mut self, items: &[Item], capped: bool) {
        let waiting = self.state.face.take();
        if waiting.is_none() && self.pair(items) {
            return;
        }
        let partner = pairs(items);
        let had_face = items.iter().any(|i| matches!(i, Item::Face(..)));
        let mut left_share: Vec<(usize, f64, Mark)> = Vec::new();
        let mut left_face = None;
        // what is told by the other face, once that is known
        let mut later = Vec::new();
        let mut done: Option<Faces> = None;
        for (at, item) in items.iter().enumerate() {
            match (*item, partner[at].map(|p| items[p])) {
                (Item::Face(f, fm), Some(share)) | (share, Some(Item::Face(f, fm)))
                    if partner[at].is_some_and(|p| p > at) =>
                {
                    if matches!(share, Item::Same(_) | Item::Differs(..)) {
                        later.push((f, share, fm));
                    } else {
                        self.give(f, share, fm);
                    }
                    done = Some(f);
                }
                (Item::Face(f, m), None) => {
                    if let Some(s) = self.state.share.take().filter(|_| !any_share(items)) {
                        // "three quarters capped" ... "this side"
                        self.capped(f, s, &[m]);
                    } else if self.as_well(&m) && done.is_some_and(|d| d != f) {
                        self.same(f, &[m]);
                    } else {
                        left_face = Some(f);
                    }
                }
                (Item::Share(s, m), None) => left_share.push((at, s, m)),
                (Item::Same(m), None) if !had_face => {
                    if let Some(f) = waiting {
                        self.same(f, &[m]);
                    }
                }
                (Item::Differs(d, m), None) if !had_face => {
                    if let Some(f) = waiting {
                        self.differs(f, d, &[m]);
                    }
                }
                _ => {}
            }
        }
        let mut waits = waiting;
        let mut loose = None;
        for (at, s, m) in left_share {
            let first = items[..at].iter().all(|i| !matches!(i, Item::Face(..)));
            if let Some(f) = waits.filter(|_| first) {
                self.capped(f, s, &[m]);
                waits = None;
            } else if first && done == Some(Faces::Other) {
                // "half and behind three quarters": the first is for this side
                self.capped(Faces::This, s, &[m]);
            } else {
                loose = Some((s, m));
            }
        }
        for (f, share, fm) in later {
            self.give(f, share, fm);
        }
        if let Some((s, m)) = loose.filter(|_| done.is_none() || !had_face) {
            self.loose_share(s, m, capped, had_face);
        }
        if done == Some(Faces::Both) {
            left_face = None;
        }
        self.state.face = left_face.or(waits.filter(|_| !had_face));
    }

    fn give(&mut self, face: Faces, share: Item, fm: Mark) {
        match share {
            Item::Share(s, m) | Item::Bare(s, m) => self.capped(face, s, &[fm, m]),
            Item::Same(m) => self.same(face, &[fm, m]),
            Item::Differs(d, m) => self.differs(face, d, &[fm, m]),
            Item::Face(..) | Item::Gap(_) => {}
        }
    }

    /// "the other too".
    fn as_well(&self, m: &Mark) -> bool {
        (m.to..m.to + 2).any(|i| matches!(self.word(i), "too" | "also" | "likewise" | "aswell"))
            || self.word(m.to) == "as" && self.word(m.to + 1) == "well"
            || m.from > 0 && matches!(self.word(m.from - 1), "also" | "likewise")
    }

    /// "eighty and eighty", "two thirds and a third on the back": this side first, then the other.
    fn pair(&mut self, items: &[Item]) -> bool {
        let plain: Vec<&Item> = items
            .iter()
            .filter(|i| !matches!(i, Item::Gap(_) | Item::Bare(..)))
            .collect();
        match plain.as_slice() {
            [Item::Share(a, am), Item::Share(b, bm)]
            | [
                Item::Share(a, am),
                Item::Share(b, bm),
                Item::Face(Faces::Other, _),
            ] => {
                if self.correcting {
                    return false;
                }
                let (a, b, am, bm) = (*a, *b, *am, *bm);
                if a < 0.05 || b < 0.05 || bm.from > am.to + 4 {
                    return false;
                }
                self.capped(Faces::This, a, &[am]);
                self.capped(Faces::Other, b, &[bm]);
                true
            }
            _ => false,
        }
    }

    /// A share for which no face was named.
    fn loose_share(&mut self, share: f64, mark: Mark, capped: bool, had_face: bool) {
        if self.correcting
            && let Some(f) = self.state.last_faces
            && self.state.fact == Fact::Share
        {
            self.capped(f, share, &[mark]);
        } else if let Some(f) = self
            .state
            .last_faces
            .filter(|_| self.state.implicit && !had_face)
        {
            // "closed at", a pause, "seventy percent"
            self.capped(f, share, &[mark]);
        } else if let Some(f) = self
            .state
            .last_faces
            .filter(|_| !had_face && self.told_again(&mark))
        {
            self.capped(f, share, &[mark]);
        } else if capped && !had_face {
            let untold = self
                .comb()
                .is_some_and(|c| c.this.is_none() && c.other.is_none());
            if untold && !(0.01..=0.99).contains(&share) {
                // "all capped", "not a cap on it": of the comb, both sides
                self.capped(Faces::Both, share, &[mark]);
                self.state.implicit = true;
            }
            self.state.share = Some(share);
        }
    }

    /// "that's a half", "okay no half": said of the face told last.
    fn told_again(&self, share: &Mark) -> bool {
        let mut at = share.from;
        while at > 0
            && matches!(
                self.word(at - 1),
                "a" | "about"
                    | "more"
                    | "closer"
                    | "nearer"
                    | "to"
                    | "like"
                    | "than"
                    | "only"
                    | "just"
                    | "the"
                    | "maybe"
            )
        {
            at -= 1;
        }
        let says_so = at > 0
            && matches!(
                self.word(at - 1),
                "'s" | "is" | "no" | "call" | "say" | "it" | "make" | "nah" | "not"
            );
        let just_told = self
            .state
            .last_acts
            .iter()
            .any(|(_, act)| matches!(act, Act::Capped(..)));
        let alone = self.word(share.to).is_empty()
            || matches!(
                self.word(share.to),
                "," | "." | "then" | "really" | "of" | "capped"
            );
        says_so && just_told && alone && self.state.fact == Fact::Share
    }

    fn capped(&mut self, faces: Faces, share: f64, words: &[Mark]) {
        if matches!(faces, Faces::This | Faces::Both) {
            self.note_hand("capped this side", &Act::Capped(Side::This, share), words);
        }
        if matches!(faces, Faces::Other | Faces::Both) {
            self.note_hand("capped other side", &Act::Capped(Side::Other, share), words);
        }
        self.state.last_faces = Some(faces);
        self.state.fact = Fact::Share;
    }

    fn same(&mut self, faces: Faces, words: &[Mark]) {
        let Some(comb) = self.comb() else { return };
        let (this, other) = (comb.this, comb.other);
        match faces {
            Faces::This => {
                if let Some(s) = other {
                    self.capped(Faces::This, s, words);
                }
            }
            Faces::Other => {
                if let Some(s) = this {
                    self.capped(Faces::Other, s, words);
                }
            }
            Faces::Both => {
                if let Some(s) = self.state.share.take().or(this).or(other) {
                    self.capped(Faces::Both, s, words);
                }
            }
        }
    }

    /// "a bit less on the other".
    fn differs(&mut self, faces: Faces, by: f64, words: &[Mark]) {
        let Some(comb) = self.comb() else { return };
        let from = match faces {
            Faces::This => comb.other,
            Faces::Other => comb.this,
            Faces::Both => None,
        };
        if let Some(s) = from {
            self.capped(faces, (s + by).clamp(0.0, 1.0), words);
        }
    }
}

/// "sealed brood both sides right solid": no word of honey or of its caps.
fn brood_alone(marks: &[Mark]) -> bool {
    marks.iter().any(|m| brood(m.concept))
        && !marks.iter().any(|m| {
            matches!(
                m.concept,
                C::Capped
                    | C::Uncapped
                    | C::WhiteCap
                    | C::Honey
                    | C::Unripe
                    | C::Open
                    | C::Same
                    | C::More
                    | C::Less
            )
        })
}

fn any_share(items: &[Item]) -> bool {
    items
        .iter()
        .any(|i| matches!(i, Item::Share(..) | Item::Same(_) | Item::Bare(..)))
}

fn here_before(items: &[Item]) -> bool {
    items
        .iter()
        .any(|i| matches!(i, Item::Face(Faces::This, m) if matches!(m.concept, C::Here | C::See)))
}

fn this_before(items: &[Item]) -> bool {
    items
        .iter()
        .any(|i| matches!(i, Item::Face(Faces::This, _)))
}

/// The cap is the brood's: "brood all capped".
fn brood_before(marks: &[Mark], at: usize) -> bool {
    marks[..at]
        .iter()
        .rev()
        .take_while(|m| m.concept != C::Stop)
        .take(2)
        .any(|m| brood(m.concept))
}

fn brood(concept: C) -> bool {
    matches!(
        concept,
        C::Brood | C::SealedBrood | C::Drone | C::DroneAndWorker | C::DroneBees
    )
}

/// "brood closed on this face and closed on that": of the words for what a comb holds, brood stands
/// last before the cap, and the cap has no share.
fn brood_clause(marks: &[Mark], at: usize) -> bool {
    let from = marks[..at]
        .iter()
        .rposition(|m| m.concept == C::Stop)
        .map_or(0, |i| i + 1);
    let share = |i: usize| {
        marks[i].concept == C::Share
            && !marks.get(i + 1).is_some_and(|n| {
                matches!(n.concept, C::Honey | C::Unripe | C::Pollen) || brood(n.concept)
            })
    };
    let noun = marks[from..at]
        .iter()
        .rev()
        .find(|m| brood(m.concept) || matches!(m.concept, C::Honey | C::Unripe));
    noun.is_some_and(|m| brood(m.concept))
        && !(from..at).any(share)
        && !marks[from..at].iter().any(|m| m.concept == C::Then)
        && !marks
            .get(at + 1)
            .is_some_and(|m| m.concept == C::Honey || share(at + 1))
}

fn unripe_at(marks: &[Mark], at: usize) -> bool {
    marks.get(at).is_some_and(|m| m.concept == C::Unripe)
}

/// "watery all of it".
fn next_share_all(marks: &[Mark], at: usize) -> bool {
    marks
        .get(at + 1)
        .is_some_and(|m| m.concept == C::Share && m.value > 0.99 || m.concept == C::All)
}
