//! Marks that tell a share or a face only together: "capped half way down", "third that side", "the
//! same beyond".

use crate::concept::Concept as C;
use crate::mark::Mark;
use crate::together::{Joiner, face};

impl Joiner<'_> {
    /// Takes the mark at this place, if it is a share or a face in disguise; how many marks.
    pub(crate) fn join_share(&mut self, at: usize) -> Option<usize> {
        let m = self.marks[at];
        match m.concept {
            // "sealed half way down", "three quarters done on this side"
            C::FillPart if self.capped_part(at) => {
                let share = self.part_of(m);
                self.out.push(Mark {
                    concept: C::Share,
                    value: share,
                    ..m
                });
            }
            // "capped all this side and all the back"
            C::All
                if self.word(m.to - 1) == "back"
                    && m.to <= m.from + 3
                    && self
                        .marks
                        .iter()
                        .any(|n| matches!(n.concept, C::Capped | C::This)) =>
            {
                self.out.push(Mark {
                    concept: C::Share,
                    value: 1.0,
                    to: m.from + 1,
                    ..m
                });
                self.out.push(Mark {
                    concept: C::Other,
                    from: m.to - 1,
                    ..m
                });
            }
            // "all back as they were"
            C::Share
                if m.to == m.from + 2
                    && self.word(m.from) == "all"
                    && self.word(m.from + 1) == "back"
                    && !self.marks.iter().any(|n| {
                        matches!(n.concept, C::Capped | C::This) || n.concept == C::Share && *n != m
                    }) =>
            {
                self.push(m, C::All);
            }
            // "seal brood", "cap brood"
            C::Capped
                if self.marks.get(at + 1).is_some_and(|n| {
                    n.from == m.to && matches!(n.concept, C::Brood | C::SealedBrood)
                }) =>
            {
                self.out.push(Mark {
                    concept: C::SealedBrood,
                    to: self.marks[at + 1].to,
                    ..m
                });
                return Some(2);
            }
            // "capped full", "full capped"
            C::FillFull if self.capped_full(at) => {
                self.out.push(Mark {
                    concept: C::Share,
                    value: 1.0,
                    ..m
                });
            }
            // "not begun on the other side": its capping
            C::NoComb
                if self.any_word(m.from..m.to, &["begun", "started", "bare"])
                    && (self.after(at).first().is_some_and(face)
                        || at > 0
                            && face(&self.marks[at - 1])
                            && self.marks.iter().any(|n| {
                                matches!(n.concept, C::Capped | C::Share | C::Uncapped)
                            })) =>
            {
                self.push(m, C::Uncapped);
            }
            // "half this side third that side"
            C::Ord if self.bare_third(at) => self.out.push(Mark {
                concept: C::Share,
                value: 0.33,
                ..m
            }),
            // "the same beyond": the far face
            C::Word
                if self.word(m.from) == "beyond"
                    && m.to == m.from + 1
                    && at > 0
                    && matches!(self.marks[at - 1].concept, C::Same | C::Share | C::Capped)
                    && self
                        .tokens
                        .get(m.to)
                        .is_none_or(crate::token::Token::is_stop) =>
            {
                self.push(m, C::Other);
            }
            // "then one with drone brood"
            C::Num
                if self.word(m.from) == "one"
                    && m.to == m.from + 1
                    && m.from > 0
                    && matches!(self.word(m.from - 1), "then" | "next" | "comes")
                    && matches!(self.word(m.to), "with" | "of" | "that" | "has" | "full") =>
            {
                self.push(m, C::Next);
            }
            _ => return None,
        }
        Some(1)
    }

    fn capped_full(&self, at: usize) -> bool {
        let m = self.marks[at];
        let plain = m.to == m.from + 1 && self.word(m.from) == "full"
            || self.any_word(m.from..m.to, &["slap", "chock", "bang"]);
        let after_cap = at > 0
            && matches!(self.marks[at - 1].concept, C::Capped)
            && self.marks[at - 1].to == m.from;
        // "cap, full near"
        let after_cap = after_cap
            || at > 1
                && self.marks[at - 1].concept == C::Stop
                && self.marks[at - 2].concept == C::Capped
                && self.after(at).first().is_some_and(face);
        let share = |n: &Mark| matches!(n.concept, C::Share | C::Num);
        plain && after_cap && !self.after(at).first().is_some_and(share)
    }

    fn capped_part(&self, at: usize) -> bool {
        let m = self.marks[at];
        let capped = at > 0
            && self.marks[at - 1].concept == C::Capped
            && m.from <= self.marks[at - 1].to + 1;
        let done = self.any_word(m.from..m.to, &["done", "finished", "way"]);
        let about = self
            .marks
            .iter()
            .any(|n| matches!(n.concept, C::Capped | C::This | C::Other));
        let half_way = self.any_word(m.from..m.to, &["way", "halfway"])
            && self.after(at).first().is_some_and(face)
            && self.marks[..at].iter().any(|n| n.concept == C::Capped);
        capped || half_way || done && about && self.any_word(m.from..m.to, &["done", "finished"])
    }

    fn part_of(&self, m: Mark) -> f64 {
        let parts = [
            ("three", 0.75),
            ("two", 2.0 / 3.0),
            ("half", 0.5),
            ("halfway", 0.5),
            ("quarter", 0.25),
            ("third", 1.0 / 3.0),
            ("mostly", 0.8),
        ];
        let said = parts
            .iter()
            .find(|(w, _)| self.any_word(m.from..m.to, &[*w]));
        said.map_or(0.9, |(_, s)| *s)
    }

    /// "third on the far side" after another share or face.
    fn bare_third(&self, at: usize) -> bool {
        let m = self.marks[at];
        let third = self.word(m.from) == "third" && m.to == m.from + 1;
        let article = m.from > 0 && matches!(self.word(m.from - 1), "the" | "that" | "this");
        third
            && !article
            && self
                .after(at)
                .first()
                .is_some_and(|n| face(n) && n.from <= m.to + 2)
            && self.marks[..at]
                .iter()
                .any(|n| matches!(n.concept, C::Share | C::Capped | C::Uncapped) || face(n))
    }
}
