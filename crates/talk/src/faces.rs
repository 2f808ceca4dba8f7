//! Capped shares, and the face each is for.

use crate::act::{Act, Decision, Hold, Side};
use crate::concept::Concept as C;
use crate::ear::{Ear, Faces, Fact};
use crate::mark::Mark;
use crate::pairing::{Item, pairs};
use crate::visit::Comb;

/// How much "a bit less" is. Common practice, no source.
pub(crate) const A_BIT: f64 = 0.1;

impl Ear<'_> {
    /// Hears the shares of a stretch of talk about the combs in hand.
    pub(crate) fn faces(&mut self, marks: &[Mark]) {
        if self.state.hand.is_empty() {
            return;
        }
        if brood_alone(marks)
            || self.of_the_queen_cells(marks)
            || self.of_the_brood(marks)
            || self.sealed_after_brood(marks)
            || self.none_of_what_is_sought(marks)
        {
            return;
        }
        let capped = marks
            .iter()
            .any(|m| matches!(m.concept, C::Capped | C::Uncapped | C::WhiteCap))
            && !self.only_brood(marks)
            // "all over the back", after the front was told
            || self.all_over_a_face(marks);
        let mut items = self.items(marks, capped);
        if self.nor_that_side(&items) {
            return;
        }
        self.was_the_back(&items);
        let perhaps = self.state.perhaps.take();
        if let [Item::Share(s, m)] = items.as_slice()
            && let Some(f) = perhaps
        {
            self.capped(f, *s, &[*m]);
            return;
        }
        self.as_on_another(marks, &mut items);
        self.tidy(&mut items);
        let implicit = items
            .iter()
            .any(|i| matches!(i, Item::Share(..) | Item::Bare(..)))
            && !marks
                .iter()
                .any(|m| matches!(m.concept, C::Share | C::Uncapped | C::Num | C::Extent));
        let untold = self
            .comb()
            .is_some_and(|c| c.this.is_none() && c.other.is_none() && c.decision.is_none());
        let alone = untold
            && marks.iter().all(|m| {
                matches!(
                    m.concept,
                    C::Share
                        | C::Num
                        | C::Weigh
                        | C::Word
                        | C::That
                        | C::Ord
                        | C::Comb
                        | C::Bar
                        | C::Stop
                )
            })
            && self
                .tokens
                .iter()
                .any(|t| matches!(&*t.text, "make" | "call" | "say" | "reckon" | "put"));
        self.assign(&items, capped, alone);
        self.state.implicit = implicit || self.state.share.is_some();
    }

    /// "all over the back", "all over on the one side, all over on the other", of a comb of honey, where
    /// caps have been told.
    fn all_over_a_face(&self, marks: &[Mark]) -> bool {
        let face = |m: &Mark| matches!(m.concept, C::This | C::Other | C::Both);
        let only = marks.iter().all(|m| {
            face(m) || matches!(m.concept, C::Extent | C::And | C::Then | C::Stop | C::End)
        });
        let told = self.state.fact == Fact::Share
            || self.state.visit.combs.iter().any(|c| c.this.is_some());
        let stores = self.comb().is_some_and(|c| {
            !c.holds.contains(&Hold::WorkerBrood) && !c.holds.contains(&Hold::Pollen)
        });
        let extent = marks.iter().any(|m| m.concept == C::Extent);
        only && extent && told && stores && marks.iter().any(face)
    }

    /// "not a cap on it this side", a pause, "or that side".
    fn nor_that_side(&mut self, items: &[Item]) -> bool {
        let none =
            |(_, act): &(Option<usize>, Act)| matches!(act, Act::Capped(_, share) if *share < 0.01);
        let [Item::Face(face, words)] = items else {
            return false;
        };
        let nor = matches!(self.word(0), "or" | "nor" | "neither");
        if !nor || !self.state.last_acts.iter().any(none) {
            return false;
        }
        self.capped(*face, 0.0, &[*words]);
        true
    }

    /// A share and no face, right after "back" was taken for the verdict: the face was meant.
    fn was_the_back(&mut self, items: &[Item]) {
        let share = matches!(
            items,
            [Item::Share(..)]
                | [Item::Share(..), Item::Bare(..)]
                | [Item::Bare(..), Item::Share(..)]
        );
        let settled = matches!(
            self.state.last_acts.as_slice(),
            [(_, Act::Decided(Some(Decision::Leave)))]
        );
        if self.state.back_open && settled && share {
            self.state.back_open = false;
            let hand = self.state.hand.clone();
            self.decide("back was the face", None, &hand, &[]);
            self.state.face = Some(Faces::Other);
        }
    }

    /// "two queen cells on the edge, both sealed": the cells.
    fn of_the_queen_cells(&self, marks: &[Mark]) -> bool {
        let both = |i: usize| {
            matches!(self.word(i), "both" | "all")
                && matches!(self.word(i + 1), "sealed" | "capped" | "closed" | "open")
        };
        // "two queen cells here, side by side, sealed already"
        let counted = self
            .acts
            .iter()
            .any(|n| matches!(n.act, Act::QueenCells(_)));
        let honey = marks.iter().any(|m| {
            matches!(m.concept, C::Honey | C::Unripe | C::Share | C::Uncapped)
                || m.concept == C::Both && m.to > m.from + 1
        });
        if counted && !honey {
            return true;
        }
        let face = marks.iter().any(|m| {
            matches!(m.concept, C::This | C::Other | C::Honey | C::Share)
                || m.concept == C::Both && m.to > m.from + 1
        });
        self.state.fact == Fact::QueenCells && !face && (0..self.tokens.len()).any(both)
    }

    /// "sealed brood both sides", a pause, "a hundred percent of it sealed": the brood.
    fn of_the_brood(&self, marks: &[Mark]) -> bool {
        let of_it =
            (1..self.tokens.len()).any(|i| self.word(i) == "it" && self.word(i - 1) == "of");
        let told = marks
            .iter()
            .any(|m| m.concept.is_held() || matches!(m.concept, C::This | C::Other | C::Both));
        let last = self.state.last_acts.iter();
        let said = last
            .filter_map(|(_, act)| match act {
                Act::Holds(hold) => Some(*hold),
                _ => None,
            })
            .next_back();
        let brood = |h: Hold| matches!(h, Hold::WorkerBrood | Hold::DroneBrood);
        of_it
            && !told
            && said.is_some_and(brood)
            && self.comb().is_some_and(|c| {
                c.this.is_none() && c.other.is_none() && !c.holds.contains(&Hold::Honey)
            })
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

    /// Joins faces said together, drops what a plainer word takes the place of.
    fn tidy(&mut self, items: &mut Vec<Item>) {
        self.corrected_in_passing(items);
        self.corrected_behind_its_face(items);
        Self::bind_caps(items);
        self.join_faces(items);
        let both = items
            .iter()
            .any(|i| matches!(i, Item::Face(Faces::Both, _)));
        let single = items
            .iter()
            .any(|i| matches!(i, Item::Face(Faces::This | Faces::Other, _)));
        let share = items.iter().any(|i| matches!(i, Item::Share(..)));
        if both && single && self.state.hand.len() > 1 {
            // "both sealed half on the near side": the two combs
            items.retain(
                |i| !matches!(i, Item::Face(Faces::Both, m) if self.word(m.to - 1) == "both"),
            );
        }
        let caps = items.iter().any(|i| matches!(i, Item::Bare(..)));
        if both && !single && (share || caps) {
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
            // "less on the back, call it a third", "less on the back but I couldn't say how much"
            let face = |i: usize| matches!(items.get(i), Some(Item::Face(..)));
            let to = at + 2 + usize::from(matches!(items.get(at + 2), Some(Item::Gap(1))));
            let figure = face(at + 1) && beside(items.get(to)) && !face(to + 1);
            if matches!(items[at], Item::Differs(..))
                && (figure
                    || self.cannot_say()
                    || beside(next)
                    || at > 0 && beside(items.get(at - 1)))
            {
                items.remove(at);
            } else {
                at += 1;
            }
        }
    }

    /// "I couldn't put a number on it": nothing is told but that there is less, or more.
    fn cannot_say(&self) -> bool {
        (1..self.tokens.len()).any(|i| {
            matches!(self.word(i), "not" | "n't")
                && matches!(self.word(i - 1), "could" | "can" | "ca" | "would")
                && (i + 1..i + 5)
                    .any(|k| matches!(self.word(k), "say" | "tell" | "put" | "guess" | "swear"))
        })
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
                && ((a.to..b.from).any(|i| matches!(self.word(i), "no" | "nope" | "nah"))
                    // "not all, three quarters"
                    || self.word(a.from.wrapping_sub(1)) == "not" && a.value > 0.99)
            {
                items.drain(at..to);
            } else {
                at += 1;
            }
        }
    }

    /// "all capped this side, no, three quarters": of the same face.
    fn corrected_behind_its_face(&self, items: &mut Vec<Item>) {
        let mut at = 0;
        while at + 2 < items.len() {
            let gap = |i: usize| matches!(items.get(i), Some(Item::Gap(_) | Item::Bare(..)));
            let face = (at + 1..items.len()).find(|&i| !gap(i)).unwrap_or(at + 1);
            let to = (face + 1..items.len())
                .find(|&i| !gap(i))
                .unwrap_or(face + 1);
            // "half and no half on the back": a share with a face of its own
            let after = (to + 1..items.len()).find(|&i| !gap(i));
            let ends = after.is_none_or(|i| !matches!(items[i], Item::Face(..)));
            if let (Item::Share(_, a), Some(Item::Face(_, f)), Some(&Item::Share(share, b))) =
                (items[at], items.get(face), items.get(to))
                && ends
                && b.from <= f.to + 3
                && (f.to..b.from).any(|i| matches!(self.word(i), "no" | "nope" | "nah"))
            {
                items[at] = Item::Share(share, a);
                items.drain(face + 1..=to);
                return;
            }
            at += 1;
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
            let gap = usize::from(at > 1 && matches!(items[at - 1], Item::Gap(1)));
            let before = at > gap && share(items.get(at - 1 - gap));
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
    fn assign(&mut self, items: &[Item], capped: bool, alone: bool) {
        let goes_on = matches!(self.word(0), "and" | "but" | "then");
        let told_first = self
            .comb()
            .filter(|c| c.this.is_none() && c.other.is_none() && goes_on)
            .and_then(|c| c.loose);
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
        // "half, I'd say a bit more, I'd say three quarters": what is said last of the face
        if waits.is_some() && !had_face && left_share.len() > 1 {
            left_share.drain(..left_share.len() - 1);
        }
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
            let alone = alone
                && items
                    .iter()
                    .all(|i| matches!(i, Item::Share(..) | Item::Gap(_)));
            self.loose_share(s, m, capped, had_face, alone);
        }
        if done == Some(Faces::Both) {
            left_face = None;
        }
        // "capped half", a pause, "and round the back a third": the first was of this side
        if let Some(share) = told_first.filter(|_| done == Some(Faces::Other)) {
            let far = items.iter().find_map(|i| match i {
                Item::Face(_, m) => Some(*m),
                _ => None,
            });
            self.note_hand(
                "told first",
                &Act::Capped(Side::This, share),
                far.as_slice(),
            );
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
    fn loose_share(&mut self, share: f64, mark: Mark, capped: bool, had_face: bool, alone: bool) {
        // "this side about a half", a pause, "half capped": said again
        let again = matches!(self.state.last_acts.as_slice(),
            [(_, Act::Capped(_, told))] if (told - share).abs() < 0.01);
        if again && !had_face && !self.correcting {
            return;
        }
        // "it's on the wall there a little", "that's a bit of wax": nothing capped
        let vague = ["little", "bit"].iter().any(|w| self.said(&mark, w));
        let goes_on = self.tokens.len() > mark.to - mark.from + 1;
        if vague && goes_on && !capped && !had_face {
            return;
        }
        // "the back's half", a pause, "I'd say more than that", a pause, "okay two thirds"
        let told_last = match self.state.last_acts.as_slice() {
            [(_, Act::Capped(side, _))] => Some(*side),
            _ => None,
        };
        let both_told = |c: &Comb| c.this.is_some() && c.other.is_some() && c.decision.is_none();
        let only = mark.from <= 1 && mark.to == self.tokens.len() && !had_face;
        if let Some(side) = told_last.filter(|_| only && self.comb().is_some_and(both_told)) {
            let face = match side {
                Side::This => Faces::This,
                Side::Other => Faces::Other,
            };
            self.capped(face, share, &[mark]);
            return;
        }
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
        } else if !had_face && (!capped && alone || self.loose_put_right()) {
            // "I make it nine tenths", a pause, "both sides"
            self.state.share = Some(share);
            self.set_loose(share);
        } else if capped && !had_face {
            let untold = self
                .comb()
                .is_some_and(|c| c.this.is_none() && c.other.is_none());
            if untold && !(0.01..=0.99).contains(&share) {
                // "all capped", "not a cap on it": of the comb, both sides
                self.capped(Faces::Both, share, &[mark]);
                self.state.implicit = true;
            } else {
                self.set_loose(share);
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
            )
            // "more like a third"
            || at == 0 && matches!(self.word(0), "more" | "closer" | "nearer");
        let just_told = self
            .state
            .last_acts
            .iter()
            .any(|(_, act)| matches!(act, Act::Capped(..)));
        let alone = self.word(share.to).is_empty()
            || at == 0
            || matches!(
                self.word(share.to),
                "," | "." | "then" | "really" | "of" | "capped"
            );
        says_so && just_told && alone && self.state.fact == Fact::Share
    }

    pub(crate) fn capped(&mut self, faces: Faces, share: f64, words: &[Mark]) {
        if self.correcting {
            // "half capped, no, a third this side"
            self.drop_loose();
        }
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
        // "half capped", a pause, "the same behind"
        if let Some(loose) = comb.loose.filter(|_| this.is_none() && other.is_none()) {
            self.capped(Faces::Both, loose, words);
            return;
        }
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
            // "same as twenty one front and back": copied already
            Faces::Both if self.state.copied && this.is_some() && other.is_some() => {}
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

pub(crate) fn brood(concept: C) -> bool {
    concept.is_brood() || concept == C::DroneBees
}
