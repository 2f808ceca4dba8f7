//! The comb that stands aside, called by where it stands: "now the one by the ditch".

use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;
use crate::opening::describes;
use crate::verbs::PUTS;

impl Ear<'_> {
    /// Keeps the place where a comb was put: the last word of "on the frame rest".
    pub(crate) fn put_on(&mut self, words: &[Mark]) {
        let Some(m) = words.last().filter(|m| m.to >= m.from + 3) else {
            return;
        };
        let laid = [
            "on", "onto", "in", "by", "against", "beside", "near", "over", "under", "at",
        ];
        if !laid.iter().any(|w| self.said(m, w)) {
            return;
        }
        let place = self.word(m.to - 1);
        if !matches!(
            place,
            "side" | "it" | "that" | "one" | "minute" | "bit" | "now" | "later"
        ) {
            let place = place.to_owned();
            self.state.stand = place;
        }
    }

    /// Takes the comb that stands aside in hand where its place is named; gives the marks after it.
    pub(crate) fn stand_named<'m>(&mut self, marks: &'m [Mark]) -> &'m [Mark] {
        if let Some(after) = self.heavy_one(marks) {
            return &marks[after..];
        }
        let Some(place) = self.place_named() else {
            return marks;
        };
        let after = marks
            .iter()
            .position(|m| m.from > place)
            .unwrap_or(marks.len());
        let combs = &self.state.visit.combs;
        let all: Vec<usize> = (0..combs.len()).filter(|&c| combs[c].aside).collect();
        let several = self.tokens.iter().any(|t| {
            matches!(
                &*t.text,
                "those" | "ones" | "two" | "pair" | "both" | "three"
            )
        });
        if several && all.len() > 1 {
            // "the first of those on the wall": one of them may be named
            self.state.group.clone_from(&all);
            self.back_to(all);
            return marks;
        }
        let aside = self.state.visit.combs.iter().rposition(|c| c.aside);
        let Some(comb) = aside.filter(|_| {
            let clause = marks[..after]
                .iter()
                .rposition(|m| matches!(m.concept, C::But | C::Stop) && m.to <= place)
                .map_or(0, |i| i + 1);
            !marks[clause..after]
                .iter()
                .any(|m| describes(m.concept) && m.to <= place)
        }) else {
            return marks;
        };
        self.back_to(vec![comb]);
        &marks[after..]
    }

    /// "the heavy one goes back": the one aside, where the comb in hand is settled; how many marks
    /// name it.
    fn heavy_one(&mut self, marks: &[Mark]) -> Option<usize> {
        let combs = &self.state.visit.combs;
        let mut aside = (0..combs.len()).filter(|&c| combs[c].aside);
        let (Some(only), None) = (aside.next(), aside.next()) else {
            return None;
        };
        let settled = self.comb().is_some_and(|c| c.decision.is_some());
        let at = marks.iter().position(|m| {
            m.from > 0
                && self.word(m.from - 1) == "the"
                && matches!(
                    self.word(m.from),
                    "heavy" | "big" | "full" | "good" | "fat" | "nice" | "capped" | "ripe"
                )
                && (self.word(m.from + 1) == "one" || self.word(m.to) == "one")
        })?;
        let decided = marks[at..]
            .iter()
            .any(|m| matches!(m.concept, C::Take | C::Leave));
        if !settled || !decided {
            return None;
        }
        self.back_to(vec![only]);
        Some(at + 1)
    }

    /// The word that names the place, where it stands for the comb.
    fn place_named(&self) -> Option<usize> {
        if self.state.stand.is_empty() {
            return None;
        }
        let at = self
            .tokens
            .iter()
            .take(18)
            .position(|t| t.is(&self.state.stand))?;
        let has = |words: &[&str]| (0..at).any(|i| words.contains(&self.word(i)));
        let laid = (at.saturating_sub(4)..at).rev().find(|&i| {
            matches!(
                self.word(i),
                "on" | "in"
                    | "by"
                    | "at"
                    | "against"
                    | "over"
                    | "beside"
                    | "to"
                    | "from"
                    | "near"
                    | "off"
                    | "under"
            )
        });
        // "the one on the wall", not "set it on the wall"
        let thing = laid.is_some_and(|p| {
            let near = p.saturating_sub(4)..p;
            let put = near
                .clone()
                .any(|i| PUTS.contains(&self.word(i)) && self.word(i) != "back");
            let called = near.clone().any(|i| {
                matches!(
                    self.word(i),
                    "one"
                        | "comb"
                        | "bar"
                        | "lad"
                        | "fella"
                        | "fellow"
                        | "boyo"
                        | "boy"
                        | "chap"
                        | "guy"
                        | "that"
                        | "him"
                        | "lass"
                        | "girl"
                        | "bugger"
                        | "beggar"
                        | "ones"
                        | "back"
                        | "two"
                        | "pair"
                        | "those"
                        | "both"
                )
            });
            called && !put
        });
        let called = at < 4
            && has(&["so", "okay", "now", "right", "and", "well"])
            && (at + 1..at + 4)
                .any(|i| matches!(self.word(i), "what" | "how" | "one" | "you" | "comb"));
        (thing || called).then_some(at)
    }
}
