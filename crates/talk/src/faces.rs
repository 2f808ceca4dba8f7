//! Capped shares, and the face each is for.

use crate::act::{Act, Side};
use crate::concept::Concept as C;
use crate::ear::{Ear, Faces, Fact};
use crate::mark::Mark;

/// A face or a share, in the order said.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Item {
    Face(Faces, Mark),
    Share(f64, Mark),
    Same(Mark),
    /// "capped", with or without a share beside it.
    Cap(Mark),
    /// A clause ends.
    Stop,
}

impl Ear<'_> {
    /// Hears the shares of a stretch of talk about the combs in hand.
    pub(crate) fn faces(&mut self, marks: &[Mark]) {
        if self.state.hand.is_empty() {
            return;
        }
        let capped = marks
            .iter()
            .any(|m| matches!(m.concept, C::Capped | C::Uncapped | C::WhiteCap));
        let mut items = self.items(marks, capped);
        Self::cap_without_share(marks, &mut items);
        let implicit = items
            .iter()
            .filter(|i| matches!(i, Item::Share(..)))
            .count()
            > 0
            && !marks
                .iter()
                .any(|m| matches!(m.concept, C::Share | C::Uncapped | C::Num | C::Extent));
        self.assign(&items, capped);
        self.state.implicit = implicit || self.state.share.is_some();
    }

    fn items(&self, marks: &[Mark], capped: bool) -> Vec<Item> {
        let mut items = Vec::new();
        let mut i = 0;
        while i < marks.len() {
            let m = marks[i];
            match m.concept {
                C::This => items.push(Item::Face(Faces::This, m)),
                C::Other => items.push(Item::Face(Faces::Other, m)),
                C::Both => items.push(Item::Face(Faces::Both, m)),
                C::Same => items.push(Item::Same(m)),
                C::Uncapped => items.push(Item::Share(0.0, m)),
                C::Capped if !brood_before(marks, i) && !brood_clause(marks, i) => {
                    items.push(Item::Cap(m));
                }
                C::See | C::Here
                    if self.said(&m, "here") && matches!(items.last(), Some(Item::Share(..))) =>
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
                C::Stop => items.push(Item::Stop),
                C::All if capped && self.said(&m, "everything") => items.push(Item::Share(1.0, m)),
                C::Share | C::Num => {
                    if let Some((used, share)) = self.share_at(marks, i, capped) {
                        if !self.of_something_else(marks, i, i + used) {
                            items.push(Item::Share(share, m));
                        } else if share >= 0.99 && unripe_at(marks, i + used) {
                            items.push(Item::Share(0.0, m));
                        }
                        i += used;
                        continue;
                    }
                }
                C::Unripe | C::Open if next_share_all(marks, i) => {
                    items.push(Item::Share(0.0, m));
                    i += 2;
                    continue;
                }
                C::Not if matches!(marks.get(i + 1).map(|n| n.concept), Some(C::Capped)) => {
                    items.push(Item::Share(0.0, m));
                    i += 2;
                    continue;
                }
                C::Not
                    if capped
                        && marks
                            .get(i + 1)
                            .is_some_and(|n| matches!(n.concept, C::This | C::Other | C::Both))
                        && matches!(self.word(m.from), "none" | "nothing" | "nil" | "zero") =>
                {
                    items.push(Item::Share(0.0, m));
                }
                _ => {}
            }
            i += 1;
        }
        items
    }

    /// A share at this place, ranges by their middle: how many marks, and the share.
    fn share_at(&self, marks: &[Mark], at: usize, capped: bool) -> Option<(usize, f64)> {
        let (n, a) = self.one_share(marks, at, capped)?;
        let Some(next) = marks.get(at + n) else {
            return Some((n, a));
        };
        let before = &marks[at + n - 1];
        let joined = self.between(before, next, &["to", "or"])
            || before.to > 0 && self.word(before.to) == "or"
            || matches!(next.concept, C::Then | C::And)
                && (0..before.from)
                    .rev()
                    .take(3)
                    .any(|i| self.word(i) == "between");
        if joined {
            let skip = usize::from(matches!(next.concept, C::Then | C::And));
            if let Some((more, b)) = self.one_share(marks, at + n + skip, capped) {
                return Some((n + skip + more, f64::midpoint(a, b)));
            }
        }
        Some((n, a))
    }

    fn one_share(&self, marks: &[Mark], at: usize, _capped: bool) -> Option<(usize, f64)> {
        let m = marks.get(at)?;
        match m.concept {
            C::Share => Some((1, m.value)),
            C::Num => {
                let percent = matches!(self.word(m.to), "percent" | "%")
                    || self.word(m.to) == "per" && self.word(m.to + 1) == "cent";
                if percent && (10.0..=100.0).contains(&m.value) {
                    let used = 1 + marks[at + 1..]
                        .iter()
                        .take_while(|w| w.concept == C::Word && w.from < m.to + 2)
                        .count();
                    return Some((used, m.value / 100.0));
                }
                if (self.word(m.to) == "out"
                    && self.word(m.to + 1) == "of"
                    && self.word(m.to + 2) == "ten"
                    || self.word(m.to) == "tenths")
                    && m.value <= 10.0
                {
                    let used = 1 + marks[at + 1..]
                        .iter()
                        .take_while(|w| w.from < m.to + 3)
                        .count();
                    return Some((used, m.value / 10.0));
                }
                // "eighty this side sixty the other", "fifty to sixty percent"
                let beside = marks
                    .get(at + 1)
                    .is_some_and(|n| matches!(n.concept, C::This | C::Other | C::Both))
                    || at > 0
                        && matches!(marks[at - 1].concept, C::This | C::Other | C::Both)
                        && marks.get(at + 1).is_none_or(|n| {
                            matches!(
                                n.concept,
                                C::Stop
                                    | C::Take
                                    | C::Leave
                                    | C::Capped
                                    | C::Then
                                    | C::This
                                    | C::Other
                                    | C::Both
                            )
                        });
                let tens = m.value >= 10.0 && m.value <= 100.0 && m.value % 5.0 == 0.0;
                let to_percent = tens
                    && matches!(self.word(m.to), "to" | "or")
                    && marks.get(at + 1).is_some_and(|n| n.concept == C::Num)
                    && (matches!(self.word(marks[at + 1].to), "percent" | "per") || beside);
                let like = |n: Option<&Mark>| {
                    n.is_some_and(|n| {
                        n.concept == C::Num
                            && (10.0..=100.0).contains(&n.value)
                            && n.value % 5.0 == 0.0
                    })
                };
                let joint =
                    |n: Option<&Mark>| n.is_some_and(|n| matches!(n.concept, C::And | C::Then));
                let ahead = if joint(marks.get(at + 1)) {
                    at + 2
                } else {
                    at + 1
                };
                let behind = if at > 0 && joint(marks.get(at - 1)) {
                    at.checked_sub(2)
                } else {
                    at.checked_sub(1)
                };
                let unit = marks.get(at + 1).is_some_and(|u| {
                    matches!(
                        u.concept,
                        C::Kg | C::Pound | C::Mm | C::Gram | C::Degrees | C::Ounce | C::Comb
                    )
                });
                let pair = !unit
                    && (like(marks.get(ahead)) || behind.is_some_and(|b| like(marks.get(b))))
                    && !marks.iter().any(|u| {
                        matches!(
                            u.concept,
                            C::Mites | C::Bees | C::Bar | C::Number | C::Mm | C::Gram
                        )
                    });
                (tens && (beside || to_percent || pair)).then_some((1, m.value / 100.0))
            }
            _ => None,
        }
    }

    /// The share is of brood, pollen, nectar or building, not of capped honey.
    fn of_something_else(&self, marks: &[Mark], at: usize, after: usize) -> bool {
        let next = marks.get(after);
        let unit = |m: Option<&Mark>| {
            m.is_some_and(|m| {
                matches!(
                    m.concept,
                    C::Kg
                        | C::Gram
                        | C::Pound
                        | C::Ounce
                        | C::Inch
                        | C::Cm
                        | C::Litre
                        | C::Gallon
                        | C::Quart
                        | C::Pint
                )
            })
        };
        let before = marks[..at]
            .iter()
            .rev()
            .find(|m| !matches!(m.concept, C::And | C::Then));
        if unit(next)
            || unit(before)
                && before.is_some_and(|b| {
                    marks[at].from <= b.to + 3 && self.between(b, &marks[at], &["and"])
                })
        {
            return true;
        }
        let noun = |c: C| {
            matches!(
                c,
                C::Brood
                    | C::SealedBrood
                    | C::Drone
                    | C::DroneAndWorker
                    | C::Eggs
                    | C::Pollen
                    | C::Empty
                    | C::NewComb
                    | C::CombMade
                    | C::Unripe
                    | C::Bees
            )
        };
        if next.is_some_and(|n| noun(n.concept)) {
            // "all capped" before it belongs to honey: "half capped, pollen ..." has a stop between
            return true;
        }
        // "pollen mostly", "brood all sealed"
        if at > 0
            && noun(marks[at - 1].concept)
            && marks[at - 1].concept != C::Unripe
            && !next.is_some_and(|n| matches!(n.concept, C::Capped | C::This | C::Other | C::Both))
        {
            return true;
        }
        if at > 0 && matches!(marks[at - 1].concept, C::Brood | C::SealedBrood | C::Drone) {
            return true;
        }
        let capped = marks.iter().any(|m| m.concept == C::Capped);
        let after = self.word(marks[after - 1].to);
        matches!(after, "built" | "drawn" | "full" | "empty") || after == "down" && !capped
    }

    /// "capped both sides" with no share is all of it; "the back still open" is none.
    fn cap_without_share(marks: &[Mark], items: &mut Vec<Item>) {
        let share = |i: Option<&Item>| matches!(i, Some(Item::Share(..)));
        let face = |i: Option<&Item>| matches!(i, Some(Item::Face(..)));
        let mut at = 0;
        while at < items.len() {
            if let Item::Cap(m) = items[at] {
                let (before, after) = (
                    at.checked_sub(1).and_then(|i| items.get(i)),
                    items.get(at + 1),
                );
                let free_before = !share(before);
                let toward_after = face(after) && !share(items.get(at + 2));
                let toward_before = face(before)
                    && !face(after)
                    && !share(after)
                    && !share(at.checked_sub(2).and_then(|i| items.get(i)));
                if free_before && !share(after) && (toward_after || toward_before) {
                    items[at] = Item::Share(1.0, m);
                } else {
                    items.remove(at);
                    continue;
                }
            }
            at += 1;
        }
        let has_face = items.iter().any(|i| matches!(i, Item::Face(..)));
        let has_share = items.iter().any(|i| matches!(i, Item::Share(..)));
        let cap = marks.iter().any(|m| m.concept == C::Capped);
        if let Some(m) = marks.iter().find(|m| m.concept == C::Open)
            && has_face
            && !has_share
            && !cap
        {
            items.push(Item::Share(0.0, *m));
        }
    }

    /// Each share goes to the face that waits for one, or waits for a face.
    fn assign(&mut self, items: &[Item], capped: bool) {
        if self.pair(items) {
            return;
        }
        let had_face = items.iter().any(|i| matches!(i, Item::Face(..)));
        let mut face: Option<(Faces, Mark)> = None;
        let mut carried = self.state.face;
        let mut share: Option<(f64, Mark)> = None;
        let mut last: Option<(f64, Mark)> = None;
        for (at, item) in items.iter().enumerate() {
            match *item {
                Item::Face(f, m) => {
                    let another = at > 0
                        && !items[at..]
                            .iter()
                            .any(|i| matches!(i, Item::Share(..) | Item::Same(_) | Item::Stop));
                    let own = f == Faces::Other
                        && matches!(items.get(at + 1), Some(Item::Share(..)))
                        && !items[at + 1..].iter().any(|i| matches!(i, Item::Face(..)));
                    if let Some((s, sm)) = share
                        .filter(|(_, sm)| own && last.is_none() && self.between(sm, &m, &["and"]))
                    {
                        // "half and behind three quarters": the first is for this side
                        self.capped(Faces::This, s, &[sm]);
                        share = None;
                        face = Some((f, m));
                    } else if let Some((s, sm)) = share.take() {
                        self.capped(f, s, &[sm, m]);
                        last = Some((s, m));
                    } else if let Some((s, lm)) = last.filter(|(_, lm)| {
                        another
                            && m.from <= lm.to + 3
                            && (f == Faces::Both || self.between(lm, &m, &["and", "or", "nor"]))
                    }) {
                        // "nothing capped this side or that"
                        self.capped(f, s, &[lm, m]);
                    } else if let Some(s) = self.state.share.take().filter(|_| {
                        face.is_none()
                            && !items[at..]
                                .iter()
                                .any(|i| matches!(i, Item::Share(..) | Item::Same(_)))
                    }) {
                        // "three quarters capped" ... "this side"
                        self.capped(f, s, &[m]);
                    } else {
                        let both = face.as_ref().is_some_and(|(g, gm)| {
                            *g != f
                                && m.from <= gm.to + 2
                                && self.between(gm, &m, &["and", "or", "nor"])
                        });
                        face = Some((if both { Faces::Both } else { f }, m));
                    }
                    carried = None;
                }
                Item::Share(s, m) => {
                    if let Some((f, fm)) = face.take() {
                        self.capped(f, s, &[fm, m]);
                        last = Some((s, m));
                    } else if let Some(f) = carried.take().filter(|_| !next_face(items, at)) {
                        self.capped(f, s, &[m]);
                    } else {
                        share = Some((s, m));
                    }
                }
                Item::Same(m) => {
                    if let Some((f, fm)) = face.take() {
                        self.same(f, &[fm, m]);
                    } else if let Some(Item::Face(f, fm)) = items.get(at + 1).copied() {
                        self.same(f, &[m, fm]);
                    } else if let Some(f) = carried.take() {
                        self.same(f, &[m]);
                    }
                }
                Item::Stop | Item::Cap(_) => {}
            }
        }
        if let Some((s, m)) = share {
            self.loose_share(s, m, capped, had_face);
        }
        self.state.face = face.map(|(f, _)| f).or(carried);
    }

    /// "eighty and eighty", "two thirds and a third on the back": this side first, then the other.
    fn pair(&mut self, items: &[Item]) -> bool {
        let plain: Vec<&Item> = items
            .iter()
            .filter(|i| !matches!(i, Item::Stop | Item::Cap(_)))
            .collect();
        match plain.as_slice() {
            [Item::Share(a, am), Item::Share(b, bm)]
            | [
                Item::Share(a, am),
                Item::Share(b, bm),
                Item::Face(Faces::Other, _),
            ] => {
                if self.correcting || self.state.face.is_some() {
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
}

/// The cap is the brood's: "brood all capped".
fn brood_before(marks: &[Mark], at: usize) -> bool {
    marks[..at]
        .iter()
        .rev()
        .take_while(|m| m.concept != C::Stop)
        .take(2)
        .any(|m| matches!(m.concept, C::Brood | C::SealedBrood | C::Drone))
}

/// "brood closed on this face and closed on that": no honey in the clause, no share before.
fn brood_clause(marks: &[Mark], at: usize) -> bool {
    let from = marks[..at]
        .iter()
        .rposition(|m| m.concept == C::Stop)
        .map_or(0, |i| i + 1);
    let clause = &marks[from..at];
    let has = |c: C| clause.iter().any(|m| m.concept == c);
    (has(C::Brood) || has(C::SealedBrood))
        && !has(C::Honey)
        && !has(C::Share)
        && !has(C::Then)
        && marks.get(at + 1).is_none_or(|m| m.concept != C::Share)
}

fn next_face(items: &[Item], at: usize) -> bool {
    matches!(items.get(at + 1), Some(Item::Face(..)))
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
