//! What is taken back: a number misread, contents that are other than was said.

use crate::act::{Act, Decision, Hold};
use crate::concept::Concept as C;
use crate::ear::{Ear, Fact};
use crate::mark::Mark;
use crate::opening::{UNITS, whole};

impl Ear<'_> {
    /// "that's not twenty three that's twenty four": a number misread. Where the other bar was met
    /// before, what was told since is told of that comb.
    pub(crate) fn misread(&mut self, marks: &[Mark]) -> bool {
        let Some(not) = marks.iter().position(|m| m.concept == C::Not) else {
            return false;
        };
        let mut numbers = marks.iter().filter(|m| whole(m).is_some());
        let (Some(old), Some(new), None) = (numbers.next(), numbers.next(), numbers.next()) else {
            return false;
        };
        let plain = marks.iter().all(|m| {
            matches!(
                m.concept,
                C::Not
                    | C::Num
                    | C::That
                    | C::Bar
                    | C::Number
                    | C::Stop
                    | C::But
                    | C::Word
                    | C::Correct
                    | C::And
            )
        });
        // "that's twenty four not twenty three" says it the other way round
        let (old, new) = if marks[not].from > old.from {
            (new, old)
        } else {
            (old, new)
        };
        let (Some(old), Some(bar)) = (whole(old), whole(new)) else {
            return false;
        };
        let Some(comb) = self.bar_index(old).filter(|_| plain) else {
            return false;
        };
        if let Some(met) = self.bar_index(bar) {
            return self.was_met_before(comb, met, marks);
        }
        self.back_to(vec![comb]);
        self.note_hand("misread", &Act::Renumbered(bar), marks);
        true
    }

    /// "bar four", a pause, "no bar five": the number of a comb of which nothing is told yet.
    pub(crate) fn no_other_bar(&mut self, marks: &[Mark]) -> bool {
        let [no, bar, number, ..] = marks else {
            return false;
        };
        let said = no.concept == C::Not
            && self.word(no.from) == "no"
            && no.from == 0
            && matches!(bar.concept, C::Bar | C::Number)
            && whole(number).is_some();
        let just = |(_, act): &(Option<usize>, Act)| matches!(act, Act::CombMet { bar: Some(_) });
        let blank = self
            .comb()
            .is_some_and(|c| c.bar.is_some() && !c.described() && c.decision.is_none());
        said && blank && self.state.last_acts.iter().all(just) && self.renumber(&marks[1..])
    }

    /// "no wait that's sixteen": the bar in hand has another number.
    pub(crate) fn renumber(&mut self, marks: &[Mark]) -> bool {
        let at = marks.iter().position(|m| {
            !matches!(
                m.concept,
                C::That | C::Bar | C::Number | C::Stop | C::But | C::Total | C::Comb
            )
        });
        let Some(n) = at.and_then(|i| whole(&marks[i])) else {
            return false;
        };
        // "no, four": of the combs in the order of closing
        if self.state.closing {
            return false;
        }
        let at = at.unwrap_or(0);
        let barred = marks[..at]
            .iter()
            .any(|m| matches!(m.concept, C::Bar | C::Number));
        // "no, that's eighteen, this one"
        let this_one = self
            .tokens
            .windows(2)
            .any(|w| w[0].is("this") && w[1].is("one"));
        // "no, hang on, this is nineteen, I've started one too far out"
        let this_is = at > 0
            && marks[at - 1].concept == C::That
            && matches!(self.word(marks[at].from.wrapping_sub(1)), "is" | "'s");
        let unit = marks.get(at + 1).is_some_and(|m| {
            !(this_one && m.concept == C::That
                || this_is && !UNITS.contains(&m.concept)
                || matches!(
                    m.concept,
                    C::Stop
                        | C::Word
                        | C::But
                        | C::Bar
                        | C::AfterAll
                        | C::Next
                        | C::Brood
                        | C::Honey
                        | C::Capped
                        | C::Leave
                        | C::Take
                        | C::Not
                ))
        });
        let numbered = self.comb().is_some_and(|c| c.bar.is_some());
        let just = this_one
            || self.state.fact == Fact::Bar
            || self
                .state
                .last_acts
                .iter()
                .any(|(_, a)| matches!(a, Act::CombMet { bar: Some(_) }))
            || self
                .acts
                .iter()
                .any(|n| matches!(n.act, Act::CombMet { .. }));
        if !numbered
            || unit
            || !just
            || !barred && self.state.fact == Fact::Kg
            || self.bar_index(n).is_some()
        {
            return false;
        }
        let words = &marks[..=at];
        let old = self.comb().and_then(|c| c.bar);
        self.state.renumbered = self.state.hand.last().copied().zip(old);
        self.note_hand("renumbered", &Act::Renumbered(n), words);
        if marks.len() > at + 1 {
            self.walk(&marks[at + 1..]);
        }
        true
    }

    /// "take it", a pause, "no don't": it stays.
    pub(crate) fn rather_not(&mut self, marks: &[Mark]) -> bool {
        let words = |i: usize| {
            matches!(
                self.word(i),
                "no" | "oh" | "wait" | "sorry" | "actually" | "do" | "n't" | "not" | "please" | ","
            )
        };
        let dont = (1..self.tokens.len())
            .any(|i| self.word(i - 1) == "do" && matches!(self.word(i), "n't" | "not"));
        let taken = |(comb, act): &(Option<usize>, Act)| {
            matches!(act, Act::Decided(Some(Decision::Take)))
                && comb.is_some_and(|c| self.state.hand.contains(&c))
        };
        let only = (0..self.tokens.len()).all(words);
        if !only || !dont || !self.state.last_acts.iter().any(taken) {
            return false;
        }
        let hand = self.state.hand.clone();
        self.decide("rather not", Some(Decision::Leave), &hand, marks);
        true
    }

    /// "no wait, that's honey": what the last phrase said it holds is not so.
    pub(crate) fn replaces(&mut self, marks: &[Mark]) {
        let states = marks.iter().take(1).any(|m| {
            matches!(
                m.concept,
                C::That
                    | C::Capped
                    | C::Honey
                    | C::Brood
                    | C::SealedBrood
                    | C::Drone
                    | C::Pollen
                    | C::Empty
                    | C::Unripe
                    | C::See
                    | C::Share
            )
        });
        let holds = marks.iter().any(|m| {
            m.concept.is_held() && !self.on_somebody(m)
                || matches!(m.concept, C::DroneBees | C::Empty)
        });
        if !states || !holds {
            return;
        }
        let last: Vec<(usize, Hold)> = self
            .state
            .last_acts
            .iter()
            .chain(
                self.acts
                    .iter()
                    .map(|n| (n.comb, n.act.clone()))
                    .collect::<Vec<_>>()
                    .iter(),
            )
            .filter_map(|(c, a)| match (c, a) {
                (Some(c), Act::Holds(h)) => Some((*c, *h)),
                _ => None,
            })
            .collect();
        // brood takes the place of brood, else of what was said last
        let broods = |h: Hold| matches!(h, Hold::WorkerBrood | Hold::DroneBrood);
        let brood = marks.iter().any(|m| {
            matches!(
                m.concept,
                C::Brood | C::SealedBrood | C::Drone | C::DroneBees
            )
        });
        let kept: Vec<(usize, Hold)> = if brood && last.iter().any(|(_, h)| broods(*h)) {
            last.into_iter().filter(|(_, h)| broods(*h)).collect()
        } else {
            let said = last.last().map(|(_, h)| *h);
            last.into_iter().filter(|(_, h)| Some(*h) == said).collect()
        };
        let drone = marks
            .iter()
            .any(|m| matches!(m.concept, C::Drone | C::DroneBees));
        for (comb, hold) in kept {
            if self.state.hand.contains(&comb) {
                self.note("corrected", Act::HoldsNot(hold), Some(comb), marks);
                if drone && hold == Hold::WorkerBrood {
                    self.note("corrected", Act::Holds(Hold::DroneBrood), Some(comb), marks);
                }
            }
        }
    }
}
