//! Faces and shares of a phrase, in the order said, before it is known which share is whose.

use crate::act::{Act, Side};
use crate::concept::Concept as C;
use crate::ear::{Ear, Faces};
use crate::faces::{A_BIT, brood};
use crate::mark::Mark;
use crate::pairing::Item;
use crate::visit::Comb;

impl Ear<'_> {
    pub(crate) fn items(&self, marks: &[Mark], capped: bool) -> Vec<Item> {
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
        match m.concept {
            C::This => items.push(Item::Face(self.near_or_turned(marks, &m, items), m)),
            C::Other if self.not_looked_at(&m) => items.push(Item::Gap(3)),
            C::Other => {
                // "all capped and the other side half": the joint is within the words of the face
                if self.word(m.from) == "and" && share_before(items) {
                    items.push(Item::Gap(1));
                }
                // "half on my side, what's yours": asked, and the answer is still to come
                if self.said(&m, "yours") {
                    items.push(Item::Gap(3));
                }
                items.push(Item::Face(Faces::Other, m));
            }
            // "all both sides", and no more
            C::Both if marks.len() == 1 && self.said(&m, "all") => {
                items.extend([Item::Share(1.0, m), Item::Face(Faces::Both, m)]);
            }
            C::Both => items.push(Item::Face(Faces::Both, m)),
            // "a third on this face, about the same on that"
            C::Same if self.word(m.to - 1) == "that" && this_before(items) => {
                items.extend([Item::Same(m), Item::Face(Faces::Other, m)]);
            }
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
            C::Ord if self.third_capped(marks, i) => items.push(Item::Share(0.33, m)),
            C::Capped if !brood_before(marks, i) && !brood_clause(marks, i) => {
                items.push(Item::Bare(1.0, m));
            }
            // "open grubs on the back"
            C::Open
                if marks
                    .get(i + 1)
                    .is_some_and(|n| brood(n.concept) && n.from == m.to) => {}
            C::Open if !next_share_all(marks, i) => items.push(Item::Bare(0.0, m)),
            // "turn it", a pause, "only a third here": the face that is seen now
            C::See | C::Here if self.said(&m, "here") && self.state.face.is_some() => {}
            C::See | C::Here if self.here_is_a_face(marks, i, items) => {
                items.push(Item::Face(self.here_or_turned(marks), m));
            }
            C::NewComb if self.white_face(marks, i) => items.push(Item::Share(1.0, m)),
            C::WhiteCap => items.push(Item::Share(1.0, m)),
            C::Extent
                if capped
                    && (!items
                        .iter()
                        .rev()
                        .take(2)
                        .any(|x| matches!(x, Item::Share(..)))
                        // "all over this side, all over the other"
                        || matches!(items.last(), Some(Item::Face(..)))
                            && matches!(next, Some(C::This | C::Other))) =>
            {
                items.push(Item::Share(1.0, m));
            }
            C::Word | C::That if self.is_the_far_face(&m, next, items) => {
                items.push(Item::Face(Faces::Other, m));
            }
            C::Stop if self.there(&m) && here_before(items) => {
                items.push(Item::Face(Faces::Other, m));
            }
            C::Stop => items.push(Item::Gap(if m.value > 0.5 { 3 } else { 1 })),
            C::But if self.word(m.from) == "so" && self.so_is(&m) => items.push(Item::Same(m)),
            C::And | C::Then | C::But => items.push(Item::Gap(1)),
            C::All if capped && self.said(&m, "everything") => items.push(Item::Share(1.0, m)),
            // "all of the back": the face within the words of the share
            C::Share if self.face_within(&m).is_some() && (capped || self.said(&m, "the")) => {
                items.push(Item::Share(m.value, m));
                items.extend(self.face_within(&m).map(|f| Item::Face(f, m)));
            }
            C::Share if self.no_share(&m, next, items) => {}
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

    /// "seven eighths facing me, six eighths away", "half on this, a third on that".
    fn is_the_far_face(&self, m: &Mark, next: Option<C>, items: &[Item]) -> bool {
        if m.concept == C::Word {
            return self.word(m.from) == "away"
                && this_before(items)
                && matches!(items.last(), Some(Item::Share(..)))
                && matches!(next, None | Some(C::Stop | C::Take | C::Leave));
        }
        let open = |c: &Comb| c.this.is_some() && c.other.is_none();
        self.that_side(m, next)
            && (this_before(items)
                // "half on that", a pause, "no, a third on that"
                || share_before(items)
                    && (self.told_of_the_far_face() || self.comb().is_some_and(open)))
    }

    /// The phrase before told the far face, and no other.
    fn told_of_the_far_face(&self) -> bool {
        let last = |(_, act): &(Option<usize>, Act)| match act {
            Act::Capped(side, _) => Some(*side),
            _ => None,
        };
        self.state.last_acts.iter().filter_map(last).next_back() == Some(Side::Other)
    }

    /// The face that "this side" means.
    fn near_or_turned(&self, marks: &[Mark], m: &Mark, items: &[Item]) -> Faces {
        // "one side half, one side all": the second is the other
        let again = self.said(m, "one")
            && items
                .iter()
                .any(|x| matches!(x, Item::Face(Faces::This, f) if self.said(f, "one")));
        // "what's your side", a pause, "my side's half": two stand at the comb
        let open = |c: &Comb| c.this.is_some() && c.other.is_none();
        let helper =
            self.state.told_by_the_other && self.said(m, "my") && self.comb().is_some_and(open);
        if again || helper || self.turned_unsaid(marks) {
            Faces::Other
        } else {
            Faces::This
        }
    }

    /// "all capped this side", a pause, "and this side half": the comb was turned between; or two hold it,
    /// and each tells of "mine".
    fn turned_unsaid(&self, marks: &[Mark]) -> bool {
        let faces = |m: &&Mark| matches!(m.concept, C::This | C::Other | C::Both);
        let told = |(_, act): &(Option<usize>, Act)| matches!(act, Act::Capped(Side::This, _));
        let mine = marks
            .iter()
            .any(|m| m.concept == C::This && self.said(m, "mine"));
        (self.word(0) == "and" || mine)
            && !self.correcting
            && marks.iter().filter(faces).count() == 1
            && marks
                .iter()
                .any(|m| matches!(m.concept, C::Share | C::Capped | C::Uncapped | C::Num))
            && self.state.last_acts.iter().any(told)
            && self
                .comb()
                .is_some_and(|c| c.this.is_some() && c.other.is_none())
    }

    /// "all capped here", a pause, "and all capped here": the comb was turned between.
    fn here_or_turned(&self, marks: &[Mark]) -> Faces {
        let face = |m: &Mark| matches!(m.concept, C::This | C::Other | C::Both);
        let told = |(_, act): &(Option<usize>, Act)| matches!(act, Act::Capped(Side::This, _));
        let open = |c: &Comb| c.this.is_some() && c.other.is_none();
        let turned = self.word(0) == "and"
            && !self.correcting
            && !marks.iter().any(face)
            && self.state.last_acts.iter().any(told)
            && self.comb().is_some_and(open);
        if turned { Faces::Other } else { Faces::This }
    }

    /// "it's all white this side": caps, where a face is spoken of.
    pub(crate) fn white_face(&self, marks: &[Mark], i: usize) -> bool {
        let m = &marks[i];
        m.concept == C::NewComb
            && self.said(m, "all")
            && self.said(m, "white")
            && marks.get(i + 1).is_some_and(|n| {
                (matches!(n.concept, C::This | C::Other | C::Both)
                    || matches!(self.word(n.from), "here" | "there"))
                    && n.from <= m.to + 1
            })
    }

    /// "half here", "and here two thirds".
    fn here_is_a_face(&self, marks: &[Mark], i: usize, items: &[Item]) -> bool {
        let m = &marks[i];
        let next = marks.get(i + 1).map(|n| n.concept);
        let begins = items.is_empty()
            && (0..m.from).all(|k| self.word(k) == "and")
            && matches!(next, Some(C::Share | C::Capped | C::Uncapped));
        self.said(m, "here") && (share_before(items) || begins)
    }

    /// "nothing's coming out", "cells and all".
    fn no_share(&self, m: &Mark, next: Option<C>, items: &[Item]) -> bool {
        let taken = m.value < 0.01 && next == Some(C::Take);
        // "there's nothing in the bottom of it"
        let place = |i: usize| {
            matches!(
                self.word(i),
                "bottom" | "top" | "corner" | "corners" | "middle"
            )
        };
        let nothing_there =
            m.value < 0.01 && self.word(m.to) == "in" && (m.to + 1..m.to + 3).any(place);
        if nothing_there {
            return true;
        }
        // "so three in all": counted
        if self.word(m.from) == "all" && self.word(m.from.wrapping_sub(1)) == "in" {
            return true;
        }
        // "a half cup, it is three hundred bees"
        if matches!(self.word(m.to), "cup" | "mug" | "glass" | "jar") {
            return true;
        }
        // "that's a bit of wax", among the mites
        let thing = self.word(m.to) == "of"
            && matches!(
                self.word(m.to + 1),
                "wax" | "leg" | "wing" | "dirt" | "dust" | "fluff" | "grit" | "grass" | "string"
            )
            && m.value < 0.5;
        if thing {
            return true;
        }
        let and_all = self.word(m.from) == "all"
            && m.to == self.tokens.len()
            && self.word(m.from.wrapping_sub(1)) == "and"
            && items.is_empty();
        // "I'll push it back over a bit"
        let moved = ["bit", "little", "touch", "tad"]
            .iter()
            .any(|w| self.said(m, w))
            && matches!(
                self.word(m.from.wrapping_sub(1)),
                "over" | "along" | "sideways"
            );
        // "no capping on it at all": no share
        let at_all = self.word(m.to - 1) == "all" && self.word(m.to.wrapping_sub(2)) == "at";
        taken || and_all || moved || at_all && m.value > 0.5
    }

    fn face_within(&self, m: &Mark) -> Option<Faces> {
        let last = self.word(m.to - 1);
        match last {
            "back" | "rear" if m.to > m.from + 1 => Some(Faces::Other),
            "front" if m.to > m.from + 1 => Some(Faces::This),
            _ => None,
        }
    }

    /// "the back's black with bees I can't see it": nothing is told of that face.
    fn not_looked_at(&self, face: &Mark) -> bool {
        let see = |i: usize| {
            matches!(
                self.word(i),
                "see"
                    | "saw"
                    | "seen"
                    | "look"
                    | "looked"
                    | "tell"
                    | "check"
                    | "checked"
                    | "read"
                    | "turn"
                    | "turning"
                    | "flip"
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
        // "I can't tell on the other"
        let mut last = face.from;
        while last > 0 && matches!(self.word(last - 1), "on" | "of" | "about" | "the" | "round") {
            last -= 1;
        }
        let first = if self.said(face, "on") {
            face.from
        } else {
            last
        };
        if [first, last]
            .into_iter()
            .any(|i| i > 0 && see(i - 1) && not(i - 1))
        {
            return true;
        }
        let turned = ["turn", "turning", "flip", "spin", "swing"]
            .iter()
            .any(|w| self.said(face, w))
            && not(face.from);
        // "back i can't"
        let cannot = self.word(face.to) == "i"
            && matches!(self.word(face.to + 1), "ca" | "can")
            && (face.to + 3..=face.to + 4).contains(&self.tokens.len());
        turned || cannot || (face.to..end).any(|i| see(i) && not(i))
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
            if share > 0.01
                && matches!(marks.get(i + used), Some(n)
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
        if self.unseen(&m) {
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
            // "ain't sealed at all"
            let at_all = marks.get(n + 1).is_some_and(|s| {
                s.concept == C::Share
                    && self.word(s.to - 1) == "all"
                    && s.from <= marks[n].to + 1
                    && (self.said(s, "at") || self.word(s.from.wrapping_sub(1)) == "at")
            });
            return n + 1 + usize::from(at_all) - i;
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

    /// "the other face I did not see": nothing is said of it.
    fn unseen(&self, m: &Mark) -> bool {
        let sees = (m.from..m.to + 3).any(|k| {
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
        });
        let none = (m.from..m.to).any(|k| matches!(self.word(k), "any" | "none" | "nothing"));
        sees && !none && self.word(m.from) != "no"
    }
}

/// The item before is a share.
fn share_before(items: &[Item]) -> bool {
    items
        .iter()
        .rev()
        .find(|x| !matches!(x, Item::Gap(_)))
        .is_some_and(|x| matches!(x, Item::Share(..) | Item::Bare(..)))
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

/// "brood closed on this face and closed on that": of the words for what a comb holds, brood stands
/// last before the cap, and the cap has no share.
fn brood_clause(marks: &[Mark], at: usize) -> bool {
    let from = marks[..at]
        .iter()
        .rposition(|m| m.concept == C::Stop && m.value > 0.5)
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
