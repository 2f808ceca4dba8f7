//! Combs counted from the opened end: "the second one", "first two", "third lad", "fourth up".

use crate::concept::Concept as C;
use crate::ear::{Ear, State};
use crate::mark::Mark;
use crate::opening::{Named, UNITS, describes, fresh, next, whole};
use crate::verbs::PUTS;

impl State {
    /// "first bar nothing", and then "third one honey", of the second comb: counted without the bars that
    /// have none. A keeper who begins anew with the first counts the combs.
    pub(crate) fn counted_from_the_first_comb(&mut self, mut marks: Vec<Mark>) -> Vec<Mark> {
        for m in marks.iter_mut().filter(|m| m.concept == C::Ord) {
            let bare = self.bare_counted as f64;
            let anew = m.value <= bare && self.visit.combs.len() == self.end_start;
            // the next bare one is counted on
            if anew && m.value > 1.5 {
                continue;
            }
            if anew {
                self.bare_counted = 0;
            } else if m.value > bare {
                m.value -= bare;
            }
        }
        marks
    }
}

impl Ear<'_> {
    pub(crate) fn counted(&self, marks: &[Mark], at: usize) -> Option<(usize, Named)> {
        let n = marks[at].value as usize;
        let cells = marks[at + 1..]
            .iter()
            .take(3)
            .any(|m| matches!(m.concept, C::Cups | C::Cells));
        // "it's the twenty third", before the combs
        let date = n > self.here() + 6 && self.state.visit.combs.is_empty();
        if n == 0 || n > 60 || date || cells || self.third_capped(marks, at) {
            return None;
        }
        // "board out first"
        let board = at > 0
            && matches!(marks[at - 1].concept, C::OpenEnd | C::Follower)
            && marks[at].from == marks[at - 1].to
            && !marks[at + 1..].iter().any(|m| describes(m.concept));
        if board {
            return None;
        }
        if let Some(few) = first_few(marks, at) {
            return Some(few);
        }
        let couple = n == 1
            && marks.get(at + 1).is_some_and(|m| {
                matches!(m.concept, C::BothOf | C::Word)
                    && matches!(self.word(m.from), "couple" | "pair" | "two")
            });
        if couple {
            return Some((2, Named::FirstFew(2)));
        }
        let i = at + 1;
        let named = next(marks, i, C::Comb)
            || next(marks, i, C::Bar)
            || marks.get(i).is_some_and(|m| {
                m.concept == C::Num && self.word(m.from) == "one" && m.to == m.from + 1
            });
        let found = Some((if named { 2 } else { 1 }, Named::Ordinal(n)));
        let runs_on =
            at > 0 && marks[at - 1].concept == C::StraightNo && self.runs_into(&marks[at - 1]);
        // "put the first back"
        let noun = usize::from(matches!(self.word(marks[at].to), "one" | "comb" | "bar"));
        let put_back = n <= self.here()
            && marks[at].from > 1
            && PUTS.contains(&self.word(marks[at].from - 2))
            && matches!(
                self.word(marks[at].to + noun),
                "back" | "in" | "home" | "down"
            );
        if named || runs_on || put_back {
            return found;
        }
        // "the third of april", a pause, "no, the fourth", before any end is opened
        if n > 1 && self.state.visit.combs.is_empty() && self.state.visit.ends.is_empty() {
            return None;
        }
        let within = self.told_before_it(marks, at, n);
        if within {
            return found;
        }
        let of_content = self.of_content(marks, at, n);
        if of_content {
            return None;
        }
        let mut after = marks[at].to;
        while matches!(
            self.word(after),
            "uh" | "um" | "er" | "erm" | "oh" | "well" | "now" | "yeah" | "okay" | "ah"
        ) {
            after += 1;
        }
        if self.first_of(marks, at, n) || self.no_comb_counted(after) {
            return None;
        }
        if self.in_turn(&marks[at], n) {
            return found;
        }
        let verb = goes_on(self.word(after)) || self.thing(after);
        let end = at + 1 == marks.len();
        let follows = marks.get(at + 1).is_some_and(|m| m.concept != C::Word);
        let article = marks[at].from > 0
            && matches!(
                self.word(marks[at].from - 1),
                "the" | "that" | "this" | "my"
            );
        // "first honey take second honey take": the next, after a verdict
        let verdict = at > 0
            && marks[at - 1].concept.is_verdict()
            && n == self.here() + 1
            && (article && self.state.verdict_first
                || marks.get(at + 1).is_some_and(|m| describes(m.concept)));
        // "so it's the first one I'm having"
        let wanted = article
            && matches!(self.word(after), "i" | "we")
            && n <= self.here()
            && marks
                .get(at + 1)
                .is_some_and(|m| matches!(m.concept, C::Take | C::Leave));
        if wanted
            || verdict
            || fresh(marks, at) && (verb || end || follows)
            || article && (verb || end)
        {
            return found;
        }
        None
    }

    /// "third capped this side", of a keeper who calls the combs by the numbers on their bars: how much.
    pub(crate) fn third_capped(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let capped = marks
            .get(at + 1)
            .is_some_and(|n| n.concept == C::Capped && n.from == m.to);
        // "half this side", a pause, "third the other"
        let face = marks
            .get(at + 1)
            .is_some_and(|n| n.concept == C::Other && n.from <= m.to + 1 && marks.len() == at + 2);
        let one_told = self
            .comb()
            .is_some_and(|c| c.this.is_some() && c.other.is_none() && c.decision.is_none());
        let by_number = self
            .comb()
            .is_some_and(|c| c.bar.is_some() && c.decision.is_none());
        (m.value - 3.0).abs() < 0.5
            && self.said(m, "third")
            && (capped && by_number || face && one_told)
    }

    /// "brood in the fourth and ...": told before the comb is named.
    fn told_before_it(&self, marks: &[Mark], at: usize, n: usize) -> bool {
        article_before(self, marks[at].from)
            && (n <= self.here() || self.in_group(n).is_some())
            && marks[..at].iter().any(|m| m.concept.is_held())
            && marks
                .get(at + 1)
                .is_none_or(|m| matches!(m.concept, C::And | C::Then | C::Stop | C::But))
    }

    /// "my first eggs": no comb.
    fn of_content(&self, marks: &[Mark], at: usize, n: usize) -> bool {
        n <= self.here()
            && matches!(
                self.word(marks[at].from.wrapping_sub(1)),
                "my" | "our" | "her" | "their" | "some" | "any"
            )
            && marks.get(at + 1).is_some_and(|m| {
                m.from == marks[at].to && describes(m.concept) && m.concept != C::Comb
            })
    }

    /// "the first and third", "second bar and third bar", "fourth and fifth combs".
    pub(crate) fn counted_together(&self, marks: &[Mark], at: usize) -> Option<(usize, Named)> {
        let counted = |m: &Mark| {
            let n = m.value as usize;
            (m.concept == C::Ord && n >= 1).then_some(n)
        };
        let mut all = vec![counted(marks.get(at)?)?];
        let mut i = at + 1;
        loop {
            let mut j = i;
            while marks.get(j).is_some_and(|m| {
                matches!(m.concept, C::And | C::Then | C::Comb | C::Bar)
                    || m.concept == C::Num && self.word(m.from) == "one" && m.to == m.from + 1
            }) {
                j += 1;
            }
            let joined = marks[i..j]
                .iter()
                .any(|m| matches!(m.concept, C::And | C::Then));
            let Some(n) = marks.get(j).and_then(counted).filter(|_| joined) else {
                break;
            };
            all.push(n);
            i = j + 1;
        }
        if all.len() < 2 {
            return None;
        }
        if all
            .iter()
            .all(|&n| n <= self.here() || self.in_group(n).is_some())
        {
            return Some((i - at, Named::Ordinals(all)));
        }
        let new = all
            .iter()
            .enumerate()
            .all(|(k, &n)| n == self.here() + 1 + k);
        while next(marks, i, C::Comb) || next(marks, i, C::Bar) {
            i += 1;
        }
        (new && fresh(marks, at)).then_some((i - at, Named::Next(all.len())))
    }

    /// "two more the same": combs not met before.
    pub(crate) fn more(&self, marks: &[Mark], at: usize) -> Option<(usize, Named)> {
        let m = &marks[at];
        let few = whole(m).filter(|n| (1..=6).contains(n))? as usize;
        let another = self.word(m.from.wrapping_sub(1)) == "another";
        let more = self.word(m.to) == "more" || another && few > 1;
        // "two more beyond that brood the pair of them"
        let beyond =
            more && matches!(
                self.word(m.to + 1),
                "beyond" | "behind" | "past" | "after" | "further" | "inside" | "along"
            ) && marks[at + 1..]
                .iter()
                .any(|n| describes(n.concept) && !matches!(n.concept, C::Take | C::Leave | C::Not));
        let comb = marks[at + 1..].iter().take(2).any(|n| {
            matches!(
                n.concept,
                C::Same
                    | C::Comb
                    | C::Bar
                    | C::Honey
                    | C::Brood
                    | C::SealedBrood
                    | C::Empty
                    | C::NewComb
                    | C::Pollen
            )
        });
        let cells = marks
            .iter()
            .any(|m| matches!(m.concept, C::Cells | C::Cups | C::QueenCell | C::Mites));
        let described = self
            .comb()
            .is_some_and(|c| c.described() || c.decision.is_some());
        // "two honey combs to begin with"
        let noun = marks[at + 1..]
            .iter()
            .take(3)
            .any(|n| n.concept == C::Comb && self.word(n.to - 1) == "combs")
            || self.word(m.to + 1) == "combs";
        let first = self.here() == 0
            && few > 1
            && noun
            && !self.state.visit.ends.is_empty()
            && marks[at + 1..].iter().any(|n| {
                describes(n.concept) && !matches!(n.concept, C::Take | C::Leave | C::Not | C::Comb)
            })
            && (fresh(marks, at)
                || self.word(m.from.wrapping_sub(1)) == "are"
                    && marks[..at]
                        .iter()
                        .all(|m| matches!(m.concept, C::Word | C::Follower | C::See | C::But)));
        if first {
            return Some((1, Named::Next(few)));
        }
        (more && (comb || beyond) && !cells && described && fresh(marks, at) && !self.state.washing)
            .then_some((1, Named::Next(few)))
    }

    /// "plus the first open brood": no comb, where the first was met.
    fn first_of(&self, marks: &[Mark], at: usize, n: usize) -> bool {
        n <= self.here()
            && at > 0
            && matches!(marks[at - 1].concept, C::Then | C::And | C::See)
            && marks
                .get(at + 1)
                .is_some_and(|m| m.concept.is_held() || matches!(m.concept, C::Capped | C::Open))
    }

    /// "first week", "first warm day".
    pub(crate) fn no_comb_counted(&self, after: usize) -> bool {
        no_thing(self.word(after))
            || no_thing(self.word(after + 1))
                && matches!(
                    self.word(after),
                    "warm"
                        | "cold"
                        | "hot"
                        | "fine"
                        | "real"
                        | "proper"
                        | "good"
                        | "big"
                        | "hard"
                        | "few"
                )
    }

    /// "second oh dear": the next in order, at the start of what is said.
    fn in_turn(&self, m: &Mark, n: usize) -> bool {
        n == self.here() + 1
            && (n > 1 || !self.state.visit.ends.is_empty())
            && (0..m.from).all(|i| {
                matches!(
                    self.word(i),
                    "the" | "now" | "so" | "and" | "then" | "okay" | "right" | "well"
                )
            })
    }

    /// "the second lad has", "the third beauty is": any thing that a comb may be called.
    fn thing(&self, at: usize) -> bool {
        let verb = matches!(
            self.word(at + 1),
            "is" | "'s"
                | "has"
                | "have"
                | "had"
                | "was"
                | "got"
                | "looks"
                | "now"
                | "here"
                | "in"
                | "up"
                | "along"
                | "comes"
                | "hangs"
                | "seems"
                | "feels"
                | "weighs"
                | "holds"
                | "'ve"
        );
        let known = matches!(
            self.word(at),
            "lad"
                | "fella"
                | "fellow"
                | "feller"
                | "chap"
                | "guy"
                | "boy"
                | "boyo"
                | "girl"
                | "lass"
                | "beauty"
                | "bugger"
                | "beggar"
                | "baby"
                | "yoke"
                | "fel"
                | "piece"
                | "slab"
                | "fin"
        );
        known || verb && self.word(at).len() > 2 && !no_thing(self.word(at))
    }
}

/// "in the", "on the" before the word.
fn article_before(ear: &Ear<'_>, at: usize) -> bool {
    at > 1 && ear.word(at - 1) == "the" && matches!(ear.word(at - 2), "in" | "on")
}

/// "first two combs".
fn first_few(marks: &[Mark], at: usize) -> Option<(usize, Named)> {
    let few = marks.get(at + 1).and_then(whole)?;
    let unit = marks
        .get(at + 2)
        .is_some_and(|m| UNITS.contains(&m.concept) && m.concept != C::Honey);
    let noun = next(marks, at + 2, C::Comb) || next(marks, at + 2, C::Bar);
    ((marks[at].value - 1.0).abs() < 0.1 && (2..=6).contains(&few) && !unit)
        .then_some((if noun { 3 } else { 2 }, Named::FirstFew(few as usize)))
}

/// What may follow "the third" where it is a comb.
fn goes_on(word: &str) -> bool {
    matches!(
        word,
        "it" | "that"
            | "this"
            | "'s"
            | "is"
            | "has"
            | "have"
            | "had"
            | "was"
            | "one"
            | "looks"
            | "goes"
            | "comes"
            | "got"
            | "seems"
            | "weighs"
            | "hangs"
            | "also"
            | "too"
            | "then"
            | "over"
            | "just"
            | "wants"
            | "up"
            | "in"
            | "along"
            | "down"
            | "here"
            | "there"
            | "now"
            | "still"
            | "holds"
            | "starts"
            | "likewise"
            | "same"
            | "on"
    )
}

/// What is counted with "first" and is no comb.
fn no_thing(word: &str) -> bool {
    matches!(
        word,
        "time"
            | "times"
            | "thing"
            | "things"
            | "week"
            | "month"
            | "year"
            | "day"
            | "days"
            | "hive"
            | "visit"
            | "look"
            | "inspection"
            | "swarm"
            | "queen"
            | "cell"
            | "cells"
            | "frost"
            | "rain"
            | "sting"
            | "half"
            | "crop"
            | "flow"
            | "wash"
            | "count"
            | "litre"
            | "feed"
            | "side"
            | "face"
            | "end"
            | "box"
            | "jar"
            | "round"
            | "try"
            | "place"
            | "hour"
            | "minute"
            | "drop"
            | "batch"
            | "mite"
            | "thought"
            | "thoughts"
            | "spring"
            | "summer"
            | "autumn"
            | "winter"
            | "flight"
            | "colony"
            | "yard"
            | "morning"
            | "evening"
            | "afternoon"
            | "season"
            | "sign"
            | "hand"
            | "glance"
            | "opinion"
            | "sight"
            | "bees"
            | "wall"
            | "job"
            | "harvest"
            | "date"
            | "generation"
            | "puff"
            | "lesson"
            | "bee"
            | "grade"
            | "floor"
            | "gear"
            | "class"
            | "monday"
            | "sunday"
            | "saturday"
            | "march"
            | "april"
            | "may"
            | "june"
            | "july"
            | "august"
            | "september"
            | "october"
    )
}
