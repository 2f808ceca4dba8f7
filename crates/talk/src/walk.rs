//! Through a phrase, mark by mark: a comb named on the way is taken in hand, and what stands between
//! is said of the comb in hand.

use crate::act::{Act, Decision, Hold};
use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;
use crate::opening::{Named, describes, fresh};
use crate::verbs::PUTS;
use crate::visit::Comb;

impl Ear<'_> {
    /// Goes through the marks; a comb named on the way is taken in hand.
    pub(crate) fn walk(&mut self, marks: &[Mark]) {
        let mut from = 0;
        let mut at = 0;
        while at < marks.len() {
            if let Some((used, named)) = self.named(marks, at).filter(|(_, named)| {
                !self.likened(marks, at) && !self.only_mentioned(named, marks, at)
            }) {
                // "brood in the fourth": told before the comb is named
                if self.told_of(&named, marks, from, at, used) {
                    self.take_in_hand(named, &marks[at..at + used]);
                    self.describe(&marks[from..at]);
                    at += used;
                    from = at;
                    continue;
                }
                // "brood on four": what is told before its comb
                let ahead = self.told_ahead(&marks[from..at], marks[at].from);
                self.describe(&marks[from..at - ahead]);
                let joined = marks[from..at]
                    .iter()
                    .rev()
                    .take(2)
                    .any(|m| m.concept == C::StraightNo && self.runs_into(m) && !self.leans(m));
                let before = self.state.hand.clone();
                let met = self.state.visit.combs.len();
                self.take_in_hand(named, &marks[at..at + used]);
                if joined && !before.is_empty() && self.state.visit.combs.len() > met {
                    let new = self.state.hand.clone();
                    self.note_hand("joined", &Act::Straight(false), &marks[at..at + used]);
                    self.state.hand = before.into_iter().chain(new).collect();
                }
                self.describe(&marks[at - ahead..at]);
                at += used;
                at += self.put_back_named(marks, at - used, used);
                from = at;
                continue;
            }
            if at + 1 < marks.len() {
                let before = marks[from..at].to_vec();
                if marks[at].concept.is_verdict()
                    && let Some(used) = self.decision_ahead_after(&before, marks, at)
                {
                    at += used;
                    from = at;
                    continue;
                }
            }
            at += 1;
        }
        self.describe(&marks[from..]);
        self.back_to_the_new(marks);
        self.yes_beside_the_name(marks);
    }

    /// "bar seven, six is bare": the talk goes on of the comb that was met.
    fn back_to_the_new(&mut self, marks: &[Mark]) {
        let met = self.acts.iter().rev().find_map(|n| match n.act {
            Act::CombMet { bar: Some(_) } => n.comb,
            _ => None,
        });
        let aside = (1..marks.len()).any(|at| {
            let bar = crate::opening::whole(&marks[at]).and_then(|n| self.bar_index(n));
            bar.is_some_and(|comb| self.state.hand == [comb]) && self.its_own_clause(marks, at)
        });
        if let Some(met) = met.filter(|met| aside && self.state.hand != [*met]) {
            self.back_to(vec![met]);
        }
    }

    /// "put the third one back, it's green": the verdict right after the name; how many marks.
    fn put_back_named(&mut self, marks: &[Mark], at: usize, used: usize) -> usize {
        let mut verb = marks[at].from;
        while verb > 0 && matches!(self.word(verb - 1), "the" | "that" | "bar" | "comb") {
            verb -= 1;
        }
        let put = verb > 0 && PUTS.contains(&self.word(verb - 1));
        let Some(back) = marks.get(at + used).copied() else {
            return 0;
        };
        let said = back.concept == C::Other
            && back.to == back.from + 1
            && self.word(back.from) == "back"
            && back.from <= marks[at + used - 1].to;
        if put && said && !self.state.hand.is_empty() {
            let hand = self.state.hand.clone();
            self.decide("put back by name", Some(Decision::Leave), &hand, &[back]);
            return 1;
        }
        0
    }

    /// "brood on bar four", "eggs in the next one": how many of the marks before a comb named at this
    /// word say what it holds.
    fn told_ahead(&self, before: &[Mark], name: usize) -> usize {
        let article = usize::from(name > 0 && self.word(name - 1) == "the");
        let Some(on) = name.checked_sub(1 + article) else {
            return 0;
        };
        if !matches!(self.word(on), "on" | "in") {
            return 0;
        }
        let told = before
            .iter()
            .rev()
            .take_while(|m| m.concept.is_held())
            .count();
        let touches = before.last().is_some_and(|m| m.to == on);
        if touches { told } else { 0 }
    }

    /// "I can see brood in the fourth", "eggs on seven": of a comb met before, named last.
    fn told_of(&self, named: &Named, marks: &[Mark], from: usize, at: usize, used: usize) -> bool {
        let mut back = marks[at].from;
        while back > 0 && matches!(self.word(back - 1), "the" | "bar" | "comb" | "number") {
            back -= 1;
        }
        let within = back > 0 && matches!(self.word(back - 1), "in" | "on")
            || back > 0
                && self.word(back - 1) == "of"
                && at > 0
                && matches!(marks[at - 1].concept, C::This | C::Other);
        let content = |m: &Mark| m.concept.is_held() || m.concept == C::Empty;
        let ends = marks
            .get(at + used)
            .is_none_or(|m| matches!(m.concept, C::Stop | C::And | C::Then | C::But));
        within
            && ends
            && marks[from..at].iter().any(content)
            && self.known(named).is_some_and(|combs| !combs.is_empty())
    }

    /// "we've got that one and the second one", "bar seven we have not even opened".
    fn only_mentioned(&self, named: &Named, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let plain = !marks[..at].iter().any(|m| describes(m.concept));
        let listed = matches!(named, Named::Ordinal(_))
            && self.word(m.from.wrapping_sub(1)) == "the"
            && self.word(m.from.wrapping_sub(2)) == "and"
            && (0..m.from).any(|i| matches!(self.word(i), "that" | "this"));
        let unopened = self.tokens.iter().any(|t| {
            matches!(
                &*t.text,
                "opened" | "looked" | "reached" | "checked" | "inspected" | "unopened" | "open"
            )
        }) && marks.iter().any(|m| m.concept == C::Not)
            && !marks[at..].iter().any(|m| {
                describes(m.concept) && !matches!(m.concept, C::Not | C::Open | C::Comb | C::Next)
            });
        let lies_on = self.word(m.from.wrapping_sub(1)) == "the"
            && self.word(m.from.wrapping_sub(2)) == "on"
            && matches!(
                self.word(m.from.wrapping_sub(3)),
                "lies" | "lying" | "lay" | "laying" | "fell" | "fallen" | "rests" | "landed"
            );
        let leant_to = lies_on
            || marks[..at]
                .iter()
                .rev()
                .take(2)
                .any(|b| b.concept == C::StraightNo && self.leans(b))
                && self.word(m.from.wrapping_sub(1)) == "the";
        // "the comb is crooked", a pause, "it has turned into the ninth"
        let turned_into = matches!(named, Named::Ordinal(n) if *n > self.here())
            && self.word(m.from.wrapping_sub(1)) == "the"
            && self.word(m.from.wrapping_sub(2)) == "into"
            && matches!(self.word(0), "it" | "this" | "that" | "and")
            && self.comb().is_some_and(|c| c.straight == Some(false));
        // "it goes to the side and touches comb four"
        let touched = matches!(
            self.word(m.from.wrapping_sub(1)),
            "touches" | "touching" | "reaches" | "meets" | "towards" | "toward"
        ) && matches!(named, Named::Bars(_));
        plain && (listed || unopened || turned_into) || leant_to || touched
    }

    /// "bends over to the fifth": it does not reach it.
    fn leans(&self, m: &Mark) -> bool {
        [
            "bends", "bend", "bent", "leans", "leaning", "curves", "curving", "curls", "bending",
        ]
        .iter()
        .any(|w| self.said(m, w))
            // "bent into the fifth": it does
            && self.word(m.to) != "into"
    }

    /// "joined up with the", "runs over to": the comb named next is part of the same.
    pub(crate) fn runs_into(&self, m: &Mark) -> bool {
        [
            "with", "to", "into", "onto", "together", "over", "joined", "joins", "joining",
        ]
        .iter()
        .any(|w| self.said(m, w) || self.word(m.to) == *w)
    }

    fn decision_ahead_after(
        &mut self,
        before: &[Mark],
        marks: &[Mark],
        at: usize,
    ) -> Option<usize> {
        let hand = self.state.hand.clone();
        let used = self.decision_ahead(marks, at)?;
        let new_hand = std::mem::replace(&mut self.state.hand, hand);
        // "having that, having the sixth": one verdict
        let same = self.state.verdict_first
            && before.iter().any(|m| m.concept == marks[at].concept)
            && before.iter().all(|m| {
                m.concept == marks[at].concept || matches!(m.concept, C::That | C::And | C::Stop)
            });
        if !same {
            self.describe(before);
        }
        self.state.hand = new_hand;
        Some(used)
    }

    /// A stretch of talk about the combs in hand.
    pub(crate) fn describe(&mut self, marks: &[Mark]) {
        let also = self
            .tokens
            .iter()
            .any(|t| matches!(&*t.text, "too" | "also" | "well" | "likewise"))
            && self.tokens.len() <= 7;
        if !marks.iter().any(|m| {
            describes(m.concept)
                || also && m.concept == C::That
                || matches!(
                    m.concept,
                    C::Num | C::All | C::BothOf | C::Those | C::Rest | C::Settled
                )
                || m.concept == C::Weather && self.said(m, "dry")
                || matches!(
                    m.concept,
                    C::Kg | C::Pound | C::Stone | C::Mm | C::Inch | C::Cm
                )
        }) {
            return;
        }
        self.implied(marks);
        self.the_two(marks);
        if self.no_comb(marks) {
            return;
        }
        if self.correcting {
            self.replaces(marks);
        }
        self.copies(marks);
        self.faces(marks);
        self.holds(marks);
        self.extent(marks);
        self.measures(marks);
        self.meets_the_joined(marks);
        self.decisions(marks);
    }

    /// "the two of them honey mostly": said of the last two.
    fn the_two(&mut self, marks: &[Mark]) {
        let Some(at) = marks.iter().position(|m| m.concept == C::BothOf) else {
            return;
        };
        let told = marks[at + 1..].iter().any(|m| {
            m.concept.is_held()
                || matches!(
                    m.concept,
                    C::Empty | C::StraightNo | C::StraightYes | C::NewComb
                )
        });
        let two = self.said(&marks[at], "two") || self.said(&marks[at], "pair");
        // "queen cups, two of them, both empty"
        let cells = self
            .tokens
            .iter()
            .any(|t| matches!(&*t.text, "cup" | "cups" | "cell" | "cells"));
        if self.state.hand.len() == 1
            && fresh(marks, at)
            && told
            && two
            && !cells
            && self.here() >= 2
        {
            let n = self.state.visit.combs.len();
            self.back_to(vec![n - 2, n - 1]);
        }
    }

    /// A comb described without being named: the first of an end, or the next after a decision.
    fn implied(&mut self, marks: &[Mark]) {
        let has = |c: C| marks.iter().any(|m| m.concept == c);
        let face = has(C::This) || has(C::Other) || has(C::Both);
        let share = has(C::Share) || has(C::Capped) || has(C::Uncapped);
        let shown = marks
            .iter()
            .filter(|m| {
                describes(m.concept)
                    && !matches!(m.concept, C::Take | C::Leave | C::Not | C::Other | C::Comb)
            })
            .count();
        if self.state.hand.is_empty() {
            // "in from the right, the left is glued solid", "the new one says sixty"
            let of_the_hive =
                (has(C::OpenEnd) && !marks.iter().any(|m| m.concept.is_held())) || has(C::Weather);
            let opened = !self.state.visit.ends.is_empty() && self.here() == 0 && !of_the_hive;
            // "leaving this one", and what it is comes after
            if opened && self.verdict_on_this(marks) {
                self.state.verdict_first = true;
                self.meet("verdict first", &[None], marks);
                return;
            }
            if opened && tells_of_a_comb(marks) && (face && share || shown >= 2 || has(C::NewComb))
            {
                self.meet("implied first", &[None], marks);
            }
            return;
        }
        if tells_of_a_comb(marks) && self.meets_the_next(marks) {
            return;
        }
        let told = |c: &Comb| c.decision.is_some() && c.described();
        if self.state.verdict_first && self.verdict_on_this(marks) && self.comb().is_some_and(told)
        {
            self.meet("verdict first", &[None], marks);
            return;
        }
        if self.after_that(marks) {
            self.meet("after that", &[None], marks);
            return;
        }
        // "then brood": after a comb that was decided
        let then = self.tokens.first().is_some_and(|t| t.is("then"))
            || self.word(0) == "and" && matches!(self.word(1), "then" | "that");
        let after = marks.first().is_some_and(|m| {
            m.concept.is_brood()
                && matches!(self.word(m.to), "after" | "beyond" | "behind")
                && matches!(self.word(m.to + 1), "that" | "those" | "it" | "them")
        });
        let then = then || after;
        let content = marks.iter().all(|m| {
            m.concept.is_brood()
                || matches!(
                    m.concept,
                    C::Eggs
                        | C::Pollen
                        | C::And
                        | C::Then
                        | C::Share
                        | C::Both
                        | C::Settled
                        | C::That
                        | C::See
                        | C::Stop
                        | C::But
                        | C::Leave
                )
        });
        let nest = marks.iter().any(|m| m.concept.is_brood());
        let decided = self.comb().is_some_and(|c| {
            c.decision.is_some()
                && !c.holds.contains(&Hold::WorkerBrood)
                && !c.holds.contains(&Hold::DroneBrood)
        });
        // "then the brood": after a comb whose faces were told
        let told = self.word(0) == "then"
            && self.tokens.len() <= 4
            && self.comb().is_some_and(|c| c.this.is_some());
        if then && content && nest && (decided || told) && self.here() > 0 {
            self.meet("then", &[None], marks);
            return;
        }
        let again = |c: &Comb| {
            c.decision.is_some()
                && ((has(C::This) || has(C::Both)) && c.this.is_some()
                    || (has(C::Other) || has(C::Both)) && c.other.is_some())
        };
        if !self.correcting
            && !self.state.copied
            && face
            && share
            && fresh(marks, 0)
            && self.comb().is_some_and(again)
            && self.here() > 0
            && !self.state.visit.combs.iter().any(|c| c.bar.is_some())
        {
            self.meet("implied next", &[None], marks);
        }
    }

    /// "after that some old honey": the comb behind one that was decided.
    fn after_that(&self, marks: &[Mark]) -> bool {
        let words = (0..self.tokens.len()).map(|i| self.word(i));
        let mut words = words.skip_while(|word| matches!(*word, "and" | "then" | "so" | "right"));
        let said = matches!(words.next(), Some("after" | "behind" | "beyond"))
            && matches!(words.next(), Some("that" | "it" | "this"));
        let told = marks
            .iter()
            .find(|m| !matches!(m.concept, C::Then | C::That | C::And | C::Stop | C::Word));
        let holds = told.is_some_and(|m| m.concept.is_held() || m.concept.is_brood());
        said && holds && self.comb().is_some_and(|c| c.decision.is_some()) && self.here() > 0
    }

    /// "only the wax line": no comb hangs there.
    fn no_comb(&mut self, marks: &[Mark]) -> bool {
        let bare = marks.iter().any(|m| m.concept == C::NoComb)
            || marks
                .iter()
                .any(|m| m.concept == C::Empty && self.said(m, "bar"))
            || self.nothing_there(marks)
            || self.bare_too(marks);
        let combs = self.state.visit.combs.len();
        let blank = self.state.hand.iter().all(|&c| {
            c + self.state.hand.len() >= combs
                && self
                    .state
                    .visit
                    .combs
                    .get(c)
                    .is_some_and(|c| !c.described())
        });
        if !bare || self.state.hand.is_empty() || !blank {
            return false;
        }
        let keep = combs - self.state.hand.len();
        let few = self.state.hand.len() > 1 && self.tokens.iter().any(|t| t.is("first"));
        let unnumbered = self.state.visit.combs[keep..]
            .iter()
            .all(|c| c.bar.is_none());
        if unnumbered && (self.state.by_order || few || self.state.hand.len() == 1) {
            self.state.bare_counted += self.state.hand.len();
        }
        let number = self.state.visit.combs.last().and_then(|c| c.bar);
        self.state.visit.combs.truncate(keep);
        self.acts.retain(|n| n.comb.is_none_or(|c| c < keep));
        self.state.asked.retain(|&c| c < keep);
        self.state.hand.clear();
        self.state.bare_bar = true;
        self.state.bare_number = number;
        true
    }

    /// "bar twenty, quick look, nothing there": of the bar that is called, and no word of a comb.
    fn nothing_there(&self, marks: &[Mark]) -> bool {
        let met = |n: &crate::act::Noted| matches!(n.act, Act::CombMet { .. });
        // "first bar nothing, as ever"
        let bar = self.tokens.iter().any(|t| t.is("bar"));
        let alone =
            |m: &Mark| bar && m.concept == C::Share && m.value < 0.01 && self.said(m, "nothing");
        let nothing = |m: &Mark| {
            let there = self.said(m, "nothing") && self.word(m.to - 1) == "there";
            let vacant = self.said(m, "vacant") || self.said(m, "unoccupied");
            m.concept == C::Empty && (there || vacant)
        };
        let told = |m: &Mark| {
            describes(m.concept)
                && !matches!(m.concept, C::Empty | C::Not | C::Next | C::Same)
                && !alone(m)
        };
        let any = marks.iter().any(|m| nothing(m) || alone(m));
        any && !marks.iter().any(told) && self.acts.iter().any(met)
    }

    /// "bar one has nothing on it", a pause, "the second also nothing", "two's the same".
    fn bare_too(&self, marks: &[Mark]) -> bool {
        let so = |m: &Mark| m.concept == C::Same || m.concept == C::Share && m.value < 0.01;
        let beside = |m: &Mark| {
            matches!(
                m.concept,
                C::Word | C::And | C::Then | C::That | C::Stop | C::Bar | C::Comb | C::See
            )
        };
        self.state.bare_before && marks.iter().any(so) && marks.iter().all(|m| so(m) || beside(m))
    }
}

/// Not only "my side first, then the nest side", which is how it will be told.
fn tells_of_a_comb(marks: &[Mark]) -> bool {
    marks.iter().any(|m| {
        describes(m.concept)
            && !matches!(
                m.concept,
                C::This | C::Other | C::Both | C::Same | C::Next | C::Take | C::Leave | C::Not
            )
    })
}
